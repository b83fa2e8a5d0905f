"""Take in a field book."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from workbench.cli.intake import as_json, say_intake
from workbench.cli.options import AsJson, By, CasePath
from workbench.cli.printing import progress, say, say_json
from workbench.records import KnownError

if TYPE_CHECKING:
    from workbench.desk.case import Case
    from workbench.desk.intake import Intake


def run(
    case: CasePath,
    book: Annotated[
        Path, typer.Argument(metavar="BOOK", help="A workbook (.xlsx) or a folder of CSV files.")
    ],
    *,
    dry_run: Annotated[
        bool, typer.Option("--dry-run", help="Show what it would change, and change nothing.")
    ] = False,
    yes: Annotated[bool, typer.Option("--yes", help="Take it in without asking.")] = False,
    why: Annotated[
        str, typer.Option("--why", help="Why; wanted where it changes what a report was issued on.")
    ] = "",
    by: By = "",
    json: AsJson = False,
) -> int:
    """Take in a field book: show what is new and what is wrong, ask, then take it in at once.

    While a problem hinders, nothing is taken in, and the exit code is 1.
    """
    from workbench.desk.case import Case
    from workbench.desk.intake import read_for

    if not book.exists():
        raise KnownError(f"there is no book {book}; check the name")
    with Case.open(case, author=by, read_only=dry_run) as held:
        if held.read_only and not dry_run:
            raise KnownError(f"{case} is open for reading only: {held.read_only_because}")
        with progress("Reading") as step:
            intake = read_for(held, book, step)
        if not json:
            say_intake(intake)
        taken = intake.possible and not dry_run and (yes or _agreed(json=json))
        if taken:
            _take_in(held, intake, why or _asked_why(held, intake, asks=not (yes or json)))
    if json:
        say_json(as_json(intake, taken=taken))
    elif taken:
        say(f"Taken in: {intake.reading.name}.")
    elif intake.possible:
        say("Nothing was taken in.")
    return 1 if intake.reading.hindrances else 0


def _agreed(*, json: bool) -> bool:
    """Return whether the person at the terminal says so; a program that reads JSON is not asked."""
    return not json and typer.confirm("Take this in?", default=False)


def _asked_why(case: "Case", intake: "Intake", *, asks: bool) -> str:
    """Return the reason that the person at the terminal gives, where one is wanted."""
    if not intake.asks_why(case.dossier):
        return ""
    if not asks:
        raise KnownError("it changes what a report was issued on; give the reason with --why")
    return str(typer.prompt("Why does what a report was issued on change"))


def _take_in(case: "Case", intake: "Intake", why: str) -> None:
    with progress("Taking in") as step:
        case.do(intake.act(why), step)
