"""Which units a number of the field book may have."""

from functools import cache
from typing import NamedTuple

from workbench.records import FieldInfo, plain_unit
from workbench.records.codes import UNITS
from workbench.trade.units import is_unit

_LENGTH = ("um", "mil", "mm")
_BY_FIELD: dict[tuple[str, str], tuple[str, ...]] = {
    ("coat", "dft_nominal"): _LENGTH,
    ("coat", "dft_min"): _LENGTH,
    ("coat", "dft_max"): _LENGTH,
    ("application", "quantity_a"): ("kg", "L"),
    ("application", "quantity_b"): ("kg", "L"),
    ("application", "wet_film"): _LENGTH,
    ("area", "size"): ("m2", "pieces", "m"),
    ("pull_off", "fixture"): ("mm", "in"),
    ("pull_off", "calibrated_for"): ("mm", "in"),
    ("pull_off", "reading"): ("MPa", "psi", "N/mm2", "N", "kN", "lbf"),
    ("thickness", "readings"): _LENGTH,
}
_BARE_FIELDS = {"x0", "y0", "x1", "y1", "rating", "coverage_factor"}
_SALTS = ("mg/m2", "ug/cm2", "uS/cm", "mg/L", "%", "mg/g", "kg/m2")
_BY_QUANTITY: dict[str, tuple[str, ...]] = {
    "ph_fluid": ("pH",), "ph_face": ("pH",), "ph_cleaner": ("pH",), "fluid_ph": ("pH",),
    "moisture": ("%",), "rh_in_slab": ("%",), "emission": ("g/m2/24h",),
    "chloride": _SALTS, "salts": _SALTS, "profile_rz": _LENGTH, "gloss_retention": ("%",),
    "cp_off_agcl": ("V",), "cp_off_cse": ("V",), "water_drop": ("s",),
    "temp_surface": ("degC",), "temp_difference": ("K",), "temp_step": ("K",),
    "crack_movement": ("mm",), "steel_loss": ("mm", "%"), "water_level": ("m",),
    "air_changes": ("1/h",), "tg_first": ("degC",), "tg_second": ("degC",),
    "exotherm": ("J/g",),
    "fluid_conductivity": ("uS/cm",), "chloride_depth": ("mm",), "disbond_radius": ("mm",),
    "sd_value": ("m",), "dft_total": _LENGTH, "cure_to_service": ("h",),
    "thinner_percent": ("%",), "pull_off": ("MPa",), "layer_thickness": _LENGTH,
}  # fmt: skip
_UNITLESS = {"ph_fluid", "ph_face", "ph_cleaner", "fluid_ph"}
_MEANT = {"C": "degC", "F": "degF", "deg C": "degC", "deg F": "degF", "°": "degC or degF"}
_BY_CASE = {unit.casefold(): unit for unit in UNITS}


class UnitTrouble(NamedTuple):
    """What is wrong with the unit of a number."""

    wrong: str
    right: str
    hinders: bool = True


def tidy_unit(text: str) -> str:
    """Return a unit in the letters it is stored in: `PSI` and `psi` are `psi`, `µm` is `um`."""
    plain = plain_unit(text)
    return _BY_CASE.get(plain.casefold(), plain)


@cache
def unit_trouble(noun: str, info: FieldInfo, unit: str, quantity: str) -> UnitTrouble | None:
    """Return what is wrong with the unit of a number, or None.

    Args:
        noun: Noun of the record.
        info: The field of the number.
        unit: The unit it has, in plain letters; empty for none.
        quantity: What the number measures, where the row says so.

    An uncertainty without a unit is in that of its value.
    """
    if unit in _MEANT:
        return UnitTrouble(f"“{unit}” is no unit", f"write {_MEANT[unit]}")
    if info.name in _BARE_FIELDS:
        if unit in {"", "px"}:
            return None
        return UnitTrouble(f"{unit} behind the number", "write the bare number")
    if allowed := _BY_FIELD.get((noun, info.name)) or ((u,) if (u := info.column.unit) else ()):
        return _fixed(unit, allowed, info)
    if info.name == "uncertainty" and not unit:
        return None
    return _free(unit, _BY_QUANTITY.get(quantity.partition(":")[0], ()), quantity)


def _fixed(unit: str, allowed: tuple[str, ...], info: FieldInfo) -> UnitTrouble | None:
    """Return what is wrong where the column itself says what is measured."""
    if not unit:
        right = f"write {_either(allowed)} under “{info.column.unit_heading}” or beside the number"
        return UnitTrouble("a number without its unit", right)
    if unit in allowed or any(is_unit(unit, one) for one in allowed):
        return None
    known = is_unit(unit)
    wrong = f"{unit} is no unit of this column" if known else f"“{unit}” is not a known unit"
    return UnitTrouble(wrong, f"give it in {_either(allowed)}")


def _free(unit: str, allowed: tuple[str, ...], quantity: str) -> UnitTrouble | None:
    """Return what is doubtful where any unit may stand; none of it hinders."""
    if not unit:
        if not allowed or quantity in _UNITLESS:
            return None
        wrong = f"{quantity} without a unit"
        return UnitTrouble(wrong, f"give {_either(allowed)}; it cannot be compared", hinders=False)
    if not is_unit(unit):
        wrong = f"“{unit}” is not a unit that is converted"
        return UnitTrouble(wrong, "the number is kept as written", hinders=False)
    if allowed and not any(is_unit(unit, one) for one in allowed):
        wrong = f"{quantity} in {unit}"
        return UnitTrouble(wrong, f"{_either(allowed)} would be usual", hinders=False)
    return None


def _either(units: tuple[str, ...]) -> str:
    *first, last = units
    return f"{', '.join(first)} or {last}" if first else last
