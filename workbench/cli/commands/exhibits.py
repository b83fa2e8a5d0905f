"""List, add, withdraw, order and number the exhibits of a case; write them out."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from workbench.cli.options import AsJson, By, CasePath
from workbench.cli.printing import count, progress, say, say_json
from workbench.records import KnownError

if TYPE_CHECKING:
    from workbench.desk.case import Case


def run(
    case: CasePath,
    *,
    add: Annotated[
        str,
        typer.Option(
            "--add",
            metavar="OF",
            help="photo PH-03, document DOC-1, sample S-2, or figure or table and its name; a "
            "name that is none lists those there are.",
        ),
    ] = "",
    kind: Annotated[
        str,
        typer.Option(
            "--kind",
            help="substantive, summary or illustrative_aid; else a figure is an aid, a table a "
            "summary, and what was received or taken is substantive.",
        ),
    ] = "",
    title: Annotated[str, typer.Option("--title", help="Title of the exhibit added.")] = "",
    legend: Annotated[str, typer.Option("--legend", help="Legend of an illustrative aid.")] = "",
    withdraw: Annotated[str, typer.Option("--withdraw", metavar="NO", help="Withdraw it.")] = "",
    why: Annotated[str, typer.Option("--why", help="Why it is withdrawn.")] = "",
    move: Annotated[str, typer.Option("--move", metavar="NO", help="Put it elsewhere.")] = "",
    to: Annotated[int, typer.Option("--to", help="The place it is moved to, from 1.")] = 1,
    pages: Annotated[
        str, typer.Option("--pages", metavar="PREFIX", help="Give page numbers to those without.")
    ] = "",
    single: Annotated[str, typer.Option("--single", metavar="NO", help="Write it alone.")] = "",
    out: Annotated[
        Path | None,
        typer.Option("--out", help="The exhibit book (.docx), or one exhibit (.png, .pdf)."),
    ] = None,
    by: By = "",
    json: AsJson = False,
) -> int:
    """List the exhibits of a case; with options, change the list or write it out.

    A number is given once; an exhibit withdrawn keeps it and stays in the register.
    """
    from workbench.desk import exhibiting
    from workbench.desk.case import Case

    changes = bool(add or withdraw or move or pages)
    with Case.open(case, author=by, read_only=not changes) as opened:
        if add:
            exhibiting.add_exhibit(opened, add, kind=kind, title=title, legend=legend)
        if withdraw:
            exhibiting.withdraw_exhibit(opened, withdraw, why)
        if move:
            exhibiting.move_exhibit(opened, move, to)
        if pages:
            exhibiting.number_pages(opened, pages)
        if single or out:
            return _write(opened, single, out)
        return _list(opened, json=json)


def _write(case: "Case", single: str, out: Path | None) -> int:
    from workbench.desk import exhibiting

    if out is None:
        raise KnownError("say where to: --out FILE")
    if single:
        say(f"{exhibiting.write_single_exhibit(case, single, out)} is written.")
        return 0
    if not out.is_dir() and out.suffix.lower() != ".docx":
        right = "end its name in .docx; a PNG or PDF of one exhibit needs --single NO"
        raise KnownError(f"{out}: the exhibit book is a Word document; {right}")
    with progress("Writing the exhibit book") as step:
        document, pdf = exhibiting.write_exhibit_book(case, out, step)
    say(f"{document} is written.")
    say(f"{pdf} is written." if pdf else "No PDF was made: LibreOffice is not on this machine.")
    return 0


def _list(case: "Case", *, json: bool) -> int:
    from workbench.desk import exhibiting

    held = exhibiting.register_of(case)
    if json:
        say_json(
            [
                {
                    "number": one.exhibit.ref,
                    "title": one.title,
                    "kind": one.exhibit.kind,
                    "of": one.exhibit.of,
                    "first_page": one.exhibit.first_page,
                    "last_page": one.exhibit.last_page,
                    "withdrawn": one.exhibit.withdrawn,
                    "missing": one.missing,
                    "sha256": one.sha256,
                }
                for one in held
            ]
        )
    else:
        for one in held:
            state = f" – withdrawn: {one.exhibit.withdrawn}" if one.exhibit.withdrawn else ""
            lost = f" – {one.missing}" if one.missing else ""
            say(f"{one.exhibit.ref:10} {one.title} ({one.exhibit.of}){state}{lost}")
        say(f"{count(len(held), 'exhibit')}.")
    return 1 if any(one.missing and not one.exhibit.withdrawn for one in held) else 0
