"""Baseline and smoothing."""

import numpy as np
from scipy.linalg import solveh_banded
from scipy.signal import savgol_filter

from workbench.analysis.spectra.spectrum import Floats


def asymmetric_least_squares(
    y: Floats, *, stiffness: float = 1e6, asymmetry: float = 0.01, tolerance: float = 1e-3
) -> Floats:
    """Return the baseline z that minimises sum w (y - z)^2 + stiffness * sum (second difference)^2.

    The weights are `asymmetry` above the baseline and 1 - `asymmetry` below it, so that bands pull
    little.

    Args:
        y: Ordinates at even steps, shape (n,), n at least 3.
        stiffness: Penalty on bending; 1e5 to 1e7 suits infrared spectra.
        asymmetry: Weight of a point above the baseline, between 0 and 1.
        tolerance: Stop when the weights change by less than this fraction.

    Raises:
        ValueError: `y` is too short, or a parameter is out of its range.

    References:
        P. H. C. Eilers, "A perfect smoother", Analytical Chemistry 75 (2003) 3631-3636.
    """
    if len(y) < 3:
        raise ValueError("a baseline needs at least 3 points")
    if not (0 < asymmetry < 1 and stiffness > 0):
        raise ValueError("`asymmetry` lies between 0 and 1, `stiffness` above 0")
    penalty = stiffness * _squared_second_differences(len(y))
    weights = np.ones(len(y))
    baseline = y
    for _ in range(51):
        bands = penalty.copy()
        bands[-1] += weights
        baseline = solveh_banded(bands, weights * y)
        renewed = np.where(y > baseline, asymmetry, 1 - asymmetry)
        if np.linalg.norm(renewed - weights) < tolerance * np.linalg.norm(weights):
            break
        weights = renewed
    return np.asarray(baseline, dtype=np.float64)


def _squared_second_differences(n: int) -> Floats:
    """Return D'D of the second difference in upper banded form, shape (3, n)."""
    bands = np.zeros((3, n))
    if n == 3:
        bands[0, 2:] = 1
        bands[1, 1:] = -2
        bands[2] = [1, 4, 1]
        return bands
    bands[0, 2:] = 1
    bands[1, 1:] = -4
    bands[1, [1, -1]] = -2
    bands[2] = 6
    bands[2, [0, -1]] = 1
    bands[2, [1, -2]] = 5
    return bands


def smooth(y: Floats, *, window: int = 9, order: int = 3) -> Floats:
    """Return `y` smoothed by fitting a polynomial of `order` in each window of `window` points.

    Any polynomial up to `order` passes unchanged.

    Raises:
        ValueError: The window is no odd number above `order`, or longer than `y`.

    References:
        A. Savitzky and M. J. E. Golay, Analytical Chemistry 36 (1964) 1627-1639.
    """
    if window % 2 == 0 or window <= order or window > len(y):
        raise ValueError("`window` is an odd number above `order` and no longer than the spectrum")
    return np.asarray(savgol_filter(y, window, order), dtype=np.float64)
