"""The ends of a peak on a thermogram, and what lies between them: residual cure, melting."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QVBoxLayout, QWidget

from workbench.records import (
    CheckMaterial,
    Face,
    KnownError,
    NotUnderstoodError,
    PeakOf,
    PeakReading,
    Quantity,
    When,
)
from workbench.records.codes import YesNo
from workbench.ui.laboratory.fields import Fields
from workbench.ui.parts import button
from workbench.ui.table.lines import Line, LinesView
from workbench.ui.theme import step

if TYPE_CHECKING:
    from workbench.analysis.laboratory.found import Laboratory
    from workbench.analysis.laboratory.peaks import ReadPeak
    from workbench.analysis.laboratory.thermograms import Thermogram

_FROM, _TO, _OF, _RATE = "Peak from °C", "Peak to °C", "Peak of", "Rate K/min"
_MASS, _UP, _AGAINST, _CHECK = "Specimen mg", "Exotherm up", "Fresh mixture", "Check material"
_AS_FILE = "as the file says"


class PeakPanel(QWidget):
    """Fields for the two ends, and the energy between them."""

    def __init__(
        self,
        changed: Callable[[], object],
        record: Callable[[], object],
        parent: QWidget | None = None,
    ) -> None:
        """Have empty fields; `changed` and `record` are what the page does."""
        super().__init__(parent)
        self.fields = Fields(changed, self)
        self.found = LinesView("Peak", ("of the peak", ""), self)
        for name, hint in (
            (_FROM, "on the baseline"), (_TO, "on the baseline"), (_RATE, "as 10"),
            (_MASS, "where the curve is in mW"), (_AGAINST, "ref of its peak"),
        ):  # fmt: skip
            self.fields.add_line(name, "", hint)
        self.fields.add_choice(_OF, [one.value for one in PeakOf])
        self.fields.add_choice(_UP, [_AS_FILE, *(one.value for one in YesNo)])
        self.fields.add_choice(_CHECK, ["", *(one.value for one in CheckMaterial)])
        column = QVBoxLayout(self)
        column.setContentsMargins(0, step(self, 0.5), 0, 0)
        column.setSpacing(step(self, 0.5))
        column.addWidget(self.fields)
        self.found.setMinimumHeight(step(self, 15))
        column.addWidget(self.found, 1)
        column.addWidget(button("Record the peak", record, self, main=True))

    def propose(self, curve: "Thermogram", held: PeakReading | None) -> None:
        """Put the ends recorded for a curve into the fields, or the upper half of its range."""
        low, high = float(curve.celsius[0]), float(curve.celsius[-1])
        ends = (f"{low + 0.6 * (high - low):.0f}", f"{high - 0.05 * (high - low):.0f}")
        rate = f"{curve.rate_k_min:g}" if curve.rate_k_min else ""
        said = {_FROM: ends[0], _TO: ends[1], _RATE: rate, _MASS: "", _AGAINST: ""}
        said |= {_OF: PeakOf.RESIDUAL_CURE.value, _UP: _AS_FILE, _CHECK: ""}
        if held:
            said |= {
                _FROM: held.first.text, _TO: held.last.text, _OF: held.peak.value,
                _RATE: held.rate.text if held.rate else rate,
                _MASS: held.mass.text if held.mass else "", _AGAINST: held.against,
                _UP: held.exotherm_up.value if held.exotherm_up else _AS_FILE,
                _CHECK: held.check.value if held.check else "",
            }  # fmt: skip
        for name, text in said.items():
            self.fields.set_text(name, text)

    def reading(self, curve: "Thermogram", ref: str, by: str, on: When | None) -> PeakReading:
        """Return the record of what the fields say.

        Raises:
            KnownError: A field cannot be read, or the reading has a fault.
        """
        up, check = self.fields.text(_UP), self.fields.text(_CHECK)
        try:
            reading = PeakReading(
                ref=ref, file=curve.file, part=curve.part, sample=curve.sample,
                face=Face.read(curve.face) if curve.face else None,
                peak=PeakOf(self.fields.text(_OF)), first=self._number(_FROM, "degC"),
                last=self._number(_TO, "degC"), rate=self._maybe(_RATE, "K/min"),
                mass=self._maybe(_MASS, "mg"), exotherm_up=None if up == _AS_FILE else YesNo(up),
                against=self.fields.text(_AGAINST), check=CheckMaterial(check) if check else None,
                by=by, date=on, origin="bounded on the curve",
            )  # fmt: skip
        except NotUnderstoodError as wrong:
            raise KnownError(f"{wrong.wrong}; {wrong.right}") from wrong
        for fault in reading.faults():
            raise KnownError(f"{fault.wrong}; {fault.right}")
        return reading

    def show_read(self, read: "ReadPeak | None", found: "Laboratory | None") -> float | None:
        """Show what lies between the ends; return the degree of cure where it is known."""
        if read is None:
            self.found.show_lines(())
            return None
        degree, words = _degree(read, found)
        lines = [("energy", f"{read.energy_j_g:.1f} J/g"), ("direction", read.words)]
        if read.shows:
            lines.append(("onset", f"{read.event.onset_c:.1f} °C"))
            lines.append(("top", f"{read.event.top_c:.1f} °C"))
        if words:
            lines.append(("degree of cure", words))
        self.found.show_lines([Line(one) for one in lines], (9,))
        return degree

    def _number(self, name: str, unit: str) -> Quantity:
        self.fields.number(name)
        return Quantity(self.fields.text(name).replace(",", "."), unit)

    def _maybe(self, name: str, unit: str) -> Quantity | None:
        return self._number(name, unit) if self.fields.text(name) else None


def _degree(read: "ReadPeak", found: "Laboratory | None") -> tuple[float | None, str]:
    """Return the degree of cure against the fresh mixture, and the same in words."""
    from workbench.analysis.laboratory.peaks import cure_degrees

    if not read.reading.against or found is None:
        return None, ""
    fresh = tuple(one for one in found.peaks if one.reading.ref == read.reading.against)
    degrees, problems = cure_degrees((read, *fresh))
    if degrees:
        return degrees[0].degree, degrees[0].words
    return None, "; ".join(problems)
