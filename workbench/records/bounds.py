"""What no reading can be, whatever the method: mostly a slip of unit, point or column."""

from collections.abc import Iterable, Iterator

from workbench.records.moments import When
from workbench.records.quantities import Quantity
from workbench.records.record import Fault, Record, fields_of

AIR_C = (-60.0, 100.0)
"""Air on a site or in a drying booth, in °C (common practice, no source)."""
SURFACE_C = (-60.0, 400.0)
"""A surface that somebody coats, in °C (common practice, no source)."""
GLASS_C = (-150.0, 400.0)
"""A glass transition of a coating, in °C (common practice, no source)."""
PH = (-1.0, 15.0)
"""A pH in water (common practice, no source)."""
LONGEST_H = 200_000.0
"""More than twenty years, the longest that a data sheet lets a coat wait."""
MOST_STRESS = 1000.0
"""A stress in MPa that no tester shows."""
SHARE = (0.0, 100.0)
"""A share in percent."""


def celsius(said: Quantity) -> float | None:
    """Return a temperature in °C; None where its unit is none of temperature."""
    match said.unit:
        case "" | "degC":
            return said.value
        case "degF":
            return (said.value - 32) / 1.8
        case "K":
            return said.value - 273.15
    return None


def temperature_faults(
    record: Record, names: Iterable[str], span: tuple[float, float]
) -> Iterator[Fault]:
    """Return the temperatures of a record that lie outside `span`, in °C."""
    low, high = span
    for name in names:
        said = getattr(record, name)
        value = celsius(said) if said else None
        if value is not None and not low <= value <= high:
            right = f"{low:g} to {high:g} °C; look at the decimal point and the unit"
            yield Fault(name, f"{_heading(record, name)} {said}", right)


def share_faults(record: Record, names: Iterable[str]) -> Iterator[Fault]:
    """Return the shares of a record that are no percentages."""
    low, high = SHARE
    for name in names:
        said = getattr(record, name)
        if said and not low <= said.value <= high:
            yield Fault(name, f"{_heading(record, name)} {said}", f"{low:g} to {high:g} %")


def order_faults(record: Record, first: str, last: str) -> Iterator[Fault]:
    """Return that what is last of two moments is over before the first begins."""
    begun, ended = getattr(record, first), getattr(record, last)
    if begun and ended and is_before(ended, begun):
        wrong = f"{_heading(record, last)} {ended} is before {_heading(record, first)} {begun}"
        yield Fault(last, wrong, "the earlier first; look at day, month and year")


def is_before(one: When, other: When) -> bool:
    """Return whether a moment is over before another begins, as far as both say.

    A local time and one with an offset are less than a day apart in doubt, and are left so.
    """
    if one.precision == other.precision == "time" and one.has_offset != other.has_offset:
        return one.day() < other.day()
    if one.precision == "time":
        return one.start() < other.start()
    return one.end() <= other.start()


def value_fault(quantity: str, said: Quantity | None) -> Fault | None:
    """Return what is wrong with a measured pH or glass transition that cannot be."""
    if said is None:
        return None
    acidity = quantity in {"ph_fluid", "ph_face", "ph_cleaner", "fluid_ph"}
    low, high = PH if acidity else GLASS_C
    value = said.value if acidity else celsius(said)
    if not (acidity or quantity.startswith("tg_")) or value is None or low <= value <= high:
        return None
    right = f"{low:g} to {high:g}" if acidity else f"{low:g} to {high:g} °C"
    name = "pH" if acidity else "a glass transition of"
    bare = said.text if acidity else str(said)
    return Fault("value", f"{name} {bare}", f"{right}; look at the decimal point and the unit")


def _heading(record: Record, name: str) -> str:
    heading = next(one.column.heading for one in fields_of(type(record)) if one.name == name)
    return heading.removesuffix(" C").removesuffix(" %")
