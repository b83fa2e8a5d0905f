"""How wide the columns of a table are: as wide as their words need, the rest by what they hold."""

import math
import re
from collections.abc import Iterable, Sequence

_EM_MM = 3.0
"""Height of table text, 8.5 points."""
_LETTER_MM = 1.6
"""Width of a letter of words whose letters are not looked at."""
_BOLD = 1.1
_PADDING_MM = 3.0
_LONGEST_LINE_MM = 130.0
_LONGEST_WORD_MM = 38.0
_LONG_WORD_MM = 20.0
"""A longer word may be parted at its hyphens, as the names of files are."""
_EMS = dict.fromkeys("ijl.,;:'’|!()[]{} \u00a0-", 0.33) | dict.fromkeys("frst/°†‡", 0.47)
_EMS |= dict.fromkeys("mwMWÆŒ%—@", 0.96) | dict.fromkeys("ABCDEFGHJKLNOPQRSTUVXYZÄÖÜ", 0.7)
_EM = 0.6
"""Widths of letters in a wide serif, as parts of its height; a narrower one fits too."""
_COUNTED = 400
_UPRIGHT_LINES, _LINES_OF_A_PAGE = 2.0, 45
"""Lines that a table may have upright to one on its side, and that a page has, about."""
_BREAKS = re.compile(r"[ \n\t]+")


def column_widths(
    heads: Sequence[str], rows: Iterable[Sequence[str]], whole_mm: float
) -> tuple[float, ...]:
    """Return the width of each column in millimetres; together they fill `whole_mm`.

    No column is narrower than its longest word, unless the words of all are too long together.
    What is left is shared out by hunger, to none more than its lines need (their root mean square).
    """
    least, wanted = _least_and_wanted(heads, rows)
    if sum(least) >= whole_mm:
        return _levelled(least, whole_mm)
    if sum(wanted) <= whole_mm:
        return _scaled(wanted, whole_mm)
    room = _shared(
        [want - low for want, low in zip(wanted, least, strict=True)], whole_mm - sum(least)
    )
    return tuple(low + more for low, more in zip(least, room, strict=True))


def lies_on_its_side(
    heads: Sequence[str], rows: Sequence[Sequence[str]], upright_mm: float, sideways_mm: float
) -> bool:
    """Return whether a table has no room upright: words would break, or rows grow tall."""
    if sum(_least_and_wanted(heads, rows)[0]) > upright_mm:
        return True
    upright, sideways = (
        sum(lines_of_rows(rows, column_widths(heads, rows, mm))) for mm in (upright_mm, sideways_mm)
    )
    return upright > max(_LINES_OF_A_PAGE, _UPRIGHT_LINES * sideways)


def _least_and_wanted(
    heads: Sequence[str], rows: Iterable[Sequence[str]]
) -> tuple[list[float], list[float]]:
    """Return what the longest word of each column needs, and what its lines would like."""
    words = [_longest_word(head) * _BOLD for head in heads]
    squares = [0.0] * len(heads)
    count = 0
    for row in rows:
        count += 1
        for at, cell in enumerate(row):
            words[at] = max(words[at], _longest_word(cell))
            squares[at] += _line(cell) ** 2
    least = [word + _PADDING_MM for word in words]
    lines = [math.sqrt(square / max(count, 1)) + _PADDING_MM for square in squares]
    return least, [max(low, line) for low, line in zip(least, lines, strict=True)]


def _shared(wanted: Sequence[float], spare: float) -> list[float]:
    """Return what each gets of `spare`: the hungrier more, but none more than it wants."""
    given = [0.0] * len(wanted)
    hunger = [want**0.8 for want in wanted]
    left = sum(hunger)
    for at in sorted(range(len(wanted)), key=wanted.__getitem__):
        share = spare * hunger[at] / left if left else 0.0
        given[at] = min(wanted[at], share)
        spare -= given[at]
        left -= hunger[at]
    return given


def _levelled(widths: Sequence[float], whole_mm: float) -> tuple[float, ...]:
    """Return widths that fill `whole_mm`: the widest give way first, and all alike."""
    left, most = whole_mm, 0.0
    for at, width in enumerate(sorted(widths)):
        most = left / (len(widths) - at)
        if width >= most:
            break
        left -= width
    return _scaled([min(width, most) for width in widths], whole_mm)


def _scaled(widths: Sequence[float], whole_mm: float) -> tuple[float, ...]:
    return tuple(width * whole_mm / sum(widths) for width in widths)


def _longest_word(cell: str) -> float:
    longest = max((_unbroken(word) for word in _BREAKS.split(cell)), default=0.0)
    return min(longest, _LONGEST_WORD_MM)


def _unbroken(word: str) -> float:
    """Return the length of a word, of a long one that of its longest part between hyphens."""
    whole = _length(word)
    if whole <= _LONG_WORD_MM or "-" not in word:
        return whole
    return max(_length(f"{part}-") for part in word.split("-"))


def _line(cell: str) -> float:
    longest = max((_length(line) for line in cell.split("\n")), default=0.0)
    return min(longest, _LONGEST_LINE_MM)


def _length(words: str) -> float:
    """Return how long words are in millimetres; of very long ones not every letter counts."""
    if len(words) > _COUNTED:
        return len(words) * _LETTER_MM
    return _EM_MM * sum(_EMS.get(letter, _EM) for letter in words)


def lines_of(cell: str, width_mm: float) -> int:
    """Return how many lines the words of a cell take in a column of that width, about."""
    room = max(width_mm - _PADDING_MM, _LETTER_MM)
    return sum(int(_length(line) // room) + 1 for line in cell.split("\n"))


def lines_of_rows(rows: Iterable[Sequence[str]], widths: Sequence[float]) -> list[int]:
    """Return how many lines each row of a table takes, about."""
    return [
        max((lines_of(cell, mm) for cell, mm in zip(row, widths, strict=False)), default=1)
        for row in rows
    ]
