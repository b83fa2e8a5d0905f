"""Ratings, thickness and every measured quantity, compared between conditions."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from itertools import combinations

import numpy as np
from scipy.stats import rankdata

from workbench.analysis.comparison.permutation import Floats, holm
from workbench.analysis.comparison.proportions import association
from workbench.analysis.comparison.ranks import dominance, rank_test, shift
from workbench.analysis.comparison.results import Comparison, Effect, Side
from workbench.analysis.comparison.strata import areas_permuted, strata_of
from workbench.records import Source
from workbench.records.codes import Condition

_FEWEST = 2
"""Readings needed on each side before anything is said."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CompareSettings:
    """Choices of a comparison; see `StrengthSettings` for those of the same name."""

    confidence: float = 0.95
    fewest_areas: int = 6
    seed: int = 4624


@dataclass(frozen=True, slots=True, kw_only=True)
class Observed:
    """One reading to compare.

    Attributes:
        value: The number; 1 and 0 for yes and no.
        condition: The condition it stands for.
        area: The area it lies in.
        bay: The area that this area lies in, or itself.
        source: The record.
        day: Day of the reading.
        operator: Who read it.
    """

    value: float
    condition: Condition
    area: str
    bay: str = ""
    source: Source
    day: date | None = None
    operator: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """All readings of one quantity by one method.

    Attributes:
        quantity: What it is, in words.
        unit: Unit of the values; empty for ratings and yes or no.
        effect: How two groups are set against each other.
        readings: The readings.
        remarks: What a reader must know of them, as sentences.
    """

    quantity: str
    unit: str
    effect: Effect
    readings: tuple[Observed, ...]
    remarks: tuple[str, ...] = ()


def compare_measured(
    quantities: Iterable[Measured], settings: CompareSettings | None = None
) -> tuple[Comparison, ...]:
    """Return every quantity compared between each two known conditions that have readings of it.

    The p of all quantities compared between the same two conditions are corrected together.
    """
    chosen = settings or CompareSettings()
    return corrected(
        comparison
        for measured in quantities
        for one, other in combinations(_by_condition(measured).values(), 2)
        for comparison in _compared(measured, one, other, chosen)
    )


def corrected(comparisons: Iterable[Comparison]) -> tuple[Comparison, ...]:
    """Return comparisons with p corrected for all that are tested between the same two groups."""
    every = list(comparisons)
    families: dict[tuple[str, str], list[int]] = {}
    for at, one in enumerate(every):
        families.setdefault((one.one.name, one.other.name), []).append(at)
    for members in families.values():
        looks = sum(every[at].p is not None for at in members)
        for at, p in zip(members, holm([every[at].p for at in members]), strict=True):
            every[at] = replace(every[at], p_corrected=p, looks=looks)
    return tuple(every)


def _by_condition(measured: Measured) -> Mapping[Condition, list[Observed]]:
    groups: dict[Condition, list[Observed]] = {}
    for condition in Condition:
        here = [one for one in measured.readings if one.condition is condition]
        if condition is not Condition.UNKNOWN and len(here) >= _FEWEST:
            groups[condition] = here
    return groups


def _compared(
    measured: Measured,
    one: Sequence[Observed],
    other: Sequence[Observed],
    settings: CompareSettings,
) -> Iterable[Comparison]:
    both = (*one, *other)
    first = np.arange(len(both)) < len(one)
    strata = strata_of(
        first,
        {"day": [read.day for read in both], "operator": [read.operator for read in both]},
        [read.bay for read in both],
    )
    a, b = (np.array([read.value for read in side]) for side in (one, other))
    tested = rank_test(a, b, list(strata.labels), seed=settings.seed)
    areas = areas_permuted(
        np.asarray(rankdata(np.concatenate([a, b])), np.float64),
        first,
        [read.area for read in both],
        fewest=settings.fewest_areas,
        seed=settings.seed,
    )
    value, low, high = _effect(measured.effect, a, b, settings.confidence)
    yield Comparison(
        quantity=measured.quantity,
        unit=measured.unit,
        one=_side(one, a),
        other=_side(other, b),
        effect=measured.effect,
        value=value,
        low=low,
        high=high,
        confidence=settings.confidence,
        p=tested.p if tested else None,
        p_areas=areas.p if areas else None,
        test=f"rank sum, {tested.way}" if tested else "",
        strata=strata.names,
        fewest_areas=settings.fewest_areas,
        remarks=(*measured.remarks, *strata.remarks),
        sources=tuple(read.source for read in both),
    )


def _side(readings: Sequence[Observed], values: Floats) -> Side:
    return Side(
        name=str(readings[0].condition),
        n=len(readings),
        areas=len({read.area for read in readings}),
        middle=float(np.median(values)),
    )


def _effect(
    effect: Effect, a: Floats, b: Floats, confidence: float
) -> tuple[float | None, float | None, float | None]:
    if effect is Effect.SHIFT:
        moved = shift(a, b, confidence)
        return moved.value, moved.low, moved.high
    if effect is Effect.DOMINANCE:
        ahead = dominance(a, b, confidence)
        return ahead.value, ahead.low, ahead.high
    table = [[int(side.sum()), int((1 - side).sum())] for side in (a, b)]
    found = association(np.array([table]), confidence)
    return (found.odds_ratio, found.low, found.high) if found else (None, None, None)
