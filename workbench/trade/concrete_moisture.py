"""Moisture of concrete: emission rate, depth for in-situ humidity, how many tests."""

import math
from enum import StrEnum

_GRAMS_PER_POUND = 453.59237
_HOURS_PER_DAY = 24
_FT2_PER_TEST = 1000.0


class EmissionRule(StrEnum):
    """Which area the absorbed moisture is taken to come from; editions and kits differ by 9 %."""

    DISH_DEDUCTED = "dish deducted"
    DISH_NOT_DEDUCTED = "dish not deducted"
    KIT = "constant of one kit"


_AREA_FT2 = {
    EmissionRule.DISH_DEDUCTED: (70 - 5.94) / 144,
    EmissionRule.DISH_NOT_DEDUCTED: 70 / 144,
    EmissionRule.KIT: _HOURS_PER_DAY * 1000 / _GRAMS_PER_POUND / 117.909,
}
"""ft²: 70 in² under the dome, 5.94 in² under the dish (ASTM F1869-16a, READ in a page on its
formula); the constant 117.909 of one test kit (READ)."""


class Drying(StrEnum):
    """From how many sides a slab dries."""

    ONE_SIDE = "one side"
    TWO_SIDES = "two sides"


_DEPTH_SHARE = {Drying.ONE_SIDE: 0.40, Drying.TWO_SIDES: 0.20}


def emission_area_ft2(rule: EmissionRule = EmissionRule.DISH_DEDUCTED) -> float:
    """Return the area in ft² that `rule` takes the moisture to come from."""
    return _AREA_FT2[rule]


def emission_us(
    gained_g: float, hours: float, rule: EmissionRule = EmissionRule.DISH_DEDUCTED
) -> float:
    """Return the moisture emission rate in lb/1000 ft²/24 h.

    Args:
        gained_g: Mass that the salt gained, in g.
        hours: Time of exposure.
        rule: Whether the dish's area is deducted.

    Raises:
        ValueError: The time is not above 0, or the salt lost mass.

    References:
        ASTM F1869 (formula from memory; its constants READ).
    """
    if not hours > 0:
        raise ValueError(f"an exposure of {hours:g} h gives no rate")
    if gained_g < 0:
        raise ValueError(f"the salt lost {-gained_g:g} g: check the weighings")
    pounds = gained_g / _GRAMS_PER_POUND
    return pounds * 1000 / emission_area_ft2(rule) * _HOURS_PER_DAY / hours


def probe_depth(thickness: float, drying: Drying = Drying.ONE_SIDE) -> float:
    """Return the depth of an in-situ humidity probe, in the unit of the slab's thickness.

    References:
        ASTM F2170: 40 % of the thickness where one side dries, 20 % where two do (READ in a
        guide to the 2009 edition).
    """
    return thickness * _DEPTH_SHARE[drying]


def moisture_tests_needed(area_ft2: float) -> int:
    """Return how many emission or in-situ humidity tests a floor needs.

    References:
        ASTM F2170: 3 for the first 1000 ft², 1 for each further 1000 ft² or part (READ in a guide
        to the 2009 edition); ASTM F1869 the same (from memory).
    """
    further = max(0.0, area_ft2 - _FT2_PER_TEST)
    return 3 + math.ceil(round(further / _FT2_PER_TEST, 6))
