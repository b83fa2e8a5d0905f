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


def test_names_and_units_in_two_rows_give_the_headings() -> None:
    found = read_curves(b"Probe;S-01\n\nWellenzahl;Absorbance\n1/cm;\n4000;0,10\n3998;0,12\n")
    assert found.headings == ("Wellenzahl 1/cm", "Absorbance")
    assert found.preamble == ("Probe S-01",)
    assert found.columns.tolist() == [[4000, 0.10], [3998, 0.12]]


def test_commas_between_and_within_numbers_are_refused_and_not_guessed() -> None:
    found = read_curves(b"wavenumber,absorbance\n4000,0,0,10\n3998,0,0,12\n")
    assert not found.readable
    assert "without a decimal point" in found.problems[0].wrong


def test_quoted_numbers_with_decimal_commas_are_read() -> None:
    found = read_curves(b'"x","y"\n"4000,5","0,10"\n"3998,5","0,12"\n')
    assert found.columns.tolist() == [[4000.5, 0.10], [3998.5, 0.12]]


def test_a_quotation_mark_left_open_swallows_no_more_than_its_line() -> None:
    found = read_curves(b'note "as found\nx,y\n1,2\n3,4\n')
    assert found.columns.tolist() == [[1, 2], [3, 4]]


def test_text_of_two_bytes_a_sign_is_read() -> None:
    found = read_curves("cm-1\t%T\n4000\t98.5\n3998\t98.4\n".encode("utf-16"))
    assert found.headings == ("cm-1", "%T")


def test_empty_columns_go_and_words_beside_the_table_are_told() -> None:
    found = read_curves(b"i;x;y;remark\n1;10;0.5;;\n2;11;0.6;peak;\n")
    assert found.headings == ("i", "x", "y")
    assert found.columns.shape == (2, 3)
    assert [p.wrong for p in found.problems] == [
        "\N{LEFT DOUBLE QUOTATION MARK}peak\N{RIGHT DOUBLE QUOTATION MARK} beside the table"
    ]


def test_a_table_anywhere_in_a_spreadsheet_is_found_and_the_choice_told() -> None:
    book = Workbook()
    front = book.active
    assert front is not None
    front.append(["Report of the laboratory"])
    sheet = book.create_sheet("data")
    for at, row in {5: ("wavenumber", "abs."), 6: ("1/cm", "A"), 7: (4000.0, "0,10"),
                    8: (3998.0, 0.12)}.items():  # fmt: skip
        sheet.cell(at, 3, row[0])
        sheet.cell(at, 4, row[1])
    held = io.BytesIO()
    book.save(held)
    found = read_curves(held.getvalue())
    assert found.headings == ("wavenumber 1/cm", "abs. A")
    assert found.columns.tolist() == [[4000, 0.10], [3998, 0.12]]
    told = " ".join(problem.wrong for problem in found.problems)
    assert "\N{LEFT DOUBLE QUOTATION MARK}data\N{RIGHT DOUBLE QUOTATION MARK} is the first" in told
    assert "commas read as decimal signs" in told


def test_a_spreadsheet_damaged_inside_is_refused_in_words() -> None:
    book = Workbook()
    sheet = book.active
    assert sheet is not None
    for row in range(200):
        sheet.append([row, row / 7, f"text {row}"])
    held = io.BytesIO()
    book.save(held)
    whole = held.getvalue()
    for at in range(60, len(whole) - 60, max(1, len(whole) // 120)):
        found = read_curves(whole[:at] + b"\xff\x00\xff\x00\xff" + whole[at + 5 :])
        assert found.readable or found.problems
