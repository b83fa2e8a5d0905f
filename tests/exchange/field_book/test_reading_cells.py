"""Reading whole books: rows and cells, and what is told of them."""

from datetime import datetime
from pathlib import Path

import pytest
from openpyxl import Workbook, load_workbook
from openpyxl.utils.datetime import CALENDAR_MAC_1904
from tools.field_books import at, folder, read, set_cell, small_book, workbook

from workbench.exchange.field_book.reading import read_book
from workbench.records import (
    Cancelled,
    CaseEntry,
    Coat,
    Dossier,
    LabResult,
    Location,
    Measurement,
    PullOff,
    Rating,
    Thickness,
)


def test_text_in_a_number_is_one_problem_at_its_cell(tmp_path: Path) -> None:
    sheets = set_cell(small_book(), "pull-off", "reading", 3, "quite strong")
    (problem,) = read(tmp_path, sheets).hindrances
    assert (problem.place, problem.cell) == ("pull-off", "H3")
    assert "“quite strong” is not a number" in problem.wrong


def test_shares_that_sum_to_97_are_one_problem_at_their_cell(tmp_path: Path) -> None:
    sheets = set_cell(small_book(), "pull-off", "breaks", 2, "B/C 60; C 37")
    (problem,) = read(tmp_path, sheets).hindrances
    assert (problem.cell, problem.wrong) == ("K2", "the shares sum to 97")


def test_a_missing_required_value_is_told_at_its_cell(tmp_path: Path) -> None:
    sheets = set_cell(small_book(), "areas", "condition", 2, None)
    (problem,) = read(tmp_path, sheets).hindrances
    assert (problem.cell, problem.wrong) == ("C2", "no condition")


def test_a_row_with_a_problem_still_bears_its_name(tmp_path: Path) -> None:
    sheets = set_cell(small_book(), "areas", "condition", 2, "rotten")
    (problem,) = read(tmp_path, sheets).hindrances
    assert problem.place == "areas"


def test_a_formula_is_told_with_the_value_it_last_gave(tmp_path: Path) -> None:
    sheets = set_cell(small_book(), "pull-off", "reading", 2, "=1.6/2")
    (problem,) = read(tmp_path, sheets).hindrances
    assert (problem.cell, problem.wrong) == ("H2", "a formula, =1.6/2")
    assert problem.right == "write its value in its place"


def test_a_formula_with_a_kept_value_shows_it(tmp_path: Path) -> None:
    path = workbook(
        tmp_path / "book.xlsx", set_cell(small_book(), "pull-off", "reading", 2, "=1.6/2")
    )
    _replace_in_sheet(path, b"<f>1.6/2</f><v></v>", b"<f>1.6/2</f><v>0.8</v>")
    (problem,) = read_book(path).hindrances
    assert problem.right == "write its value, last 0.8"


def _replace_in_sheet(path: Path, old: bytes, new: bytes) -> None:
    import zipfile

    with zipfile.ZipFile(path) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    assert any(old in data for data in parts.values())
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in parts.items():
            archive.writestr(name, data.replace(old, new))


def test_a_formula_in_a_csv_file_is_told(tmp_path: Path) -> None:
    sheets = set_cell(small_book(), "pull-off", "note", 2, "=HYPERLINK(1)")
    (problem,) = read_book(folder(tmp_path / "visit", sheets)).hindrances
    assert problem.wrong.startswith("a formula, =HYPERLINK")


def test_a_text_that_only_looks_like_a_formula_stays_text(tmp_path: Path) -> None:
    path = workbook(tmp_path / "book.xlsx", small_book())
    book = load_workbook(path)
    book["pull-off"]["L2"].value = "=1+2"
    book["pull-off"]["L2"].data_type = "s"
    book.save(path)
    reading = read_book(path)
    assert not reading.hindrances
    assert Dossier(reading.records).all(PullOff)[0].note == "=1+2"


def test_refs_keep_their_zeros_slashes_and_letters(tmp_path: Path) -> None:
    sheets = small_book()
    for row, ref in zip(sheets["locations"][1:], ("0012", "3/4"), strict=True):
        row[0] = ref
    sheets["locations"].append(["12E5", "A1"])
    sheets["pull-off"][1][1], sheets["pull-off"][2][1] = "0012", "3/4"
    for reading in (read(tmp_path, sheets), read_book(folder(tmp_path / "visit", sheets))):
        assert not reading.hindrances
        held = Dossier(reading.records)
        assert [one.ref for one in held.all(Location)] == ["0012", "3/4", "12E5"]


