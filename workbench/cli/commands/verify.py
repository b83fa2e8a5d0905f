"""Check that a case is as it was recorded."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from workbench.cli.options import AsJson, By, CasePath
from workbench.cli.printing import count, progress, say, say_json
from workbench.custody.chain import Head
from workbench.custody.verification import Verification
from workbench.records import KnownError, NotUnderstoodError

if TYPE_CHECKING:
    from workbench.custody.breach import Breach

_SHOWN = 40


def run(
    case: CasePath,
    head: Annotated[
        list[str] | None,
        typer.Option(
            "--head",
            metavar="HASH:COUNT",
            help="A head printed on a report, receipt or form; may be given several times.",
        ),
    ] = None,
    *,
    record: Annotated[
        bool, typer.Option("--record", help="Write the outcome into the journal of the case.")
    ] = False,
    by: By = "",
    json: AsJson = False,
) -> int:
    """Check that originals, records, journal and custody ledger are as they were recorded.

    Exit code 1 says that something is not.
    """
    from workbench.desk.case import verify_case

    try:
        heads = tuple(Head.read(text) for text in head or ())
    except NotUnderstoodError as wrong:
        raise KnownError(str(wrong)) from wrong
    with progress("Reading the originals") as step:
        found = verify_case(case, heads, step)
    if record:
        _record(case, found, by)
    broken = _custody(case) if found.unchanged else ()
    if json:
        say_json({"unchanged": found.unchanged, **_members(found), "custody": broken})
    else:
        _say(found)
        for breach in broken:
            say(f"CUSTODY  {breach}")
    return 0 if found.unchanged and not broken else 1


def _custody(case: Path) -> "tuple[Breach, ...]":
    """Return where the chain of custody of a sample is broken; what is merely open is left out."""
    from workbench.custody.rules import breaches
    from workbench.desk.case import Case

    with Case.open(case, read_only=True) as held:
        return tuple(one for one in breaches(held.dossier) if one.grave)


def _record(case: Path, found: Verification, by: str) -> None:
    from workbench.desk.acts import NoteCheck
    from workbench.desk.case import Case

    with Case.open(case, author=by) as held:
        held.do(NoteCheck(found))


def _members(found: Verification) -> dict[str, object]:
    return {
        "findings": found.findings,
        "remarks": found.remarks,
        "checked": found.checked,
        "limits": found.limits,
        "journal": found.journal,
        "ledger": found.ledger,
        "checked_at": found.checked_at,
    }


def _say(found: Verification) -> None:
    for finding in found.findings[:_SHOWN]:
        say(f"CHANGED  {finding}")
    if len(found.findings) > _SHOWN:
        say(f"         and {len(found.findings) - _SHOWN} more; --json lists them all")
    for remark in found.remarks:
        say(f"note     {remark}")
    if found.unchanged:
        say(f"Unchanged since it was recorded: {'; '.join(found.checked)}.")
    else:
        say(f"{count(len(found.findings), 'finding')}; compared were {'; '.join(found.checked)}.")
        say("Leave this folder as it is, and compare it with a backup before you go on.")
    say(f"Journal head {found.journal}")
    say(f"Custody head {found.ledger}")
    say(f"Checked at {found.checked_at} by the clock of this computer. What this cannot tell:")
    for limit in found.limits:
        say(f"- {limit}")
