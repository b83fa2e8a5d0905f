"""Does the failure follow day, wait, batch, crew, treatment or feature? Exactly, all told."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from workbench.analysis.comparison.permutation import holm
from workbench.analysis.comparison.proportions import several_groups
from workbench.analysis.comparison.ranks import rank_test
from workbench.analysis.pattern.groupings import Grouping, groupings_of
from workbench.analysis.pattern.results import Pattern, Tally
from workbench.analysis.strength.results import Pull, StrengthResult
from workbench.records import Area, Dossier, Plane
from workbench.records.codes import Condition

_DRAWS = 9_999
_FEWEST_PULLS = 6


@dataclass(frozen=True, slots=True)
class _Areas:
    """Which areas fail and which do not; those repaired or unknown say neither."""

    failing: frozenset[str]
    holding: frozenset[str]


def patterns_of(dossier: Dossier, result: StrengthResult) -> tuple[Pattern, ...]:
    """Return every grouping of the areas with what failing has to do with it, strongest first.

    A grouping that comes out strong is a lead, not a cause: name a physical reason first.

    Args:
        dossier: The case.
        result: What the pull-offs say; the plane that fails and the settings come from it.
    """
    areas = _Areas(
        failing=_refs(dossier, Condition.FAILING),
        holding=_refs(dossier, Condition.NON_FAILING) | _refs(dossier, Condition.CONTROL),
    )
    plane = failing_plane(result)
    pulls = [pull for pull in result.pulls if pull.film.untouched]
    found = [_pattern(grouping, areas, pulls, plane, result) for grouping in groupings_of(dossier)]
    looks = sum(one.p is not None for one in found)
    corrected = [
        replace(one, p_corrected=p, looks=looks, same_as=_same_split(one, found))
        for one, p in zip(found, holm([one.p for one in found]), strict=True)
    ]
    return tuple(sorted(corrected, key=lambda one: 2.0 if one.p is None else one.p))


def failing_plane(result: StrengthResult) -> Plane | None:
    """Return the plane in which most of the failing areas' pulls broke; None where none did."""
    sums: dict[Plane, float] = {}
    for pull in result.pulls:
        if pull.condition is Condition.FAILING and pull.film.untouched:
            for plane, share in pull.shares:
                if not plane.in_glue:
                    sums[plane] = sums.get(plane, 0.0) + share
    return max(sums, key=lambda plane: sums[plane], default=None)


def _refs(dossier: Dossier, condition: Condition) -> frozenset[str]:
    return frozenset(area.ref for area in dossier.all(Area) if area.condition is condition)


def _pattern(
    grouping: Grouping,
    areas: _Areas,
    pulls: Sequence[Pull],
    plane: Plane | None,
    result: StrengthResult,
) -> Pattern:
    tallies = tuple(
        _tally(value, grouping.values, areas, pulls, plane) for value in _in_order(grouping)
    )
    p_readings, strata = _readings_permuted(grouping.values, pulls, plane, result.settings.seed)
    return Pattern(
        name=grouping.name,
        kind=grouping.kind,
        tallies=tallies,
        p=_p_of_areas(grouping, tallies, areas, result.settings.seed),
        p_readings=p_readings,
        strata=strata,
        fewest_areas=result.settings.fewest_areas,
        sources=grouping.sources,
    )


def _in_order(grouping: Grouping) -> list[str]:
    """Return the values of a grouping, by number where they have one."""
    if not grouping.numbers:
        return sorted(set(grouping.values.values()))
    lowest: dict[str, float] = {}
    for area, value in grouping.values.items():
        lowest[value] = min(grouping.numbers[area], lowest.get(value, np.inf))
    return sorted(lowest, key=lambda value: lowest[value])


def _p_of_areas(
    grouping: Grouping, tallies: Sequence[Tally], areas: _Areas, seed: int
) -> float | None:
    """Return exact p: by rank where the values have an order, else of the table."""
    if grouping.numbers:
        failing, holding = (
            np.array([number for area, number in grouping.numbers.items() if area in refs])
            for refs in (areas.failing, areas.holding)
        )
        tested = rank_test(failing, holding, seed=seed) if failing.size and holding.size else None
        return tested.p if tested else None
    table = np.array([[len(one.failing), len(one.holding)] for one in tallies])
    return several_groups(table, seed=seed)


def _tally(
    value: str,
    values: Mapping[str, str],
    areas: _Areas,
    pulls: Sequence[Pull],
    plane: Plane | None,
) -> Tally:
    refs = [ref for ref, said in values.items() if said == value]
    here = [pull for pull in pulls if pull.area in refs]
    shares = [pull.share(plane) for pull in here] if plane else []
    return Tally(
        value=value,
        failing=tuple(ref for ref in refs if ref in areas.failing),
        holding=tuple(ref for ref in refs if ref in areas.holding),
        pulls=len(here),
        broken=sum(shares) / len(shares) if shares else None,
    )


def _readings_permuted(
    values: Mapping[str, str], pulls: Sequence[Pull], plane: Plane | None, seed: int
) -> tuple[float | None, tuple[str, ...]]:
    """Return p of permuting the broken shares over the readings, and the strata kept.

    The statistic is the spread of the groups' means about the mean of all.
    """
    here = [pull for pull in pulls if pull.area in values]
    names = sorted({values[pull.area] for pull in here})
    if plane is None or len(here) < _FEWEST_PULLS or len(names) < 2:
        return None, ()
    shares = np.array([pull.share(plane) for pull in here])
    groups = np.array([names.index(values[pull.area]) for pull in here])
    days = [pull.day for pull in here]
    stratify = all(days) and len(set(days)) > 1
    strata = np.array([days.index(day) for day in days]) if stratify else np.zeros(len(here), int)
    observed = _between(shares[None, :], groups, len(names))[0]
    drawn = _between(_shuffled(shares, strata, seed), groups, len(names))
    at_least = int((drawn >= observed - 1e-12).sum())
    return (at_least + 1) / (_DRAWS + 1), ("day",) if stratify else ()


def _shuffled(
    shares: NDArray[np.float64], strata: NDArray[np.int_], seed: int
) -> NDArray[np.float64]:
    """Return rows of `shares`, exchanged within strata."""
    rng = np.random.default_rng(seed)
    rows = np.tile(shares, (_DRAWS, 1))
    for stratum in np.unique(strata):
        here = np.flatnonzero(strata == stratum)
        rows[:, here] = rng.permuted(rows[:, here], axis=1)
    return rows


def _between(
    rows: NDArray[np.float64], groups: NDArray[np.int_], count: int
) -> NDArray[np.float64]:
    member = np.eye(count)[groups]
    sums = rows @ member
    return np.asarray((sums**2 / member.sum(axis=0)).sum(axis=1), np.float64)


def _same_split(one: Pattern, others: Sequence[Pattern]) -> tuple[str, ...]:
    split = _split(one)
    return tuple(other.name for other in others if other is not one and _split(other) == split)


def _split(pattern: Pattern) -> frozenset[frozenset[str]]:
    return frozenset(frozenset((*one.failing, *one.holding)) for one in pattern.tallies) - {
        frozenset()
    }
