"""Grades by rule, never by points alone; the program proposes, the investigator decides.

Established asks for direct evidence, a contrast with sound areas, no strong finding against, and
every look-alike and serious rival closed by evidence. Probable asks for several strong findings
and a contrast, with one rival at most that accounts for something this cause does not. Nothing is
graded of which nothing telling was read: what was not looked for is open, not unsupported.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from workbench.reasoning.evidence import (
    contrasts,
    direct_evidence,
    looked_at,
    several_strong,
    stand_apart,
)
from workbench.reasoning.marks import MODERATE, examined, leanings, marks
from workbench.reasoning.results import Bearing, Candidate, Cell, Graded, Rival, Ungraded
from workbench.reasoning.rivals import STRONG_AGAINST, told
from workbench.reasoning.weighed import BARRING, Weighed
from workbench.reasoning.weighing import Scales
from workbench.records import CauseDecision, Grade


@dataclass(frozen=True)
class Proposal:
    """What the rules give, and why."""

    grade: Graded
    because: tuple[str, ...]


def propose(
    one: Weighed, rivals: Sequence[Rival], scales: Scales, *, aliased: bool = False
) -> Proposal:
    """Return the grade that the rules give a cause; none where nothing telling was read."""
    if one.barred:
        return _excluded(one, scales)
    direct, contrast = direct_evidence(one, scales), contrasts(one, scales)
    strong_against = [c for c in one.against if c.points <= STRONG_AGAINST]
    open_rivals = [rival for rival in rivals if not rival.closed]
    lacking = _lacking(direct, contrast, told(strong_against, scales), open_rivals)
    if aliased:
        lacking = (*lacking, "its circumstances go together with those of another candidate")
    weaker = not strong_against and sum(c.points for c in one.against) <= STRONG_AGAINST
    if weaker:
        lacking = (*lacking, "several weaker findings speak against it")
    if contrast and not stand_apart(contrast, scales):
        lacking = ("a second contrast, tested or examined, is missing", *lacking)
    firm = one.points >= scales.settings.probable and bool(contrast) and looked_at(one, scales)
    if firm and not lacking:
        return Proposal(Grade.ESTABLISHED, (
            "direct evidence", "a contrast between failing and sound areas",
            "no strong finding against it", "every look-alike and serious rival closed",
        ))  # fmt: skip
    in_the_way = sum(rival.pressing for rival in open_rivals) + len(strong_against)
    in_the_way += aliased + weaker
    if firm and in_the_way <= 1 and several_strong(one, scales) and marks(one, scales):
        return Proposal(Grade.PROBABLE, ("several strong findings and a contrast", *lacking))
    refuted = strong_against and not direct
    pointing = marks(one, scales) or leanings(one, scales)
    if one.points >= scales.settings.possible and not refuted and pointing:
        return Proposal(Grade.POSSIBLE, ("it agrees with what was found", *lacking))
    return _unsupported(one, scales)


def _unsupported(one: Weighed, scales: Scales) -> Proposal:
    """Return that what a cause predicts was not found, or that nothing telling was read."""
    contrary = sum(c.points for c in one.against) <= -MODERATE
    if contrary:
        return Proposal(Grade.NOT_SUPPORTED, (told(one.against, scales),))
    if examined(one, scales):
        return Proposal(Grade.NOT_SUPPORTED, ("too little of what it predicts was found",))
    return Proposal(
        Ungraded.NOT_EXAMINED, ("nothing was read that would tell it from other causes",)
    )


def _excluded(one: Weighed, scales: Scales) -> Proposal:
    cells = [c for c in one.cells if c.bearing in BARRING]
    waiting = any(c.bearing is Bearing.WOULD_EXCLUDE for c in cells)
    status = "awaiting confirmation" if waiting else "confirmed"
    return Proposal(Grade.EXCLUDED, (f"{told(cells, scales)} ({status})",))


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
    if open_rivals:
        titles = [f"“{rival.title}”" for rival in open_rivals]
        several = f"{', '.join(titles[:-1])} and {titles[-1]}" if titles[1:] else titles[0]
        said.append(f"not parted from {several}")
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
