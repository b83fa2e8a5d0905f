"""The course of the case: everything that has a date, in its order, the same of one day once."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from workbench.records import (
    KINDS,
    Application,
    Dossier,
    Quantity,
    Record,
    Source,
    Weather,
    When,
    fields_of,
)
from workbench.records.codes import Chapter, YesNo
from workbench.trade.showing import unit_sign

_SAYS = (
    "name", "substance", "words", "event", "caption", "question", "opinion", "kind", "cause",
    "method", "purpose", "reason", "note",
)  # fmt: skip
"""Fields that say most of what a record is about, the most telling first."""
_NAMED, _TOLD = 4, 3
"""Refs that are named one by one, and things said that are told."""


@dataclass(frozen=True, slots=True)
class Moment:
    """What happened on one day, or in one month or year, of one kind.

    Attributes:
        when: The day with the hour, or the first and the last hour; or what less is known.
        chapter: The chapter of its records.
        what: What happened: "document, dated", "18 pull-offs, date".
        about: Which records: "DOC-01", "P-01 to P-18".
        says: What the records say of themselves, each thing once.
        sources: The records.
    """

    when: str
    chapter: Chapter
    what: str
    about: str
    says: str
    sources: tuple[Source, ...]


def course_of(dossier: Dossier) -> tuple[Moment, ...]:
    """Return what happened, the earliest first; only what the records date."""
    alike: dict[tuple[str, str, str], list[tuple[When, Record]]] = {}
    headings: dict[tuple[str, str, str], str] = {}
    dated = {kind.noun: [one for one in fields_of(kind) if one.type is When] for kind in KINDS}
    for record in dossier.everything():
        seen: set[str] = set()
        for info in dated[type(record).noun]:
            when = getattr(record, info.name)
            if when is None or (day := _day(when)) in seen:
                continue
            seen.add(day)
            key = (day, type(record).noun, info.name)
            alike.setdefault(key, []).append((when, record))
            headings[key] = info.column.heading
    zone = dossier.zone
    order = sorted(alike, key=lambda key: (min(w.start(zone) for w, _ in alike[key]), key[1:]))
    return tuple(_moment(dossier, key[0], headings[key], alike[key]) for key in order)


def _day(when: When) -> str:
    return when.day().isoformat() if when.precision == "time" else str(when)


def _hours(whens: Iterable[When]) -> str:
    """Return the hours that are recorded: "18:30", "09:00 to 14:00"; empty where none is."""
    hours = sorted({one.text[11:] for one in whens if one.precision == "time"})
    return " to ".join(dict.fromkeys((hours[0], hours[-1]))) if hours else ""


def _moment(
    dossier: Dossier, day: str, heading: str, dated: Sequence[tuple[When, Record]]
) -> Moment:
    records = [record for _, record in dated]
    kind, number = type(records[0]), len(records)
    name = f"{kind.title[:1].lower()}{kind.title[1:]}" if number == 1 else kind.counted(number)
    labels = _distinct(one.label.partition(" · ")[0] for one in records)
    about = f"{labels[0]} to {labels[-1]}" if len(labels) > _NAMED else ", ".join(labels)
    said = _distinct(filter(None, (_says(dossier, one) for one in records)))
    more = "; …" if len(said) > _TOLD else ""
    return Moment(
        when=f"{day} {_hours(when for when, _ in dated)}".strip(), chapter=kind.chapter,
        what=f"{name}, {heading}", about=about,
        says="; ".join(said[:_TOLD]) + more, sources=tuple(one.source for one in records),
    )  # fmt: skip


def _distinct(words: Iterable[str]) -> list[str]:
    return list(dict.fromkeys(words))


def _says(dossier: Dossier, record: Record) -> str:
    if isinstance(record, Application):
        return ", ".join(_applied(dossier, record))
    if isinstance(record, Weather):
        return ", ".join(_read(record))
    found = (getattr(record, name, "") for name in _SAYS)
    return next((str(one).replace("_", " ") for one in found if one), "")


def _applied(dossier: Dossier, one: Application) -> Iterator[str]:
    """Yield what was done, on which coat and where: "coat 2, Lining LE, on LOW", "airless"."""
    names = {
        coat.order: coat.product or coat.material
        for ref in one.area for coat in dossier.system_of(dossier.area(ref))
    }  # fmt: skip
    coat = ", ".join(filter(None, (f"coat {one.coat}", names.get(one.coat, ""))))
    yield f"{'preparation' if one.coat == 0 else coat}, on {' and '.join(one.area)}"
    yield from filter(None, (one.method, one.note))


def _read(one: Weather) -> Iterator[str]:
    """Yield what was read, as it was written, and where: "air 18 °C", "humidity 62 %", "rain"."""
    for name in ("air", "humidity", "surface"):
        if value := getattr(one, name):
            yield f"{name} {_shown(value)}"
    if one.rain is YesNo.YES:
        yield "rain"
    if one.area:
        yield f"at {' and '.join(one.area)}"


def _shown(value: Quantity) -> str:
    return f"{value.text} {unit_sign(value.unit)}".strip()
