"""One receipt from the first look to the entries in the ledger."""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from datetime import datetime

from workbench.custody.story import Story, same_holder, stories
from workbench.desk.receiving.checks import (
    DeliveryMode,
    ItemCheck,
    OutsideCheck,
    item_doubts,
    lacking_inside,
    lacking_outside,
    outside_doubts,
)
from workbench.records import (
    CustodyEntry,
    Discrepancy,
    Dossier,
    Photo,
    Record,
    Refs,
    SampleCare,
    Shipment,
    When,
)
from workbench.records.codes import CustodyEvent, CustodyState, DiscrepancyKind


@dataclass(frozen=True, slots=True)
class Reception:
    """What has been seen so far of one delivery; nothing is in the case before it is finished.

    Attributes:
        outside: The first stage.
        items: The second stage, one for each item, in the order in which they were scanned.
    """

    outside: OutsideCheck = field(default_factory=OutsideCheck)
    items: tuple[ItemCheck, ...] = ()

    @property
    def opened(self) -> bool:
        """Whether the first stage is complete, so that items may be looked at."""
        return not lacking_outside(self.outside)

    def item(self, sample: str) -> ItemCheck | None:
        """Return what was seen of a sample, or None where it was not scanned yet."""
        return next((one for one in self.items if one.sample == sample), None)

    def with_item(self, check: ItemCheck) -> "Reception":
        """Return the receipt with an item added or put in its own place.

        Raises:
            ValueError: The first stage is not complete; the text says what is missing.
        """
        if not self.opened:
            missing = ", ".join(lacking_outside(self.outside))
            raise ValueError(f"look at the outside first: {missing}")
        if self.item(check.sample) is None:
            return replace(self, items=(*self.items, check))
        others = (check if one.sample == check.sample else one for one in self.items)
        return replace(self, items=tuple(others))

    def lacking(self) -> tuple[str, ...]:
        """Return what must still be said before the receipt can be finished."""
        told = [*lacking_outside(self.outside)]
        told += [f"{one.sample}: {name}" for one in self.items for name in lacking_inside(one)]
        return tuple(told) if self.items or told else ("no item was scanned yet",)


def announced(dossier: Dossier) -> tuple[Story, ...]:
    """Return the samples that are on their way, as the ledger has it."""
    return tuple(
        story
        for story in stories(dossier)
        if story.now is not None and story.now.state is CustodyState.IN_TRANSIT
    )


def received_records(
    dossier: Dossier, reception: Reception, *, receiver: str, at: datetime
) -> tuple[Record, ...]:
    """Return the records of a finished receipt, to be added in one act.

    One entry of receipt and one of storage for each item; a discrepancy for each thing that does
    not agree; care where hazards were seen; a photograph where one was taken.

    Args:
        dossier: The case.
        reception: What was seen.
        receiver: Who receives: the laboratory or person of the custody entries.
        at: When, aware; the entries carry its offset.

    Raises:
        ValueError: Something must still be said; the text says what.
    """
    if missing := reception.lacking():
        raise ValueError(f"still to be said: {'; '.join(missing)}")
    if not receiver.strip():
        raise ValueError("still to be said: who receives it")
    when = When(at.isoformat(" ", "seconds"))
    doubts = list(_doubts(dossier, reception, when))
    records: list[Record] = []
    for check in reception.items:
        records += _entries(dossier, reception.outside, check, receiver, when)
        records += _care(dossier, check)
    return (*records, *_numbered(dossier, doubts), *_photos(dossier, reception, when))


def _story(dossier: Dossier, sample: str) -> Story | None:
    return next((story for story in stories(dossier) if story.sample.ref == sample), None)


def _giver(outside: OutsideCheck, story: Story | None) -> str:
    """Return who gives an item: whoever holds it where that is the person who brought it."""
    holder = story.now.holder if story and story.now else ""
    return holder if same_holder(holder, outside.by) else outside.by


