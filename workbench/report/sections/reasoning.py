"""Reasoning: what follows from the findings, for each candidate cause retained or rejected."""

import re
from collections.abc import Sequence

from workbench.analysis.strength.results import Group, Method
from workbench.reasoning.prose.retained import told_against, told_for
from workbench.reasoning.results import (
    Bearing,
    Candidate,
    Listed,
    NextTest,
    Reasoning,
    Sentence,
    Ungraded,
)
from workbench.records import Grade, Source
from workbench.records.codes import Condition
from workbench.report.blocks import Block, Column, Heading, Paragraph, Row, Section, Table, Voice
from workbench.report.draft import Draft, fact, plain
from workbench.report.figures import MOST_CAUSES, matrix_figure
from workbench.report.sections.asking import to_ask_for
from workbench.report.sections.judgement import by_the_investigator
from workbench.report.text import See, Text, Value, Words, text
from workbench.report.wording import NO_BREAK, counted, listed, number_word, sentence

MOST_IN_PROSE = 6
"""Retained candidates that are argued in full; the rest stand in the table."""


def reasoning(draft: Draft) -> Section:
    """Return the section on reasoning."""
    blocks: list[Block] = [*_by_plane(draft)]
    found = draft.results.reasoning
    if found is None:
        blocks.append(
            plain(
                "Candidate causes have not been weighed in this edition."
                + (" The section states what was found by plane and no more." if blocks else "")
            )
        )
    else:
        blocks += [
            *_verdict(found),
            *_candidates(draft, found),
            *by_the_investigator(found),
            *_open(found),
            *_tests(found),
            *to_ask_for(draft, found),
        ]
    return Section("reasoning", "Reasoning", tuple(blocks), short=False)


# -- by plane


def _by_plane(draft: Draft) -> list[Block]:
    result = draft.results.strength
    if result is None or not result.groups:
        return []
    failing = [g for g in result.groups if g.condition is Condition.FAILING]
    parted = [g for g in failing if g.broke_here or g.at_most]
    blocks: list[Block] = [Heading(2, "What was found by plane", "planes")]
    blocks += [_parted(draft, group, result.groups) for group in parted]
    held = [g for g in failing if g not in parted and g.method is Method.LOWER_BOUND]
    if held:
        names = [g.plane_name for g in held]
        bounds = [g.low_mpa for g in held if g.low_mpa is not None]
        least = f": the median of each is at least {draft.show.stress(min(bounds))}"
        least += _without_a_law(draft, held)
        blocks.append(
            Paragraph(
                text(
                    "In failing areas nothing broke at these planes: ",
                    "; ".join(names),
                    least if bounds else "",
                    ". This indicates that those planes are not where the coating parts.",
                ),
                Voice.INFERENCE,
                _of(held),
                name="reasoning: planes that held",
            )
        )
    return blocks


def _without_a_law(draft: Draft, held: Sequence[Group]) -> str:
    """Return what holds of the medians whatever the law of strength; empty with too few pulls."""
    signs = [g.lower_bound.sign_mpa for g in held if g.lower_bound]
    known = [mpa for mpa in signs if mpa is not None]
    if not known or len(known) < len(signs):
        return ""
    return f", and whatever the law of strength at least {draft.show.stress(min(known))}"


def _of(groups: Sequence[Group]) -> tuple[Source, ...]:
    return tuple(dict.fromkeys(s for group in groups for s in group.sources))


def _parted(draft: Draft, group: Group, groups: Sequence[Group]) -> Paragraph:
    others = [
        g
        for g in groups
        if g.plane == group.plane
        and g.system == group.system
        and g.condition is not group.condition
    ]
    broke = group.broke_here + group.at_most
    parts: list[str | Value] = [
        (
            f"In failing areas {number_word(broke)} of {number_word(group.n)} tests parted, wholly "
            f"or in part, at {group.plane_name}; the median strength of that plane there "
        ),
        *draft.values.median_of(group),
        ".",
    ]
    for other in others:
        count = (
            number_word(other.broke_here + other.at_most)
            if (other.broke_here + other.at_most)
            else "none"
        )
        parts += [
            (
                f" In {other.condition.value} areas {count} of {number_word(other.n)} did, and the "
                "median there "
            ),
            *draft.values.median_of(other),
            ".",
        ]
    parts.append(_indicates(broke, group, others))
    return Paragraph(
        text(*parts),
        Voice.INFERENCE,
        _of([group]),
        name=f"reasoning: plane {group.plane}{_film(group)}",
    )


