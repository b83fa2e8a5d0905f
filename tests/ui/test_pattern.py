"""What the failure follows, how far it reaches, and where more pulls are made."""

from pathlib import Path

import openpyxl
import pytest
from pytestqt.qtbot import QtBot

from workbench.analysis.strength.results import Group
from workbench.analysis.strength.words import strength_words
from workbench.desk.questions import findings
from workbench.desk.questions.extent import extent
from workbench.desk.questions.pattern import near_to, read_line
from workbench.records import Dossier, NotUnderstoodError
from workbench.ui.bench import Bench
from workbench.ui.pages.extent import ExtentPage
from workbench.ui.pages.further_pulls import FurtherPullsPage, read_wanted
from workbench.ui.pages.pattern import PatternPage
from workbench.ui.pages.registry import PATTERN
from workbench.ui.window import Window

computing = pytest.mark.computing


@pytest.fixture
def refused(bench: Bench) -> list[str]:
    said: list[str] = []
    bench.refused.connect(said.append)
    return said


@computing
def test_every_grouping_stands_with_its_counts_and_a_corrected_p(
    bench: Bench, qtbot: QtBot
) -> None:
    page = PatternPage(bench)
    qtbot.addWidget(page)
    page.show()
    qtbot.waitUntil(lambda: bench.answers.ask(findings.patterns) is not None, timeout=20_000)
    found = bench.answers.ask(findings.patterns)
    assert found
    assert [line.behind for line in page.list.lines.lines] == list(found)
    said = page.counts.toPlainText()
    for tally in found[0].tallies:
        assert f"{len(tally.failing)} of {len(tally.failing) + len(tally.holding)}" in said
    assert "A lead, not a cause" in said
    assert bench.selection.sources
    assert page.finding is not None
    page.hide()


def test_nearness_to_a_line_is_told_with_its_interval_and_its_caution(
    bench: Bench, qtbot: QtBot
) -> None:
    page = PatternPage(bench)
    qtbot.addWidget(page)
    page.take_line([(60.0, 0.0), (60.0, 40.0)])
    said = page.near.text()
    assert "nearer to" in said or "farther from" in said
    assert "proves nothing by its p" in said


def test_a_line_that_cannot_be_read_is_refused_with_an_example(
    bench: Bench, qtbot: QtBot, refused: list[str]
) -> None:
    page = PatternPage(bench)
    qtbot.addWidget(page)
    page.line.setText("12; here")
    page.test_nearness()
    assert "12 4; 12 30" in refused[0]


def test_points_of_a_line_are_read_with_commas_or_blanks() -> None:
    assert read_line("12 4; 12,30") == ((12, 4), (12, 30))
    for wrong in ("", "12", "a b"):
        with pytest.raises(NotUnderstoodError):
            read_line(wrong)


def test_failing_places_lie_nearer_to_a_point_among_them(held: Dossier) -> None:
    from workbench.records import Location
    from workbench.records.codes import Condition

    failing = [
        (one.x.value, one.y.value)
        for one in held.all(Location)
        if one.x and one.y and (area := held.area_of(one)) and area.condition is Condition.FAILING
    ]
    middle = tuple(sum(axis) / len(failing) for axis in zip(*failing, strict=True))
    found = near_to(held, "the middle", [(middle[0], middle[1])])
    assert found is not None
    assert found.failing == len(failing)
    assert found.shift.value < 0


def test_a_line_drawn_on_the_plan_opens_the_pattern_page(window: Window) -> None:
    desk = window.desk
    assert desk is not None
    desk.where.lined.emit(((10.0, 0.0), (10.0, 20.0)))
    assert desk.key == PATTERN
    assert isinstance(desk.page, PatternPage)
    assert desk.page.line.text() == "10 0; 10 20"


@computing
def test_the_quantity_to_repair_follows_the_shares_that_are_judged(
    bench: Bench, qtbot: QtBot
) -> None:
    page = ExtentPage(bench)
    qtbot.addWidget(page)
    page.show()
    qtbot.waitUntil(lambda: bench.answers.ask(extent) is not None, timeout=20_000)
    found = bench.answers.ask(extent)
    assert found is not None
    assert page.list.lines.rowCount() == len(found.areas)
    page.edges.setValue(0)
    page.margin.setValue(0)
    failing = f"{found.failing_m2:.0f} m²"
    assert page.quantity.text().count(failing) == 2
    page.margin.setValue(50)
    assert page.quantity.text().count(failing) == 1
    page.hide()


