"""From a cell to a value: read, or refused in words."""

import pytest

from workbench.exchange.field_book.cells import Cell, CellKind
from workbench.exchange.field_book.values import Told, read_value
from workbench.records import (
    Answer,
    Application,
    Area,
    Coat,
    Document,
    FieldInfo,
    Instrument,
    LabResult,
    Measurement,
    NotUnderstoodError,
    PullOff,
    Record,
    Sample,
    SurveyEntry,
    Thickness,
    Weather,
    fields_of,
)


def field(kind: type[Record], name: str) -> FieldInfo:
    return next(info for info in fields_of(kind) if info.name == name)


def value(kind: type[Record], name: str, cell: Cell | str, unit: str = "") -> str:
    told = Cell(cell) if isinstance(cell, str) else cell
    return str(read_value(kind, field(kind, name), told, unit).value)


def number(text: str, shown_as: str = "") -> Cell:
    return Cell(text, CellKind.NUMBER, shown_as)


@pytest.mark.parametrize(
    ("kind", "name", "cell", "unit", "said"),
    [
        (PullOff, "reading", "350 psi", "", "350 psi"),
        (PullOff, "reading", number("2.4"), "MPa", "2.4 MPa"),
        (PullOff, "reading", "2,4 MPa", "", "2.4 MPa"),
        (PullOff, "reading", "50.0", "PSI", "50.0 psi"),
        (PullOff, "fixture", "2 in", "mm", "2 in"),
        (Weather, "air", number("21.0"), "", "21.0 degC"),
        (Weather, "air", "70 °F", "", "70 degF"),
        (Weather, "humidity", number("65 %", "0%"), "", "65 %"),
        (PullOff, "cut_round", "12 mm", "", "12 mm"),
        (PullOff, "cut_round", " Yes ", "", "yes"),
        (PullOff, "method", "astm d 7234", "", "ASTM D7234"),
        (Area, "condition", "Non failing", "", "non-failing"),
        (Document, "kind", "Data sheet", "", "data_sheet"),
        (Coat, "existing", Cell("TRUE", CellKind.BOOLEAN), "", "yes"),
        (Coat, "mix_ratio", "3:1", "", "3:1"),
        (LabResult, "quantity", "EDS:Zn", "", "eds:Zn"),
        (LabResult, "quantity", "moisture", "", "moisture"),
        (Measurement, "method", "F-PH", "", "f-ph"),
        (Measurement, "method", "not stated", "", "not_stated"),
        (SurveyEntry, "form", "Back face = wood fibres", "", "back_face=wood_fibres"),
        (PullOff, "location", number("12"), "", "12"),
        (PullOff, "location", number("0012", "0000"), "", "0012"),
        (PullOff, "location", "12E5", "", "12E5"),
        (PullOff, "location", "3/4", "", "3/4"),
        (Application, "area", "bay-1 ; bay-2", "", "bay-1; bay-2"),
        (PullOff, "on", "1.0", "", "1"),
        (Thickness, "readings", "690; 700,5; 655", "um", "690; 700.5; 655"),
        (Thickness, "readings", number("690"), "um", "690"),
        (Answer, "value", "Yes", "", "yes"),
        (Thickness, "layer", "Total", "", "total"),
        (
            Area,
            "features",
            "Freeze thaw; Joint=No; Wash line",
            "",
            "freeze_thaw; joint=no; Wash line",
        ),
        (PullOff, "note", Cell("2024-05-02", CellKind.DATE), "", "2024-05-02"),
    ],
)
def test_a_cell_is_read_as_the_person_meant_it(
    kind: type[Record], name: str, cell: Cell | str, unit: str, said: str
) -> None:
    assert value(kind, name, cell, unit) == said


@pytest.mark.parametrize(
    ("kind", "name", "cell", "wrong"),
    [
        (PullOff, "reading", "about two", "not a number"),
        (PullOff, "reading", "1,234", "may be"),
        (PullOff, "reading", Cell("=A1*2", CellKind.FORMULA), "a formula, =A1"),
        (PullOff, "reading", Cell("#N/A", CellKind.ERROR), "#N/A stands here"),
        (PullOff, "reading", Cell("2024-05-02", CellKind.DATE), "made a date"),
        (PullOff, "on", "1.5", "not a whole number"),
        (PullOff, "on", Cell("TRUE", CellKind.BOOLEAN), "not a whole number"),
        (PullOff, "location", Cell("2024-04-03", CellKind.DATE), "made a date"),
        (PullOff, "location", number("1200000", "0.00E+00"), "has become a number"),
        (PullOff, "location", number("12345678901234567890"), "more than 15 digits"),
        (Coat, "mix_ratio", Cell("03:01:00", CellKind.TIME), "made a time"),
        (Coat, "material", "brick / masonry_render", "names several materials"),
        (PullOff, "method", "D4541 or so", "no word of the list"),
        (Measurement, "quantity", "quantity", "no word of the list"),
        (Measurement, "quantity", "eds:", "no word of the list"),
        (SurveyEntry, "form", "blisters", "no word of the list"),
        (PullOff, "breaks", "B 60, C 40", "not a plane"),
        (Thickness, "readings", "690, 700", "comma"),
        (Thickness, "readings", number("690700", "#,##0"), "made one number"),
        (PullOff, "came_away", Cell("maybe"), "no word of the list"),
        (PullOff, "operator", Cell("FALSE", CellKind.BOOLEAN), "where words"),
    ],
)
def test_a_cell_that_says_nothing_or_two_things_is_refused(
    kind: type[Record], name: str, cell: Cell | str, wrong: str
) -> None:
    with pytest.raises(NotUnderstoodError, match=wrong):
        value(kind, name, cell)


def test_a_unit_in_the_cell_and_another_in_its_own_column_are_refused() -> None:
    with pytest.raises(NotUnderstoodError, match="psi here and MPa in the unit column"):
        value(PullOff, "reading", "350 psi", "MPa")


def test_the_word_most_likely_meant_is_offered() -> None:
    with pytest.raises(NotUnderstoodError, match="write delamination, if that is meant"):
        value(SurveyEntry, "form", "delaminaton")


@pytest.mark.parametrize(
    ("kind", "name", "cell", "why"),
    [
        (PullOff, "reading", Cell("2,5"), Told.COMMA),
        (PullOff, "location", number("12"), Told.NUMBER_AS_REF),
        (Sample, "seal", number("40211"), Told.NUMBER_AS_REF),
        (Instrument, "serial", number("123"), Told.NUMBER_AS_REF),
        (Coat, "existing", Cell("y"), Told.WORD),
        (Document, "file", Cell(r"photos\p1.jpg"), Told.FILE),
        (PullOff, "note", Cell("2024-05-02", CellKind.DATE), Told.DATE),
    ],
)
def test_what_is_read_otherwise_than_written_is_noted(
    kind: type[Record], name: str, cell: Cell, why: Told
) -> None:
    read = read_value(kind, field(kind, name), cell)
    assert [note.why for note in read.notes] == [why]
