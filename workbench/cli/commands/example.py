"""Make a sample case."""

from pathlib import Path
from typing import Annotated

import typer

from workbench.cli.options import By
from workbench.cli.printing import progress, say
from workbench.records import KnownError
from workbench.resources import sample_case, sample_case_names

FIRST = "bottling-hall-floor"


def run(
    name: Annotated[
        str, typer.Argument(metavar="NAME", help=f"One of: {', '.join(sample_case_names())}.")
    ] = FIRST,
    by: By = "",
) -> int:
    """Make a sample case in the current folder, from the sources that come with the program.

    Every name, place, product and reading in it is invented.
    """
    from workbench.desk.case import Case
    from workbench.desk.intake import read_for

    if name not in sample_case_names():
        known = ", ".join(sample_case_names())
        raise KnownError(f"there is no sample case “{name}”; take one of: {known}")
    folder = Path(f"{name}.case")
    if folder.exists():
        raise KnownError(f"{folder} is there already; open it, or move it away first")
    with Case.create(folder, author=by) as case:
        with progress("Reading the sample") as step:
            intake = read_for(case, sample_case(name), step)
        with progress("Taking it in") as step:
            case.do(intake.act("sample case; everything in it is invented"), step)
    say(
        f"{folder} is made: {len(intake.changes.added)} records, {len(intake.changes.files)} files."
    )
    say("Everything in it is invented.")
    return 0
