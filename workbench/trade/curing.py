"""Pot life and recoat window at another temperature: the data sheet first, then a rule of thumb."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

_SAME_K = 0.5
DOUBLING_K = 10.0
"""K of cooling that doubles a time: a rule of thumb (READ in four trade pages), not data."""


class Rests(StrEnum):
    """What a time at a temperature rests on."""

    TABLE = "data sheet"
    BETWEEN = "between two rows of the data sheet"
    RULE = "rule of thumb: doubles for each 10 °C colder"
    UNTEMPERED = "data sheet, which names no temperature"
    NOT_RECORDED = "data sheet; the temperature that was there is not recorded"


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
        other: A row of the data sheet that may hold as well: the one that the rule of thumb goes
            on from, or that of another temperature where none is recorded.
    """

    hours: float
    rests: Rests
    other: TimeAt | None = None


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

    Within half a degree a row is taken as it stands. Between two rows the logarithm of the time
    is taken to run straight. Beyond the last row the rule of thumb goes on from it. None where
    there is nothing to go by. Without a temperature the longest time of the sheet is returned,
    the shortest beside it. An infinite time says that there is no limit.
    """
    untempered = [row for row in rows if row.celsius is None]
    known = sorted((row.celsius, row.hours) for row in rows if row.celsius is not None)
    if not known:
        return Tempered(untempered[0].hours, Rests.UNTEMPERED) if untempered else None
    if celsius is None:
        least, *_, most = sorted([known[0], *known], key=lambda row: row[1])
        return Tempered(most[1], Rests.NOT_RECORDED, TimeAt(*least))
    near_c, near_h = min(known, key=lambda row: abs(row[0] - celsius))
    if abs(near_c - celsius) <= _SAME_K:
        return Tempered(near_h, Rests.TABLE)
    below = [row for row in known if row[0] < celsius]
    above = [row for row in known if row[0] > celsius]
    if below and above:
        return _between(below[-1], above[0], celsius)
    by_rule = time_at(near_h, near_c, celsius, doubling_k)
    return Tempered(by_rule, Rests.RULE, TimeAt(near_c, near_h))


def _between(
    cool: tuple[float, float], warm: tuple[float, float], celsius: float
) -> Tempered | None:
    (cool_c, cool_h), (warm_c, warm_h) = cool, warm
    if cool_h == warm_h:
        return Tempered(cool_h, Rests.BETWEEN)
    if math.inf in (cool_h, warm_h):
        return None
    share = (celsius - cool_c) / (warm_c - cool_c)
    if min(cool_h, warm_h) <= 0:
        return Tempered(cool_h + share * (warm_h - cool_h), Rests.BETWEEN)
    return Tempered(cool_h * math.pow(warm_h / cool_h, share), Rests.BETWEEN)
