"""Every screen at the sizes people have: nothing cut off, nothing too small to hold its words."""

from collections.abc import Callable, Iterator
from itertools import combinations
from pathlib import Path

import pytest
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractSpinBox,
    QApplication,
    QComboBox,
    QLabel,
    QLineEdit,
    QScrollArea,
    QSplitter,
    QSplitterHandle,
    QTabBar,
    QWidget,
)
from pytestqt.qtbot import QtBot

from workbench.records.codes import Chapter
from workbench.ui.pages.registry import HISTORY, NEW_PLAN, OPEN_POINTS, pages_of
from workbench.ui.parts import Elided
from workbench.ui.settings import Settings
from workbench.ui.window import Window

SCREENS = [(1280, 800, 100), (1280, 800, 150), (1920, 1080, 150)]
KEYS = [one.key for chapter in Chapter for one in pages_of(chapter)]


def cut_off(root: QWidget) -> Iterator[str]:
    """Yield what stands in `root` and has less room than its words need."""
    for one in root.findChildren(QWidget):
        if not one.isVisible() or one.visibleRegion().isEmpty():
            continue
        if isinstance(one, QLabel) and one.wordWrap():
            if one.height() < one.heightForWidth(one.width()):
                yield f"“{one.text()}” has {one.height()} px of height"
            continue
        room, words = _room_and_words(one)
        if one.fontMetrics().horizontalAdvance(words) > room:
            yield f"{type(one).__name__} “{words}” has {room} px"


def _room_and_words(one: QWidget) -> tuple[int, str]:
    """Return the width that a part has, and the words that must have room in it."""
    if isinstance(one, QAbstractButton):
        return one.width(), one.text().replace("&", "")
    if isinstance(one, QLabel):
        return one.width(), "" if isinstance(one, Elided) else one.text()
    if isinstance(one, QAbstractSpinBox):
        line = one.findChild(QLineEdit)
        return line.width() if line else 0, one.text()
    return one.width(), "WW" if isinstance(one, QComboBox | QLineEdit) else ""


@pytest.fixture(params=SCREENS, ids=lambda one: f"{one[0]}x{one[1]} at {one[2]} %")
def sized(window: Window, request: pytest.FixtureRequest) -> Window:
    """The window with the sample case, at a size of the window and of text."""
    wide, high, percent = request.param
    window.resize(wide, high)
    window.set_text(percent)
    QApplication.processEvents()
    return window


def test_on_no_page_is_anything_cut_off_or_wider_than_its_room(
    sized: Window, request: pytest.FixtureRequest
) -> None:
    wrong = wrong_on_pages(sized, QApplication.processEvents)
    assert not wrong
    assert (sized.width(), sized.height()) == request.node.callspec.params["sized"][:2]
    sized.close_case()
    QApplication.processEvents()
    assert not list(cut_off(sized.welcome))


@pytest.mark.computing
def test_with_all_results_and_large_text_every_page_stays_within_a_small_window(
    window: Window, qtbot: QtBot
) -> None:
    window.resize(1280, 800)
    window.set_text(150)

    def settle() -> None:
        qtbot.waitUntil(lambda: bool(window.bench and window.bench.answers.idle), timeout=60_000)
        qtbot.wait(20)

    assert not wrong_on_pages(window, settle)
    assert (window.width(), window.height()) == (1280, 800)
    assert window.minimumSizeHint().height() < 600


def test_neither_many_cases_nor_a_long_sentence_makes_the_window_grow(
    window: Window, settings: Settings, tmp_path: Path
) -> None:
    before = window.minimumSizeHint()
    for number in range(12):
        settings.remember(tmp_path / f"a case with a long name, number {number}.case")
    window.set_text(150)
    window.welcome.renew()
    window.tell("a long sentence " * 60, wrong=True)
    QApplication.processEvents()
    assert (window.width(), window.height()) == (1280, 800)
    assert window.minimumSizeHint().height() < 1.5 * before.height()


def wrong_on_pages(window: Window, settle: Callable[[], object]) -> dict[str, list[str]]:
    """Open every page and return what is wrong on each, by its key."""
    desk = window.desk
    assert desk
    wrong: dict[str, list[str]] = {}
    for key in (*KEYS, OPEN_POINTS, HISTORY, NEW_PLAN):
        page = desk.open_page(key)
        assert page
        for _ in range(3):
            settle()
            QApplication.processEvents()
        found = [*sorted(set(cut_off(window))), *too_wide(page), *overlapping(desk.columns)]
        if found:
            wrong[key] = found
    return wrong


def overlapping(root: QWidget) -> Iterator[str]:
    """Yield what lies over its neighbour in a layout or a splitter."""
    for parent in (root, *root.findChildren(QWidget)):
        if not isinstance(parent, QSplitter) and parent.layout() is None:
            continue
        parts = [one for one in parent.children() if isinstance(one, QWidget) and one.isVisible()]
        parts = [one for one in parts if not isinstance(one, QSplitterHandle | QTabBar)]
        for one, other in combinations(parts, 2):
            common = one.geometry().intersected(other.geometry())
            if common.width() > 2 and common.height() > 2:
                yield f"{_named(one)} over {_named(other)} by {common.width()}x{common.height()} px"


def _named(widget: QWidget) -> str:
    words = widget.text() if isinstance(widget, QLabel | QAbstractButton) else ""
    return f"{type(widget).__name__} “{widget.accessibleName() or words[:40]}”"


def too_wide(page: QWidget | None) -> Iterator[str]:
    """Yield by how much a page is wider than the room it is scrolled in."""
    room = page.parentWidget() if page else None
    area = room.parentWidget() if room else None
    if page and isinstance(area, QScrollArea) and area.horizontalScrollBar().maximum() > 0:
        yield f"{page.minimumSizeHint().width()} px in {area.viewport().width()}"
