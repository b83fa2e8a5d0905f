"""Colour and gloss as read."""

from dataclasses import dataclass, field
from enum import StrEnum
from typing import ClassVar

from workbench.records.codes import Chapter
from workbench.records.moments import When
from workbench.records.quantities import Quantity
from workbench.records.record import Fault, Record, told


class ColourMeans(StrEnum):
    """What a colour was read with; a photograph gives an indication and no measurement."""

    INSTRUMENT = "instrument"
    PHOTOGRAPH = "photograph"


@dataclass(frozen=True, slots=True, kw_only=True)
class ColourReading(Record):
    """A colour and a gloss as read, and the reading they are held against."""

    noun: ClassVar[str] = "colour_reading"
    sheet: ClassVar[str] = "colour"
    title: ClassVar[str] = "Colour and gloss reading"
    chapter: ClassVar[Chapter] = Chapter.LABORATORY

    ref: str = field(metadata=told("ref"))
    at: str = field(metadata=told("at", refers=("sample", "location", "area")))
    means: ColourMeans = field(metadata=told("read with"))
    lightness: Quantity | None = field(default=None, metadata=told("L*"))
    red_green: Quantity | None = field(default=None, metadata=told("a*"))
    yellow_blue: Quantity | None = field(default=None, metadata=told("b*"))
    gloss: Quantity | None = field(default=None, metadata=told("gloss"))
    angle: Quantity | None = field(default=None, metadata=told("gloss angle", unit="deg"))
    geometry: str = field(default="", metadata=told("geometry", hint="as d/8, D65, 10 degrees"))
    against: str = field(default="", metadata=told("against", refers=("colour_reading",)))
    instrument: str = field(default="", metadata=told("instrument"))
    file: str = field(default="", metadata=told("file"))
    by: str = field(default="", metadata=told("by"))
    date: When | None = field(default=None, metadata=told("date"))
    note: str = field(default="", metadata=told("note"))

    def faults(self) -> tuple[Fault, ...]:
        """Refuse half a colour, nothing read, gloss out of a picture, and a circle."""
        found = []
        colour = [self.lightness, self.red_green, self.yellow_blue]
        if any(colour) and not all(colour):
            found.append(Fault("lightness", "half a colour", "L*, a* and b* together"))
        if not any(colour) and not self.gloss:
            found.append(Fault("lightness", "neither colour nor gloss", "what was read"))
        if self.gloss and self.means is ColourMeans.PHOTOGRAPH:
            found.append(Fault("gloss", "gloss from a photograph", "the reading of a glossmeter"))
        if self.against and self.against == self.ref:
            found.append(Fault("against", "the reading against itself", "the one before it"))
        return tuple(found)
