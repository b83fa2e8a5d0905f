"""What is open: every point with what would close it; doubts are answered here, many at once."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLineEdit, QWidget

from workbench.desk.questions.open_points import OpenPoint, Sort
from workbench.records import DoubtAnswer, Effect, Source, When
from workbench.ui.bench import Bench
from workbench.ui.pages.page import Page
from workbench.ui.parts import bare_column, button, label
from workbench.ui.table.lines import Line, LinesView
from workbench.ui.theme import step


class OpenPointsPage(Page):
    """The list, and below it the answer to the doubt that is chosen.

    Attributes:
        opened: The person wants the place of a point.
        asked: The person asks how a record is known.
    """

    opened = Signal(object)
    asked = Signal(object)

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Wait for the points to be found."""
        super().__init__(bench, parent)
        self._said = label("", "quiet", self)
        self.list = LinesView(
            "Open points", ("", "kind", "concerns", "what is open", "what would close it"), self
        )
        self._effect = QComboBox(self)
        self.reason = QLineEdit(self)
        self._answer = button("Answer the doubt", self.answer, self, main=True)
        self._go = button("Go to its place", self._open, self, tip="Return")
        self._lay_out()
        bench.drafts.keep_line("reason of a doubt", self.reason)
        self.list.opened.connect(self.opened)
        self.list.selectionModel().currentRowChanged.connect(self._on_current)
        bench.answers.ready.connect(self._on_ready)

    @property
    def finding(self) -> tuple[str, str, tuple[Source, ...]] | None:
        """The point that is chosen."""
        point = self._point()
        return (point.words, point.remedy, point.sources) if point and point.sources else None

    def fill(self) -> None:
        """Show the points, once they are found."""
        found = self.bench.answers.ask(self.bench.open_points)
        if found is None:
            self._said.setText("Looking…")
            return
        kept = self.list.currentIndex().row()
        self.list.show_lines([_line(one) for one in found], (3, 9, 19, 36, 24))
        grave = sum(1 for one in found if one.grave)
        self._said.setText(f"{len(found)} open, {grave} of them touch the evidence itself")
        row = min(max(kept, 0), len(found) - 1)
        if row >= 0:
            self.list.setCurrentIndex(self.list.lines.index(row, 0))
        self._on_current()

    def enter(self) -> None:
        """Go to the list."""
        self.list.setFocus(Qt.FocusReason.OtherFocusReason)

    def answer(self) -> None:
        """Answer the doubt that is chosen, for every record it concerns."""
        from datetime import UTC, datetime

        from workbench.desk.acts import Add

        point = self._point()
        if point is None or point.sort is not Sort.DOUBT:
            return
        if not self.reason.text().strip():
            self.bench.refused.emit("Say why the readings may be used, or why not.")
            self.reason.setFocus(Qt.FocusReason.OtherFocusReason)
            return
        today = When(datetime.now(UTC).astimezone(self.bench.dossier.zone).date().isoformat())
        answers = tuple(
            DoubtAnswer(
                about=str(source), rule=point.rule, effect=Effect(self._effect.currentData()),
                reason=self.reason.text().strip(), by=self.bench.case.author, signed=today,
            )
            for source in point.sources
        )  # fmt: skip
        if self.bench.do(Add(answers, self.reason.text().strip())):
            self.reason.clear()

    def _point(self) -> OpenPoint | None:
        line = self.list.lines.line_at(self.list.currentIndex().row())
        return line.behind if line and isinstance(line.behind, OpenPoint) else None

    def _open(self) -> None:
        if point := self._point():
            self.opened.emit(point)

    def _on_ready(self, question: object) -> None:
        if question is self.bench.open_points:
            self.renew()

    def _on_current(self, *_: object) -> None:
        point = self._point()
        doubt = point is not None and point.sort is Sort.DOUBT
        for widget in (self._effect, self.reason, self._answer):
            widget.setVisible(doubt and not self.bench.case.read_only)
        self._go.setEnabled(point is not None)
        if point and point.sources:
            self.bench.selection.light(point.sources)

    def _lay_out(self) -> None:
        self._effect.setAccessibleName("What the doubt does to the use of the readings")
        for effect in Effect:
            self._effect.addItem(f"use: {effect}", str(effect))
        self.reason.setPlaceholderText("Why; this is kept in the journal and printed")
        self.reason.setAccessibleName("Reason of the answer")
        self.reason.returnPressed.connect(self.answer)
        head = self.head("Open points", self._said)
        foot = QHBoxLayout()
        foot.setSpacing(step(self))
        foot.setContentsMargins(step(self, 2), step(self), step(self), step(self))
        foot.addWidget(self._go)
        foot.addWidget(self._effect)
        foot.addWidget(self.reason, 1)
        foot.addWidget(self._answer)
        whole = bare_column(self)
        whole.addLayout(head)
        whole.addWidget(self.list, 1)
        whole.addLayout(foot)


def _line(point: OpenPoint) -> Line:
    sign = "✕" if point.grave else "!"
    return Line((sign, str(point.sort), point.about, point.words, point.remedy), point)
