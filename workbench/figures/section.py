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
from workbench.trade.showing import THICKNESS

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
    axes = figure.add_axes((0, 0, 1, 1), anchor="W")
    image = axes.imshow(picture, cmap="gray" if picture.ndim == 2 else None)
    axes.set_axis_off()
    for seam in seams:
        x, y = zip(*seam, strict=True)
        axes.plot(x, y, color="white", linewidth=2.4)
        axes.plot(x, y, color=look.scheme.accent, linewidth=1.2, marker="+", markersize=5)
    _name_layers(axes, picture.shape, seams, section, names, look)
    _bar(axes, picture.shape[1], picture.shape[0], scale, look)
    return Marks((Mark(image, (source,) if source else ()),))


def _name_layers(
    axes: Axes,
    shape: tuple[int, ...],
    seams: Sequence[Sequence[Point]],
    section: Section,
    names: Sequence[str],
    look: Look,
) -> None:
    """Name each layer beside the profiles; names keep apart and point at theirs with a line."""
    middles = [np.mean([*seams[n], *seams[n + 1]], axis=0) for n in range(len(section.layers))]
    edge = max(float(x) for seam in seams for x, _ in seam)
    beside = min(edge + 0.06 * shape[1], 0.7 * shape[1])
    heights = _apart([float(middle[1]) for middle in middles], 0.055 * shape[0])
    for n, (layer, middle, y) in enumerate(zip(section.layers, middles, heights, strict=True)):
        name = f"{names[n]}: " if n < len(names) else ""
        least, mean, greatest = (
            look.showing.value(THICKNESS, um)
            for um in (layer.least_um, layer.mean_um, layer.greatest_um)
        )
        spread = f" ({least} to {greatest})" if layer.spread_um else ""
        axes.annotate(
            f"{name}{mean}{spread}", (edge, float(middle[1])), xytext=(beside, y),
            ha="left", va="center", annotation_clip=False,
            arrowprops={"arrowstyle": "-", "color": look.scheme.accent, "linewidth": 1.0},
            bbox={"facecolor": look.scheme.paper, "edgecolor": "none", "pad": 2},
            **look.words(),
        )  # fmt: skip


def _apart(wanted: Sequence[float], least: float) -> list[float]:
    """Return places near those wanted, in their order, at least `least` apart."""
    order = sorted(range(len(wanted)), key=lambda n: wanted[n])
    placed = [0.0] * len(wanted)
    last = -np.inf
    for n in order:
        last = max(wanted[n], last + least)
        placed[n] = float(last)
    return placed


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
