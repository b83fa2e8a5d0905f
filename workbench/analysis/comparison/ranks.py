"""Two groups of numbers by their ranks: shift, dominance and exact p, ties and all."""

import math
from dataclasses import dataclass
from functools import cache

import numpy as np
from scipy.special import ndtri
from scipy.stats import rankdata
from scipy.stats import t as student

from workbench.analysis.comparison.permutation import Floats, Permuted, permuted

_MOST_EXACT = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class Shift:
    """How far one group lies above another: the middle of all differences, with its interval.

    Attributes:
        value: Hodges-Lehmann estimate, in the unit of the readings.
        low: Lower end; None where there are too few readings for one.
        high: Upper end; None where there are too few.
    """

    value: float
    low: float | None
    high: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Dominance:
    """How much oftener one of the first group exceeds one of the other than the reverse.

    Attributes:
        value: Cliff's delta, −1 to 1; 0 is no tendency.
        low: Lower end of its interval; None where a group has fewer than two readings.
        high: Upper end.
    """

    value: float
    low: float | None
    high: float | None


def rank_test(
    one: Floats, other: Floats, strata: list[object] | None = None, *, seed: int = 0
) -> Permuted | None:
    """Return p of the rank sum of `one`, permuted exactly with its ties; None with no contrast.

    References:
        Wilcoxon-Mann-Whitney with ties by permutation: Bergmann, Ludbrook and Spooren,
        Am. Statistician 54 (2000) 72.
    """
    both = np.concatenate([one, other])
    first = np.arange(both.size) < one.size
    return permuted(np.asarray(rankdata(both), np.float64), first, strata, seed=seed)


def shift(one: Floats, other: Floats, confidence: float = 0.95) -> Shift:
    """Return how far `one` lies above `other`, with the exact order-statistic interval.

    References:
        Hollander and Wolfe, Nonparametric Statistical Methods (1999), sections 4.2 and 4.3.
    """
    differences = np.sort((one[:, None] - other[None, :]).ravel())
    outside = _outside(one.size, other.size, confidence)
    if outside < 0:
        return Shift(value=float(np.median(differences)), low=None, high=None)
    return Shift(
        value=float(np.median(differences)),
        low=float(differences[outside]),
        high=float(differences[differences.size - 1 - outside]),
    )


def _outside(n: int, m: int, confidence: float) -> int:
    """Return how many differences lie outside the interval on each side; −1 where it has no end."""
    tail = (1 - confidence) / 2
    if max(n, m) > _MOST_EXACT:
        spread = math.sqrt(n * m * (n + m + 1) / 12)
        return max(-1, math.floor(n * m / 2 + float(ndtri(tail)) * spread) - 1)
    below = np.cumsum(_null_of_u(min(n, m), max(n, m)))
    return int(np.searchsorted(below, tail, side="right")) - 1


@cache
def _null_of_u(n: int, m: int) -> Floats:
    """Return the null distribution of U without ties, by the recursion of Mann and Whitney."""
    ways = np.zeros((n + 1, n * m + 1))
    ways[0, 0] = 1
    for largest in range(1, m + n + 1):
        for chosen in range(min(n, largest), 0, -1):
            step = largest - chosen
            if step <= n * m:
                ways[chosen, step:] += ways[chosen - 1, : n * m + 1 - step]
    return np.asarray(ways[n] / ways[n].sum(), np.float64)


def dominance(one: Floats, other: Floats, confidence: float = 0.95) -> Dominance:
    """Return Cliff's delta of `one` over `other` with its asymmetric interval.

    References:
        Cliff, Ordinal Methods for Behavioral Data Analysis (1996); Feng and Cliff, J. Mod. Appl.
        Stat. Methods 3 (2004) 322: unbiased variance, t with n + m − 2 degrees of freedom.
    """
    wins = np.sign(one[:, None] - other[None, :])
    n, m = wins.shape
    delta = float(wins.mean())
    if min(n, m) < 2:
        return Dominance(value=delta, low=None, high=None)
    rows, columns = wins.mean(axis=1) - delta, wins.mean(axis=0) - delta
    within = float(((wins - delta) ** 2).sum())
    spread = m**2 * float((rows**2).sum()) + n**2 * float((columns**2).sum()) - within
    variance = spread / (n * m * (n - 1) * (m - 1))
    variance = max(variance, (1 - delta**2) / (n * m - 1))
    t = float(student.ppf((1 + confidence) / 2, n + m - 2))
    if abs(delta) == 1:
        edge = (n - t**2) / (n + t**2)
        return Dominance(
            value=delta, low=edge if delta > 0 else -1.0, high=1.0 if delta > 0 else -edge
        )
    middle = delta - delta**3
    half = t * math.sqrt(variance) * math.sqrt((1 - delta**2) ** 2 + t**2 * variance)
    whole = 1 - delta**2 + t**2 * variance
    return Dominance(value=delta, low=(middle - half) / whole, high=(middle + half) / whole)
