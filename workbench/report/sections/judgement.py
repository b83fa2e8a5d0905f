"""What the investigator decided otherwise than the rules, the records or the knowledge give it."""

from collections.abc import Sequence

from workbench.reasoning.results import Candidate, Finding, KnowledgeChange, Reasoning
from workbench.records import Source
from workbench.report.blocks import Block, Column, Heading, Row, Table
from workbench.report.draft import plain
from workbench.report.text import See
from workbench.report.wording import sentence


def by_the_investigator(found: Reasoning) -> list[Block]:
    """Return the grades, answers and changes of knowledge that are a person's, with the reasons."""
    rows = [
        *(_grade(one) for one in found.candidates if one.decided_by),
        *(_answer(one) for one in found.answered),
        *(_change(one) for one in found.changes),
    ]
    if not rows:
        return []
    columns = (Column("Decided"), Column("By rules or records"), Column("By"), Column("Reason"))
    return [
        Heading(2, "What the investigator decided", "decided"),
        plain(
            "The rules and the records propose; a person decides. What was decided stands with its "
            "reason in ",
            See("table decided"),
            ", whether or not it agrees with what was proposed.",
        ),
        Table("decided", "Decisions of the investigator", columns, tuple(rows), traced=True),
    ]


def _row(cells: Sequence[str], sources: Sequence[Source]) -> Row:
    return Row(tuple(cell or "–" for cell in cells), tuple(sources))


def _grade(one: Candidate) -> Row:
    part = f", {one.role}" if one.role else ""
    firmer = one.grade.firmness > one.proposed.firmness
    rules = f"{one.proposed}; the grade is firmer" if firmer else str(one.proposed)
    said = one.decision_reason or ("no reason is written" if firmer else "")
    cells = (*one.supporting, *one.opposing)
    sources = tuple(dict.fromkeys(s for c in cells for s in c.finding.sources))
    return _row((f"“{one.title}”: {one.grade}{part}", rules, one.decided_by, said), sources)


def _answer(one: Finding) -> Row:
    held = one.override
    derived = held.derived.replace("_", " ") if held else ""
    said = sentence(one.words.partition(" (answered by")[0])
    by, reason = (held.by, held.reason) if held else ("", "")
    return _row((said, derived, by, reason), one.sources)


def _change(one: KnowledgeChange) -> Row:
    return _row((sentence(one.what), one.before, one.by, one.reason), (one.source,))
