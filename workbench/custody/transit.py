"""What was sent and of which no receipt is recorded, though time has passed or results came."""

from collections.abc import Iterator
from datetime import datetime, timedelta

from workbench.custody.breach import Breach, when_of
from workbench.custody.story import Moment, Story
from workbench.records import Dossier, LabResult, Shipment
from workbench.records.bounds import is_before
from workbench.records.codes import CustodyEvent

LONG_ON_THE_WAY = timedelta(days=14)
"""After so long a sample sent is asked after (common practice, no source)."""
_ARRIVED = frozenset(
    {
        CustodyEvent.RECEIVED, CustodyEvent.HANDED_OVER, CustodyEvent.RETURNED,
        CustodyEvent.STORED, CustodyEvent.DISPOSED,
    }
)  # fmt: skip


def on_the_way(story: Story) -> Moment | None:
    """Return the dispatch after which no arrival is recorded; None where there is none."""
    for moment in reversed(story.moments):
        if moment.entry.event in _ARRIVED:
            return None
        if moment.entry.event is CustodyEvent.DISPATCHED:
            return moment
    return None


def never_received(dossier: Dossier, story: Story, now: datetime | None) -> Iterator[Breach]:
    """Yield where a sample was sent and never received, yet tested, or long on its way."""
    sent, ref = on_the_way(story), story.sample.ref
    if sent is None or _came(dossier, ref):
        return
    results = [
        one for one in dossier.all(LabResult)
        if one.sample == ref and one.date and not is_before(one.date, sent.entry.when)
    ]  # fmt: skip
    long = now is not None and now - sent.at > LONG_ON_THE_WAY
    if not (results or long):
        return
    told = ", ".join(f"{one.ref} of {one.date}" for one in results)
    yet = f", yet there are results of it: {told}" if told else ""
    yield Breach(
        "what is sent is received", ref,
        (sent.entry.source, *(one.source for one in results)),
        f"“{when_of(sent.entry)}” and never received{yet}",
        "ask who received it, and enter its receipt",
    )  # fmt: skip


def _came(dossier: Dossier, ref: str) -> bool:
    return any(ref in one.samples and one.received for one in dossier.all(Shipment))
