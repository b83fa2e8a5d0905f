"""The four decisions on a candidate and a cell: what is asked, and the act that follows."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import Signal
from PySide6.QtGui import QKeyEvent, Qt
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from workbench.desk.acts import Act
from workbench.desk.deciding import Decisions, UndecidedError
from workbench.reasoning import UNKNOWN, Candidate, Cell, Observation, certainty_flags
from workbench.records import CausalRole, Direction, Grade, Weight
from workbench.ui.parts import EscapeFirst, button, label
from workbench.ui.theme import step


@dataclass(frozen=True, slots=True)
class Matter:
    """What is decided about.

    Attributes:
        candidate: The candidate.
        cell: The cell of it that the cursor is on.
        observation: What the cell asks.
        place: Name of the place that is reasoned for alone; "" for the whole case.
    """

    candidate: Candidate
    cell: Cell
    observation: Observation
    place: str = ""


class DecisionForm(QWidget):
    """Choices, a reason, and what they do; Escape leaves it.

    Attributes:
        done: The person decides so.
        left: The person decides nothing.
    """

    done = Signal()
    left = Signal()
    title = ""
    does = ""

    def __init__(self, parent: QWidget) -> None:
        """Ask nothing yet."""
        super().__init__(parent)
        self.matter: Matter | None = None
        self.reason = QLineEdit(self)
        self._told = label("", "quiet", self)
        self._flags = label("", "wrong", self)
        self._head = label("", "heading", self)
        self._row = QHBoxLayout()
        self._lay_out()
        EscapeFirst(self)

    def show_matter(self, matter: Matter) -> None:
        """Ask about a matter, as it stands."""
        self.matter = matter
        self.reason.clear()
        self._head.setText(self.title)
        self.put(matter)

    def put(self, matter: Matter) -> None:
        """Put what stands into the choices; forms say how."""

    def act(self, matter: Matter, desk: Decisions) -> Act:
        """Return the act that was decided on.

        Raises:
            UndecidedError: Something is lacking.
        """
        raise NotImplementedError

    def enter(self) -> None:
        """Go to the first choice."""
        first = self.findChild(QComboBox) or self.reason
        first.setFocus(Qt.FocusReason.OtherFocusReason)

    def tell(self, words: str) -> None:
        """Say what the decision means."""
        self._told.setText(words)

    def choice(self, name: str) -> QComboBox:
        """Return a new choice, named for those who hear the screen."""
        made = QComboBox(self)
        made.setAccessibleName(name)
        made.setToolTip(name)
        made.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        made.setMinimumContentsLength(9)
        self._row.addWidget(made, 1)
        return made

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Leave with Escape."""
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)

    def _flag(self, text: str) -> None:
        flags = certainty_flags(text)
        self._flags.setText("\n".join(f"! “{one.words}”: {one.why}" for one in flags))
        self._flags.setVisible(bool(flags))

    def _lay_out(self) -> None:
        self.reason.setPlaceholderText("Reason; it is kept in the journal and printed")
        self.reason.setAccessibleName("Reason of the decision")
        self.reason.textChanged.connect(self._flag)
        self.reason.returnPressed.connect(self.done)
        self._told.setWordWrap(True)
        self._flags.setWordWrap(True)
        self._flags.hide()
        end = QHBoxLayout()
        end.addWidget(button(self.does, self.done.emit, self, main=True))
        end.addWidget(button("Leave", self.left.emit, self, tip="Esc"))
        end.addStretch()
        whole = QVBoxLayout(self)
        whole.setContentsMargins(step(self), step(self, 0.5), step(self), step(self))
        whole.setSpacing(step(self, 0.5))
        whole.addWidget(self._head)
        whole.addWidget(self._told)
        whole.addLayout(self._row)
        whole.addWidget(self.reason)
        whole.addWidget(self._flags)
        whole.addLayout(end)


class GradeForm(DecisionForm):
    """The grade and the part of a candidate, over a name."""

    title, does = "Grade and part", "Sign"

    def __init__(self, parent: QWidget) -> None:
        """Offer the grades and parts."""
        super().__init__(parent)
        self.grade = _filled(self.choice("Grade of opinion"), [(str(one), one) for one in Grade])
        parts = [("no part", None), *((str(one), one) for one in CausalRole)]
        self.role = _filled(self.choice("Part played"), parts)
        self.grade.currentIndexChanged.connect(lambda _at: self._warn())

    def put(self, matter: Matter) -> None:
        """Show the grade that stands."""
        self.grade.setCurrentIndex(self.grade.findText(str(matter.candidate.grade)))
        role = matter.candidate.role
        self.role.setCurrentIndex(0 if role is None else 1 + list(CausalRole).index(role))
        self.reason.setText(matter.candidate.decision_reason)
        self._warn()

    def act(self, matter: Matter, desk: Decisions) -> Act:
        """Return the decision."""
        grade, role = self.grade.currentData(), self.role.currentData()
        if grade is None:
            raise UndecidedError("Choose a grade: nothing was read from which one could follow.")
        chosen = CausalRole(role) if role else None
        reason, place = self.reason.text(), matter.place
        return desk.grade(matter.candidate, Grade(grade), chosen, reason, place)

    def _warn(self) -> None:
        if self.matter is None:
            return
        rules, chosen = self.matter.candidate.proposed, self.grade.currentData()
        firmer = chosen is not None and Grade(chosen).firmness > rules.firmness
        where = f", for {self.matter.place}" if self.matter.place else ""
        needs = " This is firmer: the reason is needed, and printed." if firmer else ""
        self.tell(f"The rules give “{rules}”{where}.{needs}")


