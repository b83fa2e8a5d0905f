"""What speaks against, what stays unexplained, and on what the outcome hangs."""

from datetime import UTC, datetime
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QSplitter, QVBoxLayout, QWidget

from workbench.desk.deciding import Decisions, UndecidedError
from workbench.records import ListOf
from workbench.ui.bench import Bench
from workbench.ui.pages.page import Page
from workbench.ui.parts import bare_column, button, elided, label, overline
from workbench.ui.table.lines import Line, LinesView
from workbench.ui.theme import step

if TYPE_CHECKING:
    from workbench.reasoning import Fragility, Listed
    from workbench.records import Source

_NAMES = {
    ListOf.SPEAKS_AGAINST: "What speaks against the leading cause",
    ListOf.UNEXPLAINED: "What stays unexplained",
}


class ListsPage(Page):
    """Two lists that may not be empty without a person saying so, and the fragile findings."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Wait for the reasoning."""
        super().__init__(bench, parent)
        self._said = elided("quiet", self)
        self.lists = {
            which: LinesView(name, ("entry", "by"), self) for which, name in _NAMES.items()
        }
        self.words = {which: QLineEdit(self) for which in _NAMES}
        self.open = {which: label("", "wrong", self) for which in _NAMES}
        self.fragile = LinesView("On what the outcome hangs", ("finding",), self)
        self._lay_out()
        for view in self._views:
            view.selectionModel().currentRowChanged.connect(lambda _a, _b: self._on_row())
        bench.answers.ready.connect(self._on_ready)

    @property
    def finding(self) -> "tuple[str, str, tuple[Source, ...]] | None":
        """The entry that is chosen in the list with the focus."""
        one = self._entry()
        if one is None:
            return None
        sources = one.sources if hasattr(one, "sources") else one.finding.sources
        return (one.words, "", sources) if sources else None

    def fill(self) -> None:
        """Show the lists, once the candidates are weighed."""
        found = self.bench.answers.ask(self.bench.causes)
        if found is None:
            self._said.setText("Weighing the candidates…")
            return
        self._said.setText(found.verdict)
        held = {ListOf.SPEAKS_AGAINST: found.against, ListOf.UNEXPLAINED: found.unexplained}
        for which, entries in held.items():
            lines = [Line((one.words, one.said_by or "the records"), one) for one in entries]
            self.lists[which].show_lines(lines, (78,))
            unsaid = which.value in found.lists_open
            words = "The list is empty, and nobody has said that it is." if unsaid else ""
            self.open[which].setText(f"! {words}" if unsaid else "")
            self.open[which].setVisible(unsaid)
        nothing = "No single finding, if wrong, would change the leading cause or its grade."
        hanging = [Line((one.words,), one) for one in found.fragilities]
        self.fragile.show_lines(hanging or [Line((nothing,))])

    def enter(self) -> None:
        """Go to the first list."""
        self._views[0].setFocus(Qt.FocusReason.OtherFocusReason)

    def say(self, which: ListOf) -> None:
        """Put a statement into a list, over a name."""
        bench, line = self.bench, self.words[which]
        desk = Decisions(bench.dossier, bench.case.author, datetime.now(UTC))
        try:
            act = desk.statement(which, line.text(), bench.selection.sources)
        except UndecidedError as wrong:
            bench.refused.emit(str(wrong))
            line.setFocus(Qt.FocusReason.OtherFocusReason)
            return
        if bench.do(act):
            line.clear()

    @property
    def _views(self) -> tuple[LinesView, ...]:
        return (*self.lists.values(), self.fragile)

    def _entry(self) -> "Listed | Fragility | None":
        from workbench.reasoning import Fragility, Listed

        for view in self._views:
            line = view.lines.line_at(view.currentIndex().row())
            if view.hasFocus() and line and isinstance(line.behind, Listed | Fragility):
                return line.behind
        return None

    def _on_row(self) -> None:
        if found := self.finding:
            self.bench.selection.light(found[2])

    def _on_ready(self, question: object) -> None:
        if question is self.bench.causes:
            self.renew()

    def _lay_out(self) -> None:
        head = self.head("For and against", self._said)
        parts = QSplitter(Qt.Orientation.Vertical, self)
        parts.setHandleWidth(1)
        parts.setChildrenCollapsible(False)
        for which, view in self.lists.items():
            parts.addWidget(self._part(which, view))
        last = QWidget(parts)
        inner = _column(last)
        inner.addWidget(overline("On what the outcome hangs", last))
        inner.addWidget(self.fragile)
        parts.addWidget(last)
        for view in self._views:
            view.horizontalHeader().hide()
        whole = bare_column(self)
        whole.addLayout(head)
        whole.addWidget(parts, 1)

    def _part(self, which: ListOf, view: LinesView) -> QWidget:
        made = QWidget(self)
        line = self.words[which]
        line.setPlaceholderText("What belongs here, or that nothing does; it rests on what is lit")
        line.setAccessibleName(f"{_NAMES[which]}: a statement")
        line.setEnabled(not self.bench.case.read_only)
        line.returnPressed.connect(lambda: self.say(which))
        row = QHBoxLayout()
        row.setSpacing(step(self))
        row.addWidget(line, 1)
        row.addWidget(button("State", lambda: self.say(which), made))
        inner = _column(made)
        inner.addWidget(overline(_NAMES[which], made))
        inner.addWidget(self.open[which])
        inner.addWidget(view)
        inner.addLayout(row)
        return made


def _column(parent: QWidget) -> QVBoxLayout:
    inner = QVBoxLayout(parent)
    inner.setContentsMargins(step(parent, 2), step(parent, 0.5), step(parent), step(parent, 0.5))
    inner.setSpacing(step(parent, 0.5))
    return inner
