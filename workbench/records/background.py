"""Background: who, what papers, which system, which areas, and what was done to them when."""

from dataclasses import dataclass, field
from typing import ClassVar

from workbench.records.bounds import (
    AIR_C,
    LONGEST_H,
    SURFACE_C,
    order_faults,
    share_faults,
    temperature_faults,
)
from workbench.records.codes import (
    LAB_QUANTITIES,
    LIMIT_ONLY_QUANTITIES,
    MATERIALS,
    MEASUREMENT_QUANTITIES,
    Chapter,
    Condition,
    DocumentKind,
    DocumentStatus,
    Event,
    MixBasis,
    Quality,
    Role,
    Substrate,
    YesNo,
)
from workbench.records.moments import When
from workbench.records.places import Features, Outline, Refs
from workbench.records.quantities import Outcome, Quantity
from workbench.records.record import Fault, Record, told

CASE_KEYS = (
    "reference", "title", "client", "site", "object", "opened", "time zone", "units", "question 1",
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class CaseEntry(Record):
    """One thing said about the case as a whole, such as its title or a question put."""

    noun: ClassVar[str] = "case_entry"
    sheet: ClassVar[str] = "case"
    title: ClassVar[str] = "Case entry"
    identity: ClassVar[tuple[str, ...]] = ("key",)

    key: str = field(metadata=told("key", words=CASE_KEYS, open_words=True))
    value: str = field(default="", metadata=told("value"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Party(Record):
    """A person or firm with a part in the matter."""

    noun: ClassVar[str] = "party"
    sheet: ClassVar[str] = "parties"
    title: ClassVar[str] = "Party"
    identity: ClassVar[tuple[str, ...]] = ("name", "role")

    name: str = field(metadata=told("name"))
    role: Role = field(metadata=told("role"))
    contact: str = field(default="", metadata=told("contact"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Document(Record):
    """A paper asked for or received; what came of the request is part of the evidence."""

    noun: ClassVar[str] = "document"
    sheet: ClassVar[str] = "documents"
    title: ClassVar[str] = "Document"

    ref: str = field(metadata=told("ref"))
    name: str = field(metadata=told("title"))
    kind: DocumentKind | None = field(default=None, metadata=told("kind"))
    sender: str = field(default="", metadata=told("from"))
    dated: When | None = field(default=None, metadata=told("dated"))
    received: When | None = field(default=None, metadata=told("received"))
    status: DocumentStatus = field(metadata=told("status"))
    file: str = field(default="", metadata=told("file"))
    note: str = field(default="", metadata=told("note"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Coat(Record):
    """One layer of a system as specified; order 0 is the substrate."""

    noun: ClassVar[str] = "coat"
    sheet: ClassVar[str] = "coats"
    title: ClassVar[str] = "Coat"
    identity: ClassVar[tuple[str, ...]] = ("system", "order")

    system: str = field(metadata=told("system"))
    order: int = field(metadata=told("order", hint="0 is the substrate, 1 the first coat"))
    material: str = field(metadata=told("material", words=tuple(sorted(MATERIALS))))
    product: str = field(default="", metadata=told("product"))
    colour: str = field(default="", metadata=told("colour"))
    existing: YesNo | None = field(default=None, metadata=told("existing"))
    dft_nominal: Quantity | None = field(
        default=None, metadata=told("dft nominal", unit_heading="dft unit")
    )
    dft_min: Quantity | None = field(
        default=None, metadata=told("dft min", unit_heading="dft unit")
    )
    dft_max: Quantity | None = field(
        default=None, metadata=told("dft max", unit_heading="dft unit")
    )
    volume_solids: Quantity | None = field(default=None, metadata=told("volume solids %", unit="%"))
    mix_ratio: str = field(default="", metadata=told("mix ratio", hint="3:1, base to hardener"))
    mix_basis: MixBasis | None = field(default=None, metadata=told("mix basis"))
    pot_life: Quantity | None = field(default=None, metadata=told("pot life min", unit="min"))
    apply_min: Quantity | None = field(default=None, metadata=told("apply min C", unit="degC"))
    apply_max: Quantity | None = field(default=None, metadata=told("apply max C", unit="degC"))
    humidity_max: Quantity | None = field(default=None, metadata=told("max rh %", unit="%"))
    humidity_min: Quantity | None = field(default=None, metadata=told("min rh %", unit="%"))
    dew_margin: Quantity | None = field(default=None, metadata=told("dew margin C", unit="K"))
    note: str = field(default="", metadata=told("note"))

    def faults(self) -> tuple[Fault, ...]:
        """Refuse a material that its order rules out, and temperatures and shares of no paint."""
        if self.order < 0:
            return (Fault("order", f"order {self.order}", "0 for the substrate, 1 and up"),)
        substrate = self.material in frozenset(Substrate)
        if self.order == 0 and not substrate:
            return (Fault("material", f"“{self.material}” at order 0", "a substrate"),)
        if self.order > 0 and substrate and self.material != Substrate.BITUMINOUS:
            return (Fault("material", f"“{self.material}” as a coat", "what the coat is made of"),)
        return (
            *temperature_faults(self, ("apply_min", "apply_max"), SURFACE_C),
            *share_faults(self, ("volume_solids", "humidity_max", "humidity_min")),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class RecoatWindow(Record):
    """How long after a product the next one may follow, at one temperature."""

    noun: ClassVar[str] = "recoat_window"
    sheet: ClassVar[str] = "recoat"
    title: ClassVar[str] = "Recoat window"
    identity: ClassVar[tuple[str, ...]] = ("product", "on_top", "at_temperature")
    repeats: ClassVar[bool] = True

    product: str = field(metadata=told("product"))
    on_top: str = field(default="", metadata=told("with", hint="the product on top; blank: any"))
    at_temperature: Quantity | None = field(default=None, metadata=told("at C", unit="degC"))
    min_interval: Quantity | None = field(default=None, metadata=told("min h", unit="h"))
    max_interval: Outcome | None = field(
        default=None, metadata=told("max h", unit="h", hint="none: no maximum; blank: not known")
    )
    source_text: str = field(default="", metadata=told("source"))

    def faults(self) -> tuple[Fault, ...]:
        """Refuse a temperature at which nobody coats, and a time below 0."""
        times = (("min_interval", self.min_interval), ("max_interval", self.max_interval))
        return (
            *temperature_faults(self, ("at_temperature",), SURFACE_C),
            *(
                Fault(name, f"a time of {said}", f"0 to {LONGEST_H:g} h")
                for name, said in times
                if said and said.value is not None and not 0 <= said.value <= LONGEST_H
            ),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit(Record):
    """What a contract or data sheet requires of a quantity."""

    noun: ClassVar[str] = "limit"
    sheet: ClassVar[str] = "limits"
    title: ClassVar[str] = "Limit"
    identity: ClassVar[tuple[str, ...]] = (
        "quantity", "applies_to", "at_temperature", "method", "source_text",
    )  # fmt: skip
    repeats: ClassVar[bool] = True

    quantity: str = field(
        metadata=told(
            "quantity",
            words=(*MEASUREMENT_QUANTITIES, *LAB_QUANTITIES, *LIMIT_ONLY_QUANTITIES),
            open_words=True,
        )
    )
    applies_to: str = field(
        default="", metadata=told("for", hint="product, system, system:order or area; blank: all")
    )
    at_temperature: Quantity | None = field(default=None, metadata=told("at C", unit="degC"))
    method: str = field(default="", metadata=told("method"))
    minimum: Quantity | None = field(default=None, metadata=told("min", unit_heading="unit"))
    maximum: Quantity | None = field(default=None, metadata=told("max", unit_heading="unit"))
    source_text: str = field(metadata=told("source"))
    note: str = field(default="", metadata=told("note"))

    def faults(self) -> tuple[Fault, ...]:
        """Refuse a limit that limits nothing."""
        if self.minimum is None and self.maximum is None:
            return (Fault("minimum", "neither min nor max", "give at least one of them"),)
        return ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Area(Record):
    """A part of the object with one condition and one coating system."""

    noun: ClassVar[str] = "area"
    sheet: ClassVar[str] = "areas"
    title: ClassVar[str] = "Area"

    ref: str = field(metadata=told("ref"))
    name: str = field(metadata=told("name"))
    condition: Condition = field(metadata=told("condition"))
    system: str = field(default="", metadata=told("system"))
    within: str = field(default="", metadata=told("within", refers=("area",)))
    size: Quantity | None = field(default=None, metadata=told("size", unit_heading="size unit"))
    outline: Outline | None = field(default=None, metadata=told("outline"))
    level: str = field(
        default="", metadata=told("level", in_book=False, hint="level or side; blank: all")
    )
    features: Features | None = field(default=None, metadata=told("features"))
    note: str = field(default="", metadata=told("note"))


@dataclass(frozen=True, slots=True, kw_only=True)
class AreaEvent(Record):
    """What happened to an area other than a coat."""

    noun: ClassVar[str] = "area_event"
    sheet: ClassVar[str] = "events"
    title: ClassVar[str] = "Event"
    identity: ClassVar[tuple[str, ...]] = ("area", "event", "start")
    repeats: ClassVar[bool] = True

    area: str = field(default="", metadata=told("area", refers=("area",)))
    event: Event = field(metadata=told("event"))
    start: When = field(metadata=told("start"))
    end: When | None = field(default=None, metadata=told("end"))
    value: Outcome | None = field(default=None, metadata=told("value", unit_heading="unit"))
    source_text: str = field(default="", metadata=told("source"))
    quality: Quality | None = field(default=None, metadata=told("quality"))
    note: str = field(default="", metadata=told("note"))

    def faults(self) -> tuple[Fault, ...]:
        """Refuse an end before the start."""
        return tuple(order_faults(self, "start", "end"))


@dataclass(frozen=True, slots=True, kw_only=True)
class SitePlan(Record):
    """A drawing of the site, with two points a known distance apart."""

    noun: ClassVar[str] = "site_plan"
    sheet: ClassVar[str] = "plan"
    title: ClassVar[str] = "Site plan"
    identity: ClassVar[tuple[str, ...]] = ("file",)

    file: str = field(metadata=told("file"))
    x0: Quantity = field(metadata=told("x0 px"))
    y0: Quantity = field(metadata=told("y0 px"))
    x1: Quantity = field(metadata=told("x1 px"))
    y1: Quantity = field(metadata=told("y1 px"))
    length: Quantity = field(metadata=told("length m", unit="m"))
    level: str = field(
        default="", metadata=told("level", in_book=False, hint="level or side; blank: all")
    )

    def faults(self) -> tuple[Fault, ...]:
        """Refuse two points that are one, and a length that is none."""
        if (self.x0.value, self.y0.value) == (self.x1.value, self.y1.value):
            return (Fault("x1", "both points are the same", "two different points"),)
        if self.length.value <= 0:
            return (Fault("length", f"length {self.length}", "a length above 0"),)
        return ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Application(Record):
    """One coat on one or several areas, as the daily log has it; coat 0 is the preparation."""

    noun: ClassVar[str] = "application"
    sheet: ClassVar[str] = "applications"
    title: ClassVar[str] = "Application"
    identity: ClassVar[tuple[str, ...]] = ("ref", "area", "coat", "start")
    repeats: ClassVar[bool] = True

    ref: str = field(default="", metadata=told("ref"))
    area: Refs = field(metadata=told("area", refers=("area",)))
    coat: int = field(metadata=told("coat", hint="order of the coat; 0 is the preparation"))
    start: When | None = field(default=None, metadata=told("start"))
    end: When | None = field(default=None, metadata=told("end"))
    batch_a: str = field(default="", metadata=told("batch a"))
    batch_b: str = field(default="", metadata=told("batch b"))
    quantity_a: Quantity | None = field(
        default=None, metadata=told("qty a", unit_heading="qty unit")
    )
    quantity_b: Quantity | None = field(
        default=None, metadata=told("qty b", unit_heading="qty unit")
    )
    thinner: str = field(default="", metadata=told("thinner"))
    thinner_percent: Quantity | None = field(default=None, metadata=told("thinner %", unit="%"))
    wet_film: Quantity | None = field(default=None, metadata=told("wft", unit_heading="wft unit"))
    method: str = field(default="", metadata=told("method"))
    applicator: str = field(default="", metadata=told("applicator"))
    abraded: YesNo | None = field(default=None, metadata=told("abraded"))
    cleaned: YesNo | None = field(default=None, metadata=told("cleaned"))
    air: Quantity | None = field(default=None, metadata=told("air C", unit="degC"))
    humidity: Quantity | None = field(default=None, metadata=told("rh %", unit="%"))
    surface: Quantity | None = field(default=None, metadata=told("surface C", unit="degC"))
    wet_bulb: Quantity | None = field(default=None, metadata=told("wet bulb C", unit="degC"))
    quality: Quality | None = field(default=None, metadata=told("quality"))
    source_text: str = field(default="", metadata=told("source"))
    note: str = field(default="", metadata=told("note"))

    def faults(self) -> tuple[Fault, ...]:
        """Refuse an end before the start, and air or a surface that cannot be."""
        return (
            *order_faults(self, "start", "end"),
            *temperature_faults(self, ("air", "wet_bulb"), AIR_C),
            *temperature_faults(self, ("surface",), SURFACE_C),
            *share_faults(self, ("humidity", "thinner_percent")),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Weather(Record):
    """Air and surface at one moment."""

    noun: ClassVar[str] = "weather"
    sheet: ClassVar[str] = "weather"
    title: ClassVar[str] = "Weather reading"
    identity: ClassVar[tuple[str, ...]] = ("time", "area")
    repeats: ClassVar[bool] = True

    time: When = field(metadata=told("time"))
    area: Refs | None = field(default=None, metadata=told("area", refers=("area",)))
    air: Quantity | None = field(default=None, metadata=told("air C", unit="degC"))
    humidity: Quantity | None = field(default=None, metadata=told("rh %", unit="%"))
    surface: Quantity | None = field(default=None, metadata=told("surface C", unit="degC"))
    rain: YesNo | None = field(default=None, metadata=told("rain"))
    on_site: YesNo | None = field(default=None, metadata=told("on site"))

    def faults(self) -> tuple[Fault, ...]:
        """Refuse air or a surface that cannot be."""
        return (
            *temperature_faults(self, ("air",), AIR_C),
            *temperature_faults(self, ("surface",), SURFACE_C),
            *share_faults(self, ("humidity",)),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Location(Record):
    """A spot where something was read or taken."""

    noun: ClassVar[str] = "location"
    sheet: ClassVar[str] = "locations"
    title: ClassVar[str] = "Location"
    chapter: ClassVar[Chapter] = Chapter.SURVEY

    ref: str = field(metadata=told("ref"))
    area: str = field(metadata=told("area", refers=("area",)))
    x: Quantity | None = field(default=None, metadata=told("x", unit="m"))
    y: Quantity | None = field(default=None, metadata=told("y", unit="m"))
    level: str = field(default="", metadata=told("level"))
    chosen: str = field(default="", metadata=told("chosen", hint="at random, or why here"))
    features: Features | None = field(default=None, metadata=told("features"))
    description: str = field(default="", metadata=told("description"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Instrument(Record):
    """An instrument and its calibration."""

    noun: ClassVar[str] = "instrument"
    sheet: ClassVar[str] = "instruments"
    title: ClassVar[str] = "Instrument"
    chapter: ClassVar[Chapter] = Chapter.FIELD_TESTS

    ref: str = field(metadata=told("ref"))
    kind: str = field(metadata=told("kind"))
    serial: str = field(default="", metadata=told("serial"))
    calibrated: When | None = field(default=None, metadata=told("calibrated"))
    due: When | None = field(default=None, metadata=told("due"))
    certificate: str = field(default="", metadata=told("certificate"))

    def faults(self) -> tuple[Fault, ...]:
        """Refuse a calibration that falls due before it was made."""
        return tuple(order_faults(self, "calibrated", "due"))
