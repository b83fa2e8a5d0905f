"""How is it known: from anything shown down to what was read, where, by whom, and every act since.

A trace ends at readings, places, persons, instruments, photographs, documents, custody entries and
lines of the journal.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from datetime import datetime
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING

from workbench.records import (
    Area,
    CustodyEntry,
    Document,
    Dossier,
    FieldInfo,
    Instrument,
    LabResult,
    Location,
    Outcome,
    Party,
    Photo,
    PullOff,
    Quantity,
    Record,
    Sample,
    Source,
    fields_of,
)
from workbench.trade.showing import Showing

if TYPE_CHECKING:
    from workbench.desk.case import HistoryLine, Kept

_PERSONS = ("operator", "taken_by", "by", "analyst", "applicator", "giver", "receiver", "carrier")


class Kind(StrEnum):
    """What a step of a trace is."""

    RECORD = "record"
    FIELD = "as entered"
    RESULT = "computed"
    DOUBT = "doubt"
    PLACE = "place"
    PERSON = "person"
    INSTRUMENT = "instrument"
    PHOTO = "photograph"
    DOCUMENT = "document"
    CUSTODY = "custody"
    ACT = "journal"


@dataclass(frozen=True, slots=True)
class Trace:
    """One step from something shown towards where it comes from.

    Attributes:
        kind: What it is.
        title: What it is called.
        detail: What it says.
        source: The record it stands for; its own trace opens below it.
        file: Name of the original behind it, as records use it; empty for none.
        parts: Steps below it that stand for no record of their own.
    """

    kind: Kind
    title: str
    detail: str = ""
    source: Source | None = None
    file: str = ""
    parts: "tuple[Trace, ...]" = ()

    @property
    def opens(self) -> bool:
        """Whether there is anything below it."""
        return bool(self.parts) or self.source is not None


@dataclass(frozen=True, slots=True)
class Grounds:
    """What a trace is followed through.

    Attributes:
        dossier: The records.
        history: Gives every act that touched a record.
        showing: Units of computed numbers.
        kept: The originals of the case.
    """

    dossier: Dossier
    history: "Callable[[Source], tuple[HistoryLine, ...]]"
    showing: Showing = field(default_factory=Showing)
    kept: "tuple[Kept, ...]" = ()


def trace_of_several(title: str, detail: str, sources: Iterable[Source], grounds: Grounds) -> Trace:
    """Return the first step for something that rests on several records, as a finding does."""
    steps = tuple(trace_of(source, grounds) for source in sources)
    return Trace(Kind.RESULT, title, detail, parts=steps)


def trace_of(source: Source, grounds: Grounds) -> Trace:
    """Return the first step for a record."""
    record = grounds.dossier.resolve(source)
    if record is None:
        return Trace(Kind.RECORD, str(source), "there is no such record in the case")
    named = f"{type(record).title} {record.label}"
    gone = f"withdrawn: {record.withdrawn}" if record.withdrawn else ""
    file = getattr(record, "file", "") if isinstance(record, Photo | Document | LabResult) else ""
    return Trace(_KINDS.get(type(record), Kind.RECORD), named, gone or _gist(record), source, file)


def below(trace: Trace, grounds: Grounds) -> tuple[Trace, ...]:
    """Return the steps below one."""
    record = grounds.dossier.resolve(trace.source) if trace.source else None
    return (*trace.parts, *(_steps(record, grounds) if record else ()))


def _steps(record: Record, grounds: Grounds) -> Iterator[Trace]:
    yield from _computed(record, grounds)
    yield _entered(record)
    yield from _original(record, grounds)
    yield from _doubts(record, grounds)
    yield from _linked(record, grounds)
    yield from _persons(record, grounds.dossier)
    yield from _photographs(record, grounds)
    yield from _custody(record, grounds)
    yield from _acts(record, grounds)


_KINDS: dict[type[Record], Kind] = {
    Area: Kind.PLACE, Location: Kind.PLACE, Photo: Kind.PHOTO, Document: Kind.DOCUMENT,
    Instrument: Kind.INSTRUMENT, CustodyEntry: Kind.CUSTODY, Party: Kind.PERSON,
}  # fmt: skip


def _gist(record: Record) -> str:
    """Return what a record says in a few words: its first fields beside its name."""
    said = [
        f"{info.column.heading} {getattr(record, info.name)}"
        for info in fields_of(type(record))
        if info.name not in record.identity and getattr(record, info.name) not in (None, "")
    ]
    return ", ".join(said[:4])


def _computed(record: Record, grounds: Grounds) -> Iterator[Trace]:
    if not isinstance(record, PullOff):
        return
    from workbench.trade.pull_off import stress_of
    from workbench.trade.showing import Bound

    stress = stress_of(record)
    if stress.mpa is None:
        yield Trace(Kind.RESULT, "stress", stress.why_not)
        return
    bound = Bound.AT_MOST if stress.at_most else Bound.NONE
    shown = grounds.showing.stress(stress.mpa, bound=bound)
    yield Trace(Kind.RESULT, "stress", "; ".join((shown, *stress.steps)))


def _entered(record: Record) -> Trace:
    """Return what was entered, field by field, and where it came from."""
    parts = tuple(
        Trace(Kind.FIELD, info.column.heading, _with_unit(info, value))
        for info in fields_of(type(record))
        if (value := getattr(record, info.name)) not in (None, "")
    )
    return Trace(Kind.FIELD, "as entered", record.origin or "entered by hand", parts=parts)


def _original(record: Record, grounds: Grounds) -> Iterator[Trace]:
    name = getattr(record, "file", "")
    for kept in grounds.kept:
        if name and kept.name == name:
            said = f"{kept.size} bytes, SHA-256 {kept.digest}, unchanged since it was taken in"
            yield Trace(Kind.FIELD, "original", said, file=name)


def _with_unit(info: FieldInfo, value: object) -> str:
    number = value.quantity if isinstance(value, Outcome) else value
    bare = isinstance(number, Quantity) and not number.unit and info.column.unit
    return f"{value} {info.column.unit}" if bare else str(value)


def _doubts(record: Record, grounds: Grounds) -> Iterator[Trace]:
    from workbench.analysis.doubts import doubts_of

    for one in doubts_of(grounds.dossier, showing=grounds.showing):
        if one.source == record.source:
            answer = f"answered: {one.answer.reason}" if one.answer else f"use: {one.effect}"
            yield Trace(Kind.DOUBT, str(one.rule), f"{one.words}; {answer} ({one.basis})")


def _linked(record: Record, grounds: Grounds) -> Iterator[Trace]:
    """Return the records that this one names: place, sample, instrument, control, document."""
    seen = {record.source}
    for info in fields_of(type(record)):
        value = getattr(record, info.name)
        for ref in _refs_in(info, value):
            for found in _named(info, ref, grounds.dossier):
                if found.source not in seen:
                    seen.add(found.source)
                    yield trace_of(found.source, grounds)
    said = getattr(record, "source_text", "")
    for document in grounds.dossier.all(Document):
        if said and said.split()[0] == document.ref:
            yield trace_of(document.source, grounds)


def _refs_in(info: FieldInfo, value: object) -> Iterable[str]:
    if not info.column.refers or not value:
        return ()
    return getattr(value, "refs", None) or (str(value),)


def _named(info: FieldInfo, ref: str, dossier: Dossier) -> Iterator[Record]:
    for noun in info.column.refers:
        found = dossier.resolve(Source(noun, ref))
        if found:
            yield found


def _persons(record: Record, dossier: Dossier) -> Iterator[Trace]:
    parties = {one.name: one for one in dossier.all(Party)}
    for name in _PERSONS:
        said = getattr(record, name, "")
        if not said:
            continue
        heading = next(i.column.heading for i in fields_of(type(record)) if i.name == name)
        party = parties.get(said)
        detail = f"{said}, {party.role.replace('_', ' ')}" if party else said
        yield Trace(Kind.PERSON, heading, detail, party.source if party else None)


def _photographs(record: Record, grounds: Grounds) -> Iterator[Trace]:
    """Return the photographs of a record: those taken at its very place, sample or name."""
    named = {record.label, getattr(record, "location", ""), getattr(record, "sample", "")} - {""}
    wanted = getattr(record, "photo", "")
    for photo in grounds.dossier.all(Photo):
        if photo.source == record.source:
            continue
        if photo.at in named or (wanted and wanted in {photo.ref, photo.label, photo.file}):
            yield trace_of(photo.source, grounds)


def _custody(record: Record, grounds: Grounds) -> Iterator[Trace]:
    if not isinstance(record, Sample):
        return
    entries = [one for one in grounds.dossier.all(CustodyEntry) if one.sample == record.ref]
    for one in sorted(entries, key=lambda entry: entry.when.start(grounds.dossier.zone)):
        held = " to ".join(part for part in (one.giver, one.receiver) if part)
        said = ", ".join(
            part for part in (held, one.place, f"seal {one.seal}" * bool(one.seal)) if part
        )
        title = f"{one.when} {one.event.replace('_', ' ')}"
        yield Trace(Kind.CUSTODY, title, said, one.source)


def _acts(record: Record, grounds: Grounds) -> Iterator[Trace]:
    for line in grounds.history(record.source):
        entry = line.entry
        why = f"; why: {entry.why}" if entry.why else ""
        yield Trace(Kind.ACT, _moment(entry.recorded_at), f"{entry.who} {entry.what}{why}")


def _moment(recorded: str | datetime) -> str:
    text = recorded if isinstance(recorded, str) else recorded.isoformat(" ", "minutes")
    return text.replace("T", " ")[:16]


def file_of(trace: Trace, original: Callable[[str], Path | None]) -> Path | None:
    """Return the original behind a step, where it has one and the case keeps it."""
    return original(trace.file) if trace.file else None
