"""Taking a field book apart: every sheet is read first, then all rows are checked together."""

import re
from collections import defaultdict
from collections.abc import Callable, Collection, Iterable, Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path
from typing import Protocol

from workbench.exchange.field_book.cells import Row, clean
from workbench.exchange.field_book.columns import ASIDE, LISTS, READ_ME, kind_of_sheet
from workbench.exchange.field_book.files import (
    Kept,
    NamedFile,
    count_files,
    named_files,
    nothing_kept,
)
from workbench.exchange.field_book.fitness import UnfitError
from workbench.exchange.field_book.folder import CsvFolder
from workbench.exchange.field_book.headings import read_headings
from workbench.exchange.field_book.references import check_references
from workbench.exchange.field_book.rows import Entry, SheetReader
from workbench.exchange.field_book.sense import check_sense
from workbench.exchange.field_book.stack import check_stack
from workbench.exchange.field_book.words import near
from workbench.exchange.field_book.workbook import XlsxBook
from workbench.exchange.field_book.world import world_of
from workbench.records import FIELD_BOOK, CaseEntry, Dossier, Problem, Record

Step = Callable[[int, int], None]
_EVERY = 100
"""Rows between two reports of progress."""


@dataclass(frozen=True)
class BookReading:
    """What a field book says.

    Attributes:
        name: Name of the book.
        records: The records of the rows that could be read, with fresh identifiers.
        problems: What is wrong or doubtful, in the order of the book.
        files: The book itself and the files it names, to be kept as originals.
        whole: Types of which the book has a sheet, every row of which could be read.
    """

    name: str
    records: tuple[Record, ...]
    problems: tuple[Problem, ...]
    files: tuple[NamedFile, ...] = ()
    whole: frozenset[type[Record]] = frozenset()

    @cached_property
    def hindrances(self) -> tuple[Problem, ...]:
        """The problems that must be put right before anything is taken in."""
        return tuple(problem for problem in self.problems if problem.hinders)

    @cached_property
    def warnings(self) -> tuple[Problem, ...]:
        """What a person should know, and what does not hinder."""
        return tuple(problem for problem in self.problems if not problem.hinders)


class Book(Protocol):
    """A workbook or a folder that holds the sheets."""

    name: str
    whole: int

    def sheets(self) -> tuple[str, ...]:
        """Return the names of the sheets."""
        ...

    def rows(self, sheet: str) -> Iterator[Row]:
        """Return the rows of a sheet that are not empty."""
        ...

    def told(self) -> Iterator[Problem]:
        """Return what is to be told of the book as a whole."""
        ...

    def close(self) -> None:
        """Let go of the files."""
        ...


def read_book(
    path: Path,
    case: Dossier | None = None,
    step: Step | None = None,
    kept: Kept = nothing_kept,
) -> BookReading:
    """Return what the field book at `path` says: records, problems, and files to keep.

    It never raises for what a file holds: whatever is wrong stands in the problems.

    Args:
        path: A workbook (.xlsx), or a folder of CSV files named like the sheets.
        case: The case that the book is for; its records may be referred to.
        step: Told rows and files done and their whole number; may raise to stop.
        kept: Gives the file that the case keeps under a name already, or None.
    """
    if path.suffix.lower() == ".csv" and path.is_file():
        return _unread(path, "a single table is no book", "take the folder of the CSV files")
    try:
        book = CsvFolder.at(path) if path.is_dir() else XlsxBook(path)
    except UnfitError as unfit:
        return _unread(path, unfit.wrong, unfit.right)
    except OSError as wrong:
        return _unread(path, wrong.strerror or str(wrong), "check its name and who may read it")
    try:
        return _Reader(book, path, case or Dossier(), step or _silent, kept).read()
    finally:
        book.close()


def read_open_book(
    book: Book,
    path: Path,
    case: Dossier,
    step: Step | None = None,
    kept: Kept = nothing_kept,
) -> BookReading:
    """Return what a book that is open already says; see `read_book`."""
    return _Reader(book, path, case, step or _silent, kept).read()


