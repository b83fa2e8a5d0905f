"""Small tests of chance, exact because the counts are small."""

from collections.abc import Sequence
from itertools import combinations
from math import comb
from statistics import NormalDist

_MOST_ORDERS = 20000


def fisher_p(hit_in: int, n_in: int, hit_out: int, n_out: int) -> float:
    """Return the chance of so many hits or more in the first group (Fisher, one-sided).

    Example: 3 of 3 against 0 of 3 is 1/20 = 0.05.
    """
    hits, whole = hit_in + hit_out, n_in + n_out
    ways = (comb(n_in, k) * comb(n_out, hits - k) for k in range(hit_in, min(hits, n_in) + 1))
    return sum(ways) / comb(whole, hits)


def rank_p(high: Sequence[float], low: Sequence[float]) -> float:
    """Return the chance of the first sample ranking so far above the second (exact, one-sided).

    The Wilcoxon rank-sum test with midranks, by counting all splits; a few dozen readings at
    most. Where the splits are too many to count, the normal approximation is used.
    """
    both = [*high, *low]
    order = sorted(both)
    rank = {value: _midrank(order, value) for value in set(both)}
    seen = sum(rank[value] for value in high)
    if comb(len(both), len(high)) > _MOST_ORDERS:
        return _normal_p(seen, len(high), len(low))
    ranks = [rank[value] for value in both]
    sums = [sum(some) for some in combinations(ranks, len(high))]
    return sum(one >= seen - 1e-9 for one in sums) / len(sums)


def _midrank(order: Sequence[float], value: float) -> float:
    first = order.index(value)
    return first + (order.count(value) + 1) / 2


def _normal_p(rank_sum: float, n: int, m: int) -> float:
    mean, sd = n * (n + m + 1) / 2, (n * m * (n + m + 1) / 12) ** 0.5
    return 1 - NormalDist().cdf((rank_sum - mean - 0.5) / sd)
