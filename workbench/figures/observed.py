"""What was looked for under a microscope, beside the picture of it."""

import textwrap
from collections.abc import Sequence

import numpy as np
from matplotlib.figure import Figure
from numpy.typing import NDArray

from workbench.figures.look import Look
from workbench.figures.marks import Mark, Marks
from workbench.records import Source

_LINE = 0.062
"""Height of a line of words as a share of the figure."""


def draw_observed(
    figure: Figure,
    picture: NDArray[np.uint8],
    observations: Sequence[tuple[str, str, Source]],
    *,
    title: str = "",
    look: Look | None = None,
) -> Marks:
    """Draw a picture with what was looked for and found in it at its right.

    Args:
        figure: A bare figure.
        picture: The picture, shape (rows, columns, 3).
        observations: For each thing looked for, what it is, what was found, and its record.
        title: Sample, preparation and light.
        look: How it is drawn.

    Returns:
        One mark for each observation, and one for the picture.
    """
    look = look or Look()
    look.begin(figure)
    left, right = figure.subplots(1, 2, width_ratios=(3, 2))
    image = left.imshow(picture)
    left.set_axis_off()
    right.set_axis_off()
    look.title(left, textwrap.fill(title, 58))
    marks = [Mark(image, tuple(source for _, _, source in observations))]
    step = min(_LINE * 8 / look.text_pt * 1.2, 0.95 / max(1, 2 * len(observations)))
    y = 0.98
    for looked_for, found, source in observations:
        right.text(0.0, y, looked_for, va="top", transform=right.transAxes,
                   **look.words(muted=True, note=True))  # fmt: skip
        lines = textwrap.wrap(found, 34) or [""]
        words = right.text(
            0.0, y - step * 0.8, "\n".join(lines[:3]), va="top", transform=right.transAxes,
            picker=True, **look.words(),
        )  # fmt: skip
        marks.append(Mark(words, (source,)))
        y -= step * (1.2 + 0.85 * min(3, len(lines)))
    return Marks(tuple(marks))
