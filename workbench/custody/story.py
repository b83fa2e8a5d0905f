"""The story of one sample: every entry in its order, and who held it from when to when."""

from dataclasses import dataclass
from datetime import datetime
from itertools import pairwise

from workbench.records import CustodyEntry, Dossier, Party, Sample
from workbench.records.codes import CustodyEvent, CustodyState, Role

FINAL = frozenset({CustodyEvent.USED_UP, CustodyEvent.RETURNED, CustodyEvent.DISPOSED})
_TRANSFERS = frozenset({CustodyEvent.HANDED_OVER, CustodyEvent.RECEIVED, CustodyEvent.RETURNED})
_STATES = {
    CustodyEvent.SEALED: CustodyState.SEALED,
    CustodyEvent.DISPATCHED: CustodyState.IN_TRANSIT,
    CustodyEvent.STORED: CustodyState.SECURED,
}


@dataclass(frozen=True, slots=True)
class Moment:
    """A sample right after one entry.

    Attributes:
        entry: The entry.
        at: When it occurred.
        holder: Who holds the sample; empty where nobody is known to.
        state: What the custody is; None where nobody holds it.
        seals: Numbers of the seals that close it, unbroken.
        in_laboratory: Whether a laboratory has received it and not let it go.
        place: Where it is, as last said.
        pending: Who has given or taken it without the other party's word; empty where nobody.
    """

    entry: CustodyEntry
    at: datetime
    holder: str
    state: CustodyState | None
    seals: frozenset[str]
    in_laboratory: bool
    place: str
    pending: str = ""

    @property
    def ended(self) -> bool:
        """Whether the sample is used up, returned or disposed of."""
        return self.entry.event in FINAL


@dataclass(frozen=True, slots=True)
class Span:
    """Who held a sample from one moment to another.

    Attributes:
        holder: Who held it; empty for a gap.
        state: What the custody was; None for a gap.
        start: From when.
        end: Until when; None where it goes on.
        place: Where.
    """

    holder: str
    state: CustodyState | None
    start: datetime
    end: datetime | None
    place: str

    @property
    def gap(self) -> bool:
        """Whether nobody is known to have held it."""
        return not self.holder


@dataclass(frozen=True, slots=True)
class Story:
    """One sample from the first entry to the last.

    Attributes:
        sample: The sample.
        moments: One for each entry that stands, in the order in which they occurred.
        corrected: Entries that a later one puts right, with that later one; they stay legible.
    """

    sample: Sample
    moments: tuple[Moment, ...]
    corrected: tuple[tuple[CustodyEntry, CustodyEntry], ...]

    @property
    def now(self) -> Moment | None:
        """The sample as it is after the last entry."""
        return self.moments[-1] if self.moments else None

    def spans(self) -> tuple[Span, ...]:
        """Return who held the sample when.

        Where the next entry has it come from somebody else than its holder, nobody is known to
        have held it in between: that is a gap.
        """
        spans = []
        for one, following in pairwise((*self.moments, None)):
            if one is None or one.ended:
                continue
            end = following.at if following else None
            if following and _comes_from_another(one, following):
                spans.append(Span("", None, one.at, end, one.place))
            else:
                spans.append(Span(one.holder, one.state, one.at, end, one.place))
        return _joined(spans)


def _comes_from_another(before: Moment, after: Moment) -> bool:
    giver = after.entry.giver
    return bool(giver and before.holder and not same_holder(giver, before.holder))


def _joined(spans: list[Span]) -> tuple[Span, ...]:
    joined: list[Span] = []
    for span in spans:
        last = joined[-1] if joined else None
        if last and (last.holder, last.state, last.place) == (span.holder, span.state, span.place):
            joined[-1] = Span(last.holder, last.state, last.start, span.end, last.place)
        else:
            joined.append(span)
    return tuple(joined)


def same_holder(one: str, other: str) -> bool:
    """Return whether two names are one person or firm, whatever their case and spaces."""
    return " ".join(one.split()).casefold() == " ".join(other.split()).casefold()


def entries_of(dossier: Dossier, sample: str) -> tuple[CustodyEntry, ...]:
    """Return the entries of a sample as they were recorded, corrected ones included."""
    return tuple(one for one in dossier.all(CustodyEntry) if one.sample == sample)


