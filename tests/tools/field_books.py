"""Field books for tests: small ones that are right, to be broken in one place."""

import csv
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from openpyxl import Workbook

from workbench.exchange.field_book.reading import BookReading, read_book
from workbench.records import Problem

Sheets = dict[str, list[list[Any]]]


def small_book() -> Sheets:
    """Return the sheets of a small book without a fault, header rows first."""
    return {
        "case": [
            ["key", "value"], ["reference", "R-1"], ["title", "A floor"],
            ["time zone", "Europe/London"],
        ],
        "coats": [
            ["system*", "order*", "material*", "product", "dft nominal", "dft unit"],
            ["S", 0, "concrete", None, None, None],
            ["S", 1, "epoxy", "Primer", 80, "um"],
            ["S", 2, "epoxy", "Body", 120, "um"],
        ],
        "areas": [
            ["ref*", "name*", "condition*", "system"],
            ["A1", "Bay 1", "failing", "S"],
            ["A2", "Bay 2", "non-failing", "S"],
        ],
        "locations": [
            ["ref*", "area*", "x", "y"],
            ["L1", "A1", 1.5, 2],
            ["L2", "A2", 4, 2.25],
        ],
        "pull-off": [
            ["ref*", "location*", "date", "method*", "on", "fixture", "fixture unit", "reading",
             "unit", "calibrated for", "breaks", "note"],
            ["P1", "L1", "2024-05-02", "ASTM D7234", None, 50, "mm", 0.8, "MPa", 50,
             "B/C 60; C 40", "first"],
            ["P2", "L2", "2024-05-02", "ASTM D7234", None, 50, "mm", 2.5, "MPa", 50, "A 100", None],
        ],
    }  # fmt: skip


def workbook(path: Path, sheets: Mapping[str, Sequence[Sequence[Any]]]) -> Path:
    """Write a workbook and return its path."""
    book = Workbook()
    book.remove(book.worksheets[0])
    for name, rows in sheets.items():
        sheet = book.create_sheet(name)
        for row in rows:
            sheet.append(list(row))
    book.save(path)
    return path


def folder(path: Path, sheets: Mapping[str, Sequence[Sequence[Any]]]) -> Path:
    """Write a folder of CSV files and return its path."""
    path.mkdir(exist_ok=True)
    for name, rows in sheets.items():
        with (path / f"{name}.csv").open("w", newline="", encoding="utf-8") as file:
            csv.writer(file).writerows(rows)
    return path


def read(path: Path, sheets: Mapping[str, Sequence[Sequence[Any]]]) -> BookReading:
    """Return what a workbook of `sheets` says."""
    return read_book(workbook(path / "book.xlsx", sheets))


def at(reading: BookReading, cell: str) -> Problem:
    """Return the only problem at a cell such as "pull-off!K2"."""
    (found,) = [one for one in reading.problems if f"{one.place}!{one.cell}" == cell]
    return found


def set_cell(sheets: Sheets, sheet: str, heading: str, row: int, value: object) -> Sheets:
    """Put a value below a heading, in the row numbered as a spreadsheet does; return the sheets."""
    headings = [str(one).rstrip("*") for one in sheets[sheet][0]]
    if heading not in headings:
        for line in sheets[sheet]:
            line.append(None)
        sheets[sheet][0][-1] = heading
        headings.append(heading)
    sheets[sheet][row - 1][headings.index(heading)] = value
    return sheets
