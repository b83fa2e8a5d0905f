"""How alike two spectra are, and what is left when one is taken off the other."""

from dataclasses import dataclass

import numpy as np
from scipy.optimize import nnls

from workbench.analysis.spectra.spectrum import Floats, Ordinate, Spectrum

MASKED = ((2280.0, 2400.0),)
"""Regions left out by default, in 1/cm: carbon dioxide of the air."""
LEAST_OVERLAP = 0.5


@dataclass(frozen=True, slots=True)
class Match:
    """How a spectrum compares with a known one.

    Attributes:
        against: Title of the known spectrum.
        score: Mean-centred r2, 0 to 1: unchanged by scale and offset. A likeness, no identity.
        points: On how many common points.
        low: Lower end of the common range, in 1/cm.
        high: Upper end, in 1/cm.
    """

    against: str
    score: float
    points: int
    low: float
    high: float


def common(
    one: Spectrum, other: Spectrum, masked: tuple[tuple[float, float], ...] = MASKED
) -> tuple[Floats, Floats, Floats]:
    """Return a common abscissa and both absorbances on it, masked regions removed.

    Raises:
        ValueError: The common range is less than half of the shorter spectrum.
    """
    a, b = one.absorbance(), other.absorbance()
    low, high = max(a.x[0], b.x[0]), min(a.x[-1], b.x[-1])
    if high - low < LEAST_OVERLAP * min(np.ptp(a.x), np.ptp(b.x)):
        raise ValueError("the two spectra have too little of their range in common")
    step = max(np.median(np.diff(a.x)), np.median(np.diff(b.x)))
    x = np.arange(low, high + step / 2, step)
    x = x[x <= high]
    keep = np.ones(len(x), dtype=bool)
    for left, right in masked:
        keep &= (x < left) | (x > right)
    x = x[keep]
    return x, np.interp(x, a.x, a.y), np.interp(x, b.x, b.y)


def likeness(a: Floats, b: Floats) -> float:
    """Return the mean-centred r2 of two ordinates, shapes (n,); 0 where one of them is flat."""
    a, b = a - a.mean(), b - b.mean()
    power = float((a @ a) * (b @ b))
    return float((a @ b) ** 2 / power) if power > 0 else 0.0


def match(
    one: Spectrum,
    known: Spectrum,
    *,
    masked: tuple[tuple[float, float], ...] = MASKED,
    slopes: bool = False,
) -> Match:
    """Return how alike `one` is to `known`.

    Args:
        one: The spectrum in question.
        known: A control or reference of the case.
        masked: Regions left out before centring, in 1/cm.
        slopes: Compare first differences instead of ordinates; a sloping baseline then counts
            for less.

    Raises:
        ValueError: The two have too little of their range in common.
    """
    x, a, b = common(one, known, masked)
    if slopes:
        a, b = np.diff(a), np.diff(b)
    return Match(known.title, likeness(a, b), len(a), float(x[0]), float(x[-1]))


def difference(
    one: Spectrum, known: Spectrum, *, masked: tuple[tuple[float, float], ...] = MASKED
) -> tuple[Spectrum, float]:
    """Return `one` less the scaled `known`, and the scale that leaves the least.

    The scale is that of the least squares fit of `known` and a straight line to `one`.

    Raises:
        ValueError: The two have too little of their range in common.
    """
    x, a, b = common(one, known, masked)
    line = (x - x.mean()) / max(float(np.ptp(x)), 1e-12)
    fit = np.linalg.lstsq(np.column_stack([b, np.ones_like(x), line]), a, rcond=None)[0]
    rest = a - float(fit[0]) * b
    title = f"{one.title} less {fit[0]:.3g} × {known.title}"
    return Spectrum(title, x, rest, Ordinate.ABSORBANCE), float(fit[0])


@dataclass(frozen=True, slots=True)
class Mixture:
    """Shares of known spectra that together make up a spectrum best.

    Attributes:
        shares: One scale for each known spectrum, none negative.
        residual: Root mean square of what is left, in absorbance.
        alone: The same with the first known spectrum alone: what the others explain.
    """

    shares: tuple[float, ...]
    residual: float
    alone: float


def mixture(
    one: Spectrum, known: tuple[Spectrum, ...], *, low: float = 700, high: float = 1850
) -> Mixture:
    """Return the non-negative shares of `known` in `one` over `low` to `high` 1/cm.

    An offset of either sign goes with them.

    Raises:
        ValueError: There is no known spectrum, or one does not reach over the range.
    """
    if not known:
        raise ValueError("`known` holds no spectrum")
    a = one.absorbance()
    x = a.between(low, high).x
    if any(k.x[0] > low or k.x[-1] < high for k in known) or len(x) < 10:
        raise ValueError("a spectrum does not reach over the range")
    y = np.interp(x, a.x, a.y)
    columns = [np.interp(x, (k := s.absorbance()).x, k.y) for s in known]
    offset = [np.ones_like(x), -np.ones_like(x)]
    shares, rest = nnls(np.column_stack([*columns, *offset]), y)
    _, alone = nnls(np.column_stack([columns[0], *offset]), y)
    scale = np.sqrt(len(x))
    return Mixture(
        tuple(float(s) for s in shares[: len(known)]), float(rest / scale), float(alone / scale)
    )
