"""Rows pasted from a spreadsheet into the table of one record type, read as a field book is."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from workbench.exchange.field_book.cells import Cell, Row
from workbench.exchange.field_book.columns import columns_of
from workbench.exchange.field_book.folder import csv_rows, delimiter_of
from workbench.exchange.field_book.headings import read_headings
from workbench.exchange.field_book.reading import BookReading, read_open_book
from workbench.records import Dossier, Problem, Record

NAME = "pasted rows"
"""What the origin of such records says."""


class PastedRows:
    """Pasted text as a book of one sheet."""

    name = NAME

    def __init__(self, kind: type[Record], text: str) -> None:
        """Take the text as it was pasted; cells are parted by tabs, commas or semicolons."""
        self._kind, self._text = kind, text
        self.whole = text.count("\n") + 1

    def close(self) -> None:
        """Nothing is open."""

    def sheets(self) -> tuple[str, ...]:
        """Return the one sheet."""
        return (self._kind.sheet,)

    def rows(self, sheet: str) -> Iterator[Row]:
        """Return the rows, headed in the order of the field book where they bring no headings.

        Raises:
            UnfitError: The text cannot be taken apart into cells.
        """
        rows = csv_rows(self._text, delimiter_of(self._text), sheet)
        first = next(rows, None)
        if first is None:
            return
        if not read_headings(self._kind, sheet, first).columns:
            columns = columns_of(self._kind)
            yield Row(0, {at: Cell(column.heading) for at, column in enumerate(columns)})
        yield first
        yield from rows

    def told(self) -> Iterator[Problem]:
        """Return which headings were taken where none were pasted."""
        first = next(csv_rows(self._text, delimiter_of(self._text), self._kind.sheet), None)
        if first and not read_headings(self._kind, self._kind.sheet, first).columns:
            names = ", ".join(column.heading for column in columns_of(self._kind)[:6])
            right = f"they are taken as {names}, …"
            yield Problem(self._kind.sheet, "", "no headings were pasted", right, hinders=False)


def read_pasted(kind: type[Record], text: str, case: Dossier) -> BookReading:
    """Return what pasted rows say; as for a book, whatever is wrong stands in the problems.

    Args:
        kind: Type of the records; it must have a sheet in the field book.
        text: What was pasted.
        case: The case that the rows are for.
    """
    reading = read_open_book(PastedRows(kind, text), Path(NAME), case)
    problems = tuple(one for one in reading.problems if one.place != NAME or one.hinders)
    return replace(reading, problems=problems, files=())