def test_numbers_in_a_column_of_names_are_read_and_told_once(tmp_path: Path) -> None:
    sheets = small_book()
    sheets["locations"][1][0] = sheets["pull-off"][1][1] = 1
    sheets["locations"][2][0] = sheets["pull-off"][2][1] = 2.0
    reading = read(tmp_path, sheets)
    assert not reading.hindrances
    assert [one.ref for one in Dossier(reading.records).all(Location)] == ["1", "2"]
    assert "(and 1 more of the column)" in at(reading, "locations!A2").wrong


def test_a_date_where_a_name_should_stand_is_refused(tmp_path: Path) -> None:
    sheets = set_cell(small_book(), "locations", "ref", 2, datetime.fromisoformat("2024-04-03"))
    problems = read(tmp_path, sheets).hindrances
    assert problems[0].cell == "A2"
    assert "made a date" in problems[0].wrong


def test_merged_cells_with_a_value_hinder_and_empty_ones_do_not(tmp_path: Path) -> None:
    path = workbook(tmp_path / "book.xlsx", small_book())
    book = load_workbook(path)
    book["pull-off"].merge_cells("B2:B3")
    book["pull-off"].merge_cells("A8:C8")
    book.save(path)
    (problem, *_) = read_book(path).hindrances
    assert problem.cell == "B2:B3"
    assert problem.right == "unmerge them and write it in each row"
    assert "A8:C8" not in str(read_book(path).problems)


def test_hidden_sheets_rows_and_columns_are_told_and_taken_in(tmp_path: Path) -> None:
    path = workbook(tmp_path / "book.xlsx", small_book())
    book = load_workbook(path)
    book["areas"].sheet_state = "hidden"
    book["pull-off"].row_dimensions[3].hidden = True
    book["locations"].column_dimensions["C"].hidden = True
    book.save(path)
    reading = read_book(path)
    told = " ".join(map(str, reading.warnings))
    assert "areas: the sheet is hidden" in told
    assert "pull-off!row 3: 1 hidden rows" in told
    assert "locations!column C: 1 hidden columns" in told
    assert len(Dossier(reading.records).all(PullOff)) == 2


def test_error_cells_are_refused(tmp_path: Path) -> None:
    sheets = set_cell(small_book(), "pull-off", "note", 2, "#N/A")
    (problem,) = read(tmp_path, sheets).hindrances
    assert problem.wrong == "#N/A stands here"


def test_decimal_commas_of_a_column_are_read_and_told_once(tmp_path: Path) -> None:
    sheets = set_cell(small_book(), "pull-off", "reading", 2, "0,8")
    set_cell(sheets, "pull-off", "reading", 3, "2,5")
    reading = read(tmp_path, sheets)
    assert not reading.hindrances
    told = at(reading, "pull-off!H2")
    assert told.wrong == "“0,8” has a decimal comma (and 1 more of the column)"
    assert str(Dossier(reading.records).all(PullOff)[1].reading) == "2.5 MPa"


def test_commas_and_points_in_one_column_are_refused(tmp_path: Path) -> None:
    sheets = set_cell(small_book(), "pull-off", "reading", 2, "0,8")
    set_cell(sheets, "pull-off", "reading", 3, "2.5")
    (problem,) = read(tmp_path, sheets).hindrances
    assert problem.wrong == "“2.5” has a decimal point and H2 a decimal comma"


def test_a_number_that_may_be_thousands_is_refused_beside_decimal_commas(tmp_path: Path) -> None:
    sheets = set_cell(small_book(), "pull-off", "reading", 2, "0,8")
    set_cell(sheets, "pull-off", "seconds", 3, "1.234")
    (problem,) = read(tmp_path, sheets).hindrances
    assert problem.cell == "M3"


def test_the_1904_calendar_is_followed_and_told(tmp_path: Path) -> None:
    days = []
    for calendar in (None, CALENDAR_MAC_1904):
        sheets = set_cell(small_book(), "pull-off", "date", 2, datetime.fromisoformat("2024-05-02"))
        path = workbook(tmp_path / "book.xlsx", sheets)
        book = load_workbook(path)
        if calendar:
            book.epoch = calendar
            book.save(path)
        reading = read_book(path)
        days.append(str(Dossier(reading.records).all(PullOff)[0].date))
        assert ("1904" in str(reading.warnings)) == bool(calendar)
    assert days == ["2024-05-02", "2024-05-02"]


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_csv_files_are_read_in_four_encodings_and_keep_their_signs(
    encoding: str, tmp_path: Path
) -> None:
    path = folder(tmp_path / "visit", small_book())
    rows = 'ref;location;method;layer;readings;unit;note\nT1;L1;magnetic;total;690;µm;"25 °C"\n'
    (path / "thickness.csv").write_bytes(rows.encode(encoding))
    reading = read_book(path)
    assert not reading.hindrances
    (thickness,) = Dossier(reading.records).all(Thickness)
    assert (thickness.unit, thickness.note) == ("um", "25 °C")
    assert "parted by a semicolon" in str(reading.warnings)
    assert ("Western European" in str(reading.warnings)) == (encoding == "cp1252")


