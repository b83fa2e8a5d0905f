"""Rows against each other and against the case: names, layers, sense."""

from pathlib import Path
from typing import Any

import pytest
from builders import make
from tools.field_books import at, read, set_cell, small_book, workbook

from workbench.exchange.field_book.reading import read_book
from workbench.records import Area, Coat, Dossier, Location


def test_an_unknown_location_is_one_problem_with_the_name_most_likely_meant(
    tmp_path: Path,
) -> None:
    sheets = set_cell(small_book(), "pull-off", "location", 2, "l-2")
    (problem,) = read(tmp_path, sheets).hindrances
    assert (problem.place, problem.cell) == ("pull-off", "B2")
    assert problem.wrong == "there is no location “l-2”"
    assert problem.right == "write L2, if that is meant"


def test_a_name_that_comes_often_is_told_once(tmp_path: Path) -> None:
    sheets = small_book()
    for row in sheets["pull-off"][1:]:
        row[1] = "X9"
    (problem,) = read(tmp_path, sheets).hindrances
    assert problem.wrong == "there is no location “X9” (and 1 more of the column)"


def test_very_many_unknown_names_are_summed_up(tmp_path: Path) -> None:
    sheets = small_book()
    sheets["pull-off"] += [
        [f"Q{n}", f"X{n}", None, "ASTM D7234", None, None, None, None, None, None, None, None]
        for n in range(50)
    ]
    problems = read(tmp_path, sheets).hindrances
    assert len(problems) == 21
    assert "30 more names of the column are not known" in str(problems)


def test_names_of_the_case_may_be_referred_to(tmp_path: Path) -> None:
    sheets = small_book()
    del sheets["areas"], sheets["locations"], sheets["coats"]
    path = workbook(tmp_path / "book.xlsx", sheets)
    (nothing,) = read_book(path).hindrances
    assert "neither book nor case has locations" in nothing.wrong
    area, layers = (
        make(Area),
        [make(Coat, order=0, material="concrete"), make(Coat), make(Coat, order=2)],
    )
    places = [make(Location), make(Location, ref="L2")]
    assert not read_book(path, Dossier([area, *places, *layers])).hindrances


def test_a_name_that_was_withdrawn_from_the_case_is_told_as_such(tmp_path: Path) -> None:
    sheets = small_book()
    sheets["pull-off"][1][1] = "L7"
    gone = make(Location, ref="L7", withdrawn="wrong bay")
    path = workbook(tmp_path / "book.xlsx", sheets)
    (problem,) = read_book(path, Dossier([gone])).hindrances
    assert "location “L7” was withdrawn from the case" in problem.wrong


def test_a_ref_that_stands_twice_is_one_problem_naming_the_first_row(tmp_path: Path) -> None:
    sheets = set_cell(small_book(), "pull-off", "ref", 3, "P1")
    (problem,) = read(tmp_path, sheets).hindrances
    assert (problem.cell, problem.wrong) == ("A3", "“P1” stands in row 2 already")


def test_a_layer_of_a_system_stands_once(tmp_path: Path) -> None:
    sheets = small_book()
    sheets["coats"].append(["S", 2, "epoxy", "Other", None, None])
    (problem,) = read(tmp_path, sheets).hindrances
    assert problem.wrong == "“S · 2” stands in row 4 already"


def test_rows_of_a_log_may_share_area_coat_and_start(tmp_path: Path) -> None:
    row: list[Any] = ["A1", 1, "2024-03-01", "B-1"]
    sheets = small_book() | {
        "applications": [["area", "coat", "start", "batch a"], row, [*row[:3], "B-2"], row]
    }
    reading = read(tmp_path, sheets)
    assert not reading.hindrances
    assert at(reading, "applications!A4").wrong == "the row says the same as row 2"


def test_an_area_that_lies_in_itself_by_way_of_another_is_told(tmp_path: Path) -> None:
    sheets = set_cell(small_book(), "areas", "within", 2, "A2")
    set_cell(sheets, "areas", "within", 3, "A1")
    problems = read(tmp_path, sheets).hindrances
    assert [one.cell for one in problems] == ["E2", "E3"]


def test_a_name_of_both_a_location_and_an_area_is_told(tmp_path: Path) -> None:
    sheets = small_book()
    sheets["locations"].append(["A1", "A1", 0, 0])
    sheets["survey"] = [["ref", "at", "form"], ["V1", "A1", "hollow"]]
    assert "both a location and an area" in at(read(tmp_path, sheets), "survey!B2").wrong


@pytest.mark.parametrize(
    ("sheet", "heading", "value", "wrong"),
    [
        ("pull-off", "on", 3, "coat 3, but the last coat of S is 2"),
        ("pull-off", "breaks", "C/D 100", "plane C/D, but the last coat of S is 2"),
        ("pull-off", "breaks", "-/Y 100", ""),
        ("pull-off", "on", 0, ""),
    ],
)
def test_layers_and_planes_lie_within_the_system_of_their_area(
    sheet: str, heading: str, value: object, wrong: str, tmp_path: Path
) -> None:
    found = read(tmp_path, set_cell(small_book(), sheet, heading, 2, value)).hindrances
    assert [one.wrong for one in found] == ([wrong] if wrong else [])


