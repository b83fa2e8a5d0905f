"""Where words stand beside points so that they hide neither each other nor a point."""

from collections.abc import Sequence
from typing import Literal, NamedTuple

from matplotlib.axes import Axes

_POINT_PT, _LETTER_EM, _PT_PER_IN = 3.2, 0.6, 72.0
"""Half the size of a point, the width of a letter as part of its height, points to an inch."""


class Side(NamedTuple):
    """Where words stand beside a point: how far away in points, and how they are aligned."""

    away: tuple[float, float]
    ha: Literal["left", "center", "right"]
    va: Literal["top", "center", "bottom"]


RIGHT, LEFT = Side((5.5, 0.0), "left", "center"), Side((-5.5, 0.0), "right", "center")
UNDER, OVER = Side((0.0, -5.0), "center", "top"), Side((0.0, 5.0), "center", "bottom")
SIDES = (
    UNDER, OVER, RIGHT, LEFT,
    Side((0.0, -12.0), "center", "top"), Side((0.0, 12.0), "center", "bottom"),
)  # fmt: skip


class Box(NamedTuple):
    """A box on the page, in points."""

    left: float
    bottom: float
    right: float
    top: float

    @classmethod
    def of(cls, spot: tuple[float, float], how: Side, width: float, height: float) -> "Box":
        """Return the box of words beside a spot."""
        x, y = spot[0] + how.away[0], spot[1] + how.away[1]
        left = x - width * {"left": 0.0, "center": 0.5, "right": 1.0}[how.ha]
        bottom = y - height * {"bottom": 0.0, "center": 0.5, "top": 1.0}[how.va]
        return cls(left, bottom, left + width, bottom + height)

    def meets(self, other: "Box") -> bool:
        """Return whether two boxes overlap."""
        beside = self.right <= other.left or other.right <= self.left
        return not (beside or self.top <= other.bottom or other.top <= self.bottom)


def free_sides(
    axes: Axes,
    places: Sequence[tuple[float, float]],
    words: Sequence[str],
    sides: Sequence[Sequence[Side]],
    size: float,
) -> list[Side]:
    """Return where the words of each place stand: the first of its sides that is free.

    Args:
        axes: Axes whose limits are set.
        places: The points, in data.
        words: What stands beside each.
        sides: Where it may stand, the best first; the best where none is free.
        size: Height of the words in points.
    """
    axes.apply_aspect()
    figure = axes.get_figure(root=True)
    scale = _PT_PER_IN / (figure.dpi if figure else _PT_PER_IN)
    spots = [
        (float(x), float(y)) for x, y in (axes.transData.transform(one) * scale for one in places)
    ]
    taken = [Box(x - _POINT_PT, y - _POINT_PT, x + _POINT_PT, y + _POINT_PT) for x, y in spots]
    chosen = []
    for at, (spot, said) in enumerate(zip(spots, words, strict=True)):
        width = _LETTER_EM * size * len(said)
        others = [*taken[:at], *taken[at + 1 :]]
        tried = [(how, Box.of(spot, how, width, size)) for how in sides[at]]
        free = (one for one in tried if not any(one[1].meets(other) for other in others))
        how, box = next(free, tried[0])
        taken.append(box)
        chosen.append(how)
    return chosen
