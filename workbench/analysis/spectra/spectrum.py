"""One spectrum as numbers, and the two ways its ordinate is told."""

from dataclasses import dataclass, replace
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


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
    word = said.upper()
    if "ABSORB" in word or word.strip() in {"A", "ABS"}:
        return Ordinate.ABSORBANCE
    if "TRANSM" in word or "%T" in word.replace(" ", ""):
        percent = float(np.nanpercentile(y, 95)) > 2
        return Ordinate.PERCENT_TRANSMITTANCE if percent else Ordinate.TRANSMITTANCE
    return Ordinate.OTHER
