"""Pull-off: the stress on the face of the fixture, from what was read."""

import math
from dataclasses import dataclass, replace

from workbench.records import PullOff, Quantity
from workbench.records.codes import FixtureShape, YesNo
from workbench.trade.units import in_unit, is_unit

SMALLEST_READABLE_MPA = 0.2
"""Stress below which a tester shows nothing; common practice, no source. A setting."""

_CAME_AWAY = "came away before load: at most"


@dataclass(frozen=True, slots=True, kw_only=True)
class Stress:
    """The stress at which one pull-off gave way.

    Attributes:
        mpa: Nominal stress in MPa; None where it does not follow from what was recorded.
        at_most: Whether the strength is at most `mpa`: the coating came away before load.
        why_not: Why there is no stress; empty where there is one.
        steps: How the stress was found, one sentence each.
        rate_mpa_s: Mean rate of stress, where the time to the break is recorded.
    """

    mpa: float | None = None
    at_most: bool = False
    why_not: str = ""
    steps: tuple[str, ...] = ()
    rate_mpa_s: float | None = None


def stress_of(pull: PullOff, *, smallest_readable_mpa: float = SMALLEST_READABLE_MPA) -> Stress:
    """Return the stress at which `pull` gave way, or why it does not follow.

    A force is divided by the face of the fixture; a stress shown by a gauge calibrated for
    another size is scaled by the areas. A coating that came away before load has at most the
    smallest readable stress, never zero.

    References:
        Nominal stress as load over loaded area: AS 1012.24:2015 (READ); ASTM D4541, ISO 4624,
        EN 1542, ASTM C1583 (from memory).
    """
    read = _read(pull)
    if pull.came_away is not YesNo.YES:
        return read
    if read.mpa:
        return replace(read, at_most=True, steps=(*read.steps, f"{_CAME_AWAY} the stress read"))
    step = f"{_CAME_AWAY} the smallest readable, {smallest_readable_mpa:g} MPa"
    return Stress(mpa=smallest_readable_mpa, at_most=True, steps=(step,))


def area_mm2(size_mm: float, shape: FixtureShape = FixtureShape.ROUND) -> float:
    """Return the area of a fixture's face in mm²: diameter of a round one, side of a square one.

    Raises:
        ValueError: The size is not above 0.
    """
    if not size_mm > 0:
        raise ValueError(f"a fixture of {size_mm:g} mm has no face")
    return size_mm**2 if shape is FixtureShape.SQUARE else math.pi * size_mm**2 / 4


def stress_mpa(force_n: float, face_mm2: float) -> float:
    """Return force over area, in MPa."""
    return force_n / face_mm2


def force_n(stress: float, face_mm2: float) -> float:
    """Return the force in N that puts `stress` MPa on a face."""
    return stress * face_mm2


def rescaled(reading: float, calibrated_mm: float, used_mm: float) -> float:
    """Return what a gauge calibrated for one fixture size says of another of the same shape.

    The force is the same, the area is not: the reading times (calibrated / used)², in the
    reading's unit. 20 mm to 50 mm is 0.16.

    Raises:
        ValueError: A size is not above 0.
    """
    if not (calibrated_mm > 0 and used_mm > 0):
        raise ValueError("a fixture size is above 0")
    return reading * (calibrated_mm / used_mm) ** 2


def rate_mpa_s(stress: float, seconds: float) -> float:
    """Return the mean rate of stress in MPa/s of a pull to `stress` MPa.

    Raises:
        ValueError: The time is not above 0.
    """
    if not seconds > 0:
        raise ValueError(f"a pull of {seconds:g} s has no rate")
    return stress / seconds


def seconds_to(stress: float, rate: float) -> float:
    """Return how long a pull at a steady rate takes, both in the same unit of stress.

    Raises:
        ValueError: The rate is not above 0.
    """
    if not rate > 0:
        raise ValueError(f"a rate of {rate:g} reaches no stress")
    return stress / rate


def _read(pull: PullOff) -> Stress:
    if pull.reading is None:
        return Stress(why_not="no reading is recorded")
    if pull.reading.value < 0:
        return Stress(why_not=f"the reading {pull.reading} is below 0")
    try:
        return _broke(pull, pull.reading)
    except ValueError as wrong:
        return Stress(why_not=str(wrong))


def _broke(pull: PullOff, reading: Quantity) -> Stress:
    face, shape = _face(pull)
    if is_unit(reading.unit, "N"):
        if face is None:
            return Stress(why_not=f"{reading} is a force, and the fixture's size is not recorded")
        mpa, step = stress_mpa(in_unit(reading, "N"), face), f"{reading} over {face:.1f} mm²"
    elif pull.calibrated_for and pull.fixture is None:
        gauge = f"the gauge is calibrated for {pull.calibrated_for}"
        return Stress(why_not=f"{gauge}, and the fixture's size is not recorded")
    else:
        mpa, step = _scaled(in_unit(reading, "MPa"), pull)
    steps = tuple(said for said in (shape, step) if said)
    return Stress(mpa=mpa, steps=steps, rate_mpa_s=_rate(mpa, pull.seconds))


def _face(pull: PullOff) -> tuple[float | None, str]:
    if pull.fixture is None:
        return None, ""
    assumed = "" if pull.shape else "shape not recorded, taken as round"
    return area_mm2(in_unit(pull.fixture, "mm"), pull.shape or FixtureShape.ROUND), assumed


def _scaled(shown_mpa: float, pull: PullOff) -> tuple[float, str]:
    if pull.calibrated_for is None or pull.fixture is None:
        return shown_mpa, f"{pull.reading} as shown"
    calibrated, used = in_unit(pull.calibrated_for, "mm"), in_unit(pull.fixture, "mm")
    factor = rescaled(1, calibrated, used)
    said = f"{pull.reading} shown for {pull.calibrated_for}, used on {pull.fixture}"
    return shown_mpa * factor, f"{said}: times {factor:.4g}"


def _rate(mpa: float, seconds: Quantity | None) -> float | None:
    duration = in_unit(seconds, "s", "s") if seconds else 0
    return rate_mpa_s(mpa, duration) if duration > 0 else None