def rows_of(book: Book, step: Step | None = None) -> tuple[Record, ...]:
    """Return the records of the rows that can be read, without looking any further; close it."""
    try:
        return _Reader(book, Path(book.name), Dossier(), step or _silent, nothing_kept).rows()
    finally:
        book.close()


class _Reader:
    """Reads one open book against one case."""

    def __init__(self, book: Book, path: Path, case: Dossier, step: Step, kept: Kept) -> None:
        self._book, self._path, self._case, self._step = book, path, case, step
        self._kept = kept
        self._entries: list[Entry] = []
        self._problems: list[Problem] = []
        self._strangers: dict[str, Problem] = {}
        self._refs: dict[str, set[str]] = defaultdict(set)
        self._unread: set[str] = set()
        self._done = 0

    def read(self) -> BookReading:
        """Return what the book says."""
        found = self._sheets
        self._problems += self._told(found.values())
        self.rows()
        world = world_of(self._entries, self._case, self._refs, self._unread)
        for check in (check_references, check_stack, check_sense):
            self._problems += check(world)
        files = self._files()
        self._problems += self._sheets_told(found, {file.path.name for file in files})
        problems = in_order(self._with_last_values(), (self._book.name, *self._book.sheets()))
        records = tuple(entry.record for entry in self._entries)
        self._step(self._done, self._done)
        broken = {one.place for one in problems if one.hinders}
        whole = frozenset(kind for kind, sheet in found.items() if sheet not in broken)
        return BookReading(self._book.name, records, tuple(problems), files, whole)

    def rows(self) -> tuple[Record, ...]:
        """Return the records of the rows that can be read."""
        for kind, sheet in self._sheets.items():
            self._read_sheet(kind, sheet)
        return tuple(entry.record for entry in self._entries)

    @cached_property
    def _sheets(self) -> dict[type[Record], str]:
        """Return the sheets that hold records, by their types, in the order of the field book."""
        kinds = kind_of_sheet()
        found: dict[type[Record], str] = {}
        for sheet in self._book.sheets():
            kind = kinds.get(clean(sheet).casefold())
            if kind is None:
                self._note_stranger(sheet, tuple(kinds))
            elif kind in found:
                wrong = f"there are two sheets “{kind.sheet}”"
                self._problems.append(Problem(sheet, "", wrong, "make one of them"))
            else:
                found[kind] = sheet
        return {kind: found[kind] for kind in kinds.values() if kind in found}

    def _note_stranger(self, sheet: str, names: tuple[str, ...]) -> None:
        """Note a sheet that the field book does not have; one that may hold records hinders."""
        folded = clean(sheet).casefold()
        if folded in {READ_ME, LISTS}:
            return
        if folded.startswith(ASIDE):
            aside = Problem(sheet, "", "a sheet of notes", "it is left aside", hinders=False)
            self._strangers[sheet] = aside
            return
        meant = near(sheet, names)
        if meant:
            self._unread.add(kind_of_sheet()[meant].noun)
        name = f"“{meant}”" if meant else "as the field book does"
        right = f"name it {name}, or begin its name with “{ASIDE}” to leave it aside"
        wrong = f"the field book has no sheet “{sheet}”"
        self._strangers[sheet] = Problem(sheet, "", wrong, right)

    def _told(self, sheets: Iterable[str]) -> Iterator[Problem]:
        """Return what the book carries besides rows, on sheets that are read."""
        mine = {*sheets, *(f"{sheet}.csv" for sheet in sheets), self._book.name}
        try:
            yield from (one for one in self._book.told() if one.place in mine)
        except UnfitError as unfit:
            yield Problem(self._book.name, "", unfit.wrong, unfit.right)

    def _read_sheet(self, kind: type[Record], sheet: str) -> None:
        rows = self._rows(kind, sheet)
        header = next(rows, None)
        if header is None:
            return
        headings = read_headings(kind, sheet, header)
        self._problems += headings.problems
        if headings.problems:
            self._unread.add(kind.noun)
            return
        reader = SheetReader(kind, sheet, self._book.name, headings)
        for row in rows:
            if entry := reader.entry(row):
                self._entries.append(entry)
        self._problems += (*reader.problems, *reader.told())
        self._refs[kind.noun] |= reader.refs
        if any(problem.hinders for problem in reader.problems) and kind.identity != ("ref",):
            self._unread.add(kind.noun)

    def _rows(self, kind: type[Record], sheet: str) -> Iterator[Row]:
        """Return the rows of a sheet, telling how far it is; damage ends them."""
        try:
            for row in self._book.rows(sheet):
                if self._done % _EVERY == 0:
                    self._step(self._done, max(self._done, self._book.whole))
                self._done += 1
                yield row
        except UnfitError as unfit:
            self._problems.append(Problem(sheet, "", unfit.wrong, unfit.right))
            self._unread.add(kind.noun)

    def _files(self) -> tuple[NamedFile, ...]:
        """Return the book and the files it names, and note what is wrong with these."""
        whole = self._done + count_files(self._entries)

        def told() -> None:
            self._done += 1
            self._step(self._done, whole)

        folder = self._path if self._path.is_dir() else self._path.parent
        files, problems = named_files(self._entries, folder, self._kept, told)
        self._problems += problems
        return (*self._own_files(), *files)

    def _own_files(self) -> Iterator[NamedFile]:
        if not self._path.is_dir():
            yield NamedFile(self._path.name, self._path, is_book=True)
            return
        for sheet in self._book.sheets():
            path = next(one for one in self._path.glob("*.[cC][sS][vV]") if one.stem == sheet)
            yield NamedFile(f"{self._path.name}/{path.name}", path, is_book=True)

    def _sheets_told(
        self, found: Collection[type[Record]], files: Collection[str]
    ) -> Iterator[Problem]:
        """Return which sheets are strange, missing, or all empty."""
        for sheet, problem in self._strangers.items():
            if f"{sheet}.csv" not in files and next(self._rows(CaseEntry, sheet), None):
                yield problem
        absent = [kind.sheet for kind in FIELD_BOOK if kind not in found]
        name = self._book.name
        if not found:
            right = f"name sheets as the field book does: {', '.join(absent[:4])}, …"
            yield Problem(name, "", "no sheet of the field book is in it", right)
        elif absent:
            wrong = f"it has no sheet {', '.join(absent)}"
            yield Problem(name, "", wrong, "nothing is taken in for them", hinders=False)
        if found and not self._entries and not any(one.hinders for one in self._problems):
            yield Problem(name, "", "there is no filled row in it", "fill in the sheets that apply")

    def _with_last_values(self) -> Iterator[Problem]:
        """Return the problems, formulas with what they last gave."""
        found = [one for one in self._problems if one.wrong.startswith("a formula")]
        values = {}
        if found and isinstance(self._book, XlsxBook):
            values = self._book.last_values({(one.place, one.cell) for one in found})
        for one in self._problems:
            value = values.get((one.place, one.cell))
            yield replace(one, right=f"write its value, last {value}") if value else one


def in_order(problems: Iterable[Problem], places: Iterable[str]) -> list[Problem]:
    """Return problems in the order of the sheets, rows and columns they stand in."""
    order = {place: at for at, place in enumerate(places)}

    def key(problem: Problem) -> tuple[int, int, int, str]:
        row = re.search(r"\d+", problem.cell)
        column = re.match("[A-Z]*", problem.cell)
        letters = column[0] if column else ""
        at = order.get(problem.place.removesuffix(".csv"), len(order))
        return (at, int(row[0]) if row else 0, len(letters), letters)

    return sorted(problems, key=key)


def _unread(path: Path, wrong: str, right: str) -> BookReading:
    return BookReading(path.name, (), (Problem(path.name, "", wrong, right),))


def _silent(done: int, whole: int) -> None:
    """Tell nobody."""
