"""The candidate causes: the verdict, the matrix, what a cell says, and what is decided."""

from collections.abc import Iterable
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QFrame,
    QHBoxLayout,
    QLabel,
    QScrollArea,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from workbench.desk.questions.causes import cause_matrix, causes
from workbench.records.codes import FAILURE_FORMS, Chemistry, Substrate
from workbench.ui.bench import Bench
from workbench.ui.causes.deciding import Deciding
from workbench.ui.causes.view import MatrixView
from workbench.ui.pages.page import Page
from workbench.ui.parts import label
from workbench.ui.theme import step

if TYPE_CHECKING:
    from workbench.reasoning.results import Candidate, Cell, Reasoning, Row
    from workbench.records import Source

_SIGNS = (
    "+ supports   − contradicts   ✕? would exclude, to be confirmed   ✕ excludes   · silent   "
    "○ not read   bold: counted"
)
_PLANES = (
    ("SUB_COH", "within the substrate"), ("SUB_IF", "substrate to first coat"),
    ("COAT_COH", "within a coat"), ("INTERCOAT", "between coats"),
)  # fmt: skip


def _spoken(words: Iterable[str]) -> tuple[tuple[str, str], ...]:
    return tuple((str(word), str(word).replace("_", " ")) for word in words)


_NARROWING = {
    "plane": _PLANES,
    "substrate": _spoken(Substrate),
    "chemistry": _spoken(Chemistry),
    "form": _spoken(FAILURE_FORMS),
}


class CausesPage(Page):
    """The matrix of the case."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Wait for the reasoning."""
        super().__init__(bench, parent)
        self.matrix = MatrixView(self)
        self.deciding = Deciding(bench, self)
        self._verdict = label("", "heading", self)
        self._detail = label("", "", self)
        self._excluded = QCheckBox("with excluded", self)
        self._unread = QCheckBox("with not read", self)
        self._narrowed = {name: _choice(name, words, self) for name, words in _NARROWING.items()}
        self._reasoning: Reasoning | None = None
        self._lay_out()
        self.matrix.selectionModel().currentChanged.connect(lambda _now, _before: self._on_cell())
        bench.answers.ready.connect(self._on_ready)
        bench.answers.failed.connect(self._on_failed)
        for box in (self._excluded, self._unread):
            box.toggled.connect(self._show_matrix)
        for choice in self._narrowed.values():
            choice.currentIndexChanged.connect(self._show_matrix)

    def fill(self) -> None:
        """Show what follows from the records, once it is found."""
        self._reasoning = self.bench.answers.ask(causes)
        if self._reasoning is None:
            self._verdict.setText("Weighing the candidates…")
            return
        self._verdict.setText(self._reasoning.verdict)
        self._show_matrix()

    def enter(self) -> None:
        """Go to the matrix."""
        self.matrix.setFocus(Qt.FocusReason.OtherFocusReason)

    @property
    def finding(self) -> "tuple[str, str, tuple[Source, ...]] | None":
        """The finding under the cursor."""
        cell, row = self._cell(), self._row()
        if cell is None or row is None or not cell.finding.sources:
            return None
        return row.label, cell.finding.words, cell.finding.sources

    def _show_matrix(self) -> None:
        if self._reasoning is None:
            return
        from workbench.reasoning import Filter

        chosen = {name: str(box.currentData() or "") for name, box in self._narrowed.items()}
        wanted = Filter(
            plane=chosen["plane"], substrate=chosen["substrate"], form=chosen["form"],
            chemistry=chosen["chemistry"], with_excluded=self._excluded.isChecked(),
            with_unread=self._unread.isChecked(),
        )  # fmt: skip
        kept = self.matrix.currentIndex()
        self.matrix.cells.show_matrix(cause_matrix(self.bench.dossier, self._reasoning, wanted))
        row, column = max(kept.row(), 0), max(kept.column(), 0)
        self.matrix.setCurrentIndex(self.matrix.cells.index(row, column))
        self._on_cell()

    def _cell(self) -> "Cell | None":
        return self.matrix.cells.cell_at(self.matrix.currentIndex())

    def _row(self) -> "Row | None":
        return self.matrix.cells.row_at(self.matrix.currentIndex().row())

    def _candidate(self) -> "Candidate | None":
        return self.matrix.cells.candidate_at(self.matrix.currentIndex().column())

    def _on_cell(self) -> None:
        candidate, cell, row = self._candidate(), self._cell(), self._row()
        self.deciding.show_cell(candidate, cell)
        if candidate is None or cell is None or row is None:
            self._detail.setText("")
            return
        self._detail.setText(_words(candidate, cell, row))
        self.bench.selection.light(_records(cell.finding.sources))

    def _on_ready(self, question: object) -> None:
        if question is causes:
            self.renew()

    def _on_failed(self, question: object, wrong: Exception) -> None:
        if question is causes:
            self._verdict.setText(f"The candidates cannot be weighed: {wrong}")

    def _lay_out(self) -> None:
        self._verdict.setWordWrap(True)
        self._detail.setWordWrap(True)
        self._detail.setAlignment(Qt.AlignmentFlag.AlignTop)
        self._detail.setTextFormat(Qt.TextFormat.RichText)
        self._excluded.setChecked(True)
        head = QHBoxLayout()
        head.setContentsMargins(step(self, 2), step(self), step(self), step(self, 0.5))
        head.addWidget(self._verdict, 1)
        narrowing = QHBoxLayout()
        narrowing.setContentsMargins(step(self, 2), 0, step(self), step(self, 0.5))
        for choice in self._narrowed.values():
            narrowing.addWidget(choice)
        narrowing.addStretch()
        narrowing.addWidget(self._excluded)
        narrowing.addWidget(self._unread)
        signs = label(_SIGNS, "quiet", self)
        signs.setContentsMargins(step(self, 2), 0, step(self), step(self, 0.5))
        halves = QSplitter(Qt.Orientation.Vertical, self)
        halves.setChildrenCollapsible(False)
        halves.setHandleWidth(1)
        halves.addWidget(self.matrix)
        halves.addWidget(_scrolled(self._detail, halves))
        halves.setStretchFactor(0, 1)
        halves.setSizes([step(self, 66), step(self, 16)])
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        whole.addLayout(head)
        whole.addLayout(narrowing)
        whole.addWidget(signs)
        whole.addWidget(halves, 1)
        whole.addWidget(self.deciding)


