"""Comparisons in words: the effect first, then its interval, then chance, in the units chosen."""

import pytest

from workbench.analysis.comparison.results import Comparison, Effect, Side
from workbench.analysis.comparison.words import chance, effect, in_brief, told
from workbench.trade.showing import Showing, System

FAILING, SOUND = Side(name="failing", n=12, areas=4, middle=3.0), Side(name="sound", n=9, areas=3)


def compared(**said: object) -> Comparison:
    given: dict[str, object] = {"quantity": "moisture", "one": FAILING, "other": SOUND}
    return Comparison(**(given | {"effect": Effect.SHIFT} | said))  # type: ignore[arg-type]


def test_a_difference_of_temperatures_is_moved_as_a_difference_into_us_units() -> None:
    one = compared(unit="degC", value=10.0, low=5.0, high=20.0)
    assert effect(one, Showing(System.SI)) == "10.0 °C (5.0 to 20.0)"
    assert effect(one, Showing(System.US)) == "18.0 °F (9.0 to 36.0)"  # 1 K is 1.8 degF


def test_where_the_data_give_only_a_bound_the_bound_is_said() -> None:
    ratio = {"effect": Effect.RATIO_OF_MEDIANS, "unit": "MPa"}
    assert effect(compared(**ratio, high=0.25), Showing()) == "≤ 0.250"
    assert effect(compared(**ratio, low=2.5), Showing()) == "≥ 2.50"
    assert effect(compared(**ratio), Showing()) == "–"


def test_a_unit_that_is_not_converted_stays_as_it_was_entered() -> None:
    assert effect(compared(unit="drops", value=3.0), Showing()).endswith("3.00 drops")


def test_all_that_is_needed_to_judge_is_told_and_nothing_that_was_not_tested() -> None:
    one = compared(
        unit="%", value=0.4, low=0.1, high=0.7, p=0.0004, p_corrected=0.012, looks=3,
        test="rank sum, exact permutation", p_areas=0.2,
    )  # fmt: skip
    words = " ".join(told(one, Showing()))
    for said in ("12 readings in 4 areas", "95 % interval", "p < 0.001", "3 comparisons", "p 0.2"):
        assert said in words
    assert "Log-rank" not in words
    assert in_brief(one, Showing())[1].startswith("significant among readings, but not")


@pytest.mark.parametrize(("p", "said"), [(None, "–"), (0.00099, "< 0.001"), (0.0421, "0.042")])
def test_chance_is_never_said_to_be_none(p: float | None, said: str) -> None:
    assert chance(p) == said
