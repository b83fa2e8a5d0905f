"""What a person reads off a thermogram, and what rules of mixing and cure make of it."""

from dataclasses import dataclass, field
from enum import StrEnum
from typing import ClassVar

from workbench.records.codes import Chapter, YesNo
from workbench.records.moments import When
from workbench.records.planes import Face
from workbench.records.quantities import Quantity
from workbench.records.record import Fault, Record, told


class Heat(StrEnum):
    """Which heating of a specimen: the second no longer knows what the first removed."""

    FIRST = "first"
    SECOND = "second"


class TransitionDefinition(StrEnum):
    """How a glass transition temperature is read off the curve."""

    ONSET = "tangent onset"
    HALF_HEIGHT = "half step height"
    INFLECTION = "inflection"
    EQUAL_AREAS = "equal areas"
    END = "tangent end"


class CheckMaterial(StrEnum):
    """What an instrument for thermograms is checked with."""

    INDIUM = "indium"
    POLYSTYRENE = "polystyrene"


class PeakOf(StrEnum):
    """What a peak of a thermogram is of."""

    RESIDUAL_CURE = "residual cure"
    FRESH_MIXTURE = "fresh mixture"
    MELTING = "melting"


class MixingRule(StrEnum):
    """How a glass transition is reckoned from composition or cure, or cure from it."""

    FOX = "Fox"
    DIBENEDETTO = "DiBenedetto"
    CURE_FROM_TG = "DiBenedetto, cure from Tg"


@dataclass(frozen=True, slots=True, kw_only=True)
class TransitionReading(Record):
    """How a glass transition was constructed on a thermogram, so that anyone can do it again."""

    noun: ClassVar[str] = "transition_reading"
    sheet: ClassVar[str] = "glass-transitions"
    title: ClassVar[str] = "Glass transition reading"
    chapter: ClassVar[Chapter] = Chapter.LABORATORY

    ref: str = field(metadata=told("ref"))
    file: str = field(metadata=told("file"))
    part: str = field(default="", metadata=told("part", hint="heading of the column"))
    sample: str = field(
        default="", metadata=told("sample", refers=("sample",), hint="blank for a check material")
    )
    face: Face | None = field(default=None, metadata=told("face"))
    heat: Heat = field(metadata=told("heat"))
    before_from: Quantity = field(metadata=told("baseline before, from", unit="degC"))
    before_to: Quantity = field(metadata=told("baseline before, to", unit="degC"))
    after_from: Quantity = field(metadata=told("baseline after, from", unit="degC"))
    after_to: Quantity = field(metadata=told("baseline after, to", unit="degC"))
    definition: TransitionDefinition = field(metadata=told("definition"))
    rate: Quantity | None = field(default=None, metadata=told("rate K/min", unit="K/min"))
    by: str = field(metadata=told("by"))
    date: When | None = field(default=None, metadata=told("date"))
    note: str = field(default="", metadata=told("note"))
    check: CheckMaterial | None = field(
        default=None, metadata=told("check material", hint="where the instrument is checked")
    )

    def faults(self) -> tuple[Fault, ...]:
        """Refuse straight parts that are not in their order, and a curve of nothing."""
        found = []
        ends = (self.before_from, self.before_to, self.after_from, self.after_to)
        if sorted(end.value for end in ends) != [end.value for end in ends]:
            found.append(Fault("before_from", "straight parts out of order", "four rising values"))
        if not self.sample and self.check is None:
            found.append(Fault("sample", "neither sample nor check material", "one of the two"))
        return tuple(found)


