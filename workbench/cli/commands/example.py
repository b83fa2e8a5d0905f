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
    name: Annotated[str, typer.Argument(metavar="NAME", help="The sample case to make.")] = FIRST,
    by: By = "",
) -> int:
    """Make a sample case in the current folder, from the sources that come with the program.

    Every name, place, product and reading in it is invented.
    """
    from workbench.desk.intake import make_from_book

    if name not in sample_case_names():
        known = ", ".join(sample_case_names())
        raise KnownError(f"there is no sample case “{name}”; take one of: {known}")
    why = "sample case; everything in it is invented"
    with progress("Making the sample case") as step:
        folder = make_from_book(
            Path(f"{name}.case"), sample_case(name), author=by, why=why, step=step
        )
    say(f"{folder} is made. Everything in it is invented.")
    return 0
