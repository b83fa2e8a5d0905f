"""What is done in the laboratory beside results: questions, curves, sections, observations."""

from dataclasses import dataclass, field
from enum import StrEnum
from typing import ClassVar

from workbench.records.codes import Chapter, YesNo
from workbench.records.moments import When
from workbench.records.places import Points
from workbench.records.planes import Face
from workbench.records.quantities import Outcome, Quantity
from workbench.records.record import Fault, Record, told

_NONE_ON_PURPOSE = "none, on purpose"


class CurveKind(StrEnum):
    """What a curve was measured by."""

    INFRARED = "infrared"
    THERMOGRAM = "thermogram"
    ELEMENTS = "elements"
    OTHER = "other"


class CurveRole(StrEnum):
    """What a curve is for."""

    SPECIMEN = "specimen"
    CONTROL = "control"
    REFERENCE = "reference"
    CHECK_FILM = "check_film"
    BLANK = "blank"


class CurveOrdinate(StrEnum):
    """What stands on the ordinate of a curve."""

    ABSORBANCE = "absorbance"
    TRANSMITTANCE = "transmittance"
    PERCENT_TRANSMITTANCE = "percent transmittance"
    OTHER = "other"


class Preparation(StrEnum):
    """How a specimen was made ready for the microscope."""

    AS_FOUND = "as found"
    FRACTURE_FACE = "fracture face"
    POLISHED_SECTION = "polished section"
    LAPPED_SECTION = "lapped section"
    THIN_SECTION = "thin section"


class Illumination(StrEnum):
    """How a specimen was lit."""

    REFLECTED = "reflected light"
    OBLIQUE = "oblique light"
    TRANSMITTED = "transmitted light"
    CROSSED_POLARS = "crossed polars"
    ULTRAVIOLET = "ultraviolet"
    ELECTRONS = "electrons"


