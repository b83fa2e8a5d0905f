"""Units: what was written, converted exactly into the unit that a formula needs.

The units stand in `resources/units.txt`; there are no others and no prefixes, so `mil` is a
length and nothing is read as something else. Conversions are done on exact fractions.
"""

from fractions import Fraction
from functools import cache, lru_cache
from typing import TYPE_CHECKING

from workbench.records import Quantity, plain_unit
from workbench.resources import resource

if TYPE_CHECKING:
    import pint

_NAMES = {
    "%": "percent", "wt%": "weight_percent",
    "lb/1000ft2/24h": "emission_us", "lb/1000 ft2/24 h": "emission_us",
    "lb/1000 ft2/24h": "emission_us", "lb/1000ft2/24 h": "emission_us",
    "g/m2/24h": "emission_si", "g/m2/24 h": "emission_si", "g/m2/d": "emission_si",
    "perm": "perm_us",
}  # fmt: skip
_DIMENSIONS = {
    "MPa": "a stress", "N": "a force", "um": "a length", "m2": "an area", "L": "a volume",
    "kg": "a mass", "s": "a time", "degC": "a temperature", "percent": "a share", "pH": "a pH",
    "pieces": "a number of pieces", "1/h": "a rate per time", "mg/m2": "a mass on an area",
    "mg/L": "a concentration", "uS/cm": "a conductivity", "V": "a voltage", "mL": "a volume",
    "emission_si": "an emission rate", "MPa/s": "a rate of stress", "m2/L": "a spreading rate",
    "J/g": "an energy by mass", "K/min": "a heating rate", "mg": "a mass", "deg": "an angle",
    "px": "a distance in pixels", "GU": "a gloss", "K": "a temperature",
}  # fmt: skip


class UnitError(ValueError):
    """A number without the unit it needs, or with one of another kind."""


def in_unit(quantity: Quantity, unit: str, default_unit: str = "") -> float:
    """Return `quantity` in `unit`.

    Args:
        quantity: A number as written.
        unit: The unit wanted.
        default_unit: The unit that a bare number has.

    Raises:
        UnitError: The number has no unit, or one that is not known or of another kind.
    """
    return float(exactly_in(quantity, unit, default_unit))


@lru_cache(maxsize=4096)
def exactly_in(quantity: Quantity, unit: str, default_unit: str = "") -> Fraction:
    """Return `quantity` in `unit` as an exact fraction; see `in_unit`."""
    factor, offset = _line(_unit_of(quantity, unit, default_unit), unit)
    return Fraction(quantity.text) * factor + offset


def difference_in(quantity: Quantity, unit: str = "K", default_unit: str = "") -> float:
    """Return a difference of temperatures in `unit`: 5 degF is 2.78 K, and 32 is never deducted.

    Raises:
        UnitError: As for `in_unit`.
    """
    factor, _ = _line(_unit_of(quantity, unit, default_unit), unit)
    return float(Fraction(quantity.text) * factor)


def convert(value: float, unit: str, to: str) -> float:
    """Return a number given in `unit` in the unit `to`.

    Raises:
        UnitError: A unit is not known, or the two are of different kinds.
    """
    factor, offset = _line(unit, to)
    return float(Fraction(value) * factor + offset)


def convert_difference(value: float, unit: str, to: str) -> float:
    """Return a difference of temperatures given in `unit` in the unit `to`."""
    factor, _ = _line(unit, to)
    return float(Fraction(value) * factor)


def is_unit(unit: str, of: str = "") -> bool:
    """Return whether `unit` is known and, where `of` is given, of the same kind as `of`."""
    try:
        return _dimension(unit) == _dimension(of or unit)
    except UnitError:
        return False


def _unit_of(quantity: Quantity, wanted: str, default_unit: str) -> str:
    if written := quantity.unit or default_unit:
        return written
    raise UnitError(f"“{quantity}” has no unit; write one, as {quantity} {wanted}")


@cache
def _line(unit: str, to: str) -> tuple[Fraction, Fraction]:
    """Return factor and offset of the straight line from `unit` to `to`."""
    if _dimension(unit) != _dimension(to):
        raise UnitError(f"“{unit}” is {_kind(unit)}, not {_kind(to)}; give it in {to}")
    registry, (source, target) = _registry(), (_parsed(unit), _parsed(to))
    at_zero, at_one = (
        Fraction(registry.Quantity(Fraction(number), source).to(target).magnitude)
        for number in (0, 1)
    )
    return at_one - at_zero, at_zero


@cache
def _dimension(unit: str) -> object:
    return _parsed(unit).dimensionality


def _kind(unit: str) -> str:
    """Return what a unit measures, in words."""
    known = (word for one, word in _DIMENSIONS.items() if _dimension(one) == _dimension(unit))
    return next(known, "another kind of quantity")


@cache
def _parsed(unit: str) -> "pint.Unit":
    plain = plain_unit(unit)
    parts = _NAMES.get(plain, plain).split("/")
    if not all(_is_known(part) or (at == 0 and part == "1") for at, part in enumerate(parts)):
        raise UnitError(f"“{unit}” is not a unit of the trade; write one such as MPa, um, degC")
    return _registry().Unit("/".join(parts))


def _is_known(name: str) -> bool:
    try:
        return _registry().get_name(name) == name
    except AttributeError:  # pint.UndefinedUnitError is one
        return False


@cache
def _registry() -> "pint.UnitRegistry[Fraction]":
    import pint  # noqa: PLC0415 - the window opens before the first conversion

    units = str(resource("units.txt"))
    return pint.UnitRegistry(units, non_int_type=Fraction, on_redefinition="raise")