def _indicates(broke: int, group: Group, others: Sequence[Group]) -> str:
    if broke * 2 <= group.n:
        return (
            " In failing areas this is a minority of the tests and indicates no weakness of that "
            "plane by itself."
        )
    if others and not any(other.broke_here + other.at_most for other in others):
        return (
            " This indicates that the coating parts at this plane, and that it is this plane "
            "that differs between failing and sound coating."
        )
    return " This indicates that the coating parts at this plane in failing areas."


def _film(group: Group) -> str:
    return "" if group.film.untouched else f" {group.film}"


# -- candidates


def _verdict(found: Reasoning) -> list[Block]:
    blocks: list[Block] = [
        Heading(2, "Where the reasoning arrives", "verdict"),
        Paragraph(
            text(sentence(found.verdict)), Voice.INFERENCE, found.basis, name="reasoning: verdict"
        ),
        plain(
            f"Grades say how firmly a cause is held: {_grades()}. Where nothing was read that "
            "would tell a cause from others, it is not examined and has no grade. Direct evidence "
            "is what a cause expects, seen where the coating failed: one decisive finding, or two "
            "strong ones of different kinds. Grades are words, not probabilities."
        ),
        *_waiting(found),
    ]
    return blocks


GRADE_MEANS = {
    Grade.ESTABLISHED: "direct evidence, a contrast with sound coating, and every serious rival "
    "closed",
    Grade.PROBABLE: "several independent findings and a contrast, one rival not fully closed",
    Grade.POSSIBLE: "consistent, but contrast or direct evidence missing",
    Grade.NOT_SUPPORTED: "looked for and not found",
    Grade.EXCLUDED: "a reliable finding rules it out",
}
"""What each grade means, as the report tells it."""


def _grades() -> str:
    return "; ".join(f"{grade.value}, {means}" for grade, means in GRADE_MEANS.items())


def provisional(found: Reasoning) -> str:
    """Return that grades rest on exclusions that nobody has confirmed; empty where none does."""
    waiting = sum(_awaits(one) for one in found.candidates)
    if not waiting:
        return ""
    return (
        f"The rules exclude {counted(waiting, 'cause')} that no person has yet confirmed as "
        "excluded. Grades that count such a cause as closed are provisional."
    )


def _waiting(found: Reasoning) -> list[Block]:
    told = provisional(found)
    return [plain(told)] if told else []


def _awaits(one: Candidate) -> bool:
    """Return whether the rules exclude a cause and no person has confirmed it."""
    barring = {cell.bearing for cell in one.excluded_by}
    return one.grade is Grade.EXCLUDED and Bearing.EXCLUDES not in barring and not one.decided_by


def _candidates(draft: Draft, found: Reasoning) -> list[Block]:
    kept = [c for c in found.candidates if c.grade.firmness >= Grade.POSSIBLE.firmness]
    gone = [c for c in found.candidates if c.grade in (Grade.NOT_SUPPORTED, Grade.EXCLUDED)]
    unread = [c for c in found.candidates if isinstance(c.grade, Ungraded)]
    blocks: list[Block] = []
    drawn = matrix_figure(draft)
    if not kept and drawn:
        blocks += [plain(*_of_matrix(found), "."), *drawn]
    if kept:
        led = plain(
            See("table retained"),
            " has the causes that are held; ",
            *_of_matrix(found),
            f".{_argued(len(kept))}",
        )
        blocks += [Heading(2, "Causes retained", "retained"), led, _table("retained", kept)]
        for candidate in kept[:MOST_IN_PROSE]:
            blocks += _prose(found, candidate)
        blocks += drawn
    if gone:
        blocks += _rejected(found, gone)
    if unread:
        blocks += _not_examined(found, unread)
    return blocks


def _of_matrix(found: Reasoning) -> tuple[See, str]:
    shown = len(found.candidates[:MOST_CAUSES])
    said = f"the {number_word(shown)} causes best supported" if shown > 1 else "the one cause"
    return See("figure matrix"), f" sets {said} against what was found"


