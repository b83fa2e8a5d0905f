"""Make an empty case."""

from pathlib import Path
from typing import Annotated
from zoneinfo import available_timezones

import typer

from workbench.cli.options import By
from workbench.cli.printing import say
from workbench.records import CaseEntry, KnownError


def run(
    folder: Annotated[Path, typer.Argument(metavar="PATH.case", help="The folder to make.")],
    title: Annotated[str, typer.Option(help="What the case is about.")] = "",
    reference: Annotated[str, typer.Option(help="The number or mark of the case.")] = "",
    client: Annotated[str, typer.Option(help="Who gave the instruction.")] = "",
    site: Annotated[str, typer.Option(help="Where it is.")] = "",
    time_zone: Annotated[str, typer.Option(help="Zone of times, such as Europe/London.")] = "",
    by: By = "",
) -> int:
    """Make an empty case in a new folder."""
    from workbench.desk.acts import Add
    from workbench.desk.case import Case

    if folder.suffix != ".case":
        raise KnownError(f"{folder}: the name of a case ends in .case; try {folder.name}.case")
    if time_zone and time_zone not in available_timezones():
        raise KnownError(f"“{time_zone}” is no time zone; write one such as Europe/London")
    said = {"title": title, "reference": reference, "client": client, "site": site,
            "time zone": time_zone}  # fmt: skip
    entries = tuple(CaseEntry(key=key, value=value) for key, value in said.items() if value)
    with Case.create(folder, author=by) as case:
        if entries:
            case.do(Add(entries))
    say(f"{folder} is made.")
    return 0
