"""Tests and intervals against published examples, to the digits printed, and against libraries."""

from collections.abc import Sequence

import numpy as np
import pytest
from lifelines.statistics import logrank_test
from scipy.stats import CensoredData, fisher_exact, mannwhitneyu
from scipy.stats import logrank as scipy_logrank

from workbench.analysis.comparison.logrank import LogRank, log_rank
from workbench.analysis.comparison.permutation import holm
from workbench.analysis.comparison.proportions import (
    association,
    exact_share,
    exact_share_of_pieces,
    pieces_to_find_one,
    several_groups,
)
from workbench.analysis.comparison.ranks import dominance, rank_test, shift

DRUG = (
    [6, 6, 6, 6, 7, 9, 10, 10, 11, 13, 16, 17, 19, 20, 22, 23, 25, 32, 32, 34, 35],
    [1, 1, 1, 0, 1, 0, 1, 0, 0, 1, 1, 0, 0, 0, 1, 1, 0, 0, 0, 0, 0],
)
PLACEBO = ([1, 1, 2, 2, 3, 4, 4, 5, 5, 8, 8, 8, 8, 11, 11, 12, 12, 15, 17, 22, 23], [1] * 21)
MAINTAINED = ([9, 13, 13, 18, 23, 28, 31, 34, 45, 48, 161], [1, 1, 0, 1, 1, 0, 1, 1, 0, 1, 0])
NOT_MAINTAINED = (
    [5, 5, 8, 8, 12, 16, 23, 27, 30, 33, 43, 45], [1, 1, 1, 1, 1, 0, 1, 1, 1, 1, 1, 1],
)  # fmt: skip
Sample = tuple[list[int], list[int]]


def _floats(values: Sequence[float]) -> np.ndarray:
    return np.asarray(values, float)


def _log_rank(one: Sample, other: Sample) -> LogRank | None:
    x, broke = (_floats([*one[at], *other[at]]) for at in (0, 1))
    return log_rank(x, broke, np.ones_like(x), np.arange(x.size) < len(one[0]))


def test_remission_of_leukaemia_gives_the_published_log_rank() -> None:
    """Freireich et al. (1963): O 9, E 19.3 (READ); chi-square 16.79 (from memory)."""
    found = _log_rank(DRUG, PLACEBO)
    assert found is not None
    assert found.observed == 9
    assert found.expected == pytest.approx(19.25, abs=0.005)
    assert found.chi_square == pytest.approx(16.79, abs=0.005)


def test_maintenance_of_leukaemia_gives_the_published_log_rank() -> None:
    """Miller (1981): chi-square 3.40 (from memory)."""
    found = _log_rank(MAINTAINED, NOT_MAINTAINED)
    assert found is not None
    assert found.chi_square == pytest.approx(3.40, abs=0.005)


@pytest.mark.parametrize(("one", "other"), [(DRUG, PLACEBO), (MAINTAINED, NOT_MAINTAINED)])
def test_log_rank_agrees_with_scipy_and_lifelines(one: Sample, other: Sample) -> None:
    found = _log_rank(one, other)
    assert found is not None
    samples = []
    for times, events in (one, other):
        x, broke = np.array(times, float), np.array(events, bool)
        samples.append(CensoredData(x[broke], right=x[~broke]))
    assert found.p == pytest.approx(scipy_logrank(samples[0], samples[1]).pvalue)
    assert found.p == pytest.approx(logrank_test(one[0], other[0], one[1], other[1]).p_value)


PERMEABILITY = (
    [0.8, 0.83, 1.89, 1.04, 1.45, 1.38, 1.91, 1.64, 0.73, 1.46], [1.15, 0.88, 0.9, 0.74, 1.21],
)  # fmt: skip
SOCIAL = (
    [1042, 1617, 1180, 973, 1552, 1251, 1151, 728, 1079, 951, 1319],
    [874, 389, 612, 798, 1152, 893, 541, 741, 1064, 862, 213],
)
PRESSURE = ([94, 108, 110, 90], [80, 94, 85, 90, 90, 90, 108, 94, 78, 105, 88])
ROTATING = ([300] * 12, [22, 300, 75, 271, 300, 18, 300, 300, 163, 300, 300, 300])


