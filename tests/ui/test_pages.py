"""The pages that are more than a table, used as a person uses them."""

import csv
import shutil
from dataclasses import replace
from pathlib import Path

import pytest
from builders import make
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel, QLineEdit
from pytestqt.qtbot import QtBot
from tools.books import SAMPLE_CASES
from tools.pages import page_of, said_in

from workbench.desk.acts import Change
from workbench.desk.case import Case
from workbench.desk.issuing import Enter
from workbench.desk.questions.open_points import Sort
from workbench.desk.reporting import every_open_point
from workbench.records import (
    DoubtAnswer,
    Edition,
    LabResult,
    Location,
    Measurement,
    Plane,
    PullOff,
    Rating,
)
from workbench.records.codes import Chapter
from workbench.records.problems import Cancelled
from workbench.ui.drafts import Drafts
from workbench.ui.pages.calculators import CalculatorsPage
from workbench.ui.pages.course import CoursePage
from workbench.ui.pages.entry import EntryPage
from workbench.ui.pages.history import HistoryPage
from workbench.ui.pages.open_points import OpenPointsPage
from workbench.ui.pages.records import RecordsPage
from workbench.ui.pages.report import ReportPage
from workbench.ui.pages.taking_in import TakingInPage
from workbench.ui.tasks import Step
from workbench.ui.window import Window

LOCATION_ROWS = "ref\tarea\tx\ty\nL901\tB3\t{x}\t4.5\nL902\tB3\t9.0\t5.5\n"


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """A copy of the sample's field book, to be changed."""
    return Path(
        shutil.copytree(SAMPLE_CASES / "bottling-hall-floor", tmp_path / "book", dirs_exist_ok=True)
    )


