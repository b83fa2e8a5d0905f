"""A recorded quantity as a number, where it is one."""

from workbench.records import Quantity
from workbench.trade.units import UnitError, difference_in, in_unit


def measured(quantity: Quantity | None, unit: str, default_unit: str = "") -> float | None:
    """Return a quantity in `unit`; None where there is none, or one that is no such thing."""
    try:
        return in_unit(quantity, unit, default_unit) if quantity else None
    except UnitError:
        return None


def difference(quantity: Quantity | None, unit: str, default_unit: str = "") -> float | None:
    """Return a difference or an uncertainty in `unit`; None where there is none.

    An uncertainty of 2 degC is one of 2 K: no offset is added.
    """
    try:
        return difference_in(quantity, unit, default_unit) if quantity else None
    except UnitError:
        return None
