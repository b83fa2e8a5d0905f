"""Take in what another place did with samples."""

from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from workbench.cli.options import AsJson, By, CasePath
from workbench.cli.printing import count, progress, say, say_json

if TYPE_CHECKING:
    from workbench.desk.handing_over import Joining


def run(
    case: CasePath,
    bag: Annotated[Path, typer.Argument(metavar="BAG", help="The folder that came.")],
    by: By = "",
    *,
    yes: Annotated[bool, typer.Option("--yes", help="Join it; else only show it.")] = False,
    json: AsJson = False,
) -> int:
    """Show what another place did with samples and, with --yes, join it to the case.

    Both custody chains are checked and both heads are kept. What contradicts the case is refused,
    with exit code 1.
    """
    from workbench.desk.case import Case
    from workbench.desk.handing_over import join, read_hand_over

    with Case.open(case, author=by, read_only=not yes) as opened:
        with progress("Reading the bag") as step:
            found = read_hand_over(opened, bag, step)
        if json:
            say_json(_members(found))
        else:
            _say(found)
        if found.contradictions:
            return 1
        if yes:
            join(opened, found, at=datetime.now(UTC))
    if yes and not json:
        say("It is joined.")
    return 0


def _members(found: "Joining") -> dict[str, object]:
    return {
        "sender": found.parcel.sender,
        "sent": found.parcel.sent,
        "ledger": str(found.parcel.head),
        "theirs": [one.label for one in found.theirs],
        "ours": [one.label for one in found.ours],
        "added": [str(one.source) for one in found.added],
        "same": found.same,
        "differing": [str(ours.source) for ours, _ in found.differing],
        "contradictions": found.contradictions,
        "files": [one.name for one in found.files],
    }


def _say(found: "Joining") -> None:
    say(f"From {found.parcel.sender}, sent {found.parcel.sent}, ledger {found.parcel.head}")
    say(f"Done there: {count(len(found.theirs), 'custody entry', 'custody entries')}")
    for entry in found.theirs:
        say(f"  {entry.label}: {entry.giver or '–'} to {entry.receiver or '–'}")
    say(f"Done here meanwhile: {count(len(found.ours), 'custody entry', 'custody entries')}")
    for entry in found.ours:
        say(f"  {entry.label}: {entry.giver or '–'} to {entry.receiver or '–'}")
    say(f"New records: {len(found.added)}; the same on both sides: {found.same}")
    for ours, _ in found.differing:
        say(f"DIFFERS  {ours.source}: what is here stays")
    for breach in found.contradictions:
        say(f"REFUSED  {breach}")
