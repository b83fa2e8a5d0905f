"""Say who holds each sample and what does not hold of its custody; write forms and labels."""

from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from workbench.cli.options import AsJson, CasePath, fresh
from workbench.cli.printing import count, progress, say, say_json

if TYPE_CHECKING:
    from workbench.desk.questions.custody import CustodyNow


def run(
    case: CasePath,
    sample: Annotated[
        list[str] | None,
        typer.Option("--sample", metavar="REF", help="Only these, in forms and labels."),
    ] = None,
    form: Annotated[
        Path | None, typer.Option("--form", metavar="FILE.docx", help="Write the custody form.")
    ] = None,
    labels: Annotated[
        Path | None, typer.Option("--labels", metavar="FILE.pdf", help="Write sample labels.")
    ] = None,
    stock: Annotated[str, typer.Option("--stock", help="Label sheet or roll.")] = "a4-21",
    first_place: Annotated[
        int, typer.Option("--first-place", help="First unused label of the sheet, from 1.")
    ] = 1,
    *,
    json: AsJson = False,
) -> int:
    """Say who holds each sample and where the chain of custody is broken or open.

    Exit code 1 says that something needs attention.
    """
    from workbench.desk.case import Case
    from workbench.desk.custody_papers import write_form, write_label_sheet
    from workbench.desk.questions.custody import custody_now

    now = datetime.now(UTC)
    form = fresh(form, ".docx") if form else None
    labels = fresh(labels, ".pdf") if labels else None
    with Case.open(case, read_only=True) as opened:
        found = custody_now(opened.dossier, now)
        head = opened.heads.ledger
        written = []
        if form is not None:
            with progress("Writing the form") as step:
                written.append(write_form(opened, form, sample or (), at=now, step=step))
        if labels is not None:
            sheet = write_label_sheet(
                opened, labels, sample or (), stock=stock, first_place=first_place
            )
            written.append(sheet)
    if json:
        said = {"samples": found.samples, "breaches": found.breaches, "ledger": str(head)}
        say_json({**said, "written": written})
    else:
        _say(found, str(head))
        for path in written:
            say(f"{path} is written.")
    return 1 if found.breaches else 0


def _say(found: "CustodyNow", head: str) -> None:
    for one in found.samples:
        holder = one.holder or "nobody"
        seals = f", seal {', '.join(one.seals)}" if one.seals else ""
        say(f"{one.sample:10} {holder:28} {one.state}{seals}, since {one.since}, {one.place}")
    say()
    for breach in found.breaches:
        say(f"{'BROKEN' if breach.grave else 'OPEN':7} {breach}")
    if not found.samples and not found.breaches:
        say("No sample is recorded.")
    elif not found.breaches:
        say("Every rule of custody holds.")
    else:
        say(f"{count(len(found.breaches), 'point')} of custody need attention.")
    say(f"Custody ledger: {head}")
