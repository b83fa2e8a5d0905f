"""A recorded quantity as a number, where it is one."""

from workbench.records import Quantity
from workbench.trade.units import UnitError, in_unit


def measured(quantity: Quantity | None, unit: str, default_unit: str = "") -> float | None:
    """Return a quantity in `unit`; None where there is none, or one that is no such thing."""
    try:
        return in_unit(quantity, unit, default_unit) if quantity else None
    except UnitError:
        return None
