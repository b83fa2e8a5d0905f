"""What would settle it: tests not yet made, the most telling first, and what a person knows."""

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLineEdit, QSplitter, QVBoxLayout, QWidget

from workbench.desk.questions.causes import causes
from workbench.records import Answer
from workbench.ui.bench import Bench
from workbench.ui.pages.page import Page
from workbench.ui.parts import button, label, overline
from workbench.ui.table.lines import Line, LinesView
from workbench.ui.theme import step

if TYPE_CHECKING:
    from workbench.reasoning.results import NextTest, Question, Reasoning


class NextTestsPage(Page):
    """The next tests, the questions to a person, and what the outcome hangs on."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Wait for the reasoning."""
        super().__init__(bench, parent)
        self._said = label("", "quiet", self)
        self.tests = LinesView(
            "Next tests", ("test", "where", "cost", "takes", "destroys", "parts"), self
        )
        self.outcomes = LinesView("What each outcome would mean", ("outcome", "would"), self)
        self.questions = LinesView("Questions to a person", ("question",), self)
        self.fragile = LinesView("What the outcome hangs on", ("finding",), self)
        self.value = QComboBox(self)
        self.reason = QLineEdit(self)
        self._answer = button("Answer", self.answer, self, main=True)
        self._reasoning: Reasoning | None = None
        self._lay_out()
        self.tests.selectionModel().currentRowChanged.connect(lambda _a, _b: self._on_test())
        self.questions.selectionModel().currentRowChanged.connect(
            lambda _a, _b: self._on_question()
        )
        bench.answers.ready.connect(self._on_ready)

    def fill(self) -> None:
        """Show what would settle it, once the candidates are weighed."""
        self._reasoning = found = self.bench.answers.ask(causes)
        if found is None:
            self._said.setText("Weighing the candidates…")
            return
        self._said.setText(found.verdict)
        self.tests.show_lines(
            [_test_line(one, found) for one in found.next_tests], (30, 8, 8, 9, 9)
        )
        self.questions.show_lines([Line((one.text,), one) for one in found.questions])
        hanging = [Line((one.words,), one) for one in found.fragilities]
        hanging += [Line((f"Not explained: {one.words}",), one) for one in found.unexplained]
        hanging += [Line((f"Speaks against: {one.words}",), one) for one in found.against]
        nothing = "No single finding, if wrong, would change the leading cause or its grade."
        self.fragile.show_lines(hanging or [Line((nothing,))])
        for view in (self.tests, self.questions):
            if view.lines.rowCount():
                view.setCurrentIndex(view.lines.index(0, 0))
        self._on_test()
        self._on_question()

    def enter(self) -> None:
        """Go to the tests."""
        self.tests.setFocus(Qt.FocusReason.OtherFocusReason)

    def answer(self) -> None:
        """Keep what the person knows as an answer, with its reason."""
        from workbench.desk.acts import Add

        question = self._question()
        if question is None:
            return
        if not self.reason.text().strip():
            self.bench.refused.emit(
                "Say how you know; an answer without a reason counts for nobody."
            )
            self.reason.setFocus()
            return
        made = Answer(
            observation=question.key, value=self.value.currentText(),
            by=self.bench.case.author, reason=self.reason.text().strip(),
            origin="answered at the desk",
        )  # fmt: skip
        if self.bench.do(Add((made,), made.reason)):
            self.reason.clear()

    def _question(self) -> "Question | None":
        line = self.questions.lines.line_at(self.questions.currentIndex().row())
        return line.behind if line else None  # type: ignore[return-value]

    def _on_test(self) -> None:
        line = self.tests.lines.line_at(self.tests.currentIndex().row())
        test: NextTest | None = line.behind if line else None  # type: ignore[assignment]
        lines = (
            [Line((one.value.replace("_", " "), _effect(one.words, one))) for one in test.outcomes]
            if test
            else []
        )
        self.outcomes.show_lines(lines, (18,))

    def _on_question(self) -> None:
        question = self._question()
        self.value.clear()
        if question:
            self.value.addItems(list(question.values))
        self._answer.setEnabled(question is not None and not self.bench.case.read_only)

    def _on_ready(self, question: object) -> None:
        if question is causes:
            self.renew()

    def _lay_out(self) -> None:
        self.value.setAccessibleName("The answer")
        self.value.setMinimumWidth(step(self, 16))
        self.reason.setPlaceholderText("How you know; this is kept in the journal and printed")
        self.reason.setAccessibleName("Reason of the answer")
        head = QHBoxLayout()
        head.setContentsMargins(step(self, 2), step(self, 0.5), step(self), step(self, 0.5))
        head.setSpacing(step(self))
        head.addWidget(label("What would settle it", "title", self))
        head.addWidget(self._said, 1)
        answering = QHBoxLayout()
        answering.addWidget(self.value)
        answering.addWidget(self.reason, 1)
        answering.addWidget(self._answer)
        parts = QSplitter(Qt.Orientation.Vertical, self)
        parts.setHandleWidth(1)
        parts.setChildrenCollapsible(False)
        for name, view in (
            ("Tests, the most telling first", self.tests),
            ("What each outcome would mean", self.outcomes),
            ("What only a person can answer", self.questions),
            ("What the outcome hangs on", self.fragile),
        ):
            part = QWidget(parts)
            inner = QVBoxLayout(part)
            inner.setContentsMargins(step(self, 2), step(self, 0.5), step(self), step(self, 0.5))
            inner.setSpacing(step(self, 0.5))
            inner.addWidget(overline(name, part))
            inner.addWidget(view)
            view.horizontalHeader().setVisible(view is self.tests)
            if view is self.questions:
                inner.addLayout(answering)
            parts.addWidget(part)
        parts.setSizes([step(self, 24), step(self, 20), step(self, 20), step(self, 14)])
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        whole.addLayout(head)
        whole.addWidget(parts, 1)


def _test_line(test: "NextTest", reasoning: "Reasoning") -> Line:
    named = (reasoning.candidate(cause) for cause in test.parts)
    parts = "; ".join(one.title for one in named if one)
    cells = (test.name, test.setting, test.cost, test.delay, test.destructive, parts)
    return Line(cells, test)


def _effect(words: str, outcome: object) -> str:
    told = {
        "strengthens": getattr(outcome, "strengthens", ()),
        "weakens": getattr(outcome, "weakens", ()),
        "excludes": getattr(outcome, "excludes", ()),
    }
    said = [
        f"{verb} {', '.join(one.replace('-', ' ') for one in causes)}"
        for verb, causes in told.items()
        if causes
    ]
    return f"{words} {'; '.join(said)}".strip()