def change(book: Path, sheet: str, ref: str, said: dict[str, str]) -> None:
    path = book / f"{sheet}.csv"
    with path.open(newline="", encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    for row in rows:
        if row["ref"] == ref:
            row.update(said)
    with path.open("w", newline="", encoding="utf-8") as file:
        writer = csv.DictWriter(file, list(rows[0]))
        writer.writeheader()
        writer.writerows(rows)


def reading_ends(page: TakingInPage, qtbot: QtBot) -> None:
    qtbot.waitUntil(lambda: page.idle, timeout=30_000)


# -- taking in


def test_three_problems_are_told_put_right_in_the_book_and_then_it_is_taken_in(
    window: Window, book: Path, qtbot: QtBot
) -> None:
    assert window.desk
    assert window.bench
    change(book, "pull-off", "P-01", {"breaks": "C/D 90"})
    change(book, "pull-off", "P-02", {"location": "L999"})
    change(book, "ratings", "K-01", {"rating": "much"})
    window.desk.errands.take_in(book)
    page = page_of(window, "taking-in", TakingInPage)
    reading_ends(page, qtbot)
    told = [row for row in said_in(page.problems) if row[0] == "✕"]
    assert len(told) == 3
    assert ["C/D 90" in " ".join(row) or "90" in " ".join(row) for row in told].count(True) == 1
    assert any("L999" in " ".join(row) for row in told)
    assert any("much" in " ".join(row) for row in told)
    assert not page.take_button.isEnabled()
    change(book, "pull-off", "P-01", {"breaks": "C/D 90; D 10"})
    change(book, "pull-off", "P-02", {"location": "L302"})
    change(book, "ratings", "K-01", {"rating": "2"})
    page.read_again()
    reading_ends(page, qtbot)
    assert not [row for row in said_in(page.problems) if row[0] == "✕"]
    assert page.take_button.isEnabled()
    page.take()
    reading_ends(page, qtbot)
    pull = window.bench.dossier.find(PullOff, "P-01")
    rating = window.bench.dossier.find(Rating, "K-01")
    assert pull
    assert rating
    assert str(pull.breaks) == "C/D 90; D 10"
    assert str(rating.rating) == "2"
    assert window.bench.undo()
    back = window.bench.dossier.find(PullOff, "P-01")
    assert back
    assert str(back.breaks) == "C/D 100"


def test_a_book_that_changes_what_was_issued_asks_why_before_it_is_taken_in(
    window: Window, book: Path, qtbot: QtBot
) -> None:
    assert window.desk
    assert window.bench
    issue = make(Edition, ref="BH-R1", authorised_by="A", issued_on="2026-01-01")
    window.bench.case.do(Enter(issue, "issued"))
    change(book, "pull-off", "P-01", {"note": "misread"})
    window.desk.errands.take_in(book)
    page = page_of(window, "taking-in", TakingInPage)
    reading_ends(page, qtbot)
    assert not page.why.isHidden()
    with qtbot.waitSignal(window.bench.refused):
        page.take()
    page.why.setText("misread on site")
    page.take()
    reading_ends(page, qtbot)
    assert window.bench.case.journal()[-1].why == "misread on site"


def test_a_book_that_the_case_has_already_changes_nothing(
    window: Window, book: Path, qtbot: QtBot
) -> None:
    assert window.desk
    window.desk.errands.take_in(book)
    page = page_of(window, "taking-in", TakingInPage)
    reading_ends(page, qtbot)
    assert "nothing to take in" in page.said
    assert not page.take_button.isEnabled()


def test_a_reading_that_is_cancelled_leaves_the_case_as_it_was(
    window: Window, qtbot: QtBot
) -> None:
    assert window.bench
    acts = len(window.bench.case.journal())
    page = page_of(window, "taking-in", TakingInPage)

    def for_ever(step: Step) -> object:
        while True:
            step(1, 2)

    page.begin("a long book", for_ever)  # type: ignore[arg-type]
    qtbot.wait(20)
    page.leave()
    reading_ends(page, qtbot)
    assert page.said == "Stopped; nothing was taken in."
    assert len(window.bench.case.journal()) == acts


def test_rows_of_a_spreadsheet_are_pasted_with_the_problems_of_the_import(
    window: Window, qtbot: QtBot
) -> None:
    assert window.desk
    assert window.bench
    page_of(window, Location.noun, RecordsPage)
    QGuiApplication.clipboard().setText(LOCATION_ROWS.format(x="far"))
    window.desk.errands.paste_rows(window.desk.key)
    page = page_of(window, "taking-in", TakingInPage)
    reading_ends(page, qtbot)
    assert any("far" in " ".join(row) for row in said_in(page.problems) if row[0] == "✕")
    page.leave()
    assert window.desk.key == Location.noun
    QGuiApplication.clipboard().setText(LOCATION_ROWS.format(x="8.0"))
    window.desk.errands.paste_rows(window.desk.key)
    reading_ends(page, qtbot)
    page.take()
    reading_ends(page, qtbot)
    assert window.bench.dossier.find(Location, "L901")
    assert window.bench.dossier.find(Location, "L902")


def test_pasting_where_no_rows_belong_is_refused_in_words(window: Window) -> None:
    assert window.desk
    window.desk.open_page("report")
    QGuiApplication.clipboard().setText("anything")
    window.desk.errands.paste_rows(window.desk.key)
    assert "Rows can be pasted where" in window.told
    window.desk.open_page(Location.noun)
    QGuiApplication.clipboard().setText("  ")
    window.desk.errands.paste_rows(window.desk.key)
    assert "nothing to paste" in window.told


# -- entering tests


def fill_row(page: EntryPage, row: int, texts: dict[str, str]) -> None:
    for name, text in texts.items():
        page.grid.entries.write(row, name, text)


GOOD = {
    "ref": "P-91", "location": "L301", "method": "ASTM D7234", "fixture": "50 mm",
    "reading": "0.8 MPa",
}  # fmt: skip


def test_rows_that_can_be_read_are_saved_in_one_act_and_the_others_stay(window: Window) -> None:
    assert window.bench
    page = page_of(window, "entry", EntryPage)
    fill_row(page, 0, GOOD | {"breaks": "C/D 100"})
    fill_row(page, 1, GOOD | {"ref": "P-92", "breaks": "C/D 70; D 30"})
    fill_row(page, 2, GOOD | {"ref": "P-93", "breaks": "C/D 70"})
    acts = len(window.bench.case.journal())
    page.save()
    assert len(window.bench.case.journal()) == acts + 1
    assert window.bench.dossier.find(PullOff, "P-91")
    assert window.bench.dossier.find(PullOff, "P-92")
    assert window.bench.dossier.find(PullOff, "P-93") is None
    assert [row["ref"] for row in page.grid.entries.rows] == ["P-93"]
    row, field, words = page.grid.entries.troubles[0]
    assert (row, field) == (0, "breaks")
    assert "70" in words


def test_rows_that_were_not_saved_are_there_when_the_case_is_opened_again(window: Window) -> None:
    assert window.bench
    page = page_of(window, "entry", EntryPage)
    fill_row(page, 0, {"ref": "P-94", "reading": "0.8"})
    folder = window.bench.case.folder
    kept = Drafts(window.settings.drafts, folder).rows_of(PullOff)
    assert [(row["ref"], row["reading"]) for row in kept] == [("P-94", "0.8")]
    assert window.open_case(folder)
    again = page_of(window, "entry", EntryPage)
    assert again.grid.entries.text(0, "ref") == "P-94"


def test_a_mixed_break_is_set_on_the_stack_by_keys(window: Window) -> None:
    page = page_of(window, "entry", EntryPage)
    fill_row(page, 0, GOOD)
    page.grid.setCurrentIndex(page.grid.entries.index(0, 1))
    editor = page.breaks
    editor.setFocus()
    go_to(page, Plane("C/D"))
    QTest.keyClicks(editor, "80")
    assert page.grid.entries.text(0, "breaks") == "C/D 80"
    assert page.grid.entries.troubles
    go_to(page, Plane("D"))
    QTest.keyClick(editor, Qt.Key.Key_Space)
    assert page.grid.entries.text(0, "breaks") == "C/D 80; D 20"
    assert not page.grid.entries.troubles
    QTest.keyClick(editor, Qt.Key.Key_Minus)
    assert page.grid.entries.text(0, "breaks") == "C/D 80; D 15"
    QTest.keyClick(editor, Qt.Key.Key_Delete)
    assert page.grid.entries.text(0, "breaks") == "C/D 80"


def go_to(page: EntryPage, plane: Plane) -> None:
    for _ in page.breaks.planes:
        if page.breaks.current == plane:
            return
        QTest.keyClick(page.breaks, Qt.Key.Key_Down)
    raise AssertionError(plane)


# -- calculators, doubts, history, report


def beside(field: QLineEdit) -> str:
    """Return what stands beside a field of a calculator while something is typed in it."""
    room = field.parentWidget()
    return " ".join(one.text() for one in room.findChildren(QLabel)) if room else ""


def test_a_calculated_result_becomes_a_measurement_that_says_how_it_was_found(
    window: Window,
) -> None:
    page = page_of(window, "calculators", CalculatorsPage)
    page.choose("dew-point")
    for name, text in (("air", "20"), ("humidity", "60")):
        field = page.fields[name]
        assert isinstance(field, QLineEdit)
        QTest.keyClicks(field, text)
        assert "°C" in beside(field) or "%" in beside(field)
    shown = {row[0]: row[1] for row in said_in(page.results)}
    assert shown["dew point"].startswith("12.0")  # Magnus over water at 20 °C and 60 %: 12.0 °C
    page.record()
    form = page_of(window, Measurement.noun, RecordsPage).form.form
    assert form.texts["value"].startswith("12.0")
    assert form.texts["method"] == "calculation"
    assert "humidity 60" in form.texts["note"]


@pytest.mark.computing
def test_the_open_points_of_the_window_are_those_of_the_check(window: Window, qtbot: QtBot) -> None:
    assert window.bench
    result = window.bench.dossier.all(LabResult)[0]
    window.bench.do(Change(replace(result, deviation=""), "nothing was said"))
    page = page_of(window, "open-points", OpenPointsPage)
    qtbot.waitUntil(lambda: page.list.lines.rowCount() > 0, timeout=60_000)
    told = [line.behind for line in page.list.lines.lines]
    assert told == list(every_open_point(window.bench.case))
    assert any("deviations from the method" in line.cells[3] for line in page.list.lines.lines)


@pytest.mark.computing
def test_a_doubt_is_answered_with_a_reason_for_every_reading_it_concerns(
    window: Window, qtbot: QtBot
) -> None:
    assert window.bench
    page = page_of(window, "open-points", OpenPointsPage)
    qtbot.waitUntil(lambda: page.list.lines.rowCount() > 0, timeout=60_000)
    points = window.bench.answers.ask(window.bench.open_points)
    assert points
    row = next(at for at, one in enumerate(points) if one.sort is Sort.DOUBT)
    point = points[row]
    page.list.setCurrentIndex(page.list.lines.index(row, 0))
    page.answer()
    assert "Say why" in window.told
    QTest.keyClicks(page.reason, "seen on the photographs")
    page.answer()
    answers = [
        one for one in window.bench.dossier.all(DoubtAnswer) if one.reason.startswith("seen on")
    ]
    assert {one.about for one in answers} == {str(source) for source in point.sources}
    assert {one.rule for one in answers} == {point.rule}
    assert all(one.by == "Ann" for one in answers)
    qtbot.waitUntil(lambda: same_point_gone(window, point.words, point.sources), timeout=60_000)


def same_point_gone(window: Window, words: str, sources: object) -> bool:
    assert window.bench
    found = window.bench.answers.ask(window.bench.open_points)
    return found is not None and not [
        one
        for one in found
        if one.sort is Sort.DOUBT and one.words == words and one.sources == sources
    ]


def test_what_was_done_is_read_as_sentences_and_taken_back_there(window: Window) -> None:
    assert window.bench
    entry = page_of(window, "entry", EntryPage)
    fill_row(entry, 0, GOOD | {"breaks": "C/D 100"})
    entry.save()
    page = page_of(window, "history", HistoryPage)
    assert said_in(page.list)[0][2:4] == ("Ann", "Added pull-off P-91")
    number = len(said_in(page.list))
    page.undo.click()
    gone = window.bench.dossier.find(PullOff, "P-91")
    assert gone
    assert gone.withdrawn
    assert len(said_in(page.list)) == number + 1  # taking back is an act like any other
    page.redo.click()
    back = window.bench.dossier.find(PullOff, "P-91")
    assert back
    assert not back.withdrawn


def test_the_report_is_written_beside_the_screen(
    window: Window, tmp_path: Path, qtbot: QtBot
) -> None:
    page = page_of(window, "report", ReportPage)
    page.pdf.setChecked(False)
    page.form.setCurrentText("short")
    out = tmp_path / "report.docx"
    page.write(out)
    assert page.work.busy
    qtbot.waitUntil(lambda: not page.work.busy, timeout=120_000)
    assert out.is_file(), page.said
    assert str(out) in page.said


def test_a_report_that_is_cancelled_leaves_nothing(
    window: Window, tmp_path: Path, qtbot: QtBot
) -> None:
    page = page_of(window, "report", ReportPage)
    page.pdf.setChecked(False)
    out = tmp_path / "out" / "report.docx"
    out.parent.mkdir()
    page.write(out)
    page.work.cancel()
    qtbot.waitUntil(lambda: not page.work.busy, timeout=120_000)
    assert list(out.parent.iterdir()) == []


def test_what_goes_wrong_beside_the_screen_is_told_in_words(window: Window, qtbot: QtBot) -> None:
    page = page_of(window, "report", ReportPage)

    def fails(_step: Step) -> object:
        raise PermissionError(13, "no right to write", "/there")

    page.work.begin("Writing", fails, print)
    qtbot.waitUntil(lambda: not page.work.busy)
    assert "no right to write" in page.said


def test_work_stops_at_its_next_step_when_it_is_cancelled(window: Window, qtbot: QtBot) -> None:
    begun: list[bool] = []
    stopped: list[bool] = []

    def counts(step: Step) -> object:
        begun.append(True)
        try:
            for number in range(10_000_000):
                step(number, 10_000_000)
        except Cancelled:
            stopped.append(True)
            raise
        return None

    window.work.begin("Counting", counts, lambda _result: stopped.append(False))
    qtbot.waitUntil(lambda: bool(begun))
    window.work.cancel()
    qtbot.waitUntil(lambda: not window.work.busy)
    assert stopped == [True]


def test_a_case_open_for_reading_offers_nothing_that_would_change_it(
    window: Window, made_once: Path
) -> None:
    assert window.open_case(made_once, read_only=True)
    assert window.bench
    page = page_of(window, "entry", EntryPage)
    fill_row(page, 0, GOOD | {"breaks": "C/D 100"})
    page.save()
    assert window.told.startswith("✕")
    assert "reading" in window.told
    assert not window.bench.undo()
    with Case.open(made_once, read_only=True) as case:
        assert case.dossier.find(PullOff, "P-91") is None


@pytest.mark.computing
def test_the_course_of_the_case_is_in_order_narrowed_and_opened(
    window: Window, qtbot: QtBot
) -> None:
    page = page_of(window, "course", CoursePage)
    assert window.bench
    assert window.desk
    qtbot.waitUntil(lambda: page.list.lines.rowCount() > 20, timeout=60_000)
    days = [row[0].partition(" to ")[0] for row in said_in(page.list)]
    assert days == sorted(days)
    page.chapters.setCurrentText(str(Chapter.FIELD_TESTS))
    page.fill()
    tests = said_in(page.list)
    assert 0 < len(tests) < len(days)
    row = next(n for n, one in enumerate(tests) if "pull-off" in one[1])
    page.list.setCurrentIndex(page.list.lines.index(row, 0))
    lit = window.bench.selection.sources
    assert {one.noun for one in lit} == {"pull_off"}
    QTest.keyClick(page.list, Qt.Key.Key_Return)
    assert window.desk.key == "pull_off"
