"""Curves in columns, from CSV or a spreadsheet: spectra, thermograms, calibrations."""

import csv
import io
import re
import zipfile
import zlib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from workbench.records import Problem

Floats = NDArray[np.float64]
MOST_BYTES = 50_000_000
MOST_ROWS = 1_000_000
_DELIMITERS = ("\t", ";", ",", " ")
_NUMBER = re.compile(r"[+-]?(\d+([.,]\d*)?|[.,]\d+)([eE][+-]?\d+)?")
_HEADING_ROWS, _LONGEST_UNIT = 2, 9
_DAMAGE = (
    zipfile.BadZipFile, zlib.error, OSError, EOFError, SyntaxError, NotImplementedError,
    LookupError, ValueError, TypeError, AttributeError, ArithmeticError, RuntimeError,
)  # fmt: skip
"""What unpacking and parsing a damaged spreadsheet raises."""


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
    """Return the table of numbers in a CSV file or in the first sheet of an .xlsx file with one.

    Lines before the first row of two numbers or more are the preamble; the one or two of them
    right above the table that have as many cells give the headings. A line of words within the
    table is a problem: nothing is skipped silently.

    Args:
        content: The bytes of the file.
        name: What the problems call it.
    """
    if len(content) > MOST_BYTES:
        return _refused(name, f"{len(content):,} bytes", f"a file under {MOST_BYTES:,} bytes")
    if content.startswith(b"PK"):
        return _from_workbook(content, name)
    text = _decoded(content)
    if "\x00" in text:
        return _refused(name, "bytes that are no text", "a CSV file")
    return _from_text(text, name)


def _decoded(content: bytes) -> str:
    coding = "utf-16" if content.startswith((b"\xff\xfe", b"\xfe\xff")) else "utf-8-sig"
    try:
        return content.decode(coding)
    except UnicodeDecodeError:
        return content.decode("latin-1")


def _refused(name: str, wrong: str, right: str) -> CurveTable:
    return CurveTable(problems=(Problem(name, "", wrong, right),))


def _from_text(text: str, name: str) -> CurveTable:
    lines = re.split("\r\n|\r|\n", text)
    delimiter = _delimiter(lines)
    if delimiter == " ":
        rows = [line.split() for line in lines]
    else:
        # line by line: a quotation mark left open swallows no more than its own line
        rows = [next(csv.reader([line], delimiter=delimiter), []) for line in lines]
    rows = [[cell.strip() for cell in row] for row in rows]
    if delimiter == "," and (wrong := _comma_both_ways(rows)):
        return _refused(name, wrong, "semicolons or tabs between numbers with decimal commas")
    return _table(rows, name, decimal_comma=_has_decimal_commas(rows))


def _delimiter(lines: Sequence[str]) -> str:
    """Return the delimiter that makes the most lines into two numbers or more."""
    some = [line for line in lines[:500] if line.strip()]

    def numeric(delimiter: str) -> int:
        split = (line.split() if delimiter == " " else line.split(delimiter) for line in some)
        return sum(_numbers(cell.strip().strip('"') for cell in cells) >= 2 for cells in split)

    return max(_DELIMITERS, key=lambda one: (numeric(one), -_DELIMITERS.index(one)))


def _comma_both_ways(rows: Sequence[Sequence[str]]) -> str:
    """Return what is wrong where commas seem to stand between numbers and within them.

    Such a table has no point in any number, and twice as many numbers as headings.
    """
    start = next((n for n, row in enumerate(rows) if _is_numeric(row)), None)
    if start is None or start == 0:
        return ""
    width = len(rows[start])
    dotted = any("." in cell for row in rows[start : start + 200] for cell in row)
    above = next((row for row in reversed(rows[:start]) if any(row)), [])
    if dotted or width < 4 or width % 2 or len(above) != width // 2:
        return ""
    return f"{len(above)} headings over {width} numbers without a decimal point"


def _numbers(cells: Iterable[str]) -> int:
    return sum(bool(_NUMBER.fullmatch(cell.strip())) for cell in cells)


def _has_decimal_commas(rows: Iterable[Sequence[str]]) -> bool:
    cells = [cell for row in rows if _is_numeric(row) for cell in row if cell]
    return any("," in cell for cell in cells) and not any("." in cell for cell in cells)


def _table(rows: Sequence[Sequence[str]], name: str, *, decimal_comma: bool) -> CurveTable:
    start = next((n for n, row in enumerate(rows) if _is_numeric(row)), None)
    if start is None:
        return _refused(name, "no rows of two numbers or more", "columns of numbers")
    used = _used_columns(rows[start:])
    problems = list(_mixed_before(rows[:start], start, name))
    kept: list[list[float]] = []
    for number, row in enumerate(rows[start:], start + 1):
        if not any(row):
            continue
        if len(kept) >= MOST_ROWS:
            return _refused(name, f"more than {MOST_ROWS:,} rows", "a shorter table")
        values = [_value(row[at], decimal_comma) if at < len(row) else None for at in used]
        if None in values:
            wrong = f"“{' '.join(filter(None, row))[:40]}” within the table"
            problems.append(Problem(name, f"line {number}", wrong, f"{len(used)} numbers"))
            continue
        kept.append([value for value in values if value is not None])
    if beside := _beside(rows[start:], used):
        problems.append(Problem(name, f"line {start + 1 + beside[0]}", *beside[1:], hinders=False))
    headings, above = _headings(rows[:start], used)
    preamble = tuple(" ".join(filter(None, row)) for row in rows[: start - above] if any(row))
    columns = np.array(kept, dtype=np.float64).reshape(-1, len(used))
    if decimal_comma and columns.size:
        told = "commas read as decimal signs"
        problems.append(Problem(name, "", told, "check one value", hinders=False))
    return CurveTable(headings, columns, preamble, tuple(problems))


