"""A temperature programme of several ramps, taken apart; and which way an exotherm points."""

import re
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from workbench.analysis.thermal.glass_transition import Floats

TURN_K = 2.0
"""How far the temperature must go back before a ramp has ended; less is scatter."""
_LEAST_POINTS, _LEAST_K = 10, 5.0
_ORDER = ("first", "second", "third", "fourth", "fifth", "sixth")


@dataclass(frozen=True, slots=True)
class Ramp:
    """One ramp: from one point to another, upwards or downwards.

    Attributes:
        first: Index of its first point.
        last: Index after its last point.
        heating: Whether the temperature rises.
        name: "first heat", "second cooling"; empty where the programme is one heating ramp.
    """

    first: int
    last: int
    heating: bool
    name: str = ""


def ramps_of(celsius: Floats) -> tuple[Ramp, ...]:
    """Return the ramps of a temperature programme in their order; holds belong to no ramp's name.

    Args:
        celsius: Temperature in degC, shape (n,), in the order of the file, without NaN.
    """
    turns = _turns(celsius)
    ends = [0, *turns, len(celsius)]
    found: list[Ramp] = []
    counts = {True: 0, False: 0}
    for first, last in pairwise(ends):
        part = celsius[first:last]
        if len(part) < _LEAST_POINTS or np.ptp(part) < _LEAST_K:
            continue
        heating = bool(part[-1] > part[0])
        at = min(counts[heating], len(_ORDER) - 1)
        counts[heating] += 1
        found.append(Ramp(first, last, heating, f"{_ORDER[at]} {'heat' if heating else 'cooling'}"))
    if len(found) <= 1:
        heating = not found or found[0].heating
        return (Ramp(0, len(celsius), heating, "" if heating else "first cooling"),)
    return tuple(found)


def _turns(celsius: Floats) -> list[int]:
    """Return where the temperature turns, each where it was highest or lowest."""
    turns: list[int] = []
    direction, extreme = 0, 0
    for n in range(1, len(celsius)):
        gone = float(celsius[n] - celsius[extreme])
        if direction == 0:
            if abs(gone) > TURN_K:
                direction, extreme = (1 if gone > 0 else -1), n
        elif direction * gone > 0:
            extreme = n
        elif direction * gone < -TURN_K:
            turns.append(extreme + 1)
            direction, extreme = -direction, n
    return turns


_UP = r"(?:points?\s+|is\s+|goes\s+)?(?:up(?:wards?)?\b|positive|↑|\^)"
_DOWN = r"(?:points?\s+|is\s+|goes\s+)?(?:down(?:wards?)?\b|negative|↓)"
_SAYS = (
    (True, rf"exo(?:therm(?:s|ic|al)?)?\s*[:=]?\s*{_UP}|[\^↑]\s*exo"),
    (True, rf"endo(?:therm(?:s|ic|al)?)?\s*[:=]?\s*{_DOWN}|↓\s*endo"),
    (False, rf"exo(?:therm(?:s|ic|al)?)?\s*[:=]?\s*{_DOWN}|↓\s*exo"),
    (False, rf"endo(?:therm(?:s|ic|al)?)?\s*[:=]?\s*{_UP}|[\^↑]\s*endo"),
)


_SPECIFIC = (
    (r"mw/mg|mwmg", 1.0), (r"[uµμ]w/mg", 1e-3), (r"mw/g|mwg", 1e-3), (r"w/g|wg-1|wg\^-1", 1.0),
)  # fmt: skip


def exotherm_up(words: str) -> bool | None:
    """Return whether an exotherm points upwards by the words of a file; None where none says so.

    Words that say both say nothing.
    """
    said = {up for up, pattern in _SAYS if re.search(pattern, words, re.IGNORECASE)}
    return said.pop() if len(said) == 1 else None


def rate_k_min(words: str) -> float | None:
    """Return the heating rate in K/min by the words of a file; None where none says so."""
    found = re.search(
        r"(\d+(?:[.,]\d+)?)\s*(?:K|°\s?C|deg\s?C|C)\s*(?:/\s*min\b|min-1|min\^-1|\s+per\s+min)",
        words,
        re.IGNORECASE,
    )
    return float(found[1].replace(",", ".")) if found else None


def watts_per_gram(unit_words: str, mass_mg: float | None) -> float:
    """Return what makes an ordinate W/g, by its heading and, for a power, the specimen's mass.

    Raises:
        ValueError: The heading names no unit of heat flow, or a power and there is no mass.
    """
    said = unit_words.replace(" ", "").replace("·", "").lower()
    for pattern, factor in _SPECIFIC:
        if re.search(pattern, said):
            return factor
    power = re.search(r"(mw|[uµμ]w|w)(?![a-z/])", said)
    if not power:
        raise ValueError(f"“{unit_words}” names no unit of heat flow, as W/g or mW")
    if not mass_mg:
        raise ValueError(f"“{unit_words}” is a power: the mass of the specimen is needed, in mg")
    milliwatts = {"mw": 1.0, "w": 1e3}.get(power[1], 1e-3)
    return milliwatts / mass_mg
