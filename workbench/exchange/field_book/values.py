"""From what stands in a cell to the value of a field, with what was read otherwise than written.

Nothing is guessed: where a cell may mean two things, it is refused in words.
"""

import re
from collections.abc import Callable
from enum import StrEnum
from typing import Any, NamedTuple

from workbench.exchange.field_book.cells import SIGNIFICANT, Cell, CellKind, clean, clean_lines
from workbench.exchange.field_book.columns import is_ref, words_of
from workbench.exchange.field_book.decimals import Points, with_points
from workbench.exchange.field_book.moments import read_when
from workbench.exchange.field_book.units import tidy_unit
from workbench.exchange.field_book.words import read_word, tidy_answer, tidy_name
from workbench.records import (
    Answer,
    Breaks,
    Face,
    Features,
    FieldInfo,
    Outcome,
    Outline,
    Plane,
    Quantity,
    Readings,
    Record,
    Refs,
    When,
    fields_of,
)
from workbench.records import Points as MarkPoints
from workbench.records.codes import YesNo
from workbench.records.written import NotUnderstoodError

_FREE_TEXT = {
    "note", "description", "caption", "reason", "deviation", "contact", "source_text", "condition",
    "value",
}  # fmt: skip
_YES_NO = {"true": YesNo.YES, "false": YesNo.NO, "y": YesNo.YES, "n": YesNo.NO}
_DAYS = {"date", "dated", "received", "calibrated", "due"}
"""Fields that hold a day; there a midnight of a spreadsheet date is no time of day."""


class Told(StrEnum):
    """Why a cell was read otherwise than it stands; what is told, is told once a column."""

    COMMA = "has a decimal comma"
    NUMBER_AS_REF = "is a number where a name should stand"
    WORD = "stands for a word of the list"
    DATE = "is a spreadsheet date in a text"
    FILE = "has the separators of another system"
    POINT = "has a decimal point"
    THOUSANDS_LIKE = "may have a thousands sign"


class Note(NamedTuple):
    """That a cell was read otherwise than it stands."""

    why: Told
    written: str
    read: str


class Read(NamedTuple):
    """The value of one field, and what is to be told of it."""

    value: Any
    notes: tuple[Note, ...] = ()


def read_value(kind: type[Record], info: FieldInfo, cell: Cell, unit: str = "") -> Read:
    """Return the value that a cell gives to a field.

    Args:
        kind: Type of the record.
        info: The field.
        cell: What stands in its column.
        unit: What stands in the unit column of the row.

    Raises:
        NotUnderstoodError: The cell cannot be read, or may be read in two ways.
    """
    if cell.kind in {CellKind.FORMULA, CellKind.ERROR}:
        raise _refused(cell)
    if info.type is When:
        return Read(read_when(_day_only(cell) if info.name in _DAYS else cell))
    if cell.kind in {CellKind.DATE, CellKind.TIME}:
        return _read_date_as_text(info, cell)
    if info.type in {Quantity, Outcome, Readings, Breaks}:
        return _read_numbers(info, cell, _Unit(tidy_unit(unit), _is_shared(kind, info)))
    if info.type is int:
        return Read(_read_int(cell))
    if info.type in _FROM_TEXT:
        name = _ref_text(cell, info)
        read = _FROM_TEXT[info.type](name.value)
        return Read(_tidy_features(read) if isinstance(read, Features) else read, name.notes)
    return _read_words(kind, info, cell)


def _day_only(cell: Cell) -> Cell:
    """Return a spreadsheet date without the midnight that stands for no time."""
    midnight = cell.kind is CellKind.DATE and cell.text.endswith(" 00:00")
    return cell._replace(text=cell.text.removesuffix(" 00:00")) if midnight else cell


def _refused(cell: Cell) -> NotUnderstoodError:
    if cell.kind is CellKind.ERROR:
        return NotUnderstoodError(f"{cell.text} stands here", "write the value, or leave it blank")
    return NotUnderstoodError(f"a formula, {cell.text}", "write its value in its place")


_FROM_TEXT: dict[type[Any], Callable[[str], Any]] = {
    Plane: Plane.read,
    Face: Face.read,
    Features: Features.read,
    Outline: Outline.read,
    MarkPoints: MarkPoints.read,
    Refs: Refs.read,
}


def _tidy_features(features: Features) -> Features:
    """Return features with the words that have a meaning in the letters they have it in."""
    return Features(tuple((tidy_name(n), tidy_answer(v)) for n, v in features.items))


def _read_words(kind: type[Record], info: FieldInfo, cell: Cell) -> Read:
    """Return a text, a name, or a word of a list."""
    if info.type is YesNo and (said := _YES_NO.get(clean(cell.text).casefold())):
        return Read(said, (Note(Told.WORD, cell.text, said),))
    if words_of(kind, info):
        return Read(info.type(read_word(kind, info, cell.text)))
    if kind is Answer and info.name == "value" and cell.kind is CellKind.TEXT:
        return Read(tidy_answer(clean_lines(cell.text)))
    if cell.kind is CellKind.BOOLEAN:
        raise NotUnderstoodError(f"{cell.text} where words should stand", "write the word")
    if is_ref(info):
        return _ref_text(cell, info)
    if info.name == "file":
        path = clean(cell.text).replace("\\", "/")
        noted = (Note(Told.FILE, cell.text, path),) if "\\" in cell.text else ()
        return Read(path, noted)
    text = clean_lines(cell.text)
    return Read(text.casefold() if info.name == "layer" else text)


