"""Photographs with their marks: the picture as it is, the marks drawn over it anew."""

import io
import math
from collections.abc import Sequence

from matplotlib.axes import Axes
from matplotlib.figure import Figure as Drawing
from matplotlib.patches import Circle
from matplotlib.patheffects import AbstractPathEffect, withStroke
from PIL import Image

from workbench.records import MarkShape, PhotoMark
from workbench.report.pictures import Prepared

_INK, _RIM = "#B5432A", "#FFFFFF"
_DPI = 300
_LINE_PT = 1.6


def with_marks(photo: Prepared, marks: Sequence[PhotoMark], width_mm: float = 160.0) -> Prepared:
    """Return a photograph with its marks drawn over it, 300 dots to the inch.

    A dimension is the length of its line by the scale of the same photograph; without a scale it
    has no length.
    """
    if not marks:
        return photo
    with Image.open(io.BytesIO(photo.blob)) as opened:
        pixels = opened.convert("RGB")
    width, height = pixels.size
    drawing = Drawing(figsize=(width_mm / 25.4, width_mm / 25.4 * height / width))
    axes = drawing.add_axes((0, 0, 1, 1))
    axes.imshow(pixels, extent=(0, width, height, 0), interpolation="lanczos")
    axes.set_xlim(0, width)
    axes.set_ylim(height, 0)
    axes.set_axis_off()
    per_pixel = _scale(marks, pixels.size)
    for mark in marks:
        _draw(axes, mark, pixels.size, per_pixel)
    out = io.BytesIO()
    drawing.savefig(out, format="png", dpi=_DPI, metadata={"Software": None})
    size = (int(width_mm / 25.4 * _DPI), int(width_mm / 25.4 * height / width * _DPI))
    told = f"{len(marks)} marks drawn over it" if len(marks) > 1 else "one mark drawn over it"
    return Prepared(out.getvalue(), "png", size, (*photo.done, told))


def _points(mark: PhotoMark, size: tuple[int, int]) -> list[tuple[float, float]]:
    return [(x * size[0], y * size[1]) for x, y in mark.points.points]


def _scale(marks: Sequence[PhotoMark], size: tuple[int, int]) -> tuple[float, str] | None:
    """Return what one pixel stands for, and in which unit."""
    for mark in marks:
        if mark.shape is MarkShape.SCALE and mark.length:
            one, other = _points(mark, size)
            if (length := math.dist(one, other)) > 0:
                return mark.length.value / length, mark.length.unit
    return None


def _draw(
    axes: Axes, mark: PhotoMark, size: tuple[int, int], per_pixel: tuple[float, str] | None
) -> None:
    points = _points(mark, size)
    rim: list[AbstractPathEffect] = [withStroke(linewidth=_LINE_PT * 2.2, foreground=_RIM)]
    words = mark.words
    if mark.shape is MarkShape.RING:
        middle, edge = points
        ring = Circle(middle, math.dist(middle, edge), fill=False, ec=_INK, lw=_LINE_PT)
        ring.set_path_effects(rim)
        axes.add_patch(ring)
    elif mark.shape is not MarkShape.WORDS:
        style = "-|>" if mark.shape is MarkShape.ARROW else "|-|,widthA=0.3,widthB=0.3"
        line = axes.annotate(
            "", points[1], points[0],
            arrowprops={"arrowstyle": style, "color": _INK, "lw": _LINE_PT, "shrinkA": 0,
                        "shrinkB": 0, "path_effects": rim},
        )  # fmt: skip
        line.set_annotation_clip(False)
        words = _measured(mark, points, per_pixel) or words
    if words:
        text = axes.text(*points[0], f" {words}", color=_INK, fontsize=9, weight="bold")
        text.set_path_effects([withStroke(linewidth=2.5, foreground=_RIM)])


def _measured(
    mark: PhotoMark, points: Sequence[tuple[float, float]], per_pixel: tuple[float, str] | None
) -> str:
    if mark.shape is MarkShape.SCALE and mark.length:
        return f"{mark.length} {mark.words}".strip()
    if mark.shape is not MarkShape.DIMENSION:
        return ""
    if per_pixel is None:
        return f"{mark.words} (no scale)".strip()
    value = math.dist(points[0], points[1]) * per_pixel[0]
    return f"{mark.words} ≈ {value:.2g} {per_pixel[1]}".strip()
