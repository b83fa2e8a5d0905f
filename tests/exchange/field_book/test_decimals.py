"""Decimal commas: read where only one reading is possible."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.exchange.field_book.decimals import with_points
from workbench.records import NotUnderstoodError


@pytest.mark.parametrize(
    ("written", "plain"),
    [
        ("1,5", "1.5"), ("0,234", "0.234"), ("-0,5", "-0.5"), ("1,2345", "1.2345"),
        ("1234,567", "1234.567"), ("1.234,5", "1234.5"), ("1,234.5", "1234.5"),
        ("1,234,567", "1234567"), ("2,4 MPa", "2.4 MPa"), ("A/B 62,5; B 37,5", "A/B 62.5; B 37.5"),
        ("20,5mm", "20.5mm"), ("12.5", "12.5"), ("A/B 60, B 40", "A/B 60, B 40"),
    ],
)  # fmt: skip
def test_a_comma_with_one_meaning_is_read(written: str, plain: str) -> None:
    assert with_points(written).text == plain


@pytest.mark.parametrize("written", ["1,234", "12,345 psi", "1,5,2", "1,23.4", "1.23,4.5"])
def test_a_comma_with_two_meanings_is_refused(written: str) -> None:
    with pytest.raises(NotUnderstoodError):
        with_points(written)


def test_both_readings_of_a_doubtful_number_are_offered() -> None:
    with pytest.raises(NotUnderstoodError, match=r"write 1\.234 or 1234, whichever is meant"):
        with_points("1,234")


@pytest.mark.parametrize("written", ["690,700", "690,7", "69,70"])
def test_a_comma_between_two_possible_readings_is_refused_in_a_list(written: str) -> None:
    with pytest.raises(NotUnderstoodError, match="690; 700; 655"):
        with_points(written, is_list=True)


def test_decimal_commas_are_plain_where_semicolons_part_the_readings() -> None:
    assert with_points("69,5; 70,1", is_list=True).text == "69.5; 70.1"


def test_what_was_found_is_said() -> None:
    assert with_points("1,5").commas
    assert with_points("2.5").points
    assert with_points("1.234").thousands_like
    assert not with_points("12.34").thousands_like
    assert with_points("62,5; 37.5").points


@given(st.decimals(min_value=-9999, max_value=9999, places=2))
def test_two_decimals_behind_a_comma_are_always_read(number: object) -> None:
    assert with_points(str(number).replace(".", ",")).text == str(number)
