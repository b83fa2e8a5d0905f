"""The window as a whole: cases come and go, nothing blocks, nothing is left behind."""

import gc
import subprocess
import sys
import weakref
from collections import Counter
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QKeySequence, QShortcut
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QLabel, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from workbench.records import PullOff, Source
from workbench.records.codes import Chapter
from workbench.trade.showing import System
from workbench.ui.app import tell_defects
from workbench.ui.pages.records import RecordsPage
from workbench.ui.pages.registry import pages_of
from workbench.ui.settings import Settings
from workbench.ui.theme import DARK, LIGHT, TEXT_SIZES, Scheme
from workbench.ui.window import Window

SLOW_TO_IMPORT = ("scipy.stats", "matplotlib", "docx", "openpyxl")


def test_the_window_opens_on_a_case_without_what_only_later_screens_need(made_once: Path) -> None:
    script = (
        "import sys; from pathlib import Path\n"
        "from workbench.ui.app import application\n"
        "from workbench.ui.settings import Settings\n"
        "from workbench.ui.window import Window\n"
        "app = application(); window = Window(Settings()); window.show()\n"
        f"assert window.open_case(Path({str(made_once)!r}), read_only=True)\n"
        f"print([one for one in {SLOW_TO_IMPORT!r} if one in sys.modules])\n"
        "import os; os._exit(0)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=True
    )
    assert done.stdout.split("\n")[-2] == "[]"


def test_a_new_case_is_made_and_found_again_among_the_recent_ones(
    settings: Settings, tmp_path: Path, qtbot: QtBot
) -> None:
    window = Window(settings)
    qtbot.addWidget(window)
    entries = {"reference": "A/7", "title": "Deck", "time zone": "Europe/London"}
    assert window.make_case(tmp_path, entries)
    assert window.bench
    assert window.bench.dossier.entry("title") == "Deck"
    assert "A/7 · Deck" in window.windowTitle()
    folder = window.bench.case.folder
    assert folder.name == "A-7.case"
    window.close_case()
    assert settings.recent == (folder.resolve(),)
    assert window.open_case(folder)
    window.close()


def test_a_folder_that_is_no_case_is_told_in_words(
    settings: Settings, tmp_path: Path, qtbot: QtBot
) -> None:
    window = Window(settings)
    qtbot.addWidget(window)
    assert not window.open_case(tmp_path)
    assert window.bench is None
    assert str(tmp_path) in window.told


def test_a_case_that_another_one_writes_to_is_open_for_reading(
    window: Window, settings: Settings, qtbot: QtBot
) -> None:
    assert window.bench
    second = Window(settings)
    qtbot.addWidget(second)
    assert second.open_case(window.bench.case.folder)
    assert second.bench
    assert second.bench.case.read_only
    page = second.desk.open_page("pull_off") if second.desk else None
    assert isinstance(page, RecordsPage)
    page.show_source(Source("pull_off", "P-01"))
    assert not page.form.form.field("note").isEnabled()
    second.close()


def test_every_page_opens_and_shows_itself(window: Window) -> None:
    assert window.desk
    for chapter in Chapter:
        window.desk.open_chapter(chapter)
        assert window.desk.chapters.chapter is chapter
        for page in pages_of(chapter):
            opened = window.desk.open_page(page.key)
            assert opened is window.desk.page
            assert opened is not None
            assert opened.isVisible()


def test_units_change_at_once_in_the_open_table(window: Window) -> None:
    assert window.desk
    assert window.bench
    page = window.desk.open_page("coat")
    assert isinstance(page, RecordsPage)

    def nominal() -> str:
        model = page.table.records
        at = [one.heading for one in model.columns].index("dft nominal")
        return str(model.index(1, at).data())

    assert nominal() == "150 µm"
    window.bench.show_in(System.US)
    assert nominal() == "5.9 mil"
    window.bench.show_in(System.SI)
    assert nominal() == "150 µm"


