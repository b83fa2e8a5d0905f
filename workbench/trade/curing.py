"""Pot life and recoat window at another temperature: the data sheet first, then a rule of thumb."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

_GAS_CONSTANT = 8.314462618
DOUBLING_K = 10.0
"""K of cooling that doubles a time: a rule of thumb (READ in four trade pages), not data."""


class Rests(StrEnum):
    """What a time at a temperature rests on."""

    TABLE = "data sheet"
    BETWEEN = "between two rows of the data sheet"
    RULE = "rule of thumb: doubles for each 10 °C colder"
    UNTEMPERED = "data sheet, which names no temperature"


@dataclass(frozen=True, slots=True)
class TimeAt:
    """One row of a data sheet: a time at a temperature.

    Attributes:
        celsius: The temperature; None where the sheet names none.
        hours: The time.
    """

    celsius: float | None
    hours: float


@dataclass(frozen=True, slots=True)
class Tempered:
    """A time at the temperature that was there.

    Attributes:
        hours: The time.
        rests: What it rests on.
    """

    hours: float
    rests: Rests


def time_at(hours: float, at_c: float, celsius: float, doubling_k: float = DOUBLING_K) -> float:
    """Return a time known at `at_c` °C as the rule of thumb gives it at `celsius` °C.

    A rule, not data: it fails near the glass transition, near the least temperature of cure, and
    for a batch that heats itself.
    """
    return hours * 2 ** ((at_c - celsius) / doubling_k)


def tempered(
    rows: Sequence[TimeAt], celsius: float | None, doubling_k: float = DOUBLING_K
) -> Tempered | None:
    """Return the time at `celsius` °C: from the data sheet where it has it, else by the rule.

    Between two rows the logarithm of the time is taken to run straight. Beyond the last row the
    rule of thumb goes on from it. None where there is nothing to go by.
    """
    untempered = [row for row in rows if row.celsius is None]
    known = sorted((row.celsius, row.hours) for row in rows if row.celsius is not None)
    if not known or celsius is None:
        only = untempered or ([TimeAt(*known[0])] if len(known) == 1 else [])
        return Tempered(only[0].hours, Rests.UNTEMPERED) if only else None
    below = [row for row in known if row[0] <= celsius]
    above = [row for row in known if row[0] >= celsius]
    if not below or not above:
        at_c, hours = known[0] if not below else known[-1]
        return Tempered(time_at(hours, at_c, celsius, doubling_k), Rests.RULE)
    (cool_c, cool_h), (warm_c, warm_h) = below[-1], above[0]
    if cool_c == celsius:
        return Tempered(cool_h, Rests.TABLE)
    share = (celsius - cool_c) / (warm_c - cool_c)
    return Tempered(cool_h * (warm_h / cool_h) ** share, Rests.BETWEEN)


def activation_energy_kj_mol(cool_c: float, warm_c: float, ratio: float = 2.0) -> float:
    """Return the activation energy at which a rate rises `ratio`-fold from cool to warm."""
    inverse = 1 / (cool_c + 273.15) - 1 / (warm_c + 273.15)
    return _GAS_CONSTANT * math.log(ratio) / inverse / 1000
