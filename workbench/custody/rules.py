"""What must hold of custody, and where it does not: each breach says what to do.

The rules are those of a chain that a court can follow: somebody holds each sample at every moment,
a transfer has two parties and one time, a seal is broken before a sample is opened, amounts
balance, and nothing is done to what is gone. Sources: custody practice of the US EPA (SW-846,
chapter 1), ASTM E1492 and E1459, ISO/IEC 17025 clauses 7.4 and 7.5 (as read in extracts or from
memory).
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import pairwise

from workbench.custody.story import Moment, Story, same_holder, stories
from workbench.records import (
    CustodyEntry,
    DestructiveStep,
    Discrepancy,
    Dossier,
    Sample,
    SampleCare,
    Shipment,
    Source,
)
from workbench.records.codes import CustodyEvent, SealCondition, YesNo

CLOCK_TOLERANCE = timedelta(minutes=5)
LATE_AFTER = timedelta(hours=24)
_INTO = frozenset({CustodyEvent.SPLIT, CustodyEvent.TESTED, CustodyEvent.USED_UP})
_FIRST = frozenset({CustodyEvent.COLLECTED, CustodyEvent.RECEIVED})
_GIVEN = frozenset(
    {
        CustodyEvent.HANDED_OVER,
        CustodyEvent.DISPATCHED,
        CustodyEvent.RETURNED,
        CustodyEvent.RECEIVED,
    }
)


@dataclass(frozen=True, slots=True)
class Breach:
    """A rule of custody that does not hold.

    Attributes:
        rule: Short name of the rule, as "the giver holds it".
        sample: Ref of the sample.
        sources: The entries and records concerned.
        words: What is there, in a sentence.
        remedy: What to do.
        grave: Whether the chain is broken; False for what is open or worth a word.
    """

    rule: str
    sample: str
    sources: tuple[Source, ...]
    words: str
    remedy: str
    grave: bool = True

    def __str__(self) -> str:
        """Return the breach as one line."""
        return f"{self.sample}: {self.words}; {self.remedy}"


def breaches(dossier: Dossier, *, now: datetime | None = None) -> tuple[Breach, ...]:
    """Return every breach of a custody rule in the case, sample by sample.

    Args:
        dossier: The records.
        now: The present; entries after it, and shipments overdue at it, are told. None leaves
            these two out.
    """
    told: list[Breach] = []
    for story in stories(dossier):
        told += story_breaches(dossier, story, now=now)
    told += _numbering(dossier)
    told += _corrections(dossier)
    told += _shipments(dossier, now)
    return tuple(told)


def story_breaches(
    dossier: Dossier, story: Story, *, now: datetime | None = None
) -> Iterator[Breach]:
    """Yield the breaches in the story of one sample."""
    if not story.moments:
        yield _breach(
            "somebody holds it", story.sample, (), "no custody entry", "enter who holds it"
        )
        return
    yield from _beginning(story)
    for before, moment in pairwise((None, *story.moments)):
        if moment is None:
            continue
        yield from _times(story.sample, moment, now)
        if before is not None:
            yield from _transfer(story.sample, before, moment)
            yield from _sealing(story.sample, before, moment)
            yield from _work(dossier, story.sample, before, moment)
    yield from _end(story)
    yield from _amounts(dossier, story)
    yield from _conditions(dossier, story)


def _breach(
    rule: str,
    sample: Sample,
    entries: Iterable[CustodyEntry],
    words: str,
    remedy: str,
    *,
    grave: bool = True,
) -> Breach:
    sources = tuple(entry.source for entry in entries) or (sample.source,)
    return Breach(rule, sample.ref, sources, words, remedy, grave)


def _when(entry: CustodyEntry) -> str:
    return f"{entry.event.value.replace('_', ' ')} {entry.when}"


def _beginning(story: Story) -> Iterator[Breach]:
    first = story.moments[0].entry
    if first.event not in _FIRST:
        yield _breach(
            "it begins with collection or receipt", story.sample, (first,),
            f"the first entry is “{_when(first)}”", "enter when and by whom it was collected",
        )  # fmt: skip


def _times(sample: Sample, moment: Moment, now: datetime | None) -> Iterator[Breach]:
    entry = moment.entry
    if now is not None and moment.at > now + CLOCK_TOLERANCE:
        yield _breach(
            "no entry lies in the future", sample, (entry,), f"“{_when(entry)}” is yet to come",
            "correct the time",
        )  # fmt: skip
    if entry.recorded_at:
        late = datetime.fromisoformat(entry.recorded_at) - moment.at
        if late > LATE_AFTER and not (entry.origin or entry.note):
            yield _breach(
                "entries are made when it happens", sample, (entry,),
                f"“{_when(entry)}” was recorded {late.days} days later", "say why in the note",
                grave=False,
            )  # fmt: skip


def _transfer(sample: Sample, before: Moment, moment: Moment) -> Iterator[Breach]:
    entry = moment.entry
    if before.ended:
        yield _breach(
            "nothing follows the end", sample, (before.entry, entry),
            f"“{_when(entry)}” after “{_when(before.entry)}”", "correct one of the two",
        )  # fmt: skip
        return
    if moment.pending:
        yield _breach(
            "a transfer has two parties", sample, (entry,),
            f"“{_when(entry)}” names only {moment.pending}", "have the other party confirm",
            grave=False,
        )  # fmt: skip
    if entry.giver and before.holder and not same_holder(entry.giver, before.holder):
        yield _breach(
            "the giver holds it", sample, (before.entry, entry),
            f"{entry.giver} gives it, {before.holder} holds it: nobody is known to have held it "
            f"between {before.entry.when} and {entry.when}",
            f"enter how {entry.giver} came by it",
        )  # fmt: skip
    if entry.event in _GIVEN and entry.giver and same_holder(entry.giver, entry.receiver):
        yield _breach(
            "giver and receiver differ", sample, (entry,),
            f"{entry.giver} both gives and receives it", "enter it as stored, or name the other",
        )  # fmt: skip


def _sealing(sample: Sample, before: Moment, moment: Moment) -> Iterator[Breach]:
    entry = moment.entry
    if entry.event in _INTO and before.seals:
        yield _breach(
            "a seal is broken before work", sample, (entry,),
            f"“{_when(entry)}” while seal {', '.join(sorted(before.seals))} is unbroken",
            "enter when and by whom it was opened",
        )  # fmt: skip
    if entry.event is CustodyEvent.OPENED and before.seals and entry.seal not in before.seals:
        said = entry.seal or "no seal"
        yield _breach(
            "opening names the seal broken", sample, (entry,),
            f"opened naming {said}; the seal on it is {', '.join(sorted(before.seals))}",
            "name the seal that was broken",
        )  # fmt: skip
    differs = entry.seal and before.seals and entry.seal not in before.seals
    if entry.event is CustodyEvent.RECEIVED and differs:
        yield _breach(
            "the seal received is the seal sent", sample, (before.entry, entry),
            f"sent under {', '.join(sorted(before.seals))}, received under {entry.seal}",
            "raise a discrepancy and ask the sender",
        )  # fmt: skip


def _work(dossier: Dossier, sample: Sample, before: Moment, moment: Moment) -> Iterator[Breach]:
    entry = moment.entry
    if entry.event is CustodyEvent.TESTED and not before.in_laboratory:
        yield _breach(
            "tested only while a laboratory holds it", sample, (before.entry, entry),
            f"“{_when(entry)}” while {before.holder or 'nobody'} holds it",
            "enter its receipt by the laboratory",
        )  # fmt: skip
    if entry.event in _INTO:
        for one in _open_discrepancies(dossier, sample.ref, moment.at):
            yield Breach(
                "no work while a discrepancy is open", sample.ref, (one.source, entry.source),
                f"“{_when(entry)}” while discrepancy {one.ref} is open",
                "record what the client answered",
            )  # fmt: skip
    held = _on_hold(dossier, sample.ref)
    if entry.event is CustodyEvent.DISPOSED and held:
        yield Breach(
            "nothing under hold is disposed of", sample.ref, (held.source, entry.source),
            f"disposed of under hold ({held.hold_reason})", "have the hold lifted in writing first",
        )  # fmt: skip
    if entry.event in {CustodyEvent.SPLIT, CustodyEvent.USED_UP}:
        yield from _leave(dossier, sample, entry)


def _leave(dossier: Dossier, sample: Sample, entry: CustodyEntry) -> Iterator[Breach]:
    """A step that alters a sample wants photographs, notice and approval, or a reason without."""
    leave = [one for one in dossier.all(DestructiveStep) if one.sample == sample.ref]
    lacking = leave[0].lacking if leave else ("photographs", "notice to the parties", "approval")
    if lacking and not (leave and any(not one.lacking for one in leave)):
        yield _breach(
            "leave is had before cutting", sample, (entry,),
            f"“{_when(entry)}” without {', '.join(lacking)}",
            "record them, or why it was done without", grave=False,
        )  # fmt: skip


def _open_discrepancies(dossier: Dossier, sample: str, at: datetime) -> Iterator[Discrepancy]:
    for one in dossier.all(Discrepancy):
        found = one.found.start(dossier.zone) <= at
        answered = one.answered_when and one.answered_when.start(dossier.zone) <= at
        if sample in one.samples and found and (one.open or not answered):
            yield one


def _on_hold(dossier: Dossier, sample: str) -> SampleCare | None:
    care = dossier.find(SampleCare, sample)
    return care if care and not care.withdrawn and care.hold is YesNo.YES else None


def _end(story: Story) -> Iterator[Breach]:
    now = story.moments[-1]
    if not now.ended and not now.holder:
        yield _breach(
            "somebody holds it", story.sample, (now.entry,),
            f"nobody is known to hold it since “{_when(now.entry)}”", "enter who holds it",
        )  # fmt: skip


def _conditions(dossier: Dossier, story: Story) -> Iterator[Breach]:
    for moment in story.moments:
        entry = moment.entry
        wrong = entry.seal_condition in {SealCondition.NUMBER_DIFFERS, SealCondition.BROKEN}
        if not wrong or entry.event is CustodyEvent.OPENED:
            continue
        raised = any(
            later.entry.event is CustodyEvent.DISCREPANCY and later.at >= moment.at
            for later in story.moments
        ) or any(story.sample.ref in one.samples for one in dossier.all(Discrepancy))
        if not raised and entry.seal_condition:
            words = entry.seal_condition.value.replace("_", " ")
            yield _breach(
                "a seal that is not as sent is a discrepancy", story.sample, (entry,),
                f"the seal was found {words}", "raise a discrepancy and ask the sender",
            )  # fmt: skip


def _amounts(dossier: Dossier, story: Story) -> Iterator[Breach]:
    whole = story.sample.amount
    if whole is None:
        return
    parts = [one for one in dossier.all(Sample) if one.parent == story.sample.ref]
    taken = [(one.amount, one.source) for one in parts if one.amount]
    taken += [(m.entry.amount, m.entry.source) for m in story.moments if m.entry.amount]
    same = [(amount.value, source) for amount, source in taken if amount.unit == whole.unit]
    total = sum(value for value, _ in same)
    if total > whole.value * (1 + 1e-9):
        sources = (story.sample.source, *(source for _, source in same))
        yield Breach(
            "parts and use do not exceed the whole", story.sample.ref, sources,
            f"{total:g} {whole.unit} taken from {whole}", "correct an amount",
        )  # fmt: skip


def _numbering(dossier: Dossier) -> Iterator[Breach]:
    known = {one.ref: one for one in dossier.all(Sample, withdrawn=True)}
    for sample in dossier.all(Sample):
        seen = {sample.ref}
        parent = sample.parent
        while parent and parent in known and parent not in seen:
            seen.add(parent)
            parent = known[parent].parent
        if parent in seen and sample.parent:
            yield _breach(
                "a part has one whole", sample, (), f"{sample.ref} is part of itself",
                "correct the parent",
            )  # fmt: skip
        elif parent and parent not in known:
            yield _breach(
                "a part has one whole", sample, (), f"no sample {parent} to be part of",
                "enter it, or correct the parent",
            )  # fmt: skip


def _corrections(dossier: Dossier) -> Iterator[Breach]:
    known = {one.id: one for one in dossier.all(CustodyEntry)}
    for entry in known.values():
        old = known.get(entry.corrects) if entry.corrects else entry
        if old is None or old.sample != entry.sample or entry.corrects == entry.id:
            yield Breach(
                "a correction points at its entry", entry.sample, (entry.source,),
                f"“{_when(entry)}” corrects an entry that is not there", "enter it anew",
            )  # fmt: skip


def _shipments(dossier: Dossier, now: datetime | None) -> Iterator[Breach]:
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
