"""A book beside the case: what is new, what says something else, what is the same, what is gone.

Rows and records are matched by their ref, else by their identity; where several share it, equal
ones first and the rest in their order. Nothing is ever taken out of a case by a book.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, fields, replace
from filecmp import cmp
from pathlib import Path
from typing import NamedTuple

from workbench.exchange.field_book.cells import clean_lines
from workbench.exchange.field_book.files import Kept, NamedFile, nothing_kept
from workbench.exchange.field_book.reading import BookReading
from workbench.exchange.field_book.world import name_of
from workbench.records import (
    FIELD_BOOK,
    UNDONE,
    CustodyEntry,
    Dossier,
    FieldInfo,
    Outcome,
    Quantity,
    Record,
    fields_of,
)


@dataclass(frozen=True, slots=True)
class Difference:
    """A record of the case that the book gives otherwise.

    Attributes:
        old: The record as the case has it.
        new: As the book has it, with the identifier of the old one.
        fields: The fields that differ.
    """

    old: Record
    new: Record
    fields: tuple[FieldInfo, ...]

    def __str__(self) -> str:
        """Return the difference as a sentence: "pull-off P-12: reading 2.4 MPa, was 2.1 MPa"."""
        said = (f"{i.column.heading} {_shown(self.new, i)}, was {_shown(self.old, i)}"
                for i in self.fields)  # fmt: skip
        title = type(self.old).title
        return f"{title[:1].lower()}{title[1:]} {self.old.label}: {'; '.join(said)}"


@dataclass(frozen=True, slots=True)
class Changes:
    """What taking a book in would do to a case.

    Attributes:
        added: Records that the case does not have.
        changed: Records that the case has otherwise.
        corrections: Entries that put custody entries right; these stand beside the old ones.
        unchanged: Records of the case that the book says again.
        absent: Records of the case that an earlier state of this book gave and it no longer has.
        withdrawn: Rows whose record was withdrawn from the case; they are not taken in.
        files: Files that the case does not keep, or keeps with other contents.
    """

    added: tuple[Record, ...] = ()
    changed: tuple[Difference, ...] = ()
    corrections: tuple[Difference, ...] = ()
    unchanged: tuple[Record, ...] = ()
    absent: tuple[Record, ...] = ()
    withdrawn: tuple[Record, ...] = ()
    files: tuple[NamedFile, ...] = ()

    @property
    def to_add(self) -> tuple[Record, ...]:
        """The records that an act would add: new ones, and corrections of custody entries."""
        return (*self.added, *(one.new for one in self.corrections))

    @property
    def to_change(self) -> tuple[Record, ...]:
        """The records that an act would put in the place of those with their identifiers."""
        return tuple(one.new for one in self.changed)

    def __bool__(self) -> bool:
        """Return whether taking the book in would change anything."""
        return bool(self.added or self.changed or self.corrections or self.files)


def compare(case: Dossier, reading: BookReading, kept: Kept = nothing_kept) -> Changes:
    """Return what taking the book in would do to `case`.

    Args:
        case: The case as it stands.
        reading: What the book says.
        kept: Gives the file that the case keeps under a name, or None.
    """
    found = _Found([], [], [], [], [])
    matched: set[str] = set()
    for kind in FIELD_BOOK:
        rows = [one for one in reading.records if type(one) is kind]
        for row, held in _pairs(rows, _standing(case, kind)):
            matched.add(held.id if held else "")
            _sort(row, held, found)
    new = (*found.added, *found.changed, *found.corrections)
    return Changes(
        added=tuple(found.added),
        changed=tuple(found.changed),
        corrections=tuple(found.corrections),
        unchanged=tuple(found.unchanged),
        absent=tuple(_absent(case, reading, matched)),
        withdrawn=tuple(found.withdrawn),
        files=_fresh_files(reading, kept, records=bool(new)),
    )


def _fresh_files(reading: BookReading, kept: Kept, *, records: bool) -> tuple[NamedFile, ...]:
    """Return the files to be kept; a book that brings nothing new is no reason by itself."""
    fresh = [one for one in reading.files if not _is_kept(one, kept(one.name))]
    return tuple(fresh) if records or any(not one.is_book for one in fresh) else ()


def _is_kept(file: NamedFile, held: Path | None) -> bool:
    return held is not None and cmp(file.path, held, shallow=False)


class _Found(NamedTuple):
    """Rows as they are sorted."""

    added: list[Record]
    changed: list[Difference]
    corrections: list[Difference]
    unchanged: list[Record]
    withdrawn: list[Record]


def _sort(row: Record, held: Record | None, found: _Found) -> None:
    if held is None:
        found.added.append(row)
    elif held.withdrawn:
        found.withdrawn.append(held)
    elif differing := _differing(held, row):
        into = found.corrections if type(row).ledger else found.changed
        into.append(Difference(held, _successor(held, row), differing))
    else:
        found.unchanged.append(held)


def _standing(case: Dossier, kind: type[Record]) -> list[Record]:
    """Return the records that rows may be the same as, those that count first.

    Of custody entries only those that no other one corrects; what was added and undone is as if
    it had not been.
    """
    held = [one for one in case.all(kind, withdrawn=True) if one.withdrawn != UNDONE]
    corrected = {one.corrects for one in held if isinstance(one, CustodyEntry)} - {""}
    return sorted((one for one in held if one.id not in corrected), key=lambda o: bool(o.withdrawn))


def _pairs(rows: list[Record], held: list[Record]) -> Iterator[tuple[Record, Record | None]]:
    """Return each row with the record that it is the same as."""
    partner: dict[int, Record] = {}
    for name in (name_of, _nameless):
        taken = {one.id for one in partner.values()}
        by_name: dict[tuple[str, ...], list[Record]] = defaultdict(list)
        for one in held:
            if one.id not in taken and name(one):
                by_name[name(one)].append(one)
        for only_equal in (True, False):
            for at, row in enumerate(rows):
                namesakes = by_name.get(name(row), [])
                if at not in partner and (same := _same(row, namesakes, only_equal)):
                    namesakes.remove(same)
                    partner[at] = same
    return ((row, partner.get(at)) for at, row in enumerate(rows))


def _same(row: Record, namesakes: list[Record], only_equal: bool) -> Record | None:
    if not only_equal:
        return namesakes[0] if namesakes else None
    equal = (one for one in namesakes if not one.withdrawn and not _differing(one, row))
    return next(equal, None)


def _nameless(record: Record) -> tuple[str, ...]:
    """Return the identity without the ref, for a record that got its ref later."""
    names = [name for name in type(record).identity if name != "ref"]
    return tuple(str(getattr(record, name) or "") for name in names)


def _differing(old: Record, new: Record) -> tuple[FieldInfo, ...]:
    """Return the fields of the book that say something else."""
    infos = (info for info in fields_of(type(old)) if info.column.in_book)
    said = ((info, getattr(old, info.name), getattr(new, info.name)) for info in infos)
    return tuple(
        info for info, was, now in said if was != now and _plain(info, was) != _plain(info, now)
    )


def _plain(info: FieldInfo, value: object) -> object:
    """Return a value without what says nothing: stray spaces, a unit that the heading gives."""
    if isinstance(value, Quantity):
        return Quantity(value.text, value.unit or info.column.unit)
    if isinstance(value, Outcome) and value.quantity:
        number = value.quantity
        return Outcome(quantity=Quantity(number.text, number.unit or info.column.unit))
    return clean_lines(value) if type(value) is str else value


def _successor(old: Record, row: Record) -> Record:
    """Return the record that takes the place of `old`; a custody entry is followed instead."""
    if isinstance(row, CustodyEntry):
        return replace(row, corrects=old.id)
    mine = {info.name for info in fields_of(type(old)) if info.column.in_book}
    kept = {one.name: getattr(old, one.name) for one in fields(old) if one.name not in mine}
    return replace(row, **kept | {"origin": row.origin})


def _absent(case: Dossier, reading: BookReading, matched: set[str]) -> Iterator[Record]:
    """Return what came from this book, or from an earlier state of it, and is not in it now."""
    held = [one for kind in FIELD_BOOK for one in case.all(kind)]
    books = {_book_of(one) for one in held if one.id in matched} | {reading.name}
    corrected = {one.corrects for one in case.all(CustodyEntry)}
    for one in held:
        mine = type(one) in reading.whole and _book_of(one) in books - {""}
        if mine and one.id not in matched and one.id not in corrected:
            yield one


def _book_of(record: Record) -> str:
    """Return the name of the book that a record came from, or nothing."""
    book, comma, cell = record.origin.rpartition(", ")
    return book if comma and "!" in cell else ""


def _shown(record: Record, info: FieldInfo) -> str:
    value = getattr(record, info.name)
    return "blank" if value in (None, "") else f"“{value}”"


def counts(records: Iterable[Record]) -> str:
    """Return records in words by type: "3 pull-offs, 1 area"."""
    numbers: dict[type[Record], int] = defaultdict(int)
    for record in records:
        numbers[type(record)] += 1
    return ", ".join(kind.counted(numbers[kind]) for kind in FIELD_BOOK if numbers[kind])
