"""Each candidate against each finding: supports, contradicts, excludes, silent, not read.

Unknown counts for nothing. Within a group of evidence only the strongest reading for and the
strongest against count, so that one fact seen three ways is one fact. What is the same where the
coating holds is a background and counts a step less. A reading that would exclude a cause is a
veto that a person confirms; on poor records, few readings, or beside a rival plane it is evidence
against. Points order candidates and tests; they are no probabilities and are never printed.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from workbench.reasoning.knowledge import (
    FOR,
    Cause,
    Knowledge,
    Observation,
    Prediction,
    Side,
    Stage,
)
from workbench.reasoning.results import Bearing, Cell, Finding
from workbench.reasoning.settings import Settings
from workbench.records import Direction, ExclusionDecision, Weight
from workbench.records.codes import Quality, YesNo
from workbench.trade.showing import Showing

POINTS = {Weight.DECISIVE: 3.0, Weight.STRONG: 2.0, Weight.MODERATE: 1.0, Weight.WEAK: 0.5}
FACTOR = {
    Direction.EXPECTED: 1.0,
    Direction.LIKELY: 0.7,
    Direction.POSSIBLE: 0.0,
    Direction.UNLIKELY: -0.7,
    Direction.EXCLUDED: -2.0,
}
_STEP_DOWN = {
    Weight.DECISIVE: Weight.STRONG,
    Weight.STRONG: Weight.MODERATE,
    Weight.MODERATE: Weight.WEAK,
    Weight.WEAK: Weight.WEAK,
}


_TRIED = (
    Prediction(
        key="lab_reproduction_of_failure", values=("yes",), direction=Direction.EXPECTED,
        weight=Weight.DECISIVE, expect="Panels made so that it alone acts fail as the coating did",
        why="This much of it is enough to bring the failure about",
    ),
    Prediction(
        key="lab_reproduction_of_failure", values=("no",), direction=Direction.UNLIKELY,
        weight=Weight.STRONG, expect="Panels made so that it alone acts do not fail",
        why="This much of it is not enough by itself",
    ),
)  # fmt: skip
"""What a trial made for one cause bears on that cause, whatever the cause predicts of others."""


@dataclass(frozen=True)
class Scales:
    """What weighing needs besides the findings."""

    knowledge: Knowledge
    settings: Settings
    decisions: Mapping[tuple[str, str], ExclusionDecision]
    showing: Showing = field(default_factory=Showing)


def weigh(cause: Cause, findings: Mapping[str, Finding], scales: Scales) -> tuple[Cell, ...]:
    """Return one cell for each observation of the matrix, those that count marked."""
    cells = [
        cell(cause, one, findings[one.key], scales)
        for one in scales.knowledge.observations
        if one.in_matrix and one.key in findings
    ]
    return tuple(_counted(cells, scales.knowledge))


def cell(cause: Cause, observation: Observation, finding: Finding, scales: Scales) -> Cell:
    """Return how one finding bears on one cause, not yet knowing whether it counts."""
    predictions = predicted_of(cause, finding)
    if finding.speaks_of and predictions:
        finding = replace(finding, value=dict(finding.speaks_of)[cause.id])
    predicted = tuple(v for one in predictions if one.direction in FOR for v in one.values)
    blank = Cell(
        cause=cause.id, key=observation.key, bearing=Bearing.SILENT, finding=finding,
        predicted=predicted,
    )  # fmt: skip
    telling = [one for one in predictions if one.direction is not Direction.POSSIBLE]
    if not telling:
        return blank
    if not finding.known:
        first = telling[0]
        return replace(
            blank, bearing=Bearing.NOT_READ, expect=first.expect, why=first.why,
            decisive=any(_decides(one) for one in telling),
        )  # fmt: skip
    hit = next((one for one in predictions if finding.value in one.values), None)
    if hit:
        return _hit(blank, observation, hit, scales)
    return _miss(blank, predictions, finding, scales)


def predicted_of(cause: Cause, finding: Finding) -> tuple[Prediction, ...]:
    """Return what a cause predicts of what was found; a trial bears on whom it was made for."""
    if not finding.speaks_of or finding.method == "answer":
        return cause.of(finding.key)
    return _TRIED if cause.id in dict(finding.speaks_of) else ()


def _decides(one: Prediction) -> bool:
    return one.weight is Weight.DECISIVE and one.direction is not Direction.LIKELY


def _hit(blank: Cell, observation: Observation, hit: Prediction, scales: Scales) -> Cell:
    if hit.direction is Direction.POSSIBLE:
        return replace(blank, expect=hit.expect, why=hit.why)
    if hit.direction is Direction.EXCLUDED:
        return _veto(blank, observation, hit, scales)
    weight, same = _weight(blank.finding, observation, hit)
    points = FACTOR[hit.direction] * POINTS[weight]
    return replace(
        blank,
        bearing=Bearing.SUPPORTS if points > 0 else Bearing.CONTRADICTS,
        points=points,
        expect=hit.expect,
        why=hit.why,
        decisive=_decides(hit) and weight is Weight.DECISIVE,
        same_in_sound_areas=same,
    )


def _weight(finding: Finding, observation: Observation, hit: Prediction) -> tuple[Weight, bool]:
    weight = hit.weight
    same = finding.same_on_both_sides and observation.side is Side.FAILING and hit.direction in FOR
    if finding.quality is Quality.POOR:
        weight = _STEP_DOWN[weight]
    return (_STEP_DOWN[weight] if same else weight), same


def _miss(
    blank: Cell, predictions: Iterable[Prediction], finding: Finding, scales: Scales
) -> Cell:  # fmt: skip
    """Return what an unlisted value means: a missed expectation counts against, a step lower."""
    wanted = [one for one in predictions if one.direction in FOR and not one.implied]
    if not wanted or _partly(finding, [v for one in wanted for v in one.values], scales):
        return blank
    first = next((one for one in wanted if one.direction is Direction.EXPECTED), wanted[0])
    weight = Weight.WEAK
    if first.direction is Direction.EXPECTED:
        weight = _STEP_DOWN[first.weight]
    if finding.quality is Quality.POOR:
        weight = _STEP_DOWN[weight]
    return replace(
        blank, bearing=Bearing.CONTRADICTS, points=FACTOR[Direction.UNLIKELY] * POINTS[weight],
        expect=first.expect, why=first.why, missed=True,
    )  # fmt: skip


def _partly(finding: Finding, values: Iterable[str], scales: Scales) -> bool:
    """Return whether a share worth naming of the readings is as the cause would have it."""
    shares = dict(finding.shares)
    return sum(shares.get(value, 0) for value in set(values)) >= scales.settings.rival_plane


def _veto(blank: Cell, observation: Observation, hit: Prediction, scales: Scales) -> Cell:
    finding = blank.finding
    decision = scales.decisions.get((blank.cause, blank.key))
    base = replace(blank, expect=hit.expect, why=hit.why, decisive=_decides(hit))
    if decision and decision.confirmed is YesNo.YES:
        points = FACTOR[Direction.EXCLUDED] * POINTS[hit.weight]
        return replace(base, bearing=Bearing.EXCLUDES, points=points)
    declined = decision is not None
    allowed = [one for one in scales.knowledge.cause[blank.cause].of(blank.key) if one is not hit]
    fits = [v for one in allowed if one.direction is not Direction.UNLIKELY for v in one.values]
    if declined or _too_weak(finding, observation, scales) or _partly(finding, fits, scales):
        weight = hit.weight if _too_weak(finding, observation, scales) else _STEP_DOWN[hit.weight]
        weight = min(weight, Weight.STRONG, key=lambda one: POINTS[one])
        points = FACTOR[Direction.UNLIKELY] * POINTS[weight]
        return replace(base, bearing=Bearing.CONTRADICTS, points=points)
    points = FACTOR[Direction.EXCLUDED] * POINTS[hit.weight]
    return replace(base, bearing=Bearing.WOULD_EXCLUDE, points=points)


def _too_weak(finding: Finding, observation: Observation, scales: Scales) -> bool:
    """Return whether a reading is too poor, or rests on too few, to exclude anything."""
    if finding.quality is Quality.POOR:
        return True
    if finding.method == "answer" or observation.stage is Stage.BACKGROUND:
        return False
    few = {
        Stage.LAB: scales.settings.fewest_lab_for_exclusion,
    }.get(observation.stage, scales.settings.fewest_for_exclusion)
    return finding.n < few


def _counted(cells: Iterable[Cell], knowledge: Knowledge) -> list[Cell]:
    held = list(cells)
    best: dict[tuple[str, bool], int] = {}
    for at, one in enumerate(held):
        if one.points == 0:
            continue
        slot = (knowledge.observation[one.key].group, one.points > 0)
        if slot not in best or abs(one.points) > abs(held[best[slot]].points):
            best[slot] = at
    chosen = set(best.values())
    return [replace(one, counted=at in chosen) for at, one in enumerate(held)]


def recounted(cells: Sequence[Cell], at: int, new: Cell, knowledge: Knowledge) -> tuple[Cell, ...]:
    """Return the cells with one replaced, and its group counted afresh."""
    observation = knowledge.observation
    group = observation[new.key].group
    changed = list(cells)
    changed[at] = new
    inside = [i for i, one in enumerate(changed) if observation[one.key].group == group]
    fresh = _counted([changed[i] for i in inside], knowledge)
    for i, one in zip(inside, fresh, strict=True):
        changed[i] = one
    return tuple(changed)


def points_of(cells: Iterable[Cell]) -> float:
    """Return the sum of the points that count."""
    return sum(one.points for one in cells if one.counted)
