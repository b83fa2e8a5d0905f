"""A candidate that is retained: what it would predict, what was found, how it bears, what lacks."""

from collections.abc import Iterable, Mapping, Sequence

from workbench.reasoning.knowledge import Cause
from workbench.reasoning.prose.paragraph import paragraph
from workbench.reasoning.prose.telling import (
    Telling,
    findings_of,
    listed,
    lower,
    numbers,
    says,
    sources_of,
    stop,
    upper,
)
from workbench.reasoning.results import Bearing, Candidate, Cell, Paragraph, Rival, Sentence
from workbench.reasoning.rivals import UNOPPOSED
from workbench.records import Direction, Source, Weight

PREDICTS, FOUND, BEARS, MISSING = (
    "What it would predict", "What was found", "How it bears", "What is missing",
)  # fmt: skip
_SHOWN_PREDICTIONS, _SHOWN_MISSING = 5, 4


def retained(one: Candidate, cause: Cause, told: Telling) -> list[Paragraph]:
    """Return the paragraphs about a retained candidate."""
    cells = _found_cells(one)
    parts: Mapping[str, list[Sentence]] = {
        PREDICTS: _predicts(cause, one, told),
        FOUND: _found(cells, cause, told),
        BEARS: _bears(one, cells, told),
        MISSING: _missing(one, told),
    }
    behind = findings_of([*(c for c in cells if c.counted), *one.excluded_by])
    return [
        paragraph(one.cause, heading, said, behind, told.dossier)
        for heading, said in parts.items()
    ]  # fmt: skip


# -- what it would predict


def _predicts(cause: Cause, one: Candidate, told: Telling) -> list[Sentence]:
    known = told.scales.knowledge.observation
    wanted = [
        p
        for weight in Weight
        for p in cause.predictions
        if p.direction is Direction.EXPECTED and p.weight is weight and p.key in known
    ][:_SHOWN_PREDICTIONS]
    if not wanted:
        return []
    keys = {p.key for p in wanted}
    read = [c for c in (*one.supporting, *one.opposing) if c.key in keys]
    expected = "; ".join(lower(p.expect or says(known[p.key], p.values)) for p in wanted)
    sources = sources_of(read) or told.reasoning.basis
    return [
        Sentence(text=stop(cause.mechanism), sources=sources),
        Sentence(text=f"If this were the cause, one would expect: {expected}.", sources=sources),
    ]


# -- what was found


def _found_cells(one: Candidate) -> list[Cell]:
    """Return what is told of a candidate: what excludes it, speaks for it and against it."""
    against = told_against(one)
    barring = [c for c in against if c.bearing is not Bearing.CONTRADICTS]
    cells = [*barring, *told_for(one), *(c for c in against if c not in barring)]
    return [c for c in cells if c.finding.sources]


def told_for(one: Candidate) -> list[Cell]:
    """Return what is told for a candidate: what repeats the fact of another is left out."""
    return [c for c in one.supporting if c.counted or c in one.contrast]


def told_against(one: Candidate) -> list[Cell]:
    """Return what is told against a candidate: what excludes it, and what counts against it."""
    return [c for c in one.opposing if c.counted or c.bearing is not Bearing.CONTRADICTS]


def _found(cells: Sequence[Cell], cause: Cause, told: Telling) -> list[Sentence]:
    return [
        said
        for number, c in enumerate(cells, start=1)
        for said in _finding_sentences(number, c, cause, told)
    ]


def _finding_sentences(number: int, c: Cell, cause: Cause, told: Telling) -> list[Sentence]:
    sources = c.finding.sources
    said = [Sentence(text=f"({number}) {stop(told.in_full(c))}", sources=sources)]
    if why := _why(c, cause, told):
        joint = ", for" if why.startswith("Then ") else ":"
        text = f"{_BEARING_WORDS[c.bearing]}{joint} {lower(stop(why))}"
        said.append(Sentence(text=text, sources=sources))
    if c.same_in_sound_areas:
        said.append(Sentence(text=_SAME, sources=sources))
    return said


_SAME = "It is the same where the coating holds, and so belongs to the background."
_BEARING_WORDS = {
    Bearing.SUPPORTS: "This supports the cause",
    Bearing.CONTRADICTS: "This speaks against the cause",
    Bearing.WOULD_EXCLUDE: "Once confirmed, this excludes the cause",
    Bearing.EXCLUDES: "This excludes the cause",
}


def _why(c: Cell, cause: Cause, told: Telling) -> str:
    """Return why a finding bears so, in the words of the cause, else of the observation.

    A missed expectation is told by what was expected instead.
    """
    if c.missed:
        wanted = c.expect or told.expectation(cause, c)
        return f"it would lead one to expect that {lower(wanted)}" if wanted else ""
    return c.why or told.observation(c).tells.get(c.finding.value, "")


# -- how it bears


