"""The columns of each sheet of the field book, as they follow from the fields of a record."""

from dataclasses import dataclass
from functools import cache

from workbench.records import (
    BOOK,
    BY_NOUN,
    CaseEntry,
    FieldInfo,
    Outcome,
    Quantity,
    Record,
    SitePlan,
    fields_of,
)
from workbench.trade.register import NOT_FROM_A_TEST, register

READ_ME = "read me"
"""The sheet that explains the book; it holds no records."""
LISTS = "lists"
"""The hidden sheet that the drop-downs take their words from; it holds no records."""
ASIDE = "note"
"""A sheet whose name begins so is left aside, and that is told."""
CASE_REQUIRED = ("reference", "title")
"""Keys of the sheet `case` that every case needs."""
_NAMES = {"ref", "batch_a", "batch_b", "serial", "seal", "certificate", "container"}
_REQUIRED_IN_BOOK = {("application", "start")}


@dataclass(frozen=True, slots=True)
class BookColumn:
    """One column of a sheet.

    Attributes:
        heading: Its heading, without the star of a required column.
        info: The field it fills; None for a column that gives only a unit.
        unit_of: Names of the fields whose unit it gives.
        required: Whether every row must have it.
    """

    heading: str
    info: FieldInfo | None = None
    unit_of: tuple[str, ...] = ()
    required: bool = False


def columns_of(kind: type[Record]) -> tuple[BookColumn, ...]:
    """Return the columns of the sheet of `kind`; a unit stands after the run of its numbers."""
    return _columns_of(kind.noun)


@cache
def _columns_of(noun: str) -> tuple[BookColumn, ...]:
    infos = [info for info in fields_of(BY_NOUN[noun]) if info.column.in_book]
    own = {info.column.heading for info in infos}
    columns: list[BookColumn] = []
    for at, info in enumerate(infos):
        unit = info.column.unit_heading
        users = tuple(one.name for one in infos if one.column.unit_heading == info.column.heading)
        needed = info.required or (noun, info.name) in _REQUIRED_IN_BOOK
        columns.append(BookColumn(info.column.heading, info, users, needed))
        following = infos[at + 1].column.unit_heading if at + 1 < len(infos) else ""
        if unit and unit != following and unit not in own:
            own.add(unit)
            fed = tuple(one.name for one in infos if one.column.unit_heading == unit)
            columns.append(BookColumn(unit, unit_of=fed))
    return tuple(columns)


def header_of(kind: type[Record]) -> tuple[str, ...]:
    """Return the header row of the sheet of `kind`, `*` on what every row must have.

    The sheet `case` is a list of keys; there the keys that must be filled in bear the star. A
    plan needs every column, so none is marked.
    """
    if kind in {CaseEntry, SitePlan}:
        return tuple(column.heading for column in columns_of(kind))
    return tuple(column.heading + "*" * column.required for column in columns_of(kind))


def kind_of_sheet() -> dict[str, type[Record]]:
    """Return the record types by the names of their sheets, in the order of the book."""
    return {kind.sheet: kind for kind in BOOK}


def words_of(kind: type[Record], info: FieldInfo) -> tuple[str, ...]:
    """Return the words that a column takes, or none where it is free."""
    if info.name == "method" and kind.noun in {"measurement", "lab_result"}:
        return (*register(), *NOT_FROM_A_TEST)
    if info.column.words:
        return info.column.words
    members = getattr(info.type, "__members__", {})
    return tuple(str(one.value) for one in members.values())


def is_ref(info: FieldInfo) -> bool:
    """Return whether a column holds names that must stay as they were written."""
    return info.name in _NAMES or bool(info.column.refers)


def is_number(info: FieldInfo) -> bool:
    """Return whether a column is filled with plain numbers as a rule."""
    return info.type in {int, Quantity, Outcome}
