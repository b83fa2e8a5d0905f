"""The reasoning in words: every sentence with the records it rests on, neutral about persons."""

import hashlib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from workbench.reasoning.knowledge import Cause, Observation
from workbench.reasoning.ranking import Standing
from workbench.reasoning.results import (
    MIXED,
    UNKNOWN,
    Bearing,
    Candidate,
    Cell,
    Finding,
    Paragraph,
    Place,
    Reasoning,
    Rival,
    Sentence,
    Ungraded,
)
from workbench.reasoning.weighing import Scales
from workbench.records import (
    Direction,
    Dossier,
    EditedText,
    Source,
    Weight,
    read_sources,
)

PREDICTS, FOUND, BEARS, MISSING = (
    "What it would predict", "What was found", "How it bears", "What is missing",
)  # fmt: skip
_SHOWN_PREDICTIONS, _SHOWN_MISSING = 5, 6
_GENERAL = "the whole case"
NOTHING_FAILS = "No area is recorded as failing, so no cause is sought."
_UNREAD = "No cause is determined: what would tell the candidates apart has not been read."
_UNSUPPORTED = "No cause is determined: nothing that was found supports a candidate."


# -- the case in one sentence


def verdict_of(standing: Standing, places: Sequence[Place]) -> str:
    """Return what the reasoning comes to, in a sentence or two."""
    if places:
        parts = "; ".join(f"{one.name}: {_lead_words(one)}" for one in places)
        return f"Two places have causes of their own: {parts}."
    if not standing.leaders:
        unread = any(one.grade is Ungraded.NOT_EXAMINED for one in standing.proposals.values())
        return _UNREAD if unread else _UNSUPPORTED
    titles = [f"“{standing.field[name].cause.title}”" for name in standing.leaders]
    if len(titles) > 1:
        listed = f"{', '.join(titles[:-1])} and {titles[-1]}"
        return f"The cause is not determined: {listed} remain, and the evidence cannot part them."
    grade = standing.proposals[standing.leaders[0]].grade
    said = f"The evidence leads to {titles[0]}; by the rules this is {grade}."
    if standing.field[standing.leaders[0]].cause.process:
        return f"{said} It is a process of damage; what led to it is not determined."
    return said


def _lead_words(place: Place) -> str:
    held = place.reasoning.candidate(place.leaders[0])
    return f"“{held.title}” ({held.grade})" if held else place.leaders[0]


# -- paragraphs


def paragraphs(reasoning: Reasoning, scales: Scales, dossier: Dossier) -> tuple[Paragraph, ...]:
    """Return the reasoning in words: the case, then each candidate, retained ones first."""
    made = [_case(reasoning)]
    for one in reasoning.candidates:
        cause = scales.knowledge.cause.get(one.cause)
        if cause and not isinstance(one.grade, Ungraded):
            made += _candidate(one, cause, reasoning, scales)
    edits = {one.paragraph: one for one in dossier.all(EditedText)}
    return tuple(_edited(one, edits) for one in made if one.sentences)


def _case(reasoning: Reasoning) -> Paragraph:
    lead = [c for c in reasoning.candidates if c.cause in reasoning.leaders]
    sources = _sources(cell for one in lead for cell in (one.direct or one.supporting))
    sentences = [Sentence(text=reasoning.verdict, sources=sources or reasoning.basis)]
    sentences += [
        Sentence(text=f"{_upper(alias.words)}.", sources=alias.sources)
        for alias in reasoning.aliases
        if alias.sources
    ]
    return _paragraph("", "The cause", sentences, [c.finding for one in lead for c in one.direct])


def _candidate(
    one: Candidate, cause: Cause, reasoning: Reasoning, scales: Scales
) -> list[Paragraph]:
    findings = [c.finding for c in (*one.supporting, *one.opposing) if c.counted]
    findings += [c.finding for c in one.excluded_by]
    parts: Mapping[str, list[Sentence]] = {
        PREDICTS: _predicts(cause, one, reasoning, scales),
        FOUND: _found(one, scales),
        BEARS: _bears(one, reasoning, scales),
        MISSING: _missing(one, reasoning, scales),
    }
    return [_paragraph(one.cause, heading, said, findings) for heading, said in parts.items()]


def _paragraph(
    cause: str, heading: str, said: Sequence[Sentence], findings: Iterable[Finding]
) -> Paragraph:
    name = f"{cause or _GENERAL}: {heading.lower()}"
    return Paragraph(
        name=name, heading=heading, cause=cause, sentences=tuple(said), digest=digest_of(findings)
    )


