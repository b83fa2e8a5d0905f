"""Small formulas of the laboratory that field and report use too."""

import math
from collections.abc import Iterable


def fox_glass_transition_k(parts: Iterable[tuple[float, float]]) -> float:
    """Return the glass transition in K of a blend whose parts mix (Fox).

    Args:
        parts: Mass share and glass transition in K of each part.

    References:
        Fox equation in kelvin (READ); it does not hold where phases separate.
    """
    return 1 / sum(share / kelvin for share, kelvin in parts)


def wavelength_um(wavenumber_per_cm: float) -> float:
    """Return the wavelength in µm of a wavenumber in cm⁻¹."""
    return 1e4 / wavenumber_per_cm


def volatile_percent(empty_g: float, after_g: float, specimen_g: float) -> float:
    """Return the volatile content in percent from the dish empty and after the oven.

    References:
        ASTM D2369, 110 °C for 60 min (conditions READ, formula from memory).
    """
    return 100 - 100 * (after_g - empty_g) / specimen_g


def tilt_factor(degrees: float) -> float:
    """Return by how much a section tilted from the perpendicular shows a layer too thick."""
    return 1 / math.cos(math.radians(degrees))


def lead_limit_ug_m3(hours: float) -> float:
    """Return the permitted exposure to lead in µg/m³ over a shift longer than 8 h.

    References:
        29 CFR 1910.1025, appendix B (READ): 400 over the hours worked.
    """
    return 400 / max(hours, 8)
