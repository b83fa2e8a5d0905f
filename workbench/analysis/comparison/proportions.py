"""Shares: exact intervals, tables, and shares of a known number of pieces."""

import math
from bisect import bisect_left
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtri
from scipy.stats import binomtest, fisher_exact, hypergeom

Table = NDArray[np.int_]
"""Tables 2 by 2: one per stratum, rows the groups, columns failing and not."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Proportion:
    """A share with its interval.

    Attributes:
        count: How many were found.
        of: Of how many looked at.
        low: Lower end of the share.
        high: Upper end of the share.
        confidence: Of the interval.
        way: How the interval was come by, in words.
    """

    count: int
    of: int
    low: float
    high: float
    confidence: float
    way: str

    @property
    def share(self) -> float:
        """The share found."""
        return self.count / self.of


def exact_share(count: int, of: int, confidence: float = 0.95) -> Proportion:
    """Return the share with its Clopper-Pearson interval.

    Raises:
        ValueError: The count is not between 0 and `of`, or `of` is 0.
    """
    found = binomtest(count, of).proportion_ci(confidence, method="exact")
    return Proportion(
        count=count,
        of=of,
        low=float(found.low),
        high=float(found.high),
        confidence=confidence,
        way="Clopper-Pearson",
    )


def exact_share_of_pieces(count: int, of: int, pieces: int, confidence: float = 0.95) -> Proportion:
    """Return the share of all `pieces` where `of` of them were looked at, drawn at random.

    The interval holds every number of failing pieces that a one-sided test at half the risk on
    each side would not exclude; with all looked at it is a point.

    References:
        Inversion of the hypergeometric test: Konijn (1973), Buonaccorsi (1987), from memory.

    Raises:
        ValueError: More were found than looked at, or more looked at than there are.
    """
    if not 0 <= count <= of <= pieces or of == 0:
        raise ValueError(f"{count} found of {of} looked at of {pieces} pieces cannot be")
    failing = np.arange(count, pieces - (of - count) + 1)
    tail = (1 - confidence) / 2
    at_most = hypergeom.cdf(count, pieces, failing, of)
    at_least = hypergeom.sf(count - 1, pieces, failing, of)
    kept = failing[(at_most > tail) & (at_least > tail)]
    return Proportion(
        count=count,
        of=of,
        low=float(kept[0]) / pieces,
        high=float(kept[-1]) / pieces,
        confidence=confidence,
        way="hypergeometric",
    )


def pieces_to_find_one(pieces: int, failing: int, confidence: float = 0.95) -> int:
    """Return how many of `pieces` to look at to find one if at least `failing` of them fail.

    References:
        Cannon and Roe, Livestock Disease Surveys (1982), table 1 (from memory).
    """

    def seen(looked_at: int) -> float:
        return 1 - float(hypergeom.pmf(0, pieces, failing, looked_at))

    return 1 + bisect_left(range(1, pieces), confidence, key=seen)


@dataclass(frozen=True, slots=True, kw_only=True)
class Association:
    """How two groups differ in a share, over one or several strata.

    Attributes:
        odds_ratio: Common odds ratio over the strata (Mantel-Haenszel); None where undefined.
        low: Lower end of its interval; None where a cell that it needs is empty.
        high: Upper end of its interval.
        p: Exact two-sided p, conditional on the margins of every stratum.
    """

    odds_ratio: float | None
    low: float | None
    high: float | None
    p: float


def association(strata: Table, confidence: float = 0.95) -> Association | None:
    """Return how the groups differ in tables of shape (strata, 2, 2); None with no information.

    Strata with an empty margin carry no information and are passed over.

    References:
        Mantel and Haenszel (1959); interval of Robins, Breslow and Greenland (1986); exact test by
        convolving hypergeometrics: Agresti, Categorical Data Analysis (1990).
    """
    tables = [t for t in strata if t.sum(axis=0).all() and t.sum(axis=1).all()]
    if not tables:
        return None
    observed = sum(int(table[0, 0]) for table in tables)
    weight, start = np.ones(1), 0
    for table in tables:
        total, column, row = int(table.sum()), int(table[:, 0].sum()), int(table[0].sum())
        lowest = max(0, row + column - total)
        support = np.arange(lowest, min(row, column) + 1)
        weight = np.convolve(weight, hypergeom.pmf(support, total, column, row))
        start += lowest
    at = observed - start
    likely = weight <= weight[at] * (1 + 1e-7)
    odds_ratio, low, high = _mantel_haenszel(np.asarray(tables, float), confidence)
    return Association(
        odds_ratio=odds_ratio,
        low=low,
        high=high,
        p=min(1.0, float(weight[likely].sum())),
    )


def _mantel_haenszel(
    tables: NDArray[np.float64], confidence: float
) -> tuple[float | None, float | None, float | None]:
    whole = tables.sum(axis=(1, 2))
    up, down = tables[:, 0, 0] * tables[:, 1, 1] / whole, tables[:, 0, 1] * tables[:, 1, 0] / whole
    if down.sum() == 0:
        return None, None, None
    ratio = float(up.sum() / down.sum())
    if ratio == 0:
        return ratio, None, None
    agree = (tables[:, 0, 0] + tables[:, 1, 1]) / whole
    variance = (agree * up).sum() / (2 * up.sum() ** 2)
    variance += (agree * down + (1 - agree) * up).sum() / (2 * up.sum() * down.sum())
    variance += ((1 - agree) * down).sum() / (2 * down.sum() ** 2)
    factor = math.exp(float(ndtri((1 + confidence) / 2)) * math.sqrt(float(variance)))
    return ratio, ratio / factor, ratio * factor


def several_groups(table: Table, *, seed: int = 0) -> float | None:
    """Return exact p for failing counts in several groups; None where a margin is empty.

    Args:
        table: Shape (groups, 2): failing and not, per group.
        seed: Of drawn tables, where there are too many to count.

    References:
        Freeman and Halton, Biometrika 38 (1951) 141.
    """
    used = table[table.sum(axis=1) > 0]
    if used.shape[0] < 2 or not used.sum(axis=0).all():
        return None
    if used.shape[0] == 2:
        return float(fisher_exact(used).pvalue)
    return _freeman_halton(used, seed)


_MOST_TABLES = 200_000
_DRAWS = 9_999


def _freeman_halton(table: Table, seed: int) -> float:
    sizes = table.sum(axis=1)
    failing = int(table[:, 0].sum())
    if math.prod(int(size) + 1 for size in sizes) <= _MOST_TABLES:
        found = np.stack(
            np.meshgrid(*(np.arange(size + 1) for size in sizes), indexing="ij"), -1
        ).reshape(-1, sizes.size)
        found = found[found.sum(axis=1) == failing]
        likely = _log_weights(found, sizes)
        weight = np.exp(likely - likely.max())
        of_table = _log_weights(table[None, :, 0], sizes)[0]
        return float(weight[likely <= of_table + 1e-7].sum() / weight.sum())
    rng = np.random.default_rng(seed)
    drawn = rng.multivariate_hypergeometric(sizes, failing, _DRAWS)
    at_most = _log_weights(drawn, sizes) <= _log_weights(table[None, :, 0], sizes)[0] + 1e-7
    return (int(at_most.sum()) + 1) / (_DRAWS + 1)


def _log_weights(failing: Table, sizes: Table) -> NDArray[np.float64]:
    logs = np.concatenate([[0.0], np.cumsum(np.log(np.arange(1, int(sizes.max()) + 1)))])
    ways = logs[sizes][None, :] - logs[failing] - logs[sizes[None, :] - failing]
    return np.asarray(ways.sum(axis=1), np.float64)
