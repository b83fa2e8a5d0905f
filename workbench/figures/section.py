"""A micrograph of a section, its layers marked on the profiles, with a scale bar."""

from collections.abc import Sequence

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from numpy.typing import NDArray

from workbench.analysis.sections import Scale, Section
from workbench.figures.look import Look
from workbench.figures.marks import Mark, Marks
from workbench.records import Source

Point = tuple[float, float]
_BARS_UM = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000)


def draw_section(
    figure: Figure,
    picture: NDArray[np.uint8],
    seams: Sequence[Sequence[Point]],
    section: Section,
    scale: Scale,
    *,
    names: Sequence[str] = (),
    source: Source | None = None,
    look: Look | None = None,
) -> Marks:
    """Draw a section with its seams and the thickness of each layer beside it.

    Args:
        figure: A bare figure.
        picture: The micrograph, shape (rows, columns) or (rows, columns, 3).
        seams: For each seam its points (x, y) in pixels, one a profile, in order.
        section: What was measured.
        scale: Micrometres in a pixel.
        names: Names of the layers, from the first seam on.
        source: The record of the result.
        look: How it is drawn.
    """
    look = look or Look()
    look.begin(figure)
    axes = figure.add_subplot()
    image = axes.imshow(picture, cmap="gray" if picture.ndim == 2 else None)
    axes.set_axis_off()
    for seam in seams:
        x, y = zip(*seam, strict=True)
        axes.plot(x, y, color="white", linewidth=2.4)
        axes.plot(x, y, color=look.scheme.accent, linewidth=1.2, marker="+", markersize=5)
    for n, layer in enumerate(section.layers):
        middle_x, middle_y = np.mean([*seams[n], *seams[n + 1]], axis=0).tolist()
        name = f"{names[n]}: " if n < len(names) else ""
        spread = f" ({layer.least_um:.0f} to {layer.greatest_um:.0f})" if layer.spread_um else ""
        axes.text(
            middle_x, middle_y, f"{name}{layer.mean_um:.0f} µm{spread}", ha="center", va="center",
            bbox={"facecolor": look.scheme.paper, "edgecolor": "none", "pad": 2},
            **look.words(),
        )  # fmt: skip
    _bar(axes, picture.shape[1], picture.shape[0], scale, look)
    return Marks((Mark(image, (source,) if source else ()),))


def _bar(axes: Axes, columns: int, rows: int, scale: Scale, look: Look) -> None:
    wanted = columns * scale.um_per_px / 5
    length = max((um for um in _BARS_UM if um <= wanted), default=_BARS_UM[0])
    px = length / scale.um_per_px
    right, y = columns * 0.96, rows * 0.95
    axes.plot([right - px, right], [y, y], color="white", linewidth=4, solid_capstyle="butt")
    axes.plot([right - px, right], [y, y], color=look.scheme.ink, linewidth=2)
    axes.text(
        right - px / 2, y - rows * 0.015, f"{length} µm", ha="center", va="bottom",
        bbox={"facecolor": look.scheme.paper, "edgecolor": "none", "pad": 1},
        **look.words(note=True),
    )  # fmt: skip
