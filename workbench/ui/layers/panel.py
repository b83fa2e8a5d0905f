"""Which layer: the instrument at the right that chooses and shows planes."""

from PySide6.QtWidgets import QComboBox, QToolButton, QVBoxLayout, QWidget

from workbench.desk.questions.findings import strength
from workbench.desk.questions.layers import PlaneLine, layers_of, systems_of
from workbench.records import Coat, Plane, Record
from workbench.ui.bench import Bench
from workbench.ui.flow import flow
from workbench.ui.layers.view import StackView
from workbench.ui.parts import label, overline
from workbench.ui.theme import quiet, step

_NO_COATS = "No coat is recorded yet; the coats of a system make its stack."


class LayerPanel(QWidget):
    """The stack of one coating system, linked to the selection."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Show the stack of the system that most of the tests stand on."""
        super().__init__(parent)
        self._bench = bench
        self.view = StackView(self)
        self._systems = QComboBox(self)
        self._scale = QToolButton(self)
        self._said = label("", "quiet", self)
        self._lay_out()
        self.view.chosen.connect(bench.selection.show_plane)
        self.view.hovered.connect(self._say)
        self._systems.currentIndexChanged.connect(self._show)
        self._scale.toggled.connect(lambda on: self.view.show_to_scale(to_scale=on))
        bench.changed.connect(self._on_changed)
        bench.units_changed.connect(self._show)
        bench.answers.ready.connect(self._on_ready)
        bench.selection.focused.connect(self._on_focused)
        bench.selection.lit.connect(self._mark)
        self._on_changed()

    def current_line(self) -> PlaneLine | None:
        """Return the plane under the cursor of the stack."""
        return self.view.planes.line_at(self.view.currentIndex().row())

    def _lay_out(self) -> None:
        self._systems.setAccessibleName("Coating system")
        self._said.setWordWrap(True)
        self._said.setFont(quiet(self.font(), 0.95))
        self._said.setContentsMargins(step(self), 0, step(self), step(self, 0.75))
        self._said.setMinimumHeight(2 * self.fontMetrics().lineSpacing() + step(self))
        self._scale.setText("To scale")
        self._scale.setProperty("flat", True)
        self._scale.setCheckable(True)
        self._scale.setToolTip("Draw the coats with their nominal thickness in proportion")
        head = flow(step(self, 0.5), (overline("Which layer", self),), (self._systems, self._scale))
        head.setContentsMargins(step(self), 0, step(self, 0.5), 0)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, step(self, 0.5), 0, 0)
        whole.setSpacing(step(self, 0.5))
        whole.addLayout(head)
        whole.addWidget(self.view, 1)
        whole.addWidget(self._said)

    def _on_changed(self) -> None:
        names = systems_of(self._bench.dossier)
        shown = [self._systems.itemText(at) for at in range(self._systems.count())]
        if list(names) != shown:
            self._systems.blockSignals(True)
            self._systems.clear()
            self._systems.addItems(names)
            self._systems.blockSignals(False)
        self._systems.setVisible(len(names) > 1)
        self._show()

    def _show(self) -> None:
        found = self._bench.answers.ask(strength)
        name = self._systems.currentText()
        self.view.show_stack(layers_of(self._bench.dossier, name, found, self._bench.showing))
        self._mark()

    def _on_ready(self, question: object) -> None:
        if question is strength:
            self._show()

    def _on_focused(self) -> None:
        """Turn to the system of the place that is looked at, then mark the plane."""
        places = sorted(self._bench.selection.focus.places)
        areas = (self._bench.dossier.area_at(place) for place in places)
        system = next((self._bench.dossier.system_of(area) for area in areas if area), ())
        if system:
            self._systems.setCurrentText(system[0].system)
        self._mark()

    def _mark(self) -> None:
        bench = self._bench
        found = (bench.dossier.resolve(source) for source in bench.selection.sources)
        lit = frozenset(code for record in found if record for code in self._codes(record))
        self.view.mark(bench.selection.focus.plane, lit)
        self._say(None)

    def _say(self, plane: Plane | None) -> None:
        """Say in one line what is known of a plane: that pointed at, looked at, or the worst."""
        chosen = plane or self._bench.selection.focus.plane
        lines = self.view.planes.stack.lines
        row = self.view.planes.row_of(chosen) if chosen else None
        line = lines[row] if row is not None else next((one for one in lines if one.worst), None)
        self._said.setText(line.line if line else "" if lines else _NO_COATS)

    def _codes(self, record: Record) -> frozenset[str]:
        codes = self._bench.index.planes_of(record) or frozenset()
        return frozenset() if isinstance(record, Coat) else codes