@pytest.mark.parametrize(
    ("samples", "p"),
    [
        # Hollander and Wolfe (1999), examples 4.1 and 4.2 (READ)
        (PERMEABILITY, 0.2544),
        (SOCIAL, 0.00186),
        # Mehta and Patel (2001), table 9.6, with ties (READ)
        (PRESSURE, 0.0989),
        # Bergmann, Ludbrook and Spooren (2000), where eleven packages disagreed (READ)
        (ROTATING, 0.0373),
    ],
)
def test_exact_rank_tests_reproduce_with_their_ties(
    samples: tuple[list[float], list[float]], p: float
) -> None:
    found = rank_test(_floats(samples[0]), _floats(samples[1]))
    assert found is not None
    assert found.way == "exact permutation"
    digits = 5 if p < 0.01 else 4
    assert round(found.p, digits) == p


def test_the_rank_test_agrees_with_scipy_where_there_are_no_ties() -> None:
    one, other = map(_floats, PERMEABILITY)
    found = rank_test(one, other)
    assert found is not None
    assert found.p == pytest.approx(mannwhitneyu(one, other, method="exact").pvalue)


@pytest.mark.parametrize(
    ("samples", "value", "low", "high"),
    [(PERMEABILITY, 0.305, -0.15, 0.76), (SOCIAL, 410, 168, 690)],
)
def test_the_shift_and_its_interval_reproduce(
    samples: tuple[list[float], list[float]], value: float, low: float, high: float
) -> None:
    """Hollander and Wolfe (1999), sections 4.2 and 4.3 (READ)."""
    found = shift(_floats(samples[0]), _floats(samples[1]))
    assert (found.value, found.low, found.high) == pytest.approx((value, low, high))


def test_the_shift_with_ties_has_the_published_middle() -> None:
    """Mehta and Patel (2001): 9.5 (READ); its interval depends on how ties are counted."""
    assert shift(_floats(PRESSURE[0]), _floats(PRESSURE[1])).value == 9.5


def test_dominance_reproduces() -> None:
    """Hogarty and Kromrey (1999) (READ): −0.25, −0.7265846 to 0.3890062."""
    found = dominance(
        _floats([10, 10, 20, 20, 20, 30, 30, 30, 40, 50]), _floats([10, 20, 30, 40, 40, 50])
    )
    assert found.value == -0.25
    assert (found.low, found.high) == pytest.approx((-0.7265846, 0.3890062), abs=1e-7)


@pytest.mark.parametrize(
    ("count", "of", "confidence", "low", "high", "tolerance"),
    [
        # Newcombe (1998), table I (from memory)
        (81, 263, 0.95, 0.2527, 0.3676, 5e-5),
        (15, 148, 0.95, 0.0578, 0.1617, 5e-5),
        (0, 20, 0.95, 0, 0.1684, 5e-5),
        (1, 29, 0.95, 0.0009, 0.1776, 5e-5),
        # NIST/SEMATECH e-Handbook 7.2.4.1 (READ)
        (4, 20, 0.90, 0.071354, 0.401029, 1e-6),
        # R binom.test (READ)
        (20, 100, 0.95, 0.1266556, 0.2918427, 1e-7),
        (3, 50, 0.99, 0.006872485, 0.2027063, 1e-7),
        (0, 10, 0.95, 0, 0.3084971, 1e-7),
    ],
)
def test_exact_intervals_of_a_share_reproduce(
    count: int, of: int, confidence: float, low: float, high: float, tolerance: float
) -> None:
    found = exact_share(count, of, confidence)
    assert (found.low, found.high) == pytest.approx((low, high), abs=tolerance)


@pytest.mark.parametrize(
    ("count", "of", "pieces", "low", "high"),
    [(0, 50, 2000, 0, 140), (2, 10, 50, 2, 26), (45, 100, 300, 111, 160), (5, 20, 20, 5, 5)],
)
def test_a_share_of_a_known_number_of_pieces_inverts_the_hypergeometric_test(
    count: int, of: int, pieces: int, low: int, high: int
) -> None:
    """Konijn (1973), Buonaccorsi (1987); computed."""
    found = exact_share_of_pieces(count, of, pieces)
    assert (found.low * pieces, found.high * pieces) == pytest.approx((low, high))


