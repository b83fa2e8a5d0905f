"""Grades by rule, never by points alone; the program proposes, the investigator decides.

Established asks for direct evidence, a contrast with sound areas, no strong finding against, and
every look-alike and serious rival closed by evidence. Probable asks for two strong findings from
different groups and a contrast, with one serious rival open at most.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from workbench.reasoning.knowledge import Cause, Observation, Side, Stage
from workbench.reasoning.results import Bearing, Candidate, Cell, Rival
from workbench.reasoning.weighing import FACTOR, POINTS, Scales, points_of
from workbench.records import CauseDecision, Direction, Grade, Weight
from workbench.records.codes import Quality

_OF_STRENGTH, _OF_PLACE = ("adhesion_value", "validity"), "location"
_ALIKE = ("no", "no_difference")
_NO_CONTRAST = ("failing_uniform_everywhere", "hollow_area_exceeds_visible")
_AS_IT_SHOULD_BE = (("ftir_matches_reference", "yes"), ("lower_layers_sound", "yes"))
_BARRING = (Bearing.EXCLUDES, Bearing.WOULD_EXCLUDE)
_STRONG_AGAINST = FACTOR[Direction.UNLIKELY] * POINTS[Weight.STRONG]


@dataclass(frozen=True)
class Weighed:
    """A cause with its cells, before it is compared with others."""

    cause: Cause
    cells: tuple[Cell, ...]

    @cached_property
    def points(self) -> float:
        """The sum of the points that count."""
        return points_of(self.cells)

    @cached_property
    def barred(self) -> bool:
        """Whether a reading excludes the cause, or would once confirmed."""
        return any(one.bearing in _BARRING for one in self.cells)

    @cached_property
    def against(self) -> tuple[Cell, ...]:
        """Counted cells against the cause that do not exclude it."""
        held = (one for one in self.cells if one.bearing is Bearing.CONTRADICTS and one.counted)
        return tuple(sorted(held, key=lambda one: one.points))

    @cached_property
    def supporting(self) -> tuple[Cell, ...]:
        """Cells for the cause, the weightiest first."""
        held = (one for one in self.cells if one.bearing is Bearing.SUPPORTS)
        return tuple(sorted(held, key=lambda one: (not one.counted, -one.points)))

    @property
    def order(self) -> tuple[bool, float]:
        """Sort key: what is not barred first, then by points."""
        return (self.barred, -self.points)


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
    for prediction in cause.of(one.key):
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
    least = FACTOR[Direction.LIKELY] * POINTS[Weight.STRONG]
    return tuple(c for c in one.supporting if c.counted and c.points >= least)


def rivals_of(one: Weighed, field: Mapping[str, Weighed], scales: Scales) -> tuple[Rival, ...]:
    """Return the look-alikes and the serious rivals of a cause, closed and open."""
    listed = {x.cause: x.tell_apart for x in one.cause.lookalikes}
    serious = [
        other.cause.id
        for other in field.values()
        if other.cause.id != one.cause.id
        and not other.barred
        and one.points - other.points < scales.settings.serious
        and other.points >= scales.settings.possible
    ]
    names = dict.fromkeys([*listed, *serious])
    return tuple(
        _rival(one, field.get(name), name, listed.get(name, ""), scales)
        for name in names
        if name in scales.knowledge.cause and not _kin(one.cause, scales.knowledge.cause[name])
    )


def _kin(one: Cause, other: Cause) -> bool:
    """Return whether both may stand: a process and what leads to it, or two faces of one event."""
    if other.id in one.companions or one.id in other.companions:
        return True
    behind = other.process and one.id in other.upstream
    return behind or (one.process and other.id in one.upstream)


def _rival(
    one: Weighed, other: Weighed | None, name: str, tell_apart: str, scales: Scales
) -> Rival:
    title = scales.knowledge.cause[name].title
    if other is None:
        return Rival(cause=name, title=title, closed=True,
                     words="it does not act on this substrate and system")  # fmt: skip
    if other.barred:
        barring = [c for c in other.cells if c.bearing in _BARRING]
        words = f"excluded: {_told(barring, scales)}"
        sources = tuple(s for c in barring for s in c.finding.sources)
        return Rival(cause=name, title=title, closed=True, words=words, sources=sources)
    strong = [c for c in other.against if c.points <= _STRONG_AGAINST]
    far = one.points - other.points >= scales.settings.serious
    if strong or (other.against and far):
        held = (strong or list(other.against))[:3]
        words = f"against it: {_told(held, scales)}"
        sources = tuple(s for c in held for s in c.finding.sources)
        return Rival(cause=name, title=title, closed=True, words=words, sources=sources)
    return Rival(cause=name, title=title, closed=False,
                 words=tell_apart or "nothing read speaks against it")  # fmt: skip


def _told(cells: Iterable[Cell], scales: Scales) -> str:
    """Return what was found, in the short words of the observations."""
    said = (scales.knowledge.observation[c.key].says.get(c.finding.value, "") for c in cells)
    return "; ".join(dict.fromkeys(f"{words[:1].lower()}{words[1:]}" for words in said if words))


@dataclass(frozen=True)
class Proposal:
    """What the rules give, and why."""

    grade: Grade
    because: tuple[str, ...]


def propose(
    one: Weighed, rivals: Sequence[Rival], scales: Scales, *, aliased: bool = False
) -> Proposal:
    """Return the grade that the rules give a cause."""
    if one.barred:
        return _excluded(one, scales)
    direct, contrast = direct_evidence(one, scales), contrasts(one, scales)
    strong_against = [c for c in one.against if c.points <= _STRONG_AGAINST]
    open_rivals = [rival for rival in rivals if not rival.closed]
    lacking = _lacking(direct, contrast, _told(strong_against, scales), open_rivals)
    if aliased:
        lacking = (*lacking, "its circumstances go together with those of another candidate")
    if not strong_against and sum(c.points for c in one.against) <= _STRONG_AGAINST:
        lacking = (*lacking, "several weaker findings speak against it")
    if contrast and not stand_apart(contrast, scales):
        lacking = ("a second contrast, tested or examined, is missing", *lacking)
    settings = scales.settings
    if not lacking and one.points >= settings.probable:
        return Proposal(Grade.ESTABLISHED, (
            "direct evidence", "a contrast between failing and sound areas",
            "no strong finding against it", "every look-alike and serious rival closed",
        ))  # fmt: skip
    if (
        len(strong_findings(one)) >= 2
        and contrast
        and len(_serious(open_rivals, strong_against, aliased=aliased)) <= 1
        and one.points >= settings.probable
    ):
        return Proposal(Grade.PROBABLE, ("several strong findings and a contrast", *lacking))
    refuted = strong_against and not direct
    if one.points >= settings.possible and not refuted:
        return Proposal(Grade.POSSIBLE, ("it agrees with what was found", *lacking))
    looked = "what it predicts was looked for and not found"
    reason = looked if one.against else "little supports it"
    return Proposal(Grade.NOT_SUPPORTED, (reason,))


def _serious(open_rivals: Sequence[Rival], against: Sequence[Cell], *, aliased: bool) -> list[str]:
    held = [rival.cause for rival in open_rivals]
    held += [c.key for c in against]
    return [*held, *(["alias"] if aliased else [])]


def _excluded(one: Weighed, scales: Scales) -> Proposal:
    cells = [c for c in one.cells if c.bearing in _BARRING]
    waiting = any(c.bearing is Bearing.WOULD_EXCLUDE for c in cells)
    status = "awaiting confirmation" if waiting else "confirmed"
    return Proposal(Grade.EXCLUDED, (f"{_told(cells, scales)} ({status})",))


def _lacking(
    direct: Sequence[Cell], contrast: Sequence[Cell], against: str, open_rivals: Sequence[Rival]
) -> tuple[str, ...]:  # fmt: skip
    said = []
    if not direct:
        said.append("direct evidence is missing")
    if not contrast:
        said.append("a contrast with sound areas is missing")
    if against:
        said.append(f"this speaks strongly against it: {against}")
    said += [f"not parted from “{rival.title}”" for rival in open_rivals]
    return tuple(said)


def decided(candidate: Candidate, decision: CauseDecision | None) -> Candidate:
    """Return the candidate with the investigator's grade and part, where there is a decision."""
    if decision is None:
        return candidate
    firmer = decision.grade.firmness > candidate.proposed.firmness
    return replace(
        candidate,
        grade=decision.grade,
        role=decision.role or candidate.role,
        decided_by=decision.by,
        decision_reason=decision.reason,
        needs_reason=firmer and not decision.reason.strip(),
    )
