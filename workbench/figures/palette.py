"""The colours, markers and hatches of conditions and planes, for figures and window alike.

Nothing is told by colour alone: each condition has its own marker and hatch, each plane its own
marker. Nothing here needs matplotlib, so the window has its colours before it has its figures.
"""

from dataclasses import dataclass

from workbench.records import Plane, PlaneKind
from workbench.records.codes import Condition

MAGNITUDES = "viridis"
"""Colour map of every magnitude: its lightness runs with the value, so it prints in grey."""


@dataclass(frozen=True, slots=True)
class ConditionStyle:
    """How a condition is drawn.

    Attributes:
        colour: Of line and face.
        marker: Matplotlib marker.
        hatch: Matplotlib hatch.
        dash: Matplotlib line style.
    """

    colour: str
    marker: str
    hatch: str
    dash: str | tuple[int, tuple[int, ...]]


@dataclass(frozen=True, slots=True)
class Scheme:
    """The colours of a light or a dark surface.

    Attributes:
        paper: Background.
        ink: Text and main lines; at least 4.5:1 on paper.
        muted: Secondary text and lines that must be seen; at least 4.5:1 on paper.
        faint: Grid and tinted bands, which carry nothing alone.
        accent: The one accent.
        conditions: Colour of each condition; at least 3:1 on paper.
    """

    paper: str
    ink: str
    muted: str
    faint: str
    accent: str
    conditions: dict[Condition, str]


LIGHT = Scheme(
    paper="#FAFAF7",
    ink="#22262B",
    muted="#5E646B",
    faint="#E3E3DC",
    accent="#1F5F7A",
    conditions={
        Condition.FAILING: "#B5432A",
        Condition.NON_FAILING: "#1F5F7A",
        Condition.CONTROL: "#6B6B6B",
        Condition.REPAIRED: "#7A5C99",
        Condition.UNKNOWN: "#7A6A3A",
    },
)
DARK = Scheme(
    paper="#1B1F23",
    ink="#E8E6E0",
    muted="#A3A9AF",
    faint="#343A40",
    accent="#6FB3CF",
    conditions={
        Condition.FAILING: "#E8836A",
        Condition.NON_FAILING: "#6FB3CF",
        Condition.CONTROL: "#B0B0B0",
        Condition.REPAIRED: "#BFA3DB",
        Condition.UNKNOWN: "#CDBB82",
    },
)
SHAPES: dict[Condition, tuple[str, str, str | tuple[int, tuple[int, ...]]]] = {
    Condition.FAILING: ("o", "////", "-"),
    Condition.NON_FAILING: ("s", "", "--"),
    Condition.CONTROL: ("D", "....", "-."),
    Condition.REPAIRED: ("^", "xxxx", ":"),
    Condition.UNKNOWN: ("P", "---", (0, (1, 3))),
}
"""Marker, hatch and line style of each condition."""
CONDITION_ORDER = (
    Condition.FAILING, Condition.NON_FAILING, Condition.CONTROL, Condition.REPAIRED,
    Condition.UNKNOWN,
)  # fmt: skip
"""Order in which conditions are shown, everywhere."""

_BETWEEN_MARKERS = "^Dv<>d"
_WITHIN_MARKERS = "oph8H*"


def plane_marker(plane: Plane) -> str:
    """Return the marker of a plane: a square in the substrate, pointed between, round within.

    A break in the glue is a cross: it says nothing of the coating beyond "at least".
    """
    if plane.kind is PlaneKind.GLUE:
        return "X"
    if plane.kind is PlaneKind.SUBSTRATE:
        return "s"
    order = plane.lower or 0
    if plane.kind is PlaneKind.INTERFACE:
        return _BETWEEN_MARKERS[order % len(_BETWEEN_MARKERS)]
    return _WITHIN_MARKERS[(order - 1) % len(_WITHIN_MARKERS)]