class ExclusionForm(DecisionForm):
    """Whether an observation excludes a candidate."""

    title, does = "Exclusion", "Decide"

    def __init__(self, parent: QWidget) -> None:
        """Offer both ways."""
        super().__init__(parent)
        ways = [("it excludes the cause", "yes"), ("it does not exclude it", "no")]
        self.way = _filled(self.choice("Whether it excludes"), ways)

    def put(self, matter: Matter) -> None:
        """Say which observation would exclude which cause."""
        asked = barring(matter)
        found = asked.finding.words if asked else ""
        title = matter.candidate.title
        self.tell(f"Does “{found}” exclude “{title}”?" if asked else f"Nothing excludes “{title}”.")

    def act(self, matter: Matter, desk: Decisions) -> Act:
        """Return the decision."""
        asked = barring(matter) or matter.cell
        confirmed = self.way.currentData() == "yes"
        return desk.exclusion(asked.cause, asked.key, self.reason.text(), confirmed=confirmed)


class AnswerForm(DecisionForm):
    """The investigator's answer to an observation, in the place of what the records give."""

    title, does = "Answer", "Answer"

    def __init__(self, parent: QWidget) -> None:
        """Offer nothing yet."""
        super().__init__(parent)
        self.value = self.choice("The answer")

    def put(self, matter: Matter) -> None:
        """Offer what may be answered."""
        seen, found = matter.observation, matter.cell.finding
        values = [(said_of(seen, value), value) for value in seen.values]
        _filled(self.value, [*values, ("not known", UNKNOWN)])
        self.value.setCurrentIndex(max(self.value.findData(found.value), 0))
        gave = f"The records say “{found.value.replace('_', ' ')}”; this puts your answer over it."
        self.tell(gave if found.known else seen.question)

    def act(self, matter: Matter, desk: Decisions) -> Act:
        """Return the answer."""
        value = str(self.value.currentData())
        return desk.answer(matter.observation.key, value, self.reason.text())


class WeightForm(DecisionForm):
    """What the cause predicts of the observation, for this case."""

    title, does = "Weight in this case", "Change"

    def __init__(self, parent: QWidget) -> None:
        """Offer directions and weights."""
        super().__init__(parent)
        self.value = self.choice("The value meant")
        self.direction = _filled(self.choice("How it bears"), [(str(d), d) for d in Direction])
        self.weight = _filled(self.choice("How much it can settle"), [(str(w), w) for w in Weight])

    def put(self, matter: Matter) -> None:
        """Show the value that was found."""
        seen, cell = matter.observation, matter.cell
        _filled(self.value, [(value.replace("_", " "), value) for value in seen.values])
        self.value.setCurrentIndex(max(self.value.findData(cell.finding.value), 0))
        likely = Direction.EXPECTED if cell.finding.value in cell.predicted else Direction.POSSIBLE
        self.direction.setCurrentIndex(list(Direction).index(likely))
        self.weight.setCurrentIndex(list(Weight).index(Weight.MODERATE))
        self.tell(f"What “{matter.candidate.title}” makes of this value, in this case alone.")

    def act(self, matter: Matter, desk: Decisions) -> Act:
        """Return the changed prediction."""
        bearing = Direction(self.direction.currentData()), Weight(self.weight.currentData())
        key, values = matter.observation.key, (str(self.value.currentData()),)
        return desk.weight(matter.candidate.cause, key, values, bearing, self.reason.text())


FORMS: tuple[tuple[str, Callable[[QWidget], DecisionForm]], ...] = (
    ("&Grade", GradeForm), ("E&xclusion", ExclusionForm), ("&Answer", AnswerForm),
    ("&Weight", WeightForm),
)  # fmt: skip


def barring(matter: Matter) -> Cell | None:
    """Return the cell that excludes the candidate: the one of the cursor, else the first."""
    held = matter.candidate.excluded_by
    return next((one for one in held if one.key == matter.cell.key), held[0] if held else None)


def said_of(observation: Observation, value: str) -> str:
    """Return a value with what it says: "yes: the log shows no abrading"."""
    words, said = value.replace("_", " "), observation.says.get(value, "")
    return f"{words}: {said[:1].lower()}{said[1:]}" if said else words


def _filled(choice: QComboBox, words: Sequence[tuple[str, object]]) -> QComboBox:
    choice.clear()
    for said, value in words:
        choice.addItem(said, value)
    return choice
