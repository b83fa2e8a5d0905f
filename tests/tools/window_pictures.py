"""Draw the pictures of the window that the README shows.

Run from the top of a checkout: `PYTHONPATH=tests python -m tools.window_pictures`.
"""

import os
import tempfile
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QSettings, QStandardPaths

from tools.every_screen import settle
from workbench.desk.intake import make_from_book
from workbench.desk.receiving import DeliveryMode, OuterCondition, Papers
from workbench.records.codes import SealCondition
from workbench.resources import sample_case
from workbench.ui.app import application
from workbench.ui.pages.receiving import ReceivingPage
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


def main() -> None:
    """Make the sample case in a temporary folder and draw its pages."""
    QStandardPaths.setTestModeEnabled(True)
    QSettings.setDefaultFormat(QSettings.Format.IniFormat)
    application()
    FOLDER.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as scratch:
        QSettings.setPath(QSettings.Format.IniFormat, QSettings.Scope.UserScope, scratch)
        folder = Path(scratch) / "bottling-hall-floor.case"
        make_from_book(folder, sample_case("bottling-hall-floor"), author="R. Tennick")
        window = Window(Settings())
        window.set_text(100)
        window.set_scheme("light")
        window.resize(1280, 800)
        window.show()
        window.open_case(folder)
        for name, key in PAGES.items():
            _draw(window, name, key)
        desk = window.desk
        if desk is not None:
            desk.open_page("pull_off")
            desk.how_known()
            _save(window, "sources")
            desk.how_known()
        window.set_scheme("dark")
        _draw(window, "dark", "causes")
        window.set_scheme("light")
        window.close()


def _draw(window: Window, name: str, key: str) -> None:
    page = window.desk.open_page(key) if window.desk else None
    if page is not None:
        page.enter()
    if isinstance(page, ReceivingPage):
        _look_at(page)
    _save(window, name)


def _look_at(page: ReceivingPage) -> None:
    """Look at the outside of a delivery."""
    said = {
        "mode": DeliveryMode.CARRIER, "by": "Dunsop Carriers", "number": "DC 40 118",
        "condition": OuterCondition.SOUND, "papers": Papers.COMPLETE, "seal": "71203",
        "seal_condition": SealCondition.INTACT, "containers": "2",
    }  # fmt: skip
    for name, text in said.items():
        page.outside.put(name, str(text))
    page.outside.fields["containers"].widget().setFocus()
    page._on_outside()


def _save(window: Window, name: str) -> None:
    """Wait until everything is on the screen, and keep the picture."""
    for _ in range(2):  # what has come may ask for more
        settle(window)
    window.grab().save(str(FOLDER / f"{name}.png"), "PNG")


if __name__ == "__main__":
    main()
