"""Dates and times of a cell: ISO text and real spreadsheet dates; other orders are told."""

import re
from datetime import UTC, datetime, tzinfo

from workbench.exchange.field_book.cells import Cell, CellKind, clean
from workbench.records import When
from workbench.records.moments import YEARS
from workbench.records.written import NotUnderstoodError

RIGHT = "write 2019, 2019-02, 2019-02-08 or 2019-02-08 14:30"
_YEAR = re.compile(r"\d{4}(?!\d)")
_BY_DAY = re.compile(
    r"(?P<first>\d{1,2})[./ -](?P<second>\d{1,2})[./ -](?P<year>\d{4})\b(?P<rest>.*)"
)
_BY_YEAR = re.compile(r"(?P<year>\d{4})[./-](?P<month>\d{1,2})[./-](?P<day>\d{1,2})\b(?P<rest>.*)")


def read_when(cell: Cell) -> When:
    """Return the date or time that a cell says.

    Raises:
        NotUnderstoodError: It says none, or one in an order that may be read in two ways.
    """
    year = _YEAR.match(clean(cell.text))
    if year and int(year[0]) not in YEARS:
        raise NotUnderstoodError(f"the year {year[0]}", "check the year")
    if cell.kind is CellKind.DATE:
        return When(cell.text)
    if cell.kind is CellKind.NUMBER:
        return _read_number(cell.text)
    if cell.kind is CellKind.TIME:
        raise NotUnderstoodError(f"“{cell.text}” is a time without its day", RIGHT)
    text = clean(cell.text)
    try:
        return When.read(text)
    except NotUnderstoodError as wrong:
        raise NotUnderstoodError(
            f"“{text}” is not a date as the book takes it", _right(text)
        ) from wrong


def _read_number(text: str) -> When:
    if text.isdecimal() and int(text) in range(1900, 2101):
        return When(text)
    raise NotUnderstoodError(
        f"the number {text} is not a date", f"format the cell as a date, or {RIGHT}"
    )


def _right(text: str) -> str:
    """Return what would be right for a date in another order; both where two are possible."""
    if found := _BY_YEAR.fullmatch(text):
        orders = [(found["year"], found["month"], found["day"])]
    elif found := _BY_DAY.fullmatch(text):
        year, first, second = found["year"], found["first"], found["second"]
        orders = [(year, second, first), (year, first, second)]
    else:
        return RIGHT
    said = [f"{year}-{month:0>2}-{day:0>2}{found['rest']}" for year, month, day in orders]
    said = [one for one in dict.fromkeys(said) if _is_when(one)]
    if not said:
        return RIGHT
    return f"write {' or '.join(said)}{', whichever is meant' * (len(said) > 1)}"


def _is_when(text: str) -> bool:
    try:
        When.read(text)
    except NotUnderstoodError:
        return False
    return True


def doubtful_hour(when: When, zone: tzinfo) -> str:
    """Return what is wrong with a local time around a change of the clocks, or nothing."""
    if when.precision != "time" or zone is UTC:
        return ""
    moment = datetime.fromisoformat(when.text)
    if moment.tzinfo:
        return ""
    early, late = (moment.replace(tzinfo=zone, fold=fold) for fold in (0, 1))
    if early.utcoffset() == late.utcoffset():
        return ""
    exists = early.astimezone(UTC).astimezone(zone).replace(tzinfo=None) == moment
    return "came twice that night" if exists else "did not exist, the clocks went forward"
