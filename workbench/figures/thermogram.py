"""A thermogram with the lines its temperatures were constructed from."""

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from workbench.analysis.thermal.glass_transition import Definition, Floats, GlassTransition, Line
from workbench.figures.look import Look
from workbench.figures.marks import Mark, Marks
from workbench.figures.temperatures import at_words, temperature_axis
from workbench.records import Source

_SIGNS = {
    Definition.ONSET: ("<", "none"),
    Definition.HALF_HEIGHT: ("o", "full"),
    Definition.INFLECTION: ("s", "none"),
    Definition.EQUAL_AREAS: ("D", "none"),
    Definition.END: (">", "none"),
}


def draw_thermogram(
    figure: Figure,
    celsius: Floats,
    flow: Floats,
    transition: GlassTransition,
    *,
    title: str = "Differential scanning calorimetry",
    ordinate: str = "heat flow",
    source: Source | None = None,
    look: Look | None = None,
) -> Marks:
    """Draw a DSC curve, its baselines and tangent, and the transition by each definition.

    Args:
        figure: A bare figure.
        celsius: Temperature in degC, shape (n,).
        flow: Heat flow, shape (n,).
        transition: What was constructed.
        title: What the curve is: sample, heat, rate.
        ordinate: Name and unit of `flow`, with its direction.
        source: The record of the result.
        look: How it is drawn.
    """
    look = look or Look()
    look.begin(figure)
    axes = figure.add_subplot()
    look.dress(axes)
    (curve,) = axes.plot(celsius, flow, color=look.scheme.ink, linewidth=1.1, picker=4)
    low, high = float(np.min(flow)), float(np.max(flow))
    for line in (transition.before, transition.after):
        axes.plot(celsius, line.at(celsius), color=look.scheme.muted, linewidth=0.7, dashes=(4, 3))
    _tangent(axes, celsius, transition.tangent, (low, high), look)
    for definition, at in transition.celsius.items():
        marker, fill = _SIGNS[definition]
        value = _ordinate_at(definition, at, celsius, flow, transition)
        axes.plot(
            at, value, marker, fillstyle=fill, color=look.scheme.accent, markersize=5,
            linestyle="none", label=f"{definition.value} {at_words(look, at)}",
        )  # fmt: skip
    span = high - low
    axes.set_ylim(low - 0.1 * span, high + 0.12 * span)
    temperature_axis(axes, look)
    axes.set_ylabel(ordinate)
    look.title(axes, title)
    axes.legend(
        loc="upper right", fontsize=look.note_pt, labelcolor=look.scheme.ink, framealpha=1.0,
        facecolor=look.scheme.paper, edgecolor="none",
    )  # fmt: skip
    return Marks((Mark(curve, (source,) if source else ()),))


def _ordinate_at(
    definition: Definition, at: float, celsius: Floats, flow: Floats, transition: GlassTransition
) -> float:
    """Return where a temperature is marked: the tangent's ends on the baselines, else the curve."""
    lines = {Definition.ONSET: transition.before, Definition.END: transition.after}
    if definition in lines:
        return lines[definition].at_0 + lines[definition].slope * at
    return float(np.interp(at, celsius, flow))


def _tangent(
    axes: Axes, celsius: Floats, tangent: Line, within: tuple[float, float], look: Look
) -> None:
    along = tangent.at(celsius)
    shown = (along >= within[0]) & (along <= within[1])
    axes.plot(celsius[shown], along[shown], color=look.scheme.accent, linewidth=0.8)