def _used_columns(rows: Sequence[Sequence[str]]) -> list[int]:
    """Return the columns that hold something in a row of numbers."""
    used: set[int] = set()
    for row in rows:
        if _is_numeric(row):
            used.update(at for at, cell in enumerate(row) if cell)
    return sorted(used)


def _beside(rows: Sequence[Sequence[str]], used: Sequence[int]) -> tuple[int, str, str] | None:
    """Return the first words that stand beside the columns of numbers, with their row."""
    columns = set(used)
    for n, row in enumerate(rows):
        words = [cell for at, cell in enumerate(row) if cell and at not in columns]
        if words:
            return n, f"“{words[0][:40]}” beside the table", "it is left aside"
    return None


def _mixed_before(before: Sequence[Sequence[str]], start: int, name: str) -> Iterable[Problem]:
    """Tell a row right above the table that has numbers and words, since it may belong to it."""
    if start == 0 or not before[-1]:
        return
    row = [cell for cell in before[-1] if cell]
    if _numbers(row) >= 2:
        wrong = f"“{' '.join(row)[:40]}” right above the table, numbers beside words"
        right = "it is not taken as part of the table"
        yield Problem(name, f"line {start}", wrong, right, hinders=False)


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


def _headings(before: Sequence[Sequence[str]], used: Sequence[int]) -> tuple[tuple[str, ...], int]:
    """Return the headings, and how many rows above the table they take, blank ones among them.

    Names and units may stand in two rows above each other.
    """
    found: list[list[str]] = []
    taken = 0
    for depth, row in enumerate(reversed(before), 1):
        if not any(row) and not found:
            continue
        cells = [row[at] if at < len(row) else "" for at in used]
        if not any(cells) or _numbers(cells) or len(found) == _HEADING_ROWS:
            break
        found.insert(0, cells)
        taken = depth
        if all(cells) and not _are_units(cells):
            break
    while found and not all(map(any, zip(*found, strict=True))):
        found.pop(0)
    if not found:
        return tuple(f"column {n}" for n in range(1, len(used) + 1)), 0
    columns = zip(*found, strict=True)
    joined = (" ".join(filter(None, dict.fromkeys(parts))).lstrip("# ") for parts in columns)
    return tuple(joined), taken


def _are_units(cells: Sequence[str]) -> bool:
    """Return whether a row above a table may be units, with the names in the row over it."""
    return all(len(cell.strip("()[]")) <= _LONGEST_UNIT for cell in cells)


def _from_workbook(content: bytes, name: str) -> CurveTable:
    from openpyxl import load_workbook  # noqa: PLC0415 - slow, and only for spreadsheets
    from openpyxl.utils.exceptions import InvalidFileException  # noqa: PLC0415

    try:
        with zipfile.ZipFile(io.BytesIO(content)) as parts:
            if sum(part.file_size for part in parts.infolist()) > 4 * MOST_BYTES:
                return _refused(name, "far more inside than its size says", "a plain .xlsx file")
        book = load_workbook(io.BytesIO(content), read_only=True, data_only=True)
        sheets = {
            sheet.title: [
                ["" if cell is None else str(cell).strip() for cell in row]
                for row in sheet.iter_rows(values_only=True, max_row=MOST_ROWS)
            ]
            for sheet in book.worksheets
        }
        book.close()
    except (*_DAMAGE, InvalidFileException) as damage:
        return _refused(name, f"not a readable spreadsheet ({damage})", "an undamaged .xlsx file")
    held = {title: rows for title, rows in sheets.items() if any(map(_is_numeric, rows))}
    if not held:
        return _refused(name, "no rows of two numbers or more", "columns of numbers")
    title, rows = next(iter(held.items()))
    table = _table(_with_points(rows), name, decimal_comma=False)
    told = list(_sheets_told(name, title, tuple(sheets), tuple(held)))
    if any("," in cell for row in rows if _is_numeric(row) for cell in row):
        wrong = "numbers written as text, their commas read as decimal signs"
        told.append(Problem(name, title, wrong, "check one value", hinders=False))
    return replace(table, problems=(*table.problems, *told))


def _with_points(rows: Sequence[Sequence[str]]) -> list[list[str]]:
    """Return rows of a spreadsheet with points for commas, since each cell holds one number."""
    return [
        [cell.replace(",", ".") if _NUMBER.fullmatch(cell) else cell for cell in row]
        for row in rows
    ]


def _sheets_told(
    name: str, read: str, everything: Sequence[str], held: Sequence[str]
) -> Iterable[Problem]:
    """Tell which sheet was read where that is not plain."""
    if read != everything[0]:
        wrong = f"the sheet “{read}” is the first that holds a table"
        yield Problem(name, "", wrong, "check that it is meant", hinders=False)
    if others := [title for title in held if title != read]:
        wrong = f"more sheets hold tables: {', '.join(others[:5])}"
        right = f"only “{read}” is read; give each its own file"
        yield Problem(name, "", wrong, right, hinders=False)
