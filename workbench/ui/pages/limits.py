"""Beside the limits: what was asked, what was found, and what the decision rule says of it."""

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QWidget

from workbench.desk.questions.limits import limits_in, not_beside, rule_in_words
from workbench.records import BY_NOUN, Source
from workbench.trade.names import quantity_name
from workbench.ui.bench import Bench
from workbench.ui.pages.page import Page
from workbench.ui.parts import bare_column, label, parted
from workbench.ui.table.lines import Line, LinesView
from workbench.ui.theme import step

if TYPE_CHECKING:
    from workbench.analysis.conformity import Result, Statement

_WHERE = "The rule is chosen in Background, under Rules and thresholds."
_SIGNS = {"pass": "✓", "fail": "✕", "not decided": "?", "value only": ""}


class LimitsPage(Page):
    """The limits above, the results beside the one that is chosen below."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Judge nothing yet."""
        super().__init__(bench, parent)
        self._said = label("", "quiet", self)
        self.list = LinesView(
            "Limits of the case", ("", "what", "asked", "according to", "results", "said"), self
        )
        self.results = LinesView(
            "Results beside the limit", ("", "record", "area", "value", "said"), self
        )
        self._lay_out()
        self.list.selectionModel().currentRowChanged.connect(lambda _now, _before: self._on_row())
        self.results.selectionModel().currentRowChanged.connect(lambda _a, _b: self._on_result())
        bench.answers.ready.connect(self._on_ready)

    @property
    def finding(self) -> tuple[str, str, tuple[Source, ...]] | None:
        """The statement that is chosen, or the result where that has the focus."""
        one, result = self._statement(), self._result()
        if result and self.results.hasFocus():
            return str(result.source), "", (result.source,)
        if one is None:
            return None
        sources = (one.limit, *(held.source for held in one.results))
        return f"{quantity_name(one.quantity)}, {one.asked}", one.said, sources

    def fill(self) -> None:
        """Show the limits that have results, once they are judged."""
        found = self.bench.answers.ask(limits_in(self.bench.showing.system))
        if found is None:
            self._said.setText("Looking…")
            return
        kept = max(self.list.currentIndex().row(), 0)
        self.list.show_lines([self._line(one) for one in found], (3, 20, 16, 18, 24, 26))
        left = not_beside(self.bench.dossier, found)
        self._said.setText(" ".join(filter(None, (rule_in_words(found), _WHERE, left))))
        if found:
            self.list.setCurrentIndex(self.list.lines.index(min(kept, len(found) - 1), 0))
        self._on_row()

    def enter(self) -> None:
        """Go to the limits."""
        self.list.setFocus(Qt.FocusReason.OtherFocusReason)

    def _line(self, one: "Statement") -> Line:
        cells = (
            _SIGNS[one.verdict], quantity_name(one.quantity), one.asked,
            one.clause or "not stated", one.spread(self.bench.showing), one.said,
        )  # fmt: skip
        return Line(cells, one)

    def _on_row(self) -> None:
        one = self._statement()
        lines = [self._result_line(one, held) for held in one.results] if one else []
        self.results.show_lines(lines, (3, 16, 10, 20, 30))
        if one and self.isVisible():
            self.bench.selection.light((one.limit, *(held.source for held in one.results)))

    def _result_line(self, one: "Statement", held: "Result") -> Line:
        sign = "≥ " if held.at_least else "≤ " if held.at_most else ""
        value = "–"
        if held.value is not None:
            value = sign + self.bench.showing.span(held.value, held.value, one.unit)
        doubt = f"; in doubt, {held.in_doubt}" if held.in_doubt else ""
        said = held.why_not or f"{held.verdict}{doubt}"
        mark = "" if held.why_not else _SIGNS[held.verdict]
        record = f"{BY_NOUN[held.source.noun].title} {held.source.label}"
        return Line((mark, record, held.area or "–", value, said), held)

    def _on_result(self) -> None:
        result = self._result()
        if result and self.results.hasFocus():
            self.bench.selection.light((result.source,))

    def _statement(self) -> "Statement | None":
        from workbench.analysis.conformity import Statement

        line = self.list.lines.line_at(self.list.currentIndex().row())
        return line.behind if line and isinstance(line.behind, Statement) else None

    def _result(self) -> "Result | None":
        from workbench.analysis.conformity import Result

        line = self.results.lines.line_at(self.results.currentIndex().row())
        return line.behind if line and isinstance(line.behind, Result) else None

    def _on_ready(self, question: object) -> None:
        if question is limits_in(self.bench.showing.system):
            self.renew()

    def _lay_out(self) -> None:
        self._said.setWordWrap(True)
        head = QHBoxLayout()
        head.setContentsMargins(step(self, 2), step(self, 0.5), step(self), step(self, 0.5))
        head.setSpacing(step(self))
        head.addWidget(label("Beside the limits", "title", self))
        head.addWidget(self._said, 1)
        halves = parted(
            self, Qt.Orientation.Vertical, (self.list, self.results), grows=0, steps=(50, 30)
        )
        whole = bare_column(self)
        whole.addLayout(head)
        whole.addWidget(halves, 1)
