"""How long the data sheet lets a coat wait for the next, at the temperature that prevailed."""

import math
from collections.abc import Iterable
from statistics import fmean

from workbench.analysis.measured import measured
from workbench.records import Application, Coat, Dossier, RecoatWindow, Weather
from workbench.trade.curing import DOUBLING_K, Tempered, TimeAt, tempered


def recoat_rows(
    dossier: Dossier, below: Coat | None, above: Coat | None
) -> tuple[RecoatWindow, ...]:
    """Return the rows of the data sheet for a pair of coats; those that name the upper first."""
    product = below.product if below else ""
    upper = above.product if above else ""
    rows = [r for r in dossier.all(RecoatWindow) if product and r.product == product]
    named = [row for row in rows if upper and row.on_top == upper]
    return tuple(named or [row for row in rows if not row.on_top])


def shortest_wait(
    rows: Iterable[RecoatWindow], celsius: float | None, doubling_k: float = DOUBLING_K
) -> Tempered | None:
    """Return the shortest time to the next coat; None where the data sheet does not say."""
    told = [TimeAt(_at(row), hours) for row in rows if (hours := _least_h(row)) is not None]
    return tempered(told, celsius, doubling_k)


def longest_wait(
    rows: Iterable[RecoatWindow], celsius: float | None, doubling_k: float = DOUBLING_K
) -> Tempered | None:
    """Return the longest time to the next coat; infinity where it says there is no maximum."""
    told = [TimeAt(_at(row), hours) for row in rows if (hours := _most_h(row)) is not None]
    return tempered(told, celsius, doubling_k)


def mean_celsius(weather: Iterable[Weather], log: Iterable[Application]) -> float | None:
    """Return the mean temperature of the surface, else of the air, else None.

    The weather record counts before the log; of the air both count alike.
    """
    rows, own = tuple(weather), tuple(log)
    air = [row.air for row in rows] + [row.air for row in own]
    for held in ([row.surface for row in rows], [row.surface for row in own], air):
        read = [measured(one, "degC", "degC") for one in held]
        if known := [one for one in read if one is not None]:
            return fmean(known)
    return None


def _at(row: RecoatWindow) -> float | None:
    return measured(row.at_temperature, "degC", "degC")


def _least_h(row: RecoatWindow) -> float | None:
    return measured(row.min_interval, "h", "h")


def _most_h(row: RecoatWindow) -> float | None:
    if row.max_interval is None:
        return None
    if row.max_interval.word == "none":
        return math.inf
    return measured(row.max_interval.quantity, "h", "h")