def _choice(name: str, words: tuple[tuple[str, str], ...], parent: QWidget) -> QComboBox:
    made = QComboBox(parent)
    made.addItem(f"any {name}", "")
    for word, said in words:
        made.addItem(said, word)
    made.setAccessibleName(f"Only causes of this {name}")
    made.setMaximumWidth(step(parent, 18))
    return made


def _scrolled(words: QLabel, parent: QWidget) -> QScrollArea:
    room = QScrollArea(parent)
    room.setWidgetResizable(True)
    room.setFrameShape(QFrame.Shape.NoFrame)
    words.setContentsMargins(step(parent, 2), step(parent), step(parent), step(parent))
    room.setWidget(words)
    return room


def _words(candidate: "Candidate", cell: "Cell", row: "Row") -> str:
    """Return what a cell says, as paragraphs."""
    from html import escape

    found = cell.finding
    said = [f"<b>{escape(candidate.title)}</b>: {escape(str(candidate.grade))}"]
    if candidate.because:
        said.append(f"By the rules: {escape('; '.join(candidate.because))}.")
    said.append(f"<b>{escape(row.question)}</b> {escape(str(cell.bearing))}.")
    if cell.expect:
        said.append(f"Expected: {escape(cell.expect)}")
    said.append(f"Found: {escape(found.words or 'nobody has looked yet')}")
    if cell.why:
        said.append(escape(cell.why))
    facts = [f"{found.n} records"] if found.n else []
    facts += [f"quality {found.quality}"] if found.quality else []
    facts += ["the same where the coating holds"] if cell.same_in_sound_areas else []
    facts += (
        [f"sources: {', '.join(one.label for one in found.sources[:6])}"] if found.sources else []
    )
    if facts:
        said.append(escape("; ".join(facts)) + " (F4)")
    return "<br>".join(said)


def _records(sources: "tuple[Source, ...]") -> "tuple[Source, ...]":
    return tuple(dict.fromkeys(sources))