def digest_of(findings: Iterable[Finding]) -> str:
    """Return a digest of findings: it changes when a record behind them changes what they say."""
    told = sorted(
        f"{one.key}={one.value}|{one.words}|{'; '.join(map(str, one.sources))}" for one in findings
    )
    return hashlib.sha256("\n".join(told).encode()).hexdigest()[:16]


def _edited(one: Paragraph, edits: Mapping[str, EditedText]) -> Paragraph:
    edit = edits.get(one.name)
    if edit is None:
        return one
    basis = read_sources(edit.basis)
    kept = tuple(dict.fromkeys(source for said in one.sentences for source in said.sources))
    sentence = Sentence(text=edit.text, sources=basis or (edit.source, *kept))
    return replace(
        one, sentences=(sentence,), edited_by=edit.by,
        stale=bool(edit.digest) and edit.digest != one.digest,
    )  # fmt: skip


# -- what it would predict


def _predicts(cause: Cause, one: Candidate, reasoning: Reasoning, scales: Scales) -> list[Sentence]:
    wanted = [
        p
        for weight in Weight
        for p in cause.predictions
        if p.direction is Direction.EXPECTED and p.weight is weight and p.key in _known(scales)
    ][:_SHOWN_PREDICTIONS]
    if not wanted:
        return []
    keys = {p.key for p in wanted}
    read = [c for c in (*one.supporting, *one.opposing) if c.key in keys]
    told = "; ".join(
        _lower(p.expect or _says(scales.knowledge.observation[p.key], p.values)) for p in wanted
    )
    sources = _sources(read) or reasoning.basis
    return [
        Sentence(text=_stop(cause.mechanism), sources=sources),
        Sentence(text=f"Were this the cause, one would expect: {told}.", sources=sources),
    ]


def _known(scales: Scales) -> frozenset[str]:
    return frozenset(scales.knowledge.observation)


def _says(observation: Observation, values: Iterable[str]) -> str:
    return " or ".join(
        _lower(observation.says.get(value) or value.replace("_", " ")) for value in values
    )


# -- what was found


def _found(one: Candidate, scales: Scales) -> list[Sentence]:
    cells = [c for c in one.opposing if c.bearing is not Bearing.CONTRADICTS]
    cells += [c for c in one.supporting if c.counted]
    cells += [c for c in one.opposing if c.bearing is Bearing.CONTRADICTS and c.counted]
    return [said for c in cells for said in _finding_sentences(c, scales)]


def _finding_sentences(c: Cell, scales: Scales) -> list[Sentence]:
    observation = scales.knowledge.observation[c.key]
    sources = c.finding.sources
    if not sources:
        return []
    words = c.finding.words or observation.says.get(c.finding.value, c.finding.value)
    said = [Sentence(text=_stop(words), sources=sources)]
    why = _why(c, observation)
    if why:
        said.append(Sentence(text=f"{_BEARING_WORDS[c.bearing]}: {_lower(_stop(why))}",
                             sources=sources))  # fmt: skip
    if c.same_in_sound_areas:
        said.append(Sentence(
            text="It is the same where the coating holds, and so tells a background rather than "
            "the cause.", sources=sources,
        ))  # fmt: skip
    return said


_BEARING_WORDS = {
    Bearing.SUPPORTS: "This supports the cause",
    Bearing.CONTRADICTS: "This speaks against the cause",
    Bearing.WOULD_EXCLUDE: "Once confirmed, this excludes the cause",
    Bearing.EXCLUDES: "This excludes the cause",
}


def _why(c: Cell, observation: Observation) -> str:
    """Return why a finding bears so, in the words of the cause, else of the observation.

    A missed expectation is told by what was expected instead.
    """
    if c.missed:
        wanted = c.expect or _says(observation, c.predicted)
        return f"one would expect: {_lower(wanted)}"
    return c.why or observation.tells.get(c.finding.value, "")


# -- how it bears


