"""Voltage of holiday detection from the thickness of the film.

A spark can ignite vapour and shock a person: earth the work, keep hands dry, no solvent about,
nobody with a pacemaker near. The voltages of SP0188 changed in January 2024 (READ); check the
edition that the contract names.
"""

import math
from enum import StrEnum

LOW_VOLTAGE_LIMIT_MIL = 20.0
"""Up to here a wet sponge at 67.5 V, above it a spark (MIL-HDBK-1110, READ)."""


class HolidayRule(StrEnum):
    """Which rule gives the voltage; they differ by a factor of up to 2.4."""

    TWO_RANGES = "525 and 1250 times the root of the mils"
    ONE_CURVE = "1250 times the root of the mils"
    PER_MIL = "100 V for each mil"


def holiday_voltage_v(thickness_mil: float, rule: HolidayRule = HolidayRule.TWO_RANGES) -> float:
    """Return the test voltage in V for a film in mil.

    Raises:
        ValueError: The thickness is not above 0.

    References:
        Two ranges, 525 up to 40 mil and 1250 above: annex of ASTM D5162 and D4787 (from memory;
        the values for mm agree with those for mil). One curve: SP0274 (READ in a procedure,
        whose metric form, 250 times the root of the µm, gives 0.8 % more).
        100 V for each mil: MIL-HDBK-1110 (READ), found in no standard.
    """
    if not thickness_mil > 0:
        raise ValueError(f"a film of {thickness_mil:g} mil has no test voltage")
    if rule is HolidayRule.PER_MIL:
        return 100 * thickness_mil
    low_range = rule is HolidayRule.TWO_RANGES and thickness_mil <= 40
    return (525 if low_range else 1250) * math.sqrt(thickness_mil)
