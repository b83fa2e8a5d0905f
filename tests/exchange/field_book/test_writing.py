"""The field book as it is written: what goes to site, and a case written back."""

import shutil
import subprocess
import zipfile
from pathlib import Path

import pytest
from builders import make
from openpyxl import load_workbook
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet
from tools.books import SAMPLE_CASES, reading_of

from workbench.exchange.field_book.columns import header_of
from workbench.exchange.field_book.comparing import compare
from workbench.exchange.field_book.explaining import words
from workbench.exchange.field_book.reading import read_book
from workbench.exchange.field_book.writing import FieldBookError, write_field_book
from workbench.records import (
    FIELD_BOOK,
    Area,
    CaseEntry,
    Coat,
    Dossier,
    Location,
    Outcome,
    PullOff,
    Quantity,
    Weather,
)

SAMPLE = SAMPLE_CASES / "bottling-hall-floor"
ATTACKS = (
    "=1+2", "=cmd|'/c calc'!A0", "+1+2", "-1+2", "@SUM(1)", "\t=1+2", '=HYPERLINK("x")',
    "#N/A", "#REF!", "TRUE", "0012", "3/4", "12E5", "1-2", "12345678901234567890", "1,5",
    '"=1+2"', "'=1+2", "; DROP", "a\nb", "½ µm °", "2024-05-02",
)  # fmt: skip


