"""The report on the screen: its text edited, its states entered, its exhibits in order."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from builders import make
from PySide6.QtTest import QAbstractItemModelTester
from pytestqt.qtbot import QtBot

from workbench.desk.acts import Add
from workbench.desk.case import Case
from workbench.desk.issuing import in_hand
from workbench.records import Area, CaseEntry, Document, EditedText, Exhibit, Photo
from workbench.ui.bench import Bench
from workbench.ui.drafts import Drafts
from workbench.ui.pages.exhibits import ExhibitsPage
from workbench.ui.pages.report import ReportPage
from workbench.ui.pages.report_text import ReportTextPage


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    case = Case.create(tmp_path / "a.case", author="Ann")
    case.do(
        Add(
            (
                make(CaseEntry, key="reference", value="CF-7"),
                make(CaseEntry, key="title", value="Floor"),
                make(Area, ref="A1", name="Bay 1"),
                make(Document, ref="DOC-1", name="Specification", status="received"),
                make(Document, ref="DOC-2", name="Data sheet", status="received"),
                make(Photo, ref="PH-1", file="photos/p.jpg", at="A1", caption="Bay 1"),
            )
        )
    )
    made = Bench(case, Drafts(tmp_path / "drafts", case.folder))
    yield made
    made.close()


@pytest.fixture
def text(bench: Bench, qtbot: QtBot) -> Iterator[ReportTextPage]:
    made = ReportTextPage(bench)
    qtbot.addWidget(made)
    made.show()
    qtbot.waitUntil(lambda: made.list.lines.rowCount() > 0, timeout=30_000)
    yield made
    made.hide()


def test_a_paragraph_is_put_into_other_words_and_back(
    text: ReportTextPage, bench: Bench, qtbot: QtBot
) -> None:
    block = text.chosen
    assert block is not None
    drafted = text.text.toPlainText()
    text.text.setPlainText("My own words.")
    text.save()
    edits = bench.dossier.all(EditedText)
    assert [one.text for one in edits] == ["My own words."]
    qtbot.waitUntil(lambda: text.text.toPlainText() == "My own words.", timeout=30_000)
    text.text.setPlainText("Better words.")
    text.save()
    assert [one.text for one in bench.dossier.all(EditedText)] == ["Better words."]
    qtbot.waitUntil(lambda: text.text.toPlainText() == "Better words.", timeout=30_000)
    text.put_back()
    assert bench.dossier.all(EditedText) == ()
    qtbot.waitUntil(lambda: text.text.toPlainText() == drafted, timeout=30_000)


def test_a_paragraph_as_drafted_cannot_be_put_back(
    text: ReportTextPage, bench: Bench, qtbot: QtBot
) -> None:
    with qtbot.waitSignal(bench.refused) as told:
        text.put_back()
    assert "as drafted" in told.args[0]


def test_the_states_of_an_edition_are_entered_from_the_page(bench: Bench, qtbot: QtBot) -> None:
    page = ReportPage(bench)
    qtbot.addWidget(page)
    page.show()
    assert "A draft" in page._state.text()
    page.check()
    qtbot.waitUntil(lambda: in_hand(bench.dossier) is not None, timeout=30_000)
    qtbot.waitUntil(lambda: "checked" in page._state.text(), timeout=30_000)
    qtbot.waitUntil(lambda: not page.work.busy, timeout=30_000)
    page.authorise()
    qtbot.waitUntil(lambda: "authorised" in page._state.text(), timeout=30_000)
    page.hide()


def test_an_item_of_the_checklist_is_stated_or_left_open_from_the_page(
    bench: Bench, qtbot: QtBot
) -> None:
    page = ReportPage(bench)
    qtbot.addWidget(page)
    page.show()
    page.fill()
    assert not page.checklist.isVisible()
    page.profile.setCurrentText("us-federal")
    assert page.checklist.isVisible()
    stands = page.checklist.list.lines.lines
    at = [line.cells[0] for line in stands].index("compensation")
    assert "hinders" in stands[at].cells[1]
    with qtbot.waitSignal(bench.refused):
        page.checklist.state()
    page.checklist.list.selectRow(at)
    page.checklist.words.setText("Nothing is paid.")
    page.checklist.state()
    page.checklist.list.selectRow(at - 1)
    page.checklist.words.setText("The author has not testified.")
    page.checklist.leave_open()
    after = page.checklist.list.lines.lines
    assert after[at].cells[1] == "settled"
    assert after[at - 1].cells[1] == "left open: The author has not testified."
    page.hide()


@pytest.fixture
def exhibits(bench: Bench, qtbot: QtBot) -> Iterator[ExhibitsPage]:
    made = ExhibitsPage(bench)
    qtbot.addWidget(made)
    made.show()
    for of, kind in (("DOC-1", "substantive"), ("DOC-2", "substantive"), ("DOC-1", "summary")):
        made.fields.put("of", f"document {of}")
        made.fields.put("kind", kind)
        made.add()
    yield made
    made.hide()


def titles(page: ExhibitsPage) -> list[str]:
    return [line.cells[0] for line in page.list.lines.lines]


def test_exhibits_keep_their_numbers_when_they_are_put_in_order(exhibits: ExhibitsPage) -> None:
    QAbstractItemModelTester(
        exhibits.list.lines, QAbstractItemModelTester.FailureReportingMode.Fatal
    )
    first, second, third = titles(exhibits)
    exhibits.list.dragged.emit(2, 0)
    assert titles(exhibits) == [third, first, second]
    exhibits._shift(1)
    assert titles(exhibits) == [first, third, second]


def test_a_withdrawn_exhibit_wants_a_reason_and_keeps_its_number(
    exhibits: ExhibitsPage, bench: Bench, qtbot: QtBot
) -> None:
    number = titles(exhibits)[0]
    with qtbot.waitSignal(bench.refused):
        exhibits.withdraw()
    exhibits.why.setText("served by another party")
    exhibits.withdraw()
    assert number in titles(exhibits)
    assert len(bench.dossier.all(Exhibit)) == 2
    exhibits.fields.put("of", "document DOC-2")
    exhibits.add()
    assert titles(exhibits).count(number) == 1


def test_what_is_not_there_is_refused_in_words(
    exhibits: ExhibitsPage, bench: Bench, qtbot: QtBot
) -> None:
    exhibits.fields.put("of", "document DOC-9")
    with qtbot.waitSignal(bench.refused):
        exhibits.add()
    assert exhibits.fields.text("of") == "document DOC-9"
