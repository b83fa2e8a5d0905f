"""What a candidate and a cell say to a person, as paragraphs."""

from collections.abc import Iterator
from html import escape

from workbench.reasoning import Candidate, Cause, Cell, Knowledge, Reasoning, Row
from workbench.reasoning.results import Bearing
from workbench.reasoning.settings import asked
from workbench.ui.reading import heading, links, paragraph

_MOST, _REASONS = 8, 4


def candidate_paragraphs(
    one: Candidate, reasoning: Reasoning, knowledge: Knowledge
) -> Iterator[str]:
    """Return the standing of a candidate: its grade and why, what excludes it, its rivals."""
    yield heading(f"{one.place}  {one.title}")
    yield f"<p><b>{escape(str(one.grade))}</b>{escape(_signed(one))}</p>"
    if one.needs_reason:
        yield paragraph("✕ This is firmer than the rules give, and no reason is written.", "wrong")
    if one.because:
        more = len(one.because) - _REASONS
        rest = f"; and {more} more like it" if more > 0 else ""
        yield paragraph(f"Because: {'; '.join(one.because[:_REASONS])}{rest}.")
    for cell in one.excluded_by:
        waits = "" if cell.bearing is Bearing.EXCLUDES else ", to be confirmed by a person"
        yield f"<p><b>✕ Excluded by</b> {escape(_found(cell, knowledge))}{waits}.</p>"
    yield from _still_to_read(one, knowledge)
    yield from _rivals(one)
    for process in one.behind:
        yield paragraph(f"It may lie behind “{process}”, and is then no rival of it.")
    if one.is_process:
        behind = (knowledge.cause.get(name) for name in one.upstream)
        titles = ", ".join(f"“{cause.title}”" for cause in behind if cause)
        yield paragraph(f"This is a damage process; behind it may lie {titles or 'another cause'}.")
    cause = knowledge.cause.get(one.cause)
    if one.cause in reasoning.leaders:
        for held in reasoning.fragilities[:_MOST]:
            yield paragraph(f"! {held.words}")
    if cause:
        yield from _about(cause, knowledge)


def _about(cause: Cause, knowledge: Knowledge) -> Iterator[str]:
    """Return what is generally known of a cause, and from which works."""
    yield heading("In general")
    yield paragraph(cause.mechanism)
    told = (
        ("Failing areas show", cause.failing_shows), ("Where it holds", cause.sound_shows),
        ("Mind", cause.caveat), ("Ask further", cause.upstream_question),
        ("Usually done", cause.remedy), ("Papers", cause.examined_note),
    )  # fmt: skip
    for name, words in told:
        if words:
            yield f"<p><b>{name}:</b> {escape(_lower(words))}.</p>"
    known = knowledge.known_from(cause)
    if known:
        yield heading("Known from")
        for words in known:
            yield paragraph(words, "quiet")


def _signed(one: Candidate) -> str:
    part = f"; part: {one.role}" if one.role else ""
    if not one.decided_by:
        return f", proposed by the rules{part}"
    rules = f" (the rules give “{one.proposed}”)" if one.proposed is not one.grade else ""
    reason = f": {one.decision_reason}" if one.decision_reason else ""
    return f", signed by {one.decided_by}{rules}{part}{reason}"


def _still_to_read(one: Candidate, knowledge: Knowledge) -> Iterator[str]:
    if not one.unread:
        yield paragraph("Nothing that would bear on it is left unread.", "quiet")
        return
    yield heading(f"Still to be read ({len(one.unread)})")
    for cell in sorted(one.unread, key=lambda held: not held.decisive)[:_MOST]:
        observation = knowledge.observation.get(cell.key)
        asked = observation.question if observation else cell.key
        mark = " <b>could settle it</b>" if cell.decisive else ""
        yield f"<p>○ {escape(asked)}{mark}</p>"


def _rivals(one: Candidate) -> Iterator[str]:
    if not one.rivals:
        return
    closed = sum(1 for rival in one.rivals if rival.closed)
    yield heading(f"Rivals: {closed} closed, {len(one.rivals) - closed} open")
    for rival in sorted(one.rivals, key=lambda held: held.closed):
        sign, state = ("✓", "closed") if rival.closed else ("○", "open")
        yield (
            f"<p>{sign} <b>{escape(rival.title)}</b> <span class=quiet>{state}:</span> "
            f"{escape(rival.words)}</p>"
        )


def _found(cell: Cell, knowledge: Knowledge) -> str:
    """Return what was found, in words, for the observation of a cell."""
    observation = knowledge.observation.get(cell.key)
    said = observation.says.get(cell.finding.value, "") if observation else ""
    words = cell.finding.words or said or cell.key.replace("_", " ")
    return words[:1].lower() + words[1:]


def cell_paragraphs(cell: Cell, row: Row, knowledge: Knowledge) -> Iterator[str]:
    """Return what a cell says: the question, what was found, how it bears, how it is known."""
    found = cell.finding
    yield heading(row.question)
    yield f"<p><b>{cell.bearing.sign} {escape(str(cell.bearing))}</b>{escape(_counts(cell))}</p>"
    yield from _what_was_found(cell, knowledge)
    if cell.expect:
        yield paragraph(f"The cause leads one to expect: {_lower(cell.expect)}.")
    if cell.why:
        yield paragraph(f"Why it bears so: {_lower(cell.why)}.")
    if found.override:
        gave = found.override.derived.replace("_", " ")
        yield paragraph(
            f"✎ The records alone say “{gave}”; {found.override.by or 'the investigator'} "
            f"answers otherwise: {found.override.reason}"
        )
    yield from _how_derived(cell)
    if found.sources:
        yield f"<p>Rests on {links(found.sources)}. <span class=quiet>F4 follows them.</span></p>"


def _counts(cell: Cell) -> str:
    if cell.bearing in (Bearing.SILENT, Bearing.NOT_READ):
        return ", and could settle the matter" if cell.decisive else ""
    if cell.bearing not in (Bearing.SUPPORTS, Bearing.CONTRADICTS):
        return ""
    counted = "counts" if cell.counted else "the same fact is counted in another row"
    return f"; {counted}; could settle the matter alone" if cell.decisive else f"; {counted}"


def _what_was_found(cell: Cell, knowledge: Knowledge) -> Iterator[str]:
    found = cell.finding
    if found.known:
        words = found.words or found.value.replace("_", " ")
        yield paragraph(f"Found: {words}.")
        return
    yield paragraph(f"Not read: {found.words or 'the records are silent'}.")
    observation = knowledge.observation.get(cell.key)
    if observation is None:
        return
    tests = [knowledge.tests[name].name for name in observation.tests if name in knowledge.tests]
    papers = [name.replace("_", " ") for name in observation.documents]
    if tests or papers:
        yield paragraph(f"Would be read by: {'; '.join([*tests, *papers])}.")


def _how_derived(cell: Cell) -> Iterator[str]:
    found = cell.finding
    said = [f"by {found.method}"] if found.method else []
    said += [f"{found.n} readings or records"] if found.n else []
    said += [f"quality {found.quality}"] if found.quality else []
    for where, value in (("where it holds", found.sound), ("in controls", found.control)):
        said += [f"{where}: {value.replace('_', ' ')}"] if value else []
    said += ["the same where the coating holds"] if cell.same_in_sound_areas else []
    said += [f"{asked(name)}: {value}" for name, value in found.settings_used]
    if said and found.known:
        yield paragraph(f"Derived {'; '.join(said)}.", "quiet")


def _lower(words: str) -> str:
    return (words[:1].lower() + words[1:]).rstrip(".")
