"""One spectrum as numbers, and the two ways its ordinate is told."""

from dataclasses import dataclass, replace
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
_PERCENT_FROM = 2.0
_SLACK, _MOST_FRACTION, _MOST_ABSORBANCE, _MOST_PERCENT = 0.05, 1.3, 6.0, 160.0
"""Where ordinates lie: noise below 0, and the most of a fraction, of absorbance, of percent."""


class Ordinate(StrEnum):
    """What the ordinate of a spectrum is."""

    ABSORBANCE = "absorbance"
    TRANSMITTANCE = "transmittance"
    PERCENT_TRANSMITTANCE = "percent transmittance"
    OTHER = "other"


@dataclass(frozen=True, slots=True, eq=False)
class Spectrum:
    """A spectrum with its abscissa rising.

    Attributes:
        title: What the file calls it.
        x: Abscissa, shape (n,), strictly rising; wavenumbers in 1/cm for infrared.
        y: Ordinate, shape (n,).
        ordinate: What `y` is, told by the data where file and data disagree.
        notes: What was told while reading: headers that disagree with the data, points left out.
    """

    title: str
    x: Floats
    y: Floats
    ordinate: Ordinate = Ordinate.OTHER
    notes: tuple[str, ...] = ()

    def absorbance(self) -> "Spectrum":
        """Return the spectrum in absorbance, A = -log10(T).

        Points of zero or negative transmittance carry no information and are left out; a note
        says how many.
        """
        if self.ordinate in (Ordinate.ABSORBANCE, Ordinate.OTHER):
            return self
        fraction = self.y / (100 if self.ordinate is Ordinate.PERCENT_TRANSMITTANCE else 1)
        usable = fraction > 0
        lost = int(np.count_nonzero(~usable))
        note = (f"{lost} points without transmitted light left out",) if lost else ()
        return replace(
            self,
            x=self.x[usable],
            y=-np.log10(fraction[usable]),
            ordinate=Ordinate.ABSORBANCE,
            notes=(*self.notes, *note),
        )

    def between(self, low: float, high: float) -> "Spectrum":
        """Return the part from `low` to `high` of the abscissa, both included."""
        inside = (self.x >= low) & (self.x <= high)
        return replace(self, x=self.x[inside], y=self.y[inside])


def rising(title: str, x: Floats, y: Floats, said: str = "") -> Spectrum:
    """Return a spectrum with `x` rising, repeated abscissae averaged, missing ordinates left out.

    Args:
        title: What the file calls it.
        x: Abscissa, shape (n,), in any order.
        y: Ordinate, shape (n,); NaN is missing.
        said: The ordinate's unit as the file has it; the data decide between fraction and percent.

    Raises:
        ValueError: Fewer than two points remain.
    """
    known = np.isfinite(x) & np.isfinite(y)
    places, where = np.unique(x[known], return_inverse=True)
    if len(places) < 2:
        raise ValueError("fewer than two points")
    values = np.bincount(where, weights=y[known]) / np.bincount(where)
    notes = []
    if lost := int(np.count_nonzero(~known)):
        notes.append(f"{lost} missing points left out")
    if merged := int(known.sum()) - len(places):
        notes.append(f"{merged} repeated abscissae averaged")
    ordinate = _ordinate(said, values)
    if (
        ordinate is Ordinate.PERCENT_TRANSMITTANCE
        and "%" not in said
        and "PERCENT" not in said.upper()
    ):
        notes.append(f"the header says “{said}”, the values are percent")
    return Spectrum(title, places, values, ordinate, tuple(notes))


def _ordinate(said: str, y: Floats) -> Ordinate:
    word = said.upper().replace(" ", "").strip("()[].")
    if "ABSORB" in word or word.startswith(("ABS", "EXTINCT")) or word == "A":
        return Ordinate.ABSORBANCE
    if "TRANSM" in word or "%T" in word:
        percent = float(np.nanpercentile(y, 95)) > _PERCENT_FROM
        return Ordinate.PERCENT_TRANSMITTANCE if percent else Ordinate.TRANSMITTANCE
    return Ordinate.OTHER


def told_by_data(spectrum: Spectrum) -> Spectrum:
    """Return an infrared spectrum whose ordinate its data tell where the header is silent or wrong.

    In transmittance the curve lies high and its bands point down, in absorbance the other way
    round. A header that says absorbance is overruled by values that only percent can have; one
    that says transmittance of bands that point up is doubted in a note, and kept.
    """
    low, middle, high = (float(v) for v in np.percentile(spectrum.y, (0.5, 50, 99.5)))
    down = high - middle < middle - low
    percent = down and low > -_SLACK * 100 and _MOST_ABSORBANCE < high <= _MOST_PERCENT
    match spectrum.ordinate:
        case Ordinate.OTHER:
            fraction = down and low > -_SLACK and high <= _MOST_FRACTION
            told = Ordinate.TRANSMITTANCE if fraction else Ordinate.ABSORBANCE
            told = Ordinate.PERCENT_TRANSMITTANCE if percent else told
            return _told(spectrum, told, f"the header names no ordinate; by the data {told}")
        case Ordinate.ABSORBANCE if percent:
            told = Ordinate.PERCENT_TRANSMITTANCE
            return _told(spectrum, told, f"the header says absorbance, the data are {told}")
        case Ordinate.TRANSMITTANCE if not down and low < _SLACK < high - middle:
            doubt = "the header says transmittance, yet the bands point up as in absorbance"
            return _told(spectrum, spectrum.ordinate, doubt)
        case _:
            return spectrum


def _told(spectrum: Spectrum, ordinate: Ordinate, note: str) -> Spectrum:
    return replace(spectrum, ordinate=ordinate, notes=(*spectrum.notes, note))
