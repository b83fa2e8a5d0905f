"""Mix ratio: how far two components were from the ratio that their chemistry asks for.

References:
    Two guides to epoxy calculations (READ); isocyanate equivalents (from memory).
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class MixRatio:
    """The ratio of base to hardener as specified, in parts.

    Attributes:
        base: Parts of component A.
        hardener: Parts of component B.
    """

    base: float
    hardener: float

    @classmethod
    def read(cls, text: str) -> "MixRatio":
        """Return the ratio that "3:1", "100 : 28.5" or "4 to 1" says.

        Raises:
            ValueError: It is not two numbers above 0.
        """
        found = re.fullmatch(r"\s*(\d+(?:\.\d+)?)\s*(?::|/|to)\s*(\d+(?:\.\d+)?)\s*", text)
        if not found or not (float(found[1]) > 0 and float(found[2]) > 0):
            raise ValueError(f"“{text}” is not a mix ratio; write base to hardener, as 3:1")
        return cls(float(found[1]), float(found[2]))

    def by_mass(self, base_density: float, hardener_density: float) -> "MixRatio":
        """Return a ratio by volume as the ratio by mass, the densities in one unit.

        Raises:
            ValueError: A density is not above 0.
        """
        base = self.base * _above_0(base_density, "a density")
        return MixRatio(base, self.hardener * _above_0(hardener_density, "a density"))

    def hardener_index(self, base: float, hardener: float) -> float:
        """Return the hardener used over the hardener that this ratio asks for; 1 is right.

        Raises:
            ValueError: There is no base.
        """
        if not base > 0:
            raise ValueError("an amount of base above 0 is needed")
        return (hardener / base) / (self.hardener / self.base)


def equivalent_weight_of_blend(parts: Iterable[tuple[float, float | None]]) -> float:
    """Return the equivalent weight of a blend in g/eq.

    Args:
        parts: Mass and equivalent weight of each part; None for a filler, which adds mass only.

    Raises:
        ValueError: No part reacts, or a mass is below 0.
    """
    held = tuple(parts)
    if any(mass < 0 for mass, _ in held):
        raise ValueError("a part of the blend weighs less than nothing")
    reacting = [(mass, weight) for mass, weight in held if weight is not None]
    equivalents = sum(mass / _above_0(weight, "an equivalent weight") for mass, weight in reacting)
    if not equivalents > 0:
        raise ValueError("no part of the blend reacts")
    return sum(mass for mass, _ in held) / equivalents


def hardener_phr(hydrogen_weight: float, epoxide_weight: float) -> float:
    """Return the parts by mass of hardener for 100 of resin at which both are balanced.

    Args:
        hydrogen_weight: Equivalent weight of the hardener, g/eq: of amine hydrogen, or NCO.
        epoxide_weight: Equivalent weight of the resin, g/eq: of epoxide, or hydroxyl.

    Raises:
        ValueError: A weight is not above 0.
    """
    hardener = _above_0(hydrogen_weight, "an equivalent weight")
    return 100 * hardener / _above_0(epoxide_weight, "an equivalent weight")


def stoichiometric_index(
    resin_mass: float, resin_weight: float, hardener_mass: float, hardener_weight: float
) -> float:
    """Return equivalents of hardener over equivalents of resin; 1 is balanced, 0.9 hardener-short.

    Args:
        resin_mass: Mass of the resin, in any unit.
        resin_weight: Equivalent weight of the resin, g/eq.
        hardener_mass: Mass of the hardener in the same unit.
        hardener_weight: Equivalent weight of the hardener, g/eq.

    Raises:
        ValueError: There is no resin, or a weight is not above 0.
    """
    resin = _above_0(resin_mass, "an amount of base")
    asked = resin * hardener_phr(hardener_weight, resin_weight) / 100
    return hardener_mass / asked


def volume_ratio(phr: float, resin_density: float, hardener_density: float) -> float:
    """Return volumes of hardener for one volume of resin, from parts by mass for 100.

    Raises:
        ValueError: A density is not above 0.
    """
    resin = _above_0(resin_density, "a density")
    return phr / 100 * resin / _above_0(hardener_density, "a density")


def isocyanate_weight(nco_percent: float) -> float:
    """Return the equivalent weight in g/eq of an isocyanate with so much NCO by mass.

    Raises:
        ValueError: The NCO is not above 0 and at most 50 %.
    """
    if not 0 < nco_percent <= _MOST_NCO:
        raise ValueError(f"{nco_percent:g} % of NCO; it is above 0 and at most {_MOST_NCO:g} %")
    return 4200 / nco_percent


def hydroxyl_weight(hydroxyl_number: float) -> float:
    """Return the equivalent weight in g/eq of a polyol with a hydroxyl number in mg KOH/g.

    Raises:
        ValueError: The number is not above 0.
    """
    return 56100 / _above_0(hydroxyl_number, "a hydroxyl number")


_MOST_NCO = 50.0
"""Hexamethylene diisocyanate, the lightest in use, has 49.9 %."""


def _above_0(value: float, what: str) -> float:
    if not value > 0:
        raise ValueError(f"{what} of {value:g}; it is above 0")
    return value
