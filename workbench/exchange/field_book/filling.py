"""What stands in a row of the field book for a record, so that reading gives the record again."""

from typing import NamedTuple

from workbench.exchange.field_book.cells import SIGNIFICANT, number_cell
from workbench.exchange.field_book.columns import columns_of
from workbench.records import FieldInfo, Outcome, Quantity, Record

TEXT = "@"
GENERAL = "General"


class Filled(NamedTuple):
    """What stands in one cell: text, or a number with the format that shows its digits."""

    value: str | float
    shown_as: str = TEXT


def row_of(record: Record) -> tuple[Filled | None, ...]:
    """Return the cells of the row of `record`, None for a blank one."""
    shared = _shared_units(record)
    cells: list[Filled | None] = []
    for column in columns_of(type(record)):
        info = column.info
        if info is None:
            unit = shared.get(column.heading, "")
            cells.append(Filled(unit) if unit else None)
        else:
            given = info.column.unit or shared.get(info.column.unit_heading, "")
            cells.append(_filled(info, getattr(record, info.name), given))
    return tuple(cells)


def _shared_units(record: Record) -> dict[str, str]:
    """Return what each unit column says: a unit that all its numbers have, or nothing."""
    found: dict[str, set[str]] = {}
    for column in columns_of(type(record)):
        heading = column.info.column.unit_heading if column.info else ""
        number = _number(getattr(record, column.info.name)) if column.info else None
        if heading and number:
            found.setdefault(heading, set()).add(number.unit)
    return {heading: next(iter(units)) for heading, units in found.items() if len(units) == 1}


def _number(value: object) -> Quantity | None:
    if isinstance(value, Outcome):
        return value.quantity
    return value if isinstance(value, Quantity) else None


def _filled(info: FieldInfo, value: object, given: str) -> Filled | None:
    """Return the cell of one field; `given` is the unit that a bare number has there."""
    if value in (None, ""):
        return None
    if isinstance(value, int):
        return Filled(value, GENERAL)
    number = _number(value)
    if number is None:
        return Filled(str(value))
    bare = number.unit == given or (not number.unit and given == info.column.unit)
    return _number_cell(number) if bare else Filled(str(number))


def _number_cell(number: Quantity) -> Filled:
    """Return a number that shows the digits it was written with, else its text."""
    value = int(number.text) if number.text.lstrip("+-").isdecimal() else number.value
    shown_as = f"0.{'0' * number.digits}" if number.digits else GENERAL
    few = sum(sign.isdecimal() for sign in number.text) <= SIGNIFICANT
    if few and number_cell(value, shown_as).text == number.text:
        return Filled(value, shown_as)
    return Filled(number.text)
