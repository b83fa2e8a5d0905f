"""Make a sample case, write its report, open the window on it."""

from pathlib import Path
from typing import Annotated

import typer

from workbench.cli.options import By
from workbench.cli.printing import progress, say
from workbench.cli.screen import has_screen
from workbench.records import KnownError
from workbench.resources import sample_case, sample_case_names

FIRST = "bottling-hall-floor"


def run(
    context: typer.Context,
    name: Annotated[str, typer.Argument(metavar="NAME", help="The sample case to make.")] = FIRST,
    by: By = "",
    *,
    report: Annotated[bool, typer.Option("--report", help="Write its report as well.")] = False,
    show: Annotated[
        bool, typer.Option("--open", help="Open the window on it, where there is a screen.")
    ] = False,
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
    if report:
        _write_report(folder)
    return _open(context, folder) if show else 0


def _write_report(folder: Path) -> None:
    from workbench.desk.case import Case
    from workbench.desk.reporting import Wish, write_report

    with Case.open(folder, read_only=True) as case, progress("Writing the report") as step:
        written = write_report(case, Wish(), step)
    say(f"{written.document} is written.")


def _open(context: typer.Context, folder: Path) -> int:
    """Open the window on a case; where there is no screen, say how to do it elsewhere."""
    if context.obj is None or not has_screen():
        say(f"There is no screen here; with one, open the case with: workbench {folder}")
        return 0
    opened = context.obj(folder, "")
    return opened if isinstance(opened, int) else 0