def _bears(one: Candidate, reasoning: Reasoning, scales: Scales) -> list[Sentence]:
    if one.excluded_by:
        return [_excluded(one)]
    basis = _sources((*one.supporting, *one.opposing)) or reasoning.basis
    said = [Sentence(text=_graded(one), sources=basis)]
    if one.direct:
        said.append(Sentence(
            text=f"Direct evidence: {_listed(one.direct)}.", sources=_sources(one.direct)
        ))  # fmt: skip
    if one.contrast:
        said.append(Sentence(
            text=f"Failing and sound areas differ as it would have it: "
            f"{_contrasted(one.contrast, scales)}.",
            sources=_sources(one.contrast),
        ))  # fmt: skip
    said += _rivals(one.rivals, basis)
    if one.is_process and one.upstream:
        said.append(Sentence(
            text="It is a process of damage; what led to it is to be sought among the causes "
            "behind it.", sources=basis,
        ))  # fmt: skip
    if one.decided_by:
        said.append(Sentence(text=_decided(one), sources=basis))
    return said


def _graded(one: Candidate) -> str:
    reasons = "; ".join(one.because)
    return f"By the rules the cause is {one.proposed}: {reasons}."


def _excluded(one: Candidate) -> Sentence:
    waiting = any(c.bearing is Bearing.WOULD_EXCLUDE for c in one.excluded_by)
    status = "The exclusion awaits confirmation by the investigator" if waiting else (
        "The exclusion is confirmed"
    )  # fmt: skip
    return Sentence(
        text=f"{status}; it rests on {_listed(one.excluded_by)}.",
        sources=_sources(one.excluded_by),
    )


def _rivals(rivals: Iterable[Rival], basis: tuple[Source, ...]) -> list[Sentence]:
    said = []
    for rival in rivals:
        sources = rival.sources or basis
        if rival.closed:
            text = f"“{rival.title}” is told apart; {rival.words}."
        else:
            text = f"“{rival.title}” is not yet told apart: {_lower(_stop(rival.words))}"
        said.append(Sentence(text=text, sources=sources))
    return said


def _decided(one: Candidate) -> str:
    said = f"The investigator grades it {one.grade}"
    return _stop(f"{said}: {one.decision_reason}" if one.decision_reason else said)


def _listed(cells: Iterable[Cell]) -> str:
    return "; ".join(
        dict.fromkeys(_lower(c.finding.words or c.key.replace("_", " ")) for c in cells)
    )


def _contrasted(cells: Iterable[Cell], scales: Scales) -> str:
    return "; ".join(dict.fromkeys(_both_sides(c, scales) for c in cells))


def _both_sides(c: Cell, scales: Scales) -> str:
    """Return what was found where it fails, and what the sound areas or the controls show."""
    words = _lower(c.finding.words or c.key.replace("_", " "))
    others = (("in areas that look sound", c.finding.sound), ("in controls", c.finding.control))
    for ground, value in others:
        if c.finding.contrasted and value not in ("", UNKNOWN, MIXED, c.finding.value):
            return f"{words} ({ground}: {_says(scales.knowledge.observation[c.key], [value])})"
    return words


# -- what is missing


def _missing(one: Candidate, reasoning: Reasoning, scales: Scales) -> list[Sentence]:
    if one.excluded_by or not reasoning.basis:
        return []
    telling = [c for c in one.unread if c.decisive] or [
        c for c in one.unread if scales.knowledge.observation[c.key].core
    ]
    if not telling:
        text = "Nothing that could settle it by itself is left unread."
        return [Sentence(text=text, sources=reasoning.basis)]
    asked = "; ".join(
        _lower(scales.knowledge.observation[c.key].question) for c in telling[:_SHOWN_MISSING]
    )
    return [Sentence(text=f"Not read, and bearing on it: {asked}", sources=reasoning.basis)]


# -- small words


def _sources(cells: Iterable[Cell]) -> tuple[Source, ...]:
    return tuple(dict.fromkeys(source for c in cells for source in c.finding.sources))


def _upper(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}"


def _lower(words: str) -> str:
    """Return words as they stand within a sentence; names, letters and units keep their case."""
    first = words.split(" ", 1)[0]
    keeps = len(first) > 1 and any(letter.isupper() for letter in first[1:])
    return words if keeps or first.endswith("/") else f"{words[:1].lower()}{words[1:]}"


def _stop(words: str) -> str:
    """Return words as a sentence."""
    bare = words.strip()
    return _upper(bare) if bare.endswith((".", "?", "!")) else f"{_upper(bare)}."


def unsupported(reasoning: Reasoning, dossier: Dossier) -> tuple[Sentence, ...]:
    """Return the sentences that carry no record, or one that the case does not have."""
    return tuple(
        said
        for paragraph in reasoning.paragraphs
        for said in paragraph.sentences
        if not said.sources or any(dossier.resolve(source) is None for source in said.sources)
    )
