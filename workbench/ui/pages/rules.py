"""Rules and thresholds: what decides where sources disagree, where it comes from, what holds."""

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLineEdit,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from workbench.desk.choosing import UnchosenError, choose, choose_usual, entry_of
from workbench.reasoning.settings import GRADING
from workbench.records import Dossier, Source
from workbench.trade.showing import unit_sign
from workbench.ui.bench import Bench
from workbench.ui.pages.page import Page
from workbench.ui.parts import bare_column, button, elided, label
from workbench.ui.table.lines import Line, LinesView
from workbench.ui.theme import step

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from workbench.desk.acts import Act
    from workbench.reasoning import Finding
    from workbench.trade.settings import Choice


def rules(dossier: Dossier) -> "tuple[Choice, ...]":
    """Return every choice of a case, to be asked of the bench's answers."""
    from workbench.reasoning import choices_of

    return choices_of(dossier)


class RulesPage(Page):
    """Every choice of the case, and below it what other sources say and what is chosen here."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Show nothing yet."""
        super().__init__(bench, parent)
        self._said = elided("quiet", self)
        self.filter = QLineEdit(self)
        self.list = LinesView(
            "Rules and thresholds",
            ("", "what is asked", "holds", "usual", "decided", "where from"),
            self,
        )
        self._others = label("", "", self)
        self.words = QComboBox(self)
        self.number = QLineEdit(self)
        self._unit = label("", "quiet", self)
        self.reason = QLineEdit(self)
        self._choose = button("Choose for this case", self.choose, self, main=True)
        self._usual = button("Back to the usual", self.choose_usual, self)
        self._value = QStackedWidget(self)
        self._decided: Mapping[str, tuple[Finding, ...]] = {}
        self._basis: tuple[Source, ...] = ()
        self._lay_out()
        bench.drafts.keep_line("reason of a choice", self.reason)
        self.filter.textChanged.connect(self.fill)
        self.list.selectionModel().currentRowChanged.connect(lambda _a, _b: self._on_row())
        self.list.opened.connect(lambda _choice: self._editor.setFocus())
        bench.answers.ready.connect(self._on_ready)

    @property
    def finding(self) -> tuple[str, str, tuple[Source, ...]] | None:
        """The choice under the cursor, where it comes from, and the entry that chose it."""
        one = self._choice()
        if one is None:
            return None
        held = entry_of(self.bench.dossier, one)
        words = f"{one.words(one.value, self.bench.showing)}; usual: {one.basis}"
        behind = (
            source for finding in self._decided.get(one.name, ()) for source in finding.sources
        )
        sources = dict.fromkeys((*([held.source] if held else ()), *behind))
        return one.asks, words, tuple(sources)

    def fill(self) -> None:
        """Show the choices that hold the words of the filter."""
        from workbench.reasoning import decided

        found = self.bench.answers.ask(rules)
        if found is None:
            self._said.setText("Looking…")
            return
        reasoning = self.bench.answers.ask(self.bench.causes)
        self._decided = decided(reasoning) if reasoning else {}
        self._basis = reasoning.basis if reasoning else ()
        sought = self.filter.text().casefold().split()
        lines = [self._line(one) for one in found]
        shown = [
            line
            for line in lines
            if all(word in " ".join(line.cells).casefold() for word in sought)
        ]
        asked = one.asks if (one := self._choice()) else ""
        self.list.show_lines(shown, (3, 38, 17, 13, 11, 26))
        departs = sum(one.departs for one in found)
        shown_of = f"{len(shown)} of {len(found)}" if sought else str(len(found))
        self._said.setText(f"{shown_of}, {departs or 'none'} chosen otherwise for this case")
        row = next((at for at, line in enumerate(shown) if line.cells[1] == asked), 0)
        self.list.setCurrentIndex(self.list.lines.index(row, 0))
        self._on_row()

    def enter(self) -> None:
        """Go to the list."""
        self.list.setFocus(Qt.FocusReason.OtherFocusReason)

    def go_to_filter(self) -> None:
        """Go to the filter."""
        self.filter.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.filter.selectAll()

    def choose(self) -> None:
        """Keep what is written or picked as the choice of this case, with its reason."""
        if one := self._choice():
            text = self.words.currentText() if one.permitted else self.number.text()
            self._act(lambda why: choose(self.bench.dossier, one, text, why))

    def choose_usual(self) -> None:
        """Go back to what is usual, with the reason."""
        if one := self._choice():
            self._act(lambda why: choose_usual(self.bench.dossier, one, why))

    @property
    def _editor(self) -> QWidget:
        one = self._choice()
        return self.words if one and one.permitted else self.number

    def _act(self, make: "Callable[[str], Act]") -> None:
        bench = self.bench
        try:
            act = make(self.reason.text())
        except UnchosenError as wrong:
            bench.refused.emit(str(wrong))
            empty = not self.reason.text().strip()
            (self.reason if empty else self._editor).setFocus()
            return
        if bench.do(act):
            self.reason.clear()

    def _choice(self) -> "Choice | None":
        from workbench.trade.settings import Choice

        line = self.list.lines.line_at(self.list.currentIndex().row())
        return line.behind if line and isinstance(line.behind, Choice) else None

    def _line(self, one: "Choice") -> Line:
        showing = self.bench.showing
        holds = one.words(one.value, showing)
        usual = one.words(one.default, showing) if one.departs else "as usual"
        number = len(self._decided.get(one.name, ()))
        findings = f"{number} finding{'s' if number > 1 else ''}" if number else "–"
        findings = "the grades" if one.name in GRADING else findings
        mark = "●" if one.departs else ""
        return Line((mark, one.asks, holds, usual, findings, str(one.basis)), one)

    def _on_row(self) -> None:
        one, read_only = self._choice(), self.bench.case.read_only
        self._others.setText(_others(one) if one else "")
        if one and one.permitted:
            self.words.clear()
            self.words.addItems(one.permitted)
            self.words.setCurrentText(str(one.value))
        elif one:
            self.number.setText(f"{one.value:.6g}")
            self._unit.setText(unit_sign(one.unit))
        self._value.setCurrentIndex(0 if one and one.permitted else 1)
        chosen = one is not None and entry_of(self.bench.dossier, one) is not None
        self._choose.setEnabled(one is not None and not read_only)
        self._usual.setEnabled(chosen and not read_only)

    def _on_ready(self, question: object) -> None:
        if question in (rules, self.bench.causes):
            self.renew()

    def _lay_out(self) -> None:
        self.filter.setPlaceholderText("Filter (Ctrl+F)")
        self.filter.setAccessibleName("Filter of rules and thresholds")
        self.filter.setMaximumWidth(step(self, 24))
        self.words.setAccessibleName("What is chosen")
        self.number.setAccessibleName("What is chosen")
        self.reason.setAccessibleName("Reason of the choice")
        self.reason.setPlaceholderText("Why; this is kept in the journal and printed")
        self.reason.returnPressed.connect(self.choose)
        self._others.setWordWrap(True)
        head = self.head("Rules and thresholds", self._said, right=(self.filter,))
        number = QWidget(self)
        beside = QHBoxLayout(number)
        beside.setContentsMargins(0, 0, 0, 0)
        beside.addWidget(self.number, 1)
        beside.addWidget(self._unit)
        self._value.addWidget(self.words)
        self._value.addWidget(number)
        self._value.setFixedWidth(step(self, 20))
        foot = QHBoxLayout()
        foot.setSpacing(step(self))
        foot.addWidget(self._value)
        foot.addWidget(self.reason, 1)
        foot.addWidget(self._choose)
        foot.addWidget(self._usual)
        below = QVBoxLayout()
        below.setContentsMargins(step(self, 2), step(self, 0.5), step(self), step(self))
        below.setSpacing(step(self, 0.5))
        below.addWidget(self._others)
        below.addLayout(foot)
        whole = bare_column(self)
        whole.addLayout(head)
        whole.addWidget(self.list, 1)
        whole.addLayout(below)


def _holds(line: Line, sought: list[str]) -> bool:
    told = " ".join(line.cells).casefold()
    return all(word in told for word in sought)


def _others(one: "Choice") -> str:
    """Return what other sources say of it."""
    if not one.others:
        return f"{one.asks.rstrip('?')}: no other source is known here."
    return f"Others say {one.others_in_words}."
