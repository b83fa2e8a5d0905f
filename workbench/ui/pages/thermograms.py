"""Thermograms with the lines their temperatures are constructed from."""

from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QScrollArea,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from workbench.records import (
    Face,
    Heat,
    KnownError,
    LabResult,
    PeakReading,
    Quantity,
    Source,
    TransitionDefinition,
    TransitionReading,
)
from workbench.ui.bench import Bench
from workbench.ui.laboratory.fields import Fields
from workbench.ui.laboratory.page import LaboratoryPage
from workbench.ui.laboratory.peak_panel import PeakPanel
from workbench.ui.laboratory.reach import Beside, Reach, wrapped
from workbench.ui.laboratory.thermal_tables import ThermalTables
from workbench.ui.parts import bare_column, button, parted
from workbench.ui.table.lines import Line, LinesView
from workbench.ui.theme import step

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from workbench.analysis.laboratory.found import Laboratory
    from workbench.analysis.laboratory.peaks import ReadPeak
    from workbench.analysis.laboratory.thermograms import ReadTransition, Thermogram
    from workbench.desk.acts import Act
    from workbench.figures.look import Look
    from workbench.figures.marks import Marks
    from workbench.ui.laboratory.drawing import Drawing

_ENDS = ("Before, from °C", "Before, to °C", "After, from °C", "After, to °C")
_EMPTY = (
    "No thermogram is tied to a sample. Under Curves, Insert adds one: name its file, say "
    "thermogram, and the sample. A laboratory result that names a file is read as well."
)
_ENDS_OF = ("before_from", "before_to", "after_from", "after_to")


