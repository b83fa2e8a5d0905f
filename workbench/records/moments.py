"""Dates and times as they were recorded: a year, a month, a day, or an instant."""

import re
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta, tzinfo
from typing import Self

from workbench.records.written import NotUnderstoodError

_SHAPES = {4: "year", 7: "month", 10: "day"}
YEARS = range(1500, 2101)
"""Years in which something can have happened to a coated object, or fall due."""
_RIGHT = "write 2019, 2019-02, 2019-02-08 or 2019-02-08 14:30, with +01:00 where the zone differs"


@dataclass(frozen=True, slots=True)
class When:
    """A date or time with the precision it was recorded with.

    Attributes:
        text: ISO 8601 text: `2019`, `2019-02`, `2019-02-08`, `2019-02-08 14:30`, each time with
            or without an offset from UTC.
    """

    text: str

    def __post_init__(self) -> None:
        """Refuse what is no date.

        Raises:
            NotUnderstoodError: `text` is not an ISO date or time, or of no year to be meant.
        """
        try:
            year = self.start().year
        except ValueError as wrong:
            raise NotUnderstoodError(f"“{self.text}” is not a date", _RIGHT) from wrong
        if year not in YEARS:
            raise NotUnderstoodError(f"the year {year:04}", "check the year")

    @property
    def has_offset(self) -> bool:
        """Whether the text says how far its zone is from UTC."""
        return re.search(r"[+-]|Z$", self.text[10:]) is not None

    @property
    def precision(self) -> str:
        """One of year, month, day, time."""
        return _SHAPES.get(len(self.text), "time")

    def start(self, zone: tzinfo = UTC) -> datetime:
        """Return the first instant that this may be, aware; `zone` where the text has none."""
        if not re.fullmatch(r"\d{4}(-\d{2}(-\d{2}([ T]\d{2}:\d{2}.*)?)?)?", self.text):
            raise ValueError(self.text)
        padded = self.text + "0000-01-01"[len(self.text) :] if len(self.text) < 10 else self.text
        moment = datetime.fromisoformat(padded)
        return moment if moment.tzinfo else moment.replace(tzinfo=zone)

    def end(self, zone: tzinfo = UTC) -> datetime:
        """Return the instant just after the last that this may be, aware."""
        first = self.start(zone)
        if self.precision == "year":
            return first.replace(year=first.year + 1)
        if self.precision == "month":
            return (first + timedelta(days=32)).replace(day=1)
        return first + timedelta(days=1) if self.precision == "day" else first

    def day(self) -> date:
        """Return the calendar day as recorded (the first one of a month or year)."""
        return self.start().date()

    @classmethod
    def read(cls, text: str) -> Self:
        """Return the moment that `text` says.

        Raises:
            NotUnderstoodError: It is not an ISO date or time.
        """
        return cls(" ".join(text.split()).replace("T", " "))

    def __str__(self) -> str:
        """Return the ISO text."""
        return self.text
