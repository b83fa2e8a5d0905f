"""What stands in one cell, whatever kind of file it came from, as a person sees it."""

import math
import re
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from enum import StrEnum
from functools import lru_cache
from typing import NamedTuple

SIGNIFICANT = 15
"""Digits that a spreadsheet keeps of a number (IEEE 754 double as spreadsheets show it)."""


_MOST_SAID = 240


class CellKind(StrEnum):
    """What a spreadsheet took a cell for."""

    TEXT = "text"
    NUMBER = "a number"
    DATE = "a date"
    TIME = "a time of day"
    BOOLEAN = "TRUE or FALSE"
    FORMULA = "a formula"
    ERROR = "an error"


class Cell(NamedTuple):
    """One cell that is not empty.

    Attributes:
        text: What it says: a number with the digits and words shown, a date in ISO.
        kind: What the spreadsheet took it for; always text in a CSV file, but for a formula.
        shown_as: The spreadsheet's number format, where it is not the general one.
    """

    text: str
    kind: CellKind = CellKind.TEXT
    shown_as: str = ""


@dataclass(frozen=True, slots=True)
class Row:
    """One row that is not empty.

    Attributes:
        number: Its number in the sheet, from 1.
        cells: Its cells by the number of the column, from 0.
    """

    number: int
    cells: dict[int, Cell]


@lru_cache(maxsize=65536)
def number_cell(value: float, shown_as: str) -> Cell:
    """Return a number as it is shown: "50.0" in the format 0.0, "65 %" in the format 0%."""
    general = shown_as in {"General", "@", ""}
    if not math.isfinite(value):
        return Cell(str(value), CellKind.ERROR)
    text = str(value) if isinstance(value, int) else f"{value:.{SIGNIFICANT}g}"
    if general:
        return Cell(text, CellKind.NUMBER)
    shown = _formatted(text, shown_as)
    if shown is None:
        return Cell(f"{text}, shown in the format {shown_as},", CellKind.ERROR)
    return Cell(shown, CellKind.NUMBER, shown_as)


_FORMAT = re.compile(
    r"""(?P<before>(?:"[^"]*"|\\.|_.|\*.|\[[^\]]*\]|[ $€£-])*)
        (?P<number>[#0?,]*0?(?:\.[0?#]+)?)
        (?P<after>(?:"[^"]*"|\\.|_.|\*.|%|[ ])*)""",
    re.VERBOSE,
)


def _formatted(text: str, shown_as: str) -> str | None:
    """Return a number with the decimals, percent sign and words that its format adds.

    None where the format adds words or a percent sign in a way that is not followed here.
    """
    first = shown_as.split(";", maxsplit=1)[0].replace("General", "#")
    found = _FORMAT.fullmatch(first)
    turns = text.startswith("-") and ";" in shown_as
    if not found or "e" in text or turns or re.search(r"\[[<>=]", shown_as):
        return None if re.search(r'%|"[^"]*\w[^"]*"', shown_as) else text
    percent = "%" in found["after"]
    number = format(Decimal(text) * 100, "f") if percent else text
    if percent and "." in number:
        number = number.rstrip("0").rstrip(".")
    number = _padded(number, found["number"])
    return f"{_words(found['before'])}{number}{_words(found['after'])}{' %' if percent else ''}"


def _padded(number: str, pattern: str) -> str:
    """Return `number` with the zeros that its format shows in front and behind."""
    front, _, behind = pattern.partition(".")
    whole, point, decimals = number.partition(".")
    zeros = behind.count("0") - len(decimals)
    if zeros > 0:
        decimals, point = decimals + "0" * zeros, "."
    sign = "-" if whole.startswith("-") else ""
    return f"{sign}{whole.lstrip('-').zfill(front.count('0'))}{point}{decimals}"


def _words(part: str) -> str:
    """Return what a part of a number format writes out as it stands."""
    kept = re.findall(r'"([^"]*)"|\\(.)', part)
    said = "".join(quoted or escaped for quoted, escaped in kept)
    return f" {said.strip()}" if said.strip() and part.startswith((" ", "\\ ", '" ')) else said


def date_cell(value: date | datetime | time | timedelta, shown_as: str) -> Cell:
    """Return a date as ISO text, with its time where it has one or its format shows one."""
    if isinstance(value, timedelta):
        return Cell(str(value), CellKind.TIME, shown_as)
    if isinstance(value, time):
        return Cell(value.isoformat("seconds"), CellKind.TIME, shown_as)
    if not isinstance(value, datetime):
        return Cell(value.isoformat(), CellKind.DATE, shown_as)
    nearest = (value + timedelta(microseconds=500_000)).replace(microsecond=0)
    with_time = "h" in shown_as.lower() or nearest.time() != time()
    if not with_time:
        return Cell(nearest.date().isoformat(), CellKind.DATE, shown_as)
    precision = "seconds" if nearest.second else "minutes"
    return Cell(nearest.isoformat(" ", precision), CellKind.DATE, shown_as)


def clean(text: str) -> str:
    """Return `text` without stray spaces: one space between words, none at the ends."""
    return " ".join(text.replace("\u200b", "").replace("\ufeff", "").split())


def shortened(text: str) -> str:
    """Return a sentence that quotes no more of a long cell than a person reads."""
    return text if len(text) <= _MOST_SAID else f"{text[:_MOST_SAID]}…"


def clean_lines(text: str) -> str:
    """Return free text with its lines kept, each without stray spaces."""
    lines = text.replace("_x000D_", "").replace("\r\n", "\n").replace("\r", "\n").split("\n")
    return "\n".join(clean(line) for line in lines).strip()
