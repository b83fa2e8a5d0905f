"""Where the straight parts of a thermogram may lie: a proposal for a person to set right."""

import numpy as np
from scipy.signal import savgol_filter

from workbench.analysis.thermal.glass_transition import Floats

Parts = tuple[tuple[float, float], tuple[float, float]]
_REACH_K, _CLEAR_K, _EDGE = 25.0, 3.0, 0.2


def propose_parts(celsius: Floats, flow: Floats) -> Parts:
    """Return the ranges of the straight parts before and after the strongest step, in degC.

    The step is where the slope, less its median, is greatest; it reaches to a fifth of that.

    Args:
        celsius: Temperature in degC, shape (n,), rising.
        flow: Heat flow, shape (n,).

    Raises:
        ValueError: There are fewer than 40 points, or too few on a side of the step.
    """
    n = len(celsius)
    if n < 40:
        raise ValueError("fewer than 40 points: set the straight parts by hand")
    window = max(9, n // 20) | 1
    slope = savgol_filter(flow, window, 2, deriv=1)
    over = np.abs(slope - np.median(slope))
    inner = slice(n // 10, n - n // 10)
    top = n // 10 + int(np.argmax(over[inner]))
    low = top - _run(over[top::-1] >= _EDGE * over[top])
    high = top + _run(over[top:] >= _EDGE * over[top])
    first, last = celsius[max(low, 0)] - _CLEAR_K, celsius[min(high, n - 1)] + _CLEAR_K
    before = (max(float(celsius[0]), float(first) - _REACH_K), float(first))
    after = (float(last), min(float(celsius[-1]), float(last) + _REACH_K))
    if before[1] - before[0] < _CLEAR_K or after[1] - after[0] < _CLEAR_K:
        raise ValueError("too little curve beside the step: set the straight parts by hand")
    return before, after


def _run(holds: np.ndarray[tuple[int], np.dtype[np.bool_]]) -> int:
    """Return how many places from the start hold without a break."""
    breaks = np.flatnonzero(~holds)
    return int(breaks[0]) if len(breaks) else len(holds) - 1
