"""Conditions against each other, plane by plane: the ratio of medians, its interval, then p."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from itertools import combinations

import numpy as np

from workbench.analysis.comparison.between_conditions import corrected
from workbench.analysis.comparison.logrank import log_rank, log_rank_exact, log_rank_parts
from workbench.analysis.comparison.results import Comparison, Effect, Side
from workbench.analysis.comparison.strata import signs_exchanged, strata_of
from workbench.analysis.strength.bounds import envelope, upper_bound
from workbench.analysis.strength.results import Group, Method, StrengthSettings
from workbench.analysis.strength.study import Study
from workbench.records.codes import Condition

_POINTS = tuple(((np.arange(200) + 0.5) / 200).tolist())


def compare(studies: Sequence[Study], settings: StrengthSettings) -> tuple[Comparison, ...]:
    """Return every plane's strength compared between conditions, and between trial patches.

    A plane in which neither side broke is passed over: there is nothing to compare. The p of all
    planes compared between the same two groups are corrected together.
    """
    untouched = [study for study in studies if study.group.film.untouched]
    trials = [study for study in studies if study.group.film.treatment]
    return (
        *corrected(_pairs(untouched, _conditions_differ, settings)),
        *corrected(_pairs(trials, _treatments_differ, settings)),
    )


def _conditions_differ(one: Group, other: Group) -> bool:
    known = Condition.UNKNOWN not in (one.condition, other.condition)
    same = (one.system, one.plane) == (other.system, other.plane)
    return known and same and one.condition != other.condition


def _treatments_differ(one: Group, other: Group) -> bool:
    same = (one.system, one.plane, one.condition) == (other.system, other.plane, other.condition)
    return same and one.film.on == other.film.on and one.film != other.film


def _pairs(
    studies: Sequence[Study],
    differ: Callable[[Group, Group], bool],
    settings: StrengthSettings,
) -> Iterable[Comparison]:
    for one, other in combinations(studies, 2):
        groups = (one.group, other.group)
        broke = any(group.broke_here or group.at_most for group in groups)
        enough = all(group.method is not Method.TOO_FEW for group in groups)
        if broke and enough and differ(*groups):
            found = _compared(one, other, settings)
            if (found.value, found.low, found.high, found.p) != (None,) * 4:
                yield found


def _compared(one: Study, other: Study, settings: StrengthSettings) -> Comparison:
    value, low, high = _ratio(one, other, settings.confidence)
    bare = Comparison(
        quantity=f"strength of {one.group.plane_name}",
        unit="MPa",
        one=_side(one),
        other=_side(other),
        effect=Effect.RATIO_OF_MEDIANS,
        value=value,
        low=low,
        high=high,
        confidence=settings.confidence,
        fewest_areas=settings.fewest_areas,
        remarks=_remarks(one.group, other.group),
        sources=(*one.said.sources, *other.said.sources),
    )
    return _tested(bare, one, other, settings)


def _side(study: Study) -> Side:
    group = study.group
    name = str(group.condition)
    return Side(
        name=name if group.film.untouched else f"{name}, {group.film}",
        n=group.n,
        areas=len({pull.area for pull in study.said.pulls}),
        middle=group.median_mpa,
    )


def _tested(bare: Comparison, one: Study, other: Study, settings: StrengthSettings) -> Comparison:
    parts = (one.said.evidence, other.said.evidence)
    pulls = (*one.said.pulls, *other.said.pulls)
    mpa = np.concatenate([part.mpa for part in parts])
    broke = np.concatenate([part.broke + part.came_away for part in parts])
    weight = broke + np.concatenate([part.held for part in parts])
    first = np.arange(mpa.size) < parts[0].mpa.size
    strata = strata_of(
        first,
        {"day": [pull.day for pull in pulls], "operator": [pull.operator for pull in pulls]},
        [pull.bay for pull in pulls],
    )
    data = (mpa, broke, weight, first, strata.labels)
    exact = log_rank_exact(*data)
    rank = log_rank(*data)
    parts_of_all = log_rank_parts(*data)
    areas = [pull.area for pull in pulls]
    return replace(
        bare,
        p=exact.p if exact else None,
        p_areas=signs_exchanged(parts_of_all, areas, fewest=settings.fewest_areas),
        p_logrank=rank.p if rank else None,
        test=exact.way if exact else "",
        strata=strata.names,
        remarks=(*bare.remarks, *strata.remarks),
    )


def _ratio(
    one: Study, other: Study, confidence: float
) -> tuple[float | None, float | None, float | None]:
    """Return the ratio of medians with its interval; where a side is a bound, so is the ratio."""
    tail = (1 - confidence) / 2
    if one.posterior and other.posterior:
        a, b = (np.array(known.median(*_POINTS)) for known in (one.posterior, other.posterior))
        found = np.quantile(np.divide.outer(a, b), (0.5, tail, 1 - tail))
        return float(found[0]), float(found[1]), float(found[2])
    low_one, high_one = _ends(one, tail)
    low_other, high_other = _ends(other, tail)
    low = low_one / high_other if low_one and high_other else None
    high = high_one / low_other if high_one and low_other else None
    return None, low, high


def _ends(study: Study, tail: float) -> tuple[float | None, float | None]:
    """Return the one-sided limits of a median at half the risk each; None where there is none."""
    evidence = study.said.evidence
    if study.posterior:
        low, high = study.posterior.median(tail, 1 - tail)
        return low, high
    if study.group.lower_bound:
        return envelope(evidence.held_mpa, 1 - tail), None
    if study.group.method is Method.LOWER_BOUND:
        return study.group.low_mpa, None
    if study.group.at_most == study.group.n:
        return None, upper_bound(evidence.mpa, 1 - tail)
    return None, study.group.high_mpa


def _remarks(one: Group, other: Group) -> tuple[str, ...]:
    bounds = [group for group in (one, other) if group.method is not Method.ESTIMATE]
    said = [f"Only a bound for {group.condition}: so is the ratio." for group in bounds]
    if any(group.tentative for group in (one, other)):
        said.append("One side rests on the model more than on breaks here.")
    return tuple(said)
