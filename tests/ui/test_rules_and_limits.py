"""The page of rules and thresholds, and the page of results beside the limits."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from workbench.desk.questions.limits import limits_in
from workbench.trade.settings import DecisionRule, settings_of
from workbench.ui.bench import Bench
from workbench.ui.pages.limits import LimitsPage
from workbench.ui.pages.rules import RulesPage, rules

pytestmark = pytest.mark.computing


@pytest.fixture
def page(bench: Bench, qtbot: QtBot) -> RulesPage:
    made = RulesPage(bench)
    qtbot.addWidget(made)
    made.show()
    qtbot.waitUntil(lambda: bool(made.list.lines.lines), timeout=20_000)
    return made


def _go_to(page: RulesPage, words: str) -> None:
    page.filter.setText(words)
    assert page.list.lines.rowCount() == 1


def test_a_rule_is_chosen_with_the_keyboard_and_taken_back(
    page: RulesPage, bench: Bench, qtbot: QtBot
) -> None:
    _go_to(page, "become a pass or a fail")
    assert page.list.lines.lines[0].cells[0] == ""
    page.words.setFocus()
    page.words.setCurrentText("guard band")
    page.reason.setText("agreed with both sides")
    QTest.keyClick(page.reason, Qt.Key.Key_Return)
    assert settings_of(bench.dossier).decision_rule is DecisionRule.GUARD_BAND
    assert page.reason.text() == ""
    qtbot.waitUntil(lambda: page.list.lines.lines[0].cells[0] == "●", timeout=20_000)
    assert page.finding
    assert [str(source) for source in page.finding[2]] == ["case_entry setting decision_rule"]
    assert bench.undo()
    qtbot.waitUntil(lambda: page.list.lines.lines[0].cells[0] == "", timeout=20_000)
    assert settings_of(bench.dossier).decision_rule is DecisionRule.NOT_CHOSEN


def test_what_cannot_be_chosen_is_refused_and_keeps_what_was_typed(
    page: RulesPage, bench: Bench
) -> None:
    refused: list[str] = []
    bench.refused.connect(refused.append)
    _go_to(page, "are not parted")
    page.number.setText("two")
    page.reason.setText("why")
    page.choose()
    page.reason.clear()
    page.number.setText("3")
    page.choose()
    assert "a number" in refused[0]
    assert "printed" in refused[1]
    assert page.number.text() == "3"


def test_a_default_says_where_it_comes_from_and_what_others_say(
    page: RulesPage, bench: Bench
) -> None:
    found = bench.answers.ask(rules)
    assert found
    assert page.list.lines.rowCount() == len(found)
    _go_to(page, "say no more than")
    assert "procedure of a tester" in page.list.lines.lines[0].cells[-1]
    assert "25 %: ASTM D7234" in page._others.text()
    _go_to(page, "stress can a tester just show")
    bench.selection.clear()
    assert page.finding == (
        "What stress can a tester just show?", "0.2 MPa; usual: common practice, no source", ()
    )  # fmt: skip


def test_results_stand_beside_their_limit_and_nothing_passes_without_a_rule(
    bench: Bench, qtbot: QtBot
) -> None:
    page = LimitsPage(bench)
    qtbot.addWidget(page)
    page.show()
    qtbot.waitUntil(lambda: bool(page.list.lines.lines), timeout=20_000)
    found = bench.answers.ask(limits_in(bench.showing.system))
    assert found
    assert {str(one.verdict) for one in found} == {"value only"}
    assert page.results.lines.rowCount() == len(found[0].results)
    assert page.finding
    assert found[0].limit in page.finding[2]
    assert bench.selection.sources
    page.hide()
