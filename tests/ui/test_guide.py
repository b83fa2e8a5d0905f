"""The guide: short, complete, and true to the commands there are."""

import re

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from workbench.records.codes import Chapter
from workbench.resources import resource
from workbench.ui.guide import Guide
from workbench.ui.pages.registry import pages_of
from workbench.ui.window import Window

PAGES = sorted(resource("guide").glob("*.md"))
KEY = re.compile(r"\b(?:(?:Ctrl|Shift|Alt)\+(?:(?:Ctrl|Shift)\+)?\w+|F\d+)\b")


@pytest.fixture
def guide(window: Window, qtbot: QtBot) -> Guide:
    window.commands.action("Guide").trigger()
    found = window.findChild(Guide)
    assert isinstance(found, Guide)
    qtbot.waitUntil(found.isVisible)
    return found


def test_every_page_can_be_read_and_esc_closes_the_guide(guide: Guide, qtbot: QtBot) -> None:
    seen = set()
    for row in range(guide.list.model().rowCount()):
        guide.open_page(row)
        seen.add(guide.page.toPlainText())
    assert len(seen) == len(PAGES) + 1
    assert min(len(text) for text in seen) > 300
    QTest.keyClick(guide, Qt.Key.Key_Escape)
    qtbot.waitUntil(lambda: not guide.isVisible())


def test_the_page_of_keys_has_every_command_with_a_key(guide: Guide, window: Window) -> None:
    guide.open_page(guide.list.model().rowCount() - 1)
    said = guide.page.toPlainText()
    keyed = [one for one in window.commands.all if one.keys]
    assert len(keyed) > 20
    assert all(one.name in said and one.keys in said for one in keyed)


@pytest.mark.parametrize("path", PAGES, ids=lambda path: path.stem)
def test_every_key_that_a_page_names_is_a_key(path: object, window: Window) -> None:
    short = {"Ctrl+Delete": "Ctrl+Del"}
    there = {one.keys for one in window.commands.all}
    named = KEY.findall(path.read_text())  # type: ignore[attr-defined]
    assert {short.get(key, key) for key in named} <= there


def test_every_page_that_the_guide_names_is_there() -> None:
    titles = {page.title for chapter in Chapter for page in pages_of(chapter)}
    said = "\n".join(path.read_text() for path in PAGES)
    for title in (
        "Receiving desk", "Chain of custody", "Spectra", "Thermograms", "Sections", "Elements",
        "Enter tests", "Calculators", "What would settle it",
    ):  # fmt: skip
        assert title in said
        assert title in titles
