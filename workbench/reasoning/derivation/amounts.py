"""Recorded quantities as plain numbers."""

from workbench.analysis.measured import measured
from workbench.records import Quantity


def number(quantity: Quantity | None, unit: str) -> float | None:
    """Return a number in `unit`, bare ones taken as such; None where there is none to convert."""
    return measured(quantity, unit, unit)