FEATURES_SEEN = (
    "carbonation depth", "weak skin", "paste film", "gel", "reaction rim", "frost cracks",
    "fractures", "voids", "air bubbles", "bond line", "aggregate", "unhydrated cement", "particles",
    "inclusions", "microcracks", "layers", "abrasion marks", "copied texture", "crazing",
    "interface line", "corrosion product", "pigment settling",
)  # fmt: skip
"""What petrography and microscopy look for; other words may stand too."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LabRequest(Record):
    """A question put to a laboratory about one sample, and how it is to be answered.

    The laboratory is told which sample is the control, and not what is expected.
    """

    noun: ClassVar[str] = "lab_request"
    sheet: ClassVar[str] = "requests"
    title: ClassVar[str] = "Laboratory request"
    chapter: ClassVar[Chapter] = Chapter.LABORATORY

    ref: str = field(metadata=told("ref"))
    sample: str = field(metadata=told("sample", refers=("sample",)))
    question: str = field(metadata=told("question"))
    method: str = field(metadata=told("method", hint="test id of the register"))
    edition: str = field(default="", metadata=told("edition", hint="the method's, as 2013 (2019)"))
    conditions: str = field(default="", metadata=told("conditions", hint="as 23 °C, 10 K/min"))
    control: str = field(default="", metadata=told("control", refers=("sample",)))
    blank: str = field(default="", metadata=told("blank", refers=("sample",)))
    laboratory: str = field(default="", metadata=told("laboratory"))
    own: YesNo | None = field(default=None, metadata=told("own laboratory"))
    analyst: str = field(default="", metadata=told("analyst"))
    supervision: str = field(default="", metadata=told("supervision"))
    asked: When | None = field(default=None, metadata=told("asked"))
    by: str = field(default="", metadata=told("asked by"))
    deviation: str = field(default="", metadata=told("deviation", hint=_NONE_ON_PURPOSE))
    note: str = field(default="", metadata=told("note"))
    attachments: str = field(
        default="", metadata=told("attachments", hint="files of the answer, ; between")
    )

    @property
    def files(self) -> tuple[str, ...]:
        """Names of the attachments."""
        return tuple(name for part in self.attachments.split(";") if (name := part.strip()))

    def faults(self) -> tuple[Fault, ...]:
        """Refuse a request without a question, and a sample that is its own control."""
        if not self.question.strip():
            return (Fault("question", "no question", "what the sample is to tell"),)
        if self.control and self.control == self.sample:
            return (Fault("control", "the sample as its own control", "another sample, or blank"),)
        return ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Curve(Record):
    """What a curve in an original file was measured on."""

    noun: ClassVar[str] = "curve"
    sheet: ClassVar[str] = "curves"
    title: ClassVar[str] = "Curve"
    chapter: ClassVar[Chapter] = Chapter.LABORATORY

    ref: str = field(metadata=told("ref"))
    file: str = field(metadata=told("file"))
    part: str = field(
        default="", metadata=told("part", hint="title of the block or heading; blank: the first")
    )
    kind: CurveKind = field(metadata=told("kind"))
    role: CurveRole | None = field(default=None, metadata=told("for"))
    sample: str = field(default="", metadata=told("sample", refers=("sample",)))
    face: Face | None = field(default=None, metadata=told("face"))
    ordinate: CurveOrdinate | None = field(
        default=None, metadata=told("ordinate", hint="blank: as the file and its data say")
    )
    technique: str = field(default="", metadata=told("technique", hint="as ATR on diamond"))
    date: When | None = field(default=None, metadata=told("date"))
    analyst: str = field(default="", metadata=told("analyst"))
    note: str = field(default="", metadata=told("note"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Assignment(Record):
    """What the analyst holds a spectrum, or bands of it, to be; over a name, with the reason."""

    noun: ClassVar[str] = "assignment"
    sheet: ClassVar[str] = "assignments"
    title: ClassVar[str] = "Assignment"
    chapter: ClassVar[Chapter] = Chapter.LABORATORY

    ref: str = field(metadata=told("ref"))
    file: str = field(metadata=told("file"))
    part: str = field(default="", metadata=told("part"))
    candidate: str = field(metadata=told("candidate"))
    bands: str = field(default="", metadata=told("bands", hint="1/cm, ; between"))
    reason: str = field(metadata=told("reason"))
    against: str = field(default="", metadata=told("what speaks against it"))
    by: str = field(metadata=told("by"))
    date: When | None = field(default=None, metadata=told("date"))

    def faults(self) -> tuple[Fault, ...]:
        """Refuse an assignment without a reason or a name behind it."""
        return tuple(
            Fault(name, f"no {word}", right)
            for name, word, right in (
                ("candidate", "candidate", "what it is held to be"),
                ("reason", "reason", "why: bands, matches, what else was ruled out"),
                ("by", "name", "who holds it"),
            )
            if not getattr(self, name).strip()
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionReading(Record):
    """The seams of a section as a person confirmed them, with the scale they are read by.

    Attributes:
        scale: The two ends of something of known length, such as a bar.
        line: Start and end of the middle profile.
        seams: Each seam in turn, one point a profile, in the order of the profiles.
        layers: Orders of the coats between the seams, from the first seam on; "-" for a gap.
    """

    noun: ClassVar[str] = "section_reading"
    sheet: ClassVar[str] = "section-readings"
    title: ClassVar[str] = "Section reading"
    chapter: ClassVar[Chapter] = Chapter.LABORATORY

    ref: str = field(metadata=told("ref"))
    file: str = field(metadata=told("file"))
    sample: str = field(metadata=told("sample", refers=("sample",)))
    scale: Points = field(metadata=told("scale", hint="two points, shares of width and height"))
    length: Quantity = field(metadata=told("length", unit="um", hint="between the two points"))
    length_uncertainty: Quantity | None = field(
        default=None, metadata=told("uncertainty of the length", unit="um")
    )
    line: Points = field(metadata=told("line", hint="start and end"))
    profiles: int = field(metadata=told("profiles"))
    apart: Quantity = field(metadata=told("apart", unit="px"))
    seams: Points = field(metadata=told("seams"))
    layers: str = field(metadata=told("layers", hint="3; -; 2; 1 along the line, - for a gap"))
    mount: Quantity | None = field(
        default=None, metadata=told("cut", unit="deg", hint="angle to the surface; blank: square")
    )
    proposed: YesNo | None = field(default=None, metadata=told("edges proposed by the program"))
    confirmed_by: str = field(metadata=told("confirmed by"))
    confirmed: When | None = field(default=None, metadata=told("confirmed"))
    note: str = field(default="", metadata=told("note"))

    @property
    def orders(self) -> tuple[int | None, ...]:
        """Order of each layer from the first seam on; None for a gap."""
        said = [word.strip() for word in self.layers.split(";")]
        return tuple(int(word) if word.isdecimal() else None for word in said)

    def faults(self) -> tuple[Fault, ...]:
        """Refuse what nobody confirmed, a scale of no length, and seams that do not fit."""
        found = []
        if not self.confirmed_by.strip():
            found.append(Fault("confirmed_by", "edges that nobody confirmed", "a name"))
        if len(self.scale.points) != 2 or self.length.value <= 0:
            found.append(Fault("scale", "no scale", "two points and a length above 0"))
        if len(self.line.points) != 2:
            found.append(Fault("line", f"{len(self.line.points)} points", "start and end"))
        seams = len(self.layers.split(";")) + 1
        if self.profiles < 1 or len(self.seams.points) != seams * self.profiles:
            wrong = f"{len(self.seams.points)} points for {seams} seams on {self.profiles} profiles"
            found.append(Fault("seams", wrong, "one point for each seam and profile"))
        return tuple(found)


@dataclass(frozen=True, slots=True, kw_only=True)
class Microscopy(Record):
    """One thing looked for under a microscope, in petrography too, with the picture of it."""

    noun: ClassVar[str] = "microscopy"
    sheet: ClassVar[str] = "microscopy"
    title: ClassVar[str] = "Microscopy observation"
    chapter: ClassVar[Chapter] = Chapter.LABORATORY

    ref: str = field(metadata=told("ref"))
    sample: str = field(metadata=told("sample", refers=("sample",)))
    face: Face | None = field(default=None, metadata=told("face"))
    preparation: Preparation | None = field(default=None, metadata=told("preparation"))
    illumination: Illumination | None = field(default=None, metadata=told("illumination"))
    magnification: Quantity | None = field(default=None, metadata=told("magnification"))
    feature: str = field(metadata=told("looked for", words=FEATURES_SEEN, open_words=True))
    found: Outcome = field(metadata=told("found", hint="a number with unit, present, none, few …"))
    where: str = field(default="", metadata=told("where"))
    fields_seen: int | None = field(default=None, metadata=told("fields seen"))
    control: str = field(default="", metadata=told("control", refers=("sample",)))
    file: str = field(default="", metadata=told("picture"))
    method: str = field(default="", metadata=told("method", hint="with edition, as ASTM C856-20"))
    by: str = field(default="", metadata=told("by"))
    date: When | None = field(default=None, metadata=told("date"))
    note: str = field(default="", metadata=told("note"))
