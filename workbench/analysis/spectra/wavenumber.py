"""Whether an instrument's wavenumbers are right, from a polystyrene film."""

from dataclasses import dataclass

import numpy as np

from workbench.analysis.spectra.peaks import parabola_top
from workbench.analysis.spectra.spectrum import Spectrum

POLYSTYRENE = (
    (3060.0, 1.5), (2849.5, 1.5), (1942.9, 1.5), (1601.2, 1.0), (1583.0, 1.0), (1154.5, 1.0),
    (1028.3, 1.0),
)  # fmt: skip
"""Bands of a polystyrene film and their tolerances, in 1/cm.

European Pharmacopoeia 2.2.24 and Japanese Pharmacopoeia, infrared spectrophotometry (READ in a
quotation of the table).
"""


@dataclass(frozen=True, slots=True)
class BandCheck:
    """One band of the film: where it should stand and where it was found."""

    nominal: float
    tolerance: float
    found: float | None

    @property
    def deviation(self) -> float | None:
        """Found less nominal, in 1/cm; None where no band was found."""
        return None if self.found is None else self.found - self.nominal

    @property
    def within(self) -> bool | None:
        """Whether the deviation is within the tolerance; None where no band was found."""
        return None if self.deviation is None else abs(self.deviation) <= self.tolerance


@dataclass(frozen=True, slots=True)
class WavenumberCheck:
    """The check of one film.

    Attributes:
        bands: The bands looked for.
        depth_2870_2850: Transmittance between the maximum at 2870 and the minimum at 2850 1/cm, in
            percent; 18 or more at about 0.04 mm of film. A lower one says that the film is thin,
            not that the instrument is bad.
    """

    bands: tuple[BandCheck, ...]
    depth_2870_2850: float | None

    @property
    def passed(self) -> bool:
        """Whether bands were found and all found are within tolerance."""
        found = [band.within for band in self.bands if band.within is not None]
        return len(found) >= 3 and all(found)


def check_wavenumbers(film: Spectrum, *, reach: float = 6.0) -> WavenumberCheck:
    """Return where the bands of a polystyrene film stand in `film`, against their tolerances.

    Args:
        film: The film's spectrum in absorbance or transmittance.
        reach: How far from its nominal position a band is looked for, in 1/cm.
    """
    inked = film.absorbance()
    bands = tuple(
        BandCheck(nominal, tolerance, _found(inked, nominal, reach))
        for nominal, tolerance in POLYSTYRENE
    )
    return WavenumberCheck(bands, _depth(inked))


def _found(inked: Spectrum, nominal: float, reach: float) -> float | None:
    inside = np.flatnonzero(np.abs(inked.x - nominal) <= reach)
    if len(inside) < 3:
        return None
    top = int(inside[np.argmax(inked.y[inside])])
    if top in (inside[0], inside[-1]) or not 0 < top < len(inked.x) - 1:
        return None
    return parabola_top(inked.x[top - 1 : top + 2], inked.y[top - 1 : top + 2])


def _depth(inked: Spectrum) -> float | None:
    clear, dark = inked.between(2862, 2880), inked.between(2845, 2855)
    if not len(clear.x) or not len(dark.x):
        return None
    return float(100 * (10 ** -clear.y.min() - 10 ** -dark.y.max()))
