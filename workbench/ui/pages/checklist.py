"""The checklist of a report: its items, how they stand, and what a person states under one."""

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from workbench.records import KnownError
from workbench.ui.bench import Bench
from workbench.ui.parts import button, label
from workbench.ui.table.lines import Line, LinesView
from workbench.ui.theme import step

if TYPE_CHECKING:
    from collections.abc import Callable

    from workbench.desk.case import Case
    from workbench.desk.reporting import Wish
    from workbench.records import Statement

    Enter = Callable[["Case", "Wish", str, str], "Statement"]

_HEIGHT = 22


class Checklist(QWidget):
    """Shows the items of a profile; states one, or leaves it open for a written reason."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Show nothing until a profile is chosen."""
        super().__init__(parent)
        self._bench = bench
        self._wish: Wish | None = None
        self.list = LinesView(
            "Checklist", ("item", "how it stands", "asked for", "according to"), self
        )
        self.list.setMinimumHeight(step(self, _HEIGHT))
        self.words = QLineEdit(self)
        self.words.setAccessibleName("Statement or reason")
        self.words.setPlaceholderText("what is stated under the item, or why it is left open")
        self._lay_out()
        self.hide()

    def fill(self, wish: "Wish") -> None:
        """Show the items of the profile that is wished for."""
        from workbench.desk.checklist import checklist

        self._wish = wish
        states = checklist(self._bench.case, wish)
        lines = [Line((one.key, one.stands, one.asks, one.source), one.key) for one in states]
        self.list.show_lines(lines, (16, 22, 50))
        self.setVisible(bool(states))

    def state(self) -> None:
        """Enter the words as what the person states under the item chosen."""
        from workbench.desk.checklist import state_item

        self._enter(state_item)

    def leave_open(self) -> None:
        """Enter the words as the reason why the item chosen is left open."""
        from workbench.desk.checklist import leave_open

        self._enter(leave_open)

    def _enter(self, enter: "Enter") -> None:
        row = self.list.currentIndex().row()
        if self._wish is None or row < 0:
            self._bench.refused.emit("choose an item of the checklist first")
            return
        try:
            enter(self._bench.case, self._wish, str(self.list.lines.lines[row].behind),
                  self.words.text())  # fmt: skip
        except KnownError as wrong:
            self._bench.refused.emit(str(wrong))
            return
        self.words.clear()
        self.fill(self._wish)
        self.list.selectRow(row)

    def _lay_out(self) -> None:
        note = label(
            "A checklist, no legal advice, and what touches the evidence. An item that hinders "
            "keeps the report from being issued until it is settled, or left open for a reason "
            "that is printed.",
            "quiet", self,
        )  # fmt: skip
        note.setWordWrap(True)
        line = QHBoxLayout()
        line.addWidget(self.words, 1)
        line.addWidget(button("State this", self.state, self))
        line.addWidget(button("Leave it open, for this reason", self.leave_open, self))
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(step(self))
        whole.addWidget(note)
        whole.addWidget(self.list)
        whole.addLayout(line)