def test_a_csv_file_that_cannot_be_taken_apart_is_told(tmp_path: Path) -> None:
    path = folder(tmp_path / "visit", small_book())
    (path / "areas.csv").write_text('ref,name,condition\nA1,"Bay 1,failing\n', "utf-8")
    (problem,) = read_book(path).hindrances
    assert problem.place == "areas"
    assert "cannot be taken apart near line" in problem.wrong


def test_a_binary_file_named_csv_is_told(tmp_path: Path) -> None:
    path = folder(tmp_path / "visit", small_book())
    (path / "areas.csv").write_bytes(b"PK\3\4\0\0")
    assert "not a text" in read_book(path).hindrances[0].wrong


def test_a_csv_file_that_a_record_names_is_no_strange_sheet(tmp_path: Path) -> None:
    sheets = small_book()
    sheets["documents"] = [["ref", "title", "status", "file"], ["D1", "log", "received", "log.csv"]]
    sheets["log"] = [["time", "value"], ["1", "2"]]
    reading = read_book(folder(tmp_path / "visit", sheets))
    assert not reading.hindrances
    assert "log.csv" in {one.name for one in reading.files}


def test_readings_may_bring_their_unit_and_the_unit_column_stay_blank(tmp_path: Path) -> None:
    sheets = small_book() | {
        "thickness": [
            ["ref", "location", "method", "layer", "readings", "unit"],
            ["T1", "L1", "magnetic", "total", "5 mil; 6 mil", None],
            ["T2", "L1", "magnetic", "total", "120", None],
        ]
    }
    reading = read(tmp_path, sheets)
    (problem,) = reading.hindrances
    assert (problem.cell, problem.wrong) == ("F3", "no unit")
    (first,) = Dossier(reading.records).all(Thickness)
    assert first.unit == "mil"


def test_a_number_without_the_unit_it_needs_is_refused(tmp_path: Path) -> None:
    sheets = set_cell(small_book(), "pull-off", "unit", 2, None)
    (problem,) = read(tmp_path, sheets).hindrances
    assert (problem.cell, problem.wrong) == ("H2", "a number without its unit")


def test_a_unit_of_another_kind_is_refused(tmp_path: Path) -> None:
    sheets = set_cell(small_book(), "pull-off", "unit", 2, "mm")
    (problem,) = read(tmp_path, sheets).hindrances
    assert problem.wrong == "mm is no unit of this column"


def test_c_alone_is_no_unit_in_a_cell(tmp_path: Path) -> None:
    sheets = small_book() | {"weather": [["time", "air C"], ["2024-05-02 08:00", "21 C"]]}
    (problem,) = read(tmp_path, sheets).hindrances
    assert (problem.wrong, problem.right) == ("“C” is no unit", "write degC")


def test_a_qualifier_may_stand_before_its_value(tmp_path: Path) -> None:
    sheets = small_book() | {
        "measurements": [
            ["ref", "location", "method", "quantity", "value", "unit", "qualifier"],
            ["M1", "L1", "f-salts", "salts", "<5", "mg/m2", None],
            ["M2", "L1", "f-salts", "salts", "<5", "mg/m2", ">"],
        ]
    }
    reading = read(tmp_path, sheets)
    (first,) = Dossier(reading.records).all(Measurement)
    assert (str(first.qualifier), str(first.value)) == ("<", "5 mg/m2")
    assert at(reading, "measurements!E3").hinders


def test_a_tape_rating_may_bear_the_letter_of_its_method(tmp_path: Path) -> None:
    sheets = small_book() | {
        "ratings": [
            ["ref", "location", "method", "rating"],
            ["R1", "L1", "ASTM D3359 B", "4B"],
            ["R2", "L1", "ASTM D3359 A", "4B"],
        ]
    }
    reading = read(tmp_path, sheets)
    assert str(Dossier(reading.records).all(Rating)[0].rating) == "4"
    assert at(reading, "ratings!D3").hinders


