"""What was looked for under a microscope, beside the picture of it."""

import textwrap
from collections.abc import Sequence

import numpy as np
from matplotlib.figure import Figure
from numpy.typing import NDArray

from workbench.figures.look import Look
from workbench.figures.marks import Mark, Marks
from workbench.records import Source


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
    wide = figure.get_figwidth() >= figure.get_figheight()
    if wide:
        left, right = figure.subplots(1, 2, width_ratios=(3, 2))
    else:
        left, right = figure.subplots(2, 1, height_ratios=(3, 2))
    share = 0.38 if wide else 0.95
    signs = max(16, int(figure.get_figwidth() * 72 * share / (0.56 * look.text_pt)))
    image = left.imshow(picture)
    left.set_axis_off()
    right.set_axis_off()
    left.set_anchor("NW")
    look.title(left, textwrap.fill(title, max(24, signs)))
    marks = [Mark(image, tuple(source for _, _, source in observations))]
    height = figure.get_figheight() * (1.0 if wide else 0.4)
    step = 1.35 * look.text_pt / 72 / max(height, 0.5)
    y = 0.98
    for looked_for, found, source in observations:
        named = right.text(0.0, y, looked_for, va="top", transform=right.transAxes,
                           **look.words(muted=True, note=True))  # fmt: skip
        named.set_in_layout(False)
        lines = textwrap.wrap(found, signs) or [""]
        words = right.text(
            0.0, y - step, "\n".join(lines[:3]), va="top", transform=right.transAxes,
            picker=True, **look.words(),
        )  # fmt: skip
        words.set_in_layout(False)
        marks.append(Mark(words, (source,)))
        y -= step * (1.4 + 0.9 * min(3, len(lines)))
    return Marks(tuple(marks))
