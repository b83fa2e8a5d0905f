"""A candidate that is rejected: what it would lead one to expect, and what was found instead.

Each has its own paragraph; for the report those that fall by the same finding are told together.
"""

from collections.abc import Iterable, Mapping, Sequence

from workbench.reasoning.knowledge import Cause
from workbench.reasoning.prose.paragraph import paragraph
from workbench.reasoning.prose.telling import (
    Telling,
    findings_of,
    following,
    listed,
    lower,
    sources_of,
    stop,
)
from workbench.reasoning.results import Bearing, Candidate, Cell, Paragraph, Reasoning, Sentence
from workbench.reasoning.weighing import Scales
from workbench.records import Dossier, Grade

WHY_NOT = "Why it is not held"
_GROUNDS, _AGREEING = 3, 3


def grounds(one: Candidate) -> tuple[Cell, ...]:
    """Return the findings by which a candidate falls, the weightiest first."""
    against = [c for c in one.opposing if c.counted or c.bearing is not Bearing.CONTRADICTS]
    held = one.excluded_by or tuple(against)
    return tuple(c for c in held if c.finding.sources)[:_GROUNDS]


def rejected(one: Candidate, cause: Cause, told: Telling) -> Paragraph:
    """Return why a candidate is not held, from its own predictions and what was found."""
    falls_by = grounds(one)
    said = [s for c in falls_by for s in _fall(c, cause, told)]
    said += _status(one)
    said += _agreeing(one, told)
    if not falls_by and told.reasoning.basis:
        said.insert(0, _little(one, told))
    if one.decided_by:
        text = stop(f"The investigator grades it {one.grade}: {one.decision_reason}".rstrip(": "))
        said.append(Sentence(text=text, sources=sources_of(falls_by) or told.reasoning.basis))
    behind = findings_of([*falls_by, *(c for c in one.supporting if c.counted)])
    return paragraph(one.cause, WHY_NOT, said, behind, told.dossier)


def _fall(c: Cell, cause: Cause, told: Telling) -> list[Sentence]:
    """Return what the cause would show, what was found instead, and what that means."""
    sources = c.finding.sources
    wanted = told.expectation(cause, c)
    found = lower(c.finding.words or told.in_short(c))
    if wanted:
        text = f"It would lead one to expect that {lower(wanted)}; found instead: {found}."
    else:
        text = stop(found)
    said = [Sentence(text=text, sources=sources)]
    if c.why and not c.missed:
        said.append(Sentence(text=stop(following(c.why)), sources=sources))
    return said


def _status(one: Candidate) -> list[Sentence]:
    if not one.excluded_by:
        return []
    waiting = any(c.bearing is Bearing.WOULD_EXCLUDE for c in one.excluded_by)
    text = (
        "This excludes it; the exclusion awaits confirmation by the investigator."
        if waiting
        else "This excludes it; the investigator has confirmed the exclusion."
    )
    return [Sentence(text=text, sources=sources_of(one.excluded_by))]


def _agreeing(one: Candidate, told: Telling) -> list[Sentence]:
    """Return what agrees with a rejected candidate, so that nothing is kept back."""
    held = [c for c in one.supporting if c.counted and c.finding.sources][:_AGREEING]
    if not held:
        return []
    agrees = listed([lower(told.in_short(c)) for c in held])
    return [
        Sentence(text=f"What agrees with it does not outweigh this: {agrees}.",
                 sources=sources_of(held))
    ]  # fmt: skip


def _little(one: Candidate, told: Telling) -> Sentence:
    sources = sources_of(one.supporting) or told.reasoning.basis
    return Sentence(text=stop("; ".join(one.because)), sources=sources)


# -- those that fall together


def rejections(reasoning: Reasoning, scales: Scales, dossier: Dossier) -> tuple[Paragraph, ...]:
    """Return why the rejected candidates are not held, one paragraph for each deciding finding.

    Those that are told by themselves are left to their own paragraphs.
    """
    told = Telling(reasoning, scales, dossier)
    by_ground: dict[str, list[tuple[Candidate, Cell]]] = {}
    for one in reasoning.candidates:
        fallen = one.grade in (Grade.NOT_SUPPORTED, Grade.EXCLUDED)
        if fallen and not told_alone(one, reasoning):
            ground = grounds(one)[0]
            by_ground.setdefault(ground.key, []).append((one, ground))
    return tuple(_together(some, scales.knowledge.cause, told) for some in by_ground.values())


def told_alone(one: Candidate, reasoning: Reasoning) -> bool:
    """Return whether a rejected candidate is told by itself.

    One that a person has graded or put in own words, or that falls by no single finding.
    """
    edited = any(held.edited_by for held in reasoning.paragraphs_of(one.cause))
    return edited or bool(one.decided_by) or not grounds(one)


def _together(
    some: Sequence[tuple[Candidate, Cell]], causes: Mapping[str, Cause], told: Telling
) -> Paragraph:
    first = some[0][1]
    said = [Sentence(text=stop(told.in_full(first)), sources=first.finding.sources)]
    said += [_own(one, c, causes[one.cause], told) for one, c in some]
    return paragraph("", told.in_short(first), said, findings_of(c for _, c in some), told.dossier)


def _own(one: Candidate, c: Cell, cause: Cause, told: Telling) -> Sentence:
    """Return why one candidate falls by a finding that was just told."""
    wanted = told.expectation(cause, c)
    words = f"“{one.title}”"
    why = c.why if not c.missed else ""
    if wanted:
        words += f" would lead one to expect that {lower(wanted)}"
        words += f"; {following(why)}" if why else ""
    else:
        words += " does not agree with this"
        words += f", for {lower(why)}" if why else ""
    beside = [lower(told.in_short(other)) for other in grounds(one) if other is not c]
    if beside:
        words += f"; what also speaks against it is that {listed(beside)}"
    cells: Iterable[Cell] = grounds(one) or (c,)
    return Sentence(text=stop(words), sources=sources_of(cells))
