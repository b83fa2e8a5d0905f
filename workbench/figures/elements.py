"""Elements by face: failing beside sound beside control, what was not detected in words."""

import textwrap
from collections.abc import Mapping, Sequence

import numpy as np
from matplotlib.figure import Figure

from workbench.figures.look import Look
from workbench.figures.marks import Mark, Marks
from workbench.records import Source
from workbench.records.codes import Condition

_TENTHS = 9.95
"""Shares below this have one decimal place, others none."""
_UPRIGHT = 3
"""Up to how many faces there is room for numbers across."""


def draw_elements(
    figure: Figure,
    faces: Sequence[tuple[str, Condition, Mapping[str, float], Source | None]],
    *,
    detection_limit: float = 0.1,
    look: Look | None = None,
) -> Marks:
    """Draw mass shares of elements, one group of bars an element, on a logarithmic scale.

    Args:
        figure: A bare figure.
        faces: For each face its label, condition, shares in percent, and where they come from.
        detection_limit: Least share shown, in percent; below it stands "n.d.".
        look: How it is drawn.
    """
    look = look or Look()
    look.begin(figure)
    axes = figure.add_subplot()
    look.dress(axes, grid="y")
    names = list(dict.fromkeys(name for _, _, shares, _ in faces for name in shares))
    width = 0.8 / max(1, len(faces))
    marks = []
    for n, (label, condition, shares, source) in enumerate(faces):
        style = look.condition(condition)
        at = np.arange(len(names)) - 0.4 + (n + 0.5) * width
        heights = [shares.get(name, 0.0) for name in names]
        shown = [max(height, detection_limit / 2) for height in heights]
        bars = axes.bar(
            at, shown, width * 0.92, facecolor=look.scheme.paper, edgecolor=style.colour,
            hatch=style.hatch, linewidth=0.9, label=textwrap.fill(label, 40),
        )  # fmt: skip
        for x, height in zip(at, heights, strict=True):
            digits = 1 if height < _TENTHS else 0
            text = f"{height:.{digits}f}" if height >= detection_limit else "n.d."
            axes.text(
                x, max(height, detection_limit / 2) * 1.08, text, ha="center", va="bottom",
                rotation=90 if len(faces) > _UPRIGHT else 0, **look.words(note=True),
            )  # fmt: skip
        marks += [Mark(bar, (source,) if source else ()) for bar in bars]
    look.logarithmic(axes)
    axes.set_ylim(detection_limit / 2, 200)
    axes.set_xticks(range(len(names)), names)
    axes.set_ylabel("share by mass, %, logarithmic")
    look.title(axes, "Elements by face")
    axes.legend(
        loc="upper center", bbox_to_anchor=(0.5, -0.09), frameon=False, fontsize=look.note_pt,
        labelcolor=look.scheme.ink, ncols=min(2, len(faces)),
    )  # fmt: skip
    return Marks(tuple(marks))
