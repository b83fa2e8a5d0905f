"""What would settle it: tests not yet made, the most telling first, and what a person knows."""

from collections.abc import Iterator
from datetime import UTC, datetime
from html import escape
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLineEdit, QSplitter, QVBoxLayout, QWidget

from workbench.desk.deciding import Decisions, UndecidedError
from workbench.desk.questions.causes import knowledge_of
from workbench.records import Source
from workbench.ui.bench import Bench
from workbench.ui.pages.page import Page
from workbench.ui.parts import bare_column, button, elided, overline
from workbench.ui.reading import Reading, heading, paragraph
from workbench.ui.table.lines import Line, LinesView
from workbench.ui.theme import step

if TYPE_CHECKING:
    from workbench.reasoning import Knowledge, NextTest, OutcomeMeaning, Question, Reasoning


class NextTestsPage(Page):
    """The next tests, what each outcome would mean, and the questions to a person.

    Attributes:
        asked: The person asks how a record is known.
    """

    asked = Signal(object)

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Wait for the reasoning."""
        super().__init__(bench, parent)
        self._said = elided("quiet", self)
        self.tests = LinesView(
            "Next tests", ("test", "where", "cost", "takes", "destroys", "tells apart"), self
        )
        self.outcomes = Reading("What each outcome would mean", self)
        self.questions = LinesView("Questions to a person", ("question",), self)
        self.value = QComboBox(self)
        self.reason = QLineEdit(self)
        self._answer = button("Answer", self.answer, self, main=True)
        self._reasoning: Reasoning | None = None
        self._lay_out()
        bench.drafts.keep_line("reason of an answer", self.reason)
        self.tests.selectionModel().currentRowChanged.connect(lambda _a, _b: self._on_test())
        self.questions.selectionModel().currentRowChanged.connect(
            lambda _a, _b: self._on_question()
        )
        self.outcomes.asked.connect(self.asked)
        bench.answers.ready.connect(self._on_ready)

    @property
    def finding(self) -> tuple[str, str, tuple[Source, ...]] | None:
        """The test that is chosen, and what was found of the candidates that it tells apart."""
        test, found = self._test(), self._reasoning
        if test is None or found is None:
            return None
        parted = [one for one in found.candidates if one.cause in test.parts]
        cells = [cell for one in parted for cell in (*one.supporting, *one.opposing)]
        sources = dict.fromkeys(source for cell in cells for source in cell.finding.sources)
        words = f"Tells apart: {', '.join(one.title for one in parted)}."
        return test.name, words, tuple(sources) or found.basis

    def fill(self) -> None:
        """Show what would settle it, once the candidates are weighed."""
        self._reasoning = found = self.bench.answers.ask(self.bench.causes)
        if found is None:
            self._said.setText("Weighing the candidates…")
            return
        self._said.setText(found.verdict)
        self._said.setToolTip(found.verdict)
        self.tests.show_lines([_test_line(one) for one in found.next_tests], (43, 8, 9, 8, 9))
        self.questions.show_lines([Line((one.text,), one) for one in found.questions])
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
        question, bench = self._question(), self.bench
        if question is None:
            return
        desk = Decisions(bench.dossier, bench.case.author, datetime.now(UTC))
        try:
            act = desk.answer(question.key, str(self.value.currentData()), self.reason.text())
        except UndecidedError as wrong:
            bench.refused.emit(str(wrong))
            self.reason.setFocus(Qt.FocusReason.OtherFocusReason)
            return
        if bench.do(act):
            self.reason.clear()

    def _test(self) -> "NextTest | None":
        from workbench.reasoning import NextTest

        line = self.tests.lines.line_at(self.tests.currentIndex().row())
        return line.behind if line and isinstance(line.behind, NextTest) else None

    def _question(self) -> "Question | None":
        from workbench.reasoning import Question

        line = self.questions.lines.line_at(self.questions.currentIndex().row())
        return line.behind if line and isinstance(line.behind, Question) else None

    def _on_test(self) -> None:
        test, found = self._test(), self._reasoning
        if test is None or found is None:
            words = "Nothing that is left to be read would change what stands."
            self.outcomes.show_paragraphs((paragraph(words),))
            return
        said = test_paragraphs(test, found, knowledge_of(self.bench.dossier))
        self.outcomes.show_paragraphs(said)

    def _on_question(self) -> None:
        question = self._question()
        self.value.clear()
        for value in question.values if question else ():
            self.value.addItem(value.replace("_", " "), value)
        self._answer.setEnabled(question is not None and not self.bench.case.read_only)

    def _on_ready(self, question: object) -> None:
        if question is self.bench.causes:
            self.renew()

    def _lay_out(self) -> None:
        self.value.setAccessibleName("The answer")
        self.value.setMinimumWidth(step(self, 16))
        self.reason.setPlaceholderText("How you know; this is kept in the journal and printed")
        self.reason.setAccessibleName("Reason of the answer")
        self.reason.returnPressed.connect(self.answer)
        self.questions.horizontalHeader().hide()
        head = self.head("What would settle it", self._said)
        answering = QHBoxLayout()
        answering.setSpacing(step(self))
        answering.addWidget(self.value)
        answering.addWidget(self.reason, 1)
        answering.addWidget(self._answer)
        parts = QSplitter(Qt.Orientation.Vertical, self)
        parts.setHandleWidth(1)
        parts.setChildrenCollapsible(False)
        for name, view in (
            ("Tests, the most telling first", self.tests),
            ("What each outcome would mean", self.outcomes),
            ("What only a person can answer, the most telling first", self.questions),
        ):
            part = QWidget(parts)
            inner = QVBoxLayout(part)
            inner.setContentsMargins(step(self, 2), step(self, 0.5), step(self), step(self, 0.5))
            inner.setSpacing(step(self, 0.5))
            inner.addWidget(overline(name, part))
            inner.addWidget(view)
            if view is self.questions:
                inner.addLayout(answering)
            parts.addWidget(part)
        parts.setSizes([step(self, 28), step(self, 30), step(self, 22)])
        whole = bare_column(self)
        whole.addLayout(head)
        whole.addWidget(parts, 1)


def _test_line(test: "NextTest") -> Line:
    number = len(test.parts)
    parts = f"{number} candidate{'s' if number > 1 else ''}" if number else "–"
    return Line((test.name, test.setting, test.cost, test.delay, test.destructive, parts), test)


def test_paragraphs(
    test: "NextTest", reasoning: "Reasoning", knowledge: "Knowledge"
) -> Iterator[str]:
    """Return what a test would tell: outcome by outcome, what to look for, and its caution."""
    held = (reasoning.candidate(cause) for cause in test.parts)
    named = [candidate.title for candidate in held if candidate]
    if named:
        yield paragraph(f"Tells apart: {'; '.join(named)}.")
    shown = ""
    for one in test.outcomes:
        if one.key != shown:
            shown = one.key
            seen = knowledge.observation.get(one.key)
            yield heading(seen.question if seen else one.key.replace("_", " "))
        yield _outcome(one)
    for title, look_for in test.look_for:
        where = f"<span class=quiet>({escape(title)})</span>"
        yield f"<p><b>Look for</b> {escape(look_for)} {where}</p>"
    if test.caution:
        yield paragraph(f"! {test.caution}", "wrong")
    if test.standard:
        yield paragraph(test.standard, "quiet")


def _outcome(one: "OutcomeMeaning") -> str:
    """Return one outcome, and for whom it would speak."""
    told = (
        ("+ for", one.strengthens), ("− against", one.weakens), ("✕ excludes", one.excludes)
    )  # fmt: skip
    said = "; ".join(f"{sign} {', '.join(names)}" for sign, names in told if names)
    leads = f" <span class=quiet>Then leads: {escape(one.leader_after)}.</span>"
    words = one.words.rstrip(".")
    return (
        f"<p><b>{escape(one.value.replace('_', ' '))}</b>: {escape(words)}. "
        f"{escape(f'{said}.' if said else '')}{leads if one.leader_after else ''}</p>"
    )
