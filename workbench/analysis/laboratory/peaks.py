"""Peaks of thermograms as a person bounded them: residual cure, and melting as a check."""

import math
from dataclasses import dataclass

from workbench.analysis.laboratory.thermograms import Thermogram
from workbench.analysis.thermal.events import Event, conversion_from_exotherm, event
from workbench.analysis.thermal.segments import watts_per_gram
from workbench.records import PeakOf, PeakReading
from workbench.records.codes import YesNo
from workbench.trade.units import in_unit

LEAST_J_G = 1.0
"""Energy below which a peak is not told from the baseline; from memory."""


@dataclass(frozen=True, slots=True, eq=False)
class ReadPeak:
    """A peak as a person bounded it.

    Attributes:
        reading: The record.
        thermogram: The curve.
        event: Onset, top and area over the straight line between the ends.
        energy_j_g: Energy in J/g, without sign.
        exothermic: Whether it gives off heat; None where nothing says which way an exotherm points.
    """

    reading: PeakReading
    thermogram: Thermogram
    event: Event
    energy_j_g: float
    exothermic: bool | None

    @property
    def shows(self) -> bool:
        """Whether it stands above what the method shows."""
        return self.energy_j_g >= LEAST_J_G

    @property
    def words(self) -> str:
        """What kind of peak it is, in words."""
        if self.exothermic is None:
            return "neither file nor reading says which way an exotherm points"
        way = "exothermic" if self.exothermic else "endothermic"
        return way if self.shows else f"{way}, below the {LEAST_J_G:g} J/g that the method shows"


@dataclass(frozen=True, slots=True, eq=False)
class CureDegree:
    """How far a film is cured, by what is left of the exotherm of the fresh mixture.

    Attributes:
        residual: The peak of the film.
        fresh: The peak of the fresh mixture.
        degree: Degree of cure, 0 to 1; where nothing is left that the method shows, the least
            that it can be.
    """

    residual: ReadPeak
    fresh: ReadPeak
    degree: float

    @property
    def at_least(self) -> bool:
        """Whether the degree is a lower bound, because no exotherm that the method shows is left.

        What is below its limit may still be there.
        """
        return not (self.residual.exothermic and self.residual.shows)

    @property
    def words(self) -> str:
        """The degree in percent; a bound says "at least"."""
        # a bound is rounded down, so that it is one
        percent = math.floor(100 * self.degree) if self.at_least else round(100 * self.degree)
        return f"{'at least ' if self.at_least else ''}{percent} %"


def read_peak(reading: PeakReading, curve: Thermogram) -> ReadPeak:
    """Return the peak that `reading` bounds on `curve`.

    Raises:
        ValueError: The heating rate or the unit of the curve is not known, or nothing stands off
            the line between the ends.
        UnitError: A unit is not of its kind.
    """
    found = event(
        curve.celsius, curve.flow, first=in_unit(reading.first, "degC", "degC"),
        last=in_unit(reading.last, "degC", "degC"),
    )  # fmt: skip
    rate = in_unit(reading.rate, "K/min", "K/min") if reading.rate else curve.rate_k_min
    if not rate:
        raise ValueError("the heating rate is not known; say it, as 10 K/min")
    mass = in_unit(reading.mass, "mg", "mg") if reading.mass else None
    scale = watts_per_gram(curve.ordinate or curve.part, mass)
    up = curve.exotherm_up if reading.exotherm_up is None else reading.exotherm_up is YesNo.YES
    exothermic = None if up is None else (found.area > 0) == up
    return ReadPeak(reading, curve, found, abs(found.energy_j_g(rate)) * scale, exothermic)


def cure_degrees(peaks: tuple[ReadPeak, ...]) -> tuple[tuple[CureDegree, ...], tuple[str, ...]]:
    """Return the degree of cure of each film held against its fresh mixture, and what is none."""
    by_ref = {one.reading.ref: one for one in peaks}
    found, problems = [], []
    for one in peaks:
        if one.reading.peak is not PeakOf.RESIDUAL_CURE or not one.reading.against:
            continue
        fresh = by_ref.get(one.reading.against)
        try:
            found.append(_degree(one, fresh))
        except ValueError as wrong:
            problems.append(f"{one.reading.ref}: {wrong}")
    return tuple(found), tuple(problems)


def _degree(residual: ReadPeak, fresh: ReadPeak | None) -> CureDegree:
    if fresh is None or fresh.reading.peak is not PeakOf.FRESH_MIXTURE:
        raise ValueError(f"{residual.reading.against} is no peak of a fresh mixture")
    if not fresh.exothermic:
        raise ValueError(f"{fresh.reading.ref}: {fresh.words}; a cure gives off heat")
    if residual.exothermic is None:
        raise ValueError(residual.words)
    left = residual.energy_j_g if residual.exothermic and residual.shows else LEAST_J_G
    if fresh.energy_j_g <= LEAST_J_G:
        raise ValueError(f"{fresh.reading.ref}: {fresh.words}; nothing can be held against it")
    return CureDegree(residual, fresh, conversion_from_exotherm(left, fresh.energy_j_g))
