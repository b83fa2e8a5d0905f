"""What can be said of a plane in which nothing broke, or from which everything came away.

There is no estimate then, and no limit on the other side.
"""

import math

import numpy as np

from workbench.analysis.strength.evidence import Floats
from workbench.analysis.strength.results import LowerBound

_SHAPES = np.linspace(2.0, 8.0, 241)
"""Weibull shapes between a coefficient of variation of 52 % and of 15 %."""


def lower_bound(held_mpa: Floats, confidence: float) -> LowerBound:
    """Return what pulls say of a plane that held in all of them.

    Args:
        held_mpa: Their stresses, at least one.
        confidence: Of the bounds, as 0.95.
    """
    readings = np.sort(held_mpa)[::-1]
    rank = math.ceil(math.log2(1 / (1 - confidence)))
    return LowerBound(
        lowest_mpa=float(readings[-1]),
        share_above_lowest=(1 - confidence) ** (1 / readings.size),
        sign_mpa=float(readings[rank - 1]) if readings.size >= rank else None,
        sign_confidence=1 - 0.5**readings.size,
        envelope_mpa=envelope(readings, confidence),
    )


def envelope(held_mpa: Floats, confidence: float) -> float:
    """Return the lower bound of the median for any Weibull law of shape 2 to 8.

    It is never above the highest reading. With all n readings held, sum(x^b) / -ln(1 - C) is a
    lower limit at confidence C of the b-th power of the Weibull scale (zero-failure Weibayes).
    """
    top = held_mpa.max()
    sums = np.sum((held_mpa[:, None] / top) ** _SHAPES, axis=0)
    medians = top * (math.log(2) * sums / -math.log(1 - confidence)) ** (1 / _SHAPES)
    return float(min(top, medians.min()))


def upper_bound(came_away_mpa: Floats, confidence: float) -> float | None:
    """Return the upper bound of the median where all came away before load, or None.

    The mirror image of the k-th highest reading: if the median were above the k-th lowest bound,
    k pulls would all have been weaker than half of the spots. None with fewer than k.
    """
    rank = math.ceil(math.log2(1 / (1 - confidence)))
    return float(np.sort(came_away_mpa)[rank - 1]) if came_away_mpa.size >= rank else None


def pulls_needed_to_show(share: float, confidence: float) -> int:
    """Return how many pulls without a break here show that `share` of spots is stronger.

    Success run: 0.9 at 95 % needs 29, 0.95 at 95 % needs 59 (common practice).
    """
    return math.ceil(round(math.log(1 - confidence) / math.log(share), 9))
