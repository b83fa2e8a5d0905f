"""How much fails, area by area, and what to allow for the repair."""

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QSpinBox, QVBoxLayout, QWidget

from workbench.desk.questions.extent import extent, repair
from workbench.records import Source
from workbench.trade.showing import AREA, Showing
from workbench.ui.bench import Bench
from workbench.ui.pages.page import Page
from workbench.ui.parts import bare_column, label, overline
from workbench.ui.table.lines import Line, LinesView
from workbench.ui.theme import step

if TYPE_CHECKING:
    from workbench.analysis.extent import AreaExtent, Extent


class ExtentPage(Page):
    """The areas with what fails of each, and below them the quantity to repair."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Allow a tenth for sound edges, and a tenth for what was not seen."""
        super().__init__(bench, parent)
        self._said = label("", "quiet", self)
        self.list = LinesView(
            "Areas and what fails of them",
            ("area", "condition", "size", "seen", "sounded", "counted", "fails", "say"),
            self,
        )
        self.edges = _percent("Removed around it, to sound edges", self)
        self.margin = _percent("Added for what was not seen", self)
        self.quantity = label("", "heading", self)
        self._found: Extent | None = None
        self._lay_out()
        self.list.selectionModel().currentRowChanged.connect(lambda _now, _before: self._on_row())
        for box in (self.edges, self.margin):
            box.valueChanged.connect(lambda _value: self._show_quantity())
        bench.answers.ready.connect(self._on_ready)

    @property
    def finding(self) -> tuple[str, str, tuple[Source, ...]] | None:
        """The area that is chosen."""
        one = self._area()
        if one is None:
            return None
        return f"Extent of {one.area.ref}", " ".join(one.remarks), one.sources

    def fill(self) -> None:
        """Show the extent once it is found."""
        self._found = found = self.bench.answers.ask(extent)
        if found is None:
            self._said.setText("Adding up…")
            return
        lines = [_line(one, self.bench.showing) for one in found.areas]
        self.list.show_lines(lines, (25, 11, 9, 7, 9, 12, 9))
        missing = ", ".join(found.not_known)
        self._said.setText(f"Share or size is not known of {missing}" if missing else "")
        self._said.setToolTip(self._said.text())
        self._show_quantity()

    def enter(self) -> None:
        """Go to the areas."""
        self.list.setFocus(Qt.FocusReason.OtherFocusReason)

    def _area(self) -> "AreaExtent | None":
        from workbench.analysis.extent import AreaExtent

        line = self.list.lines.line_at(self.list.currentIndex().row())
        return line.behind if line and isinstance(line.behind, AreaExtent) else None

    def _on_row(self) -> None:
        if one := self._area():
            self.bench.selection.light(one.sources)

    def _show_quantity(self) -> None:
        if self._found is None:
            return
        allowed = repair(
            self._found, edges_percent=self.edges.value(), margin_percent=self.margin.value()
        )
        failing, edges, margin, whole = (
            self.bench.showing.value(AREA, one)
            for one in (allowed.failing_m2, allowed.edges_m2, allowed.margin_m2, allowed.whole_m2)
        )
        known = self.bench.showing.value(AREA, self._found.known_m2)
        self.quantity.setText(
            f"{failing} fails + {edges} edges + {margin} unseen = {whole} to allow of {known}"
        )

    def _on_ready(self, question: object) -> None:
        if question is extent:
            self.renew()

    def _lay_out(self) -> None:
        head = self.head("Extent and repair", self._said)
        row = QHBoxLayout()
        row.setSpacing(step(self))
        for words, box in (("to sound edges", self.edges), ("for what is hidden", self.margin)):
            row.addWidget(label(words, "quiet", self))
            row.addWidget(box)
        row.addStretch()
        self.quantity.setWordWrap(True)
        judged = label("Both shares are a judgement, printed as such.", "quiet", self)
        foot = QVBoxLayout()
        foot.setContentsMargins(step(self, 2), step(self, 0.5), step(self), step(self, 0.5))
        foot.addWidget(overline("To allow for the repair", self))
        foot.addLayout(row)
        foot.addWidget(self.quantity)
        foot.addWidget(judged)
        whole = bare_column(self)
        whole.addLayout(head)
        whole.addWidget(self.list, 1)
        whole.addLayout(foot)


def _percent(name: str, parent: QWidget) -> QSpinBox:
    made = QSpinBox(parent)
    made.setRange(0, 100)
    made.setValue(10)
    made.setSuffix(" %")
    made.setAccessibleName(name)
    made.setToolTip(name)
    return made


def _line(one: "AreaExtent", showing: Showing) -> Line:
    drawn = ", as drawn" if one.size_from == "outline" else ""
    size = f"{one.pieces} pieces" if one.pieces else f"{_area_words(one.own_m2, showing)}{drawn}"
    sampled = "–"
    if one.sampled:
        low, high = (f"{100 * end:.0f}" for end in (one.sampled.low, one.sampled.high))
        sampled = f"{one.sampled.count} of {one.sampled.of}: {low} to {high} %"
    cells = (
        f"{one.area.ref} {one.area.name}", str(one.area.condition), size, _share(one.visible),
        _share(one.sounded), sampled, _area_words(one.failing_m2, showing), " ".join(one.remarks),
    )  # fmt: skip
    return Line(cells, one)


def _area_words(m2: float | None, showing: Showing) -> str:
    return "–" if m2 is None else showing.value(AREA, m2)


def _share(share: float | None) -> str:
    return "–" if share is None else f"{100 * share:.0f} %"
