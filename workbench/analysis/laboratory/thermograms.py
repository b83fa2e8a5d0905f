"""Glass transitions as they were constructed, ready to be drawn and compared."""

from dataclasses import dataclass

from workbench.analysis.thermal.glass_transition import (
    Definition,
    Floats,
    GlassTransition,
    glass_transition,
)
from workbench.records import Heat, Source, TransitionReading
from workbench.records.codes import Condition


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Thermogram:
    """One curve of heat flow.

    Attributes:
        file: Name of the original.
        part: Heading of its column.
        celsius: Temperature in degC, shape (n,), rising.
        flow: Heat flow, shape (n,), in the unit of its heading.
        notes: What the file says before the table.
        sample: Ref of the sample; empty where none is said.
        face: The face, as written.
        condition: What the sample stands for.
        heat: First or second heat; None where nobody said.
        sources: The records that name the file.
    """

    file: str
    part: str
    celsius: Floats
    flow: Floats
    notes: tuple[str, ...] = ()
    sample: str = ""
    face: str = ""
    condition: Condition = Condition.UNKNOWN
    heat: Heat | None = None
    sources: tuple[Source, ...] = ()

    @property
    def name(self) -> str:
        """Sample, face and heat."""
        heat = f"{self.heat} heat" if self.heat else self.part
        return ", ".join(part for part in (self.sample, self.face, heat) if part)


@dataclass(frozen=True, slots=True, eq=False)
class ReadTransition:
    """A transition as a person constructed it.

    Attributes:
        reading: The construction.
        thermogram: The curve.
        transition: By every definition.
    """

    reading: TransitionReading
    thermogram: Thermogram
    transition: GlassTransition

    @property
    def celsius(self) -> float:
        """The temperature by the definition chosen, in degC."""
        return self.transition.celsius[Definition(self.reading.definition)]


def construct(reading: TransitionReading, curve: Thermogram) -> ReadTransition:
    """Return the transition that `reading` describes on `curve`.

    Raises:
        ValueError: There is no step between the straight parts, or they hold too few points.
    """
    found = glass_transition(
        curve.celsius,
        curve.flow,
        before=(reading.before_from.value, reading.before_to.value),
        after=(reading.after_from.value, reading.after_to.value),
    )
    return ReadTransition(reading, curve, found)