class ThermogramsPage(LaboratoryPage):
    """The curves, the construction on the one that is chosen, and the readings recorded."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Make the page."""
        super().__init__(bench, parent)
        self._found: Laboratory | None = None
        self._curve: Thermogram | None = None
        self.read: ReadTransition | None = None
        self.list = LinesView("Thermograms", ("sample, face, heat", "stands for", "file"), self)
        self.temperatures = LinesView("Glass transition", ("definition", "°C"), self)
        self.peak: ReadPeak | None = None
        self.peaks = PeakPanel(self._construct, self.record_peak, self)
        self.ways = QTabWidget(self)
        self.fields = Fields(self._construct, self)
        self.meaning = wrapped("", self)
        self.reach = Reach(self)
        self.drawing: Drawing | None = None
        self._cured: float | None = None
        self._lay_out()
        self.ways.currentChanged.connect(lambda _at: self._construct())
        self.list.selectionModel().currentRowChanged.connect(lambda *_: self._on_chosen())
        self.bench.selection.focused.connect(self.renew)

    @property
    def current(self) -> Source | None:
        """The record that names the curve which is chosen."""
        return self._curve.sources[0] if self._curve and self._curve.sources else None

    def enter(self) -> None:
        """Go to the list of curves."""
        self.list.setFocus(Qt.FocusReason.OtherFocusReason)

    def show_found(self, found: "Laboratory") -> None:
        """List the curves that the focus takes, and the readings."""
        self._found = found
        focus, index, dossier = self.bench.selection.focus, self.bench.index, self.bench.dossier
        held = (self._curve.file, self._curve.part) if self._curve else ("", "")
        shown = [
            one
            for one in found.thermograms
            if any((r := dossier.resolve(s)) and index.takes(focus, r) for s in one.sources)
        ]
        whole = len(found.thermograms)
        self.count.setText(f"{whole}" if len(shown) == whole else f"{len(shown)} of {whole}")
        shown.sort(key=_place)
        self.list.show_lines(
            [Line((one.name or one.file, _stands_for(one), one.file), one) for one in shown],
            (26, 14),
        )
        self.tables.show_found(found)
        rows = [n for n, one in enumerate(shown) if (one.file, one.part) == held] or [0]
        if shown:
            self.list.setCurrentIndex(self.list.model().index(rows[0], 0))
        else:
            self._on_chosen()

    def _on_chosen(self) -> None:
        line = self.list.lines.line_at(self.list.currentIndex().row())
        curve = line.behind if line else None
        same = curve is not None and self._curve is not None and _same(curve, self._curve)
        self._curve = curve  # type: ignore[assignment]  # made in show_found
        if self._curve is None:
            self.meaning.setText(_EMPTY)
            self._draw()
            return
        if not same:
            self._propose(self._curve)
            self.peaks.propose(self._curve, self._held_peak(self._curve))
        self._construct()

    def _held_peak(self, curve: "Thermogram") -> PeakReading | None:
        """Return the peak recorded on a curve; None for none."""
        held = (one for one in (self._found.peaks if self._found else ()))
        return next((one.reading for one in held if _same(one.thermogram, curve)), None)

    def _propose(self, curve: "Thermogram") -> None:
        """Put the ends recorded for this curve into the fields, or those proposed."""
        from workbench.analysis.thermal.proposal import propose_parts

        held = next(
            (
                one.reading
                for one in (self._found.transitions if self._found else ())
                if _same(one.thermogram, curve)
            ),
            None,
        )
        if held:
            ends = [f"{getattr(held, name).value:g}" for name in _ENDS_OF]
            self.fields.set_text("Definition", held.definition.value)
        else:
            try:
                before, after = propose_parts(curve.celsius, curve.flow)
            except ValueError as wrong:
                self.say_wrong(str(wrong))
                return
            ends = [f"{end:.1f}" for end in (*before, *after)]
        for name, said in zip(_ENDS, ends, strict=True):
            self.fields.set_text(name, said)
        self.fields.set_text("Heat", curve.heat.value if curve.heat else Heat.FIRST.value)
        self.fields.set_text("Rate K/min", f"{curve.rate_k_min:g}" if curve.rate_k_min else "")
        records = [self.bench.dossier.resolve(source) for source in curve.sources]
        controls = [one.control for one in records if isinstance(one, LabResult) and one.control]
        self.fields.set_text("Control", controls[0] if controls else "")

    def _reading(self) -> TransitionReading:
        curve = self._curve
        if curve is None:
            raise KnownError("choose a thermogram")
        from workbench.desk.laboratory.results import next_ref

        ends = [self._end(name) for name in _ENDS]
        if sorted(end.value for end in ends) != [end.value for end in ends]:
            raise KnownError("the straight parts are out of order: four rising temperatures")
        rate = self.fields.text("Rate K/min")
        return TransitionReading(
            ref=next_ref(self.bench.dossier, TransitionReading, "TG-"),
            file=curve.file, part=curve.part, sample=curve.sample,
            face=Face.read(curve.face) if curve.face else None,
            heat=Heat(self.fields.text("Heat")),
            before_from=ends[0], before_to=ends[1], after_from=ends[2], after_to=ends[3],
            definition=TransitionDefinition(self.fields.text("Definition")),
            rate=Quantity.read(f"{rate} K/min") if rate else None,
            by=self.bench.case.author, date=self.today(), origin="constructed on the curve",
        )  # fmt: skip

    def _end(self, name: str) -> Quantity:
        self.fields.number(name)
        return Quantity(self.fields.text(name).replace(",", "."), "degC")

    def _construct(self) -> None:
        """Construct what the tab that is open asks for, on the curve that is chosen."""
        from workbench.analysis.laboratory.peaks import read_peak
        from workbench.analysis.laboratory.thermograms import construct

        self.read = self.peak = None
        try:
            if self._curve and self.ways.currentIndex() == 1:
                reading = self.peaks.reading(self._curve, "-", "-", None)
                self.peak = read_peak(reading, self._curve)
            elif self._curve:
                self.read = construct(self._reading(), self._curve)
            self.say_wrong("")
        except (KnownError, ValueError) as wrong:
            self.say_wrong(str(wrong))
        self._show_temperatures()
        self._cured = self.peaks.show_read(self.peak, self._found)
        if self.isVisible():
            self._draw()

    def _show_temperatures(self) -> None:
        found = self.read.transition.celsius if self.read else {}
        self.temperatures.show_lines(
            [Line((definition.value, f"{at:.1f}")) for definition, at in found.items()], (18,)
        )
        self.meaning.setText(self._said())

    def _said(self) -> str:
        if self._curve is None:
            return ""
        if self.read is None:
            return " ".join(self._curve.notes)
        transition = self.read.transition
        spread = max(transition.celsius.values()) - min(transition.celsius.values())
        said = [f"The definitions lie {spread:.1f} K apart: the definition goes with the number."]
        if transition.overshoot > 0.1:
            said.append(
                f"The curve overshoots by {transition.overshoot:.0%} of the step: candidate for "
                "physical ageing, which a second heat removes."
            )
        if self.read.doubt:
            said.append(f"✕ {self.read.doubt}.")
        if self._curve.exotherm_up is None:
            said.append("The file does not say which way an exotherm points.")
        return " ".join((*said, *self._curve.notes))

    def _draw(self) -> None:
        from workbench.ui.laboratory.drawing import Drawing

        if self.drawing is None:
            self.drawing = Drawing("Thermogram", self.bench, self)
            self._room.addWidget(self.drawing)
        read, peak = self.read, self.peak
        if peak is not None:
            words = f"{peak.reading.peak}: {peak.energy_j_g:.1f} J/g, {peak.words}"
            self.drawing.show_drawing(partial(_draw_peak, peak), words)
        elif read is not None:
            words = "; ".join(f"{name} {at:.1f} °C" for name, at in read.transition.celsius.items())
            self.drawing.show_drawing(partial(_draw_transition, read), words)
        else:
            self.drawing.show_drawing(None, "" if self._curve else _EMPTY)

    def record(self) -> None:
        """Record the construction, and the result by the definition that is chosen."""
        from workbench.desk.laboratory.results import transition_act

        read = self.read
        if read is None:
            self.bench.refused.emit("There is no construction to record.")
            return

        def made() -> "Act":
            return transition_act(self.bench.dossier, read, control=self.fields.text("Control"))

        self.do(made, f"{read.reading.ref} and its result are recorded.")

    def record_peak(self) -> None:
        """Record the peak between its ends, and of residual cure the result that comes of it."""
        from workbench.desk.laboratory.results import next_ref, peak_act

        peak, curve = self.peak, self._curve
        if peak is None or curve is None:
            self.bench.refused.emit("There is no peak to record.")
            return
        dossier, cured = self.bench.dossier, self._cured
        ref = next_ref(dossier, PeakReading, "PK-")

        def made() -> "Act":
            reading = self.peaks.reading(curve, ref, self.bench.case.author, self.today())
            control = self.fields.text("Control")
            return peak_act(dossier, replace(peak, reading=reading), cured=cured, control=control)

        self.do(made, f"{ref} is recorded.")

    def _add_fields(self) -> None:
        for name in _ENDS:
            self.fields.add_line(name)
        self.fields.add_choice("Definition", [one.value for one in TransitionDefinition])
        self.fields.set_text("Definition", TransitionDefinition.HALF_HEIGHT.value)
        self.fields.add_choice("Heat", [one.value for one in Heat])
        self.fields.add_line("Rate K/min", "", "as 10")
        self.fields.add_line("Control", "", "sample")

    def _lay_out(self) -> None:
        self._add_fields()
        self.reach.show_methods(("l-dsc",))
        drawn = QWidget(self)
        self._room = QVBoxLayout(drawn)
        self._room.setContentsMargins(0, 0, 0, 0)
        self._add_ways()
        side = QWidget(self)
        column = QVBoxLayout(side)
        column.setContentsMargins(step(self), step(self), step(self), step(self))
        column.setSpacing(step(self))
        column.addWidget(self.ways, 1)
        upper = parted(self, Qt.Orientation.Horizontal, (drawn, side), grows=0, steps=(66, 30))
        self.tables = ThermalTables(self._curves(), self)
        halves = parted(
            self,
            Qt.Orientation.Vertical,
            (upper, Beside(self.tables, self.reach, self)),
            steps=(58, 24),
        )
        whole = bare_column(self)
        whole.addLayout(self.head("Thermograms", self.count))
        whole.addWidget(self.wrong)
        whole.addWidget(halves, 1)

    def _add_ways(self) -> None:
        """Put the two kinds of construction behind two tabs."""
        transition = QWidget(self)
        column = QVBoxLayout(transition)
        column.setContentsMargins(0, step(self, 0.5), 0, 0)
        column.setSpacing(step(self, 0.5))
        column.addWidget(self.fields)
        self.temperatures.setMinimumHeight(step(self, 15))
        column.addWidget(self.temperatures, 1)
        column.addWidget(button("Record the reading", self.record, transition, main=True))
        self.ways.setDocumentMode(True)
        self.ways.setAccessibleName("What is constructed")
        for sheet, name in ((transition, "Transition"), (self.peaks, "Peak")):
            scrolled = QScrollArea(self)
            scrolled.setWidgetResizable(True)
            scrolled.setFrameShape(QFrame.Shape.NoFrame)
            scrolled.setWidget(sheet)
            scrolled.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
            bar = scrolled.verticalScrollBar().sizeHint().width()
            scrolled.setMinimumWidth(sheet.minimumSizeHint().width() + bar)
            self.ways.addTab(scrolled, name)

    def _curves(self) -> QWidget:
        sheet = QWidget(self)
        column = QVBoxLayout(sheet)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.list, 1)
        line = QHBoxLayout()
        line.setSpacing(step(self))
        line.setContentsMargins(step(self), 0, step(self), step(self, 0.5))
        line.addWidget(self.meaning, 1)
        column.addLayout(line)
        return sheet


