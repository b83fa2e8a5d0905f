"""The causes on the screen: what leads, what a cell says, and what is decided about it."""

import shutil
from collections.abc import Iterator
from dataclasses import replace
from html import escape
from pathlib import Path
from typing import TypeVar

import pytest
from PySide6.QtCore import Qt, QThreadPool
from PySide6.QtTest import QAbstractItemModelTester, QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot
from tools.books import SAMPLE_CASES

from workbench.desk.case import Case
from workbench.desk.intake import make_from_book
from workbench.desk.questions.causes import knowledge_of
from workbench.reasoning import Bearing, Place
from workbench.records import (
    AddedCause,
    Answer,
    CauseDecision,
    EditedText,
    ExclusionDecision,
    Grade,
    ListOf,
    ListStatement,
    Opinion,
    WeightChange,
)
from workbench.records.codes import YesNo
from workbench.ui.bench import Bench
from workbench.ui.causes.forms import AnswerForm, ExclusionForm, GradeForm
from workbench.ui.causes.model import MatrixModel
from workbench.ui.causes.words import candidate_paragraphs
from workbench.ui.drafts import Drafts
from workbench.ui.pages.causes import CausesPage
from workbench.ui.pages.lists import ListsPage
from workbench.ui.pages.next_tests import NextTestsPage
from workbench.ui.pages.opinions import OpinionsPage
from workbench.ui.pages.page import Page
from workbench.ui.pages.prose import ProsePage
from workbench.ui.theme import wear

pytestmark = pytest.mark.computing
FATAL = QAbstractItemModelTester.FailureReportingMode.Fatal
P = TypeVar("P", bound=Page)
GRADE, EXCLUSION, ANSWER, WEIGHT = "&Grade", "E&xclusion", "&Answer", "&Weight"


