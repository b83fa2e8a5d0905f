"""Thickness of film: how many readings, and whether they are accepted, every failing spot named.

All thicknesses of one call are in one unit; the rules are ratios.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple


class Level(NamedTuple):
    """A restriction level: what a spot may have of the least and the most that is specified."""

    of_minimum: float
    of_maximum: float | None


PA2_LEVELS = {
    1: Level(1.0, 1.0), 2: Level(1.0, 1.2), 3: Level(0.8, 1.2), 4: Level(0.8, 1.5),
    5: Level(0.8, None),
}  # fmt: skip
"""SSPC-PA 2, 2012 and later; level 3 READ in two trade texts, the others from memory."""
PA9_LEVELS = {1: Level(1.0, 1.0), 3: Level(0.75, 1.25), 4: Level(0.75, None)}
"""SSPC-PA 9 (READ in study cards; level 2 not seen)."""


class WedgeRule(StrEnum):
    """What is done with the width read through a wedge-cut gauge."""

    DIVIDE = "divided by 1, 2 or 10"
    MULTIPLY = "multiplied by 1, 2 or 10"


@dataclass(frozen=True, slots=True)
class FailedSpot:
    """A spot or reading outside its limit.

    Attributes:
        name: What the spot is called.
        value: Its thickness.
        limit: The limit it fails.
        below: Whether it is below the limit; else above.
    """

    name: str
    value: float
    limit: float
    below: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Acceptance:
    """What an acceptance rule says of a set of readings.

    Attributes:
        rule: The rule applied.
        passes: Whether the set is accepted.
        mean: Mean of the set.
        low: Least that a spot may have.
        high: Most that a spot may have; None for no upper limit.
        failed: Every spot outside, in the order given.
        reasons: What else fails, in words.
    """

    rule: str
    passes: bool
    mean: float
    low: float
    high: float | None
    failed: tuple[FailedSpot, ...]
    reasons: tuple[str, ...]


def areas_to_measure(area_ft2: float) -> int:
    """Return how many areas of 100 ft² are measured, five spots of three readings in each.

    References:
        SSPC-PA 2: up to 300 ft² each 100 ft²; up to 1000 ft² three; above, one more for each
        further 1000 ft² or part (READ; 12,500 ft² gives 15 areas and 225 readings).

    Raises:
        ValueError: The area is not above 0.
    """
    _refuse_no_area(area_ft2)
    if round(area_ft2, 6) <= 300:
        return max(1, math.ceil(round(area_ft2 / 100, 6)))
    return 3 + math.ceil(round(max(0.0, area_ft2 - 1000) / 1000, 6))


def readings_needed_iso(area_m2: float) -> int:
    """Return how many readings ISO 19840 asks of an inspection area (from memory).

    Raises:
        ValueError: The area is not above 0.
    """
    _refuse_no_area(area_m2)
    for up_to, count in ((1, 5), (3, 10), (10, 15), (30, 20), (100, 30)):
        if round(area_m2, 6) <= up_to:
            return count
    return 30 + 10 * math.ceil(round((area_m2 - 100) / 100, 6))


def _refuse_no_area(area: float) -> None:
    if not area > 0:
        raise ValueError("an area above 0 is needed")


def spot_range(minimum: float, maximum: float, level: Level) -> tuple[float, float | None]:
    """Return the least and the most that the mean of one spot may have.

    80 % of the least and 120 % of the most at level 3 of SSPC-PA 2: 8 to 12 mil gives 6.4 to
    14.4 mil (READ).
    """
    high = None if level.of_maximum is None else maximum * level.of_maximum
    return minimum * level.of_minimum, high


def accept_spots(
    spots: Mapping[str, float], minimum: float, maximum: float, level: Level, rule: str
) -> Acceptance:
    """Return what SSPC-PA 2 or PA 9 says of the means of the spots of one area.

    Args:
        spots: Mean of each spot by its name.
        minimum: Least specified.
        maximum: Most specified.
        level: Restriction level.
        rule: What the rule is called.

    Raises:
        ValueError: There are no spots, or the specified range is empty.
    """
    if not spots or minimum > maximum:
        raise ValueError("spots and a specified range are needed")
    mean = math.fsum(spots.values()) / len(spots)
    low, high = spot_range(minimum, maximum, level)
    reasons = []
    if mean < minimum:
        reasons.append(f"mean {mean:.4g} below the {minimum:g} specified")
    if level.of_maximum is not None and mean > maximum:
        reasons.append(f"mean {mean:.4g} above the {maximum:g} specified")
    return _verdict(rule, spots, mean, (low, high), reasons)


def accept_iso_19840(
    readings: Mapping[str, float],
    nominal: float,
    maximum: float | None = None,
    correction: float = 0.0,
) -> Acceptance:
    """Return what ISO 19840 says of single readings against a nominal dry film thickness.

    The mean is at least the nominal; every reading at least 0.8 of it; no more than a fifth of
    the readings below the nominal; none above what was agreed.

    Args:
        readings: Each reading by its name.
        nominal: Nominal dry film thickness.
        maximum: Most agreed; None where nothing was.
        correction: Deducted for the profile: 10, 25 or 40 µm for fine, medium, coarse; 25 where
            the profile is not known.

    Raises:
        ValueError: There are no readings.

    References:
        ISO 19840:2012 (from memory; not below 40 µm nominal, READ).
    """
    corrected = {name: value - correction for name, value in readings.items()}
    reasons = _mean_reason(corrected, nominal)
    thin = [value for value in corrected.values() if 0.8 * nominal <= value < nominal]
    if len(thin) > 0.2 * len(corrected):
        reasons.append(f"{len(thin)} of {len(corrected)} readings below nominal, a fifth allowed")
    return _verdict("ISO 19840", corrected, _mean(corrected), (0.8 * nominal, maximum), reasons)


def accept_ninety_ten(readings: Mapping[str, float], nominal: float) -> Acceptance:
    """Return what the 90/10 rule says: nine tenths at least nominal, the rest at least 0.9 of it.

    References:
        IMO PSPC, MSC.215(82): 90/10 (READ); 0.9 of nominal for the rest (from memory).
    """
    thin = sum(value < nominal for value in readings.values())
    allowed = math.floor(0.1 * len(readings) + 1e-9)
    reasons = []
    if thin > allowed:
        reasons.append(f"{thin} of {len(readings)} readings below nominal, {allowed} allowed")
    return _verdict("90/10 rule", readings, _mean(readings), (0.9 * nominal, None), reasons)


def wedge_depth(width: float, tip: float, rule: WedgeRule = WedgeRule.DIVIDE) -> float:
    """Return the depth under a wedge cut, in the unit of the width read.

    Args:
        width: Width of the layer as read on the slope.
        tip: 1, 2 or 10, the number of the tip.
        rule: Division follows from the geometry of the cut (tips of 45.0, 26.6 and 5.7 degrees);
            MIL-HDBK-1110 says multiplied (READ).
    """
    return width / tip if rule is WedgeRule.DIVIDE else width * tip


def _mean(values: Mapping[str, float]) -> float:
    if not values:
        raise ValueError("readings are needed")
    return math.fsum(values.values()) / len(values)


def _mean_reason(values: Mapping[str, float], nominal: float) -> list[str]:
    mean = _mean(values)
    return [f"mean {mean:.4g} below nominal {nominal:g}"] if mean < nominal else []


def _verdict(
    rule: str,
    spots: Mapping[str, float],
    mean: float,
    limits: tuple[float, float | None],
    reasons: list[str],
) -> Acceptance:
    low, high = limits
    failed = tuple(
        FailedSpot(name, value, low if value < low else high or low, value < low)
        for name, value in spots.items()
        if value < low or (high is not None and value > high)
    )
    return Acceptance(
        rule=rule, passes=not failed and not reasons, mean=mean, low=low, high=high,
        failed=failed, reasons=tuple(reasons),
    )  # fmt: skip
