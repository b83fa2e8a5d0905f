"""The calculators of the trade: answered while one types, with formula and source beside them."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, QStringListModel, Qt, Signal
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import (
    QComboBox,
    QFormLayout,
    QFrame,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QListView,
    QScrollArea,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from workbench.trade.showing import unit_sign
from workbench.ui.bench import Bench
from workbench.ui.pages.page import Page
from workbench.ui.parts import bare_column, button, follow_with_tab, label, overline
from workbench.ui.table.lines import Line, LinesView
from workbench.ui.theme import step

if TYPE_CHECKING:
    from collections.abc import Iterable

    from workbench.desk.calculators import Calculation, Calculator, Found, Input

    Field = QLineEdit | QComboBox


class CalculatorsPage(Page):
    """A list of calculators, and the one that is chosen.

    Attributes:
        measured: A result is to become a measurement: the texts of its form.
    """

    measured = Signal(dict)

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Offer the calculators."""
        super().__init__(bench, parent)
        self._calculators: tuple[Calculator, ...] = ()
        self._calculator: Calculator | None = None
        self._calculation: Calculation | None = None
        self.fields: dict[str, Field] = {}
        self.list = QListView(self)
        self._title = label("", "heading", self)
        self._room = QScrollArea(self)
        self._wrong = label("", "wrong", self)
        self.results = LinesView("Results", ("result", "value"), self)
        self._formula = _wrapped(self)
        self._source = _wrapped(self)
        self._caution = _wrapped(self)
        self._lay_out()
        self.list.selectionModel().currentChanged.connect(lambda _now, _before: self._on_chosen())

    def fill(self) -> None:
        """Compute in the units that the case is shown in."""
        self._compute()

    def enter(self) -> None:
        """Go to the list of calculators."""
        self.list.setFocus(Qt.FocusReason.OtherFocusReason)

    def choose(self, name: str) -> None:
        """Show the calculator called `name`."""
        names = [one.name for one in self._calculators]
        self.list.setCurrentIndex(self.list.model().index(names.index(name), 0))

    def copy(self) -> None:
        """Copy the result that is chosen, with its unit."""
        if found := self._chosen():
            QGuiApplication.clipboard().setText(found.shown(self.bench.showing))
            self.bench.told.emit(f"{found.label} is copied.")

    def record(self) -> None:
        """Begin a measurement with the result that is chosen."""
        found, calculation = self._chosen(), self._calculation
        value = found.copied(self.bench.showing.system) if found else None
        if found is None or calculation is None or value is None:
            self.bench.refused.emit("Choose a result that is a number.")
            return
        given = ", ".join(f"{name} {text}" for name, text in calculation.given.items())
        texts = {
            "method": "calculation", "value": str(value),
            "note": f"{calculation.calculator.title}: {given}",
        }  # fmt: skip
        self.measured.emit(texts | ({"quantity": found.quantity} if found.quantity else {}))

    def _chosen(self) -> "Found | None":
        if self._calculation is None or not self._calculation.found:
            return None
        row = max(0, self.results.currentIndex().row())
        return self._calculation.found[min(row, len(self._calculation.found) - 1)]

    def _on_chosen(self) -> None:
        row = self.list.currentIndex().row()
        if not 0 <= row < len(self._calculators):
            return
        self._calculator = one = self._calculators[row]
        self._title.setText(one.title)
        self._formula.setText(one.formula)
        self._source.setText("\n".join(str(basis) for basis in one.bases))
        self._caution.setText(one.caution)
        self._caution.setVisible(bool(one.caution))
        self._build_fields(one.inputs)
        self._compute()

    def _build_fields(self, inputs: "Iterable[Input]") -> None:
        inner = QWidget(self._room)
        form = QFormLayout(inner)
        form.setContentsMargins(0, 0, 0, 0)
        form.setLabelAlignment(Qt.AlignmentFlag.AlignRight)
        form.setVerticalSpacing(step(self, 0.5))
        self.fields = {}
        for one in inputs:
            field = self._field(one, inner)
            field.setAccessibleName(one.label + (", required" if one.required else ""))
            self.fields[one.name] = field
            name = label(one.label + (" *" if one.required else ""), "quiet", inner)
            form.addRow(name, self._with_unit(field, one, inner))
        self._room.setWidget(inner)
        least = inner.minimumSizeHint() + QSize(step(self, 1.5), 0)
        self._room.setMinimumSize(least.width(), min(least.height(), step(self, 22)))
        follow_with_tab(self.list, self._room, self.results)

    def _with_unit(self, field: "Field", one: "Input", parent: QWidget) -> QWidget:
        """Return a field with the unit of a bare number beside it, which stays once it is typed."""
        unit = one.unit(self.bench.showing.system)
        if not unit:
            return field
        field.setAccessibleDescription(f"a bare number is in {unit_sign(unit)}")
        both = QWidget(parent)
        row = QHBoxLayout(both)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(step(self, 0.5))
        row.addWidget(field, 1)
        beside = label(unit_sign(unit), "quiet", both)
        beside.setMinimumWidth(step(self, 6))
        row.addWidget(beside)
        return both

    def _field(self, one: "Input", parent: QWidget) -> "Field":
        if one.words:
            made = QComboBox(parent)
            made.addItems(("", *one.words))
            made.setCurrentText(one.default)
            made.activated.connect(lambda _at: self._compute())
            return made
        line = QLineEdit(parent)
        line.setPlaceholderText(one.hint)
        line.textEdited.connect(lambda _text: self._compute())
        return line

    def _texts(self) -> dict[str, str]:
        texts = {}
        for name, field in self.fields.items():
            said = field.currentText() if isinstance(field, QComboBox) else field.text()
            if said.strip():
                texts[name] = said
        return texts

    def _compute(self) -> None:
        from workbench.desk.calculators import CalculatorError, calculate
        from workbench.trade.settings import settings_of

        if self._calculator is None:
            return
        texts = self._texts()
        try:
            settings = settings_of(self.bench.dossier)
            self._calculation = calculate(
                self._calculator, texts, settings, showing=self.bench.showing
            )
            self._wrong.setText("")
        except CalculatorError as wrong:
            self._calculation = None
            self._wrong.setText(str(wrong) if texts else "")
        lines = self._calculation.lines() if self._calculation else ()
        self.results.show_lines([Line(line) for line in lines], (26,))

    def _lay_out(self) -> None:
        from workbench.desk.calculators import CALCULATORS

        self._calculators = tuple(CALCULATORS.values())
        self.list.setModel(QStringListModel([one.title for one in self._calculators], self.list))
        self.list.setAccessibleName("Calculators")
        self.list.setEditTriggers(QListView.EditTrigger.NoEditTriggers)
        self.list.setFrameShape(QListView.Shape.NoFrame)
        self.list.setWordWrap(True)
        self.list.setResizeMode(QListView.ResizeMode.Adjust)
        self._room.setWidgetResizable(True)
        self._room.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._room.setFrameShape(QFrame.Shape.NoFrame)
        self._wrong.setWordWrap(True)
        halves = QSplitter(Qt.Orientation.Horizontal, self)
        halves.setHandleWidth(1)
        halves.setChildrenCollapsible(False)
        halves.addWidget(self.list)
        halves.addWidget(self._sheet(halves))
        halves.setStretchFactor(1, 1)
        halves.setSizes([step(self, 38), step(self, 58)])
        whole = bare_column(self)
        whole.addLayout(self.head("Calculators"))
        whole.addWidget(halves, 1)
        self.list.setCurrentIndex(self.list.model().index(0, 0))
        self._on_chosen()

    def _sheet(self, parent: QWidget) -> QWidget:
        sheet = QWidget(parent)
        buttons = QHBoxLayout()
        buttons.setSpacing(step(self))
        made = button("Make it a measurement", self.record, sheet, main=True, tip="Ctrl+Shift+M")
        made.setShortcut("Ctrl+Shift+M")
        buttons.addWidget(made)
        buttons.addWidget(button("Copy", self.copy, sheet, tip="Copy the result with its unit"))
        buttons.addStretch()
        inner = QVBoxLayout(sheet)
        inner.setContentsMargins(step(self, 2), step(self), step(self, 2), step(self))
        inner.setSpacing(step(self))
        inner.addWidget(self._title)
        inner.addWidget(self._room, 3)
        inner.addWidget(self._wrong)
        inner.addWidget(self.results, 2)
        inner.addLayout(buttons)
        for heading, words in (("Formula", self._formula), ("Source", self._source)):
            inner.addWidget(overline(heading, sheet))
            inner.addWidget(words)
        inner.addWidget(self._caution)
        return sheet


def _wrapped(parent: QWidget) -> QLabel:
    made = label("", "quiet", parent)
    made.setWordWrap(True)
    return made
