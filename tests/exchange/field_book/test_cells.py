"""Cells as a person sees them: digits, percent signs and words of a number format; dates."""

from datetime import date, datetime, time, timedelta

import pytest

from workbench.exchange.field_book.cells import (
    CellKind,
    clean,
    clean_lines,
    date_cell,
    number_cell,
)


@pytest.mark.parametrize(
    ("value", "shown_as", "text"),
    [
        (50, "0.0", "50.0"),
        (50, "General", "50"),
        (12.0, "General", "12"),
        (2.437, "0.0", "2.437"),
        (0.65, "0%", "65 %"),
        (0.055, "0.0%", "5.5 %"),
        (0.07, "0.00%", "7.00 %"),
        (12, "0000", "0012"),
        (12, '"P-"0', "P-12"),
        (2.4, '0.0" MPa"', "2.4 MPa"),
        (1234.5, "#,##0.00", "1234.50"),
        (-5, "0.0", "-5.0"),
        (5, "[$-409]0.00", "5.00"),
        (3, "_-* #,##0.00_-", "3.00"),
        (0.1 + 0.2, "General", "0.3"),
        (8, "yyyy-mm-dd", "8"),
        (2.4, 'General" MPa"', "2.4 MPa"),
        (0.5, "# ?/?", "0.5"),
    ],
)
def test_a_number_is_read_as_it_is_shown_and_never_with_fewer_digits(
    value: float, shown_as: str, text: str
) -> None:
    assert number_cell(value, shown_as).text == text


@pytest.mark.parametrize(
    ("value", "shown_as"),
    [(2.4, '[>=1]0.0" MPa";0.0" kPa"'), (-2.4, '0.0" MPa";-0.0" kPa"'), (0.5, "??%?0")],
)
def test_a_number_whose_format_says_more_than_can_be_followed_is_an_error(
    value: float, shown_as: str
) -> None:
    cell = number_cell(value, shown_as)
    assert cell.kind is CellKind.ERROR
    assert shown_as in cell.text


@pytest.mark.parametrize("value", [float("nan"), float("inf")])
def test_a_number_that_is_none_is_an_error(value: float) -> None:
    assert number_cell(value, "General").kind is CellKind.ERROR


@pytest.mark.parametrize(
    ("value", "shown_as", "text"),
    [
        (datetime.fromisoformat("2024-05-02"), "yyyy-mm-dd", "2024-05-02"),
        (datetime.fromisoformat("2024-05-02 14:30"), "yyyy-mm-dd", "2024-05-02 14:30"),
        (datetime.fromisoformat("2024-05-02"), "yyyy-mm-dd hh:mm", "2024-05-02 00:00"),
        (datetime.fromisoformat("2024-05-02 14:29:59.999999"), "dd/mm/yyyy", "2024-05-02 14:30"),
        (datetime.fromisoformat("2024-05-02 14:30:05"), "dd/mm/yyyy", "2024-05-02 14:30:05"),
        (date(2024, 5, 2), "dd/mm/yyyy", "2024-05-02"),
    ],
)
def test_a_spreadsheet_date_is_read_in_iso_order(
    value: date | datetime, shown_as: str, text: str
) -> None:
    assert date_cell(value, shown_as).text == text
    assert date_cell(value, shown_as).kind is CellKind.DATE


@pytest.mark.parametrize("value", [time(14, 30), timedelta(hours=30)])
def test_a_time_without_a_day_is_no_date(value: time | timedelta) -> None:
    assert date_cell(value, "hh:mm").kind is CellKind.TIME


def test_stray_spaces_go_and_lines_stay() -> None:
    assert clean("  a\u00a0 b\t\ufeff ") == "a b"
    assert clean_lines("a  b \r\n_x000D_ c ") == "a b\nc"
