"""Every screen at the sizes people have: nothing cut off, nothing too small to hold its words."""

from collections.abc import Iterator

import pytest
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractSpinBox,
    QApplication,
    QComboBox,
    QLabel,
    QLineEdit,
    QScrollArea,
    QWidget,
)

from workbench.records.codes import Chapter
from workbench.ui.pages.registry import HISTORY, NEW_PLAN, OPEN_POINTS, pages_of
from workbench.ui.parts import Elided
from workbench.ui.window import Window

SCREENS = [(1280, 800, 100), (1280, 800, 150), (1920, 1080, 150)]
KEYS = [one.key for chapter in Chapter for one in pages_of(chapter)]


def cut_off(root: QWidget) -> Iterator[str]:
    """Yield what stands in `root` and has less room than its words need."""
    for one in root.findChildren(QWidget):
        if not one.isVisible() or one.visibleRegion().isEmpty():
            continue
        metrics = one.fontMetrics()
        if isinstance(one, QAbstractButton) and one.text():
            room, words = one.width(), one.text().replace("&", "")
        elif isinstance(one, QLabel) and not isinstance(one, Elided) and not one.wordWrap():
            room, words = one.width(), one.text()
        elif isinstance(one, QAbstractSpinBox):
            line = one.findChild(QLineEdit)
            room, words = line.width() if line else 0, one.text()
        elif isinstance(one, QComboBox | QLineEdit):
            room, words = one.width(), "WW"
        else:
            continue
        if metrics.horizontalAdvance(words) > room:
            yield f"{type(one).__name__} “{words}” has {room} px"


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
    assert sized.desk
    wrong: dict[str, list[str]] = {}
    for key in (*KEYS, OPEN_POINTS, HISTORY, NEW_PLAN):
        page = sized.desk.open_page(key)
        QApplication.processEvents()
        QApplication.processEvents()
        found = [*sorted(set(cut_off(sized))), *too_wide(page)]
        if found:
            wrong[key] = found
    assert not wrong
    assert (sized.width(), sized.height()) == request.node.callspec.params["sized"][:2]
    sized.close_case()
    QApplication.processEvents()
    assert not list(cut_off(sized.welcome))


def too_wide(page: QWidget | None) -> Iterator[str]:
    """Yield by how much a page is wider than the room it is scrolled in."""
    room = page.parentWidget() if page else None
    area = room.parentWidget() if room else None
    if page and isinstance(area, QScrollArea) and area.horizontalScrollBar().maximum() > 0:
        yield f"{page.minimumSizeHint().width()} px in {area.viewport().width()}"
