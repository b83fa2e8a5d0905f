"""What is told once for a column, however many of its cells it concerns."""

from collections.abc import Iterator
from typing import NamedTuple

from workbench.exchange.field_book.cells import Cell, clean, shortened
from workbench.exchange.field_book.decimals import POINT_RIGHT
from workbench.exchange.field_book.values import Note, Told
from workbench.records import Problem

_UNTOLD = {Told.POINT, Told.THOUSANDS_LIKE}


class Tally(NamedTuple):
    """How often something came in a column.

    Attributes:
        number: How many cells.
        first: Address of the first one.
        note: What was noted of the first one.
    """

    number: int
    first: str
    note: Note


class Tallies:
    """What was noted of the cells of one sheet."""

    def __init__(self, sheet: str) -> None:
        """Begin with nothing noted."""
        self._sheet = sheet
        self._notes: dict[tuple[int, Told], Tally] = {}
        self._extra: dict[int, tuple[int, str, Cell]] = {}

    def note(self, column: int, place: str, note: Note) -> None:
        """Note that a cell was read otherwise than it stands."""
        number, first, earliest = self._notes.get((column, note.why), (0, place, note))
        self._notes[column, note.why] = Tally(number + 1, first, earliest)

    def note_extra(self, column: int, place: str, cell: Cell) -> None:
        """Note a cell in a column that the field book does not have."""
        number, first, earliest = self._extra.get(column, (0, place, cell))
        self._extra[column] = (number + 1, first, earliest)

    def problems(self, headings: dict[int, str]) -> Iterator[Problem]:
        """Return what is to be told; `headings` are those that the field book does not have."""
        for (_, why), tally in self._notes.items():
            if why not in _UNTOLD:
                yield self._told(tally)
        yield from self._mixed()
        for column, (number, first, cell) in self._extra.items():
            cells = f"{number} {'cell' if number == 1 else 'cells'}: “{cell.text}”"
            if headings.get(column):
                named, right = f"the column “{headings[column]}”", "leave it so, or rename it"
                wrong = f"{named} is not of the field book; what it holds is left out, {cells}"
            else:
                wrong = f"a column without a heading; what it holds is left out, {cells}"
                right = "give it its heading, if it is one of the field book"
            yield Problem(self._sheet, first, shortened(wrong), right, hinders=False)

    def _told(self, tally: Tally) -> Problem:
        more = f" (and {tally.number - 1} more of the column)" if tally.number > 1 else ""
        wrong = f"“{clean(tally.note.written)}” {tally.note.why}{more}"
        right = f"it is read as “{tally.note.read}”"
        return Problem(self._sheet, tally.first, shortened(wrong), shortened(right), hinders=False)

    def _mixed(self) -> Iterator[Problem]:
        """Return columns in which a number may be read in two ways because of its neighbours."""
        commas = {
            column: tally for (column, why), tally in self._notes.items() if why is Told.COMMA
        }
        for (column, why), tally in self._notes.items():
            doubtful = Told.POINT if column in commas else Told.THOUSANDS_LIKE
            if not commas or why is not doubtful:
                continue
            comma = commas.get(column, next(iter(commas.values())))
            wrong = f"“{tally.note.written}” has a decimal point and {comma.first} a decimal comma"
            yield Problem(self._sheet, tally.first, wrong, POINT_RIGHT)
