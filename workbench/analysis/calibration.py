"""A straight calibration line and what it says of an unknown, with its prediction interval."""

from dataclasses import dataclass
from math import sqrt

import numpy as np
from scipy.stats import t as student


@dataclass(frozen=True, slots=True)
class Calibration:
    """A least-squares line y = at_0 + slope x through standards.

    Attributes:
        slope: Change of the signal for one unit of x.
        at_0: Signal at x = 0.
        residual: Standard deviation of the signals about the line (n - 2 degrees of freedom).
        n: Number of standards.
        mean_x: Mean of the standards.
        spread_x: Sum of squares of the standards about their mean.
        least: Smallest standard.
        greatest: Largest standard.
        r2: Share of the signals' variance that the line explains.
    """

    slope: float
    at_0: float
    residual: float
    n: int
    mean_x: float
    spread_x: float
    least: float
    greatest: float
    r2: float


@dataclass(frozen=True, slots=True)
class Read:
    """What the line says of an unknown.

    Attributes:
        value: The unknown on the standards' scale.
        low: Lower end of the prediction interval.
        high: Upper end.
        confidence: Of the interval, as 0.95.
        outside: Whether the value lies outside the standards, where the line is not known.
    """

    value: float
    low: float
    high: float
    confidence: float
    outside: bool


def calibrate(x: tuple[float, ...], signal: tuple[float, ...]) -> Calibration:
    """Return the line through the standards.

    Raises:
        ValueError: There are fewer than 3 standards, or all have one value, or the line is level.
    """
    if len(x) != len(signal) or len(x) < 3 or len(set(x)) < 2:
        raise ValueError("a calibration needs at least 3 standards of different value")
    xs, ys = np.asarray(x, dtype=np.float64), np.asarray(signal, dtype=np.float64)
    spread = float(np.sum((xs - xs.mean()) ** 2))
    slope = float(np.sum((xs - xs.mean()) * (ys - ys.mean())) / spread)
    if slope == 0:
        raise ValueError("the signal does not change with the standards")
    at_0 = float(ys.mean() - slope * xs.mean())
    left = float(np.sum((ys - at_0 - slope * xs) ** 2))
    whole = float(np.sum((ys - ys.mean()) ** 2))
    return Calibration(
        slope, at_0, sqrt(left / (len(x) - 2)), len(x), float(xs.mean()), spread,
        float(xs.min()), float(xs.max()), 1 - left / whole,
    )  # fmt: skip


def read_off(line: Calibration, signals: tuple[float, ...], *, confidence: float = 0.95) -> Read:
    """Return the unknown whose repeated `signals` were read, with its prediction interval.

    The standard error is s / |slope| * sqrt(1/m + 1/n + (y0 - mean y)^2 / (slope^2 Sxx)), the
    usual approximation for a line of good fit.

    Args:
        line: The calibration.
        signals: m readings of the unknown.
        confidence: Of the interval.

    Raises:
        ValueError: There is no reading.

    References:
        J. N. Miller and J. C. Miller, Statistics and Chemometrics for Analytical Chemistry,
        section on the errors of a concentration from a regression line (from memory).
    """
    if not signals:
        raise ValueError("an unknown needs at least one reading")
    mean = sum(signals) / len(signals)
    value = (mean - line.at_0) / line.slope
    off = (value - line.mean_x) ** 2 / line.spread_x
    error = line.residual / abs(line.slope) * sqrt(1 / len(signals) + 1 / line.n + off)
    reach = float(student.ppf((1 + confidence) / 2, line.n - 2)) * error
    outside = not line.least <= value <= line.greatest
    return Read(value, value - reach, value + reach, confidence, outside)