def _bears(one: Candidate, cells: Sequence[Cell], told: Telling) -> list[Sentence]:
    basis = sources_of((*one.supporting, *one.opposing)) or told.reasoning.basis
    said = [Sentence(text=_graded(one), sources=basis)]
    if one.direct:
        text = f"Seen where the coating failed, as it expects: {_numbered(one.direct, cells)}."
        said.append(Sentence(text=text, sources=sources_of(one.direct)))
    if one.contrast:
        said += _contrast(one, cells, told)
    said += _rivals(one, told.reasoning.leaders, basis)
    if one.is_process and one.upstream:
        said.append(Sentence(text=_PROCESS, sources=basis))
    if one.decided_by:
        said.append(Sentence(text=_decided(one), sources=basis))
    return said


_PROCESS = "It is a process of damage; what led to it is to be sought among the causes behind it."


def _graded(one: Candidate) -> str:
    reasons = "; ".join(why for why in one.because if not why.startswith("not parted from"))
    return f"By the rules the cause is {one.proposed}: {reasons}."


def _numbered(some: Iterable[Cell], cells: Sequence[Cell]) -> str:
    """Return findings by the numbers under which they were told."""
    held = {cells.index(c) + 1 for c in some if c in cells}
    return f"{'finding' if len(held) == 1 else 'findings'} {numbers(list(held))}"


def _contrast(one: Candidate, cells: Sequence[Cell], told: Telling) -> list[Sentence]:
    """Return in which findings the two sides differ, and what the sound side shows."""
    held = [c for c in one.contrast if c in cells]
    if not held:
        return []
    text = f"Failing and sound areas differ as this cause predicts in {_numbered(held, cells)}."
    said = [Sentence(text=text, sources=sources_of(held))]
    sides: dict[str, list[Cell]] = {}
    for c in held:
        sides.setdefault(told.where_it_holds(c)[0], []).append(c)
    for ground, some in sides.items():
        if ground:
            parts = [f"{told.where_it_holds(c)[1]} ({cells.index(c) + 1})" for c in some]
            said.append(Sentence(text=f"{ground}, {listed(parts)}.", sources=sources_of(some)))
    return said


def _rivals(one: Candidate, leaders: Sequence[str], basis: tuple[Source, ...]) -> list[Sentence]:
    """Return how the rivals stand; those of whom the same is said together."""
    behind = one.cause not in leaders
    held: dict[tuple[bool, str, bool], list[Rival]] = {}
    for rival in one.rivals:
        leads = behind and rival.cause in leaders
        held.setdefault((rival.closed, rival.words, leads), []).append(rival)
    said = []
    for (closed, words, leads), some in held.items():
        sources = tuple(dict.fromkeys(s for rival in some for s in rival.sources)) or basis
        titles = listed([f"“{rival.title}”" for rival in some])
        text = (_closed if closed else _leading if leads else _open)(titles, words, len(some))
        said.append(Sentence(text=stop(text), sources=sources))
    return said


def _closed(titles: str, words: str, count: int) -> str:
    if count == 1:
        return f"{titles} is told apart; {words}"
    return f"{titles} are told apart; {words.replace('it does not act', 'they do not act')}"


def _open(titles: str, words: str, count: int) -> str:
    verb, them = ("is", "it") if count == 1 else ("are", "them")
    if words == UNOPPOSED:
        return f"{titles} {verb} not yet told apart: {UNOPPOSED.removesuffix('it')}{them}"
    return f"{titles} {verb} not yet told apart; what would tell {them} is this: {lower(words)}"


def _leading(titles: str, words: str, count: int) -> str:
    """Return that what leads stands against a cause that does not."""
    verb = "leads" if count == 1 else "lead"
    if words == UNOPPOSED:
        return f"{titles} {verb}, and nothing found here sets this cause before it"
    return f"{titles} {verb}, and nothing found here sets this cause before it: {lower(words)}"


def _decided(one: Candidate) -> str:
    said = f"The investigator grades it {one.grade}"
    return stop(f"{said}: {one.decision_reason}" if one.decision_reason else said)


# -- what is missing


def _records_say(telling: Sequence[Cell]) -> list[Sentence]:
    """Return what the records say of a decisive question that they leave open."""
    return [
        Sentence(text=stop(c.finding.words), sources=c.finding.sources)
        for c in telling
        if c.decisive and c.finding.words and c.finding.sources
    ]


def _missing(one: Candidate, told: Telling) -> list[Sentence]:
    basis = told.reasoning.basis
    if not basis:
        return []
    decisive = [c for c in one.unread if c.decisive]
    telling = decisive or [c for c in one.unread if told.observation(c).core]
    if not telling:
        text = "Nothing that could settle it by itself is left unread."
        return [Sentence(text=text, sources=basis)]
    what = "could settle it" if decisive else "bears on it"
    first = Sentence(text=f"What {what} has not all been read.", sources=basis)
    asked = [upper(told.observation(c).question) for c in telling[:_SHOWN_MISSING]]
    if len(asked) == 1:
        text = f"One question that {what} has not been answered: {lower(asked[0])}"
        return [Sentence(text=text, sources=basis), *_records_say(telling[:1])]
    return [first, *(Sentence(text=one, sources=basis) for one in asked)]
