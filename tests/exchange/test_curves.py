"""Columns of numbers from CSV and spreadsheets: what is read, what is told."""

import io
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl import Workbook

from workbench.exchange.curves import read_curves


@pytest.mark.parametrize(
    "text",
    [
        "wavenumber,absorbance\n4000,0.10\n3998,0.12\n",
        "Sample: S-01\n\nwavenumber;absorbance\r\n4000;0,10\r\n3998;0,12\r\n",
        "wavenumber\tabsorbance\n4000\t0.10\n3998\t0.12",
        "wavenumber absorbance\n4000   0.10\n 3998  0.12\n\n",
        "\ufeffwavenumber,absorbance\n4000,0.10\n3998,0.12\n",
    ],
)
def test_the_same_columns_are_read_whatever_delimits_them(text: str) -> None:
    found = read_curves(text.encode())
    assert found.readable
    assert found.headings == ("wavenumber", "absorbance")
    assert found.columns.tolist() == [[4000, 0.10], [3998, 0.12]]


def test_decimal_commas_are_told() -> None:
    found = read_curves(b"4000;0,10\n3998;0,12\n")
    assert [problem.wrong for problem in found.problems] == ["commas read as decimal signs"]
    assert found.headings == ("column 1", "column 2")


def test_words_within_the_table_hinder_and_name_their_line() -> None:
    found = read_curves(b"x,y\n1,2\n3,n/a\n5,6\n")
    assert not found.readable
    assert found.problems[0].cell == "line 3"


def test_a_blank_cell_is_missing_and_a_short_row_is_told() -> None:
    found = read_curves(b"x,y,z\n1,2,3\n4,,6\n")
    assert math.isnan(found.columns[1, 1])
    assert not read_curves(b"x,y,z\n1,2,3\n4,5\n").readable


def test_the_first_sheet_of_a_spreadsheet_is_read() -> None:
    book = Workbook()
    sheet = book.active
    assert sheet is not None
    for row in (["T, degC", "flow"], [30, 0.5], [31.5, 0.52]):
        sheet.append(row)
    held = io.BytesIO()
    book.save(held)
    found = read_curves(held.getvalue())
    assert found.headings == ("T, degC", "flow")
    np.testing.assert_allclose(found.columns, [[30, 0.5], [31.5, 0.52]])


@pytest.mark.parametrize(
    ("content", "wrong"),
    [
        (b"", "no rows"),
        (b"only words here\nand here", "no rows"),
        (b"PK\x03\x04 cut", "not a readable spreadsheet"),
        (b"1,2\n\x00\x01\x02", "no text"),
    ],
)
def test_what_holds_no_columns_is_refused_in_words(content: bytes, wrong: str) -> None:
    found = read_curves(content)
    assert not found.readable
    assert wrong in found.problems[0].wrong


@given(st.binary(max_size=200))
def test_any_bytes_are_read_or_told(noise: bytes) -> None:
    found = read_curves(noise)
    assert found.columns.size or found.problems
