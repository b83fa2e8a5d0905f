"""What the investigator answers where no record can."""

from dataclasses import dataclass, field
from typing import ClassVar

from workbench.records.codes import Chapter, Quality
from workbench.records.record import Record, told


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer(Record):
    """The investigator's answer to an observation key that no record can give."""

    noun: ClassVar[str] = "answer"
    sheet: ClassVar[str] = "answers"
    title: ClassVar[str] = "Answer"
    chapter: ClassVar[Chapter] = Chapter.CAUSES
    identity: ClassVar[tuple[str, ...]] = ("observation", "area")

    observation: str = field(metadata=told("observation"))
    value: str = field(metadata=told("value"))
    area: str = field(default="", metadata=told("area", refers=("area",)))
    by: str = field(default="", metadata=told("by"))
    reason: str = field(default="", metadata=told("reason"))
    quality: Quality | None = field(default=None, metadata=told("quality"))
