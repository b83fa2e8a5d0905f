"""How a drawing of the site lies on the ground."""

import math
from dataclasses import dataclass

from workbench.records import SitePlan
from workbench.trade.units import in_unit


@dataclass(frozen=True, slots=True)
class PlanScale:
    """How a drawing of the site lies on the ground.

    The first of the two points is the origin of the coordinates in metres, x to the right and y
    up; the drawing is upright, so the second point gives the scale and nothing else.

    Attributes:
        metres_per_px: Size of a pixel on the ground.
        x0_px: Column of the origin, from the left of the drawing.
        y0_px: Row of the origin, from the top of the drawing.
    """

    metres_per_px: float
    x0_px: float
    y0_px: float

    @classmethod
    def of(cls, plan: SitePlan) -> "PlanScale":
        """Return the scale of a drawing from its two points a known distance apart."""
        x0, y0 = plan.x0.value, plan.y0.value
        apart_px = math.hypot(plan.x1.value - x0, plan.y1.value - y0)
        return cls(in_unit(plan.length, "m", "m") / apart_px, x0, y0)

    def metres(self, x_px: float, y_px: float) -> tuple[float, float]:
        """Return where a pixel of the drawing lies, in metres."""
        return (
            (x_px - self.x0_px) * self.metres_per_px,
            (self.y0_px - y_px) * self.metres_per_px,
        )

    def edges(self, width_px: int, height_px: int) -> tuple[float, float, float, float]:
        """Return left, right, bottom and top of a drawing of that size, in metres."""
        left, top = self.metres(0, 0)
        right, bottom = self.metres(width_px, height_px)
        return left, right, bottom, top
