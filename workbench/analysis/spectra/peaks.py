"""Bands of a spectrum: where they stand by two definitions, how high, and in which ratio."""

from dataclasses import dataclass

import numpy as np
from scipy.signal import find_peaks

from workbench.analysis.spectra.spectrum import Floats, Spectrum


@dataclass(frozen=True, slots=True)
class Peak:
    """One band.

    Attributes:
        position: Top of the parabola through the highest point and its neighbours, in 1/cm.
        centre: Centre of gravity of the part above half way from the higher valley, in 1/cm. The
            two differ by up to about 0.7 1/cm on real bands: say which one was used.
        height: Ordinate at the highest point.
        prominence: Height above the higher of the two valleys beside it.
    """

    position: float
    centre: float
    height: float
    prominence: float


def pick(spectrum: Spectrum, *, prominence: float = 0.02) -> tuple[Peak, ...]:
    """Return the bands that stand out by `prominence` times the span of the ordinate.

    Args:
        spectrum: In absorbance, abscissa rising at nearly even steps.
        prominence: Least height above the higher valley, as a fraction of the span.

    Raises:
        ValueError: The spectrum has fewer than 3 points.
    """
    x, y = spectrum.x, spectrum.y
    if len(x) < 3:
        raise ValueError("a spectrum with fewer than 3 points has no bands")
    span = float(np.ptp(y))
    if span == 0:
        return ()
    tops, found = find_peaks(y, prominence=prominence * span)
    return tuple(
        Peak(
            position=parabola_top(x[top - 1 : top + 2], y[top - 1 : top + 2]),
            centre=_centre_of_gravity(x, y, int(top)),
            height=float(y[top]),
            prominence=float(rise),
        )
        for top, rise in zip(tops, found["prominences"], strict=True)
    )


def parabola_top(x: Floats, y: Floats) -> float:
    """Return the abscissa of the extreme of the parabola through three points, shapes (3,)."""
    left, right = x[1] - x[0], x[2] - x[1]
    fall, rise = (y[1] - y[0]) / left, (y[2] - y[1]) / right
    bend = (rise - fall) / (left + right)
    if bend == 0:
        return float(x[1])
    return float((x[0] + x[1]) / 2 - fall / (2 * bend))


def _centre_of_gravity(x: Floats, y: Floats, top: int) -> float:
    """Return the centre of the part above half way from the higher valley beside it to the top."""
    low, high = top - _descent(y[top::-1]), top + _descent(y[top:])
    level = (y[top] + max(y[low], y[high])) / 2
    part = slice(low, high + 1)
    weight = np.clip(y[part] - level, 0, None)
    return float(np.sum(x[part] * weight) / np.sum(weight))


def _descent(y: Floats) -> int:
    """Return how many steps `y` falls from its start before it rises."""
    rises = np.flatnonzero(np.diff(y) > 0)
    return int(rises[0]) if len(rises) else len(y) - 1


@dataclass(frozen=True, slots=True)
class Band:
    """A band to measure over a straight line between two feet.

    Attributes:
        position: Where the band stands, in 1/cm.
        feet: The two abscissae that the tangent baseline joins, in 1/cm.
    """

    position: float
    feet: tuple[float, float]


@dataclass(frozen=True, slots=True)
class BandSize:
    """Height and area of a band over its tangent baseline."""

    position: float
    height: float
    area: float


def measure(spectrum: Spectrum, band: Band, *, reach: float = 8.0) -> BandSize:
    """Return the size of `band` in `spectrum` (absorbance) over its tangent baseline.

    Args:
        spectrum: In absorbance.
        band: What to measure.
        reach: How far from its nominal position the top is looked for, in 1/cm.

    Raises:
        ValueError: The feet do not lie on both sides of the band within the spectrum.
    """
    low, high = sorted(band.feet)
    if not (spectrum.x[0] <= low < band.position < high <= spectrum.x[-1]):
        raise ValueError("the feet lie on both sides of the band, within the spectrum")
    x = np.union1d(spectrum.between(low, high).x, np.array([low, high]))
    y = np.interp(x, spectrum.x, spectrum.y)
    over = y - np.interp(x, [low, high], [y[0], y[-1]])
    near = np.abs(x - band.position) <= reach
    if not near.any():
        raise ValueError("the spectrum has no point near the band")
    top = int(np.flatnonzero(near)[np.argmax(over[near])])
    inner = 0 < top < len(x) - 1
    place = parabola_top(x[top - 1 : top + 2], over[top - 1 : top + 2]) if inner else float(x[top])
    return BandSize(place, float(over[top]), float(np.trapezoid(over, x)))


def ratio(spectrum: Spectrum, band: Band, reference: Band, *, by: str = "height") -> float:
    """Return the ratio of two bands of one spectrum, each over its own tangent baseline.

    Args:
        spectrum: In absorbance.
        band: The band that changes, such as the epoxide band at 915 1/cm.
        reference: The band that does not, such as the aromatic band at 1508 1/cm.
        by: "height" or "area".

    Raises:
        ValueError: A band lies outside the spectrum, or the reference band has no size.
    """
    size, against = measure(spectrum, band), measure(spectrum, reference)
    over, under = (size.area, against.area) if by == "area" else (size.height, against.height)
    if under <= 0:
        raise ValueError("the reference band does not stand above its baseline")
    return over / under
