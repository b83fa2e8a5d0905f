"""Thermograms beside each other, and a peak over the line between its ends."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from matplotlib.figure import Figure

from workbench.analysis.laboratory.peaks import ReadPeak
from workbench.analysis.thermal.glass_transition import Floats
from workbench.figures.look import Look
from workbench.figures.marks import Mark, Marks
from workbench.figures.temperatures import at_words, temperature_axis
from workbench.records import Source
from workbench.records.codes import Condition


@dataclass(frozen=True, slots=True, eq=False)
class HeatTrace:
    """One thermogram of an overlay.

    Attributes:
        celsius: Temperature in degC, shape (n,).
        flow: Heat flow, shape (n,).
        label: Sample, face and heat.
        condition: Decides colour and dash.
        marked: Glass transition read on it, in degC; None for none.
        source: The record it comes from.
    """

    celsius: Floats
    flow: Floats
    label: str
    condition: Condition = Condition.UNKNOWN
    marked: float | None = None
    source: Source | None = None


def draw_heats(
    figure: Figure,
    traces: Sequence[HeatTrace],
    *,
    exotherm_up: bool | None = None,
    look: Look | None = None,
) -> Marks:
    """Draw thermograms above each other on one scale, with the temperatures read on them.

    Args:
        figure: A bare figure.
        traces: The thermograms, the first on top.
        exotherm_up: Whether an exotherm points upwards; None where nobody said.
        look: How it is drawn.

    Returns:
        One mark a trace.
    """
    look = look or Look()
    look.begin(figure)
    axes = figure.add_subplot()
    look.dress(axes, grid="x")
    marks, base = [], 0.0
    for trace in reversed(traces):
        style = look.condition(trace.condition)
        y = trace.flow - float(np.min(trace.flow)) + base
        (line,) = axes.plot(
            trace.celsius, y, color=style.colour, linestyle=style.dash, linewidth=1.1, picker=4
        )
        if trace.marked is not None:
            at = float(np.interp(trace.marked, trace.celsius, y))
            axes.plot(trace.marked, at, style.marker, color=style.colour, markersize=5)
            axes.annotate(
                at_words(look, trace.marked), (trace.marked, at), xytext=(5, 5),
                textcoords="offset points", **look.words(note=True),
            )  # fmt: skip
        axes.annotate(
            trace.label, (trace.celsius[0], y[0]), xytext=(0, 4), textcoords="offset points",
            ha="left", va="bottom", color=style.colour, fontsize=look.note_pt,
        )  # fmt: skip
        marks.append(Mark(line, (trace.source,) if trace.source else ()))
        base += 1.35 * float(np.ptp(trace.flow))
    low, high = axes.get_ylim()
    axes.set_ylim(low, high + 0.06 * (high - low))
    axes.set_yticks([])
    temperature_axis(axes, look)
    axes.set_ylabel(f"heat flow, shifted{_way(exotherm_up)}")
    look.title(axes, "Thermograms, shifted for legibility")
    return Marks(tuple(reversed(marks)))


def _way(exotherm_up: bool | None) -> str:
    return {True: "; exotherm up", False: "; exotherm down", None: "; direction not stated"}[
        exotherm_up
    ]


def draw_peak(
    figure: Figure, read: ReadPeak, *, title: str = "", look: Look | None = None
) -> Marks:
    """Draw a peak, the line between its ends, its area, its onset and its energy.

    Args:
        figure: A bare figure.
        read: The peak.
        title: What the curve is; empty for its own name.
        look: How it is drawn.
    """
    look = look or Look()
    look.begin(figure)
    axes = figure.add_subplot()
    look.dress(axes)
    celsius, flow, event = read.thermogram.celsius, read.thermogram.flow, read.event
    (curve,) = axes.plot(celsius, flow, color=look.scheme.ink, linewidth=1.1, picker=4)
    inside = (celsius >= read.reading.first.value) & (celsius <= read.reading.last.value)
    x = celsius[inside]
    line = event.baseline.at(x)
    axes.plot(x, line, color=look.scheme.accent, linewidth=0.9, dashes=(4, 3))
    axes.fill_between(
        x, line, flow[inside], facecolor="none", edgecolor=look.scheme.accent, hatch="////",
        linewidth=0,
    )  # fmt: skip
    onset = float(event.baseline.at(np.array([event.onset_c]))[0])
    if read.shows:
        axes.plot(event.onset_c, onset, "o", color=look.scheme.accent, markersize=5,
                  linestyle="none", label=f"onset {at_words(look, event.onset_c)}")  # fmt: skip
        top = float(np.interp(event.top_c, celsius, flow))
        axes.plot(event.top_c, top, "^", fillstyle="none", color=look.scheme.accent, markersize=5,
                  linestyle="none", label=f"top {at_words(look, event.top_c)}")  # fmt: skip
    axes.plot([], [], " ", label=f"{read.energy_j_g:.1f} J/g, {read.words}")
    span = float(np.ptp(flow))
    axes.set_ylim(float(np.min(flow)) - 0.1 * span, float(np.max(flow)) + 0.15 * span)
    temperature_axis(axes, look)
    axes.set_ylabel(read.thermogram.ordinate or "heat flow")
    named = title or read.thermogram.name or read.thermogram.file
    look.title(axes, f"{named}: {read.reading.peak}")
    axes.legend(loc="best", frameon=False, fontsize=look.note_pt, labelcolor=look.scheme.ink)
    return Marks((Mark(curve, (read.reading.source,)),))
