"""Taking a book into a case: read first, one act, and nothing left of what was stopped."""

from pathlib import Path
from typing import Any

import pytest
from tools.field_books import set_cell, small_book, workbook

from workbench.desk.acts import ActRefusedError
from workbench.desk.case import Case
from workbench.desk.intake import read_for
from workbench.records import Cancelled, PullOff


@pytest.fixture
def case(tmp_path: Path) -> Case:
    return Case.create(tmp_path / "a.case", author="Ann")


def test_a_book_is_one_act_with_one_line_in_the_journal(case: Case, tmp_path: Path) -> None:
    book = workbook(tmp_path / "book.xlsx", small_book())
    intake = read_for(case, book)
    assert intake.possible
    before = len(case.journal())
    entry = case.do(intake.act())
    assert len(case.journal()) == before + 1
    assert entry.what.startswith("took in book.xlsx: 3 case entries, 3 coats")
    assert not read_for(case, book).possible


def test_what_was_taken_in_can_be_undone_and_taken_in_again(case: Case, tmp_path: Path) -> None:
    book = workbook(tmp_path / "book.xlsx", small_book())
    case.do(read_for(case, book).act())
    case.undo()
    assert not case.dossier.all(PullOff)
    case.do(read_for(case, book).act())
    assert [one.ref for one in case.dossier.all(PullOff)] == ["P1", "P2"]


def test_a_book_with_a_problem_is_not_possible(case: Case, tmp_path: Path) -> None:
    sheets = set_cell(small_book(), "pull-off", "reading", 2, "strong")
    assert not read_for(case, workbook(tmp_path / "book.xlsx", sheets)).possible


def test_a_book_without_anything_new_gives_no_act(case: Case, tmp_path: Path) -> None:
    book = workbook(tmp_path / "book.xlsx", small_book())
    case.do(read_for(case, book).act())
    with pytest.raises(ActRefusedError, match="nothing new"):
        case.do(read_for(case, book).act())


def test_rows_of_a_log_that_share_their_identity_are_taken_in(case: Case, tmp_path: Path) -> None:
    row: list[Any] = ["A1", 1, "2024-03-01", "B-1"]
    log = [["area", "coat", "start", "batch a"], row, [*row[:3], "B-2"]]
    book = workbook(tmp_path / "book.xlsx", small_book() | {"applications": log})
    case.do(read_for(case, book).act())
    assert not read_for(case, book).possible


def test_a_stopped_intake_leaves_no_trace(case: Case, tmp_path: Path) -> None:
    sheets = small_book()
    sheets["locations"] += [[f"X{n}", "A1", n, n] for n in range(400)]
    book = workbook(tmp_path / "book.xlsx", sheets)

    def stop(done: int, whole: int) -> None:
        if 2 * done > whole:
            raise Cancelled

    before = (case.heads, _files(case.folder))
    with pytest.raises(Cancelled):
        read_for(case, book, stop)
    intake = read_for(case, book)
    with pytest.raises(Cancelled):
        case.do(intake.act(), stop)
    assert (case.heads, _files(case.folder)) == before
    assert not case.dossier.everything()


def _files(folder: Path) -> set[str]:
    return {str(one) for one in (folder / "originals").rglob("*") if one.is_file()}