def test_an_uncertainty_needs_no_unit_of_its_own(tmp_path: Path) -> None:
    sheets = small_book() | {
        "samples": [["ref", "kind", "at"], ["S1", "film", "L1"]],
        "lab": [
            ["ref", "sample", "method", "quantity", "value", "unit", "uncertainty", "k"],
            ["R1", "S1", "l-dsc", "tg_first", 52.5, "degC", 1.5, 2],
        ],
    }
    reading = read(tmp_path, sheets)
    assert not [one for one in reading.problems if one.place == "lab"]
    assert str(Dossier(reading.records).all(LabResult)[0].value) == "52.5 degC"


def test_keys_of_the_case_without_a_value_say_nothing(tmp_path: Path) -> None:
    sheets = small_book()
    sheets["case"] += [["client", None], ["opened", datetime.fromisoformat("2024-05-01")]]
    reading = read(tmp_path, sheets)
    assert not reading.hindrances
    held = Dossier(reading.records)
    assert held.entry("opened") == "2024-05-01"
    assert "client" not in [one.key for one in held.all(CaseEntry)]


def test_progress_is_told_and_a_step_that_raises_stops_the_reading(tmp_path: Path) -> None:
    sheets = small_book()
    sheets["weather"] = [["time"], *([f"2024-05-02 {n // 60:02}:{n % 60:02}"] for n in range(900))]
    path = workbook(tmp_path / "book.xlsx", sheets)
    told: list[tuple[int, int]] = []
    read_book(path, step=lambda done, whole: told.append((done, whole)))
    assert told == sorted(told)
    assert all(done <= whole for done, whole in told)
    assert told[-1][0] == told[-1][1] > 900

    def stop(done: int, _whole: int) -> None:
        if done > 500:
            raise Cancelled

    with pytest.raises(Cancelled):
        read_book(path, step=stop)


def test_a_sheet_far_to_the_right_or_below_is_read_in_no_time(tmp_path: Path) -> None:
    book = Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.title = "areas"
    for row in small_book()["areas"]:
        sheet.append(row)
    sheet["XFD2"] = "far"
    sheet["A1048576"] = "A9"
    book.save(tmp_path / "book.xlsx")
    reading = read_book(tmp_path / "book.xlsx")
    assert "right of column ZZ" in str(reading.warnings)
    assert at(reading, "areas!B1048576").wrong == "no name"


def test_a_substrate_named_from_below_has_the_material_of_its_top(tmp_path: Path) -> None:
    sheets = set_cell(small_book(), "coats", "material", 2, "Brick / Masonry render")
    reading = read(tmp_path, sheets)
    assert not reading.hindrances
    base = Dossier(reading.records).all(Coat)[0]
    assert (base.material, base.product) == ("masonry_render", "Brick / Masonry render")


def test_a_qualifier_is_kept_where_the_sheet_has_no_column_for_it(tmp_path: Path) -> None:
    sheets = small_book() | {
        "measurements": [
            ["ref", "location", "method", "quantity", "value", "unit"],
            ["M1", "L1", "f-salts", "salts", "<5", "mg/m2"],
        ]
    }
    (one,) = Dossier(read(tmp_path, sheets).records).all(Measurement)
    assert (str(one.qualifier), str(one.value)) == ("<", "5 mg/m2")


def test_everything_that_is_wrong_with_a_row_is_told_at_once(tmp_path: Path) -> None:
    sheets = set_cell(small_book(), "pull-off", "reading", 2, "strong")
    set_cell(sheets, "pull-off", "location", 2, None)
    set_cell(sheets, "pull-off", "fixture unit", 2, "MPa")
    problems = read(tmp_path, sheets).hindrances
    assert [one.cell for one in problems] == ["B2", "F2", "H2", "J2"]


def test_a_formula_in_a_unit_column_is_refused(tmp_path: Path) -> None:
    sheets = set_cell(small_book(), "pull-off", "unit", 2, '=CONCATENATE("M","Pa")')
    (problem, *_) = read(tmp_path, sheets).hindrances
    assert problem.cell in {"H2", "I2"}
    assert "a formula where a unit should stand" in str(read(tmp_path, sheets).hindrances)


def test_a_long_cell_is_quoted_in_part(tmp_path: Path) -> None:
    sheets = set_cell(small_book(), "pull-off", "reading", 2, "very " * 1000)
    (problem,) = read(tmp_path, sheets).hindrances
    assert len(problem.wrong) < 300
