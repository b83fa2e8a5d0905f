"""The log-rank test for readings of which many are only bounds, exact where few broke."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import chdtrc

from workbench.analysis.comparison.permutation import Flags, Floats, Permuted

_UNIT = 0.001
"""Smallest part of a face that the exact test tells apart."""
_MOST_STEPS = 200_000


@dataclass(frozen=True, slots=True, kw_only=True)
class LogRank:
    """The log-rank test of a first group against the rest.

    Attributes:
        observed: Weight that broke in the first group.
        expected: What it would be if both groups were equally strong.
        variance: Hypergeometric variance of the difference, shares drawn as they are.
        chi_square: (observed − expected)² over variance.
        p: Two-sided, one degree of freedom.
    """

    observed: float
    expected: float
    variance: float
    chi_square: float
    p: float


def _steps(x: Floats, broke: Floats, weight: Floats) -> tuple[Floats, Floats, Floats, Floats]:
    """Return distinct break stresses; at each the weight at risk, that broke, and its squares."""
    at, where = np.unique(x, return_inverse=True)
    deaths = np.bincount(where, broke, at.size).astype(np.float64)
    whole = np.bincount(where, weight, at.size).astype(np.float64)
    squares = np.bincount(where, broke**2, at.size).astype(np.float64)
    risk = np.cumsum(whole[::-1])[::-1].astype(np.float64)
    some = deaths > 0
    return at[some], risk[some], deaths[some], squares[some]


def _split(strata: Sequence[object] | None, size: int) -> list[Flags]:
    if strata is None:
        return [np.ones(size, bool)]
    return [np.array([one == name for one in strata], bool) for name in dict.fromkeys(strata)]


def log_rank(
    x: Floats, broke: Floats, weight: Floats, first: Flags, strata: Sequence[object] | None = None
) -> LogRank | None:
    """Return the log-rank test, stratified where strata are given; None where nothing broke.

    Args:
        x: Stresses.
        broke: Weight of each reading that broke at its stress, 0 to its weight.
        weight: Whole weight of each reading.
        first: Which readings belong to the first group.
        strata: The stratum of each reading.

    References:
        Mantel, Cancer Chemother. Rep. 50 (1966) 163; Peto and Peto, J. R. Stat. Soc. A 135 (1972).
    """
    observed = expected = variance = 0.0
    for here in _split(strata, x.size):
        at, risk, deaths, squares = _steps(x[here], broke[here], weight[here])
        mine = here & first
        risk_first = np.array([weight[mine & (x >= stress)].sum() for stress in at])
        share = risk_first / risk
        observed += float(broke[mine].sum())
        expected += float((deaths * share).sum())
        several = risk > 1 + 1e-12
        drawn = (squares - deaths**2 / risk) * risk / np.where(several, risk - 1, 1.0)
        variance += float(np.maximum(share * (1 - share) * drawn, 0)[several].sum())
    if variance <= 0:
        return None
    chi_square = (observed - expected) ** 2 / variance
    return LogRank(
        observed=observed,
        expected=expected,
        variance=variance,
        chi_square=chi_square,
        p=float(chdtrc(1, chi_square)),
    )


def log_rank_exact(
    x: Floats, broke: Floats, weight: Floats, first: Flags, strata: Sequence[object] | None = None
) -> Permuted | None:
    """Return exact p of the log-rank difference, or None where nothing broke beside both groups.

    At each stress it is asked how often chance alone, among the readings still holding there,
    picks those of the first group. Exchanging whole readings would be wrong here: where another
    plane is weaker in one group, its readings stop being able to tell at a lower stress, and that
    alone would look like a difference.

    Arguments as for `log_rank`.

    References:
        Exact log-rank by convolving hypergeometrics: Thomas, J. Chron. Dis. 28 (1975) 469.
    """
    units = np.rint(broke / _UNIT).astype(int)
    units //= max(int(np.gcd.reduce(units)), 1)
    if float((broke > 0).sum()) * float(units.sum()) > _MOST_STEPS:
        found = log_rank(x, broke, weight, first, strata)
        return Permuted(found.p, "log-rank") if found else None
    ways, mean, informative = np.ones(1), 0.0, False
    for here in _split(strata, x.size):
        for stress in np.unique(x[here & (units > 0)]):
            risk = here & (x >= stress)
            parts = units[risk & (x == stress)]
            parts = parts[parts > 0]
            mine = int((risk & first).sum())
            ways = _added(ways, _picked(parts, mine, int(risk.sum())))
            mean += float(parts.sum()) * mine / int(risk.sum())
            informative |= 0 < mine < int(risk.sum())
    if not informative:
        return None
    sums = np.arange(ways.size)
    observed = int(units[first].sum())
    far = np.abs(sums - mean) >= abs(observed - mean) - 1e-6
    return Permuted(min(1.0, float(ways[far].sum())), "exact log-rank")


def _added(ways: Floats, more: Floats) -> Floats:
    """Return the distribution of the sum of two independent amounts, the second of few values."""
    found = np.zeros(ways.size + more.size - 1)
    for amount in np.flatnonzero(more):
        found[amount : amount + ways.size] += more[amount] * ways
    return found


def _picked(parts: NDArray[np.int_], mine: int, risk: int) -> Floats:
    """Return the distribution of what falls to the first group when `parts` break at one stress.

    Args:
        parts: What each breaking reading weighs, in whole units.
        mine: How many readings at risk belong to the first group.
        risk: How many are at risk.
    """
    ways = np.zeros((parts.size + 1, int(parts.sum()) + 1))
    ways[0, 0] = 1.0
    for done, part in enumerate(parts):
        drawn = np.arange(done + 1)
        chance = np.clip((mine - drawn) / (risk - done), 0, 1)[:, None]
        before = ways[: done + 1].copy()
        ways[: done + 1] = before * (1 - chance)
        ways[1 : done + 2, part:] += (before * chance)[:, : before.shape[1] - part]
    return np.asarray(ways.sum(axis=0), np.float64)


def log_rank_parts(
    x: Floats, broke: Floats, weight: Floats, first: Flags, strata: Sequence[object] | None = None
) -> Floats:
    """Return what each reading adds to observed − expected, each of mean zero by chance alone.

    Arguments as for `log_rank`.

    References:
        Lin and Wei, J. Am. Stat. Assoc. 84 (1989) 1074.
    """
    parts = np.zeros(x.size)
    for here in _split(strata, x.size):
        at, risk, deaths, _ = _steps(x[here], broke[here], weight[here])
        if not at.size:
            continue
        share = np.array([weight[here & first & (x >= stress)].sum() for stress in at]) / risk
        own = first[here].astype(float)
        passed = np.searchsorted(at, x[here], side="right")
        hazard = np.concatenate([[0.0], np.cumsum(deaths / risk)])[passed]
        shared = np.concatenate([[0.0], np.cumsum(share * deaths / risk)])[passed]
        of_break = own - share[np.minimum(np.searchsorted(at, x[here]), at.size - 1)]
        parts[here] = broke[here] * of_break - weight[here] * (own * hazard - shared)
    return parts
