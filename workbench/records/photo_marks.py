"""Marks on photographs: kept apart from the picture, drawn over it anew each time it is shown."""

from dataclasses import dataclass, field
from enum import StrEnum
from typing import ClassVar

from workbench.records.codes import Chapter
from workbench.records.places import Points
from workbench.records.quantities import Quantity
from workbench.records.record import Fault, Record, told


class MarkShape(StrEnum):
    """What a mark on a photograph is."""

    ARROW = "arrow"
    RING = "ring"
    SCALE = "scale"
    DIMENSION = "dimension"
    WORDS = "words"


POINTS_OF = {
    MarkShape.ARROW: 2, MarkShape.RING: 2, MarkShape.SCALE: 2, MarkShape.DIMENSION: 2,
    MarkShape.WORDS: 1,
}  # fmt: skip
"""How many points a mark has: tail and tip, middle and rim, both ends, or where the words stand."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotoMark(Record):
    """One mark on a photograph; the original under it stays as it was received.

    A scale says how long something in the picture is; dimensions follow from it.
    """

    noun: ClassVar[str] = "photo_mark"
    title: ClassVar[str] = "Mark on a photograph"
    chapter: ClassVar[Chapter] = Chapter.SURVEY

    ref: str = field(metadata=told("ref"))
    photo: str = field(metadata=told("photo", refers=("photo",)))
    shape: MarkShape = field(metadata=told("shape"))
    points: Points = field(metadata=told("points", hint="shares of width and height"))
    words: str = field(default="", metadata=told("words"))
    length: Quantity | None = field(default=None, metadata=told("length", hint="of a scale"))

    def faults(self) -> tuple[Fault, ...]:
        """Refuse a mark with too few or too many points, a scale of no length, empty words."""
        wanted = POINTS_OF[self.shape]
        if len(self.points.points) != wanted:
            wrong = f"{len(self.points.points)} points for a mark of the shape {self.shape}"
            return (Fault("points", wrong, f"{wanted} of them"),)
        if self.shape is MarkShape.SCALE and (self.length is None or self.length.value <= 0):
            return (Fault("length", "a scale without a length", "how long it is, as 50 mm"),)
        if self.shape is MarkShape.WORDS and not self.words.strip():
            return (Fault("words", "no words", "what shall stand there"),)
        return ()
