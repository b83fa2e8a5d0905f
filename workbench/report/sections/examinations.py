"""What the laboratory's originals show, each kind with the reach of its method beside it."""

from collections.abc import Iterable

from workbench.analysis.laboratory.limits import limits_for
from workbench.records import LabResult, Source
from workbench.report.blocks import Block, Column, Heading, Paragraph, Row, Table
from workbench.report.draft import Draft, plain
from workbench.report.laboratory.colours import checks, colours
from workbench.report.laboratory.infrared import infrared
from workbench.report.laboratory.micrographs import microscopy, sections
from workbench.report.laboratory.thermal import thermal
from workbench.report.laboratory.xray import elements
from workbench.report.text import See
from workbench.report.text import plain as words_of

_KINDS = (infrared, thermal, sections, elements, colours, checks)


def examinations(draft: Draft) -> list[Block]:
    """Return figures and tables of what the originals show, and what each method can tell."""
    found = draft.results.laboratory
    blocks: list[Block] = []
    if found is not None:
        blocks += [block for kind in _KINDS for block in kind(draft, found)]
        blocks += _unread(found.problems)
    blocks += microscopy(draft)
    beside = {words_of(block.text) for block in blocks if isinstance(block, Paragraph)}
    return [*blocks, *_limits(draft, beside)]


def _unread(problems: Iterable[str]) -> list[Block]:
    told = list(dict.fromkeys(problems))
    if not told:
        return []
    return [plain(f"Told while reading the laboratory's files: {'; '.join(told)}.")]


def _limits(draft: Draft, beside: set[str]) -> list[Block]:
    """Return the reach of the methods used whose words do not stand beside their results."""
    held = draft.dossier.all(LabResult)
    used = [
        one
        for one in limits_for(one.method for one in held)
        if not any(words.startswith(f"{one.title}. Can tell:") for words in beside)
    ]
    if not used:
        return []
    rows = tuple(
        Row((one.title, " ".join(one.can), _cannot(one.cannot, one.detection)), _by(held, one.id))
        for one in used
    )
    columns = (Column("Method"), Column("Can tell"), Column("Cannot tell"))
    other = "other " if beside else ""
    caption = f"What each {other}method used can and cannot tell"
    return [
        Heading(2, f"What the {other}results can and cannot tell", "laboratory limits"),
        plain(
            "Each result is to be read with the reach of its method: ",
            See("table method limits"),
            ".",
        ),
        Table("method limits", caption, columns, rows),
    ]


def _cannot(sentences: Iterable[str], detection: str) -> str:
    found = f" Least found: {detection}." if detection else ""
    return " ".join(sentences) + found


def _by(held: Iterable[LabResult], method: str) -> tuple[Source, ...]:
    return tuple(one.source for one in held if one.method == method)
