"""Drafts of opinions: each clause of a question answered from what the case holds on its matter.

A clause on where the coating parts is answered from the plane that dominates and the areas that
fail, one on the cause from the verdict, one on the repair from what is usually done about the
causes that lead. What no such word is in stays to be written.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from workbench.reasoning.amended import amended
from workbench.reasoning.loading import load_knowledge
from workbench.reasoning.results import MIXED, Candidate, NextTest, Reasoning, Ungraded
from workbench.records import (
    TO_BE_WRITTEN,
    Area,
    Dossier,
    Grade,
    LabResult,
    Measurement,
    Opinion,
    Source,
)
from workbench.records.codes import Condition


class Matter(StrEnum):
    """What a clause of a question is on, in the order in which its words are sought."""

    PERSONS = "persons"
    EXTENT = "extent"
    REPAIR = "repair"
    CAUSE = "cause"
    PLACE = "place"


_SAID_BY = {
    Matter.PERSONS: r"who|whose|part(?:y|ies)|liab\w*|responsib\w*|blame\w*|fault|neglig\w*",
    Matter.EXTENT: r"how (?:far|much|many|large|wide)|extent",
    Matter.REPAIR: r"repair\w*|remed\w*|remov\w*|recoating|renew\w*|make good|put right|restor\w*",
    Matter.CAUSE: r"why|caus\w*|reasons?|origin|due to|led to|how did|how could",
    Matter.PLACE: (
        r"where|(?:which|what) (?:\w+ ){0,2}?(?:plane|layer|coat|interface|area|bay|part|place)s?"
    ),
}
_CLAUSES = re.compile(r"[,;?]\s+and\s+|[;?]\s+|,\s+(?=how )")


@dataclass(frozen=True, slots=True)
class _Part:
    """The draft on one matter; without words where the case holds nothing on it."""

    words: str = ""
    basis: tuple[Source, ...] = ()


def matter_of(clause: str) -> Matter | None:
    """Return what a clause of a question is on; None where its words do not tell."""
    said = (
        m for m, words in _SAID_BY.items() if re.search(rf"\b(?:{words})\b", clause, re.IGNORECASE)
    )
    return next(said, None)


def clauses_of(question: str) -> tuple[str, ...]:
    """Return the clauses of a question: "Why did it part, and what is to be done?" has two."""
    return tuple(filter(None, (one.strip(" ,.;?") for one in _CLAUSES.split(question))))


def draft_of(reasoning: Reasoning, dossier: Dossier, question: str, ref: str, by: str) -> Opinion:
    """Return a draft on a question; what the case holds nothing on stays to be written."""
    parts: dict[Matter, _Part] = {}
    left = []
    for clause in clauses_of(question) or (question,):
        matter = matter_of(clause)
        part = _drafted(matter, reasoning, dossier)
        if matter and part.words:
            parts[matter] = part
        else:
            left.append(f"{TO_BE_WRITTEN} what can be said on “{clause}”.")
    basis = dict.fromkeys(str(source) for part in parts.values() for source in part.basis)
    on_cause = Matter.CAUSE in parts
    return Opinion(
        ref=ref,
        question=question,
        opinion=" ".join((*(part.words for part in parts.values()), *left)),
        grade=_grade(reasoning) if on_cause and len(parts) == 1 else None,
        basis="; ".join(basis),
        against=" ".join(one.words for one in reasoning.against) if on_cause else "",
        limits=_limits(reasoning, dossier) if on_cause else "",
        range_of_opinion=_range(reasoning) if on_cause else "",
        by=by,
    )


def _drafted(matter: Matter | None, reasoning: Reasoning, dossier: Dossier) -> _Part:
    if matter is Matter.CAUSE:
        return _Part(reasoning.verdict, _basis(_leading(reasoning)))
    if matter is Matter.PLACE:
        return _place(reasoning, dossier)
    if matter is Matter.REPAIR:
        return _repair(reasoning, dossier)
    return _Part()


def _place(reasoning: Reasoning, dossier: Dossier) -> _Part:
    """Return where the coating parts, and what the areas that fail are."""
    found = reasoning.finding("break_plane_dominant_failing")
    if not found.known:
        return _Part()
    which = reasoning.finding("break_interface_which")
    said = which.words if which.known and found.value != MIXED else ""
    said = said or ("no single plane dominates" if found.value == MIXED else found.words)
    beside = f": {found.words}" if said != found.words else ""
    failing = [one for one in dossier.all(Area) if one.condition is Condition.FAILING]
    areas = "; ".join(f"{one.name} ({one.ref})" for one in failing)
    words = f"{said[:1].upper()}{said[1:]}{beside}. The areas recorded as failing: {areas}."
    return _Part(words, (*found.sources, *(one.source for one in failing)))


def _repair(reasoning: Reasoning, dossier: Dossier) -> _Part:
    """Return what is usually done about the causes that lead."""
    known = amended(load_knowledge(), dossier).cause
    leading = [one for one in _leading(reasoning) if one.cause in known and known[one.cause].remedy]
    words = " ".join(
        f"About “{one.title}” ({one.grade}) it is usual to do this: "
        f"{known[one.cause].remedy[:1].lower()}{known[one.cause].remedy[1:].rstrip('.')}."
        for one in leading
    )
    return _Part(words, _basis(leading))


def _leading(reasoning: Reasoning) -> list[Candidate]:
    return [one for one in reasoning.candidates if one.cause in reasoning.leaders]


def _basis(lead: Iterable[Candidate]) -> tuple[Source, ...]:
    held = list(lead)
    cells = [c for one in held for c in (*one.direct, *one.contrast)]
    cells = cells or [c for one in held for c in one.supporting if c.counted]
    return tuple(dict.fromkeys(source for c in cells for source in c.finding.sources))


def _grade(reasoning: Reasoning) -> Grade | None:
    """Return the weakest grade of the causes that lead; none where no cause is determined."""
    held = [one.grade for one in _leading(reasoning)]
    if not held or reasoning.inconclusive:
        return None
    weakest = min(held, key=lambda one: one.firmness)
    return None if isinstance(weakest, Ungraded) else weakest


def _limits(reasoning: Reasoning, dossier: Dossier) -> str:
    said = [alias.words for alias in reasoning.aliases]
    said += [_lacking(test, dossier) for test in reasoning.next_tests[:3]]
    return "; ".join(said)


def _lacking(test: NextTest, dossier: Dossier) -> str:
    """Return that a test was not done, or what of it is still open where results of it exist."""
    results: tuple[LabResult | Measurement, ...] = (
        *dossier.all(LabResult), *dossier.all(Measurement),
    )  # fmt: skip
    done = [one.ref for one in results if one.method == test.test]
    if not done:
        return f"not done: {test.name}"
    asked = amended(load_knowledge(), dossier).observation
    left = (asked[key].question for key in test.keys if key in asked)
    questions = " ".join(dict.fromkeys(left))
    return f"done in part ({', '.join(done)}): {test.name}; it leaves open: {questions}"


def _range(reasoning: Reasoning) -> str:
    others = [
        f"{one.title} ({one.grade}{_behind(one)})"
        for one in reasoning.candidates
        if one.cause not in reasoning.leaders and one.grade.firmness >= Grade.POSSIBLE.firmness
    ]
    return "; ".join(others)


def _behind(one: Candidate) -> str:
    processes = " and ".join(f"“{title}”" for title in one.behind)
    return f", which may lie behind {processes}" if processes else ""