def _same(one: object, other: object) -> bool:
    return (getattr(one, "file", ""), getattr(one, "part", "")) == (
        getattr(other, "file", None), getattr(other, "part", None),
    )  # fmt: skip


_ORDER = ("failing", "non-failing", "control")


def _place(one: "Thermogram") -> tuple[int, str, bool, str]:
    """Return where a curve stands in the list: failing first, check materials last."""
    stands = one.condition.value
    place = _ORDER.index(stands) if stands in _ORDER else len(_ORDER)
    return place + (not one.sample), one.sample, not one.heating, one.heat or ""


def _stands_for(one: "Thermogram") -> str:
    if one.sample:
        return one.condition.value
    return "no sample"


def _draw_transition(read: "ReadTransition", figure: "Figure", look: "Look") -> "Marks":
    from workbench.figures.thermogram import draw_thermogram

    curve = read.thermogram
    return draw_thermogram(
        figure, curve.celsius, curve.flow, read.transition, title=curve.name,
        ordinate=curve.ordinate or curve.part, source=curve.sources[0] if curve.sources else None,
        look=look,
    )  # fmt: skip


def _draw_peak(peak: "ReadPeak", figure: "Figure", look: "Look") -> "Marks":
    from workbench.figures.heats import draw_peak

    return draw_peak(figure, peak, look=look)
