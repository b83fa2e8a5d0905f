"""What the investigator makes of a candidate: grade and part over a name, exclusions confirmed."""

from dataclasses import replace
from datetime import UTC, datetime

from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from workbench.reasoning.results import Bearing, Candidate, Cell
from workbench.records import CausalRole, CauseDecision, Grade, When
from workbench.ui.bench import Bench
from workbench.ui.parts import button, label
from workbench.ui.theme import step


class Deciding(QWidget):
    """One line: grade, part, reason, and the name that signs."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Decide nothing yet."""
        super().__init__(parent)
        self._bench = bench
        self._candidate: Candidate | None = None
        self._cell: Cell | None = None
        self.grade = QComboBox(self)
        self.role = QComboBox(self)
        self.reason = QLineEdit(self)
        self._said = label("", "quiet", self)
        self._sign = button("Sign", self.sign, self, main=True, tip="Sign the grade")
        self._confirm = button("Confirm the exclusion", self.confirm, self)
        self._lay_out()

    def show_cell(self, candidate: Candidate | None, cell: Cell | None) -> None:
        """Decide about a candidate, and about the cell that would exclude it."""
        self._candidate, self._cell = candidate, cell
        self.setEnabled(candidate is not None and not self._bench.case.read_only)
        excludes = cell is not None and cell.bearing is Bearing.WOULD_EXCLUDE
        self._confirm.setVisible(excludes)
        if candidate is None:
            return
        self.grade.setCurrentText(str(candidate.grade))
        self.role.setCurrentText(str(candidate.role or ""))
        self.reason.setText(candidate.decision_reason)
        by = (
            f"signed by {candidate.decided_by}" if candidate.decided_by else "proposed by the rules"
        )
        needs = "; a grade above the rules needs a reason" if candidate.needs_reason else ""
        self._said.setText(f"{candidate.grade}, {by}{needs}")

    def sign(self) -> None:
        """Sign the grade and the part of the candidate."""
        from workbench.desk.acts import Add, Change

        if self._candidate is None:
            return
        role = self.role.currentText()
        said = CauseDecision(
            cause=self._candidate.cause, grade=Grade(self.grade.currentText()),
            role=CausalRole(role) if role else None, reason=self.reason.text().strip(),
            by=self._bench.case.author, signed=_today(self._bench), origin="decided at the desk",
        )  # fmt: skip
        held = self._bench.dossier.find(CauseDecision, said.label)
        if held and not held.withdrawn:
            self._bench.do(Change(replace(said, id=held.id, origin=held.origin), said.reason))
        else:
            self._bench.do(Add((said,), said.reason))

    def confirm(self) -> None:
        """Confirm that the observation excludes the candidate."""
        from workbench.desk.acts import Add
        from workbench.desk.questions.causes import exclusion

        reason = self.reason.text().strip()
        if self._candidate is None or self._cell is None:
            return
        if not reason:
            self._bench.refused.emit("Say why the observation excludes the cause.")
            self.reason.setFocus()
            return
        author = self._bench.case.author
        self._bench.do(Add((exclusion(self._candidate, self._cell, by=author, reason=reason),)))

    def _lay_out(self) -> None:
        self.grade.addItems([str(one) for one in Grade])
        self.grade.setAccessibleName("Grade of opinion")
        self.role.addItems(["", *(str(one) for one in CausalRole)])
        self.role.setAccessibleName("Part played")
        self.reason.setPlaceholderText("Reason; it is printed with a grade above the rules")
        self.reason.setAccessibleName("Reason of the decision")
        row = QHBoxLayout()
        row.setContentsMargins(0, 0, 0, 0)
        for widget in (self.grade, self.role):
            row.addWidget(widget)
        row.addWidget(self.reason, 1)
        row.addWidget(self._confirm)
        row.addWidget(self._sign)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(step(self, 2), step(self, 0.5), step(self), step(self))
        whole.setSpacing(step(self, 0.5))
        whole.addWidget(self._said)
        whole.addLayout(row)


def _today(bench: Bench) -> When:
    return When(datetime.now(UTC).astimezone(bench.dossier.zone).date().isoformat())
