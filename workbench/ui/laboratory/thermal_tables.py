"""What stands under a thermogram: readings, two heats, cure, estimates by rule, checks."""

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QTabWidget, QWidget

from workbench.ui.table.lines import Line, LinesView

if TYPE_CHECKING:
    from workbench.analysis.laboratory.found import Laboratory


class ThermalTables(QTabWidget):
    """One tab for each kind of reading."""

    def __init__(self, curves: QWidget, parent: QWidget | None = None) -> None:
        """Have the curves first, and the tables empty behind them."""
        super().__init__(parent)
        self.setDocumentMode(True)
        self.readings = LinesView("Readings", ("ref", "curve", "definition", "°C", "by"), self)
        self.heats = LinesView(
            "First and second heat", ("sample", "first °C", "second °C", "rise K", "may mean"), self
        )
        self.cures = LinesView(
            "Peaks and degree of cure", ("ref", "curve", "peak of", "J/g", "cured", "direction"),
            self,
        )  # fmt: skip
        self.estimates = LinesView(
            "Estimates by rule", ("ref", "sample", "rule", "estimate", "read", "basis"), self
        )
        self.checks = LinesView(
            "Checks with known materials", ("check", "should be", "found", "tolerance", "within"),
            self,
        )  # fmt: skip
        self.addTab(curves, "Curves")
        for view, name in (
            (self.readings, "Readings"), (self.heats, "Two heats"), (self.cures, "Cure"),
            (self.estimates, "By rule"), (self.checks, "Checks"),
        ):  # fmt: skip
            self.addTab(view, name)

    def show_found(self, found: "Laboratory") -> None:
        """Fill the tables."""
        self._show_readings(found)
        self._show_cures(found)
        self.estimates.show_lines(
            [
                Line(
                    (
                        one.record.ref, one.record.sample, one.record.rule.value,
                        f"{100 * one.value:.0f} % cured" if one.is_cure else f"{one.value:.1f} °C",
                        "; ".join(f"{at:g}" for at, _ in one.read), one.record.basis,
                    ),
                    one.record.source,
                )
                for one in found.estimates
            ],
            (7, 9, 18, 11, 9),
        )  # fmt: skip
        self.checks.show_lines(
            [
                Line(
                    (
                        f"{one.what}, {one.unit}", f"{one.should:.2f}",
                        "not found" if one.found is None else f"{one.found:.2f}",
                        f"± {one.tolerance:.2f}", _verdict(one.within, one.verdict),
                    ),
                    one.sources[0] if one.sources else None,
                )
                for one in found.checks
            ],
            (30, 10, 10, 10),
        )  # fmt: skip

    def _show_readings(self, found: "Laboratory") -> None:
        self.readings.show_lines(
            [
                Line(
                    (
                        one.reading.ref, one.thermogram.name or one.thermogram.file,
                        one.reading.definition.value, f"{one.celsius:.1f}", one.reading.by,
                    ),
                    one.reading.source,
                )
                for one in found.transitions
            ],
            (7, 24, 16, 8),
        )  # fmt: skip
        self.heats.show_lines(
            [
                Line(
                    (
                        f"{one.first.reading.sample}, {one.first.reading.definition.value}",
                        f"{one.first.celsius:.1f}", f"{one.second.celsius:.1f}",
                        f"{one.rise_k:+.1f}", one.words,
                    ),
                    one.second.reading.source,
                )
                for one in found.heats
            ],
            (20, 9, 9, 8),
        )  # fmt: skip

    def _show_cures(self, found: "Laboratory") -> None:
        degrees = {one.residual.reading.ref: one.words for one in found.cures}
        self.cures.show_lines(
            [
                Line(
                    (
                        one.reading.ref, one.thermogram.name or one.thermogram.file,
                        one.reading.peak.value, f"{one.energy_j_g:.1f}",
                        degrees.get(one.reading.ref, ""),
                        one.words,
                    ),
                    one.reading.source,
                )
                for one in found.peaks
            ],
            (7, 22, 13, 8, 8),
        )  # fmt: skip


def _verdict(within: bool | None, words: str) -> str:
    return words if within else f"✕ {words}"
