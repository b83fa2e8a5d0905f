"""The program with its window."""

import sys
from pathlib import Path
from types import TracebackType

from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication

from workbench import __version__
from workbench.ui.screen import require_screen
from workbench.ui.settings import Settings
from workbench.ui.window import Window

_DEFECT = "This is a fault of the program; what was done before is saved. It says:"


def run_window(case: Path | None = None, desk: str = "") -> int:
    """Open the window and return its exit code when it is closed.

    Args:
        case: The folder of the case to open; None for the first page.
        desk: Key of the page to open it at; empty for the usual one.

    Raises:
        KnownError: No window can open here.
    """
    require_screen()
    app = application()
    settings = Settings()
    window = Window(settings)
    tell_defects(window)
    window.show()
    if case is not None:
        window.open_case(case)
    if desk and window.desk and (page := window.desk.open_page(desk)):
        page.enter()
    return app.exec()


def tell_defects(window: Window) -> None:
    """Say in `window` when something fails that should not, and go on; the terminal has it all."""
    before = sys.excepthook

    def tell(kind: type[BaseException], wrong: BaseException, where: TracebackType | None) -> None:
        before(kind, wrong, where)
        if isinstance(wrong, Exception):
            what = str(wrong) or kind.__name__
            window.tell(f"{_DEFECT} {what}", wrong=True)

    sys.excepthook = tell


def application() -> QApplication:
    """Return the program, made once."""
    there = QApplication.instance()
    if isinstance(there, QApplication):
        return there
    app = QApplication(sys.argv[:1])
    app.setApplicationName("workbench")
    app.setApplicationVersion(__version__)
    QGuiApplication.setDesktopFileName("workbench")
    return app
