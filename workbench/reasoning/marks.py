"""What a candidate accounts for by itself: what tells it from the others.

A reading that many causes lead one to expect (a strength, an age, the plane of all that fails at
the substrate) tells none of them. A rival is serious only where it accounts for something that the
other does not; where all that speaks for it speaks for the other too, it is open, not pressing.
"""

from collections.abc import Iterator

from workbench.reasoning.knowledge import Observation
from workbench.reasoning.results import Bearing, Cell
from workbench.reasoning.weighed import Weighed
from workbench.reasoning.weighing import FACTOR, POINTS, Scales, predicted_of
from workbench.records import Direction, Weight

_TOLD_BY_ALL = ("adhesion_value", "validity", "timing", "break_plane")
_ABSENT = ("no", "none", "no_difference", "none_found", "none_foreign", "within")
MODERATE = FACTOR[Direction.LIKELY] * POINTS[Weight.MODERATE]
_FAINT = FACTOR[Direction.LIKELY] * POINTS[Weight.WEAK]


def absent(value: str) -> bool:
    """Return whether a value says only that something was not found."""
    return value in _ABSENT


def _particular(c: Cell, value: str, scales: Scales) -> bool:
    """Return whether a value points to few causes."""
    knowledge = scales.knowledge
    group = knowledge.observation[c.key].group
    if group in _TOLD_BY_ALL or absent(value) or c.same_in_sound_areas:
        return False
    return knowledge.agreeing[c.key, value] <= scales.settings.common_share * len(knowledge.causes)


def marks(one: Weighed, scales: Scales) -> tuple[Cell, ...]:
    """Return the readings that point to a cause and to few others."""

    def make() -> tuple[Cell, ...]:
        return tuple(
            c for c in one.supporting if _weighs(one, c) and _particular(c, c.finding.value, scales)
        )

    return one.once("marks", make)


def _weighs(one: Weighed, c: Cell) -> bool:
    """Return whether a cause lays weight on a reading, however good the records of it are."""
    return any(
        c.finding.value in p.values and p.weight is not Weight.WEAK
        for p in predicted_of(one.cause, c.finding)
    )


def leanings(one: Weighed, scales: Scales) -> tuple[Cell, ...]:
    """Return what points to a cause on the face of records whose doubt leaves it unknown."""

    def make() -> tuple[Cell, ...]:
        return tuple(
            c
            for c in one.cells
            if c.finding.leaning
            and c.bearing is Bearing.NOT_READ
            and c.finding.leaning in c.predicted
            and _particular(c, c.finding.leaning, scales)
        )

    return one.once("leanings", make)


def examined(one: Weighed, scales: Scales) -> bool:
    """Return whether anything was read that could tell a cause from most others.

    What points to it, or what is contrary to it with some weight; that it does not agree with a
    reading of which it expects little is no examination.
    """
    against = sum(c.points for c in one.cells if c.bearing is Bearing.CONTRADICTS and c.counted)
    pointing = marks(one, scales) or leanings(one, scales)
    return one.barred or bool(pointing) or against <= -MODERATE


def adds_to(one: Weighed, other: Weighed, scales: Scales) -> bool:
    """Return whether a cause accounts for a particular reading that another does not."""
    pointing = (*marks(one, scales), *leanings(one, scales))
    return any(not _accounts(other, c, scales) for c in pointing)


def outdone(one: Weighed, by: Weighed, scales: Scales) -> bool:
    """Return whether another cause accounts for all that points to one, and for more."""
    return not adds_to(one, by, scales) and any(
        not _accounts(one, c, scales) for c in _weighty(by, scales)
    )


def _weighty(one: Weighed, scales: Scales) -> Iterator[Cell]:
    for c in one.supporting:
        group = _observation(c, scales).group
        weighs = c.counted and c.points > _FAINT and not c.same_in_sound_areas
        if weighs and group not in _TOLD_BY_ALL and not absent(c.finding.value):
            yield c


def _accounts(one: Weighed, reading: Cell, scales: Scales) -> bool:
    """Return whether a cause agrees with a reading, or with one of the same group of evidence."""
    group = _observation(reading, scales).group
    if any(_observation(c, scales).group == group for c in one.supporting):
        return True
    leaning = reading.finding.leaning
    value = leaning or reading.finding.value
    return any(
        value in p.values and (leaning or p.direction is Direction.POSSIBLE)
        for p in one.cause.of(reading.key)
    )


def _observation(c: Cell, scales: Scales) -> Observation:
    return scales.knowledge.observation[c.key]
