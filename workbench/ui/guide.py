"""The built-in guide: a few pages to read, and every key, in a window beside the desk."""

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import QStringListModel, Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QHBoxLayout, QListView, QTextBrowser, QWidget

from workbench.resources import resource
from workbench.ui.commands import Command
from workbench.ui.parts import bare_column, button, parted
from workbench.ui.theme import step

_IN_PLACE = (
    ("Table", "arrows, Home, End", "go from row to row; Shift and Ctrl choose several"),
    ("Table", "Return", "to the form of the row"),
    ("Plan", "arrows, Space", "from place to place; choose"),
    ("Plan", "+  −  0", "closer, farther, the whole level"),
    ("Stack", "up, down, Space", "from plane to plane; choose"),
    ("Photograph, large", "A  R  S  D  W", "arrow, ring, scale, dimension, words"),
    ("Photograph, large", "arrows, Space", "move the cross, set a point; Shift moves faster"),
    ("Enter tests", "Return, Tab", "next row, next field"),
    ("Enter tests, stack", "up, down, digits", "choose a plane, write its share"),
    ("Enter tests, stack", "Space, +, −, Delete", "what is left, 5 more, 5 less, none"),
    ("Sources", "left, right, Return", "close, open a step; go to its record"),
)


class Guide(QWidget):
    """The pages at the left, the one that is chosen at the right; Esc closes it."""

    def __init__(self, commands: Sequence[Command], parent: QWidget) -> None:
        """Show the first page."""
        super().__init__(parent, Qt.WindowType.Window)
        self.setWindowTitle("Guide")
        texts = [path.read_text(encoding="utf-8") for path in _pages()]
        texts.append(_keys(commands))
        self._texts = texts
        self.list = QListView(self)
        self.page = QTextBrowser(self)
        self._lay_out([text.partition("\n")[0].removeprefix("# ") for text in texts])
        self.list.selectionModel().currentChanged.connect(
            lambda now, _before: self._show(now.row())
        )
        QShortcut(QKeySequence(Qt.Key.Key_Escape), self, self.close)
        self.open_page(0)

    def open_page(self, row: int) -> None:
        """Turn to a page."""
        self.list.setCurrentIndex(self.list.model().index(row, 0))

    def _show(self, row: int) -> None:
        self.page.setMarkdown(self._texts[row])

    def _lay_out(self, titles: Sequence[str]) -> None:
        self.list.setModel(QStringListModel(list(titles), self.list))
        self.list.setAccessibleName("Pages of the guide")
        self.list.setEditTriggers(QListView.EditTrigger.NoEditTriggers)
        self.list.setFrameShape(QListView.Shape.NoFrame)
        self.page.setAccessibleName("The page")
        self.page.setFrameShape(QTextBrowser.Shape.NoFrame)
        self.page.document().setDocumentMargin(step(self, 2))
        halves = parted(
            self, Qt.Orientation.Horizontal, (self.list, self.page), grows=1, steps=(24, 72)
        )
        foot = QHBoxLayout()
        foot.setSpacing(step(self))
        foot.setContentsMargins(step(self), step(self), step(self), step(self))
        foot.addStretch()
        foot.addWidget(button("Close", self.close, self, tip="Close the guide (Esc)"))
        whole = bare_column(self)
        whole.addWidget(halves, 1)
        whole.addLayout(foot)
        self.resize(step(self, 100), step(self, 76))


def _pages() -> list[Path]:
    return sorted(resource("guide").glob("*.md"))


def _keys(commands: Sequence[Command]) -> str:
    """Return the page of keys: those of the commands, then those of single parts."""
    lines = ["# Keys", "", "| Command | Key |", "|:--|:--|"]
    lines += [f"| {one.name} | {one.keys} |" for one in commands if one.keys]
    lines += ["", "| Where | Key | What it does |", "|:--|:--|:--|"]
    lines += [f"| {where} | {keys} | {does} |" for where, keys, does in _IN_PLACE]
    return "\n".join(lines)
