"""What was seen, and the photographs of it."""

from dataclasses import dataclass, field
from typing import ClassVar

from workbench.records.codes import FAILURE_FORMS, FORM_CLASSES, SIGNS, Chapter
from workbench.records.moments import When
from workbench.records.planes import Plane
from workbench.records.quantities import Quantity
from workbench.records.record import Fault, Record, told

FORMS = (*FAILURE_FORMS, *SIGNS, *(f"{n}={v}" for n, vs in FORM_CLASSES.items() for v in vs))


@dataclass(frozen=True, slots=True, kw_only=True)
class SurveyEntry(Record):
    """One form of failure, or one sign, seen or looked for at a place.

    A row with neither extent nor count says "seen"; 0 says "looked for and not found".
    """

    noun: ClassVar[str] = "survey_entry"
    sheet: ClassVar[str] = "survey"
    title: ClassVar[str] = "Survey entry"
    chapter: ClassVar[Chapter] = Chapter.SURVEY

    ref: str = field(metadata=told("ref"))
    at: str = field(metadata=told("at", refers=("location", "area")))
    form: str = field(metadata=told("form", words=FORMS))
    plane: Plane | None = field(default=None, metadata=told("plane"))
    size: str = field(default="", metadata=told("size"))
    density: str = field(default="", metadata=told("density"))
    scale: str = field(default="", metadata=told("scale"))
    extent: Quantity | None = field(default=None, metadata=told("extent %", unit="%"))
    count: int | None = field(default=None, metadata=told("count"))
    looked_at: int | None = field(default=None, metadata=told("of", hint="how many looked at"))
    note: str = field(default="", metadata=told("note"))
    photo: str = field(default="", metadata=told("photo", refers=("photo",)))

    @property
    def seen(self) -> bool:
        """Whether the form was found; False says it was looked for and not found."""
        told_amounts = [self.extent.value] if self.extent else []
        told_amounts += [self.count] if self.count is not None else []
        return not told_amounts or max(told_amounts) > 0

    def faults(self) -> tuple[Fault, ...]:
        """Refuse an extent outside 0 to 100 %, and a count above the number looked at or without.

        Where so many were looked at and neither count nor extent is said, a blank might mean that
        none has it, or that nobody counted: it is not taken as "seen".
        """
        if self.extent and not 0 <= self.extent.value <= 100:
            return (Fault("extent", f"extent {self.extent}", "0 to 100 %"),)
        if self.count is not None and self.count < 0:
            return (Fault("count", f"count {self.count}", "0 or more"),)
        if self.looked_at is not None and self.count is None and self.extent is None:
            wrong = f"{self.looked_at} looked at, and no count of those that have it"
            return (Fault("count", wrong, "how many; 0 where none has it"),)
        if None not in (self.count, self.looked_at) and (self.count or 0) > (self.looked_at or 0):
            wrong = f"{self.count} found of {self.looked_at} looked at"
            return (Fault("count", wrong, "no more found than looked at"),)
        return ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Photo(Record):
    """A photograph; the original is kept unchanged under its digest."""

    noun: ClassVar[str] = "photo"
    sheet: ClassVar[str] = "photos"
    title: ClassVar[str] = "Photograph"
    chapter: ClassVar[Chapter] = Chapter.SURVEY
    identity: ClassVar[tuple[str, ...]] = ("ref", "file")

    file: str = field(metadata=told("file"))
    ref: str = field(default="", metadata=told("ref"))
    taken: When | None = field(default=None, metadata=told("taken"))
    at: str = field(default="", metadata=told("at", refers=("location", "area", "sample")))
    direction: str = field(default="", metadata=told("direction"))
    caption: str = field(default="", metadata=told("caption"))
