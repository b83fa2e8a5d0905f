"""The candidate causes: the verdict, the matrix, what a cell says, and what is decided."""

from collections.abc import Iterable
from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QHBoxLayout,
    QVBoxLayout,
    QWidget,
)

from workbench.desk.questions.causes import cause_matrix, knowledge_of
from workbench.records.codes import FAILURE_FORMS, Chemistry, Substrate
from workbench.ui.bench import Bench
from workbench.ui.causes.card import Card
from workbench.ui.causes.view import LEGEND, MatrixView
from workbench.ui.flow import Flow, flow
from workbench.ui.pages.page import Page
from workbench.ui.parts import bare_column, button, elided, label, parted, rule
from workbench.ui.theme import step

if TYPE_CHECKING:
    from workbench.reasoning import Candidate, Cell, Knowledge, Matrix, Reasoning, Row
    from workbench.records import Source

_PLANES = (
    ("SUB_COH", "within the substrate"), ("SUB_IF", "substrate to first coat"),
    ("COAT_COH", "within a coat"), ("INTERCOAT", "between coats"),
)  # fmt: skip
_FIRST = 20
_FIRST_ONES, _STANDING, _EXCLUDED = "first", "standing", "excluded"
_WHICH = (
    (f"the first {_FIRST}", _FIRST_ONES), ("all", "all"), ("those not excluded", _STANDING),
    ("those excluded", _EXCLUDED),
)  # fmt: skip
_WIDE = 120
"""Width in steps that the matrix and its card need."""


def _spoken(words: Iterable[str]) -> tuple[tuple[str, str], ...]:
    return tuple((str(word), str(word).replace("_", " ")) for word in words)


_NARROWING = {
    "plane": _PLANES,
    "substrate": _spoken(Substrate),
    "chemistry": _spoken(Chemistry),
    "form": _spoken(FAILURE_FORMS),
}


