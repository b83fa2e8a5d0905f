"""Permutations: the ways agree, strata hold, and chance alone is told at its rate."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import permutation_test

from workbench.analysis.comparison.logrank import (
    log_rank,
    log_rank_exact,
    log_rank_parts,
)
from workbench.analysis.comparison.permutation import permuted
from workbench.analysis.comparison.strata import areas_permuted, signs_exchanged, strata_of

scores = st.lists(st.integers(0, 8), min_size=4, max_size=10)


@given(scores, st.data())
def test_counting_subsets_and_adding_up_whole_numbers_agree(
    values: list[int], data: st.DataObject
) -> None:
    first = np.arange(len(values)) < data.draw(st.integers(1, len(values) - 1))
    whole = permuted(np.array(values, float), first)
    shifted = permuted(np.array(values, float) + 0.125, first)
    assert whole is not None
    assert shifted is not None
    assert whole.p == pytest.approx(shifted.p)


def test_permutation_agrees_with_scipy() -> None:
    a, b = np.array([0.7, 1.9, 2.2, 3.1]), np.array([0.4, 0.6, 1.1, 1.2, 1.8])
    found = permuted(np.concatenate([a, b]), np.arange(9) < 4)
    scipy = permutation_test(
        (a, b), lambda x, y: abs(np.mean(x) - np.mean(y)), alternative="greater", n_resamples=10_000
    )
    assert found is not None
    assert found.p == pytest.approx(scipy.pvalue)


def test_groups_are_exchanged_only_within_a_stratum() -> None:
    values = np.array([1.0, 2, 3, 4, 11, 12, 13, 14])
    first = np.array([False, False, True, True] * 2)
    found = permuted(values, first, ["a"] * 4 + ["b"] * 4)
    assert found is not None
    assert found.p == pytest.approx(2 / 36)


def test_nothing_can_be_said_where_no_stratum_holds_both_groups() -> None:
    assert permuted(np.arange(4.0), np.array([True, True, False, False]), list("aabb")) is None


def test_drawn_permutations_are_repeatable_and_near_the_exact_p() -> None:
    rng = np.random.default_rng(3)
    values = rng.normal(size=40) + np.repeat([0.8, 0.0], 20)
    first = np.arange(40) < 20
    found = permuted(values, first, seed=5)
    assert found == permuted(values, first, seed=5)
    assert found is not None
    assert found.way == "9999 drawn permutations"
    whole = permuted(np.rint(values * 20) / 2, first)
    assert whole is not None
    assert found.p == pytest.approx(whole.p, abs=0.01)


def test_strata_are_used_where_both_groups_share_them_and_named_where_not() -> None:
    first = np.array([True, True, False, False])
    shared = strata_of(first, {"day": [1, 2, 1, 2], "operator": ["x", "", "x", "y"]})
    assert shared.names == ("day",)
    apart = strata_of(first, {"day": [1, 1, 2, 2]})
    assert apart.names == ()
    assert apart.remarks == ("The groups differ in day as well: its effect is not told apart.",)


def test_bays_that_hold_both_groups_are_strata_and_others_are_passed_over() -> None:
    first = np.array([True, True, False, False])
    assert strata_of(first, {}, ["B1", "B2", "B1", "B2"]).names == ("bay",)
    apart = strata_of(first, {}, ["B1", "B1", "B2", "B2"])
    assert (apart.names, apart.remarks) == ((), ())


def test_whole_areas_are_not_exchanged_with_fewer_than_the_setting() -> None:
    areas = ["a", "b", "c", "d", "e"]
    first = np.array([True, True, False, False, False])
    assert areas_permuted(np.arange(5.0), first, areas, fewest=6) is None
    assert signs_exchanged(np.arange(5.0), areas, fewest=6) is None


def _two_groups(
    rng: np.random.Generator, stop_early: float
) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    """Return readings of a plane equally strong in both groups, one of which stops early."""
    first = np.arange(24) < 12
    strength = np.exp(rng.normal(1, 0.3, 24))
    other = np.exp(rng.normal(np.where(first, 1 + stop_early, 1.4), 0.3))
    return np.minimum(strength, other), (strength < other).astype(float), np.ones(24), first


def test_equal_strength_is_called_different_no_oftener_than_it_should() -> None:
    """The other plane is far weaker in one group, so its readings stop at lower stresses."""
    rng = np.random.default_rng(11)
    found = [log_rank_exact(*_two_groups(rng, stop_early=-0.3)) for _ in range(400)]
    ps = [one.p for one in found if one is not None]
    assert len(ps) == 400
    assert np.mean(np.array(ps) <= 0.05) < 0.075


def test_the_parts_add_up_to_observed_less_expected() -> None:
    x, broke, weight, first = _two_groups(np.random.default_rng(2), stop_early=0.0)
    whole = log_rank(x, broke, weight, first)
    assert whole is not None
    assert log_rank_parts(x, broke, weight, first).sum() == pytest.approx(
        whole.observed - whole.expected
    )


def test_the_exact_log_rank_is_near_the_usual_one_with_many_breaks() -> None:
    rng = np.random.default_rng(4)
    x, first = np.exp(rng.normal(0, 0.3, 60)), np.arange(60) < 30
    x[first] *= 1.15
    exact, usual = (test(x, np.ones(60), np.ones(60), first) for test in (log_rank_exact, log_rank))
    assert exact is not None
    assert usual is not None
    assert exact.p == pytest.approx(usual.p, abs=0.02)


def test_slivers_of_breaks_weigh_in_the_usual_log_rank_as_in_the_exact_one() -> None:
    rng = np.random.default_rng(8)
    x, first = np.exp(rng.normal(0, 0.3, 50)), np.arange(50) < 25
    broke = np.where(rng.random(50) < 0.6, 0.05, 0.0)
    exact, usual = (test(x, broke, np.ones(50), first) for test in (log_rank_exact, log_rank))
    assert exact is not None
    assert usual is not None
    assert exact.p == pytest.approx(usual.p, abs=0.04)
