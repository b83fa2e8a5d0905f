"""Where a number, a rule or a formula of the trade comes from, and how firmly it is known."""

from dataclasses import dataclass
from enum import StrEnum


class Status(StrEnum):
    """How a source is known."""

    READ = "read"
    MEMORY = "from memory"
    PRACTICE = "common practice, no source"
    COMPUTED = "computed"
    OWN = "rule of this program, no source"


@dataclass(frozen=True, slots=True)
class Basis:
    """A source and how it is known.

    Attributes:
        source: Standard, handbook or kind of paper.
        status: Whether it was seen in print, recalled, or is common practice without a source.
    """

    source: str
    status: Status

    def __str__(self) -> str:
        """Return source and status: "ASTM D7234 (from memory)"."""
        if not self.source:
            return str(self.status)
        return f"{self.source} ({self.status})"


PRACTICE = Basis("", Status.PRACTICE)
"""Common practice, for which no source is known."""
