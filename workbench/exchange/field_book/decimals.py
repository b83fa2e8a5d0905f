"""Decimal commas and thousands signs: read where only one reading is possible, else refused."""

import re
from typing import NamedTuple

from workbench.records.written import NotUnderstoodError

_TOKEN = re.compile(r"(?<![\w.,])[+-]?\d[\d.,]*[.,]\d+(?![\d.,]*\d)")
_THOUSANDS = r"[1-9]\d{0,2}(?:%s\d{3})+"
POINT_RIGHT = "write numbers with a decimal point and without thousands signs"


class Points(NamedTuple):
    """A text with decimal points, and what it had.

    Attributes:
        text: The text with decimal points.
        commas: Whether a comma was read as something.
        points: Whether it had decimal points of its own.
        thousands_like: Whether one of those points has three digits behind it, as in 1.234.
    """

    text: str
    commas: bool = False
    points: bool = False
    thousands_like: bool = False


def with_points(text: str, *, is_list: bool = False) -> Points:
    """Return `text` with every number in it written with a decimal point.

    Args:
        text: A number, or several with units, planes or `;` between.
        is_list: Whether a comma may also stand between two readings.

    Raises:
        NotUnderstoodError: A comma may mean more than one thing.
    """
    if "," not in text:
        point = re.search(r"\d\.\d", text) is not None
        return Points(text, points=point, thousands_like=_thousands_like(text))
    if is_list and ";" not in text:
        raise NotUnderstoodError(
            f"in “{text}” the comma may part two readings or be a decimal sign",
            "write 690; 700; 655, each with a decimal point",
        )
    read = _TOKEN.sub(lambda found: _plain(found[0]), text)
    points = any("," not in token for token in _TOKEN.findall(text))
    return Points(read, commas=read != text, points=points)


def _thousands_like(text: str) -> bool:
    return re.search(rf"(?<![\d.,]){_THOUSANDS % '[.]'}(?!\d)", text) is not None


def _plain(token: str) -> str:
    """Return one number with a decimal point."""
    if "," not in token:
        return token
    sign, digits = (token[0], token[1:]) if token[0] in "+-" else ("", token)
    comma, point = digits.rfind(","), digits.rfind(".")
    if point < 0:
        return sign + _commas_only(digits)
    decimal, other = (",", ".") if comma > point else (".", ",")
    whole, _, decimals = digits.rpartition(decimal)
    if not re.fullmatch(_THOUSANDS % re.escape(other), whole) or not decimals.isdecimal():
        raise NotUnderstoodError(f"“{token}” is not a number", POINT_RIGHT)
    return f"{sign}{whole.replace(other, '')}.{decimals}"


def _commas_only(digits: str) -> str:
    if digits.count(",") > 1:
        if re.fullmatch(_THOUSANDS % ",", digits):
            return digits.replace(",", "")
        raise NotUnderstoodError(f"“{digits}” is not one number", POINT_RIGHT)
    if re.fullmatch(_THOUSANDS % ",", digits):
        whole = digits.replace(",", "")
        raise NotUnderstoodError(
            f"“{digits}” may be {digits.replace(',', '.')} or {whole}",
            f"write {digits.replace(',', '.')} or {whole}, whichever is meant",
        )
    return digits.replace(",", ".")
