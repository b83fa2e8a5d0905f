"""The look that all figures share: colours, markers, hatches and sizes, on screen and on paper.

Nothing is told by colour alone: each condition has its own marker and hatch, each plane its own
marker. Nothing here touches matplotlib's global settings, so figures may be drawn in any thread.
"""

from dataclasses import dataclass, field
from typing import Any, Literal

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from workbench.records import Plane, PlaneKind
from workbench.records.codes import Condition
from workbench.trade.showing import Kind, Showing, System, unit_sign
from workbench.trade.units import convert

REPORT_WIDTH_MM = 160.0
"""Width of a figure between the margins of a report page."""
MAGNITUDES = "viridis"
"""Colour map of every magnitude: its lightness runs with the value, so it prints in grey."""

_MM_PER_INCH = 25.4


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
_SHAPES: dict[Condition, tuple[str, str, str | tuple[int, tuple[int, ...]]]] = {
    Condition.FAILING: ("o", "////", "-"),
    Condition.NON_FAILING: ("s", "", "--"),
    Condition.CONTROL: ("D", "....", "-."),
    Condition.REPAIRED: ("^", "xxxx", ":"),
    Condition.UNKNOWN: ("P", "---", (0, (1, 3))),
}
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


@dataclass(frozen=True, slots=True)
class Look:
    """How one figure is drawn.

    Attributes:
        dark: Whether it stands on a dark surface.
        showing: Units that numbers are shown in.
        text_pt: Size of text; notes are a little smaller, titles a little larger.
    """

    dark: bool = False
    showing: Showing = field(default_factory=Showing)
    text_pt: float = 8.5

    @property
    def scheme(self) -> Scheme:
        """The colours of the surface."""
        return DARK if self.dark else LIGHT

    @property
    def note_pt(self) -> float:
        """Size of notes and tick labels."""
        return self.text_pt - 1

    @property
    def title_pt(self) -> float:
        """Size of the title of an axes."""
        return self.text_pt + 1

    def condition(self, condition: Condition) -> ConditionStyle:
        """Return how a condition is drawn."""
        return ConditionStyle(self.scheme.conditions[condition], *_SHAPES[condition])

    def begin(self, figure: Figure) -> None:
        """Empty a figure and give it the surface; every drawing starts with this."""
        figure.clear()
        figure.set_facecolor(self.scheme.paper)

    def dress(self, axes: Axes, *, grid: Literal["x", "y", "both"] | None = None) -> None:
        """Give axes their quiet dress, with grid lines along the axis that `grid` names."""
        scheme = self.scheme
        axes.set_facecolor(scheme.paper)
        for side in ("top", "right"):
            axes.spines[side].set_visible(False)
        for side in ("left", "bottom"):
            axes.spines[side].set_color(scheme.muted)
            axes.spines[side].set_linewidth(0.6)
        axes.tick_params(
            colors=scheme.muted, labelcolor=scheme.ink, labelsize=self.note_pt, width=0.6, length=3
        )
        axes.xaxis.label.set(color=scheme.ink, fontsize=self.text_pt)
        axes.yaxis.label.set(color=scheme.ink, fontsize=self.text_pt)
        axes.set_axisbelow(True)
        if grid:
            axes.grid(visible=True, axis=grid, color=scheme.faint, linewidth=0.6)

    def title(self, axes: Axes, text: str) -> None:
        """Set the title of an axes, at its left."""
        axes.set_title(text, loc="left", color=self.scheme.ink, fontsize=self.title_pt, pad=8)

    def words(self, *, muted: bool = False, note: bool = False) -> dict[str, Any]:
        """Return the text properties of ordinary words, or of muted words and notes."""
        colour = self.scheme.muted if muted else self.scheme.ink
        return {"color": colour, "fontsize": self.note_pt if note else self.text_pt}

    def unit(self, kind: Kind) -> str:
        """Return the unit of an axis, in plain letters: US where US is chosen, else SI."""
        return kind.us if self.showing.system is System.US else kind.si

    def per_si(self, kind: Kind) -> float:
        """Return how many of the axis's units one SI unit is; not for temperatures."""
        return convert(1, kind.si, self.unit(kind))

    def axis_label(self, what: str, kind: Kind) -> str:
        """Return the label of an axis: "stress, MPa"."""
        return f"{what}, {unit_sign(self.unit(kind))}"


def report_size(height_mm: float, width_mm: float = REPORT_WIDTH_MM) -> tuple[float, float]:
    """Return the size in inches of a figure for the report page."""
    return width_mm / _MM_PER_INCH, height_mm / _MM_PER_INCH
