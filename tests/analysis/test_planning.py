"""How many more pulls, where, and what the present ones exclude."""

import numpy as np
import pytest
from builders import dossier, make
from hypothesis import given
from hypothesis import strategies as st

from workbench.analysis.planning import (
    Against,
    against,
    plan_points,
    pulls_for_difference,
    pulls_for_precision,
    random_points,
)
from workbench.analysis.strength import Group, strength_by_plane
from workbench.records import Area, Coat, Location, Outline, Plane, PullOff
from workbench.records.codes import Condition

COATS = (
    make(Coat, order=0, material="concrete", product="Slab"),
    make(Coat, order=1, product="Primer"),
)


def group(plane: str, *read: tuple[str, str]) -> Group:
    pulls = [
        make(PullOff, ref=f"P{at}", fixture="20 mm", reading=f"{mpa} MPa", breaks=breaks)
        for at, (mpa, breaks) in enumerate(read)
    ]
    result = strength_by_plane(dossier(make(Area, system="S"), make(Location), *COATS, *pulls))
    found = result.group(Condition.FAILING, Plane(plane))
    assert found is not None
    return found


SIX = tuple((f"2.{at}", "A 100") for at in range(1, 7))


def test_a_narrower_interval_needs_more_pulls() -> None:
    needed = [pulls_for_precision(group("A", *SIX), ratio).further for ratio in (1.3, 1.2, 1.1)]
    assert all(number is not None for number in needed)
    assert needed == sorted(needed, key=lambda number: number or 0)
    assert (needed[-1] or 0) > 15


def test_an_interval_that_is_narrow_enough_needs_none() -> None:
    six = group("A", *SIX)
    assert six.low_mpa
    assert six.high_mpa
    found = pulls_for_precision(six, 5.0)
    assert found.further == 0
    assert found.present_ratio == pytest.approx(six.high_mpa / six.low_mpa)


def test_a_plane_in_which_nothing_broke_gets_no_number_of_pulls() -> None:
    found = pulls_for_precision(group("A/B", *SIX))
    assert found.further is None
    assert found.remarks


def test_a_ratio_of_one_is_refused() -> None:
    with pytest.raises(ValueError, match="above 1"):
        pulls_for_precision(group("A", *SIX), 1.0)


def test_pulls_for_a_difference_agree_with_the_two_sample_formula() -> None:
    """Two groups, difference one standard deviation, 80 % power, 5 %: 17 each (textbook)."""
    assert pulls_for_difference(float(np.exp(0.3)), 0.3).each_side == 17
    assert pulls_for_difference(float(np.exp(-0.3)), 0.3).each_side == 17
    assert pulls_for_difference(float(np.exp(0.3)), 0.3, share_here=0.5).each_side == 34


def test_what_the_present_pulls_exclude_of_a_required_strength() -> None:
    broke, held = group("A", *SIX), group("A/B", *SIX)
    assert [against(broke, mpa) for mpa in (1.0, 2.3, 5.0)] == [
        Against.MET, Against.OPEN, Against.MISSED,
    ]  # fmt: skip
    assert [against(held, mpa) for mpa in (1.0, 5.0)] == [Against.MET, Against.NOTHING]


def test_a_strength_within_the_interval_that_is_told_is_not_excluded() -> None:
    broke = group("A", *SIX)
    assert broke.low_mpa
    assert broke.at_least_mpa
    between = (broke.low_mpa + broke.at_least_mpa) / 2
    assert against(broke, between) is Against.OPEN


def test_a_plane_told_as_at_least_has_neither_interval_nor_upper_end() -> None:
    some = group("A/B", *SIX[:5], ("2.2", "A/B 60; A 40"))
    assert some.extrapolated
    assert some.at_least_mpa
    assert some.high_mpa
    assert pulls_for_precision(some).present_ratio is None
    assert against(some, 0.99 * some.at_least_mpa) is Against.MET
    assert against(some, 2 * some.high_mpa) is Against.OPEN


@given(st.integers(1, 40), st.integers(0, 2**31))
def test_random_points_lie_within_the_outline_and_out_of_its_holes(count: int, seed: int) -> None:
    outline = Outline.read("0 0; 20 0; 20 10; 10 10; 10 20; 0 20 | 2 2; 8 2; 8 8; 2 8")
    points = random_points(outline, count, np.random.default_rng(seed))
    assert points.shape == (count, 2)
    x, y = points.T
    assert ((x >= 0) & (x <= 20) & (y >= 0) & (y <= 20)).all()
    assert not ((x > 10) & (y > 10)).any()
    assert not ((x > 2) & (x < 8) & (y > 2) & (y < 8)).any()


def test_planned_locations_are_repeatable_named_afresh_and_outside_inner_areas() -> None:
    outer = make(Area, ref="A1", outline="0 0; 10 0; 10 10; 0 10")
    inner = make(Area, ref="A2", within="A1", outline="0 0; 10 0; 10 5; 0 5")
    case = dossier(outer, inner, make(Location, ref="A1-N1"))
    one, again = (plan_points(case, [("A1", 5)], seed=9) for _ in range(2))
    assert [(str(p.x), str(p.y)) for p in one] == [(str(p.x), str(p.y)) for p in again]
    assert [place.ref for place in one] == [f"A1-N{at}" for at in range(2, 7)]
    assert all(place.y and place.y.value >= 5 for place in one)
    assert one[0].chosen == "at random within A1, draw 9"


def test_points_in_an_area_without_outline_are_refused_in_words() -> None:
    with pytest.raises(ValueError, match="area “A1” has no outline"):
        plan_points(dossier(make(Area)), [("A1", 3)])
