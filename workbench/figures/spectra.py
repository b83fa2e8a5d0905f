"""Infrared spectra: overlaid by face, with bands marked, and the difference beneath."""

import textwrap
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from workbench.analysis.spectra.peaks import Peak
from workbench.analysis.spectra.spectrum import Spectrum
from workbench.figures.look import Look
from workbench.figures.marks import Mark, Marks
from workbench.records import Source
from workbench.records.codes import Condition

_LEAST_APART = 0.017
"""How near two numbers may stand, as a share of the abscissa."""


@dataclass(frozen=True, slots=True, eq=False)
class Trace:
    """One spectrum of an overlay.

    Attributes:
        spectrum: What is drawn.
        label: What the legend says: sample and face.
        condition: Decides colour, dash and marker; unknown for a reference.
        sources: The records it comes from.
    """

    spectrum: Spectrum
    label: str
    condition: Condition = Condition.UNKNOWN
    sources: tuple[Source, ...] = ()


def draw_spectra(
    figure: Figure,
    traces: Sequence[Trace],
    *,
    peaks: Sequence[Peak] = (),
    masked: Sequence[tuple[float, float]] = (),
    difference: Spectrum | None = None,
    stacked: bool = True,
    look: Look | None = None,
) -> Marks:
    """Draw spectra in absorbance over wavenumber, high to low as the trade has it.

    Args:
        figure: A bare figure.
        traces: The spectra, the first on top where stacked.
        peaks: Bands to mark, by their positions.
        masked: Regions that a comparison left out, in 1/cm.
        difference: A difference spectrum, drawn beneath on the same abscissa.
        stacked: Shift each spectrum up by the height of the ones below it.
        look: How it is drawn.

    Returns:
        One mark a trace.
    """
    look = look or Look()
    look.begin(figure)
    if difference is None:
        axes, lower = figure.add_subplot(), None
    else:
        axes, lower = figure.subplots(2, 1, sharex=True, height_ratios=(3, 1.2))
    marks = _traces(axes, traces, look, stacked=stacked)
    shifted = stacked and len(traces) > 1
    for left, right in masked:
        axes.axvspan(left, right, facecolor=look.scheme.faint, edgecolor="none", zorder=0)
    _peaks(axes, peaks, look)
    look.title(axes, "Infrared spectra, shifted for legibility" if shifted else "Infrared spectra")
    axes.set_ylabel("absorbance")
    if shifted:
        _name_beside(axes, traces, look)
    if lower is not None and difference is not None:
        look.dress(lower, grid="x")
        _difference(lower, difference, traces, look)
        lower.set_title(difference.title, loc="left", **look.words(muted=True, note=True))
    bottom = lower if lower is not None else axes
    bottom.set_xlabel("wavenumber, 1/cm")
    _reverse(axes, traces)
    return marks


def _traces(axes: Axes, traces: Sequence[Trace], look: Look, *, stacked: bool) -> Marks:
    look.dress(axes, grid="x")
    marks, base = [], 0.0
    for trace in reversed(traces):
        style = look.condition(trace.condition)
        inked = trace.spectrum.absorbance()
        (line,) = axes.plot(
            inked.x, inked.y + base, color=style.colour, linestyle=style.dash, linewidth=0.9,
            picker=4,
        )  # fmt: skip
        if not stacked or len(traces) == 1:
            axes.annotate(
                trace.label, (inked.x[-1], inked.y[-1] + base), xytext=(4, 5),
                textcoords="offset points", ha="left", color=style.colour, fontsize=look.note_pt,
            )  # fmt: skip
        marks.append(Mark(line, trace.sources[:1]))
        if stacked:
            base += float(np.ptp(inked.y)) * 1.15
    return Marks(tuple(reversed(marks)))


def _name_beside(axes: Axes, traces: Sequence[Trace], look: Look) -> None:
    """Write the name of each shifted spectrum at the left of its baseline."""
    lines = axes.get_lines()[: len(traces)]
    axes.set_yticks([float(line.get_ydata()[-1]) for line in lines])  # type: ignore[index, arg-type]
    axes.set_yticklabels([textwrap.fill(trace.label, _WRAPPED) for trace in reversed(traces)])
    axes.tick_params(axis="y", length=0)
    for words, trace in zip(axes.get_yticklabels(), reversed(traces), strict=True):
        words.set(color=look.condition(trace.condition).colour, fontsize=look.note_pt)


_WRAPPED = 18


def _difference(axes: Axes, difference: Spectrum, traces: Sequence[Trace], look: Look) -> None:
    """Draw what is left, broken where regions were left out, no larger than a twentieth at zero."""
    axes.axhline(0, color=look.scheme.muted, linewidth=0.6)
    steps = np.diff(difference.x)
    gaps = np.flatnonzero(steps > 3 * np.median(steps)) + 1
    x = np.insert(difference.x, gaps, np.nan)
    y = np.insert(difference.y - np.median(difference.y), gaps, np.nan)
    axes.plot(x, y, color=look.scheme.ink, linewidth=0.8)
    span = max(float(np.ptp(trace.spectrum.absorbance().y)) for trace in traces)
    reach = max(float(np.nanmax(np.abs(y))) * 1.1, 0.05 * span)
    axes.set_ylim(-reach, reach)
    axes.set_ylabel("difference")


def _peaks(axes: Axes, peaks: Sequence[Peak], look: Look) -> None:
    """Mark bands; where two stand too close for two numbers, the more prominent one has its own."""
    if not peaks:
        return
    low, top = axes.get_ylim()
    top += 0.2 * (top - low)
    axes.set_ylim(low, top)
    apart = _LEAST_APART * abs(np.ptp(axes.dataLim.intervalx))
    numbered: list[float] = []
    for peak in sorted(peaks, key=lambda one: -one.prominence):
        axes.axvline(peak.position, color=look.scheme.muted, linewidth=0.5, linestyle=(0, (2, 3)))
        if any(abs(peak.position - other) < apart for other in numbered):
            continue
        numbered.append(peak.position)
        axes.text(
            peak.position, top, f"{peak.position:.0f}", rotation=90, ha="center", va="top",
            bbox={"facecolor": look.scheme.paper, "edgecolor": "none", "pad": 0.8},
            **look.words(muted=True, note=True),
        )  # fmt: skip


def _reverse(axes: Axes, traces: Sequence[Trace]) -> None:
    low = min(float(trace.spectrum.x[0]) for trace in traces)
    high = max(float(trace.spectrum.x[-1]) for trace in traces)
    axes.set_xlim(high, low)