@dataclass(frozen=True, slots=True, kw_only=True)
class PeakReading(Record):
    """Between which ends a peak of a thermogram was taken: residual cure, or a check by melting."""

    noun: ClassVar[str] = "peak_reading"
    sheet: ClassVar[str] = "peaks"
    title: ClassVar[str] = "Peak reading"
    chapter: ClassVar[Chapter] = Chapter.LABORATORY

    ref: str = field(metadata=told("ref"))
    file: str = field(metadata=told("file"))
    part: str = field(default="", metadata=told("part", hint="heading of the column"))
    sample: str = field(
        default="", metadata=told("sample", refers=("sample",), hint="blank for a check material")
    )
    face: Face | None = field(default=None, metadata=told("face"))
    peak: PeakOf = field(metadata=told("peak of"))
    first: Quantity = field(metadata=told("from", unit="degC"))
    last: Quantity = field(metadata=told("to", unit="degC"))
    rate: Quantity | None = field(default=None, metadata=told("rate K/min", unit="K/min"))
    mass: Quantity | None = field(
        default=None, metadata=told("specimen", unit="mg", hint="needed where the curve is in mW")
    )
    exotherm_up: YesNo | None = field(
        default=None, metadata=told("exotherm up", hint="blank: as the file says")
    )
    against: str = field(
        default="",
        metadata=told("against", refers=("peak_reading",), hint="that of the fresh mixture"),
    )
    check: CheckMaterial | None = field(
        default=None, metadata=told("check material", hint="where the instrument is checked")
    )
    by: str = field(metadata=told("by"))
    date: When | None = field(default=None, metadata=told("date"))
    note: str = field(default="", metadata=told("note"))

    def faults(self) -> tuple[Fault, ...]:
        """Refuse ends out of order, a curve of nothing, and a peak held against itself."""
        found = []
        if self.first.value >= self.last.value:
            found.append(Fault("first", "the ends are out of order", "the lower temperature first"))
        if not self.sample and self.check is None:
            found.append(Fault("sample", "neither sample nor check material", "one of the two"))
        if self.against and self.against == self.ref:
            found.append(Fault("against", "the peak against itself", "that of the fresh mixture"))
        return tuple(found)


@dataclass(frozen=True, slots=True, kw_only=True)
class TgEstimate(Record):
    """What a rule of mixing or of cure makes of known values: an estimate beside the reading.

    Attributes:
        shares: For Fox: mass shares in percent, `;` between.
        transitions: For Fox: the glass transition of each part, `;` between.
        conversion: For DiBenedetto: the degree of cure.
    """

    noun: ClassVar[str] = "tg_estimate"
    sheet: ClassVar[str] = "tg-estimates"
    title: ClassVar[str] = "Tg estimate"
    chapter: ClassVar[Chapter] = Chapter.LABORATORY

    ref: str = field(metadata=told("ref"))
    sample: str = field(metadata=told("sample", refers=("sample",)))
    face: Face | None = field(default=None, metadata=told("face"))
    rule: MixingRule = field(metadata=told("rule"))
    shares: str = field(default="", metadata=told("shares %", hint="Fox: 97; 3"))
    transitions: str = field(default="", metadata=told("Tg of each", hint="Fox, degC: 60; -95"))
    conversion: Quantity | None = field(default=None, metadata=told("cure %", unit="%"))
    read: Quantity | None = field(default=None, metadata=told("Tg read", unit="degC"))
    uncured: Quantity | None = field(default=None, metadata=told("Tg uncured", unit="degC"))
    cured: Quantity | None = field(default=None, metadata=told("Tg cured", unit="degC"))
    interaction: Quantity | None = field(
        default=None, metadata=told("lambda", hint="fitted for the material, 0 to 1")
    )
    basis: str = field(metadata=told("basis", hint="where the values come from"))
    by: str = field(metadata=told("by"))
    date: When | None = field(default=None, metadata=told("date"))
    note: str = field(default="", metadata=told("note"))

    def faults(self) -> tuple[Fault, ...]:
        """Refuse an estimate whose rule lacks a value."""
        needed = {
            MixingRule.FOX: ("shares", "transitions"),
            MixingRule.DIBENEDETTO: ("conversion", "uncured", "cured", "interaction"),
            MixingRule.CURE_FROM_TG: ("read", "uncured", "cured", "interaction"),
        }[self.rule]
        return tuple(
            Fault(name, f"no value for the rule {self.rule}", "a value")
            for name in needed
            if not getattr(self, name)
        )
