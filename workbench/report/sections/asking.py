"""What is still to be asked for: papers that would answer what is unread, and further questions."""

from collections.abc import Sequence

from workbench.reasoning import amended, load_knowledge
from workbench.reasoning.knowledge import Knowledge
from workbench.reasoning.results import Candidate, Reasoning
from workbench.records import Grade, Source
from workbench.report.blocks import Block, Heading, Row, Table, Voice, headed
from workbench.report.blocks import Paragraph as Said
from workbench.report.draft import Draft, plain
from workbench.report.text import See, text
from workbench.report.wording import listed, sentence
from workbench.trade.names import spoken

_MOST_ROWS = 8


def to_ask_for(draft: Draft, found: Reasoning) -> list[Block]:
    """Return the papers that would tell what is open, and what to ask behind a cause that is held.

    Empty where nothing that a paper could answer is unread and nothing lies behind a cause.
    """
    known = amended(load_knowledge(), draft.dossier)
    held = [c for c in found.candidates if c.grade.firmness >= Grade.POSSIBLE.firmness]
    rows = _papers(known, held)
    behind = [
        Said(text(f"On “{one.title}”: {sentence(asked)}"), Voice.ITEM, found.basis)
        for one in held
        if one.cause in known.cause and (asked := known.cause[one.cause].upstream_question)
    ]
    if not rows and not behind:
        return []
    blocks: list[Block] = [Heading(2, "What to ask for", "asking")]
    if rows:
        columns = headed("Question left open", "Papers that would answer it", "Bears on")
        blocks += [
            plain(
                See("table asking"),
                " names papers that would answer what could not be read, for the causes that are "
                "held; they can be asked for before any further test.",
            ),
            Table("asking", "Papers to ask for", columns, tuple(rows)),
        ]
    if behind:
        blocks += [plain("To ask further about the causes that are held:"), *behind]
    return blocks


def _papers(known: Knowledge, held: Sequence[Candidate]) -> list[Row]:
    bearing: dict[str, list[Candidate]] = {}
    for one in held:
        for cell in one.unread:
            if cell.key in known.observation and known.observation[cell.key].documents:
                bearing.setdefault(cell.key, []).append(one)
    rows = []
    for key, some in list(bearing.items())[:_MOST_ROWS]:
        asked = known.observation[key]
        papers = listed([spoken(kind) for kind in asked.documents], "or")
        titles = listed([f"“{one.title}”" for one in some])
        sources = tuple(dict.fromkeys(s for c in some for s in _sources(c)))
        rows.append(Row((asked.question, papers, titles), sources))
    return rows


def _sources(one: Candidate) -> tuple[Source, ...]:
    return tuple(source for cell in one.supporting for source in cell.finding.sources)