@pytest.mark.parametrize(
    ("sheet", "rows", "cell"),
    [
        ("applications", [["area", "coat", "start"], ["A1; A2", 3, "2024-03-01"]], "B2"),
        ("thickness", [["ref", "location", "method", "layer", "readings", "unit"],
                       ["T1", "L1", "section", "4", "80", "um"]], "D2"),
        ("ratings", [["ref", "location", "method", "rating", "plane"],
                     ["R1", "L1", "ASTM D6677", 4, "D"]], "E2"),
        ("measurements", [["ref", "location", "method", "quantity", "value", "unit", "plane"],
                          ["M1", "L1", "f-ph", "ph_face", 9, "pH", "C/D@D"]], "G2"),
        ("survey", [["ref", "at", "form", "plane"], ["V1", "A1", "hollow", "C/D"]], "D2"),
    ],
)  # fmt: skip
def test_every_sheet_that_names_a_layer_is_checked(
    sheet: str, rows: list[list[Any]], cell: str, tmp_path: Path
) -> None:
    problems = read(tmp_path, small_book() | {sheet: rows}).hindrances
    assert {(one.place, one.cell) for one in problems} == {(sheet, cell)}


def test_layers_are_not_judged_where_the_system_is_not_described(tmp_path: Path) -> None:
    sheets = set_cell(small_book(), "pull-off", "on", 2, 9)
    del sheets["coats"]
    reading = read(tmp_path, sheets)
    assert not reading.hindrances
    assert "no coat of a system “S” is described" in str(reading.warnings)


def test_a_gap_in_a_system_is_told(tmp_path: Path) -> None:
    sheets = small_book()
    del sheets["coats"][2]
    assert "S has no layer 1" in str(read(tmp_path, sheets).warnings)


def test_more_coats_than_letters_are_refused(tmp_path: Path) -> None:
    sheets = small_book()
    sheets["coats"].append(["S", 24, "epoxy", None, None, None])
    (problem,) = read(tmp_path, sheets).hindrances
    assert problem.wrong == "order 24"


@pytest.mark.parametrize(
    ("key", "value", "wrong"),
    [
        ("time zone", "London", "is no time zone"),
        ("units", "metric", "is no system of units"),
        ("opened", "01/02/2024", "not a date"),
        ("titel", "A floor", "is no key of the sheet"),
    ],
)
def test_an_entry_of_the_case_that_the_program_depends_on_is_checked(
    key: str, value: str, wrong: str, tmp_path: Path
) -> None:
    sheets = small_book()
    sheets["case"] = [row for row in sheets["case"] if row[0] != key] + [[key, value]]
    (problem,) = read(tmp_path, sheets).hindrances
    assert wrong in problem.wrong


def test_a_case_without_reference_is_told(tmp_path: Path) -> None:
    sheets = small_book()
    del sheets["case"][1]
    (problem,) = read(tmp_path, sheets).hindrances
    assert problem.wrong == "no reference"


@pytest.mark.parametrize(
    ("method", "rating", "hinders"),
    [
        ("ASTM D6677", 11, True),
        ("ASTM D6677", 7, False),
        ("ISO 2409", 6, True),
        ("ASTM D610", 9, None),
        ("ISO 4628-6", 2.5, None),
    ],
)
def test_a_rating_lies_on_the_scale_of_its_method(
    method: str, rating: float, *, hinders: bool | None, tmp_path: Path
) -> None:
    rows: list[list[Any]] = [["ref", "location", "method", "rating"], ["R1", "L1", method, rating]]
    reading = read(tmp_path, small_book() | {"ratings": rows})
    found = [one.hinders for one in reading.problems if one.place == "ratings"]
    assert found == ([] if hinders is None else [hinders])


@pytest.mark.parametrize(
    ("observation", "value", "cell"),
    [
        ("combustion_heater_used", "yes", ""),
        ("combustion_heater_used", "unknown", ""),
        ("combustion_heater", "yes", "A2"),
        ("combustion_heater_used", "perhaps", "B2"),
    ],
)
def test_an_answer_is_one_that_its_question_takes(
    observation: str, value: str, cell: str, tmp_path: Path
) -> None:
    rows = [["observation", "value"], [observation, value]]
    problems = read(tmp_path, small_book() | {"answers": rows}).hindrances
    assert [one.cell for one in problems] == ([cell] if cell else [])


def test_a_layer_too_high_only_warns_where_the_area_does_not_name_its_system(
    tmp_path: Path,
) -> None:
    sheets = set_cell(small_book(), "areas", "system", 2, None)
    told = at(read(tmp_path, set_cell(sheets, "pull-off", "on", 2, 3)), "pull-off!E2")
    assert not told.hinders


