"""Glass transitions as they were constructed, ready to be drawn and compared."""

from dataclasses import dataclass

from workbench.analysis.thermal.glass_transition import (
    Definition,
    Floats,
    GlassTransition,
    glass_transition,
)
from workbench.analysis.thermal.segments import exotherm_up, rate_k_min
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
        heating: Whether the temperature rose.
        ordinate: Heading or unit of the heat flow, as written.
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
    heating: bool = True
    ordinate: str = ""
    sources: tuple[Source, ...] = ()

    @property
    def name(self) -> str:
        """Sample, face and heat."""
        heat = f"{self.heat} heat" if self.heat else self.part
        return ", ".join(part for part in (self.sample, self.face, heat) if part)

    @property
    def words(self) -> str:
        """Everything that the file says of the curve."""
        return " ".join((*self.notes, self.part, self.ordinate))

    @property
    def exotherm_up(self) -> bool | None:
        """Whether an exotherm points upwards; None where the file does not say."""
        return exotherm_up(self.words)

    @property
    def rate_k_min(self) -> float | None:
        """The heating rate that the file says; None for none."""
        return rate_k_min(self.words)


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

    @property
    def doubt(self) -> str:
        """What speaks against the step as a glass transition on heating; empty for nothing.

        The heat capacity rises through a glass transition, so on heating the step is endothermic.
        """
        up = self.thermogram.exotherm_up
        if up is None or not self.thermogram.heating:
            return ""
        endothermic = (self.transition.step > 0) != up
        if endothermic:
            return ""
        return (
            "the step runs in the exothermic direction: no glass transition on heating, or the "
            "direction that the file says is wrong"
        )


@dataclass(frozen=True, slots=True, eq=False)
class TwoHeats:
    """The glass transition of one specimen on the first and on the second heat.

    Attributes:
        first: The first heat.
        second: The second, by the same definition.
    """

    first: ReadTransition
    second: ReadTransition

    @property
    def rise_k(self) -> float:
        """Second less first, in K."""
        return self.second.celsius - self.first.celsius

    @property
    def words(self) -> str:
        """What the difference may mean: candidates, no verdict."""
        if self.rise_k > RISE_K:
            return (
                "The second heat lies higher: candidate for cure that went on while heating, or "
                "for water or solvent driven out; a dried specimen tells them apart."
            )
        if self.rise_k < -RISE_K:
            return (
                "The second heat lies lower: candidate for physical ageing that the first heat "
                "removed, or for decomposition while heating."
            )
        return f"Within {RISE_K:g} K of each other: heating adds no cure that shows."


RISE_K = 3.0
"""Difference of two heats up to which they are called alike; common practice."""


def two_heats(transitions: tuple[ReadTransition, ...]) -> tuple[TwoHeats, ...]:
    """Return first and second heat of each specimen, by the same definition and file if there."""
    pairs = []
    for first in transitions:
        if first.reading.heat is not Heat.FIRST or not first.reading.sample:
            continue
        fits = [
            one
            for one in transitions
            if one.reading.heat is Heat.SECOND
            and (one.reading.sample, one.reading.face, one.reading.definition)
            == (first.reading.sample, first.reading.face, first.reading.definition)
        ]
        fits.sort(key=lambda one: one.reading.file != first.reading.file)
        pairs += [TwoHeats(first, one) for one in fits[:1]]
    return tuple(pairs)


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
