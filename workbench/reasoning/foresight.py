"""What a value not yet read would do to the candidates that are left."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import combinations

from workbench.reasoning.knowledge import Observation
from workbench.reasoning.ranking import Standing
from workbench.reasoning.results import Bearing, Cell, Finding
from workbench.reasoning.weighed import Weighed
from workbench.reasoning.weighing import Scales, cell
from workbench.records import Direction
from workbench.records.codes import Quality

_BARRED = -6.0
_LIKELIHOOD = {
    Direction.EXPECTED: 0.8,
    Direction.LIKELY: 0.6,
    Direction.POSSIBLE: 0.4,
    Direction.UNLIKELY: 0.15,
    Direction.EXCLUDED: 0.03,
}
_UNLISTED, _MISSED = 0.3, 0.1
_MOST, _FEWEST = 6, 3
_FAR = 6.0
"""Points of lead at which two candidates are told apart."""


@dataclass(frozen=True, slots=True)
class Effect:
    """What one value of one observation would do to each candidate left."""

    value: str
    weight: float
    deltas: Mapping[str, float]
    barred: tuple[str, ...]


def contenders(standing: Standing, scales: Scales) -> tuple[Weighed, ...]:
    """Return the candidates that are left: those that lead together, else the leader and the next.

    Next to a leader stand first the rivals that it is not parted from. Where nothing leads, the
    first few that no reading excludes.
    """
    free = [name for name in standing.order if not standing.field[name].barred]
    if len(standing.leaders) > 1:
        names = list(standing.leaders)
    else:
        top = max((standing.field[name].points for name in free), default=0.0)
        near = [
            name for name in free if top - standing.field[name].points < scales.settings.serious
        ]
        left = [rival for name in standing.leaders for rival in _open_rivals(standing, name)]
        names = list(dict.fromkeys([*standing.leaders, *left, *near, *free[:_FEWEST]]))
    return tuple(standing.field[name] for name in names[:_MOST])


def _open_rivals(standing: Standing, name: str) -> list[str]:
    """Return the rivals that keep the grade of a cause down, those that press first."""
    held = sorted(standing.rivals[name], key=lambda rival: not rival.pressing)
    return [rival.cause for rival in held if not rival.closed and rival.cause in standing.field]


def effects(
    observation: Observation, left: Iterable[Weighed], scales: Scales
) -> tuple[Effect, ...]:
    """Return what each value of an observation would do, with how plausible it is."""
    held = tuple(left)
    raw = [_effect(observation, value, held, scales) for value in observation.values]
    whole = sum(one.weight for one in raw) or 1
    return tuple(Effect(o.value, o.weight / whole, o.deltas, o.barred) for o in raw)


def _effect(
    observation: Observation, value: str, left: tuple[Weighed, ...], scales: Scales
) -> Effect:
    finding = Finding(key=observation.key, value=value, n=5, quality=Quality.GOOD)
    deltas, barred, weight = {}, [], 0.0
    for one in left:
        new = cell(one.cause, observation, finding, scales)
        if new.bearing in (Bearing.WOULD_EXCLUDE, Bearing.EXCLUDES):
            barred.append(one.cause.id)
            deltas[one.cause.id] = _BARRED
        else:
            deltas[one.cause.id] = _delta(one.cells, new, scales)
        weight += _likelihood(one, observation, value) / len(left)
    return Effect(value, weight, deltas, tuple(barred))


def _delta(cells: Iterable[Cell], new: Cell, scales: Scales) -> float:
    """Return the change of the counted points when one cell is put in the place of another."""
    observation = scales.knowledge.observation
    group = observation[new.key].group
    before = [one for one in cells if observation[one.key].group == group]
    after = [new if one.key == new.key else one for one in before]
    return _counting(after) - _counting(before)


def _counting(cells: Iterable[Cell]) -> float:
    points = [one.points for one in cells]
    return max([0.0, *points]) + min([0.0, *points])


def _likelihood(one: Weighed, observation: Observation, value: str) -> float:
    predictions = one.cause.of(observation.key)
    for prediction in predictions:
        if value in prediction.values:
            return _LIKELIHOOD[prediction.direction]
    missed = any(p.direction is Direction.EXPECTED for p in predictions)
    return _MISSED if missed else _UNLISTED


def expected_change(held: Iterable[Effect], left: Iterable[Weighed]) -> float:
    """Return by how much the leads of candidates over each other are expected to change.

    A lead beyond which nothing more is told apart counts no further: what would exclude a
    candidate that is far behind already settles little.
    """
    points = {one.cause.id: one.points for one in left}
    pairs = list(combinations(points, 2))
    if not pairs:
        return 0.0
    return sum(
        one.weight * sum(_moved(one, points, a, b) for a, b in pairs) / len(pairs) for one in held
    )


def _moved(effect: Effect, points: Mapping[str, float], a: str, b: str) -> float:
    before = points[a] - points[b]
    after = before + effect.deltas[a] - effect.deltas[b]
    return abs(_told_apart(after) - _told_apart(before))


def _told_apart(lead: float) -> float:
    return max(-_FAR, min(_FAR, lead))


def parted(held: Iterable[Effect]) -> tuple[str, ...]:
    """Return the candidates that some value would move apart from the others."""
    moved: dict[str, None] = {}
    for one in held:
        for name, delta in one.deltas.items():
            if abs(delta) >= 0.5:
                moved[name] = None
    return tuple(moved)
