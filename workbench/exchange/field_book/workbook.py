"""The sheets of an Excel workbook, row by row, with what merges, hides and computes in it."""

import warnings
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import ExitStack, contextmanager
from datetime import date, datetime, time, timedelta
from pathlib import Path
from typing import IO, Any, TypeVar

from openpyxl import load_workbook
from openpyxl.utils import get_column_letter
from openpyxl.utils.datetime import CALENDAR_MAC_1904
from openpyxl.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from workbench.exchange.field_book.cells import Cell, CellKind, Row, date_cell, number_cell
from workbench.exchange.field_book.fitness import UnfitError, look_over
from workbench.records import Problem

T = TypeVar("T")
_FARTHEST = 702
"""Number of column ZZ, the last one that is read."""


class XlsxBook:
    """An open workbook; its sheets are read one after the other."""

    def __init__(self, path: Path) -> None:
        """Look the file over and open it.

        Raises:
            UnfitError: It is not a workbook, is damaged, or would do harm.
        """
        self._path = path
        self._contents = look_over(path)
        self._open = ExitStack()
        self._book = self._open.enter_context(_loaded(path))
        self.name = path.name
        self.whole = self._contents.rows

    def close(self) -> None:
        """Let go of the file."""
        self._open.close()

    def sheets(self) -> tuple[str, ...]:
        """Return the names of the sheets."""
        return tuple(sheet.title for sheet in self._book.worksheets)

    def rows(self, sheet: str) -> Iterator[Row]:
        """Return the rows of `sheet` that are not empty.

        Raises:
            UnfitError: The sheet is damaged.
        """
        found = self._book[sheet]
        if hasattr(found, "reset_dimensions"):
            found.reset_dimensions()
        yield from _unless_damaged(row for cells in found.iter_rows() if (row := _row(cells)))

    def told(self) -> Iterator[Problem]:
        """Return what the workbook carries besides the values of cells."""
        name = self.name
        for words in self._contents.extras:
            yield Problem(name, "", f"holds {words}", "they are not taken in", hinders=False)
        if self._contents.far:
            wrong = "holds cells to the right of column ZZ"
            yield Problem(name, "", wrong, "they are not taken in", hinders=False)
        if self._book.epoch == CALENDAR_MAC_1904:
            wrong = "counts its dates from 1904"
            yield Problem(name, "", wrong, "they are read so; check one of them", hinders=False)
        for sheet in self._book.worksheets:
            if sheet.sheet_state != "visible":
                yield _hidden(sheet.title, "", "the sheet is hidden")
        if self._contents.merged or self._contents.hidden:
            yield from _structure(self._path)

    def last_values(self, cells: set[tuple[str, str]]) -> dict[tuple[str, str], str]:
        """Return what the formulas in `cells` (sheet, address) last gave, where that is kept."""
        found: dict[tuple[str, str], str] = {}
        with _loaded(self._path, data_only=True) as book:
            for name in {sheet for sheet, _ in cells}:
                for row in _unless_damaged(book[name].iter_rows()):
                    for cell in row:
                        if cell.value is not None and (name, cell.coordinate) in cells:
                            found[name, cell.coordinate] = str(cell.value)
        return found


@contextmanager
def _loaded(path: Path, **how: bool) -> Iterator[Workbook]:
    """Open a workbook; the parser leaves the file open where it fails, so it is opened here."""
    with path.open("rb") as file:
        (book,) = _unless_damaged(_opened(file, how))
        try:
            yield book
        finally:
            book.close()


def _opened(file: IO[bytes], how: dict[str, bool]) -> Iterator[Workbook]:
    yield load_workbook(file, **{"read_only": True} | how)


def _unless_damaged(items: Iterable[T]) -> Iterator[T]:
    """Return `items`, with whatever the parser raises told as a damaged file."""
    source = iter(items)
    while True:
        try:
            with warnings.catch_warnings(action="ignore"):
                item = next(source)
        except StopIteration:
            return
        except Exception as damage:
            wrong = "the workbook is damaged inside"
            right = "open it in the program that made it and save it again"
            raise UnfitError(wrong, right) from damage
        yield item


def _row(cells: Sequence[Any]) -> Row | None:
    """Return the row that has `cells`, or None where all are empty."""
    held: dict[int, Cell] = {}
    number = 0
    for cell in cells[:_FARTHEST]:
        value = cell.value
        if value is None:
            continue
        if (found := _cell(value, cell)) is not None:
            held[cell.column - 1] = found
            number = cell.row
    return Row(number, held) if held else None


_FROM_VALUE: dict[type[Any], Callable[[Any, str], Cell]] = {
    int: number_cell,
    float: number_cell,
    datetime: date_cell,
    date: date_cell,
    time: date_cell,
    timedelta: date_cell,
}


def _cell(value: Any, cell: Any) -> Cell | None:  # noqa: ANN401 - what the parser gives
    kind = cell.data_type
    if kind == "f":
        return Cell(str(getattr(value, "text", None) or value), CellKind.FORMULA)
    if kind == "e":
        return Cell(str(value), CellKind.ERROR)
    if isinstance(value, str):
        return Cell(value) if value.strip() else None
    if isinstance(value, bool):
        return Cell(str(value).upper(), CellKind.BOOLEAN)
    return _FROM_VALUE[type(value)](value, cell.number_format)


def _structure(path: Path) -> Iterator[Problem]:
    """Return what is merged and what is hidden; only the whole workbook, loaded, tells."""
    with _loaded(path, read_only=False) as book:
        for sheet in book.worksheets:
            yield from _merged(sheet)
            if rows := [n for n, one in sheet.row_dimensions.items() if one.hidden]:
                yield _hidden(sheet.title, f"row {min(rows)}", f"{len(rows)} hidden rows")
            if columns := [n for n, one in sheet.column_dimensions.items() if one.hidden]:
                yield _hidden(sheet.title, f"column {columns[0]}", f"{len(columns)} hidden columns")


def _hidden(sheet: str, cell: str, wrong: str) -> Problem:
    return Problem(sheet, cell, wrong, "what it holds is taken in like the rest", hinders=False)


def _merged(sheet: Worksheet) -> Iterator[Problem]:
    for merged in sheet.merged_cells.ranges:
        if sheet.cell(merged.min_row, merged.min_col).value is not None:
            wrong = "merged cells: it is not said for which of them the value holds"
            yield Problem(sheet.title, str(merged), wrong, "unmerge them and write it in each row")


def address(row: int, column: int) -> str:
    """Return the address of a cell, as K12, from the row (from 1) and the column (from 0)."""
    return f"{get_column_letter(column + 1)}{row}"