@pytest.mark.parametrize("percent", TEXT_SIZES)
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_larger_text_and_another_scheme_keep_the_page_and_the_form(
    window: Window, percent: int, scheme: str
) -> None:
    assert window.desk
    window.desk.open_source(Source("pull_off", "P-12"))
    window.set_text(percent)
    window.set_scheme(scheme)
    assert window.desk.key == PullOff.noun
    size = window.desk.chapters.font().pointSizeF()
    assert size == pytest.approx(9.75 * percent / 100)
    dark = window.desk.palette().window().color().lightness() < 128
    assert dark == (scheme == "dark")


def test_sources_that_stay_open_are_not_drawn_over_by_the_figures_of_another_chapter(
    window: Window,
) -> None:
    assert window.desk
    window.desk.open_page(PullOff.noun)
    window.desk.ask(Source("pull_off", "P-12"))
    window.desk.open_page("causes")
    window.desk.open_page("prose")
    window.desk.ask(Source("pull_off", "P-12"))
    assert window.desk.sources.isVisible()
    assert not window.desk.figures.isVisible()


def test_a_fault_of_the_program_is_told_and_the_window_goes_on(
    window: Window, monkeypatch: pytest.MonkeyPatch
) -> None:
    printed: list[str] = []
    monkeypatch.setattr(sys, "excepthook", lambda _kind, wrong, _where: printed.append(str(wrong)))
    tell_defects(window)
    wrong = ValueError("seven is not a plane")
    sys.excepthook(ValueError, wrong, None)
    assert printed == ["seven is not a plane"]
    assert window.told.startswith("✕ This is a fault of the program")
    assert "seven is not a plane" in window.told


def test_esc_closes_what_was_opened_and_then_shows_everything(window: Window) -> None:
    assert window.desk
    assert window.bench
    window.bench.selection.show_places({"B3"})
    window.desk.ask(Source("pull_off", "P-12"))
    QTest.keyClick(window, Qt.Key.Key_Escape)
    assert window.desk.sources.isHidden()
    assert window.bench.selection.focus.places == {"B3"}
    QTest.keyClick(window, Qt.Key.Key_Escape)
    assert window.bench.selection.focus.everything


def test_tab_goes_from_the_top_through_the_page_to_the_instruments(window: Window) -> None:
    assert window.desk
    page = window.desk.open_page(PullOff.noun)
    assert isinstance(page, RecordsPage)
    page.show_source(Source("pull_off", "P-12"))
    stops = [
        window.desk.header.find_line, window.desk.chapters, page.filter, page.table,
        page.form.form.field("ref"), page.form.form.field("breaks"), window.desk.figures.large,
        window.desk.where.view, window.desk.layers.view,
    ]  # fmt: skip
    passed, one = [], window.desk.header.nextInFocusChain()
    while one is not None and one is not window.desk.header:
        passed.append(one)
        one = one.nextInFocusChain()
    places = [passed.index(stop) for stop in stops]
    assert places == sorted(places)


def test_no_two_commands_have_one_key_and_every_one_has_a_name(window: Window) -> None:
    keys = [one.keys for one in window.commands.all if one.keys]
    assert len(keys) == len(set(keys))
    names = [one.name for one in window.commands.all]
    assert len(names) == len(set(names))
    assert all(isinstance(window.commands.action(name), QAction) for name in names)


def _keys_of(window: Window) -> list[str]:
    """Return every key that does something now: commands, menus, buttons, names of fields."""
    seen = [one for one in window.findChildren(QWidget) if one.isVisible()]
    only = Qt.FindChildOption.FindDirectChildrenOnly
    loose = [key for one in seen for key in one.findChildren(QShortcut, options=only)]
    labels = [one for one in seen if isinstance(one, QLabel) and one.buddy()]
    said = (
        *(QKeySequence.mnemonic(one.title()) for one in window.commands.menus.values()),
        *(one.shortcut() for one in window.findChildren(QAction)),
        *(one.shortcut() for one in seen if isinstance(one, QAbstractButton)),
        *(one.key() for one in loose),
        *(QKeySequence.mnemonic(one.text()) for one in labels),
    )
    return [key.toString() for key in said if key.toString()]