def _entries(
    dossier: Dossier, outside: OutsideCheck, check: ItemCheck, receiver: str, when: When
) -> Iterator[CustodyEntry]:
    said = CustodyEntry(
        sample=check.sample,
        when=when,
        event=CustodyEvent.RECEIVED,
        giver=_giver(outside, _story(dossier, check.sample)),
        receiver=receiver,
        place="receipt",
        seal=check.seal,
        seal_condition=check.seal_condition,
        condition=check.condition,
        carrier=outside.by if outside.mode is DeliveryMode.CARRIER else "",
        note=" ".join(part for part in (outside.number, _weighed(check)) if part),
    )
    yield said
    yield CustodyEntry(
        sample=check.sample,
        when=when,
        event=CustodyEvent.STORED,
        giver=receiver,
        receiver=receiver,
        place=check.place,
        seal=check.seal,
        seal_condition=check.seal_condition,
        condition=check.condition,
    )


def _weighed(check: ItemCheck) -> str:
    return f"found: {check.amount}" if check.amount else ""


def _care(dossier: Dossier, check: ItemCheck) -> Iterator[SampleCare]:
    if check.hazards and dossier.find(SampleCare, check.sample) is None:
        yield SampleCare(sample=check.sample, hazards=check.hazards, storage=check.place)


def _doubts(dossier: Dossier, reception: Reception, when: When) -> Iterator[Discrepancy]:
    everything = Refs(tuple(one.sample for one in reception.items))
    for kind, words in outside_doubts(reception.outside):
        yield Discrepancy(ref="", samples=everything, kind=kind, found=when, words=words)
    on_their_way = {story.sample.ref: story for story in announced(dossier)}
    for check in reception.items:
        one = Refs((check.sample,))
        story = on_their_way.get(check.sample)
        seals = sorted(story.now.seals) if story and story.now else []
        for kind, words in item_doubts(check, seals[-1] if seals else ""):
            yield Discrepancy(ref="", samples=one, kind=kind, found=when, words=words)
        if story is None:
            kind = DiscrepancyKind.NOT_ANNOUNCED
            words = "it came unannounced: nobody is known to have sent it"
            yield Discrepancy(ref="", samples=one, kind=kind, found=when, words=words)
    yield from _count_doubt(dossier, reception, when)


def _count_doubt(dossier: Dossier, reception: Reception, when: When) -> Iterator[Discrepancy]:
    shipment = _shipment_of(dossier, reception)
    sent, came = shipment.containers_sent if shipment else None, reception.outside.containers
    if sent is not None and sent != came:
        everything = Refs(tuple(one.sample for one in reception.items))
        words = f"{sent} containers were sent, {came} came"
        kind = DiscrepancyKind.COUNT_DIFFERS
        yield Discrepancy(ref="", samples=everything, kind=kind, found=when, words=words)


def _numbered(dossier: Dossier, doubts: list[Discrepancy]) -> Iterator[Discrepancy]:
    used = len(dossier.all(Discrepancy, withdrawn=True))
    for number, doubt in enumerate(doubts, used + 1):
        yield replace(doubt, ref=f"D-{number:02}")


def _shipment_of(dossier: Dossier, reception: Reception) -> Shipment | None:
    scanned = {one.sample for one in reception.items}
    waiting = (one for one in dossier.all(Shipment) if one.received is None)
    return next((one for one in waiting if scanned & set(one.samples)), None)


def arrival(dossier: Dossier, reception: Reception, *, at: datetime) -> tuple[Shipment, ...]:
    """Return the shipment that the receipt ends, with its arrival, to take the old one's place."""
    shipment = _shipment_of(dossier, reception)
    if shipment is None:
        return ()
    came = reception.outside.containers
    when = When(at.isoformat(" ", "seconds"))
    return (replace(shipment, received=when, containers_received=came),)


def _photos(dossier: Dossier, reception: Reception, when: When) -> Iterator[Photo]:
    taken = [(reception.outside.photo, "", "package as it came")]
    taken += [(one.photo, one.sample, f"{one.sample} as received") for one in reception.items]
    known = {one.file for one in dossier.all(Photo)}
    for file, at, caption in taken:
        if file and file not in known:
            known.add(file)
            yield Photo(file=file, at=at, taken=when, caption=caption)