def test_a_limit_is_for_something_that_is_there(tmp_path: Path) -> None:
    rows = [["quantity", "for", "max", "unit", "source"]]
    rows += [
        ["moisture", what, "4", "%", "D1"]
        for what in ("S", "S:1", "Primer", "A1", "", "Primr", "T")
    ]
    reading = read(tmp_path, small_book() | {"limits": rows})
    (problem,) = reading.hindrances
    assert (problem.cell, problem.right) == ("B7", "write Primer, if that is meant")
    assert at(reading, "limits!B8").right == "it applies to nothing now"


def test_a_recoat_window_of_no_product_of_the_case_is_told(tmp_path: Path) -> None:
    rows: list[list[Any]] = [
        ["product", "with", "max h"],
        ["Primr", "Body", "48"],
        ["Primer", None, "none"],
    ]
    reading = read(tmp_path, small_book() | {"recoat": rows})
    told = at(reading, "recoat!A2")
    assert not told.hinders
    assert told.right == "write Primer, if that is meant"


def test_an_hour_that_never_was_is_told_in_the_zone_of_the_case(tmp_path: Path) -> None:
    rows: list[list[Any]] = [["time", "air C"], ["2024-03-31 01:30", 8]]
    told = at(read(tmp_path, small_book() | {"weather": rows}), "weather!A2")
    assert "did not exist" in told.wrong
    assert not told.hinders


def test_what_is_yet_to_come_is_told(tmp_path: Path) -> None:
    sheets = set_cell(small_book(), "pull-off", "date", 2, "2099-05-02")
    told = at(read(tmp_path, sheets), "pull-off!C2")
    assert told.wrong == "2099-05-02 is yet to come"
    assert not told.hinders


def test_a_calibration_may_fall_due_in_the_future(tmp_path: Path) -> None:
    rows = [["ref", "kind", "calibrated", "due"], ["I1", "tester", "2024-01", "2099-01"]]
    assert not read(tmp_path, small_book() | {"instruments": rows}).hindrances


def test_a_humidity_written_as_a_share_of_one_is_told(tmp_path: Path) -> None:
    rows: list[list[Any]] = [["time", "rh %"], ["2024-03-30 01:30", 0.82]]
    told = at(read(tmp_path, small_book() | {"weather": rows}), "weather!B2")
    assert told.right == "write 82, if a share of one is meant"
    assert not told.hinders


def test_a_wrong_word_in_a_column_with_words_of_its_own_is_told_those(tmp_path: Path) -> None:
    sheets = set_cell(small_book(), "pull-off", "cut round", 2, "x")
    (problem,) = read(tmp_path, sheets).hindrances
    assert problem.right == "yes, no, or the depth into the substrate"


def test_a_rating_with_the_letter_of_another_method_is_refused(tmp_path: Path) -> None:
    rows = [["ref", "location", "method", "rating"], ["R1", "L1", "ASTM D6677", "5B"]]
    (problem,) = read(tmp_path, small_book() | {"ratings": rows}).hindrances
    assert str(problem) == "ratings!D2: B behind the number; write the bare number"


def test_refs_that_differ_only_in_capitals_are_told(tmp_path: Path) -> None:
    sheets = set_cell(small_book(), "pull-off", "ref", 3, "p1")
    told = at(read(tmp_path, sheets), "pull-off!A3")
    assert not told.hinders
    assert told.wrong == "“p1” differs only in capitals from “P1” in row 2"


def test_several_names_where_one_should_stand_are_refused(tmp_path: Path) -> None:
    rows = [["ref", "at", "form"], ["V1", "A1; A2", "hollow"]]
    (problem,) = read(tmp_path, small_book() | {"survey": rows}).hindrances
    assert problem.wrong == "there is no location or area “A1; A2”"


def test_several_photographs_of_one_sign_may_be_named(tmp_path: Path) -> None:
    sheets = small_book() | {
        "survey": [["ref", "at", "form", "photo"], ["V1", "A1", "hollow", "PH1; PH2"]],
        "photos": [["file", "ref"], ["1.jpg", "PH1"], ["2.jpg", "PH2"]],
    }
    assert not read(tmp_path, sheets).hindrances


def test_a_limit_of_a_quantity_that_no_rule_reads_is_told(tmp_path: Path) -> None:
    rows: list[list[Any]] = [["quantity", "max", "unit", "source"], ["moistrue", 4, "%", "D1"]]
    told = at(read(tmp_path, small_book() | {"limits": rows}), "limits!A2")
    assert not told.hinders
    assert told.right == "write moisture, if that is meant"


def test_as_found_off_a_trial_patch_is_told_and_is_the_film_as_it_stands(tmp_path: Path) -> None:
    sheets = set_cell(small_book(), "pull-off", "treatment", 2, "as_found")
    (told,) = [one for one in read(tmp_path, sheets).problems if "as_found" in one.wrong]
    assert told.wrong == "as_found on 1 pull-off with no washed or abraded patch beside"
    assert "leave treatment blank" in told.right
    assert not told.hinders
