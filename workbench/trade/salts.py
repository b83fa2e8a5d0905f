"""Soluble salts: from the conductivity of an extract, or the ions in it, to mass on an area."""

from enum import StrEnum

_CHLORIDE_SHARE_OF_NACL = 35.453 / (22.990 + 35.453)


class SaltFactor(StrEnum):
    """What the conductivity is taken to come from."""

    MIXED = "mixed salts"
    SODIUM_CHLORIDE = "sodium chloride"


_CONSTANT = {SaltFactor.MIXED: 5.0, SaltFactor.SODIUM_CHLORIDE: 1.1 * 1250 / (3 * 100)}
"""kg/(m²·S): 5 for mixed salts (ISO 8502-9, from memory); 4.58 follows from the factor 1.1 for
3 mL on 1250 mm² as sodium chloride (READ in a procedure)."""

PATCH_MM2 = 1250.0
"""Area of the usual adhesive cell (READ, SSPC-Guide 15)."""


def salt_factor(
    volume_ml: float, area_mm2: float = PATCH_MM2, factor: SaltFactor = SaltFactor.MIXED
) -> float:
    """Return the mg/m² of salt that one µS/cm of the extract stands for.

    1.2 for 3 mL on 1250 mm² as mixed salts, 1.1 as sodium chloride.

    Raises:
        ValueError: Volume or area is not above 0.
    """
    if not (volume_ml > 0 and area_mm2 > 0):
        raise ValueError("volume and area of the extraction are above 0")
    return _CONSTANT[factor] * 100 * volume_ml / area_mm2


def salts_mg_m2(
    extract_us_cm: float,
    blank_us_cm: float,
    volume_ml: float,
    area_mm2: float = PATCH_MM2,
    factor: SaltFactor = SaltFactor.MIXED,
) -> float:
    """Return the surface density of soluble salts in mg/m².

    Args:
        extract_us_cm: Conductivity of the extract in µS/cm, at 25 °C.
        blank_us_cm: Conductivity of the water before the extraction, the same way.
        volume_ml: Volume of water.
        area_mm2: Area extracted.
        factor: What the conductivity is taken to come from.

    Raises:
        ValueError: The blank exceeds the extract, or volume or area is not above 0.

    References:
        ISO 8502-6 and 8502-9 (constant from memory, factors READ in a procedure).
    """
    if blank_us_cm > extract_us_cm:
        raise ValueError("the blank conducts more than the extract: check which is which")
    return salt_factor(volume_ml, area_mm2, factor) * (extract_us_cm - blank_us_cm)


def conductivity_at_25(conductivity: float, celsius: float, per_kelvin: float = 0.02) -> float:
    """Return a conductivity as it would be at 25 °C, in the unit it is given in.

    About 2 % per K (common practice); 2.14 % for sodium chloride (READ in a procedure).
    """
    return conductivity / (1 + per_kelvin * (celsius - 25))


def ion_ug_cm2(concentration_mg_l: float, volume_ml: float, area_cm2: float) -> float:
    """Return the µg/cm² of an ion on a surface from its concentration in the extract.

    Raises:
        ValueError: The concentration is below 0, or volume or area is not above 0.
    """
    if concentration_mg_l < 0:
        raise ValueError("the blank holds more than the extract")
    if not (volume_ml > 0 and area_cm2 > 0):
        raise ValueError("volume and area of the extraction are above 0")
    return concentration_mg_l * volume_ml / area_cm2


def chloride_at_most_ug_cm2(sodium_chloride_mg_m2: float) -> float:
    """Return the chloride in µg/cm² if all that conducts were sodium chloride, found in mg/m².

    The chlorides of potassium, magnesium, calcium and iron conduct more for the same chloride
    (limiting molar conductivities of handbooks, from memory), and every other salt adds to what
    conducts: no more chloride than this is there.
    """
    return sodium_chloride_mg_m2 * _CHLORIDE_SHARE_OF_NACL / 10
