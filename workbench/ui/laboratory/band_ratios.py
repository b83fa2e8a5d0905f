"""Ratios of two bands over their tangent baselines, spectrum by spectrum."""

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from workbench.records import KnownError
from workbench.ui.laboratory.fields import Fields
from workbench.ui.laboratory.reach import wrapped
from workbench.ui.table.lines import Line, LinesView
from workbench.ui.theme import step

if TYPE_CHECKING:
    from collections.abc import Sequence

    from workbench.analysis.laboratory.spectra import SpectrumStudy
    from workbench.analysis.spectra.peaks import Band

_BAND, _REFERENCE, _BY = "Band", "Reference band", "By"
_HINT = "top and both feet, 1/cm"
_SAYS = (
    "A ratio tells spectra measured alike apart, and reads a mix ratio or a cure off a line of "
    "standards (Calculators); by itself it is neither. The reference band must not change."
)


class BandRatios(QWidget):
    """Two bands as a person bounds them, and their ratio in every spectrum."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Offer the epoxide band against the aromatic one."""
        super().__init__(parent)
        self.studies: tuple[SpectrumStudy, ...] = ()
        self.fields = Fields(self._show, self)
        self.fields.add_line(_BAND, "915 880 950", _HINT)
        self.fields.add_line(_REFERENCE, "1508 1470 1545", _HINT)
        self.fields.add_choice(_BY, ("height", "area"))
        self.found = LinesView("Band ratios", ("spectrum", "stands for", "ratio"), self)
        self.wrong = wrapped("", self)
        asked = QVBoxLayout()
        asked.setSpacing(step(self, 0.5))
        asked.addWidget(self.fields)
        asked.addWidget(self.wrong)
        asked.addWidget(wrapped(_SAYS, self))
        asked.addStretch()
        row = QHBoxLayout(self)
        row.setContentsMargins(step(self), step(self), step(self), step(self))
        row.setSpacing(step(self))
        row.addLayout(asked, 2)
        row.addWidget(self.found, 3)

    def show_studies(self, studies: "Sequence[SpectrumStudy]") -> None:
        """Show the ratio in each of these spectra."""
        self.studies = tuple(one for one in studies if one.of.role.value != "check_film")
        self._show()

    def _show(self) -> None:
        try:
            band, reference = self._band(_BAND), self._band(_REFERENCE)
        except KnownError as wrong:
            self.wrong.setText(str(wrong))
            self.found.show_lines(())
            return
        self.wrong.setText("")
        by = self.fields.text(_BY)
        lines = [_line(one, band, reference, by) for one in self.studies]
        self.found.show_lines(lines, (14, 11))

    def _band(self, name: str) -> "Band":
        from workbench.analysis.spectra.peaks import Band

        said = self.fields.text(name)
        try:
            top, *feet = (float(part) for part in said.replace(";", " ").split())
            low, high = sorted(feet)
        except ValueError:
            raise KnownError(
                f"{name}: “{said}” is no band; write top and feet, as 915 880 950"
            ) from None
        if not low < top < high:
            raise KnownError(f"{name}: the feet lie on both sides of the top, as 915 880 950")
        return Band(top, (low, high))


def _line(one: "SpectrumStudy", band: "Band", reference: "Band", by: str) -> Line:
    from workbench.analysis.spectra.peaks import ratio

    of = one.of
    stands = of.condition.value if of.role.value == "specimen" else of.role.value
    try:
        shown = f"{ratio(of.spectrum.absorbance(), band, reference, by=by):.4f}"
    except ValueError as wrong:
        shown = f"none: {wrong}"
    return Line((of.name, stands, shown), one)
