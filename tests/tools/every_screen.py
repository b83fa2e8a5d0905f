"""Draw every screen of the window at every size and in both schemes, for a person to look at.

Run from the top of a checkout: `PYTHONPATH=tests python -m tools.every_screen FOLDER [WORD ...]`;
a word is one of `SIZES`, or a part of the names of the screens wanted. FOLDER then holds a picture
of each screen and, per size and scheme, contact sheets of twelve.
"""

import os
import sys
import tempfile
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QSettings, QStandardPaths, Qt, QThreadPool
from PySide6.QtGui import QImage, QPainter
from PySide6.QtWidgets import QApplication, QWidget

from workbench.desk.intake import make_from_book
from workbench.records import Plane, PullOff, Source
from workbench.records.codes import Chapter
from workbench.resources import sample_case
from workbench.ui.app import application
from workbench.ui.pages.registry import HISTORY, NEW_PLAN, OPEN_POINTS, pages_of
from workbench.ui.settings import Settings
from workbench.ui.window import Window

SIZES = {"small": (1280, 800, 100), "large": (1920, 1080, 100), "text150": (1280, 800, 150)}
_ACROSS, _DOWN, _WIDE, _GAP = 3, 4, 640, 12
_MOST_S = 40.0


@dataclass(frozen=True, slots=True)
class Screen:
    """One screen: what it is called, and what is grabbed."""

    name: str
    widget: QWidget


def settle(window: Window) -> None:
    """Wait until everything that is computed beside the screen is on the screen."""
    began, quiet = time.monotonic(), 0
    while quiet < 8 and time.monotonic() - began < _MOST_S:
        QApplication.processEvents()
        time.sleep(0.03)
        busy = QThreadPool.globalInstance().activeThreadCount() > 0
        busy = busy or bool(window.bench and not window.bench.answers.idle)
        quiet = 0 if busy else quiet + 1


def screens(window: Window, sample: Path, scratch: Path) -> Iterator[Screen]:
    """Bring each screen up in turn: first page, empty case, every page, what opens beside them."""
    window.close_case()
    yield Screen("00-first-page", window)
    window.make_case(scratch, {"reference": "N-1", "title": "A case just begun"})
    yield Screen("01-empty-case", window)
    for chapter in Chapter:
        if window.desk:
            window.desk.open_chapter(chapter)
        yield Screen(f"02-empty-{chapter.name.lower()}", window)
    window.open_case(sample)
    yield from _pages(window)
    yield from _beside(window)


def _pages(window: Window) -> Iterator[Screen]:
    apart = (OPEN_POINTS, HISTORY, NEW_PLAN)
    keys = [one.key for chapter in Chapter for one in pages_of(chapter)]
    for at, key in enumerate((*keys, *apart), 10):
        page = window.desk.open_page(key) if window.desk else None
        if page:
            page.enter()
        yield Screen(f"{at}-{key}", window)


def _beside(window: Window) -> Iterator[Screen]:
    """Bring up what lies over or beside a page."""
    desk, bench = window.desk, window.bench
    if desk is None or bench is None:
        return
    desk.open_source(Source("pull_off", "P-12"))
    yield Screen("80-row-and-form", window)
    desk.how_known()
    yield Screen("81-sources", window)
    desk.close_sources()
    bench.selection.show_plane(Plane("B/C"))
    bench.selection.show_places({"B3"})
    yield Screen("82-narrowed", window)
    bench.selection.clear()
    desk.open_page(PullOff.noun)
    desk.find_anything()
    desk.header.find_line.setText("bay")
    desk.header.find_line.textEdited.emit("bay")
    yield Screen("83-find", window)
    desk.header.find_line.clear()
    desk.finder.list.hide()
    desk.toggle_large_figure()
    yield Screen("84-large-figure", window)
    desk.toggle_large_figure()
    desk.errands.take_in(sample_case("quayside-steel"))
    yield Screen("85-taking-in", window)
    desk.open_page(PullOff.noun)
    for name, menu in window.commands.menus.items():
        menu.ensurePolished()
        yield Screen(f"86-menu-{name.strip('&').lower()}", menu)
    window.show_guide()
    guide = window.guide
    if guide:
        for row in range(guide.list.model().rowCount()):
            guide.open_page(row)
            yield Screen(f"87-guide-{row}", guide)
        guide.close()


def draw(folder: Path, names: list[str], wanted: list[str]) -> None:
    """Draw into `folder`, in the sizes named, every screen with one of the words `wanted`."""
    QStandardPaths.setTestModeEnabled(True)
    QSettings.setDefaultFormat(QSettings.Format.IniFormat)
    app = application()
    with tempfile.TemporaryDirectory() as there:
        scratch = Path(there)
        QSettings.setPath(QSettings.Format.IniFormat, QSettings.Scope.UserScope, there)
        case = scratch / "bottling-hall-floor.case"
        make_from_book(case, sample_case("bottling-hall-floor"), author="R. Tennick")
        for name in names:
            for scheme in ("light", "dark"):
                wide, high, percent = SIZES[name]
                settings = Settings()
                settings.author, settings.scheme = "R. Tennick", scheme
                settings.text_percent = percent
                window = Window(settings)
                window.resize(wide, high)
                window.show()
                (fresh := scratch / f"{name}-{scheme}").mkdir()
                _draw_all(window, case, fresh, folder / f"{name}-{scheme}", wanted)
                window.close()
                window.deleteLater()
                app.processEvents()


def _draw_all(window: Window, case: Path, scratch: Path, folder: Path, wanted: list[str]) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    drawn = []
    for screen in screens(window, case, scratch):
        if wanted and not any(word in screen.name for word in wanted):
            continue
        settle(window)
        path = folder / f"{screen.name}.png"
        screen.widget.grab().save(str(path), "PNG")
        drawn.append(path)
    each = _ACROSS * _DOWN
    for at in range(0, len(drawn), each):
        _contact_sheet(drawn[at : at + each], folder.parent / f"{folder.name}-{at // each:02d}.png")


def _contact_sheet(paths: list[Path], path: Path) -> None:
    high = _WIDE * 10 // 16
    down = -(-len(paths) // _ACROSS)
    size = (_ACROSS * (_WIDE + _GAP), down * (high + 2 * _GAP + 8))
    sheet = QImage(*size, QImage.Format.Format_RGB32)
    sheet.fill(Qt.GlobalColor.gray)
    painter = QPainter(sheet)
    for at, one in enumerate(paths):
        x = at % _ACROSS * (_WIDE + _GAP)
        y = at // _ACROSS * (high + 2 * _GAP + 8)
        smooth = Qt.TransformationMode.SmoothTransformation
        keep = Qt.AspectRatioMode.KeepAspectRatio
        painter.drawImage(x, y + 20, QImage(str(one)).scaled(_WIDE, high, keep, smooth))
        painter.setPen(Qt.GlobalColor.white)
        painter.drawText(x + 4, y + 15, one.stem)
    painter.end()
    sheet.save(str(path))


if __name__ == "__main__":
    words = sys.argv[2:]
    sizes = [one for one in words if one in SIZES]
    draw(Path(sys.argv[1]), sizes or list(SIZES), [one for one in words if one not in SIZES])
