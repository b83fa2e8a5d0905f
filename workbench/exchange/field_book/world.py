"""What the rows of a book are checked against: each other, and the case as it stands."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from workbench.exchange.field_book.rows import Entry
from workbench.records import Dossier, Record


@dataclass(frozen=True, slots=True)
class World:
    """A book that was read, and the case that it is to be taken into.

    Attributes:
        entries: What the rows say.
        case: The case as it stands.
        both: The case as it would be: a record of the book takes the place of its namesake.
        refs: Refs of each type that the book names, of rows with problems too, by noun.
        unread: Nouns of which the book has rows that could not be read, or may have.
    """

    entries: tuple[Entry, ...]
    case: Dossier
    both: Dossier
    refs: Mapping[str, set[str]]
    unread: frozenset[str]


def world_of(
    entries: Iterable[Entry], case: Dossier, refs: Mapping[str, set[str]], unread: Iterable[str]
) -> World:
    """Return the world of a book with `entries`."""
    held = tuple(entries)
    return World(held, case, both(case, [one.record for one in held]), refs, frozenset(unread))


def both(case: Dossier, records: Iterable[Record]) -> Dossier:
    """Return the case with `records` in the place of those that they are the same as."""
    fresh = tuple(records)
    replaced = {(type(one), name_of(one)) for one in fresh}
    kept = (one for one in case.everything() if (type(one), name_of(one)) not in replaced)
    return Dossier((*fresh, *kept))


def name_of(record: Record) -> tuple[str, ...]:
    """Return what tells a record from others of its type: its ref, else its identity."""
    if ref := getattr(record, "ref", ""):
        return (ref,)
    return tuple(str(getattr(record, name) or "") for name in type(record).identity)
