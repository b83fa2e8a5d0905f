"""The layer stack drawn to scale, with a line from each plane to its row on either side."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from matplotlib.axes import Axes
from matplotlib.patches import Rectangle

from workbench.figures.look import Look
from workbench.records import Coat, Plane, PlaneKind, layer_sign
from workbench.records.codes import Condition
from workbench.trade.showing import THICKNESS
from workbench.trade.units import UnitError, in_unit

_SUBSTRATE = 0.16
"""Share of the height that the substrate takes; it is not to scale."""
_THINNEST = 0.006
_TINTS = (0.10, 0.22)


@dataclass(frozen=True, slots=True)
class StackScale:
    """Where layers lie in a stack of height 1.

    Attributes:
        edges: Bottom of each layer from the substrate up, and the top of the last.
        um_per_height: What the whole height would be; None where thicknesses are not known.
    """

    edges: tuple[float, ...]
    um_per_height: float | None

    @classmethod
    def of(cls, coats: Sequence[Coat], layers: int) -> "StackScale":
        """Return the scale of a system; layers are drawn equal where one has no thickness."""
        by_order = {coat.order: _thickness_um(coat) for coat in coats}
        known = [by_order.get(order) for order in range(1, layers)]
        told = [um for um in known if um]
        to_scale = bool(told) and len(told) == len(known)
        thick = told if to_scale else [1.0] * len(known)
        whole = sum(thick) or 1.0
        rise = 1 - _SUBSTRATE
        heights = [max(rise * one / whole, _THINNEST) for one in thick]
        edges = [0.0, _SUBSTRATE]
        for height in heights:
            edges.append(edges[-1] + height)
        return cls(tuple(edge / edges[-1] for edge in edges), whole / rise if to_scale else None)

    def height(self, plane: Plane) -> float:
        """Return where a plane lies: the edge between layers, or the middle of one."""
        lower, upper = plane.lower or 0, plane.upper or 0
        if plane.kind is PlaneKind.INTERFACE:
            return self.edges[upper]
        return (self.edges[lower] + self.edges[lower + 1]) / 2


def _thickness_um(coat: Coat) -> float | None:
    for said in (coat.dft_nominal, coat.dft_min):
        if said is not None:
            try:
                return in_unit(said, "um", "um")
            except UnitError:
                return None
    return None


@dataclass(frozen=True, slots=True)
class Side:
    """One side of the column: a condition, and which share of its breaks lies in each plane."""

    condition: Condition
    shares: Mapping[Plane, float]


def draw_column(
    axes: Axes,
    scale: StackScale,
    rows: Mapping[Plane, float],
    sides: tuple[Side, Side | None],
    *,
    look: Look,
    place: tuple[float, float],
    reach: tuple[float, float],
) -> None:
    """Draw the stack between `place[0]` and `place[1]`, and lines out to the rows.

    The bar at a plane grows with the share of the breaks that lay there: those of the first side
    on the left half, those of the second on the right.

    Args:
        axes: Axes whose y runs over the rows.
        scale: Where the layers lie.
        rows: The middle of the row of each plane.
        sides: The conditions on the left and on the right.
        look: How it is drawn.
        place: Left and right edge of the stack.
        reach: Where the lines to the rows end on the left and on the right.
    """
    whole = len(rows)
    left, right = place
    _layers(axes, scale, whole, look, place)
    for plane, row in rows.items():
        y = scale.height(plane) * whole
        for start, end in ((left, reach[0]), (right, reach[1])):
            elbow = start + 0.35 * (end - start)
            axes.plot(
                [start, elbow, end], [y, row, row], color=look.scheme.muted, linewidth=0.5, zorder=2
            )
    middle = (left + right) / 2
    for side, start, end in ((sides[0], left, middle), (sides[1], middle, right)):
        if side is None:
            continue
        for plane, share in side.shares.items():
            if share >= 0.02 and plane in rows:
                y = scale.height(plane) * whole
                colour = look.condition(side.condition).colour
                axes.plot(
                    [start, end], [y, y], color=colour, linewidth=1 + 5 * share, zorder=4,
                    solid_capstyle="butt",
                )  # fmt: skip


def _layers(
    axes: Axes, scale: StackScale, whole: float, look: Look, place: tuple[float, float]
) -> None:
    left, right = place
    for order, (bottom, top) in enumerate(zip(scale.edges, scale.edges[1:], strict=False)):
        tint = 0.0 if order == 0 else _TINTS[order % 2]
        axes.add_patch(
            Rectangle(
                (left, bottom * whole), right - left, (top - bottom) * whole, linewidth=0.6,
                facecolor=(look.scheme.ink, tint), edgecolor=look.scheme.muted, zorder=3,
                hatch="..." if order == 0 else None, hatch_linewidth=0.3,
            )
        )  # fmt: skip
        if (top - bottom) * whole > 0.2:
            axes.text(
                left + 0.8 * (right - left), top * whole - 0.1, layer_sign(order), zorder=5,
                ha="center", va="center" if (top - bottom) * whole < 0.4 else "top",
                weight="bold", **look.words(),
            )  # fmt: skip
    _thickness_bar(axes, scale, whole, look, left)


def _thickness_bar(axes: Axes, scale: StackScale, whole: float, look: Look, left: float) -> None:
    """Draw a bar of a round thickness beside the coats, or say that they are not to scale."""
    if scale.um_per_height is None:
        axes.text(left, -0.08, "not to scale", ha="left", va="top", **look.words(muted=True))
        return
    per_um = look.per_si(THICKNESS)
    bottom, top = max(pairwise(scale.edges[1:]), key=lambda pair: pair[1] - pair[0])
    most = 0.4 * (top - bottom) * scale.um_per_height * per_um
    length_um = max((one for one in _ROUND if one <= most), default=_ROUND[0]) / per_um
    bottom = (bottom + 0.05 * (top - bottom)) * whole
    top = bottom + length_um / scale.um_per_height * whole
    x = left + 0.05
    axes.plot(
        [x, x], [bottom, top], color=look.scheme.ink, linewidth=1.2, zorder=5, solid_capstyle="butt"
    )
    axes.text(
        x + 0.015, (bottom + top) / 2, look.showing.value(THICKNESS, length_um), rotation=90,
        ha="left", va="center", zorder=5, **look.words(note=True),
    )  # fmt: skip


_ROUND = (0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000)
