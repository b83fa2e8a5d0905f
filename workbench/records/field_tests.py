"""What was read on site: pull-offs, ratings, thickness, and other measurements."""

from dataclasses import dataclass, field
from typing import ClassVar

from workbench.records.bounds import MOST_STRESS, value_fault
from workbench.records.codes import (
    MEASUREMENT_QUANTITIES,
    OPEN_PREFIXES,
    UNITS,
    Chapter,
    FixtureShape,
    PullOffMethod,
    Qualifier,
    RatingMethod,
    ThicknessMethod,
    Treatment,
    YesNo,
)
from workbench.records.moments import When
from workbench.records.planes import Breaks, Face
from workbench.records.quantities import Outcome, Quantity, Readings
from workbench.records.record import Fault, Record, told

_STRESS = frozenset({"MPa", "N/mm2"})


@dataclass(frozen=True, slots=True, kw_only=True)
class PullOff(Record):
    """One pull-off: what was glued on, what was read, and where it broke."""

    noun: ClassVar[str] = "pull_off"
    sheet: ClassVar[str] = "pull-off"
    title: ClassVar[str] = "Pull-off"
    chapter: ClassVar[Chapter] = Chapter.FIELD_TESTS

    ref: str = field(metadata=told("ref"))
    location: str = field(metadata=told("location", refers=("location",)))
    date: When | None = field(default=None, metadata=told("date"))
    method: PullOffMethod = field(metadata=told("method"))
    on: int | None = field(
        default=None, metadata=told("on", hint="coat under the fixture; blank: last; 0: bare")
    )
    treatment: Treatment | None = field(
        default=None, metadata=told("treatment", hint="on a trial patch only; blank elsewhere")
    )
    fixture: Quantity | None = field(
        default=None, metadata=told("fixture", unit_heading="fixture unit")
    )
    shape: FixtureShape | None = field(default=None, metadata=told("shape"))
    cut_round: Outcome | None = field(
        default=None, metadata=told("cut round", hint="yes, no, or the depth into the substrate")
    )
    glue: str = field(default="", metadata=told("glue"))
    cure: Quantity | None = field(default=None, metadata=told("cure h", unit="h"))
    reading: Quantity | None = field(default=None, metadata=told("reading", unit_heading="unit"))
    calibrated_for: Quantity | None = field(
        default=None, metadata=told("calibrated for", unit_heading="fixture unit")
    )
    seconds: Quantity | None = field(default=None, metadata=told("seconds", unit="s"))
    came_away: YesNo | None = field(default=None, metadata=told("came away"))
    breaks: Breaks | None = field(
        default=None, metadata=told("breaks", hint="A/B 60; B 30; Y 10, summing to 100")
    )
    operator: str = field(default="", metadata=told("operator"))
    instrument: str = field(default="", metadata=told("instrument", refers=("instrument",)))
    note: str = field(default="", metadata=told("note"))

    def faults(self) -> tuple[Fault, ...]:
        """Refuse a negative reading, a fixture of no size, and a cut or shares that say nothing."""
        found = []
        if self.reading and self.reading.value < 0:
            found.append(Fault("reading", f"reading {self.reading}", "0 or more"))
        if self.reading and self.reading.unit in _STRESS and self.reading.value > MOST_STRESS:
            right = f"{MOST_STRESS:g} at most; look at the decimal point and the unit"
            found.append(Fault("reading", f"reading {self.reading}", right))
        if self.fixture and self.fixture.value <= 0:
            found.append(Fault("fixture", f"fixture {self.fixture}", "a size above 0"))
        if self.cut_round and self.cut_round.word not in {"", *YesNo}:
            right = "yes, no, or the depth into the substrate"
            found.append(Fault("cut_round", f"“{self.cut_round}” for cut round", right))
        if self.breaks and not self.breaks.balanced:
            wrong = f"the shares sum to {self.breaks.total:g}"
            found.append(Fault("breaks", wrong, "shares that sum to 100"))
        return tuple(found)


@dataclass(frozen=True, slots=True, kw_only=True)
class Rating(Record):
    """A rating on the scale of its method."""

    noun: ClassVar[str] = "rating"
    sheet: ClassVar[str] = "ratings"
    title: ClassVar[str] = "Rating"
    chapter: ClassVar[Chapter] = Chapter.FIELD_TESTS

    ref: str = field(metadata=told("ref"))
    location: str = field(metadata=told("location", refers=("location",)))
    date: When | None = field(default=None, metadata=told("date"))
    method: RatingMethod = field(metadata=told("method"))
    rating: Quantity = field(metadata=told("rating"))
    plane: Face | None = field(default=None, metadata=told("plane"))
    on: int | None = field(default=None, metadata=told("on"))
    operator: str = field(default="", metadata=told("operator"))
    note: str = field(default="", metadata=told("note"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Thickness(Record):
    """Readings of the thickness of one layer, or of all, at one spot."""

    noun: ClassVar[str] = "thickness"
    sheet: ClassVar[str] = "thickness"
    title: ClassVar[str] = "Thickness"
    chapter: ClassVar[Chapter] = Chapter.FIELD_TESTS

    ref: str = field(metadata=told("ref"))
    location: str = field(metadata=told("location", refers=("location",)))
    method: ThicknessMethod = field(metadata=told("method"))
    layer: str = field(metadata=told("layer", hint="total, or the order of the coat"))
    readings: Readings = field(metadata=told("readings", unit_heading="unit"))
    unit: str = field(metadata=told("unit", words=UNITS))
    date: When | None = field(default=None, metadata=told("date"))
    operator: str = field(default="", metadata=told("operator"))
    note: str = field(default="", metadata=told("note"))

    @property
    def order(self) -> int | None:
        """Order of the coat; None for the total."""
        return None if self.layer == "total" else int(self.layer)

    def faults(self) -> tuple[Fault, ...]:
        """Refuse a layer that is neither a coat nor the total, and a negative reading."""
        if self.layer != "total" and not self.layer.isdecimal():
            return (Fault("layer", f"layer “{self.layer}”", "total, or the order of the coat"),)
        if (self.readings.smallest or 0) < 0 or self.readings.average < 0:
            return (Fault("readings", f"readings {self.readings}", "0 or more"),)
        return ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Measurement(Record):
    """Any other quantity measured or tested at a place."""

    noun: ClassVar[str] = "measurement"
    sheet: ClassVar[str] = "measurements"
    title: ClassVar[str] = "Measurement"
    chapter: ClassVar[Chapter] = Chapter.FIELD_TESTS

    ref: str = field(metadata=told("ref"))
    location: str = field(metadata=told("location", refers=("location",)))
    method: str = field(metadata=told("method", hint="test id, record, calculation, not_stated"))
    quantity: str = field(
        metadata=told("quantity", words=(*MEASUREMENT_QUANTITIES, *OPEN_PREFIXES))
    )
    value: Outcome = field(metadata=told("value", unit_heading="unit"))
    qualifier: Qualifier | None = field(default=None, metadata=told("qualifier"))
    plane: Face | None = field(default=None, metadata=told("plane"))
    depth: Quantity | None = field(default=None, metadata=told("depth", unit="mm"))
    date: When | None = field(default=None, metadata=told("date"))
    operator: str = field(default="", metadata=told("operator"))
    note: str = field(default="", metadata=told("note"))

    def faults(self) -> tuple[Fault, ...]:
        """Refuse a pH that no water has."""
        fault = value_fault(self.quantity, self.value.quantity)
        return (fault,) if fault else ()