@pytest.fixture(scope="module")
def quayside(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A case whose cause is not determined, made once."""
    folder = tmp_path_factory.mktemp("quayside") / "quayside-steel.case"
    return make_from_book(folder, SAMPLE_CASES / "quayside-steel", author="Ann")


@pytest.fixture
def bench(quayside: Path, tmp_path: Path, qapp: QApplication) -> Iterator[Bench]:
    wear(qapp, dark=False)
    case = Path(shutil.copytree(quayside, tmp_path / quayside.name))
    made = Bench(Case.open(case, author="Ann"), Drafts(tmp_path / "drafts", case))
    yield made
    made.close()
    QThreadPool.globalInstance().waitForDone()
    made.deleteLater()


def known(bench: Bench, qtbot: QtBot) -> None:
    """Wait until the candidates are weighed for the records as they are."""
    qtbot.waitUntil(lambda: bench.answers.ask(bench.causes) is not None, timeout=20_000)


def shown(page: P, qtbot: QtBot) -> P:
    qtbot.addWidget(page)
    page.resize(1110, 680)
    page.show()
    qtbot.waitExposed(page)
    known(page.bench, qtbot)
    return page


@pytest.fixture
def page(bench: Bench, qtbot: QtBot) -> Iterator[CausesPage]:
    made = shown(CausesPage(bench), qtbot)
    yield made
    made.hide()


def cell_of(page: CausesPage, *bearings: Bearing) -> None:
    """Go to the first cell with one of these bearings."""
    for row in page.matrix.cells.matrix.rows:
        for cell in row.cells:
            if cell.bearing in bearings:
                page.matrix.go_to(cell.cause, row.key)
                return
    raise AssertionError(bearings)


def show_which(page: CausesPage, name: str) -> None:
    page.which.setCurrentIndex(page.which.findData(name))
    page.show_matrix()


def decide(page: CausesPage, name: str, reason: str) -> None:
    form = page.card.forms[name]
    form.reason.setText(reason)
    form.done.emit()


def test_the_model_of_the_matrix_keeps_the_promises_of_qt(page: CausesPage) -> None:
    model = MatrixModel()
    tester = QAbstractItemModelTester(model, FATAL)
    model.show_matrix(page.matrix.cells.matrix)
    assert model.columnCount() == len(page.matrix.cells.matrix.candidates)
    assert model.rowCount() > len(page.matrix.cells.matrix.rows)
    model.show_matrix(page.matrix.cells.matrix.__class__(candidates=(), rows=()))
    assert model.rowCount() == 0
    assert tester.model() is model


def test_the_page_opens_on_a_leader_with_its_grade_and_says_that_it_is_not_determined(
    page: CausesPage,
) -> None:
    found = page.reasoning
    assert found is not None
    assert found.inconclusive
    lead = found.candidates[0]
    said = page.card.candidate.toPlainText()
    assert lead.title in said
    assert str(lead.grade) in said
    assert "Still to be read" in said
    assert found.next_tests[0].name in page._next.text()


def test_the_arrow_keys_walk_over_cells_and_step_over_the_names_of_stages(
    page: CausesPage,
) -> None:
    page.enter()
    cells = page.matrix.cells
    assert cells.stage_at(0) == "Background"
    page.matrix.setCurrentIndex(cells.index(1, 0))
    for _ in range(cells.rowCount()):
        QTest.keyClick(page.matrix, Qt.Key.Key_Down)
        assert cells.cell_at(page.matrix.currentIndex()) is not None
    assert page.matrix.currentIndex().row() == cells.rowCount() - 1
    QTest.keyClick(page.matrix, Qt.Key.Key_Right)
    assert page.matrix.currentIndex().column() == 1


def test_a_cell_lights_its_records_and_says_how_it_is_derived(page: CausesPage) -> None:
    cell_of(page, Bearing.SUPPORTS)
    assert page.finding is not None
    assert page.bench.selection.sources == page.finding[2]
    said = page.card.cell.toPlainText()
    assert "supports" in said
    assert "Derived" in said
    assert "Rests on" in said


def test_a_grade_above_the_rules_needs_a_written_reason(page: CausesPage) -> None:
    refused: list[str] = []
    page.bench.refused.connect(refused.append)
    page.card.decide(GRADE)
    form = page.card.forms[GRADE]
    assert isinstance(form, GradeForm)
    form.grade.setCurrentIndex(list(Grade).index(Grade.ESTABLISHED))
    decide(page, GRADE, "  ")
    assert refused
    assert not page.bench.dossier.all(CauseDecision)
    decide(page, GRADE, "the trial patch held where it was washed")
    (made,) = page.bench.dossier.all(CauseDecision)
    assert (made.grade, made.by) == (Grade.ESTABLISHED, "Ann")
    assert page.bench.case.journal()[-1].why == made.reason


def test_a_decision_made_in_one_place_holds_for_that_place_alone(page: CausesPage) -> None:
    whole = page.reasoning
    assert whole is not None
    place = Place(name="at the joints", areas=("T4",), leaders=whole.leaders[:1], reasoning=whole)
    page.bench.answers._known[page.bench.causes] = replace(whole, places=(place,))
    page.fill()
    assert not page.place.isHidden()
    page.place.setCurrentIndex(page.place.findData("at the joints"))
    page.show_matrix()
    page.card.decide(GRADE)
    decide(page, GRADE, "")
    (made,) = page.bench.dossier.all(CauseDecision)
    assert made.place == "at the joints"


def test_words_of_certainty_are_flagged_while_they_are_typed(page: CausesPage) -> None:
    page.card.decide(GRADE)
    form = page.card.forms[GRADE]
    form.reason.setText("this proves it")
    assert "proves" in form._flags.text()
    form.reason.setText("this supports it")
    assert form._flags.text() == ""


def test_a_candidate_says_what_is_known_of_it_and_from_which_works(page: CausesPage) -> None:
    knowledge, found = knowledge_of(page.bench.dossier), page.bench.answers.ask(page.bench.causes)
    assert found
    said = " ".join(candidate_paragraphs(found.candidates[0], found, knowledge))
    cause = knowledge.cause[found.candidates[0].cause]
    assert escape(cause.mechanism) in said
    assert "Usually done:" in said
    for work in knowledge.known_from(cause):
        assert escape(work) in said


def test_an_exclusion_is_confirmed_or_refused_with_a_reason(page: CausesPage, qtbot: QtBot) -> None:
    show_which(page, "excluded")
    assert all(one.excluded_by for one in page.matrix.cells.matrix.candidates)
    cell_of(page, Bearing.WOULD_EXCLUDE)
    cause = page.matrix.cells.candidate_at(page.matrix.currentIndex().column())
    assert cause is not None
    page.card.decide(EXCLUSION)
    form = page.card.forms[EXCLUSION]
    assert isinstance(form, ExclusionForm)
    form.way.setCurrentIndex(1)
    decide(page, EXCLUSION, "the log was written up afterwards")
    (made,) = page.bench.dossier.all(ExclusionDecision)
    assert (made.cause, made.confirmed) == (cause.cause, YesNo.NO)
    known(page.bench, qtbot)
    now = page.reasoning.candidate(cause.cause) if page.reasoning else None
    assert now is not None
    assert made.observation not in {cell.key for cell in now.excluded_by}


def test_an_answer_overrides_the_records_and_shows(page: CausesPage, qtbot: QtBot) -> None:
    cell_of(page, Bearing.SUPPORTS)
    row = page.matrix.cells.row_at(page.matrix.currentIndex().row())
    assert row is not None
    page.card.decide(ANSWER)
    form = page.card.forms[ANSWER]
    assert isinstance(form, AnswerForm)
    form.value.setCurrentIndex(form.value.findData("no"))
    decide(page, ANSWER, "the logger hung in the sun")
    assert any(one.observation == row.key for one in page.bench.dossier.all(Answer))
    known(page.bench, qtbot)
    found = page.reasoning.finding(row.key) if page.reasoning else None
    assert found is not None
    assert found.override is not None
    assert (found.value, found.override.derived) == ("no", row.finding.value)


def test_a_changed_weight_is_kept_for_the_case_and_told(page: CausesPage, qtbot: QtBot) -> None:
    cell_of(page, Bearing.SUPPORTS)
    page.card.decide(WEIGHT)
    decide(page, WEIGHT, "this product is known for it")
    assert page.bench.dossier.all(WeightChange)
    known(page.bench, qtbot)
    found = page.bench.answers.ask(page.bench.causes)
    assert found is not None
    assert found.changes[0].reason == "this product is known for it"


def test_adding_a_cause_asks_for_the_form_of_added_causes(page: CausesPage) -> None:
    asked: list[str] = []
    page.adding.connect(asked.append)
    page.card.adding.emit(AddedCause.noun)
    assert asked == [AddedCause.noun]


def test_filters_leave_only_the_candidates_that_they_name(page: CausesPage) -> None:
    everything = len(page.matrix.cells.matrix.candidates)
    show_which(page, "standing")
    assert not any(one.excluded_by for one in page.matrix.cells.matrix.candidates)
    box = page.narrowed["form"]
    box.setCurrentIndex(box.findData("wear"))
    page.show_matrix()
    assert 0 <= len(page.matrix.cells.matrix.candidates) < everything


def test_a_next_test_says_what_each_outcome_would_mean(bench: Bench, qtbot: QtBot) -> None:
    page = shown(NextTestsPage(bench), qtbot)
    found = bench.answers.ask(bench.causes)
    assert found is not None
    first = found.next_tests[0]
    said = page.outcomes.toPlainText()
    assert first.outcomes[0].words.rstrip(".") in said
    assert "Then leads" in said
    page.reason.setText("told by the foreman on site")
    page.answer()
    assert bench.dossier.all(Answer)[-1].observation == found.questions[0].key
    page.hide()


def test_a_list_that_is_empty_says_so_until_a_person_states_it(bench: Bench, qtbot: QtBot) -> None:
    page = shown(ListsPage(bench), qtbot)
    which = ListOf.UNEXPLAINED
    assert page.open[which].text()
    page.words[which].setText("nothing that was found is left over")
    page.say(which)
    (made,) = bench.dossier.all(ListStatement)
    assert (made.list_of, made.by) == (which, "Ann")
    known(bench, qtbot)
    assert not page.open[which].text()
    page.hide()


def test_an_opinion_is_drafted_for_each_question_and_its_words_are_watched(
    bench: Bench, qtbot: QtBot
) -> None:
    page = shown(OpinionsPage(bench), qtbot)
    page.draft()
    assert len(bench.dossier.all(Opinion)) == len(bench.dossier.questions)
    assert page.put.text().splitlines()[-1].startswith("Drafted, unsigned: O-01")
    page.form.form.show_record(bench.dossier.all(Opinion)[0], bench.dossier)
    page.form.form.write({"opinion": "This is certainly so."})
    assert "certainly" in page.asked_of.text()
    page.hide()


def test_an_opinion_has_room_to_be_read_and_its_fields_stay_where_they_are_while_one_types(
    bench: Bench, qtbot: QtBot
) -> None:
    page = shown(OpinionsPage(bench), qtbot)
    page.resize(760, 700)
    page.draft()
    qtbot.waitUntil(lambda: page.form.form.record is not None)
    qtbot.wait(50)
    ref = page.table.columnWidth(0)
    assert ref >= page.table.fontMetrics().horizontalAdvance("O-01") + 8
    fields = {name: page.form.form.field(name) for name in ("question", "opinion", "by", "signed")}
    for name in ("question", "opinion"):
        assert fields[name].width() > 250
    before = {name: field.mapTo(page, field.rect().topLeft()) for name, field in fields.items()}
    fields["opinion"].setFocus()
    QTest.keyClicks(fields["opinion"], "x")
    qtbot.wait(50)
    after = {name: field.mapTo(page, field.rect().topLeft()) for name, field in fields.items()}
    assert after == before
    page.hide()


def test_words_not_kept_yet_outlast_a_change_of_the_records(bench: Bench, qtbot: QtBot) -> None:
    page = shown(ProsePage(bench), qtbot)
    page.paragraphs[0].text.setPlainText("My own words.")
    page.renew()
    assert page.paragraphs[0].text.toPlainText() == "My own words."
    page.keep(page.paragraphs[0].paragraph, "My own words.")
    assert bench.dossier.all(EditedText)[0].digest
    known(bench, qtbot)
    assert page.paragraphs[0].paragraph.edited_by == "Ann"
    page.hide()
