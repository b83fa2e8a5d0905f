"""What must hold of custody, and where it does not: each breach says what to do.

The rules are those of a chain that a court can follow: somebody holds each sample at every moment,
a transfer has two parties and one time, a seal is broken before a sample is opened, amounts
balance, and nothing is done to what is gone. Sources: custody practice of the US EPA (SW-846,
chapter 1), ASTM E1492 and E1459, ISO/IEC 17025 clauses 7.4 and 7.5 (as read in extracts or from
memory).
"""

from collections.abc import Iterator
from datetime import datetime, timedelta
from itertools import pairwise

from workbench.custody.amounts import overdrawn
from workbench.custody.breach import Breach, breach_of, when_of
from workbench.custody.numbering import corrections, numbering, shipments
from workbench.custody.story import Moment, Story, same_holder, stories
from workbench.custody.transit import never_received
from workbench.records import (
    CustodyEntry,
    DestructiveStep,
    Discrepancy,
    Dossier,
    Sample,
    SampleCare,
    When,
)
from workbench.records.bounds import is_before
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


def breaches(dossier: Dossier, *, now: datetime | None = None) -> tuple[Breach, ...]:
    """Return every breach of a custody rule in the case, sample by sample.

    Args:
        dossier: The records.
        now: The present; entries after it, and shipments and samples overdue at it, are told.
            None leaves these out.
    """
    told: list[Breach] = []
    for story in stories(dossier):
        told += story_breaches(dossier, story, now=now)
    told += numbering(dossier)
    told += corrections(dossier)
    told += shipments(dossier, now)
    return tuple(told)


