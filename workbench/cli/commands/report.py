"""Write the report of a case as a Word document."""

from pathlib import Path
from typing import Annotated

import typer

from workbench.cli.options import AsJson, CasePath
from workbench.cli.printing import count, progress, say, say_json


def run(
    case: CasePath,
    out: Annotated[
        Path | None,
        typer.Option("--out", metavar="FILE.docx|FOLDER", help="Where to; else this folder."),
    ] = None,
    form: Annotated[str, typer.Option("--form", help="full or short.")] = "full",
    units: Annotated[
        str, typer.Option("--units", help="SI, US or both; else those of the case.")
    ] = "",
    paper: Annotated[str, typer.Option("--paper", help="A4 or Letter; else by the units.")] = "",
    *,
    pdf: Annotated[
        bool, typer.Option("--pdf/--no-pdf", help="A PDF beside it, where LibreOffice is.")
    ] = True,
    json: AsJson = False,
) -> int:
    """Write the draft report of a case as a Word document, and as PDF where LibreOffice is."""
    from workbench.desk.case import Case
    from workbench.desk.reporting import Wish, write_report

    wish = Wish(out, form, units, paper, pdf=pdf)
    with Case.open(case, read_only=True) as opened, progress("Writing the report") as step:
        written = write_report(opened, wish, step)
    if json:
        say_json(written)
        return 0
    pages = f", {count(written.pages, 'page')}" if written.pages else ""
    say(f"{written.document} is written{pages}.")
    if written.pdf:
        say(f"{written.pdf} is written.")
    for remark in written.remarks:
        say(remark)
    return 0