def test_no_key_means_two_things_on_any_page(window: Window) -> None:
    assert window.desk
    keys = [one.key for chapter in Chapter for one in pages_of(chapter)]
    for key in (*keys, "open-points", "history", "new-plan", "taking-in"):
        window.desk.open_page(key)
        found = Counter(_keys_of(window))
        assert not [one for one, times in found.items() if times > 1], key


def test_no_letter_chooses_two_things_of_a_menu(window: Window) -> None:
    for menu in window.commands.menus.values():
        letters = [QKeySequence.mnemonic(one.text()).toString() for one in menu.actions()]
        found = Counter(letter for letter in letters if letter)
        assert not [one for one, times in found.items() if times > 1], menu.title()


def test_every_control_can_be_told_by_ear(window: Window) -> None:
    assert window.desk
    silent = set()
    for chapter in Chapter:
        for page in pages_of(chapter):
            window.desk.open_page(page.key)
            for kind in (QAbstractButton, QLineEdit):
                for one in window.findChildren(kind):
                    named = one.accessibleName() or getattr(one, "text", str)()
                    if one.isVisible() and not named and not is_inner(one):
                        silent.add(f"{page.key}: {type(one).__name__} in {parents(one)}")
    assert not silent


INNER = {
    "QTableView", "RecordView", "LinesView", "EntryGrid", "MatrixView", "QTreeView", "QComboBox",
    "QLineEdit", "_Choice",
}  # fmt: skip


def is_inner(widget: QWidget) -> bool:
    """Return whether a control is Qt's own part of another one."""
    if widget.objectName().startswith("qt_") or type(widget.parent()).__name__ in INNER:
        return True
    return any(name in parents(widget) for name in ("QMenuBar", "QCalendarWidget"))


def parents(widget: QWidget) -> list[str]:
    found = []
    above = widget.parent()
    while above is not None:
        found.append(type(above).__name__)
        above = above.parent()
    return found


@pytest.mark.parametrize("scheme", [LIGHT, DARK], ids=["light", "dark"])
def test_text_stands_out_on_every_ground(scheme: Scheme) -> None:
    # WCAG 2.1: 4.5 to 1 for text (read)
    for text in (scheme.ink, scheme.quiet, scheme.alarm):
        for ground in (scheme.paper, scheme.sheet, scheme.band):
            assert contrast(text, ground) >= 4.5, (text, ground)
    assert contrast(scheme.on_accent, scheme.accent) >= 4.5
    assert contrast(scheme.ink, scheme.wash) >= 4.5


def contrast(one: str, other: str) -> float:
    bright, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (bright + 0.05) / (dark + 0.05)


def luminance(colour: str) -> float:
    parts = (int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5))
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def test_a_closed_case_leaves_no_desk_behind(window: Window, qtbot: QtBot) -> None:
    assert window.bench
    folder, left = window.bench.case.folder, []
    for _ in range(3):
        assert window.desk
        left.append(weakref.ref(window.desk))
        window.close_case()
        assert window.open_case(folder)
    qtbot.wait(50)
    gc.collect()
    assert [one() for one in left] == [None, None, None]


def test_the_window_takes_its_shape_again(sample: Path, settings: Settings, qtbot: QtBot) -> None:
    first = Window(settings)
    qtbot.addWidget(first)
    first.show()
    assert first.open_case(sample)
    assert first.desk
    first.resize(1500, 900)
    qtbot.wait(20)
    columns = first.desk.columns.across
    columns.setSizes([200, 700, 600])
    kept = columns.sizes()
    first.close()
    second = Window(settings)
    qtbot.addWidget(second)
    second.show()
    assert second.open_case(sample)
    assert second.desk
    second.resize(first.size())
    qtbot.wait(20)
    assert second.desk.columns.across.sizes() == pytest.approx(kept, abs=8)
    second.close()


def test_a_column_keeps_its_width_in_words_when_text_is_made_larger(
    window: Window, qtbot: QtBot
) -> None:
    assert window.desk
    window.desk.columns.across.setSizes([230, 700, 350])
    before = window.desk.columns.across.sizes()[0]
    window.set_text(150)
    qtbot.wait(50)
    assert window.desk.columns.across.sizes()[0] == pytest.approx(1.5 * before, rel=0.04)
