"""Draw the pictures of the window that the README shows.

Run from the top of a checkout: `PYTHONPATH=tests python -m tools.window_pictures`.
"""

import os
import tempfile
import time
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QStandardPaths
from PySide6.QtWidgets import QApplication

from workbench.desk.intake import make_from_book
from workbench.resources import sample_case
from workbench.ui.app import application
from workbench.ui.settings import Settings
from workbench.ui.window import Window

FOLDER = Path(__file__).parents[2] / "resources" / "pictures"
PAGES = {
    "window": "pull_off",
    "causes": "causes",
    "open-points": "open-points",
    "receiving": "receiving",
    "custody": "chain",
}
_SETTLED_S = 1.0
_MOST_S = 40.0


def main() -> None:
    """Make the sample case in a temporary folder and draw its pages."""
    QStandardPaths.setTestModeEnabled(True)
    app = application()
    FOLDER.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(scratch) / "bottling-hall-floor.case"
        make_from_book(folder, sample_case("bottling-hall-floor"), author="R. Tennick")
        window = Window(Settings())
        window.set_text(100)
        window.set_scheme("light")
        window.resize(1280, 800)
        window.show()
        window.open_case(folder)
        for name, key in PAGES.items():
            _draw(app, window, name, key)
        desk = window.desk
        if desk is not None:
            desk.open_page("pull_off")
            desk.how_known()
            _save(app, window, "sources")
            desk.how_known()
        window.set_scheme("dark")
        _draw(app, window, "dark", "causes")
        window.set_scheme("light")
        window.close()


def _draw(app: QApplication, window: Window, name: str, key: str) -> None:
    page = window.desk.open_page(key) if window.desk else None
    if page is not None:
        page.enter()
    _save(app, window, name)


def _save(app: QApplication, window: Window, name: str) -> None:
    """Wait until the picture no longer changes, and keep it."""
    before, since, began = b"", time.monotonic(), time.monotonic()
    while time.monotonic() - since < _SETTLED_S * 4 and time.monotonic() - began < _MOST_S:
        app.processEvents()
        time.sleep(0.05)
        image = window.grab().toImage()
        now = bytes(image.constBits())
        if now != before:
            before, since = now, time.monotonic()
    window.grab().save(str(FOLDER / f"{name}.png"), "PNG")


if __name__ == "__main__":
    main()
