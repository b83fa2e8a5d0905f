"""`field-book`, `import` and `example`: what they show, what they ask, what they leave alone."""

import json
from io import StringIO
from pathlib import Path

import pytest
from builders import make
from openpyxl import load_workbook
from tools.field_books import set_cell, small_book, workbook

from workbench.cli.main import main
from workbench.desk.case import Case
from workbench.desk.issuing import Enter
from workbench.records import CustodyEntry, Edition, PullOff, When
from workbench.records.codes import CustodyEvent

Captured = pytest.CaptureFixture[str]


@pytest.fixture
def case(tmp_path: Path) -> Path:
    folder = tmp_path / "floor.case"
    Case.create(folder, author="A. Tester").close()
    return folder


@pytest.fixture
def book(tmp_path: Path) -> Path:
    return workbook(tmp_path / "book.xlsx", small_book())


def head(case: Path) -> str:
    with Case.open(case, read_only=True) as held:
        return str(held.heads)


def test_a_book_is_taken_in_without_asking_when_told_so(case: Path, book: Path) -> None:
    assert main(["import", str(case), str(book), "--yes"]) == 0
    with Case.open(case, read_only=True) as held:
        assert [one.ref for one in held.dossier.all(PullOff)] == ["P1", "P2"]
        assert held.original("book.xlsx") is not None
        assert held.journal()[-1].what.startswith("took in book.xlsx: 3 case entries, 3 coats")


def test_after_an_issue_a_book_that_changes_records_wants_a_reason(
    case: Path, book: Path, tmp_path: Path, capsys: Captured
) -> None:
    main(["import", str(case), str(book), "--yes"])
    issue = make(Edition, ref="R-1-R1", authorised_by="A", issued_on="2026-01-01")
    with Case.open(case) as held:
        held.do(Enter(issue, "issued"))
    changed = set_cell(small_book(), "pull-off", "reading", 2, 1.3)
    other = workbook(tmp_path / "other.xlsx", changed)
    assert main(["import", str(case), str(other), "--yes"]) == 2
    assert "give the reason with --why" in capsys.readouterr().err
    assert main(["import", str(case), str(other), "--yes", "--why", "misread"]) == 0
    with Case.open(case, read_only=True) as held:
        assert held.journal()[-1].why == "misread"


def test_the_same_book_again_leaves_the_journal_as_it_is(
    case: Path, book: Path, capsys: Captured
) -> None:
    main(["import", str(case), str(book), "--yes"])
    before = head(case)
    assert main(["import", str(case), str(book), "--yes"]) == 0
    assert head(case) == before
    assert "as before" in capsys.readouterr().out


