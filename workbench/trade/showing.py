"""How a number stands before a person: the one path from value to text.

Rounding happens here and nowhere else, half to even (ISO 80000-1 rule A and ASTM E29, from
memory). What was entered keeps its digits as long as it is shown in the unit it was entered in.
"""

import math
from dataclasses import dataclass
from decimal import ROUND_HALF_EVEN, Decimal
from enum import StrEnum
from typing import NamedTuple, TypedDict, Unpack

from workbench.records import Outcome, Quantity, Readings, plain_unit
from workbench.records.codes import Qualifier
from workbench.trade.units import convert, convert_difference, is_unit


class System(StrEnum):
    """The units a case is shown in."""

    SI = "SI"
    US = "US"
    BOTH = "both"

    @classmethod
    def of(cls, said: str) -> "System":
        """Return the units that a case names; SI where it names none."""
        named = {one.value.lower(): one for one in cls}
        return named.get(said.strip().lower(), cls.SI)


class Bound(StrEnum):
    """How a shown number limits the true one."""

    NONE = ""
    AT_LEAST = "≥"
    AT_MOST = "≤"
    ABOUT = "≈"


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of quantity: its two units and how finely it is shown.

    Attributes:
        si: Unit that values are computed and shown in, in plain letters.
        us: Unit of the US system; the same where the trade uses one unit only.
        steps: For values below so much (SI): the smallest step shown, in SI and in US units.
        difference: Whether it is a difference of temperatures.
        trimmed: Whether zeros at the end are left off, as of nominal sizes.
    """

    si: str
    us: str
    steps: tuple[tuple[float, float, float], ...]
    difference: bool = False
    trimmed: bool = False


_ANY = math.inf
STRESS = Kind("MPa", "psi", ((1, 0.01, 1), (_ANY, 0.1, 10)))
STRESS_RATE = Kind("MPa/s", "psi/s", ((0.1, 0.001, 0.1), (_ANY, 0.01, 1)))
FORCE = Kind("N", "lbf", ((_ANY, 1, 0.1),))
THICKNESS = Kind("um", "mil", ((10, 0.1, 0.01), (_ANY, 1, 0.1)))
SIZE = Kind("mm", "in", ((100, 0.1, 0.01), (_ANY, 1, 0.1)), trimmed=True)
LENGTH = Kind("m", "ft", ((_ANY, 0.1, 0.1),))
AREA = Kind("m2", "ft2", ((10, 0.1, 1), (_ANY, 1, 1)))
VOLUME = Kind("L", "gal", ((10, 0.01, 0.01), (_ANY, 0.1, 0.1)))
MASS = Kind("kg", "lb", ((_ANY, 0.01, 0.01),))
TEMPERATURE = Kind("degC", "degF", ((_ANY, 0.1, 0.1),))
DIFFERENCE = Kind("degC", "degF", ((_ANY, 0.1, 0.1),), difference=True)
EMISSION = Kind("g/m2/24h", "lb/1000ft2/24h", ((_ANY, 0.1, 0.01),))
SALTS = Kind("mg/m2", "ug/cm2", ((100, 0.1, 0.01), (_ANY, 1, 0.1)))
SPREADING = Kind("m2/L", "ft2/gal", ((_ANY, 0.01, 1),))
DENSITY = Kind("g/L", "lb/gal", ((_ANY, 1, 0.01),))
PERCENT = Kind("%", "%", ((10, 0.1, 0.1), (_ANY, 1, 1)))
HOURS = Kind("h", "h", ((10, 0.1, 0.1), (_ANY, 1, 1)))
DAYS = Kind("d", "d", ((10, 0.1, 0.1), (_ANY, 1, 1)))
MINUTES = Kind("min", "min", ((_ANY, 1, 1),))
SECONDS = Kind("s", "s", ((_ANY, 1, 1),))
CONDUCTIVITY = Kind("uS/cm", "uS/cm", ((_ANY, 0.1, 0.1),))
VOLTAGE = Kind("V", "V", ((_ANY, 1, 1),))
ACIDITY = Kind("pH", "pH", ((_ANY, 0.1, 0.1),))
COUNT = Kind("", "", ((_ANY, 1, 1),))
PLAIN = Kind("", "", ((1, 0.001, 0.001), (10, 0.01, 0.01), (100, 0.1, 0.1), (_ANY, 1, 1)))

_KINDS = (
    STRESS, STRESS_RATE, FORCE, THICKNESS, SIZE, LENGTH, AREA, VOLUME, MASS, TEMPERATURE, EMISSION,
    SALTS, SPREADING, DENSITY,
)  # fmt: skip
_BY_UNIT = {unit: kind for kind in _KINDS for unit in (kind.si, kind.us)} | {
    "N/mm2": STRESS, "bar": STRESS, "kPa": STRESS, "ksi": STRESS, "kgf/cm2": STRESS,
    "kN": FORCE, "kgf": FORCE, "mL": VOLUME, "g": MASS, "oz": MASS, "cm": SIZE,
}  # fmt: skip
_US_UNITS = frozenset({kind.us for kind in _KINDS} | {"ksi", "oz", "inHg", "in2"})
_SIGNS = {
    "um": "µm", "degC": "°C", "degF": "°F", "m2": "m²", "ft2": "ft²", "mm2": "mm²", "cm2": "cm²",
    "in2": "in²",
    "N/mm2": "N/mm²", "mg/m2": "mg/m²", "g/m2": "g/m²", "kg/m2": "kg/m²", "ug/cm2": "µg/cm²",
    "kgf/cm2": "kgf/cm²", "uS/cm": "µS/cm", "m2/L": "m²/L", "ft2/gal": "ft²/gal",
    "g/m2/24h": "g/(m²·24 h)", "lb/1000ft2/24h": "lb/(1000 ft²·24 h)", "wt%": "wt %",
}  # fmt: skip
_QUALIFIER_SIGNS = {Qualifier.BELOW: "<", Qualifier.ABOVE: ">", Qualifier.ABOUT: "≈"}


def kind_of(unit: str) -> Kind | None:
    """Return the kind of quantity that a unit is shown as; None where it is shown as it stands."""
    return _BY_UNIT.get(unit)


def unit_sign(unit: str) -> str:
    """Return a unit as it is printed: `um` becomes µm, `m2` m²."""
    return _SIGNS.get(unit, unit)


def rounded(value: float, step: float) -> str:
    """Return `value` in whole steps, half to even, with the digits of the step.

    A minus sign stands before a negative number; nothing rounds to "−0".
    """
    exact = Decimal(repr(step))
    whole = (Decimal(repr(float(value))) / exact).quantize(Decimal(1), ROUND_HALF_EVEN) * exact
    text = f"{abs(whole):f}" if step < 1 else f"{abs(whole):.0f}"
    return f"−{text}" if whole < 0 else text


class How(TypedDict, total=False):
    """What may be said of a value besides the value.

    Attributes:
        low: Lower end of its interval, in the same unit.
        high: Upper end of its interval.
        bound: Whether the value is a bound.
        apart_from: A value that must not look the same unless it is the same, such as a limit.
        unit: Whether the unit is said; a column's heading may have said it already.
    """

    low: float | None
    high: float | None
    bound: Bound
    apart_from: float | None
    unit: bool


class _Side(NamedTuple):
    """One of the two units of a kind, with the step in it for the value at hand."""

    kind: Kind
    unit: str
    step: float

    def number(self, si: float) -> str:
        moved = convert_difference if self.kind.difference else convert
        number = si if self.unit == self.kind.si else moved(si, self.kind.si, self.unit)
        text = rounded(number, self.step)
        return text.rstrip("0").rstrip(".") if self.kind.trimmed and "." in text else text

    def finer(self, si: float, apart_from: float | None) -> "_Side":
        side = self
        while (
            apart_from is not None
            and not math.isclose(si, apart_from, rel_tol=1e-9)
            and side.number(si) == side.number(apart_from)
        ):
            side = side._replace(step=float(Decimal(repr(side.step)) / 10))
        return side


def in_si(quantity: Quantity, default_unit: str = "") -> float:
    """Return a number in the SI unit of its kind; as written where the unit names no kind."""
    unit = plain_unit(quantity.unit or default_unit)
    kind = _BY_UNIT.get(unit)
    if kind is None or kind.si == unit:
        return quantity.value
    return convert(quantity.value, unit, kind.si)


def _shifted(quantity: Quantity, unit: str, to: str) -> str:
    """Return what was entered in a unit a power of ten away, its digits kept; else nothing."""
    places = math.log10(ratio) if (ratio := convert(1.0, unit, to)) > 0 else 0.5
    if not math.isclose(places, round(places), abs_tol=1e-9):
        return ""
    number = Decimal(repr(quantity.value)) if "," in quantity.text else Decimal(quantity.text)
    return _with_unit(f"{number.scaleb(round(places)):f}".replace("-", "−"), unit_sign(to))


@dataclass(frozen=True, slots=True)
class Showing:
    """How the numbers of a case are shown: in SI, in US units, or in both.

    Attributes:
        system: The units chosen.
    """

    system: System = System.SI

    def value(self, kind: Kind, si: float, **how: Unpack[How]) -> str:
        """Return a computed value as text: "2.4 MPa", "≥ 2.4 MPa", "2.4 MPa (1.9 to 3.1)".

        Args:
            kind: What it is.
            si: The value in the kind's SI unit.
            **how: What is said besides; see `How`.
        """
        first, *second = (_text(side, si, how) for side in self._sides(kind, si))
        if not second:
            return first
        interval = how.get("low") is not None or how.get("high") is not None
        return f"{first}; {second[0]}" if interval else f"{first} ({second[0]})"

    def unit(self, kind: Kind) -> str:
        """Return the unit of a column of such values; "MPa (psi)" where both are shown."""
        first, *second = (unit_sign(side.unit) for side in self._sides(kind, 0))
        return f"{first} ({second[0]})" if second else first

    def entered(self, quantity: Quantity) -> str:
        """Return what was read off an instrument in the unit that it has, whatever is shown."""
        return _with_unit(quantity.text.replace("-", "−"), unit_sign(plain_unit(quantity.unit)))

    def quantity(self, quantity: Quantity, default_unit: str = "", kind: Kind | None = None) -> str:
        """Return what was entered, digits kept where it is shown in its own unit.

        A unit that is none of `kind` stands as it was entered; the record's faults tell of it.

        Args:
            quantity: The number as written.
            default_unit: The unit that a bare number has.
            kind: What it is, where the unit does not say it (a difference of temperatures).
        """
        unit = plain_unit(quantity.unit or default_unit)
        known = kind or _BY_UNIT.get(unit)
        sign = unit_sign("degC" if known and known.difference and unit == "K" else unit)
        entered = _with_unit(quantity.text.replace("-", "−"), sign)
        own = System.US if unit in _US_UNITS else System.SI
        if known is None or known.si == known.us or self.system is own:
            return entered
        if not is_unit(unit, known.si):
            return entered
        moved = convert_difference if known.difference else convert
        other = Showing(System.SI if own is System.US else System.US)
        to = known.si if own is System.US else known.us
        shown = _shifted(quantity, unit, to) or other.value(
            known, moved(quantity.value, unit, known.si)
        )
        return f"{entered} ({shown})" if self.system is System.BOTH else shown

    def span(self, low: float, high: float, unit: str, kind: Kind | None = None) -> str:
        """Return readings in one unit as text: "1.9 to 2.4 MPa", or one where they are equal.

        Args:
            low: The lowest, in `unit`.
            high: The highest.
            unit: Their unit; empty for plain numbers.
            kind: What they are, where the unit does not say it (a difference of temperatures).
        """
        first, last = (self.quantity(Quantity(f"{v:g}", unit), kind=kind) for v in (low, high))
        head, space, sign = first.rpartition(" ")
        if first == last or not unit:
            return first if first == last else f"{first} to {last}"
        shared = space and self.system is not System.BOTH and last.endswith(f" {sign}")
        return f"{head if shared else first} to {last}"

    def outcome(self, outcome: Outcome, qualifier: Qualifier | None = None, unit: str = "") -> str:
        """Return the result of a test: its word, or its number with sign and unit."""
        if outcome.quantity is None:
            return outcome.word.replace("_", " ")
        sign = f"{_QUALIFIER_SIGNS[qualifier]} " if qualifier else ""
        return f"{sign}{self.quantity(outcome.quantity, unit)}"

    def readings(self, readings: Readings, unit: str) -> str:
        """Return several readings of one spot, or the summary recorded instead."""
        if readings.values:
            return "; ".join(self.quantity(one, unit) for one in readings.values)
        said = (("mean", readings.mean), ("min", readings.low), ("max", readings.high))
        parts = [f"{name} {self.quantity(one, unit)}" for name, one in said if one]
        return "; ".join(parts + ([f"n {readings.count}"] if readings.count else []))

    def stress(self, mpa: float, **how: Unpack[How]) -> str:
        """Return a stress given in MPa."""
        return self.value(STRESS, mpa, **how)

    def thickness(self, um: float, **how: Unpack[How]) -> str:
        """Return a thickness of film given in µm."""
        return self.value(THICKNESS, um, **how)

    def temperature(self, celsius: float, **how: Unpack[How]) -> str:
        """Return a temperature given in °C."""
        return self.value(TEMPERATURE, celsius, **how)

    def difference(self, kelvin: float, **how: Unpack[How]) -> str:
        """Return a difference of temperatures given in K; printed in °C or °F."""
        return self.value(DIFFERENCE, kelvin, **how)

    def percent(self, percent: float, **how: Unpack[How]) -> str:
        """Return a share given in percent."""
        return self.value(PERCENT, percent, **how)

    def hours(self, hours: float, **how: Unpack[How]) -> str:
        """Return a length of time given in hours."""
        return self.value(HOURS, hours, **how)

    def _sides(self, kind: Kind, si: float) -> list[_Side]:
        si_step, us_step = next((a, b) for below, a, b in kind.steps if abs(si) < below)
        metric, customary = _Side(kind, kind.si, si_step), _Side(kind, kind.us, us_step)
        if kind.si == kind.us or self.system is System.SI:
            return [metric]
        return [customary] if self.system is System.US else [metric, customary]


def _text(side: _Side, si: float, how: How) -> str:
    side = side.finer(si, how.get("apart_from"))
    low, high = how.get("low"), how.get("high")
    sign = f"{how['bound']} " if how.get("bound") else ""
    said = _with_unit(side.number(si), unit_sign(side.unit) if how.get("unit", True) else "")
    return f"{sign}{said}{_interval(side, low, high)}"


def _with_unit(number: str, sign: str) -> str:
    """Return a number with its unit; pH is no unit and stands before it (ISO 80000-9)."""
    if (number, sign) == ("1", "pieces"):
        return "1 piece"
    return f"pH {number}" if sign == "pH" else f"{number} {sign}".strip()


def _interval(side: _Side, low: float | None, high: float | None) -> str:
    if low is not None and high is not None:
        return f" ({side.number(low)} to {side.number(high)})"
    if low is not None:
        return f" ({Bound.AT_LEAST} {side.number(low)})"
    return f" ({Bound.AT_MOST} {side.number(high)})" if high is not None else ""
