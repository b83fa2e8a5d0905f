"""Write the report of a case as a Word document; check, authorise and issue it."""

from pathlib import Path
from typing import Annotated

import typer

from workbench.cli.options import AsJson, By, CasePath
from workbench.cli.printing import count, progress, say, say_json


def run(
    case: CasePath,
    *,
    out: Annotated[
        Path | None,
        typer.Option("--out", metavar="FILE.docx|FOLDER", help="Where to; else this folder."),
    ] = None,
    form: Annotated[str, typer.Option("--form", help="full or short.")] = "",
    units: Annotated[
        str, typer.Option("--units", help="SI, US or both; else those of the case.")
    ] = "",
    paper: Annotated[str, typer.Option("--paper", help="A4 or Letter; else by the units.")] = "",
    profile: Annotated[
        str, typer.Option("--profile", help="general, us-federal or england-wales: a checklist.")
    ] = "",
    template: Annotated[
        Path | None, typer.Option("--template", help="The firm's own Word file.")
    ] = None,
    styles: Annotated[
        Path | None, typer.Option("--styles", help="Our styles and the firm's, as TOML.")
    ] = None,
    by: By = "",
    pdf: Annotated[
        bool, typer.Option("--pdf/--no-pdf", help="A PDF beside it, where LibreOffice is.")
    ] = True,
    check: Annotated[
        bool, typer.Option("--check", help="Enter that --by has checked it as it stands.")
    ] = False,
    authorise: Annotated[
        bool, typer.Option("--authorise", help="Enter that --by authorises what was checked.")
    ] = False,
    issue: Annotated[
        bool, typer.Option("--issue", help="Issue what was authorised; its bytes never change.")
    ] = False,
    json: AsJson = False,
) -> int:
    """Write the report of a case as a Word document, and as PDF where LibreOffice is.

    A draft is marked as one on every page and in its name. The states are entered in the journal.
    """
    from workbench.desk.case import Case
    from workbench.desk.reporting import (
        Wish,
        authorise_report,
        check_report,
        issue_report,
        write_report,
    )

    wish = Wish(
        out,
        form,
        units,
        paper,
        pdf=pdf,
        profile=profile,
        template=template,
        styles=styles,
    )
    changes = check or authorise or issue
    with Case.open(case, author=by, read_only=not changes) as opened:
        if check:
            check_report(opened, wish, opened.author)
        if authorise:
            authorise_report(opened, opened.author)
        write = issue_report if issue else write_report
        with progress("Writing the report") as step:
            written = write(opened, wish, step)
    if json:
        say_json(written)
        return 0
    pages = f", {count(written.pages, 'page')}" if written.pages else ""
    say(f"{written.document} is written{pages}: {written.state}.")
    if written.pdf:
        say(f"{written.pdf} is written.")
    for remark in written.remarks:
        say(remark)
    return 0
