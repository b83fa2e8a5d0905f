"""Rules of custody for the case as a whole: refs, corrections, shipments."""

import re
from collections.abc import Iterator
from datetime import datetime

from workbench.custody.breach import Breach, breach_of, when_of
from workbench.records import CustodyEntry, Dossier, Sample, Shipment


def numbering(dossier: Dossier) -> Iterator[Breach]:
    """Yield what is wrong with refs and parents: every part has one whole, no number is missing."""
    yield from _gaps(dossier)
    known = {one.ref: one for one in dossier.all(Sample, withdrawn=True)}
    for sample in dossier.all(Sample):
        seen = {sample.ref}
        parent = sample.parent
        while parent and parent in known and parent not in seen:
            seen.add(parent)
            parent = known[parent].parent
        if parent in seen and sample.parent:
            yield breach_of(
                "a part has one whole", sample, (), f"{sample.ref} is part of itself",
                "correct the parent",
            )  # fmt: skip
        elif parent and parent not in known:
            yield breach_of(
                "a part has one whole", sample, (), f"no sample {parent} to be part of",
                "enter it, or correct the parent",
            )  # fmt: skip


def _gaps(dossier: Dossier) -> Iterator[Breach]:
    """Numbers run on without a gap; a void sample keeps its number."""
    series: dict[str, dict[int, Sample]] = {}
    for sample in dossier.all(Sample, withdrawn=True):
        if found := re.fullmatch(r"(.*?)(\d+)", sample.ref):
            series.setdefault(found[1], {})[int(found[2])] = sample
    for prefix, numbers in series.items():
        missing = sorted(set(range(min(numbers), max(numbers))) - numbers.keys())
        if missing and len(missing) <= len(numbers):
            after = numbers[min(n for n in numbers if n > missing[0])]
            words = f"no sample between {prefix}{missing[0] - 1} and {after.ref}, in number"
            yield breach_of(
                "numbers run on without a gap", after, (), words,
                "enter it, or enter it as void with the reason", grave=False,
            )  # fmt: skip


def corrections(dossier: Dossier) -> Iterator[Breach]:
    """Yield corrections that point at no entry of the same sample."""
    known = {one.id: one for one in dossier.all(CustodyEntry)}
    for entry in known.values():
        old = known.get(entry.corrects) if entry.corrects else entry
        if old is None or old.sample != entry.sample or entry.corrects == entry.id:
            yield Breach(
                "a correction points at its entry", entry.sample, (entry.source,),
                f"“{when_of(entry)}” corrects an entry that is not there", "enter it anew",
            )  # fmt: skip


def shipments(dossier: Dossier, now: datetime | None) -> Iterator[Breach]:
    """Yield what is wrong with shipments: order, count, arrival, carrier, number, seal."""
    for one in dossier.all(Shipment):
        ref = ", ".join(one.samples)
        if (
            one.sent
            and one.received
            and (one.received.end(dossier.zone) < one.sent.start(dossier.zone))
        ):
            yield Breach(
                "sent before received", ref, (one.source,),
                f"shipment {one.ref} was received before it was sent", "correct a time",
            )  # fmt: skip
        if None not in (one.containers_sent, one.containers_received) and (
            one.containers_sent != one.containers_received
        ):
            yield Breach(
                "as many come as were sent", ref, (one.source,),
                f"{one.containers_sent} containers sent, {one.containers_received} received",
                "raise a discrepancy and ask the sender",
            )  # fmt: skip
        overdue = one.expected and not one.received and now is not None
        if overdue and one.expected and now and one.expected.end(dossier.zone) < now:
            yield Breach(
                "what is sent arrives", ref, (one.source,),
                f"shipment {one.ref} was expected {one.expected}", "ask the carrier", grave=False,
            )  # fmt: skip
        if one.sent and not (one.carrier and one.number and one.seal):
            yield Breach(
                "a shipment names carrier, number and seal", ref, (one.source,),
                f"shipment {one.ref} lacks carrier, number or seal", "enter them", grave=False,
            )  # fmt: skip