def _argued(count: int) -> str:
    """Return how many causes are argued in full, where the table has more."""
    if count <= MOST_IN_PROSE:
        return ""
    rest = count - MOST_IN_PROSE
    return (
        f" The first {number_word(MOST_IN_PROSE)} are argued one by one; {counted(rest, 'other')} "
        f"{'stands' if rest == 1 else 'stand'} in the table alone."
    )


def _rejected(found: Reasoning, gone: Sequence[Candidate]) -> list[Block]:
    """Return why causes are not held: a table, then finding by finding what falls by it."""
    blocks: list[Block] = [
        Heading(2, "Causes rejected", "rejected"),
        fact(
            "reasoning: rejected",
            "Each cause in ",
            See("table rejected"),
            " was weighed against the same findings and is not held. The reasons follow it, those "
            "causes together that fall by one finding.",
        ),
        _table("rejected", gone),
    ]
    for one in found.rejections:
        first, *each = one.sentences
        head = [Words(f"{one.heading}. ", strong=True), *_sentences([first])]
        blocks.append(Paragraph(text(*head), Voice.INFERENCE))
        blocks += [Paragraph(_beside(said, first), Voice.ITEM) for said in each]
    for candidate in gone:
        if any(one.edited_by for one in found.paragraphs_of(candidate.cause)):
            blocks += _prose(found, candidate)
    return blocks


def _beside(said: Sentence, first: Sentence) -> Text:
    """Return a sentence with the records that the first does not name already."""
    more = tuple(source for source in said.sources if source not in first.sources)
    return text(Value("", said.text, more) if more else said.text)


def _not_examined(found: Reasoning, unread: Sequence[Candidate]) -> list[Block]:
    titles = listed([f"“{one.title}”" for one in unread])
    said = (
        f"Nothing was read that would tell {counted(len(unread), 'cause')} from others: {titles}. "
        "No grade is given; what was not looked for is neither supported nor rejected."
    )
    return [
        Heading(2, "Causes not examined", "not examined"),
        Paragraph(text(said), Voice.INFERENCE, found.basis, name="reasoning: not examined"),
    ]


def _table(key: str, candidates: Sequence[Candidate]) -> Table:
    retained = key == "retained"
    columns = (
        Column("Cause"),
        Column("Grade"),
        Column("For it", numeric=True),
        Column("Against it", numeric=True),
        Column("Not read", numeric=True),
        Column("Why it is held" if retained else "Falls by"),
    )
    caption = "Causes retained" if retained else "Causes rejected"
    note = (
        "For, against and not read: how many observations; one that repeats the fact of another is "
        "not counted. A reason may be one of several."
    )
    if not retained:
        note += f" The records stand with the reasons.{_unconfirmed(candidates)}"
    rows = tuple(_candidate_row(one, retained=retained) for one in candidates)
    return Table(key, caption, columns, rows, note, traced=retained)


def _unconfirmed(candidates: Sequence[Candidate]) -> str:
    if not any(_awaits(one) for one in candidates):
        return ""
    return f" {_AWAITS} No person has confirmed this exclusion yet."


_AWAITS = "§"


def _candidate_row(one: Candidate, *, retained: bool) -> Row:
    beside = f" ({one.role.value})" if one.role and not _awaits(one) else ""
    said_grade = one.grade.value.replace(" ", NO_BREAK)
    grade = f"{said_grade}{NO_BREAK}{_AWAITS}" if _awaits(one) else f"{said_grade}{beside}"
    said = "; ".join(_held(one)) if retained else _against(one)
    cells = one.supporting if retained else one.opposing or one.supporting
    of = tuple(dict.fromkeys(source for cell in cells for source in cell.finding.sources))
    told = (told_for(one), told_against(one), one.unread)
    counts = (str(len(held)) for held in told)
    return Row((one.title, grade, *counts, sentence(said) or "–"), of)


def _held(one: Candidate) -> list[str]:
    """Return why a cause is held; of its rivals only how many it is not parted from."""
    named = [why for why in one.because if not why.startswith("not parted from")][:3]
    rivals = sum(not rival.closed for rival in one.rivals)
    return [*named, *([f"not parted from {counted(rivals, 'rival')}"] if rivals else [])]