@pytest.mark.parametrize(("typed", "taken"), [("y\n", True), ("n\n", False), ("\n", False)])
def test_a_person_is_asked_first(
    typed: str, *, taken: bool, case: Path, book: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sys.stdin", StringIO(typed))
    before = head(case)
    assert main(["import", str(case), str(book)]) == 0
    assert (head(case) != before) == taken


def test_a_dry_run_shows_and_changes_nothing(case: Path, book: Path, capsys: Captured) -> None:
    before = head(case)
    assert main(["import", str(case), str(book), "--dry-run"]) == 0
    assert head(case) == before
    assert "new: 3 case entries" in capsys.readouterr().out


def test_a_changed_book_shows_the_difference(case: Path, book: Path, capsys: Captured) -> None:
    main(["import", str(case), str(book), "--yes"])
    workbook(book, set_cell(small_book(), "pull-off", "reading", 2, 0.9))
    assert main(["import", str(case), str(book), "--yes"]) == 0
    said = capsys.readouterr().out
    assert "changed  pull-off P1: reading “0.9 MPa”, was “0.8 MPa”" in said
    with Case.open(case, read_only=True) as held:
        assert str(held.dossier.all(PullOff)[0].reading) == "0.9 MPa"


def test_while_a_problem_stands_nothing_is_taken_in(
    case: Path, book: Path, capsys: Captured
) -> None:
    workbook(book, set_cell(small_book(), "pull-off", "breaks", 2, "B 97"))
    before = head(case)
    assert main(["import", str(case), str(book), "--yes"]) == 1
    assert head(case) == before
    said = capsys.readouterr().out
    assert "pull-off!K2: the shares sum to 97; shares that sum to 100" in said
    assert "Nothing is taken in while 1 problem stands." in said


def test_json_has_problems_and_differences(case: Path, book: Path, capsys: Captured) -> None:
    main(["import", str(case), str(book), "--yes"])
    capsys.readouterr()
    workbook(book, set_cell(small_book(), "pull-off", "reading", 2, 0.9))
    assert main(["import", str(case), str(book), "--json"]) == 0
    said = json.loads(capsys.readouterr().out)
    assert said["taken_in"] is False
    assert said["changed"] == [
        {"record": "pull_off P1", "fields": {"reading": {"was": "0.8 MPa", "is": "0.9 MPa"}}}
    ]
    assert {"place", "cell", "wrong", "right", "hinders"} == said["problems"][0].keys()


def test_a_book_that_is_not_there_is_refused(case: Path, capsys: Captured) -> None:
    assert main(["import", str(case), "none.xlsx"]) == 2
    assert "there is no book none.xlsx" in capsys.readouterr().err


def test_a_case_that_another_one_writes_to_is_refused(
    case: Path, book: Path, capsys: Captured
) -> None:
    with Case.open(case):
        assert main(["import", str(case), str(book), "--yes"]) == 2
    assert "read" in capsys.readouterr().err


def test_a_corrected_custody_row_follows_the_old_one(case: Path, tmp_path: Path) -> None:
    def custody(seal: str) -> Path:
        sheets = small_book() | {
            "samples": [["ref", "kind"], ["S1", "film"]],
            "custody": [["sample", "when", "event", "seal"], ["S1", "2024-05-02", "sealed", seal]],
        }
        return workbook(tmp_path / "book.xlsx", sheets)

    for seal in ("40211", "40212", "40212"):
        assert main(["import", str(case), str(custody(seal)), "--yes"]) == 0
    with Case.open(case, read_only=True) as held:
        old, new = held.dossier.all(CustodyEntry)
    assert (old.seal, new.seal, new.corrects) == ("40211", "40212", old.id)
    assert (new.when, new.event) == (When("2024-05-02"), CustodyEvent.SEALED)


def test_the_field_book_is_written_and_never_overwritten(tmp_path: Path, capsys: Captured) -> None:
    out = tmp_path / "visit.xlsx"
    assert main(["field-book", str(out)]) == 0
    assert load_workbook(out).sheetnames[0] == "read me"
    before = out.read_bytes()
    assert main(["field-book", str(out)]) == 2
    assert out.read_bytes() == before
    assert main(["field-book", str(tmp_path / "visit.csv")]) == 2
    assert "visit.xlsx" in capsys.readouterr().err


def test_a_case_is_written_back_into_a_field_book(case: Path, book: Path, tmp_path: Path) -> None:
    main(["import", str(case), str(book), "--yes"])
    out = tmp_path / "again.xlsx"
    assert main(["field-book", str(out), "--case", str(case)]) == 0
    before = head(case)
    assert main(["import", str(case), str(out), "--yes"]) == 0
    assert head(case) == before


def test_the_example_is_made_in_the_current_folder_with_its_originals(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Captured
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["example"]) == 0
    with Case.open(tmp_path / "bottling-hall-floor.case", read_only=True) as held:
        assert held.dossier.entry("reference")
        assert held.original("photos/ph-01-hall.jpg") is not None
        assert held.original("bottling-hall-floor/pull-off.csv") is not None
    assert main(["example"]) == 2
    assert "is there already" in capsys.readouterr().err


def test_an_unknown_example_names_those_there_are(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Captured
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["example", "none"]) == 2
    assert "bottling-hall-floor" in capsys.readouterr().err
    assert not list(tmp_path.iterdir())