def _ref_text(cell: Cell, info: FieldInfo) -> Read:
    """Return a name as it was written; a number that may have lost something is refused."""
    text = clean(cell.text)
    if cell.kind is not CellKind.NUMBER or not is_ref(info):
        return Read(text)
    right = "format the cell as text and write the name again"
    if "E" in cell.shown_as.upper() or "e" in text:
        raise NotUnderstoodError(f"the name has become a number, {text}", right)
    if len(re.sub(r"\D", "", text)) > SIGNIFICANT:
        raise NotUnderstoodError(f"a number of more than {SIGNIFICANT} digits, {text}", right)
    return Read(text, (Note(Told.NUMBER_AS_REF, text, text),))


def _read_date_as_text(info: FieldInfo, cell: Cell) -> Read:
    """Return a date that stands in a free text; anywhere else it is something else's ghost."""
    if cell.kind is CellKind.DATE and info.type is str and info.name in _FREE_TEXT:
        text = _day_only(cell).text
        return Read(text, () if info.name == "value" else (Note(Told.DATE, text, text),))
    raise NotUnderstoodError(
        f"the spreadsheet made {cell.kind} of what was typed: {cell.text}",
        "format the cell as text and type it again",
    )


def _read_int(cell: Cell) -> int:
    found = re.fullmatch(r"([+-]?\d{1,9})(\.0+)?", clean(cell.text), re.ASCII)
    if not found or cell.kind is CellKind.BOOLEAN:
        raise NotUnderstoodError(f"“{cell.text}” is not a whole number", "write a whole number")
    return int(found[1])


class _Unit(NamedTuple):
    """What stands in the unit column, and whether several numbers of the row share it."""

    beside: str
    shared: bool


def _is_shared(kind: type[Record], info: FieldInfo) -> bool:
    heading = info.column.unit_heading
    return sum(one.column.unit_heading == heading for one in fields_of(kind)) > 1


def _read_numbers(info: FieldInfo, cell: Cell, unit: _Unit) -> Read:
    """Return a quantity, an outcome, several readings or break shares."""
    if cell.kind is CellKind.BOOLEAN:
        if info.type is not Outcome:
            raise NotUnderstoodError(f"{cell.text} where a number should stand", "write a number")
        word = "yes" if cell.text == "TRUE" else "no"
        return Read(Outcome(word=word), (Note(Told.WORD, cell.text, word),))
    if info.type is Readings and "," in cell.shown_as:
        raise NotUnderstoodError(
            f"the spreadsheet made one number of what was typed, {cell.text}",
            "format the cell as text and write 690; 700; 655",
        )
    points = with_points(clean_lines(cell.text), is_list=info.type is Readings)
    notes = () if cell.kind is CellKind.NUMBER else _noted(cell.text, points)
    if info.type is Breaks:
        return Read(Breaks.read(points.text), notes)
    if info.type is Readings:
        return Read(_with_units(Readings.read(points.text), unit), notes)
    if info.type is Outcome:
        outcome = _read_outcome(info, clean(points.text))
        quantity = _in_its_unit(info, outcome.quantity, unit) if outcome.quantity else None
        return Read(Outcome(quantity=quantity, word=outcome.word), notes)
    return Read(_in_its_unit(info, Quantity.read(clean(points.text)), unit), notes)


def _read_outcome(info: FieldInfo, text: str) -> Outcome:
    """Return an outcome; a column with a hint of its own says what it takes."""
    try:
        return Outcome.read(text)
    except NotUnderstoodError as wrong:
        if not info.column.hint:
            raise
        raise NotUnderstoodError(f"“{text}” says nothing here", info.column.hint) from wrong


def _noted(text: str, points: Points) -> tuple[Note, ...]:
    said = {
        Told.COMMA: points.commas,
        Told.POINT: points.points,
        Told.THOUSANDS_LIKE: points.thousands_like,
    }
    return tuple(Note(why, text, points.text) for why, noted in said.items() if noted)


def _in_its_unit(info: FieldInfo, quantity: Quantity, unit: _Unit) -> Quantity:
    """Return a number with the unit beside it, else that of its unit column or its heading."""
    own = tidy_unit(quantity.unit)
    _agree(own, unit)
    return Quantity(quantity.text, own or unit.beside or info.column.unit)


def _with_units(readings: Readings, unit: _Unit) -> Readings:
    for one in (*readings.values, readings.mean, readings.low, readings.high):
        if one:
            _agree(tidy_unit(one.unit), unit)
    return readings


def _agree(own: str, unit: _Unit) -> None:
    """Refuse a number with one unit in its cell and another in the column that is its alone."""
    if own and unit.beside and own != unit.beside and not unit.shared:
        wrong = f"{own} here and {unit.beside} in the unit column"
        raise NotUnderstoodError(wrong, "keep the right one")
