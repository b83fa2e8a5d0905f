"""Exact and drawn permutations of a sum of scores, within strata, and correction for many looks."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]

_MOST_COUNTED = 200_000
_MOST_STEPS = 20_000_000
_MOST_DRAWN_SIZE = 400
_DRAWS = 9_999


@dataclass(frozen=True, slots=True)
class Permuted:
    """How often chance alone gives a sum of scores as far from the middle.

    Attributes:
        p: Two-sided: at least as far from the mean of all permutations, either way.
        way: How it was come by: "exact permutation", "9999 drawn permutations", …
    """

    p: float
    way: str


@dataclass(frozen=True, slots=True)
class _Stratum:
    """The scores of one stratum and how many of them belong to the first group."""

    scores: Floats
    chosen: int

    @property
    def ways(self) -> int:
        """How many permutations there are."""
        return math.comb(self.scores.size, self.chosen)

    @property
    def informative(self) -> bool:
        """Whether permuting can change anything."""
        return 0 < self.chosen < self.scores.size


def permuted(
    scores: Floats, first: Flags, strata: Sequence[object] | None = None, *, seed: int = 0
) -> Permuted | None:
    """Return how chance alone would spread the sum of the first group's scores, or None.

    The groups are exchanged only within a stratum. None: no stratum holds both groups.

    Args:
        scores: One score per reading.
        first: Which readings belong to the first group.
        strata: The stratum of each reading; all in one where not given.
        seed: Of drawn permutations.

    References:
        Permutation of scores: Fisher; Mehta and Patel's exact tests. Ties need no correction.
    """
    inside = list(_strata(scores, first, strata))
    parts = [part for part in inside if part.informative]
    if not parts:
        return None
    observed = float(scores[first].sum()) - sum(
        float(part.scores.sum()) for part in inside if part.chosen == part.scores.size
    )
    mean = sum(part.chosen * float(part.scores.mean()) for part in parts)
    if math.prod(min(part.ways, _MOST_COUNTED + 1) for part in parts) <= _MOST_COUNTED:
        return _counted(_sums_of_all(parts), observed, mean)
    if (whole := _whole_numbers(parts)) is not None:
        return _from_distribution(whole, observed, mean)
    if sum(part.scores.size for part in parts) <= _MOST_DRAWN_SIZE:
        return _drawn(_sums_of_draws(parts, seed), observed, mean)
    return _normal(parts, observed, mean)


def _strata(scores: Floats, first: Flags, strata: Sequence[object] | None) -> Iterable[_Stratum]:
    names = strata if strata is not None else [None] * scores.size
    for name in dict.fromkeys(names):
        here = np.array([one == name for one in names], bool)
        yield _Stratum(scores[here], int(first[here].sum()))


def _tolerance(values: Floats) -> float:
    return 1e-9 * max(1.0, float(np.abs(values).max()))


def _counted(sums: Floats, observed: float, mean: float) -> Permuted:
    slack = _tolerance(sums)
    far = np.abs(sums - mean) >= abs(observed - mean) - slack
    return Permuted(float(far.mean()), "exact permutation")


def _sums_of_all(parts: list[_Stratum]) -> Floats:
    total = np.zeros(1)
    for part in parts:
        chosen = np.fromiter(
            (at for one in combinations(range(part.scores.size), part.chosen) for at in one),
            dtype=np.intp,
            count=part.ways * part.chosen,
        )
        sums = part.scores[chosen.reshape(part.ways, part.chosen)].sum(axis=1)
        total = (total[:, None] + sums[None, :]).ravel()
    return total


@dataclass(frozen=True, slots=True)
class _Distribution:
    """Weights of the sums `start`, `start + step` and so on."""

    start: float
    step: float
    weight: Floats


def _whole_numbers(parts: list[_Stratum]) -> _Distribution | None:
    """Return the exact distribution where all scores are halves or whole, and not too many."""
    start, weight = 0.0, np.ones(1)
    for part in parts:
        doubled = np.rint(2 * (part.scores - part.scores.min())).astype(int)
        if np.abs(2 * (part.scores - part.scores.min()) - doubled).max() > 1e-9:
            return None
        if part.scores.size * part.chosen * int(doubled.sum() + 1) > _MOST_STEPS:
            return None
        weight = np.convolve(weight, _subset_sums(doubled, part.chosen))
        start += part.chosen * float(part.scores.min())
    return _Distribution(start, 0.5, weight)


def _subset_sums(whole: NDArray[np.int_], chosen: int) -> Floats:
    """Return how often each sum comes up among all subsets of `chosen` numbers, as shares."""
    ways = np.zeros((chosen + 1, int(whole.sum()) + 1))
    ways[0, 0] = 1
    for number in whole:
        ways[1:, number:] += ways[:-1, : ways.shape[1] - number].copy()
    return np.asarray(ways[chosen] / ways[chosen].sum(), np.float64)


def _from_distribution(found: _Distribution, observed: float, mean: float) -> Permuted:
    sums = np.asarray(found.start + found.step * np.arange(found.weight.size), np.float64)
    slack = _tolerance(sums)
    far = np.abs(sums - mean) >= abs(observed - mean) - slack
    return Permuted(float(found.weight[far].sum()), "exact permutation")


def _sums_of_draws(parts: list[_Stratum], seed: int) -> Floats:
    rng = np.random.default_rng(seed)
    total = np.zeros(_DRAWS)
    for part in parts:
        order = rng.random((_DRAWS, part.scores.size)).argpartition(part.chosen - 1, axis=1)
        total += part.scores[order[:, : part.chosen]].sum(axis=1)
    return total


def _drawn(sums: Floats, observed: float, mean: float) -> Permuted:
    slack = _tolerance(sums)
    far = int((np.abs(sums - mean) >= abs(observed - mean) - slack).sum())
    return Permuted((far + 1) / (_DRAWS + 1), f"{_DRAWS} drawn permutations")


def _normal(parts: list[_Stratum], observed: float, mean: float) -> Permuted:
    """Return p from the exact mean and variance of the permutations; for many readings."""
    variance = sum(
        part.chosen * (part.scores.size - part.chosen) / part.scores.size
        * float(part.scores.var(ddof=1))
        for part in parts
    )  # fmt: skip
    z = (observed - mean) / math.sqrt(variance) if variance > 0 else 0.0
    way = "permutation, normal approximation"
    return Permuted(float(2 * ndtr(-abs(z))), way)


def holm(ps: Sequence[float | None]) -> tuple[float | None, ...]:
    """Return each p corrected for all given; None stays None and counts for nothing.

    References:
        Holm, Scand. J. Stat. 6 (1979) 65.
    """
    tested = sorted((p, at) for at, p in enumerate(ps) if p is not None)
    corrected: list[float | None] = [None] * len(ps)
    highest = 0.0
    for rank, (p, at) in enumerate(tested):
        highest = max(highest, min(1.0, p * (len(tested) - rank)))
        corrected[at] = highest
    return tuple(corrected)
