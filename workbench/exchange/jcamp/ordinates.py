"""The compressed number forms of JCAMP-DX (AFFN, PAC, SQZ, DIF, DUP), decoded line by line.

A line of `(X++(Y..Y))` starts with an abscissa; its ordinates follow as plain numbers (AFFN),
packed with signs (PAC), with the first digit as a letter (SQZ: `@`=+0, `A`-`I`=+1 to +9, `a`-`i`=-1
to -9), as differences (DIF: `%`=0, `J`-`R`, `j`-`r`), or repeated (DUP: `S`-`Z`=1 to 8, `s`=9; the
count includes the first). After a line that ends in differences the next line repeats its last
ordinate, as a check.
"""

import math
import re
from collections.abc import Iterable
from dataclasses import dataclass, field

MOST_POINTS = 5_000_000
_TOKEN = re.compile(
    r"(?P<plain>[+-]?(?:\d+\.?\d*|\.\d+)(?:[Ee][+-]\d{1,3}(?!\d))?)"
    r"|(?P<sqz>[@A-Ia-i]\d*\.?\d*)"
    r"|(?P<dif>[%J-Rj-r]\d*\.?\d*)"
    r"|(?P<dup>[S-Zs]\d*)"
    r"|(?P<missing>\?)"
    r"|(?P<space>[\s,;]+)"
)
_SQZ = {letter: str(n) for n, letter in enumerate("@ABCDEFGHI")}
_SQZ |= {letter: f"-{n}" for n, letter in enumerate("abcdefghi", 1)}
_DIF = {letter: str(n) for n, letter in enumerate("%JKLMNOPQR")}
_DIF |= {letter: f"-{n}" for n, letter in enumerate("jklmnopqr", 1)}
_DUP = {letter: str(n) for n, letter in enumerate("STUVWXYZs", 1)}


class DamagedTableError(ValueError):
    """A table that cannot be read as it stands; the text says where."""


@dataclass(slots=True)
class Ordinates:
    """The points of one table as they are decoded.

    Attributes:
        values: Ordinates before YFACTOR; NaN where the file says "?".
        line_starts: For each line, its abscissa (before XFACTOR) and the index of its first point.
        failed_checks: Line numbers whose repeated ordinate differs from the one before.
    """

    values: list[float] = field(default_factory=list)
    line_starts: list[tuple[float, int]] = field(default_factory=list)
    failed_checks: list[int] = field(default_factory=list)


def decode(lines: Iterable[tuple[int, str]]) -> Ordinates:
    """Return the ordinates of an `(X++(Y..Y))` table.

    Args:
        lines: Pairs of line number in the file and text, comments taken off.

    Raises:
        DamagedTableError: A line holds what is no number form, or far too many points.
    """
    found = Ordinates()
    ends_in_difference = False
    for number, text in lines:
        tokens = _tokens(number, text)
        if not tokens:
            continue
        kind, first = tokens[0]
        if kind != "plain":
            raise DamagedTableError(f"line {number} does not start with an abscissa")
        ends_in_difference = _take_line(found, number, float(first), tokens[1:], ends_in_difference)
    return found


def _tokens(number: int, text: str) -> list[tuple[str, str]]:
    tokens, at = [], 0
    while at < len(text):
        found = _TOKEN.match(text, at)
        if not found or found.end() == at:
            raise DamagedTableError(
                f"line {number} holds “{text[at : at + 8]}”, which is no number"
            )
        if found.lastgroup != "space":
            tokens.append((found.lastgroup or "", found.group()))
        at = found.end()
    return tokens


def _take_line(
    found: Ordinates, number: int, abscissa: float, tokens: list[tuple[str, str]], check: bool
) -> bool:
    """Append the ordinates of one line; return whether it ends in a difference."""
    values = found.values
    line = _Line(values[-1] if values else 0.0)
    for kind, token in tokens:
        line.take(kind, token, number, MOST_POINTS - len(values))
    ordinates = line.values
    start = len(values)
    if check and values and ordinates:
        start -= 1
        if ordinates[0] != values[-1]:
            found.failed_checks.append(number)
        ordinates = ordinates[1:]
    found.line_starts.append((abscissa, start))
    values.extend(ordinates)
    return line.ends_in_difference


class _Line:
    """One line while its tokens are taken."""

    def __init__(self, last: float) -> None:
        self.values: list[float] = []
        self.ends_in_difference = False
        self._last = last
        self._difference: float | None = None

    def take(self, kind: str, token: str, number: int, room: int) -> None:
        if kind == "dup":
            self._repeat(int(_DUP[token[0]] + token[1:]), number, room)
            return
        if kind == "dif":
            self._difference = float(_DIF[token[0]] + token[1:])
            self._append(self._last + self._difference)
        else:
            self._difference = None
            self._append(_plain(kind, token))
        if math.isinf(self._last):
            raise DamagedTableError(f"line {number} holds a number too large to be one")
        self.ends_in_difference = kind == "dif"
        if len(self.values) > room:
            raise DamagedTableError(f"line {number} goes past {MOST_POINTS:,} points")

    def _append(self, value: float) -> None:
        self.values.append(value)
        self._last = value

    def _repeat(self, count: int, number: int, room: int) -> None:
        if not self.values:
            raise DamagedTableError(f"line {number} repeats a value before there is one")
        if count < 1 or len(self.values) + count > room:
            raise DamagedTableError(f"line {number} repeats a value {count:,} times")
        for _ in range(count - 1):
            self._append(self._last + (self._difference or 0.0))


def _plain(kind: str, token: str) -> float:
    if kind == "missing":
        return float("nan")
    return float(_SQZ[token[0]] + token[1:] if kind == "sqz" else token)


def pairs(lines: Iterable[tuple[int, str]]) -> list[tuple[float, float]]:
    """Return the points of an `(XY..XY)` table, before the factors.

    Raises:
        DamagedTableError: A line holds no numbers, or the numbers do not pair.
    """
    numbers: list[float] = []
    last = 0
    for number, text in lines:
        last = number
        for kind, token in _tokens(number, text):
            if kind not in ("plain", "missing"):
                raise DamagedTableError(f"line {number} holds “{token}”, which is no number")
            numbers.append(_plain(kind, token))
        if len(numbers) > 2 * MOST_POINTS:
            raise DamagedTableError(f"line {number} goes past {MOST_POINTS:,} points")
    if len(numbers) % 2:
        raise DamagedTableError(
            f"the table that ends on line {last} has an abscissa without ordinate"
        )
    return list(zip(numbers[::2], numbers[1::2], strict=True))
