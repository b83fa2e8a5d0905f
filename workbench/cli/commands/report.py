"""Write the report of a case as a Word document; check, authorise and issue it."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from workbench.cli.options import AsJson, By, CasePath
from workbench.cli.printing import count, progress, say, say_json
from workbench.records import KnownError

if TYPE_CHECKING:
    from workbench.desk.case import Case
    from workbench.desk.reporting import Wish, Written

Out = Annotated[
    Path | None,
    typer.Option("--out", metavar="FILE.docx|FOLDER", help="Where to; else this folder."),
]
Form = Annotated[str, typer.Option("--form", help="full or short.")]
Units = Annotated[str, typer.Option("--units", help="SI, US or both; else those of the case.")]
Paper = Annotated[str, typer.Option("--paper", help="A4 or Letter; else by the units.")]
Profile = Annotated[
    str, typer.Option("--profile", help="general, us-federal or england-wales: a checklist.")
]
Template = Annotated[Path | None, typer.Option("--template", help="The firm's own Word file.")]
Styles = Annotated[
    Path | None, typer.Option("--styles", help="Our styles and the firm's, as TOML.")
]
Pdf = Annotated[bool, typer.Option("--pdf/--no-pdf", help="A PDF beside it, where LibreOffice is.")]
Check = Annotated[
    bool, typer.Option("--check", help="Enter that --by has checked it as it stands.")
]
Authorise = Annotated[
    bool, typer.Option("--authorise", help="Enter that --by authorises what was checked.")
]
Issue = Annotated[
    bool, typer.Option("--issue", help="Issue what was authorised; its bytes never change.")
]
State = Annotated[
    list[str] | None,
    typer.Option("--state", metavar="ITEM=WORDS", help="What --by states under an item."),
]
Without = Annotated[
    list[str] | None,
    typer.Option("--without", metavar="ITEM=REASON", help="Why the report leaves an item open."),
]


def run(
    case: CasePath,
    *,
    out: Out = None,
    form: Form = "",
    units: Units = "",
    paper: Paper = "",
    profile: Profile = "",
    template: Template = None,
    styles: Styles = None,
    by: By = "",
    pdf: Pdf = True,
    state: State = None,
    without: Without = None,
    check: Check = False,
    authorise: Authorise = False,
    issue: Issue = False,
    json: AsJson = False,
) -> int:
    """Write the report of a case as a Word document, and as PDF where LibreOffice is.

    A draft is marked as one on every page and in its name. The states are entered in the journal.
    """
    from workbench.desk.case import Case
    from workbench.desk.checklist import leave_open, state_item
    from workbench.desk.reporting import Wish, place_of

    wish = Wish(out, form, units, paper, pdf=pdf, profile=profile, template=template, styles=styles)
    place_of(wish, "report.docx")
    if styles and not template:
        raise KnownError("--styles says how the styles of a --template are called; give that too")
    items = [(leave_open, one) for one in without or ()] + [
        (state_item, one) for one in state or ()
    ]
    with Case.open(case, author=by, read_only=not (items or check or authorise or issue)) as opened:
        for enter, said in items:
            key, _, words = said.partition("=")
            enter(opened, wish, key.strip(), words)
        written = _write(opened, wish, check=check, authorise=authorise, issue=issue)
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


def _write(opened: "Case", wish: "Wish", *, check: bool, authorise: bool, issue: bool) -> "Written":
    """Enter the states that are wanted, and write or issue the report."""
    from workbench.desk import reporting

    if check:
        reporting.check_report(opened, wish, opened.author)
    if authorise:
        reporting.authorise_report(opened, opened.author)
    write = reporting.issue_report if issue else reporting.write_report
    with progress("Writing the report") as step:
        return write(opened, wish, step)
