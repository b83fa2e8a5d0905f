"""Curves in columns, from CSV or a spreadsheet: spectra, thermograms, calibrations."""

import csv
import io
import re
import zipfile
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from workbench.records import Problem

Floats = NDArray[np.float64]
MOST_BYTES = 50_000_000
MOST_ROWS = 1_000_000
_DELIMITERS = ("\t", ";", ",", " ")
_NUMBER = re.compile(r"[+-]?(\d+([.,]\d*)?|[.,]\d+)([eE][+-]?\d+)?")


@dataclass(frozen=True, slots=True, eq=False)
class CurveTable:
    """The columns of a file.

    Attributes:
        headings: Headings as written; numbered where there are none.
        columns: Numbers, shape (rows, columns); NaN where a cell is blank.
        preamble: The lines before the table.
        problems: What could not be read, and what was decided.
    """

    headings: tuple[str, ...] = ()
    columns: Floats = field(default_factory=lambda: np.empty((0, 0)))
    preamble: tuple[str, ...] = ()
    problems: tuple[Problem, ...] = ()

    @property
    def readable(self) -> bool:
        """Whether there is a table and nothing hinders taking it."""
        return self.columns.size > 0 and not any(problem.hinders for problem in self.problems)


def read_curves(content: bytes, name: str = "file") -> CurveTable:
    """Return the table of numbers in a CSV file or in the first sheet of an .xlsx file.

    Lines before the first row of two numbers or more are the preamble; the last of them that has
    as many cells gives the headings. A line of words within the table is a problem: nothing is
    skipped silently.

    Args:
        content: The bytes of the file.
        name: What the problems call it.
    """
    if len(content) > MOST_BYTES:
        return _refused(name, f"{len(content):,} bytes", f"a file under {MOST_BYTES:,} bytes")
    if content.startswith(b"PK"):
        return _from_workbook(content, name)
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = content.decode("latin-1")
    if "\x00" in text:
        return _refused(name, "bytes that are no text", "a CSV file")
    return _from_text(text, name)


def _refused(name: str, wrong: str, right: str) -> CurveTable:
    return CurveTable(problems=(Problem(name, "", wrong, right),))


def _from_text(text: str, name: str) -> CurveTable:
    lines = text.splitlines()
    delimiter = _delimiter(lines)
    if delimiter == " ":
        rows = [line.split() for line in lines]
    else:
        rows = list(csv.reader(io.StringIO(text, newline=""), delimiter=delimiter))
    decimal_comma = delimiter != "," and _has_decimal_commas(rows)
    table = _table([[cell.strip() for cell in row] for row in rows], name, decimal_comma)
    if not decimal_comma or not table.readable:
        return table
    told = Problem(name, "", "commas read as decimal signs", "check one value", hinders=False)
    return CurveTable(table.headings, table.columns, table.preamble, (*table.problems, told))


def _delimiter(lines: Sequence[str]) -> str:
    """Return the delimiter that makes the most lines into two numbers or more."""
    some = [line for line in lines[:500] if line.strip()]

    def numeric(delimiter: str) -> int:
        split = (line.split() if delimiter == " " else line.split(delimiter) for line in some)
        return sum(_numbers(cells) >= 2 for cells in split)

    return max(_DELIMITERS, key=lambda one: (numeric(one), -_DELIMITERS.index(one)))


def _numbers(cells: Iterable[str]) -> int:
    return sum(bool(_NUMBER.fullmatch(cell.strip())) for cell in cells)


def _has_decimal_commas(rows: Iterable[Sequence[str]]) -> bool:
    cells = [cell for row in rows for cell in row if _NUMBER.fullmatch(cell.strip())]
    return any("," in cell for cell in cells) and not any("." in cell for cell in cells)


def _table(rows: Sequence[Sequence[str]], name: str, decimal_comma: bool) -> CurveTable:
    start = next((n for n, row in enumerate(rows) if _is_numeric(row)), None)
    if start is None:
        return _refused(name, "no rows of two numbers or more", "columns of numbers")
    width = len(rows[start])
    problems: list[Problem] = []
    kept: list[list[float]] = []
    for number, row in enumerate(rows[start:], start + 1):
        if not any(row):
            continue
        if len(kept) >= MOST_ROWS:
            return _refused(name, f"more than {MOST_ROWS:,} rows", "a shorter table")
        values = [_value(cell, decimal_comma) for cell in row[:width]]
        if None in values or len(row) < width:
            wrong = f"“{' '.join(row)[:40]}” within the table"
            problems.append(Problem(name, f"line {number}", wrong, f"{width} numbers"))
            continue
        kept.append([value for value in values if value is not None])
    preamble = tuple(" ".join(row).strip() for row in rows[:start] if any(row))
    headings = _headings(rows[:start], width)
    columns = np.array(kept, dtype=np.float64).reshape(-1, width)
    return CurveTable(headings, columns, preamble, tuple(problems))


def _is_numeric(row: Sequence[str]) -> bool:
    filled = [cell for cell in row if cell]
    return len(filled) >= 2 and _numbers(filled) == len(filled)


def _value(cell: str, decimal_comma: bool) -> float | None:
    """Return the number of a cell, NaN for a blank one, None for words."""
    if not cell:
        return float("nan")
    if not _NUMBER.fullmatch(cell) or ("," in cell and not decimal_comma):
        return None
    return float(cell.replace(",", "."))


def _headings(before: Sequence[Sequence[str]], width: int) -> tuple[str, ...]:
    for row in reversed(before):
        if len(row) == width and all(row):
            return tuple(row)
    return tuple(f"column {n}" for n in range(1, width + 1))


def _from_workbook(content: bytes, name: str) -> CurveTable:
    from openpyxl import load_workbook  # noqa: PLC0415 - slow, and only for spreadsheets
    from openpyxl.utils.exceptions import InvalidFileException  # noqa: PLC0415

    try:
        with zipfile.ZipFile(io.BytesIO(content)) as parts:
            if sum(part.file_size for part in parts.infolist()) > 4 * MOST_BYTES:
                return _refused(name, "far more inside than its size says", "a plain .xlsx file")
        book = load_workbook(io.BytesIO(content), read_only=True, data_only=True)
        rows = [
            ["" if cell is None else str(cell).strip() for cell in row]
            for row in book.worksheets[0].iter_rows(values_only=True, max_row=MOST_ROWS)
        ]
        book.close()
    except (zipfile.BadZipFile, InvalidFileException, KeyError, ValueError, IndexError) as damage:
        return _refused(name, f"not a readable spreadsheet ({damage})", "an undamaged .xlsx file")
    width = max((len(row) for row in rows), default=0)
    while width and not any(row[width - 1] for row in rows if len(row) >= width):
        width -= 1
    return _table([row[:width] for row in rows], name, decimal_comma=False)
