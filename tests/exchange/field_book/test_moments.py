"""Dates in cells."""

from zoneinfo import ZoneInfo

import pytest

from workbench.exchange.field_book.cells import Cell, CellKind
from workbench.exchange.field_book.moments import doubtful_hour, read_when
from workbench.records import NotUnderstoodError, When


@pytest.mark.parametrize(
    ("cell", "text"),
    [
        (Cell("2019"), "2019"),
        (Cell(" 2019-02-08T14:30Z"), "2019-02-08 14:30Z"),
        (Cell("2019", CellKind.NUMBER), "2019"),
        (Cell("2019-02-08", CellKind.DATE), "2019-02-08"),
    ],
)
def test_iso_text_years_and_real_dates_are_read(cell: Cell, text: str) -> None:
    assert str(read_when(cell)) == text


@pytest.mark.parametrize(
    ("text", "right"),
    [
        ("08/02/2019", "write 2019-02-08 or 2019-08-02, whichever is meant"),
        ("13.02.2019 14:30", "write 2019-02-13 14:30"),
        ("2019/2/8", "write 2019-02-08"),
        ("8 Feb 2019", "write 2019, 2019-02"),
        ("2019-02-30", "write 2019, 2019-02"),
    ],
)
def test_other_orders_are_told_with_every_date_that_may_be_meant(text: str, right: str) -> None:
    with pytest.raises(NotUnderstoodError) as told:
        read_when(Cell(text))
    assert told.value.right.startswith(right)


@pytest.mark.parametrize(
    "cell",
    [
        Cell("43504", CellKind.NUMBER), Cell("2019.5", CellKind.NUMBER),
        Cell("14:30:00", CellKind.TIME), Cell("TRUE", CellKind.BOOLEAN), Cell("0202-05-03"),
    ],
)  # fmt: skip
def test_what_is_no_date_is_refused(cell: Cell) -> None:
    with pytest.raises(NotUnderstoodError):
        read_when(cell)


def test_an_hour_that_never_was_or_came_twice_is_told() -> None:
    london = ZoneInfo("Europe/London")
    assert "did not exist" in doubtful_hour(When("2024-03-31 01:30"), london)
    assert "came twice" in doubtful_hour(When("2024-10-27 01:30"), london)
    assert not doubtful_hour(When("2024-10-27 01:30+01:00"), london)
    assert not doubtful_hour(When("2024-10-27 03:30"), london)
    assert not doubtful_hour(When("2024-10-27"), london)
