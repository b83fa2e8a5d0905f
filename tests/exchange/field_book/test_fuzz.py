"""Whatever stands in cells, headings, sheets and files, reading gives problems and never raises."""

import zipfile
from datetime import date, datetime, time, timedelta
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from openpyxl.utils.exceptions import IllegalCharacterError
from tools.field_books import folder, small_book, workbook

from workbench.exchange.field_book.cells import Cell, CellKind
from workbench.exchange.field_book.columns import columns_of, header_of, kind_of_sheet
from workbench.exchange.field_book.comparing import compare
from workbench.exchange.field_book.reading import BookReading, read_book
from workbench.exchange.field_book.values import read_value
from workbench.records import BOOK, Dossier, NotUnderstoodError, Record

WORDS = st.one_of(
    st.text(max_size=20),
    st.sampled_from([
        "A/B 60; B 40", "690; 700", "1,5", "1.5", "1,234", "2024-05-02", "02/05/2024", "350 psi",
        "yes", "no", "?", "A1", "L1", "S", "S:1", "epoxy", "<5", "12E5", "0012", "C/D@D",
        "0 0; 1 0; 1 1",
        "drain; joint=no", "-", "∞", "１２", "²", "nan", "inf", "1e999", "-1", "999999999999",
    ]),
)  # fmt: skip
VALUES = st.one_of(
    WORDS,
    st.integers(-(10**20), 10**20),
    st.floats(allow_nan=False, allow_infinity=False),
    st.booleans(),
    st.none(),
    st.datetimes(datetime.fromisoformat("1900-03-01"), datetime.fromisoformat("9999-01-01")),
    st.dates(date(1900, 3, 1)),
    st.times(),
    st.timedeltas(timedelta(0), timedelta(days=400)),
)
CELLS = st.builds(
    Cell, WORDS, st.sampled_from(CellKind), st.sampled_from(["", "0.00E+00", "#,##0", "0.0%"])
)
NAMES = st.one_of(
    st.sampled_from(list(kind_of_sheet())), st.from_regex("[a-z ]{1,12}", fullmatch=True)
)
SLOW = [HealthCheck.function_scoped_fixture, HealthCheck.too_slow, HealthCheck.data_too_large]


@settings(max_examples=300)
@given(st.sampled_from(BOOK), st.data(), CELLS, WORDS)
def test_a_cell_gives_a_value_or_says_what_is_wrong(
    kind: type[Record], data: st.DataObject, cell: Cell, unit: str
) -> None:
    info = data.draw(st.sampled_from([one.info for one in columns_of(kind) if one.info]))
    try:
        value: object = read_value(kind, info, cell, unit).value
    except NotUnderstoodError as told:
        value = told
    if isinstance(value, NotUnderstoodError):
        assert value.wrong
        assert value.right
    else:
        assert isinstance(value, info.type)


def _sound(reading: BookReading) -> None:
    """Hold that a reading says nothing that the case could not take, and says where it is wrong."""
    assert all(not one.faults() for one in reading.records)
    assert all(one.wrong and one.right for one in reading.problems)
    assert len(compare(Dossier(), reading).added) == len(reading.records)


@settings(suppress_health_check=SLOW, max_examples=60)
@given(kind=st.sampled_from(BOOK), data=st.data())
def test_a_row_of_anything_is_read_or_told(
    kind: type[Record], data: st.DataObject, tmp_path: Path
) -> None:
    header = header_of(kind)
    rows = data.draw(st.lists(st.lists(VALUES, max_size=len(header) + 1), max_size=3))
    sheets: dict[str, Any] = small_book()
    sheets[kind.sheet] = [*sheets.get(kind.sheet, [header]), *rows]
    try:
        path = workbook(tmp_path / "book.xlsx", sheets)
    except (IllegalCharacterError, ValueError):
        return
    _sound(read_book(path))


@settings(suppress_health_check=SLOW)
@given(st.dictionaries(NAMES, st.lists(st.lists(WORDS, max_size=6), max_size=4), max_size=3))
def test_tables_of_anything_are_read_or_told(
    tmp_path: Path, sheets: dict[str, list[list[str]]]
) -> None:
    for old in tmp_path.glob("visit/*"):
        old.unlink()
    _sound(read_book(folder(tmp_path / "visit", sheets)))


@settings(suppress_health_check=SLOW)
@given(st.binary(max_size=300))
def test_bytes_of_anything_are_told_as_no_workbook(tmp_path: Path, data: bytes) -> None:
    for start in (b"", b"PK\x03\x04"):
        (tmp_path / "book.xlsx").write_bytes(start + data)
        assert read_book(tmp_path / "book.xlsx").hindrances


@settings(suppress_health_check=SLOW)
@given(data=st.data())
def test_a_workbook_with_rotten_parts_is_read_or_told(tmp_path: Path, data: st.DataObject) -> None:
    source = workbook(tmp_path / "source.xlsx", small_book())
    with zipfile.ZipFile(source) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    name = data.draw(st.sampled_from(sorted(parts)))
    at = data.draw(st.integers(0, len(parts[name]) - 1))
    cut = data.draw(st.integers(0, 40))
    parts[name] = parts[name][:at] + data.draw(st.binary(max_size=8)) + parts[name][at + cut :]
    with zipfile.ZipFile(tmp_path / "book.xlsx", "w") as archive:
        for part, content in parts.items():
            archive.writestr(part, content)
    _sound(read_book(tmp_path / "book.xlsx"))


@pytest.mark.parametrize("value", [time(14, 30), timedelta(hours=3), True, 1e300, 10**17])
def test_odd_values_in_every_column_are_read_or_told(value: object, tmp_path: Path) -> None:
    sheets: dict[str, Any] = small_book()
    for name, kind in kind_of_sheet().items():
        header = header_of(kind)
        sheets[name] = [*sheets.get(name, [header]), [value] * len(header)]
    _sound(read_book(workbook(tmp_path / "book.xlsx", sheets)))
