"""The course of the case: everything that has a date, in its order, the same of one day once."""

from collections.abc import Iterable
from dataclasses import dataclass

from workbench.records import KINDS, Dossier, Record, Source, When, fields_of
from workbench.records.codes import Chapter

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
        when: The day, or what less is known of it.
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
    return tuple(_moment(key[0], headings[key], [r for _, r in alike[key]]) for key in order)


def _day(when: When) -> str:
    return when.day().isoformat() if when.precision == "time" else str(when)


def _moment(day: str, heading: str, records: list[Record]) -> Moment:
    kind, number = type(records[0]), len(records)
    name = f"{kind.title[:1].lower()}{kind.title[1:]}" if number == 1 else kind.counted(number)
    labels = _distinct(one.label.partition(" · ")[0] for one in records)
    about = f"{labels[0]} to {labels[-1]}" if len(labels) > _NAMED else ", ".join(labels)
    said = _distinct(filter(None, map(_says, records)))
    more = "; …" if len(said) > _TOLD else ""
    return Moment(
        when=day, chapter=kind.chapter, what=f"{name}, {heading}", about=about,
        says="; ".join(said[:_TOLD]) + more, sources=tuple(one.source for one in records),
    )  # fmt: skip


def _distinct(words: Iterable[str]) -> list[str]:
    return list(dict.fromkeys(words))


def _says(record: Record) -> str:
    found = (getattr(record, name, "") for name in _SAYS)
    return next((str(one).replace("_", " ") for one in found if one), "")
