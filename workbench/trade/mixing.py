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

    def hardener_index(self, base: float, hardener: float) -> float:
        """Return the hardener used over the hardener that this ratio asks for; 1 is right.

        Raises:
            ValueError: There is no base.
        """
        if not base > 0:
            raise ValueError("an amount of base above 0 is needed")
        return (hardener / base) / (self.hardener / self.base)


def equivalent_weight_of_blend(parts: Iterable[tuple[float, float | None]]) -> float:
    """Return the epoxide equivalent weight of a blend in g/eq.

    Args:
        parts: Mass and equivalent weight of each part; None for a filler, which adds mass only.

    Raises:
        ValueError: No part reacts.
    """
    held = tuple(parts)
    equivalents = sum(mass / weight for mass, weight in held if weight)
    if not equivalents > 0:
        raise ValueError("no part of the blend reacts")
    return sum(mass for mass, _ in held) / equivalents


def hardener_phr(hydrogen_weight: float, epoxide_weight: float) -> float:
    """Return the parts by mass of amine hardener for 100 of epoxy resin.

    Args:
        hydrogen_weight: Amine hydrogen equivalent weight, g/eq.
        epoxide_weight: Epoxide equivalent weight, g/eq.
    """
    return 100 * hydrogen_weight / epoxide_weight


def stoichiometric_index(
    resin_mass: float, resin_weight: float, hardener_mass: float, hardener_weight: float
) -> float:
    """Return equivalents of hardener over equivalents of resin; 1 is balanced, 0.9 hardener-short.

    Args:
        resin_mass: Mass of the resin, in any unit.
        resin_weight: Equivalent weight of the resin, g/eq.
        hardener_mass: Mass of the hardener in the same unit.
        hardener_weight: Equivalent weight of the hardener, g/eq.
    """
    return (hardener_mass / hardener_weight) / (resin_mass / resin_weight)


def volume_ratio(phr: float, resin_density: float, hardener_density: float) -> float:
    """Return volumes of hardener for one volume of resin, from parts by mass for 100."""
    return phr / 100 * resin_density / hardener_density


def isocyanate_weight(nco_percent: float) -> float:
    """Return the equivalent weight in g/eq of an isocyanate with so much NCO by mass."""
    return 4200 / nco_percent


def hydroxyl_weight(hydroxyl_number: float) -> float:
    """Return the equivalent weight in g/eq of a polyol with a hydroxyl number in mg KOH/g."""
    return 56100 / hydroxyl_number
