"""What a book said when it was taken in last: the state of it that the case keeps.

A row that says what it said then is no news, whatever was changed in the case since.
"""

from collections import defaultdict
from functools import cached_property

from workbench.exchange.field_book.files import Kept
from workbench.exchange.field_book.fitness import UnfitError
from workbench.exchange.field_book.folder import CsvFolder
from workbench.exchange.field_book.matching import differing
from workbench.exchange.field_book.reading import BookReading, Step, rows_of
from workbench.exchange.field_book.workbook import XlsxBook
from workbench.exchange.field_book.world import name_of
from workbench.records import FieldInfo, Record

Name = tuple[type[Record], tuple[str, ...]]


class Before:
    """The rows that a book had; read when they are first asked for."""

    def __init__(self, reading: BookReading, kept: Kept, step: Step | None) -> None:
        """Take the book as it is now, what gives its files as they were, and who is told."""
        self._book, self._step = reading.name, step
        held = {one.path: kept(one.name) for one in reading.files if one.is_book}
        self._files = {path.name: before for path, before in held.items() if before}

    def said_already(self, row: Record, infos: tuple[FieldInfo, ...]) -> tuple[FieldInfo, ...]:
        """Return those of `infos` of which the book said the same before."""
        was = self._row(row)
        if was is None:
            return ()
        news = differing(was, row)
        return tuple(info for info in infos if info not in news)

    def origin_of(self, row: Record) -> str:
        """Return where the book had the same row before, or nothing where it is new or changed."""
        was = self._row(row)
        if was is None or differing(was, row):
            return ""
        return f"{self._book}, {was.origin.rpartition(', ')[2]}"

    def _row(self, row: Record) -> Record | None:
        """Return the row as it was; of several with its name only one that says the same."""
        namesakes = self._rows.get((type(row), name_of(row)), [])
        if len(namesakes) == 1:
            return namesakes[0]
        return next((one for one in namesakes if not differing(one, row)), None)

    @cached_property
    def _rows(self) -> dict[Name, list[Record]]:
        rows: dict[Name, list[Record]] = defaultdict(list)
        for record in self._read():
            rows[type(record), name_of(record)].append(record)
        return rows

    def _read(self) -> tuple[Record, ...]:
        try:
            if set(self._files) == {self._book}:
                return rows_of(XlsxBook(self._files[self._book]), self._step)
            tables = {name.rpartition(".")[0]: path for name, path in self._files.items()}
            return rows_of(CsvFolder(self._book, tables), self._step) if tables else ()
        except (UnfitError, OSError):
            return ()
