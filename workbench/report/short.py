"""The short form: what a reader needs, and a list of what was left out."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace

from workbench.report.blocks import Block, Paragraph, Section, Voice
from workbench.report.numbers import numbers_of
from workbench.report.text import Piece, See, Text, Words, text
from workbench.report.wording import listed


def short_form(whole: Sequence[Section]) -> tuple[Section, ...]:
    """Return the short report: its sections, and which are left out and stay available."""
    kept = [section for section in whole if section.short]
    left = [section.title for section in whole if not section.short]
    targets = frozenset(numbers_of(kept).targets)
    full = numbers_of(whole)
    shortened = [_resolved(section, targets, full.label) for section in kept]
    items: list[Block] = [
        Paragraph(
            text(
                "This is the short form. These parts of the full report are left out of it; they "
                "stay available in the records of the case and can be had on request: "
                f"{listed([_lower(title) for title in left])}."
            ),
            Voice.PLAIN,
        ),
    ]
    return (*shortened, Section("left_out", "What this short form leaves out", tuple(items)))


def _lower(title: str) -> str:
    return title[:1].lower() + title[1:]


def _resolved(section: Section, targets: frozenset[str], label: Callable[[str], str]) -> Section:
    blocks = tuple(
        replace(block, text=_without_loose_ends(block.text, targets, label))
        if isinstance(block, Paragraph)
        else block
        for block in section.blocks
    )
    return replace(section, blocks=blocks)


def _without_loose_ends(whole: Text, targets: frozenset[str], label: Callable[[str], str]) -> Text:
    """Return a text whose references to parts left out are words: "Table 9 of the full report"."""
    pieces: Iterable[Piece] = (
        Words(f"{label(piece.key)} of the full report")
        if isinstance(piece, See) and piece.key not in targets
        else piece
        for piece in whole
    )
    return tuple(pieces)