@computing
def test_a_plane_in_which_nothing_broke_gets_no_number_of_pulls(bench: Bench, qtbot: QtBot) -> None:
    page = FurtherPullsPage(bench)
    qtbot.addWidget(page)
    page.show()
    qtbot.waitUntil(lambda: bench.answers.ask(findings.strength) is not None, timeout=20_000)
    for line in page.groups.lines.lines:
        if line.cells[2].startswith("0 of"):
            assert line.cells[5:] == ("unknown", "unknown")
    assert any("more" in line.cells[5] for line in page.groups.lines.lines)
    page.hide()


@computing
def test_the_strength_beside_further_pulls_is_the_one_said_everywhere(
    bench: Bench, qtbot: QtBot
) -> None:
    page = FurtherPullsPage(bench)
    qtbot.addWidget(page)
    page.show()
    qtbot.waitUntil(lambda: bench.answers.ask(findings.strength) is not None, timeout=20_000)
    groups = [line.behind for line in page.groups.lines.lines]
    assert all(isinstance(one, Group) for one in groups)
    told = [strength_words(one, bench.showing) or "–" for one in groups if isinstance(one, Group)]
    assert [line.cells[3] for line in page.groups.lines.lines] == told
    assert any(one.extrapolated and one.broke_here for one in groups if isinstance(one, Group))
    page.hide()


@computing
def test_planes_are_held_against_the_strength_that_the_case_asks_for(
    bench: Bench, qtbot: QtBot, refused: list[str]
) -> None:
    page = FurtherPullsPage(bench)
    qtbot.addWidget(page)
    page.show()
    qtbot.waitUntil(lambda: bench.answers.ask(findings.strength) is not None, timeout=20_000)
    assert page.required.text() == "1.5 MPa"
    beside = {line.cells[:2]: line.cells[4] for line in page.groups.lines.lines}
    assert beside["C/D, Body SF to Seal AP", "failing"] == "so high a median is excluded"
    assert beside["C/D, Body SF to Seal AP", "non-failing"] == "a lower median is excluded"
    assert beside["A/B, concrete to Primer MT", "failing"] == "nothing is excluded"
    page.groups.setCurrentIndex(page.groups.lines.index(1, 0))
    assert "29 at or above it without a break here" in page.words.text()
    assert "Whatever the law of strength" in page.words.text()
    page.required.setText("strong")
    page.required.editingFinished.emit()
    assert "“strong” is no stress; write it as 1.5 MPa" in refused[-1]
    assert page.groups.lines.lines[0].cells[4] == ""
    page.hide()


def test_planned_places_are_shown_on_the_plan_and_written_as_a_field_book(
    bench: Bench, qtbot: QtBot, tmp_path: Path
) -> None:
    page = FurtherPullsPage(bench)
    qtbot.addWidget(page)
    shown: list[tuple[tuple[float, float], ...]] = []
    page.planned.connect(shown.append)
    page.wanted.setText("B3 4; B6 2")
    page.write(tmp_path / "further.xlsx")
    assert len(shown[-1]) == 6
    book = openpyxl.load_workbook(tmp_path / "further.xlsx", read_only=True)
    rows = [row for row in book["locations"].iter_rows(values_only=True) if row[0]]
    book.close()
    names = {str(row[0]) for row in rows}
    assert {"B3-N1", "B3-N4", "B6-N2"} <= names


def test_a_wish_for_places_that_names_no_number_is_refused(
    bench: Bench, qtbot: QtBot, refused: list[str]
) -> None:
    page = FurtherPullsPage(bench)
    qtbot.addWidget(page)
    page.wanted.setText("B3")
    assert not page.draw()
    page.wanted.setText("nowhere 3")
    assert not page.draw()
    assert "B3 6; B6 4" in refused[0]
    assert "nowhere" in refused[1]
    assert read_wanted("bay 3 6") == (("bay 3", 6),)