def story_of(dossier: Dossier, sample: Sample) -> Story:
    """Return the story of `sample`; entries put right by a later one do not move it."""
    entries = entries_of(dossier, sample.ref)
    righted = {one.corrects: one for one in entries if one.corrects}
    standing = [one for one in entries if one.id not in righted]
    standing.sort(key=lambda one: one.when.start(dossier.zone))
    laboratories = {p.name for p in dossier.all(Party) if p.role is Role.LABORATORY}
    moments: list[Moment] = []
    for entry in standing:
        before = moments[-1] if moments else _before_the_first(dossier, sample, entry)
        moments.append(_after(entry, before, entry.when.start(dossier.zone), laboratories))
    corrected = tuple((one, righted[one.id]) for one in entries if one.id in righted)
    return Story(sample, tuple(moments), corrected)


def stories(dossier: Dossier) -> tuple[Story, ...]:
    """Return the story of every sample that counts, in their order."""
    return tuple(story_of(dossier, sample) for sample in dossier.all(Sample))


def _before_the_first(dossier: Dossier, sample: Sample, entry: CustodyEntry) -> Moment:
    """Return nothing held; a part of another sample begins where the whole lies then."""
    at = entry.when.start(dossier.zone)
    whole = dossier.find(Sample, sample.parent) if sample.parent != sample.ref else None
    made_in = whole is not None and any(
        moment.in_laboratory and moment.at <= at for moment in story_of(dossier, whole).moments
    )
    made_by = entry.receiver if not sample.parent else ""
    analysts = made_by and _is_analyst(dossier, made_by)
    return Moment(entry, at, "", None, frozenset(), made_in or bool(analysts), "")


def _is_analyst(dossier: Dossier, name: str) -> bool:
    """Return whether `name` is a laboratory, or has taken a sample from one."""
    laboratories = [p.name for p in dossier.all(Party) if p.role is Role.LABORATORY]
    return any(
        same_holder(name, lab)
        or any(
            same_holder(e.receiver, name) and same_holder(e.giver, lab)
            for e in dossier.all(CustodyEntry)
        )
        for lab in laboratories
    )


def _after(entry: CustodyEntry, before: Moment, at: datetime, laboratories: set[str]) -> Moment:
    holder, pending = _holder(entry, before)
    lab = any(same_holder(holder, name) for name in laboratories)
    leaves = entry.event in {CustodyEvent.DISPATCHED, *FINAL} and entry.event is not (
        CustodyEvent.USED_UP
    )
    state = _STATES.get(entry.event, CustodyState.IN_POSSESSION)
    if state is CustodyState.IN_POSSESSION and _seals(entry, before):
        state = CustodyState.SEALED
    return Moment(
        entry=entry,
        at=at,
        holder=holder,
        state=state if holder else None,
        seals=_seals(entry, before),
        in_laboratory=lab or (before.in_laboratory and not leaves),
        place=entry.place or before.place,
        pending=pending,
    )


def _holder(entry: CustodyEntry, before: Moment) -> tuple[str, str]:
    """Return who holds the sample after `entry`, and whose word alone a transfer rests on."""
    event = entry.event
    if event is CustodyEvent.COLLECTED:
        return entry.receiver or entry.giver, ""
    if event in {CustodyEvent.USED_UP, CustodyEvent.DISPOSED}:
        return "", ""
    receiver = entry.receiver
    if event is CustodyEvent.DISPATCHED:
        receiver = entry.receiver or entry.carrier
    elif event not in _TRANSFERS:
        return receiver or before.holder or entry.giver, ""
    first_word = event is CustodyEvent.RECEIVED and before.state is None
    if receiver and (entry.giver or first_word):
        return receiver, ""
    return before.holder, entry.giver or receiver


def _seals(entry: CustodyEntry, before: Moment) -> frozenset[str]:
    if entry.event is CustodyEvent.SEALED and entry.seal:
        return before.seals | {entry.seal}
    if entry.event is CustodyEvent.OPENED:
        return before.seals - {entry.seal}
    if entry.event in FINAL:
        return frozenset()
    if entry.event is CustodyEvent.STORED and entry.seal and not before.seals:
        return frozenset({entry.seal})
    return before.seals