class CausesPage(Page):
    """The matrix at the left, the candidate and the cell under the cursor at the right.

    Attributes:
        asked: The person asks how a record is known.
        adding: The person wants to add a record of this noun.
        turned: The person wants the page with this key.
    """

    asked = Signal(object)
    turned = Signal(str)
    adding = Signal(str)

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Wait for the reasoning."""
        super().__init__(bench, parent)
        self.matrix = MatrixView(self)
        self.card = Card(bench, self)
        self._verdict = label("", "title", self)
        self._left = elided("quiet", self)
        self._next = button("What would settle it", lambda: self.turned.emit("next-tests"), self)
        self.place = QComboBox(self)
        self.narrowed = {name: _choice(name, words, self) for name, words in _NARROWING.items()}
        self.which = QComboBox(self)
        self.unread = QCheckBox("unread too", self)
        self._reasoning: Reasoning | None = None
        self._knowledge: Knowledge | None = None
        self._at = ("", "")
        self._lay_out()
        self._connect()

    @property
    def width_needed(self) -> int:
        """The width of the matrix and its card."""
        return step(self, _WIDE)

    @property
    def finding(self) -> "tuple[str, str, tuple[Source, ...]] | None":
        """The finding under the cursor."""
        cell, row = self._cell(), self._row()
        if cell is None or row is None or not cell.finding.sources:
            return None
        return row.label, cell.finding.words, cell.finding.sources

    @property
    def reasoning(self) -> "Reasoning | None":
        """The reasoning that is shown: that of the case, or of the place that is chosen."""
        whole, name = self._reasoning, self.place.currentData()
        if whole is None or not name:
            return whole
        return next((one.reasoning for one in whole.places if one.name == name), whole)

    def fill(self) -> None:
        """Show what follows from the records, once it is found."""
        self._reasoning = self.bench.answers.ask(self.bench.causes)
        if self._reasoning is None:
            self._verdict.setText("Weighing the candidates…")
            return
        self._knowledge = knowledge_of(self.bench.dossier)
        self._offer_places()
        self.show_matrix()

    def enter(self) -> None:
        """Go to the matrix."""
        self.matrix.setFocus(Qt.FocusReason.OtherFocusReason)

    def show_matrix(self) -> None:
        """Show the matrix, narrowed to what is asked for."""
        from workbench.reasoning import Filter

        shown = self.reasoning
        if shown is None:
            return
        chosen = {name: str(box.currentData() or "") for name, box in self.narrowed.items()}
        which = str(self.which.currentData())
        wanted = Filter(
            plane=chosen["plane"], substrate=chosen["substrate"], form=chosen["form"],
            chemistry=chosen["chemistry"], with_excluded=which != _STANDING,
            with_unread=self.unread.isChecked(),
            most_causes=_FIRST if which == _FIRST_ONES else len(shown.candidates),
        )  # fmt: skip
        self._verdict.setText(shown.verdict)
        self._left.setText(_standing(shown))
        self._left.setToolTip(self._left.text())
        self._next.setText(_next_words(shown, whole=self.width() >= step(self, _WIDE)))
        self._next.setToolTip(_next_words(shown))
        at = self._at
        made = cause_matrix(self.bench.dossier, shown, wanted)
        self.matrix.cells.show_matrix(_only_excluded(made) if which == _EXCLUDED else made)
        self.matrix.go_to(*at)
        self._on_cell()

    # -- inside

    def _connect(self) -> None:
        self.matrix.selectionModel().currentChanged.connect(lambda _now, _before: self._on_cell())
        self.bench.answers.ready.connect(self._on_ready)
        self.bench.answers.failed.connect(self._on_failed)
        self.card.asked.connect(self.asked)
        self.card.adding.connect(self.adding)
        self.card.left.connect(self.enter)
        self.unread.toggled.connect(lambda _on: self.show_matrix())
        for choice in (self.place, self.which, *self.narrowed.values()):
            choice.activated.connect(lambda _at: self.show_matrix())

    def _offer_places(self) -> None:
        places = self._reasoning.places if self._reasoning else ()
        kept = self.place.currentData()
        self.place.clear()
        self.place.addItem("the whole case", "")
        for one in places:
            self.place.addItem(f"{one.name} ({', '.join(one.areas)})", one.name)
        self.place.setCurrentIndex(max(self.place.findData(kept), 0))
        self.place.setVisible(bool(places))

    def _cell(self) -> "Cell | None":
        return self.matrix.cells.cell_at(self.matrix.currentIndex())

    def _row(self) -> "Row | None":
        return self.matrix.cells.row_at(self.matrix.currentIndex().row())

    def _candidate(self) -> "Candidate | None":
        return self.matrix.cells.candidate_at(self.matrix.currentIndex().column())

    def _on_cell(self) -> None:
        candidate, cell, row, shown = self._candidate(), self._cell(), self._row(), self.reasoning
        if not (candidate and cell and row and shown and self._knowledge):
            self.card.show_nothing("No candidate is left by these filters.")
            return
        self._at = (candidate.cause, row.key)
        place = str(self.place.currentData() or "")
        self.card.show_cell(candidate, row, cell, shown, self._knowledge, place)
        self.bench.selection.light(cell.finding.sources)

    def _on_ready(self, question: object) -> None:
        if question is self.bench.causes:
            self.renew()

    def _on_failed(self, question: object, wrong: Exception) -> None:
        if question is self.bench.causes:
            self._verdict.setText(f"The candidates cannot be weighed: {wrong}")

    def _lay_out(self) -> None:
        self._verdict.setWordWrap(True)
        for words, name in _WHICH:
            self.which.addItem(words, name)
        self.which.setAccessibleName("Which candidates are shown")
        self.which.setSizeAdjustPolicy(
            QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
        )
        self.which.setMinimumContentsLength(12)
        self.which.view().setMinimumWidth(self.which.view().sizeHintForColumn(0) + step(self, 2))
        self.unread.setChecked(True)
        self.place.setAccessibleName("The place that is reasoned for")
        self.place.hide()
        self._next.setProperty("link", True)
        head = QVBoxLayout()
        head.setContentsMargins(step(self, 2), step(self, 0.75), step(self), step(self, 0.5))
        head.setSpacing(step(self, 0.25))
        head.addWidget(self._verdict)
        line = QHBoxLayout()
        line.addWidget(self._left, 1)
        line.addWidget(self._next)
        head.addLayout(line)
        halves = parted(self, Qt.Orientation.Horizontal, (self.matrix, self.card), grows=0)
        self.matrix.setMinimumWidth(step(self, 40))
        self.card.setMinimumWidth(step(self, 30))
        halves.setSizes([step(self, 93), step(self, 46)])
        whole = bare_column(self)
        whole.addLayout(head)
        whole.addLayout(self._narrowing())
        whole.addWidget(rule(self))
        whole.addWidget(halves, 1)
        whole.addWidget(rule(self))
        legend = elided("quiet", self)
        legend.setText(LEGEND)
        legend.setToolTip(LEGEND)
        legend.setContentsMargins(step(self, 2), step(self, 0.25), step(self), step(self, 0.25))
        whole.addWidget(legend)

    def _narrowing(self) -> Flow:
        row = flow(
            step(self, 0.5), (self.place, *self.narrowed.values()), (self.which, self.unread)
        )
        row.setContentsMargins(step(self, 2), 0, step(self), step(self, 0.5))
        return row


def _choice(name: str, words: tuple[tuple[str, str], ...], parent: QWidget) -> QComboBox:
    made = QComboBox(parent)
    made.addItem(f"any {name}", "")
    for word, said in words:
        made.addItem(said, word)
    made.setAccessibleName(f"Only causes of this {name}")
    made.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
    made.setMinimumContentsLength(13)
    return made


def _only_excluded(matrix: "Matrix") -> "Matrix":
    """Return the part of a matrix that excludes: the candidates and what bars or touches them."""
    from workbench.reasoning.results import Bearing

    kept = [at for at, one in enumerate(matrix.candidates) if one.excluded_by]
    rows = (replace(row, cells=tuple(row.cells[at] for at in kept)) for row in matrix.rows)
    return replace(
        matrix,
        candidates=tuple(matrix.candidates[at] for at in kept),
        rows=tuple(r for r in rows if any(c.bearing is not Bearing.SILENT for c in r.cells)),
    )


def _next_words(reasoning: "Reasoning", *, whole: bool = True) -> str:
    """Return the test that would separate most, or that none would; without it if not `whole`."""
    if not whole:
        return "What would settle it ›"
    if not reasoning.next_tests:
        return "What would settle it: nothing is left to be read ›"
    first = reasoning.next_tests[0]
    return f"What would settle it: {first.name} ({first.cost} cost, {first.delay}) ›"


def _standing(reasoning: "Reasoning") -> str:
    """Return what is left in a line: how many stand, are excluded, wait, and are to be read."""
    from workbench.reasoning.results import Bearing, Ungraded
    from workbench.records import Grade

    left = [one for one in reasoning.candidates if one.grade.firmness >= Grade.POSSIBLE.firmness]
    barred = [one for one in reasoning.candidates if one.excluded_by]
    waiting = [
        one for one in barred
        if any(cell.bearing is Bearing.WOULD_EXCLUDE for cell in one.excluded_by)
    ]  # fmt: skip
    keys = {cell.key for one in left for cell in one.unread}
    said = [f"{len(reasoning.candidates)} candidates: {len(left)} at least possible"]
    unread = sum(isinstance(one.grade, Ungraded) for one in reasoning.candidates)
    if unread:
        said.append(f"{unread} not examined")
    if barred:
        some = "" if len(waiting) == len(barred) else f"{len(waiting)} of them "
        confirmed = f", {some}to be confirmed" if waiting else ""
        said.append(f"{len(barred)} excluded{confirmed}")
    said.append(f"{len(keys)} observations still to be read" if keys else "nothing unread")
    if reasoning.lists_open:
        lists = " and ".join(f"“{one}”" for one in reasoning.lists_open)
        said.append(f"nobody has said yet that {lists} is empty")
    return "; ".join(said)
