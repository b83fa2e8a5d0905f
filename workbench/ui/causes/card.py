"""Beside the matrix: the candidate, the cell, and what can be decided about them."""

from datetime import UTC, datetime
from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QWidget

from workbench.desk.deciding import Decisions, UndecidedError
from workbench.reasoning import Candidate, Cell, Knowledge, Reasoning, Row
from workbench.records import AddedCause, AddedObservation
from workbench.ui.bench import Bench
from workbench.ui.causes.forms import FORMS, DecisionForm, Matter, barring
from workbench.ui.causes.words import candidate_paragraphs, cell_paragraphs
from workbench.ui.flow import flow
from workbench.ui.parts import bare_column, button, parted, rule
from workbench.ui.reading import Reading
from workbench.ui.theme import step

_ADDED = (("Add a cause…", AddedCause.noun), ("Add an observation…", AddedObservation.noun))


class Card(QWidget):
    """What stands and why; buttons open a decision in the place of the buttons.

    Attributes:
        asked: The person asks how a record is known.
        adding: The person wants to add a record of this noun.
        left: The person is done deciding.
    """

    asked = Signal(object)
    adding = Signal(str)
    left = Signal()

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Say nothing yet."""
        super().__init__(parent)
        self._bench = bench
        self._matter: Matter | None = None
        self.candidate = Reading("The candidate", self)
        self.cell = Reading("The observation under the cursor", self)
        self.forms = {name: make(self) for name, make in FORMS}
        self._buttons = {
            name: button(f"{name}…", partial(self.decide, name), self) for name in self.forms
        }
        self._bar = QWidget(self)
        self._form: DecisionForm | None = None
        self._lay_out()
        for reading in (self.candidate, self.cell):
            reading.asked.connect(self.asked)
        for form in self.forms.values():
            form.done.connect(self._do)
            form.left.connect(self.leave)

    def show_cell(
        self, candidate: Candidate, row: Row, cell: Cell, reasoning: Reasoning,
        knowledge: Knowledge, place: str,
    ) -> None:  # fmt: skip
        """Show a candidate and one of its cells."""
        self.candidate.show_paragraphs(candidate_paragraphs(candidate, reasoning, knowledge))
        self.cell.show_paragraphs(cell_paragraphs(cell, row, knowledge))
        observation = knowledge.observation[row.key]
        self._matter = Matter(candidate, cell, observation, place)
        self._buttons["E&xclusion"].setEnabled(barring(self._matter) is not None)
        if self._form:
            self._form.show_matter(self._matter)

    def show_nothing(self, words: str) -> None:
        """Say why there is nothing to show."""
        self._matter = None
        self.candidate.show_paragraphs((f"<p>{words}</p>",))
        self.cell.show_paragraphs(())

    def decide(self, name: str) -> None:
        """Ask for one of the decisions."""
        if self._matter is None or self._bench.case.read_only:
            return
        self._form = form = self.forms[name]
        form.show_matter(self._matter)
        self._show_form()
        form.enter()

    def leave(self) -> None:
        """Decide nothing more."""
        self._form = None
        self._show_form()
        self.left.emit()

    def _do(self) -> None:
        form = self._form
        if form is None or form.matter is None:
            return
        bench = self._bench
        desk = Decisions(bench.dossier, bench.case.author, datetime.now(UTC))
        try:
            act = form.act(form.matter, desk)
        except UndecidedError as wrong:
            bench.refused.emit(str(wrong))
            form.reason.setFocus(Qt.FocusReason.OtherFocusReason)
            return
        if bench.do(act):
            self.leave()

    def _show_form(self) -> None:
        """Show the decision that is asked for, else the buttons that ask for one."""
        self._bar.setVisible(self._form is None)
        for form in self.forms.values():
            form.setVisible(form is self._form)

    def _lay_out(self) -> None:
        bar = self._bar
        adding = [button(words, partial(self.adding.emit, noun), bar) for words, noun in _ADDED]
        row = flow(step(self, 0.5), (*self._buttons.values(), *adding))
        row.setContentsMargins(step(self), step(self, 0.5), step(self), step(self))
        bar.setLayout(row)
        bar.setEnabled(not self._bench.case.read_only)
        halves = parted(self, Qt.Orientation.Vertical, (self.candidate, self.cell), steps=(34, 30))
        whole = bare_column(self)
        whole.addWidget(halves, 1)
        whole.addWidget(rule(self))
        for part in (bar, *self.forms.values()):
            whole.addWidget(part)
        self._show_form()
