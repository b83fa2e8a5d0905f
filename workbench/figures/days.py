"""How days stand on an axis."""

from collections.abc import Sequence
from datetime import tzinfo
from itertools import pairwise
from statistics import median_low

from matplotlib.dates import ConciseDateFormatter, DateLocator, num2date


class DayFormatter(ConciseDateFormatter):
    """Names the month with the first day shown and with the first of a month."""

    def __init__(self, locator: DateLocator, zone: tzinfo | None) -> None:
        """Format the ticks of `locator` in a zone."""
        super().__init__(locator, tz=zone)  # type: ignore[no-untyped-call]
        self._zone = zone
        self.zero_formats = ["", "%Y", "%d %b", "%d %b", "%H:%M", "%H:%M"]
        self.offset_formats = ["", "%Y", "%Y", "%d %b %Y", "%d %b %Y", "%d %b %Y"]

    def format_ticks(self, values: Sequence[float]) -> list[str]:
        """Return the labels of ticks."""
        labels: list[str] = super().format_ticks(values)  # type: ignore[no-untyped-call]
        if labels and labels[0].isdecimal() and len(labels[0]) < len("2025"):
            first = num2date(values[0], self._zone)  # type: ignore[no-untyped-call]
            labels[0] = f"{first:%d %b}"
        return _apart(labels, values)


_CLOSE = 0.75


def _apart(labels: list[str], values: Sequence[float]) -> list[str]:
    """Return labels without those that stand too near to the first day of a month after them."""
    steps = [after - before for before, after in pairwise(values)]
    usual = median_low(steps) if steps else 0.0
    near = [step < _CLOSE * usual for step in steps]
    return ["" if at < len(near) and near[at] else label for at, label in enumerate(labels)]
