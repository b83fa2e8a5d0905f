"""The rows of one sheet: each becomes a record, or says at which cell it cannot."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from workbench.exchange.field_book.cells import Cell, CellKind, Row, clean, shortened
from workbench.exchange.field_book.headings import Headings
from workbench.exchange.field_book.parting import part_cells
from workbench.exchange.field_book.tallies import Tallies
from workbench.exchange.field_book.units import tidy_unit, unit_trouble
from workbench.exchange.field_book.values import Read, read_value
from workbench.exchange.field_book.workbook import address
from workbench.records import (
    CaseEntry,
    FieldInfo,
    Outcome,
    Problem,
    Quantity,
    Readings,
    Record,
    fields_of,
)
from workbench.records.written import NotUnderstoodError


@dataclass(frozen=True, slots=True)
class Entry:
    """One record with the place it stands in.

    Attributes:
        record: The record.
        sheet: Name of the sheet as the book has it.
        row: Number of the row.
        columns: Numbers of the columns by the names of the fields.
    """

    record: Record
    sheet: str
    row: int
    columns: dict[str, int]

    def problem(self, name: str, wrong: str, right: str, *, hinders: bool = True) -> Problem:
        """Return a problem at the cell of the field called `name`."""
        at = address(self.row, self.columns.get(name, 0))
        return Problem(self.sheet, at, wrong, right, hinders)


class SheetReader:
    """Reads the rows of one sheet.

    Attributes:
        problems: What was found wrong in the rows so far.
        refs: Refs of the rows, of those with problems too.
    """

    def __init__(self, kind: type[Record], sheet: str, book: str, headings: Headings) -> None:
        """Set out the columns that `headings` found."""
        self.problems: list[Problem] = []
        self.refs: set[str] = set()
        self._kind, self._sheet, self._book, self._headings = kind, sheet, book, headings
        self._infos = {info.name: info for info in fields_of(kind)}
        self._where = {c.info.name: at for at, c in headings.columns.items() if c.info}
        self._units = {c.heading: at for at, c in headings.columns.items() if c.unit_of}
        self._bare_units = {at for at, c in headings.columns.items() if c.info is None}
        self._required = {c.info.name for c in headings.columns.values() if c.info and c.required}
        self._tallies = Tallies(sheet)
        self._known: dict[tuple[str, Cell, str], Read | NotUnderstoodError] = {}

    def entry(self, row: Row) -> Entry | None:
        """Return what a row says, or None where it has problems or says nothing."""
        for at in row.cells.keys() - self._headings.columns.keys():
            self._tallies.note_extra(at, address(row.number, at), row.cells[at])
        cells = {name: row.cells[at] for name, at in self._where.items() if at in row.cells}
        if not cells or (self._kind is CaseEntry and "value" not in cells):
            return None
        if "ref" in cells:
            self.refs.add(clean(cells["ref"].text))
        said, problems = self._values(row, part_cells(self._kind, cells))
        self.problems += problems
        if any(problem.hinders for problem in problems):
            return None
        origin = f"{self._book}, {self._sheet}!A{row.number}"
        entry = Entry(self._kind(origin=origin, **said), self._sheet, row.number, self._where)
        faults = entry.record.faults()
        self.problems += [entry.problem(one.field, one.wrong, one.right) for one in faults]
        return None if faults else entry

    def told(self) -> Iterator[Problem]:
        """Return what was read otherwise than it stands, once for each column."""
        return self._tallies.problems(self._headings.extra)

    def _values(self, row: Row, cells: dict[str, Cell]) -> tuple[dict[str, Any], list[Problem]]:
        """Return the values of a row by field, and what is wrong with it."""
        said: dict[str, Any] = {}
        problems = list(self._no_units(row))
        for name, cell in cells.items():
            info = self._infos[name]
            try:
                read = self._value(info, cell, self._unit(row, info))
            except NotUnderstoodError as wrong:
                problems.append(self._problem(row, name, wrong.wrong, wrong.right))
                continue
            said[name] = read.value
            for note in read.notes:
                self._tallies.note(self._at(name), address(row.number, self._at(name)), note)
        _find_unit(said)
        for name in self._required - cells.keys() - said.keys():
            blank = f"no {self._infos[name].column.heading}"
            problems.append(self._problem(row, name, blank, "fill it in; every row must have it"))
        problems += self._wrong_units(row, said)
        return said, problems

    def _value(self, info: FieldInfo, cell: Cell, unit: str) -> Read:
        """Return what a cell says; one that was read before is not read again."""
        key = (info.name, cell, unit)
        found = self._known.get(key)
        if found is None:
            try:
                found = read_value(self._kind, info, cell, unit)
            except NotUnderstoodError as wrong:
                found = wrong
            self._known[key] = found
        if isinstance(found, NotUnderstoodError):
            raise found
        return found

    def _unit(self, row: Row, info: FieldInfo) -> str:
        at = self._units.get(info.column.unit_heading)
        return row.cells[at].text if at is not None and at in row.cells else ""

    def _no_units(self, row: Row) -> Iterator[Problem]:
        """Return what stands in a unit column and is no text."""
        for at in self._bare_units & row.cells.keys():
            cell = row.cells[at]
            if cell.kind is not CellKind.TEXT:
                wrong = f"{cell.kind} where a unit should stand: {cell.text}"
                place = address(row.number, at)
                yield Problem(self._sheet, place, wrong, "write the unit, as MPa or um")

    def _wrong_units(self, row: Row, said: dict[str, Any]) -> Iterator[Problem]:
        quantity = str(said.get("quantity", ""))
        for name, value in said.items():
            unit = _unit_of(value, str(said.get("unit", "")))
            if unit is None:
                continue
            info = self._infos[name]
            if trouble := unit_trouble(self._kind.noun, info, unit, quantity):
                wrong, right, hinders = trouble
                yield self._problem(row, name, wrong, right, hinders=hinders)

    def _at(self, name: str) -> int:
        """Return the column of a field; the first where it was said in another's cell."""
        return self._where.get(name, 0)

    def _problem(
        self, row: Row, name: str, wrong: str, right: str, *, hinders: bool = True
    ) -> Problem:
        place = address(row.number, self._at(name))
        return Problem(self._sheet, place, shortened(wrong), right, hinders)


def _find_unit(said: dict[str, Any]) -> None:
    """Take the unit that all readings have beside them where the unit column is blank."""
    readings = said.get("readings")
    if isinstance(readings, Readings) and "unit" not in said:
        units = {tidy_unit(one.unit) for one in _numbers(readings) if one}
        if len(units) == 1 and (unit := units.pop()):
            said["unit"] = unit


def _numbers(readings: Readings) -> tuple[Quantity | None, ...]:
    return (*readings.values, readings.mean, readings.low, readings.high)


def _unit_of(value: object, beside: str) -> str | None:
    """Return the unit of a number, or None where the value is none."""
    if isinstance(value, Quantity):
        return value.unit
    if isinstance(value, Outcome):
        return value.quantity.unit if value.quantity else None
    return (beside or None) if isinstance(value, Readings) else None
