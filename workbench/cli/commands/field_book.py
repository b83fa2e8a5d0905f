"""Write the field book that goes to site."""

from pathlib import Path
from typing import Annotated

import typer

from workbench.cli.printing import progress, say
from workbench.records import KnownError


def run(
    out: Annotated[Path, typer.Argument(metavar="OUT.xlsx", help="The workbook to write.")],
    case: Annotated[
        Path | None,
        typer.Option("--case", metavar="CASE", help="Fill it with the records of this case."),
    ] = None,
) -> int:
    """Write the field book: empty for a site visit, or filled from a case."""
    from workbench.desk.case import Case
    from workbench.exchange.field_book.writing import write_field_book
    from workbench.records import Dossier

    if out.suffix.lower() != ".xlsx":
        raise KnownError(f"{out}: the field book is a workbook; try {out.with_suffix('.xlsx')}")
    if out.exists():
        raise KnownError(f"{out} is there already, and may be filled in; choose another name")
    dossier = Dossier()
    if case:
        with Case.open(case, read_only=True) as held:
            dossier = held.dossier
    with progress("Writing the rows") as step:
        write_field_book(out, dossier, step)
    say(f"{out} is written. Its first sheet says how to fill it in.")
    return 0
