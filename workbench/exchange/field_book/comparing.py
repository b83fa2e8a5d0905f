"""A book beside the case: what is new, what says something else, what is the same, what is gone.

Nothing is ever taken out of a case by a book.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from filecmp import cmp
from pathlib import Path

from workbench.exchange.field_book.before import Before
from workbench.exchange.field_book.files import Kept, NamedFile, nothing_kept
from workbench.exchange.field_book.matching import differing, pairs, standing
from workbench.exchange.field_book.reading import BookReading, Step
from workbench.records import BOOK, CustodyEntry, Dossier, FieldInfo, Record


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
        """Return the difference as a sentence: "pull-off P-12: reading “2.4”, was “2.1”"."""
        said = (f"{i.column.heading} {_shown(self.new, i)}, was {_shown(self.old, i)}"
                for i in self.fields)  # fmt: skip
        return f"{self._named}: {'; '.join(said)}"

    @property
    def edited(self) -> str:
        """The difference where the case was changed and the book was not."""
        said = (f"{i.column.heading} {_shown(self.old, i)}, in the book still {_shown(self.new, i)}"
                for i in self.fields)  # fmt: skip
        return f"{self._named}: {'; '.join(said)}"

    @property
    def _named(self) -> str:
        title = type(self.old).title
        return f"{title[:1].lower()}{title[1:]} {self.old.label}"


@dataclass(frozen=True, slots=True)
class Changes:
    """What taking a book in would do to a case.

    Attributes:
        added: Records that the case does not have.
        changed: Records that the case has otherwise.
        corrections: Entries that put custody entries right; these stand beside the old ones.
        edited: Rows that say what they said before, while the case was changed since; it stays.
        unchanged: Records of the case that the book says again.
        absent: Records of the case that an earlier state of this book gave and it no longer has.
        withdrawn: Rows whose record was withdrawn from the case; they are not taken in.
        files: Files that the case does not keep, or keeps with other contents.
    """

    added: tuple[Record, ...] = ()
    changed: tuple[Difference, ...] = ()
    corrections: tuple[Difference, ...] = ()
    edited: tuple[Difference, ...] = ()
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


def compare(
    case: Dossier, reading: BookReading, kept: Kept = nothing_kept, step: Step | None = None
) -> Changes:
    """Return what taking the book in would do to `case`.

    What was changed in the case since the book was taken in last is left as it is: the book says
    something new only where it differs from its state that the case keeps.

    Args:
        case: The case as it stands.
        reading: What the book says.
        kept: Gives the file that the case keeps under a name, or None.
        step: Told how far the reading of the kept state is, where it is needed; may raise to stop.
    """
    found, before = _Found(), Before(reading, kept, step)
    matched: set[str] = set()
    for kind in BOOK:
        rows = [one for one in reading.records if type(one) is kind]
        strangers = []
        for row, held in pairs(rows, standing(case, kind)):
            if held is None:
                strangers.append(row)
            else:
                matched.add(held.id)
                _sort(row, held, found, before)
        for row in strangers:
            _sort_stranger(row, case, found, before, matched)
    new = (*found.added, *found.changed, *found.corrections)
    return Changes(
        added=tuple(found.added),
        changed=tuple(found.changed),
        corrections=tuple(found.corrections),
        edited=tuple(found.edited),
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


@dataclass(slots=True)
class _Found:
    """Rows as they are sorted."""

    added: list[Record] = field(default_factory=list)
    changed: list[Difference] = field(default_factory=list)
    corrections: list[Difference] = field(default_factory=list)
    edited: list[Difference] = field(default_factory=list)
    unchanged: list[Record] = field(default_factory=list)
    withdrawn: list[Record] = field(default_factory=list)


def _sort(row: Record, held: Record, found: _Found, before: Before) -> None:
    if held.withdrawn:
        found.withdrawn.append(held)
        return
    differ = differing(held, row)
    if not differ:
        found.unchanged.append(held)
        return
    old_news = before.said_already(row, differ)
    if old_news:
        found.edited.append(Difference(held, row, old_news))
    if news := tuple(info for info in differ if info not in old_news):
        into = found.corrections if type(row).ledger else found.changed
        into.append(Difference(held, _successor(held, row, news), news))


def _sort_stranger(
    row: Record, case: Dossier, found: _Found, before: Before, matched: set[str]
) -> None:
    """Sort a row that no record is named like: new, or a record that got another name since."""
    origin = before.origin_of(row)
    renamed = (
        one
        for one in (case.all(type(row)) if origin else ())
        if one.origin == origin and one.id not in matched
    )
    if held := next(renamed, None):
        matched.add(held.id)
        found.edited.append(Difference(held, row, differing(held, row)))
    else:
        found.added.append(row)


def _successor(old: Record, row: Record, news: tuple[FieldInfo, ...]) -> Record:
    """Return `old` with what the book says anew; a custody entry is followed, not replaced."""
    said = {info.name: getattr(row, info.name) for info in news} | {"origin": row.origin}
    if isinstance(old, CustodyEntry):
        return replace(old, **said, id=row.id, corrects=old.id, recorded_at="")
    return replace(old, **said)


def _absent(case: Dossier, reading: BookReading, matched: set[str]) -> Iterator[Record]:
    """Return what came from this book, or from an earlier state of it, and is not in it now."""
    held = [one for kind in BOOK for one in case.all(kind)]
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
    return ", ".join(kind.counted(numbers[kind]) for kind in BOOK if numbers[kind])
