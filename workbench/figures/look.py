"""The look that all figures share: colours, markers, hatches and sizes, on screen and on paper.

Nothing is told by colour alone: each condition has its own marker and hatch, each plane its own
marker. Matplotlib's global settings are touched once, here and on import, so figures may be drawn
in any thread.
"""

import warnings
from dataclasses import dataclass, field
from typing import Any, Literal

import matplotlib as mpl
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.ticker import NullFormatter, StrMethodFormatter

from workbench.figures.palette import (
    CONDITION_ORDER,
    DARK,
    LIGHT,
    MAGNITUDES,
    SHAPES,
    ConditionStyle,
    Scheme,
    plane_marker,
)
from workbench.records.codes import Condition
from workbench.trade.showing import Kind, Showing, System, unit_sign
from workbench.trade.units import convert

__all__ = [
    "CONDITION_ORDER",
    "DARK",
    "LIGHT",
    "MAGNITUDES",
    "ConditionStyle",
    "Look",
    "Scheme",
    "plane_marker",
]

# words of records stand as they are: no formula between two dollars, and a character that no font
# has is drawn as a box, which needs no line in a log
mpl.rcParams["text.parse_math"] = False
warnings.filterwarnings("ignore", "Glyph .* missing from font", UserWarning)


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
    text_pt: float = 8.0

    @property
    def scheme(self) -> Scheme:
        """The colours of the surface."""
        return DARK if self.dark else LIGHT

    @property
    def note_pt(self) -> float:
        """Size of notes and tick labels."""
        return self.text_pt - 0.5

    @property
    def title_pt(self) -> float:
        """Size of the title of an axes."""
        return self.text_pt + 1

    def condition(self, condition: Condition) -> ConditionStyle:
        """Return how a condition is drawn."""
        return ConditionStyle(self.scheme.conditions[condition], *SHAPES[condition])

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

    def logarithmic(self, axes: Axes) -> None:
        """Let a height be read in powers of ten, labelled with plain numbers."""
        axes.set_yscale("log")
        axes.yaxis.set_major_formatter(StrMethodFormatter("{x:g}"))
        axes.yaxis.set_minor_formatter(NullFormatter())

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
