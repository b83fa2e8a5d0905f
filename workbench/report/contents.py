"""Contents, list of figures and list of tables: Word fields with their entries already filled."""

from itertools import chain

from workbench.report.numbers import Numbers, Target
from workbench.report.wordml import (
    FIELD_CLOSED,
    STOP_AFTER_NUMBER,
    field,
    field_opened,
    link,
    paragraph,
    run,
)

_STYLES = {1: "TOC1", 2: "TOC2", 3: "TOC2"}
DEEPEST = 2
NOT_COUNTED = "0"
"""What stands for a page number until `pages.fill` puts it in."""


def contents(numbers: Numbers, *, numbered: bool) -> str:
    """Return the table of contents; `numbered` leaves room for page numbers to be filled in."""
    wanted = [t for t in numbers.listed("contents") if t.level <= DEEPEST]
    entries = [
        (_STYLES[t.level], _entry(t, _heading_words(t), numbered=numbered), _stops(t))
        for t in wanted
    ]
    return _listing(f'TOC \\o "1-{DEEPEST}" \\h \\z \\u{_unnumbered(numbered)}', entries)


def figures(numbers: Numbers, name: str, *, numbered: bool) -> str:
    """Return the list of the captions called `name`: Figure, Table or Plate."""
    entries = [
        ("TableofFigures", _entry(t, run(f"{t.label}. {t.words}"), numbered=numbered), "")
        for t in numbers.listed(name)
    ]
    return _listing(f'TOC \\h \\z{_unnumbered(numbered)} \\c "{name}"', entries)


def _heading_words(target: Target) -> str:
    if target.label.startswith("Appendix"):
        return run(f"{target.label}  {target.words}")
    return run(f"{target.number}\t{target.words}" if target.number else target.words)


def _stops(target: Target) -> str:
    """Return what takes the stop after the number from an entry that has none, however short."""
    if target.number or target.level != DEEPEST:
        return ""
    return f'<w:tabs><w:tab w:val="clear" w:pos="{STOP_AFTER_NUMBER}"/></w:tabs>'


def _unnumbered(numbered: bool) -> str:
    """Return the switch that leaves page numbers out: a number not counted would be a guess."""
    return "" if numbered else " \\n"


def _entry(target: Target, words: str, *, numbered: bool) -> str:
    if not numbered:
        return link(target.bookmark, words)
    tail = run("\t") + field(f"PAGEREF {target.bookmark} \\h", NOT_COUNTED)
    return link(target.bookmark, words + tail)


def _listing(instruction: str, entries: list[tuple[str, str, str]]) -> str:
    if not entries:
        return ""
    opened = chain([field_opened(instruction)], [""] * (len(entries) - 1))
    closed = chain([""] * (len(entries) - 1), [FIELD_CLOSED])
    return "".join(
        paragraph(style, before, inner, after, properties=stops)
        for (style, inner, stops), before, after in zip(entries, opened, closed, strict=True)
    )