def story_breaches(
    dossier: Dossier, story: Story, *, now: datetime | None = None
) -> Iterator[Breach]:
    """Yield the breaches in the story of one sample."""
    if not story.moments:
        yield breach_of(
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
    yield from _retention(dossier, story, now)
    yield from never_received(dossier, story, now)
    yield from overdrawn(dossier, story)
    yield from _receipt(story)
    yield from _conditions(dossier, story)


def _beginning(story: Story) -> Iterator[Breach]:
    first = story.moments[0].entry
    if first.event not in _FIRST:
        yield breach_of(
            "it begins with collection or receipt", story.sample, (first,),
            f"the first entry is “{when_of(first)}”", "enter when and by whom it was collected",
        )  # fmt: skip
    if first.event is CustodyEvent.COLLECTED:
        yield from _as_taken(story.sample, first)


def _as_taken(sample: Sample, first: CustodyEntry) -> Iterator[Breach]:
    """Yield where the sample's own record and the entry of its collection differ."""
    taken, entered = sample.taken, first.when
    if taken and taken.day() != entered.day() and _apart(taken, entered):
        yield breach_of(
            "it was collected when it was taken", sample, (first,),
            f"taken {taken}, but “{when_of(first)}”", "correct the wrong one of the two",
        )  # fmt: skip
    if sample.seal and first.seal and sample.seal.casefold() != first.seal.casefold():
        yield breach_of(
            "it bears the seal it was given", sample, (first,),
            f"seal {sample.seal} by the sample, {first.seal} by “{when_of(first)}”",
            "correct the wrong one, or enter when it was sealed anew",
        )  # fmt: skip


def _apart(one: When, other: When) -> bool:
    return is_before(one, other) or is_before(other, one)


def _times(sample: Sample, moment: Moment, now: datetime | None) -> Iterator[Breach]:
    entry = moment.entry
    if now is not None and moment.at > now + CLOCK_TOLERANCE:
        yield breach_of(
            "no entry lies in the future", sample, (entry,), f"“{when_of(entry)}” is yet to come",
            "correct the time",
        )  # fmt: skip
    if entry.recorded_at:
        late = datetime.fromisoformat(entry.recorded_at) - moment.at
        if late > LATE_AFTER and not (entry.origin or entry.note):
            yield breach_of(
                "entries are made when it happens", sample, (entry,),
                f"“{when_of(entry)}” was recorded {late.days} days later", "say why in the note",
                grave=False,
            )  # fmt: skip


def _transfer(sample: Sample, before: Moment, moment: Moment) -> Iterator[Breach]:
    entry = moment.entry
    if before.ended:
        yield breach_of(
            "nothing follows the end", sample, (before.entry, entry),
            f"“{when_of(entry)}” after “{when_of(before.entry)}”", "correct one of the two",
        )  # fmt: skip
        return
    if moment.pending:
        yield breach_of(
            "a transfer has two parties", sample, (entry,),
            f"“{when_of(entry)}” names only {moment.pending}", "have the other party confirm",
            grave=False,
        )  # fmt: skip
    if entry.giver and before.holder and not same_holder(entry.giver, before.holder):
        yield breach_of(
            "the giver holds it", sample, (before.entry, entry),
            f"{entry.giver} gives it, {before.holder} holds it: nobody is known to have held it "
            f"between {before.entry.when} and {entry.when}",
            f"enter how {entry.giver} came by it",
        )  # fmt: skip
    if entry.event in _GIVEN and entry.giver and same_holder(entry.giver, entry.receiver):
        yield breach_of(
            "giver and receiver differ", sample, (entry,),
            f"{entry.giver} both gives and receives it", "enter it as stored, or name the other",
        )  # fmt: skip


def _sealing(sample: Sample, before: Moment, moment: Moment) -> Iterator[Breach]:
    entry = moment.entry
    if entry.event in _INTO and before.seals:
        yield breach_of(
            "a seal is broken before work", sample, (entry,),
            f"“{when_of(entry)}” while seal {', '.join(sorted(before.seals))} is unbroken",
            "enter when and by whom it was opened",
        )  # fmt: skip
    if entry.event is CustodyEvent.OPENED and before.seals and entry.seal not in before.seals:
        said = entry.seal or "no seal"
        yield breach_of(
            "opening names the seal broken", sample, (entry,),
            f"opened naming {said}; the seal on it is {', '.join(sorted(before.seals))}",
            "name the seal that was broken",
        )  # fmt: skip
    differs = entry.seal and before.seals and entry.seal not in before.seals
    if entry.event is CustodyEvent.RECEIVED and differs:
        yield breach_of(
            "the seal received is the seal sent", sample, (before.entry, entry),
            f"sent under {', '.join(sorted(before.seals))}, received under {entry.seal}",
            "raise a discrepancy and ask the sender",
        )  # fmt: skip


def _work(dossier: Dossier, sample: Sample, before: Moment, moment: Moment) -> Iterator[Breach]:
    entry = moment.entry
    if entry.event is CustodyEvent.TESTED and not before.in_laboratory:
        yield breach_of(
            "tested only while a laboratory holds it", sample, (before.entry, entry),
            f"“{when_of(entry)}” while {before.holder or 'nobody'} holds it",
            "enter its receipt by the laboratory",
        )  # fmt: skip
    if entry.event in _INTO:
        for one in _open_discrepancies(dossier, sample.ref, moment.at):
            yield Breach(
                "no work while a discrepancy is open", sample.ref, (one.source, entry.source),
                f"“{when_of(entry)}” while discrepancy {one.ref} is open",
                "record what the client answered",
            )  # fmt: skip
    held = _on_hold(dossier, sample.ref)
    if entry.event is CustodyEvent.DISPOSED and held:
        yield Breach(
            "nothing under hold is disposed of", sample.ref, (held.source, entry.source),
            f"disposed of under hold ({held.hold_reason})", "have the hold lifted in writing first",
        )  # fmt: skip
    until = _kept_until(dossier, sample.ref)
    if entry.event is CustodyEvent.DISPOSED and until and is_before(entry.when, until[1]):
        yield Breach(
            "nothing is disposed of before its time", sample.ref, (until[0].source, entry.source),
            f"“{when_of(entry)}”, and it was to be kept until {until[1]}",
            "say who allowed it, and why",
        )  # fmt: skip
    if entry.event in {CustodyEvent.SPLIT, CustodyEvent.USED_UP}:
        yield from _leave(dossier, sample, entry)


def _leave(dossier: Dossier, sample: Sample, entry: CustodyEntry) -> Iterator[Breach]:
    """A step that alters a sample wants photographs, notice and approval, or a reason without."""
    leave = [one for one in dossier.all(DestructiveStep) if one.sample == sample.ref]
    lacking = leave[0].lacking if leave else ("photographs", "notice to the parties", "approval")
    if lacking and not (leave and any(not one.lacking for one in leave)):
        yield breach_of(
            "leave is had before cutting", sample, (entry,),
            f"“{when_of(entry)}” without {', '.join(lacking)}",
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


def _kept_until(dossier: Dossier, sample: str) -> tuple[SampleCare, When] | None:
    care = dossier.find(SampleCare, sample)
    return (care, care.keep_until) if care and care.keep_until and not care.withdrawn else None


def _retention(dossier: Dossier, story: Story, now: datetime | None) -> Iterator[Breach]:
    """What was to be kept until a day that is past waits for a word of the client."""
    until = _kept_until(dossier, story.sample.ref)
    if until is None or now is None or story.moments[-1].ended:
        return
    if until[1].end(dossier.zone) < now and not _on_hold(dossier, story.sample.ref):
        yield Breach(
            "what may go is asked about", story.sample.ref, (until[0].source,),
            f"it was to be kept until {until[1]}, which is past",
            "ask the client whether it is kept on, returned or disposed of", grave=False,
        )  # fmt: skip


def _end(story: Story) -> Iterator[Breach]:
    now = story.moments[-1]
    if not now.ended and not now.holder:
        yield breach_of(
            "somebody holds it", story.sample, (now.entry,),
            f"nobody is known to hold it since “{when_of(now.entry)}”", "enter who holds it",
        )  # fmt: skip


def _receipt(story: Story) -> Iterator[Breach]:
    """A receipt says condition, seal and place; without them nobody can say how it came."""
    for moment in story.moments:
        entry = moment.entry
        if entry.event is not CustodyEvent.RECEIVED:
            continue
        wanted = (
            ("condition", entry.condition), ("state of the seal", entry.seal_condition),
            ("receiver", entry.receiver), ("place", entry.place),
        )  # fmt: skip
        if lacking := [name for name, said in wanted if not said]:
            yield breach_of(
                "a receipt says how it came", story.sample, (entry,),
                f"“{when_of(entry)}” without {', '.join(lacking)}", "say it in an entry that "
                "puts this one right", grave=False,
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
            yield breach_of(
                "a seal that is not as sent is a discrepancy", story.sample, (entry,),
                f"the seal was found {words}", "raise a discrepancy and ask the sender",
            )  # fmt: skip
