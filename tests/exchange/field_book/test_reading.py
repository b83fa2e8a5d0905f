"""Reading whole books: sheets and headings, and what is told of them."""

from pathlib import Path

import pytest
from tools.field_books import at, folder, read, set_cell, small_book

from workbench.exchange.field_book.reading import read_book
from workbench.records import (
    Area,
    Coat,
    Dossier,
    Location,
    PullOff,
)


def test_a_sound_book_gives_its_records_and_no_problem(tmp_path: Path) -> None:
    reading = read(tmp_path, small_book())
    assert not reading.hindrances
    held = Dossier(reading.records)
    assert [one.ref for one in held.all(PullOff)] == ["P1", "P2"]
    first = held.all(PullOff)[0]
    assert (str(first.reading), str(first.fixture), str(first.calibrated_for)) == (
        "0.8 MPa", "50 mm", "50 mm",
    )  # fmt: skip
    assert first.origin == "book.xlsx, pull-off!A2"
    assert str(held.all(Coat)[1].dft_nominal) == "80 um"
    assert str(held.all(Location)[0].x) == "1.5 m"


def test_missing_sheets_are_told_and_do_not_hinder(tmp_path: Path) -> None:
    (told,) = read(tmp_path, small_book()).problems
    assert "it has no sheet parties, documents" in told.wrong
    assert not told.hinders


def test_the_same_tables_may_come_as_csv(tmp_path: Path) -> None:
    sheets = small_book()
    from_csv = read_book(folder(tmp_path / "visit", sheets))
    from_xlsx = read(tmp_path, sheets)
    assert not from_csv.hindrances
    assert [_said(one) for one in from_csv.records] == [_said(one) for one in from_xlsx.records]
    assert from_csv.records[0].origin == "visit, case!A2"
    assert {one.name for one in from_csv.files} == {f"visit/{name}.csv" for name in sheets}


def _said(record: object) -> str:
    return str([str(getattr(record, name)) for name in ("noun", "label")])


def test_headings_may_stand_in_any_order_and_case_without_their_star(tmp_path: Path) -> None:
    sheets = small_book()
    sheets["areas"] = [
        ["CONDITION", "  Name", "ref", "System "],
        ["failing", "Bay 1", "A1", "S"],
        ["failing", "Bay 2", "A2", "S"],
    ]
    reading = read(tmp_path, sheets)
    assert not reading.hindrances
    assert [one.ref for one in Dossier(reading.records).all(Area)] == ["A1", "A2"]


@pytest.mark.parametrize(
    ("name", "meant"),
    [("pulloff", "pull-off"), ("Pull off", "pull-off"), ("location", "locations")],
)
def test_a_sheet_with_a_near_name_hinders_and_the_name_is_offered(
    name: str, meant: str, tmp_path: Path
) -> None:
    sheets = small_book()
    sheets[name] = sheets.pop(meant)
    (problem,) = read(tmp_path, sheets).hindrances
    assert problem.wrong == f"the field book has no sheet “{name}”"
    assert f"name it “{meant}”" in problem.right


def test_a_sheet_of_another_name_hinders_until_it_is_called_a_note(tmp_path: Path) -> None:
    sheets = small_book() | {"to do": [["ring the client"]]}
    (problem,) = read(tmp_path, sheets).hindrances
    assert problem.place == "to do"
    sheets["Notes of the day"] = sheets.pop("to do")
    reading = read(tmp_path, sheets)
    assert not reading.hindrances
    assert "it is left aside" in str(reading.warnings)


def test_an_empty_sheet_of_another_name_is_no_matter(tmp_path: Path) -> None:
    assert not read(tmp_path, small_book() | {"Sheet1": []}).hindrances


def test_names_of_sheets_are_read_whatever_their_case_and_spaces(tmp_path: Path) -> None:
    sheets = small_book()
    sheets[" Pull-Off "] = sheets.pop("pull-off")
    assert not read(tmp_path, sheets).hindrances


def test_a_book_without_any_sheet_of_the_field_book_says_so(tmp_path: Path) -> None:
    problems = read(tmp_path, {"Sheet1": [["a"], ["b"]]}).hindrances
    assert any("no sheet of the field book" in one.wrong for one in problems)


def test_an_empty_field_book_says_so(tmp_path: Path) -> None:
    sheets = {name: rows[:1] for name, rows in small_book().items()}
    (problem,) = read(tmp_path, sheets).hindrances
    assert problem.wrong == "there is no filled row in it"


def test_an_extra_column_is_told_with_what_it_holds(tmp_path: Path) -> None:
    sheets = set_cell(small_book(), "pull-off", "weather", 2, "rain at noon")
    reading = read(tmp_path, sheets)
    told = at(reading, "pull-off!M2")
    assert not told.hinders
    assert "“weather”" in told.wrong
    assert "rain at noon" in told.wrong


def test_cells_below_no_heading_are_told(tmp_path: Path) -> None:
    sheets = small_book()
    sheets["areas"][1].append("stray")
    assert "a column without a heading" in at(read(tmp_path, sheets), "areas!E2").wrong


def test_a_misspelt_heading_hinders_where_its_column_would_be_lost(tmp_path: Path) -> None:
    sheets = small_book()
    sheets["pull-off"][0][7] = "readings"
    (problem,) = read(tmp_path, sheets).hindrances
    assert (problem.place, problem.cell) == ("pull-off", "H1")
    assert "write reading" in problem.right


def test_the_case_sheet_without_its_values_is_not_taken_for_blank(tmp_path: Path) -> None:
    sheets = set_cell(small_book(), "case", "value", 1, None)
    (problem,) = read(tmp_path, sheets).hindrances
    assert str(problem) == "case!row 1: the column “value” is missing; add it"


def test_a_missing_required_column_is_told_once(tmp_path: Path) -> None:
    sheets = small_book()
    for row in sheets["pull-off"]:
        del row[3]
    (problem,) = read(tmp_path, sheets).hindrances
    assert problem.wrong == "the column “method” is missing"


def test_a_heading_that_stands_twice_is_told(tmp_path: Path) -> None:
    sheets = small_book()
    sheets["areas"][0][3] = "name"
    (problem,) = read(tmp_path, sheets).hindrances
    assert problem.wrong == "the heading “name” stands twice"


def test_a_sheet_without_headings_is_told_once(tmp_path: Path) -> None:
    sheets = small_book()
    del sheets["pull-off"][0]
    (problem,) = read(tmp_path, sheets).hindrances
    assert problem.wrong == "its first row holds no headings of the field book"
