"""What a person answers to a doubt about a record."""

from dataclasses import dataclass, field
from enum import StrEnum
from typing import ClassVar

from workbench.records.codes import Chapter
from workbench.records.moments import When
from workbench.records.record import Fault, Record, Source, told


class Effect(StrEnum):
    """What a doubt does to the use of a reading, the mildest first."""

    NONE = "none"
    LOWER_BOUND = "lower bound"
    SET_ASIDE = "set aside"


@dataclass(frozen=True, slots=True, kw_only=True)
class DoubtAnswer(Record):
    """What becomes of a doubt: the effect that a person decides on, over a name."""

    noun: ClassVar[str] = "doubt_answer"
    title: ClassVar[str] = "Answer to a doubt"
    chapter: ClassVar[Chapter] = Chapter.FIELD_TESTS
    identity: ClassVar[tuple[str, ...]] = ("about", "rule")

    about: str = field(metadata=told("about", hint="the record in doubt, as “pull_off P-12”"))
    rule: str = field(metadata=told("doubt"))
    effect: Effect = field(metadata=told("effect"))
    reason: str = field(metadata=told("reason"))
    by: str = field(metadata=told("by"))
    signed: When | None = field(default=None, metadata=told("signed"))

    @property
    def record(self) -> Source:
        """The record in doubt."""
        return Source.read(self.about)

    def faults(self) -> tuple[Fault, ...]:
        """Refuse an answer without a reason."""
        if not self.reason.strip():
            return (Fault("reason", "an answer without a reason", "why the reading may be used"),)
        return ()