@pytest.fixture(scope="module")
def empty(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("book") / "field-book.xlsx"
    write_field_book(path)
    return path


def sheet_of(path: Path, name: str) -> Worksheet:
    sheet = load_workbook(path)[name]
    assert isinstance(sheet, Worksheet)
    return sheet


def test_the_first_sheet_explains_and_the_others_stand_in_their_order(empty: Path) -> None:
    book = load_workbook(empty)
    assert book.sheetnames == ["read me", *(kind.sheet for kind in FIELD_BOOK), "lists"]
    assert [one.title for one in book.worksheets if one.sheet_state != "visible"] == ["lists"]


def test_the_header_rows_are_written_as_agreed_and_stay_in_view(empty: Path) -> None:
    book = load_workbook(empty)
    for kind in FIELD_BOOK:
        sheet = book[kind.sheet]
        assert tuple(cell.value for cell in sheet[1]) == header_of(kind)
        assert str(sheet.freeze_panes)[1:] == "2"
        assert all(cell.font.bold for cell in sheet[1])


def test_the_explanation_has_the_cautions_and_where_they_stand(empty: Path) -> None:
    said = " ".join(str(cell.value) for row in sheet_of(empty, "read me") for cell in row)
    for words_of_care in ("Hydraulic testers", "silica", "lead", "Solvents", "confined spaces",
                          "spark tester", "Blades", "Local codes"):  # fmt: skip
        assert words_of_care in said
    assert all(line in said for line in words().filling_in)


def test_the_case_sheet_stars_what_every_case_needs(empty: Path) -> None:
    keys = [row[0] for row in sheet_of(empty, "case").iter_rows(min_row=2, values_only=True)]
    assert keys == [
        "reference*", "title*", "client", "site", "object", "opened", "time zone", "units",
        "question 1",
    ]  # fmt: skip


def drop_downs(path: Path, name: str) -> dict[str, str]:
    """Return what the drop-downs of a sheet take their words from, by heading."""
    sheet = sheet_of(path, name)
    return {
        str(sheet.cell(1, sheet[str(one.sqref).split(":")[0]].column).value): str(one.formula1)
        for one in sheet.data_validations.dataValidation
        if one.type == "list"
    }


def test_words_of_a_list_are_chosen_from_it(empty: Path) -> None:
    lists = sheet_of(empty, "lists")
    source = drop_downs(empty, "pull-off")["method*"].removeprefix("lists!").replace("$", "")
    chosen = [cell.value for row in lists[source] for cell in row]
    assert chosen == ["ISO 4624", "ASTM D4541", "ASTM D7234", "ASTM C1583", "EN 1542"]
    assert {"form*"} <= drop_downs(empty, "survey").keys()
    assert {"method*", "quantity*", "face"} & drop_downs(empty, "lab").keys() >= {"method*"}


def test_refs_are_chosen_from_those_that_were_written(empty: Path) -> None:
    assert "'locations'!$A$2" in drop_downs(empty, "pull-off")["location*"]


def test_columns_of_names_dates_and_lists_are_text_and_numbers_are_not(empty: Path) -> None:
    sheet = sheet_of(empty, "pull-off")
    formats = {
        str(cell.value).rstrip("*"): sheet.column_dimensions[get_column_letter(at)].number_format
        for at, cell in enumerate(sheet[1], start=1)
    }
    assert {formats[name] for name in ("ref", "location", "date", "breaks", "note")} == {"@"}
    assert {formats[name] for name in ("fixture", "reading", "seconds", "on")} == {"General"}


def test_the_book_says_what_made_it(empty: Path) -> None:
    with zipfile.ZipFile(empty) as archive:
        everything = b" ".join(archive.read(name) for name in archive.namelist()).lower()
    assert b"coating-failure workbench" in everything
    assert b"<dc:creator>openpyxl" not in everything


def test_an_empty_book_reads_as_an_empty_book(empty: Path) -> None:
    (problem,) = read_book(empty).problems
    assert problem.wrong == "there is no filled row in it"


def test_a_case_that_is_written_and_read_again_changes_nothing(tmp_path: Path) -> None:
    case = Dossier(reading_of(SAMPLE).records)
    path = tmp_path / "hall.xlsx"
    write_field_book(path, case)
    reading = read_book(path, case)
    assert not reading.hindrances
    changes = compare(case, reading)
    assert not changes
    assert not changes.absent
    assert len(changes.unchanged) == len(case.everything())


def back(path: Path, case: Dossier) -> Dossier:
    write_field_book(path, case)
    return Dossier(read_book(path, case).records)


def test_digits_and_units_come_back_as_they_were_written(tmp_path: Path) -> None:
    numbers = ["50.0", "0.50", "1e-7", "007", "-3", "123456789012345678", "2.4"]
    places = [make(Location, ref=f"L{n}", x=text) for n, text in enumerate(numbers)]
    returned = back(tmp_path / "book.xlsx", Dossier([make(Area), *places])).all(Location)
    assert [one.x for one in returned] == [Quantity(text, "m") for text in numbers]


def test_mixed_units_of_one_row_come_back(tmp_path: Path) -> None:
    coat = make(Coat, dft_nominal="80 um", dft_min="3 mil")
    pull = make(PullOff, fixture="20 mm", calibrated_for="2 in", cut_round="12 mm")
    case = back(tmp_path / "book.xlsx", Dossier([coat, pull]))
    (returned,) = case.all(Coat)
    assert (str(returned.dft_nominal), str(returned.dft_min)) == ("80 um", "3 mil")
    write_field_book(tmp_path / "book.xlsx", Dossier([pull]))
    assert load_workbook(tmp_path / "book.xlsx")["pull-off"]["G2"].value == "20 mm"


def test_a_word_and_a_number_are_both_outcomes(tmp_path: Path) -> None:
    row = load_workbook_row(tmp_path, make(PullOff, cut_round=Outcome(word="yes")))
    assert row[9] == "yes"


def load_workbook_row(tmp_path: Path, record: PullOff) -> tuple[object, ...]:
    path = tmp_path / "book.xlsx"
    write_field_book(path, Dossier([record]))
    return next(load_workbook(path)["pull-off"].iter_rows(min_row=2, values_only=True))


@pytest.fixture(scope="module")
def attacked(tmp_path_factory: pytest.TempPathFactory) -> Worksheet:
    path = tmp_path_factory.mktemp("attacks") / "book.xlsx"
    areas = [make(Area, ref=f"A{n}", note=text) for n, text in enumerate(ATTACKS)]
    write_field_book(path, Dossier(areas))
    return sheet_of(path, "areas")


@pytest.mark.parametrize("text", ATTACKS)
def test_a_text_stays_the_text_it_is(text: str, attacked: Worksheet) -> None:
    cell = attacked.cell(ATTACKS.index(text) + 2, 10)
    assert (cell.value, cell.data_type, cell.number_format) == (text, "s", "@")
    assert cell.quotePrefix == text.startswith(("=", "+", "-", "@", "\t"))


def test_a_negative_number_stays_a_number(tmp_path: Path) -> None:
    path = tmp_path / "book.xlsx"
    write_field_book(path, Dossier([make(Weather, time="2024-05-02", air="-1.5")]))
    cell = load_workbook(path)["weather"]["C2"]
    assert (cell.value, cell.data_type, cell.number_format) == (-1.5, "n", "0.0")


@pytest.mark.parametrize("note", ["x" * 40_000, "bell \a"])
def test_a_text_that_no_cell_can_hold_is_refused_and_nothing_is_written(
    note: str, tmp_path: Path
) -> None:
    path = tmp_path / "book.xlsx"
    path.write_bytes(b"filled in by hand")
    with pytest.raises(FieldBookError, match="areas!J2"):
        write_field_book(path, Dossier([make(Area, note=note)]))
    assert path.read_bytes() == b"filled in by hand"
    assert [one.name for one in tmp_path.iterdir()] == ["book.xlsx"]


def test_withdrawn_records_are_not_written(tmp_path: Path) -> None:
    case = Dossier([make(Area), make(Area, ref="A2", withdrawn="wrong bay")])
    assert [one.ref for one in back(tmp_path / "book.xlsx", case).all(Area)] == ["A1"]


def test_questions_beyond_the_first_are_written(tmp_path: Path) -> None:
    entries = [CaseEntry(key=f"question {n}", value=f"Why {n}?") for n in (1, 2)]
    assert back(tmp_path / "book.xlsx", Dossier(entries)).questions == ("Why 1?", "Why 2?")


@pytest.mark.skipif(shutil.which("soffice") is None, reason="no other spreadsheet program here")
def test_another_spreadsheet_program_keeps_every_name_and_digit(tmp_path: Path) -> None:
    refs = ["0012", "3/4", "12E5", "1-2", "TRUE", "=1+2", "2024-05-02", "00123456789012345678"]
    case = Dossier([make(Location, ref=ref, x="50.0", y="2.25", level="3/4") for ref in refs])
    path = tmp_path / "book.xlsx"
    write_field_book(path, case)
    (tmp_path / "again").mkdir()
    run = subprocess.run(
        ["soffice", f"-env:UserInstallation=file://{tmp_path}/profile", "--headless",
         "--convert-to", "xlsx", "--outdir", str(tmp_path / "again"), str(path)],
        capture_output=True, timeout=120, check=False,
    )  # fmt: skip
    if run.returncode or not (tmp_path / "again" / "book.xlsx").exists():
        pytest.skip("the other program has no spreadsheets")
    reading = read_book(tmp_path / "again" / "book.xlsx", case)
    assert [one.ref for one in Dossier(reading.records).all(Location)] == refs
    assert not compare(case, reading)
