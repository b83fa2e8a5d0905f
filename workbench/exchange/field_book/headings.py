"""The header row of a sheet: which column holds what, in whatever order they stand."""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from workbench.exchange.field_book.cells import Row, clean
from workbench.exchange.field_book.columns import BookColumn, columns_of
from workbench.exchange.field_book.words import near
from workbench.exchange.field_book.workbook import address
from workbench.records import CaseEntry, Problem, Record


@dataclass(frozen=True, slots=True)
class Headings:
    """What the columns of one sheet hold.

    Attributes:
        columns: The columns known, by their number from 0.
        extra: Headings that the field book does not have, by the number of the column.
        problems: What is wrong with the header row.
    """

    columns: dict[int, BookColumn]
    extra: dict[int, str]
    problems: tuple[Problem, ...]


def read_headings(kind: type[Record], sheet: str, header: Row) -> Headings:
    """Return what the columns of a sheet of `kind` hold, as its first row says."""
    known = {_folded(column.heading): column for column in columns_of(kind)}
    columns: dict[int, BookColumn] = {}
    extra: dict[int, str] = {}
    problems = []
    for at, cell in header.cells.items():
        column = known.get(_folded(cell.text))
        if column is None:
            extra[at] = clean(cell.text)
        elif column in columns.values():
            wrong = f"the heading “{column.heading}” stands twice"
            place = address(header.number, at)
            problems.append(Problem(sheet, place, wrong, "keep one of the two columns"))
        else:
            columns[at] = column
    absent = [one for one in known.values() if one not in columns.values()]
    problems += _misspelt(sheet, header, extra, absent)
    if not columns:
        problems = [_no_header(kind, sheet, header)]
    elif not problems:
        problems += _missing(kind, sheet, header, absent)
    return Headings(columns, extra, tuple(problems))


def _folded(heading: str) -> str:
    return re.sub(r"[\s_-]", "", heading).rstrip("*").casefold()


def _misspelt(
    sheet: str, header: Row, extra: dict[int, str], absent: Iterable[BookColumn]
) -> Iterator[Problem]:
    """Return headings that are so near to an absent one that their column would be lost."""
    headings = tuple(column.heading for column in absent)
    for at, heading in extra.items():
        if meant := near(heading, headings, cutoff=0.75):
            wrong = f"the sheet has no column “{heading}”"
            right = f"write {meant}, or another heading to leave it aside"
            yield Problem(sheet, address(header.number, at), wrong, right)


def _no_header(kind: type[Record], sheet: str, header: Row) -> Problem:
    names = ", ".join(column.heading for column in columns_of(kind)[:4])
    wrong = "its first row holds no headings of the field book"
    return Problem(
        sheet, f"row {header.number}", wrong, f"begin with a row of headings: {names}, …"
    )


def _missing(
    kind: type[Record], sheet: str, header: Row, absent: Iterable[BookColumn]
) -> Iterator[Problem]:
    for column in absent:
        if (column.required or kind is CaseEntry) and not column.unit_of:
            wrong = f"the column “{column.heading}” is missing"
            must = "; every row must fill it in" if column.required else ""
            yield Problem(sheet, f"row {header.number}", wrong, f"add it{must}")
