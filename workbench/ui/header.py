"""The line at the top: which case, find anything, units, open points."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QLineEdit, QToolButton, QWidget

from workbench.trade.showing import System
from workbench.ui.bench import Bench
from workbench.ui.parts import button, elided, label
from workbench.ui.theme import step


class Header(QWidget):
    """Stands above everything while a case is open.

    Attributes:
        points_asked: The person wants to see the open points.
        find: The line in which anything is searched for.
    """

    points_asked = Signal()

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Name the case on `bench`."""
        super().__init__(parent)
        self._bench = bench
        self._ref = label("", "title", self)
        self._title = elided("", self)
        self._state = label("", "wrong", self)
        self.find_line = QLineEdit(self)
        self._units = QButtonGroup(self)
        self._points = button("Open points", self.points_asked.emit, self, tip="What is open (F8)")
        self._lay_out()
        bench.changed.connect(self._show)
        bench.units_changed.connect(self._show)
        self._show()

    def show_points(self, number: int) -> None:
        """Say how many points are open."""
        self._points.setText(f"Open points ({number})")

    def _show(self) -> None:
        dossier, case = self._bench.dossier, self._bench.case
        self._ref.setText(dossier.entry("reference") or "Case without reference")
        self._title.setText(dossier.entry("title"))
        self._title.setToolTip(dossier.entry("title"))
        self._state.setText("read only" if case.read_only else "")
        self._state.setToolTip(case.read_only_because)
        for one in self._units.buttons():
            one.setChecked(one.text() == str(self._bench.showing.system))

    def _lay_out(self) -> None:
        self.find_line.setPlaceholderText("Find anything   Ctrl+K")
        self.find_line.setAccessibleName("Find anything")
        self.find_line.setClearButtonEnabled(True)
        self.find_line.setMinimumWidth(step(self, 30))
        self.find_line.setMaximumWidth(step(self, 56))
        widest = self.fontMetrics().horizontalAdvance("Open points (888)")
        self._points.setMinimumWidth(widest + step(self, 2.5))
        row = QHBoxLayout(self)
        row.setContentsMargins(step(self, 2), step(self, 0.75), step(self), step(self, 0.75))
        row.setSpacing(step(self))
        row.addWidget(self._ref)
        row.addWidget(self._title, 3)
        row.addWidget(self._state)
        row.addWidget(self.find_line, 2)
        row.addSpacing(step(self))
        for system in (System.SI, System.US, System.BOTH):
            row.addWidget(self._unit_button(system))
        row.addSpacing(step(self))
        row.addWidget(self._points)

    def _unit_button(self, system: System) -> QToolButton:
        made = QToolButton(self)
        made.setText(str(system))
        made.setCheckable(True)
        made.setProperty("flat", True)
        made.setAccessibleName(f"Show numbers in {system} units")
        made.setToolTip(made.accessibleName())
        made.clicked.connect(lambda _checked=False: self._bench.show_in(system))
        self._units.addButton(made)
        return made
