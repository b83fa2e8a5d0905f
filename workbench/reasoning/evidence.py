"""Direct evidence, contrast and weight: what a grade rests on."""

from collections.abc import Sequence

from workbench.reasoning.knowledge import Cause, Observation, Side, Stage
from workbench.reasoning.marks import MODERATE, marks
from workbench.reasoning.results import Cell
from workbench.reasoning.weighed import Weighed
from workbench.reasoning.weighing import FACTOR, POINTS, Scales, predicted_of
from workbench.records import (
    Direction,
    LabResult,
    Measurement,
    PullOff,
    Rating,
    SurveyEntry,
    Thickness,
    Weight,
)
from workbench.records.codes import Quality

_OF_STRENGTH, _OF_PLACE = ("adhesion_value", "validity"), "location"
_ALIKE = ("no", "no_difference")
_NO_CONTRAST = ("failing_uniform_everywhere", "hollow_area_exceeds_visible")
_AS_IT_SHOULD_BE = (("ftir_matches_reference", "yes"), ("lower_layers_sound", "yes"))
_STRONG = FACTOR[Direction.LIKELY] * POINTS[Weight.STRONG]
_DECISIVE = FACTOR[Direction.EXPECTED] * POINTS[Weight.DECISIVE]


def direct_evidence(one: Weighed, scales: Scales) -> tuple[Cell, ...]:
    """Return the direct evidence: what the cause expects, seen where the coating failed.

    One decisive expectation met on site or in the laboratory, or two strong ones from different
    groups of which the papers give one at most; never from poor records, never alike where the
    coating holds, and one of it from records that are good.
    """
    observations = scales.knowledge.observation
    held = [
        c
        for c in one.supporting
        if c.counted and c.finding.quality is not Quality.POOR and not c.same_in_sound_areas
    ]
    expected = [(c, _expected_weight(one.cause, c)) for c in held]
    telling = tuple(c for c, weight in expected if weight in (Weight.DECISIVE, Weight.STRONG))
    seen = [c for c in telling if observations[c.key].stage is not Stage.BACKGROUND]
    alone = any(c in seen for c, weight in expected if weight is Weight.DECISIVE)
    good = any(c.finding.quality is Quality.GOOD for c in telling)
    return telling if good and seen and (alone or len(telling) >= 2) else ()


def _expected_weight(cause: Cause, one: Cell) -> Weight | None:
    for prediction in predicted_of(cause, one.finding):
        if one.finding.value in prediction.values:
            return prediction.weight if prediction.direction is Direction.EXPECTED else None
    return None


def contrasts(one: Weighed, scales: Scales) -> tuple[Cell, ...]:
    """Return the cells in which failing and sound areas differ as the cause would have it.

    A difference of strength alone is none: every cause weakens.
    """
    observations = scales.knowledge.observation
    return tuple(
        c
        for c in one.supporting
        if c.finding.quality is not Quality.POOR and _differs(c, observations[c.key])
    )


def _differs(c: Cell, observation: Observation) -> bool:
    if observation.group in _OF_STRENGTH or c.finding.value in _ALIKE or c.key in _NO_CONTRAST:
        return False
    if (c.key, c.finding.value) in _AS_IT_SHOULD_BE:
        return False
    compared = observation.side is Side.CONTRAST or observation.group == _OF_PLACE
    return compared or c.finding.contrasted


def stand_apart(cells: Sequence[Cell], scales: Scales) -> bool:
    """Return whether contrasts are from two groups or more, one of them tested or examined."""
    observations = scales.knowledge.observation
    groups = {observations[c.key].group for c in cells}
    tested = any(observations[c.key].stage in (Stage.FIELD, Stage.LAB) for c in cells)
    return len(groups) > 1 and tested


def strong_findings(one: Weighed) -> tuple[Cell, ...]:
    """Return the counted supporting cells of at least strong weight."""
    return tuple(c for c in one.supporting if c.counted and c.points >= _STRONG)


_EXAMINATIONS = frozenset(
    kind.noun for kind in (SurveyEntry, PullOff, Rating, Thickness, Measurement, LabResult)
)


def looked_at(one: Weighed, scales: Scales) -> bool:
    """Return whether something that speaks for a cause was seen, tested or analysed.

    What is said of areas and layers alone describes the case; nobody has looked yet.
    """
    observations = scales.knowledge.observation
    return any(
        any(source.noun in _EXAMINATIONS for source in c.finding.sources)
        or (c.finding.method == "answer" and observations[c.key].stage is not Stage.BACKGROUND)
        for c in one.supporting
    )


def several_strong(one: Weighed, scales: Scales) -> bool:
    """Return whether strong findings of two groups speak for a cause.

    A decisive one with two of moderate weight that point to few causes is as much.
    """
    strong = strong_findings(one)
    if len(strong) >= 2:
        return True
    beside = [c for c in marks(one, scales) if c.counted and c not in strong]
    decisive = any(c.points >= _DECISIVE for c in strong)
    return decisive and sum(c.points >= MODERATE for c in beside) >= 2