def _against(one: Candidate) -> str:
    """Return what a cause falls by in a few words: the first of the reasons of its grade."""
    first = one.because[0] if one.because else ""
    return first.partition(" (")[0].partition("; ")[0]


def _prose(found: Reasoning, candidate: Candidate) -> list[Block]:
    paragraphs = found.paragraphs_of(candidate.cause)
    if not paragraphs:
        return []
    blocks: list[Block] = [
        Heading(3, f"{candidate.title}: {candidate.grade.value}", candidate.cause)
    ]
    for one in paragraphs:
        stale = "the records behind this paragraph have changed since it was edited"
        first, *numbered = _by_finding(one.sentences)
        said = [Words(f"{one.heading}. ", strong=True), *_sentences(first)]
        blocks.append(
            Paragraph(
                text(*said), Voice.INFERENCE, stale=stale if one.stale else "",
                edited_by=one.edited_by,
            )
        )  # fmt: skip
        blocks += [Paragraph(text(*_sentences(some)), Voice.ITEM) for some in numbered]
    return blocks


_NUMBERED = re.compile(r"\(\d+\) ")


def _by_finding(sentences: Sequence[Sentence]) -> list[list[Sentence]]:
    """Return sentences in groups: those before the first numbered finding, then each finding's."""
    groups: list[list[Sentence]] = [[]]
    for one in sentences:
        if _NUMBERED.match(one.text):
            groups.append([])
        groups[-1].append(one)
    return groups


def _sentences(sentences: Sequence[Sentence]) -> list[Words | Value]:
    parts: list[Words | Value] = []
    for one in sentences:
        parts += [Value("", one.text, one.sources), Words(" ")]
    return parts


# -- what stays open


def _open(found: Reasoning) -> list[Block]:
    blocks: list[Block] = [Heading(2, "What stays unexplained, and what speaks against", "open")]
    if not found.leaders:
        blocks.append(plain("No cause leads, so nothing is listed for or against one."))
        return [*blocks, *_aliases(found)]
    leading = "the leading causes" if len(found.leaders) > 1 else "the leading cause"
    blocks += _list(f"Not explained by {leading}", found.unexplained)
    blocks += _list(f"Against {leading}", found.against)
    if found.fragilities:
        blocks.append(plain("The outcome hangs on single findings as follows:"))
        blocks += [
            Paragraph(text(sentence(one.words)), Voice.ITEM, one.finding.sources)
            for one in found.fragilities
        ]
    else:
        blocks.append(
            plain(
                "No single finding, if it were wrong, would change the leading cause or its grade."
            )
        )
    return [*blocks, *_aliases(found)]


def _aliases(found: Reasoning) -> list[Block]:
    return [
        Paragraph(text(sentence(one.words)), Voice.INFERENCE, one.sources) for one in found.aliases
    ]


def _list(title: str, entries: Sequence[Listed]) -> list[Block]:
    if not entries:
        return [plain(f"{title}: nothing is listed, and no person has yet confirmed that.")]
    return [
        plain(f"{title}:"),
        *(Paragraph(text(sentence(one.words)), Voice.ITEM, one.sources) for one in entries),
    ]


def _tests(found: Reasoning) -> list[Block]:
    if not found.next_tests:
        return []
    rows = tuple(_test_row(found, one) for one in found.next_tests[:6])
    columns = (
        Column("Test"),
        Column("Standard"),
        Column("Would tell apart"),
        Column("Cost, delay"),
        Column("Destructive"),
    )
    return [
        Heading(2, "Decisive tests not yet read", "tests"),
        plain(
            See("table next tests"),
            " names the tests that would separate most of what is left, the most telling first.",
        ),
        Table("next tests", "Tests that would settle what is open", columns, rows),
    ]


def _test_row(found: Reasoning, one: NextTest) -> Row:
    titles = {c.cause: c.title for c in found.candidates}
    parts = listed([f"“{titles.get(cause, cause)}”" for cause in one.parts[:4]])
    effort = ", ".join(filter(None, (one.cost, one.delay)))
    return Row((one.name, one.standard or "–", parts or "–", effort or "–", one.destructive or "–"))
