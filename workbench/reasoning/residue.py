"""What stays unexplained, and what speaks against: neither list is empty by default."""

from collections.abc import Iterable, Sequence

from workbench.reasoning.knowledge import Observation, Side, Stage
from workbench.reasoning.results import Bearing, Candidate, Cell, Listed, Reasoning
from workbench.reasoning.weighing import Scales
from workbench.records import (
    Direction,
    Dossier,
    ListOf,
    ListStatement,
    Source,
    Weight,
    read_sources,
)

_TELLING = (Weight.DECISIVE, Weight.STRONG)


def unexplained(
    candidates: Sequence[Candidate], leaders: Sequence[str], scales: Scales, dossier: Dossier
) -> tuple[Listed, ...]:
    """Return what was found that no leading cause leads one to expect, but another would."""
    lead = [one for one in candidates if one.cause in leaders]
    if not lead:
        return _said(dossier, ListOf.UNEXPLAINED)
    groups = {_group_of(c.key, scales) for one in lead for c in one.supporting}
    held = [
        Listed(words=_sentence(c, observation), sources=c.finding.sources)
        for observation, c in _strange(candidates, scales)
        if observation.group not in groups and c.finding.sources
    ]
    return (*_once(held), *_said(dossier, ListOf.UNEXPLAINED))


def _group_of(key: str, scales: Scales) -> str:
    """Return the group of evidence of a key: what accounts for one reading accounts for all."""
    return scales.knowledge.observation[key].group


def _strange(candidates: Iterable[Candidate], scales: Scales) -> Iterable[tuple[Observation, Cell]]:
    """Return findings that some candidate expects strongly, other than that a thing is absent."""
    for one in candidates:
        for c in one.supporting:
            observation = scales.knowledge.observation[c.key]
            absent = ("no", "none", "no_difference", "none_found", "none_foreign")
            if c.finding.value in absent or observation.stage is Stage.BACKGROUND:
                continue
            if _expects(one.cause, c, scales) and observation.side is not Side.SITE:
                yield observation, c


def _expects(cause: str, c: Cell, scales: Scales) -> bool:
    return any(
        c.finding.value in p.values and p.weight in _TELLING and p.direction is Direction.EXPECTED
        for p in scales.knowledge.cause[cause].of(c.key)
    )


def against(
    candidates: Sequence[Candidate], leaders: Sequence[str], scales: Scales, dossier: Dossier
) -> tuple[Listed, ...]:
    """Return what was found that speaks against a leading cause."""
    held = []
    for one in candidates:
        if one.cause not in leaders:
            continue
        for c in one.opposing:
            if c.finding.sources and (c.counted or c.bearing is not Bearing.CONTRADICTS):
                observation = scales.knowledge.observation[c.key]
                words = f"Against “{one.title}”: {_sentence(c, observation)}"
                held.append(Listed(words=words, sources=c.finding.sources))
    return (*_once(held), *_said(dossier, ListOf.SPEAKS_AGAINST))


def _sentence(c: Cell, observation: Observation) -> str:
    said = observation.says.get(c.finding.value, "")
    words = c.finding.words or said
    return f"{words[:1].upper()}{words[1:]}."


def _once(held: Iterable[Listed]) -> tuple[Listed, ...]:
    return tuple({one.words: one for one in held}.values())


def _said(dossier: Dossier, which: ListOf) -> tuple[Listed, ...]:
    return tuple(
        Listed(words=one.statement, sources=(one.source, *_basis(one.basis)), said_by=one.by)
        for one in dossier.all(ListStatement)
        if one.list_of is which
    )


def _basis(text: str) -> tuple[Source, ...]:
    return read_sources(text)


def lists_open(reasoning: Reasoning, dossier: Dossier) -> tuple[str, ...]:
    """Return the lists that are empty and that nobody has declared empty."""
    told = {one.list_of for one in dossier.all(ListStatement)}
    lists = {ListOf.UNEXPLAINED: reasoning.unexplained, ListOf.SPEAKS_AGAINST: reasoning.against}
    return tuple(which.value for which, held in lists.items() if not held and which not in told)
