"""The program as a person starts it, which also writes down what stands on its screen."""

import json
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QAbstractButton, QApplication, QLineEdit, QWidget

from workbench.ui.app import application, tell_defects
from workbench.ui.pages.taking_in import TakingInPage
from workbench.ui.settings import Settings
from workbench.ui.window import Window

_EVERY_MS = 100


@dataclass
class Moves:
    """How often the keys went from one part of the window to another."""

    count: int = 0

    def one(self) -> None:
        """Count one more."""
        self.count += 1


def seen(window: Window, moves: Moves) -> dict[str, Any]:
    """Return what a person could see of `window`."""
    focus, active = QApplication.focusWidget(), QApplication.activeWindow()
    said: dict[str, Any] = {
        "window": active.windowTitle() if active else "",
        "told": window.told,
        "focus": _name(focus) if focus else "",
        "moves": moves.count,
        "text": focus.text() if isinstance(focus, QLineEdit) else "",
        "page": "",
    }
    if window.desk is None or window.bench is None:
        return said
    page = window.desk.page
    reading = page if isinstance(page, TakingInPage) else None
    return said | {
        "page": window.desk.key,
        "case": window.bench.dossier.entry("reference"),
        "lit": [str(source) for source in window.bench.selection.sources],
        "plan": sorted(window.desk.where.view.lit),
        "stack": sorted(window.desk.layers.view.lit),
        "problems": [
            line.cells for line in (reading.problems.lines.lines if reading else ())
            if line.cells[0] == "✕"
        ],
        "idle": reading.idle if reading else not window.work.busy,
        "report": getattr(page, "said", ""),
    }  # fmt: skip


def _name(widget: QWidget) -> str:
    text = widget.text() if isinstance(widget, QAbstractButton) else ""
    return widget.accessibleName() or text or type(widget).__name__


def main(state: Path) -> int:
    """Open the window on its first page, and write what is seen to `state` until it is closed."""
    app = application()
    window = Window(Settings())
    tell_defects(window)
    moves = Moves()
    app.focusChanged.connect(moves.one)
    window.show()
    timer = QTimer(window)
    timer.timeout.connect(lambda: _write(state, seen(window, moves)))
    timer.start(_EVERY_MS)
    return app.exec()


def _write(state: Path, said: dict[str, Any]) -> None:
    fresh = state.with_suffix(".new")
    fresh.write_text(json.dumps(said), encoding="utf-8")
    fresh.replace(state)


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1])))
