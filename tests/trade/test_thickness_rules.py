"""Acceptance of thickness: worked examples, every failing spot named."""

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.trade.thickness import (
    PA2_LEVELS,
    PA9_LEVELS,
    WedgeRule,
    accept_iso_19840,
    accept_ninety_ten,
    accept_spots,
    areas_to_measure,
    readings_needed_iso,
    wedge_depth,
)


def _named(values: list[float]) -> dict[str, float]:
    return {f"T-{at}": value for at, value in enumerate(values, 1)}


def test_iso_19840_refuses_a_set_whose_mean_passes() -> None:
    """Mean 200.0, smallest 158 below 160 (rule from memory, worked by hand)."""
    values = [210, 195, 170, 220, 205, 158, 230, 200, 215, 197]
    found = accept_iso_19840(_named([float(value) for value in values]), 200)
    assert found.mean == 200
    assert not found.passes
    assert [(one.name, one.value, one.limit, one.below) for one in found.failed] == [
        ("T-6", 158, 160, True)
    ]
    assert "3 of 10 readings below nominal" in found.reasons[0]


def test_iso_19840_deducts_the_profile_before_it_judges() -> None:
    values = _named([215.0] * 5)
    assert accept_iso_19840(values, 200).passes
    assert not accept_iso_19840(values, 200, correction=25).passes


def test_iso_19840_names_a_reading_above_what_was_agreed() -> None:
    found = accept_iso_19840(_named([200.0, 210.0, 650.0]), 200, maximum=600)
    assert [(one.name, one.below) for one in found.failed] == [("T-3", False)]


@pytest.mark.parametrize(
    ("thin", "passes"), [([300, 310], True), ([300, 310, 315], False), ([285], False)]
)
def test_ninety_ten(thin: list[float], passes: bool) -> None:
    """Of 20 readings two may lie between 288 and 320 µm (rule READ, 0.9 from memory)."""
    values = _named([*thin, *[330.0] * (20 - len(thin))])
    assert accept_ninety_ten(values, 320).passes is passes


def test_pa2_names_the_spot_that_is_outside() -> None:
    found = accept_spots(_named([8.5, 9.0, 6.3, 10.0, 14.5]), 8, 12, PA2_LEVELS[3], "SSPC-PA 2")
    assert [(one.name, one.limit, one.below) for one in found.failed] == [
        ("T-3", 6.4, True),
        ("T-5", pytest.approx(14.4), False),
    ]
    assert not found.passes


def test_pa2_wants_the_mean_within_the_range_too() -> None:
    found = accept_spots(_named([7.0] * 5), 8, 12, PA2_LEVELS[3], "SSPC-PA 2")
    assert not found.failed
    assert found.reasons == ("mean 7 below the 8 specified",)
    assert accept_spots(_named([13.0] * 5), 8, 12, PA2_LEVELS[5], "SSPC-PA 2").passes
    assert not accept_spots(_named([13.0] * 5), 8, 12, PA2_LEVELS[3], "SSPC-PA 2").passes


def test_the_two_standards_differ_at_level_three() -> None:
    spots = _named([6.2, 10.0, 10.0, 10.0, 10.0])
    assert not accept_spots(spots, 8, 12, PA2_LEVELS[3], "SSPC-PA 2").passes
    assert accept_spots(spots, 8, 12, PA9_LEVELS[3], "SSPC-PA 9").passes


@given(st.lists(st.floats(1, 1000), min_size=1, max_size=30), st.sampled_from(sorted(PA2_LEVELS)))
def test_every_spot_outside_is_named_and_no_other(values: list[float], level: int) -> None:
    found = accept_spots(_named(values), 100, 200, PA2_LEVELS[level], "SSPC-PA 2")
    outside = [v for v in values if v < found.low or (found.high is not None and v > found.high)]
    assert [one.value for one in found.failed] == outside
    assert found.passes == (not outside and not found.reasons)


@pytest.mark.parametrize(
    ("area", "count"), [(1, 5), (3, 10), (10, 15), (30, 20), (100, 30), (101, 40), (250, 50)]
)
def test_iso_19840_counts_readings_by_area(area: float, count: int) -> None:
    """From memory."""
    assert readings_needed_iso(area) == count


def test_an_area_moved_between_units_does_not_ask_for_more() -> None:
    """1000 ft² there and back are 1000.0000000000001 ft²."""
    assert areas_to_measure(1000.0000000000001) == 3
    assert areas_to_measure(300.0000000000001) == 3
    assert readings_needed_iso(100.00000000000001) == 30


@pytest.mark.parametrize("count", [areas_to_measure, readings_needed_iso])
def test_no_area_asks_for_no_reading(count: Callable[[float], int]) -> None:
    with pytest.raises(ValueError, match="an area above 0"):
        count(0)


def test_a_wedge_cut_is_divided_by_the_number_of_its_tip() -> None:
    """50 divisions of 1 mil at the 10X tip are 5 mil by geometry; MIL-HDBK-1110 multiplies."""
    assert wedge_depth(50, 10) == 5
    assert wedge_depth(50, 10, WedgeRule.MULTIPLY) == 500


def test_no_readings_are_no_acceptance() -> None:
    with pytest.raises(ValueError, match="readings"):
        accept_iso_19840({}, 200)
    with pytest.raises(ValueError, match="spots"):
        accept_spots({}, 8, 12, PA2_LEVELS[3], "SSPC-PA 2")
