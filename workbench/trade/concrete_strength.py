"""Whether a break in concrete is plausible against its compressive strength.

An estimate to notice a suspicious reading by, never a structural opinion.
"""

import math
from enum import StrEnum

PSI_PER_MPA = 1 / 0.006894757293168361


class TensionRule(StrEnum):
    """Which tensile strength the compressive strength is turned into."""

    DIRECT = "direct tension, 4 √f'c in psi"
    SPLITTING = "splitting, 6.7 √f'c in psi"
    RUPTURE = "modulus of rupture, 7.5 √f'c in psi"
    EUROPEAN = "mean axial tension, 0.3 fck^(2/3) in MPa"


_PSI_FACTOR = {TensionRule.DIRECT: 4.0, TensionRule.SPLITTING: 6.7, TensionRule.RUPTURE: 7.5}


def tension_mpa(compressive_mpa: float, rule: TensionRule = TensionRule.DIRECT) -> float:
    """Return the tensile strength in MPa that goes with a compressive strength in MPa.

    Raises:
        ValueError: The compressive strength is not above 0.

    References:
        4 √f'c: rule of thumb (from memory). 6.7 √f'c: materials textbook (READ). 7.5 √f'c:
        ACI (READ). 0.3 fck^(2/3): Eurocode 2 up to C50 (from memory). A paper in the ACI
        Materials Journal finds a power nearer 0.69 than 0.5 (READ).
    """
    if not compressive_mpa > 0:
        raise ValueError("a compressive strength above 0 is needed")
    if rule is TensionRule.EUROPEAN:
        return float(0.3 * compressive_mpa ** (2 / 3))
    return factor_si(_PSI_FACTOR[rule]) * math.sqrt(compressive_mpa)


def factor_si(factor_psi: float) -> float:
    """Return a factor for √f'c in psi as one for √f'c in MPa: 6.7 becomes 0.556."""
    return factor_psi / math.sqrt(PSI_PER_MPA)


def share_of_expected(
    break_mpa: float, compressive_mpa: float, rule: TensionRule = TensionRule.DIRECT
) -> float:
    """Return a break in the substrate over the tension expected of it.

    Outside about 0.5 to 1.5 a break deserves a second look (common practice, no source): low on
    a milled or scabbled face, high where the compressive strength is not that of this concrete.
    """
    return break_mpa / tension_mpa(compressive_mpa, rule)
