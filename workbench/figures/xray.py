"""Spectra of X-rays above each other, peaks labelled with the elements listed and no others."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from workbench.analysis.spectra.spectrum import Spectrum
from workbench.analysis.xray import XrayPeak
from workbench.figures.look import Look
from workbench.figures.marks import Mark, Marks
from workbench.records import Source
from workbench.records.codes import Condition

_ROOM = 4.0
"""How many times the highest count there is room for above it, on a logarithmic scale."""


@dataclass(frozen=True, slots=True, eq=False)
class XrayTrace:
    """One spectrum of an overlay.

    Attributes:
        spectrum: Counts over energy in keV.
        label: Sample and face.
        condition: Decides colour and dash.
        sources: The records it comes from.
    """

    spectrum: Spectrum
    label: str
    condition: Condition = Condition.UNKNOWN
    sources: tuple[Source, ...] = ()


def draw_xrays(
    figure: Figure,
    traces: Sequence[XrayTrace],
    *,
    peaks: Sequence[XrayPeak] = (),
    warnings: Sequence[str] = (),
    look: Look | None = None,
) -> Marks:
    """Draw spectra of X-rays on one logarithmic scale, with labels and what they may hide.

    Args:
        figure: A bare figure.
        traces: The spectra.
        peaks: Peaks to label; one that is no line of a listed element bears a question mark.
        warnings: Overlaps, written under the spectra.
        look: How it is drawn.

    Returns:
        One mark a trace.
    """
    look = look or Look()
    look.begin(figure)
    axes = figure.add_subplot()
    look.dress(axes, grid="x")
    marks, highest = [], 1.0
    for trace in traces:
        style = look.condition(trace.condition)
        x, y = trace.spectrum.x, trace.spectrum.y
        (line,) = axes.plot(
            x, np.clip(y, 0.5, None), color=style.colour, linestyle=style.dash, linewidth=0.8,
            label=trace.label, picker=4,
        )  # fmt: skip
        marks.append(Mark(line, trace.sources[:1]))
        highest = max(highest, float(np.max(y)))
    look.logarithmic(axes)
    axes.set_ylim(0.8, highest * _ROOM * 4)
    reach = [_last_peak(trace.spectrum) for trace in traces]
    axes.set_xlim(0, max(reach, default=10.0))
    _label(axes, peaks, look)
    axes.set_xlabel("energy, keV")
    axes.set_ylabel("counts, logarithmic")
    look.title(axes, "X-ray spectra, labelled with the elements reported")
    axes.legend(loc="upper right", frameon=False, fontsize=look.note_pt,
                labelcolor=look.scheme.ink)  # fmt: skip
    if warnings:
        axes.text(
            0.0, -0.2, "\n".join(warnings[:4]), transform=axes.transAxes, va="top", wrap=True,
            **look.words(note=True),
        )  # fmt: skip
    return Marks(tuple(marks))


def _last_peak(spectrum: Spectrum) -> float:
    """Return up to where a spectrum has anything to show, at least 6 keV."""
    there = spectrum.x[spectrum.y > max(2.0, 0.01 * float(np.max(spectrum.y)))]
    return min(float(spectrum.x[-1]), max(6.0, float(there[-1]) * 1.1 if len(there) else 6.0))


def _label(axes: Axes, peaks: Sequence[XrayPeak], look: Look) -> None:
    low, high = axes.get_xlim()
    taken: list[float] = []
    for peak in sorted(peaks, key=lambda one: -one.prominence):
        if not low < peak.kev < high:
            continue
        if any(abs(peak.kev - other) < 0.025 * (high - low) for other in taken):
            continue
        taken.append(peak.kev)
        axes.annotate(
            peak.label, (peak.kev, max(peak.counts, 1.0)), xytext=(0, 5),
            textcoords="offset points", rotation=90, ha="center", va="bottom",
            **look.words(muted=not peak.lines, note=True),
        )  # fmt: skip