@pytest.mark.parametrize(
    ("pieces", "failing", "looked_at"),
    [(100, 5, 45), (100, 10, 25), (100, 1, 95), (200, 10, 51), (500, 25, 56), (50, 5, 22)],
)
def test_how_many_to_look_at_to_find_one_reproduces(
    pieces: int, failing: int, looked_at: int
) -> None:
    """Cannon and Roe (1982), table 1, 95 % (from memory)."""
    assert pieces_to_find_one(pieces, failing) == looked_at


def test_where_nearly_all_must_be_looked_at_the_count_stops_at_all() -> None:
    """One failing piece among ten: nine looked at find it nine times in ten (worked by hand)."""
    assert pieces_to_find_one(10, 1, 0.9) == 9
    assert pieces_to_find_one(10, 1, 0.95) == 10
    assert pieces_to_find_one(1, 1) == 1


RABBITS = [[[0, 6], [0, 5]], [[3, 3], [0, 6]], [[6, 0], [2, 4]], [[5, 1], [6, 0]], [[2, 0], [5, 0]]]
CENTRES = [[[20, 10], [14, 24]], [[15, 3], [12, 15]], [[3, 3], [2, 2]], [[12, 7], [3, 5]],
           [[1, 3], [0, 2]]]  # fmt: skip


def test_rabbits_give_the_published_stratified_test() -> None:
    """Agresti (1990), p. 234 (READ): odds ratio 7, 1.026713 to 47.72513, exact p 0.03994."""
    found = association(np.array(RABBITS))
    assert found is not None
    assert found.odds_ratio == pytest.approx(7)
    assert (found.low, found.high) == pytest.approx((1.026713, 47.72513), rel=1e-6)
    assert round(found.p, 5) == 0.03994


def test_five_centres_give_the_published_odds_ratio() -> None:
    """R mantelhaen.test in the statsmodels test-suite (READ): 3.5912, 1.781135 to 7.240633."""
    found = association(np.array(CENTRES))
    assert found is not None
    assert found.odds_ratio == pytest.approx(3.5912, abs=5e-5)
    assert (found.low, found.high) == pytest.approx((1.781135, 7.240633), rel=1e-6)


def test_the_lady_tasting_tea_gives_fishers_p() -> None:
    """Fisher (1935): two-sided 0.4857 (READ)."""
    found = association(np.array([[[3, 1], [1, 3]]]))
    assert found is not None
    assert round(found.p, 4) == 0.4857


def test_several_groups_agree_with_fisher_for_two_and_with_scipy_for_three() -> None:
    two = np.array([[8, 2], [1, 5]])
    assert several_groups(two) == pytest.approx(0.03496503496503495)
    three = np.array([[5, 1], [2, 4], [0, 6]])
    assert several_groups(three) == pytest.approx(_enumerated(three), rel=1e-9)
    assert fisher_exact(two).pvalue == pytest.approx(0.03496503, rel=1e-6)


def _enumerated(table: np.ndarray) -> float:
    """Return exact p of a table with three rows, written apart from the program."""
    from math import comb

    sizes, failing = table.sum(axis=1), int(table[:, 0].sum())
    weights = {}
    for a in range(sizes[0] + 1):
        for b in range(sizes[1] + 1):
            c = failing - a - b
            if 0 <= c <= sizes[2]:
                weights[a, b, c] = comb(sizes[0], a) * comb(sizes[1], b) * comb(sizes[2], c)
    own = weights[int(table[0, 0]), int(table[1, 0]), int(table[2, 0])]
    return sum(w for w in weights.values() if w <= own) / sum(weights.values())


def test_holm_corrects_for_what_is_tested_and_keeps_the_order() -> None:
    assert holm([0.01, None, 0.04, 0.03]) == pytest.approx((0.03, None, 0.06, 0.06))
    assert holm([0.9, 0.8]) == (1.0, 1.0)
