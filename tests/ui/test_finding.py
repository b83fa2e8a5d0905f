"""Finding anything, and being told how it is known."""

import pytest
from PySide6.QtCore import QModelIndex, Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot
from tools.pages import page_of, said_in

from workbench.desk.questions.layers import PlaneLine
from workbench.records import Plane, PullOff, Source
from workbench.records.codes import Chapter
from workbench.ui.pages.causes import CausesPage
from workbench.ui.pages.records import RecordsPage
from workbench.ui.pages.registry import pages_of
from workbench.ui.window import Window


def look_for(window: Window, words: str) -> list[tuple[str, ...]]:
    assert window.desk
    line = window.desk.header.find_line
    window.desk.find_anything()
    line.clear()
    QTest.keyClicks(line, words)
    QTest.qWait(150)
    return said_in(window.desk.finder.list)


def test_a_record_is_found_by_its_name_and_opened_with_return(window: Window) -> None:
    assert window.desk
    found = look_for(window, "K-03")
    assert found[0][:2] == ("Rating", "K-03")
    QTest.keyClick(window.desk.header.find_line, Qt.Key.Key_Return)
    page = page_of(window, "rating", RecordsPage)
    assert page.current == Source("rating", "K-03")
    assert not window.desk.finder.list.isVisible()


def test_a_record_is_found_by_its_type_and_its_name(window: Window) -> None:
    assert look_for(window, "pull-off P-05")[0][:2] == ("Pull-off", "P-05")
    assert {row[0] for row in look_for(window, "pull-off")} <= {"Pull-off", "page", "command"}


def test_records_are_found_by_what_they_say(window: Window) -> None:
    assert ("Pull-off", "P-03") in {row[:2] for row in look_for(window, "lifted cutter")}


def test_a_command_is_found_with_its_key_and_done_with_return(window: Window) -> None:
    assert window.desk
    found = look_for(window, "open points")
    assert ("command", "Open points", "F8") in [row[:3] for row in found]
    row = [one[0] for one in found].index("command")
    for _ in range(row):
        QTest.keyClick(window.desk.header.find_line, Qt.Key.Key_Down)
    QTest.keyClick(window.desk.header.find_line, Qt.Key.Key_Return)
    assert window.desk.key == "open-points"


def test_every_page_is_found_by_its_name_and_turned_to_with_return(window: Window) -> None:
    assert window.desk
    for chapter in Chapter:
        for page in pages_of(chapter):
            found = look_for(window, page.title.casefold())
            assert ("page", page.title) in {row[:2] for row in found}, page.title
    found = look_for(window, "elements")
    assert found[0] == ("page", "Elements", "in Laboratory")
    QTest.keyClick(window.desk.header.find_line, Qt.Key.Key_Return)
    assert window.desk.key == "elements"


def test_what_is_not_there_is_said_and_esc_leaves(window: Window) -> None:
    assert window.desk
    assert window.bench
    window.bench.selection.show_places({"B3"})
    (row,) = look_for(window, "zzz-77")
    assert "zzz-77" in row[2]
    QTest.keyClick(window.desk.header.find_line, Qt.Key.Key_Return)
    QTest.keyClick(window.desk.header.find_line, Qt.Key.Key_Escape)
    assert not window.desk.finder.list.isVisible()
    assert window.desk.header.find_line.text() == ""
    assert window.bench.selection.focus.places == {"B3"}


def tree_of(window: Window) -> list[str]:
    assert window.desk
    model = window.desk.sources.tree.model()
    said: list[str] = []

    def walk(parent: QModelIndex, depth: int) -> None:
        for row in range(model.rowCount(parent)):
            index = model.index(row, 0, parent)
            said.extend(str(index.siblingAtColumn(at).data()) for at in (0, 1))
            if depth:
                walk(index, depth - 1)

    walk(QModelIndex(), 3)
    return said


def test_how_a_row_is_known_goes_down_to_its_place_person_and_journal(window: Window) -> None:
    assert window.desk
    page = page_of(window, PullOff.noun, RecordsPage)
    page.show_source(Source("pull_off", "P-03"))
    window.desk.how_known()
    assert window.desk.sources.isVisible()
    said = " ".join(tree_of(window))
    for part in ("L303", "R. Tennick", "PG-1"):
        assert part in said
    assert "taken in" in said.lower() or "took in" in said.lower()  # the act it came in by


@pytest.mark.computing
def test_how_a_plane_is_known_names_every_pull_off_that_says_so(
    window: Window, qtbot: QtBot
) -> None:
    assert window.desk
    assert window.bench
    view = window.desk.layers.view
    qtbot.waitUntil(lambda: any(line.sources for line in lines_of(window)), timeout=60_000)
    window.desk.go_to_stack()
    row = view.planes.row_of(Plane("C/D"))
    assert row is not None
    view.setCurrentIndex(view.planes.index(row))
    window.desk.how_known()
    line = view.planes.line_at(row)
    assert line
    said = tree_of(window)
    named = {source.label for source in line.sources}
    assert all(f"Pull-off {ref}" in said for ref in named)
    assert len(named) == sum(one.tested for one in line.known)
    broke = {
        one.ref
        for one in window.bench.dossier.all(PullOff)
        if one.breaks and one.breaks.of(Plane("C/D")) > 50 and one.reading and not one.treatment
    }
    assert broke
    assert broke <= named


def lines_of(window: Window) -> list[PlaneLine]:
    assert window.desk
    planes = window.desk.layers.view.planes
    found = [planes.line_at(row) for row in range(planes.rowCount())]
    return [line for line in found if line]


@pytest.mark.computing
def test_how_a_finding_is_known_names_its_records(window: Window, qtbot: QtBot) -> None:
    assert window.desk
    page = page_of(window, "causes", CausesPage)
    qtbot.waitUntil(lambda: page.finding is not None, timeout=60_000)
    assert page.finding
    _title, words, sources = page.finding
    window.desk.how_known()
    said = " ".join(tree_of(window))
    assert words
    assert all(source.label in said for source in sources[:5])


def test_nothing_chosen_is_told_in_words(window: Window) -> None:
    assert window.desk
    window.desk.open_page("report")
    window.bench.selection.clear()  # type: ignore[union-attr]
    window.desk.how_known()
    assert "Choose a row" in window.told


def test_choosing_a_step_lights_it_everywhere_and_return_opens_it(window: Window) -> None:
    assert window.desk
    assert window.bench
    page = page_of(window, PullOff.noun, RecordsPage)
    page.show_source(Source("pull_off", "P-03"))
    window.desk.how_known()
    tree = window.desk.sources.tree
    model = tree.model()
    index = next(
        model.index(row, 0)
        for row in range(model.rowCount())
        if "L303" in str(model.index(row, 0).data())
    )
    tree.setCurrentIndex(index)
    assert window.bench.selection.sources == (Source("location", "L303"),)
    QTest.keyClick(tree, Qt.Key.Key_Return)
    assert window.desk.key == "location"
