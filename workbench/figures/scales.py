"""What the ratings of a scale look like: our own sketches, beside the grid they are entered in."""

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from textwrap import fill

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Circle, Polygon, Rectangle

from workbench.figures.look import Look
from workbench.trade.methods import Scale, method

_HALF = 12.5
"""Half the width of a sketch, in mm of the surface shown."""
_RUST_DOTS = 220


@dataclass(frozen=True, slots=True)
class RatingMark:
    """One rating of a drawn scale, and the artist that stands for it."""

    artist: Artist
    rating: float


def draw_scale(
    figure: Figure, code: str, *, look: Look | None = None, chosen: float | None = None
) -> tuple[RatingMark, ...]:
    """Draw the ratings of a method from the best to the worst, with what each means.

    Methods that rate what can be drawn (knife, tape, rust) have a sketch for each rating; the
    others have the words alone. The sketches show the share or the size that the words say; no
    standard's picture is shown, and none is replaced.

    Args:
        figure: A figure of any size; it is emptied.
        code: What the `method` column says.
        look: How it is drawn.
        chosen: The rating that is chosen; it is framed.

    Returns:
        The artist that stands for each rating, for picking; none for a method without a scale.
    """
    look = look or Look()
    look.begin(figure)
    found = method(code)
    if found is None or found.scale is None:
        figure.text(0.5, 0.5, f"{code} has no scale", ha="center", **look.words())
        return ()
    scale = found.scale
    steps = sorted(scale.steps, key=lambda step: -scale.goodness(step[0]))
    sketch = _SKETCHES.get(found.number)
    figure.text(
        0.02, 0.985, f"{found.number}: {scale.direction}", va="top", weight="bold", **look.words()
    )
    marks = []
    height = 0.93 / len(steps)
    for at, (rating, words) in enumerate(steps):
        box = (0.02, 0.94 - (at + 1) * height, 0.96, height * 0.94)
        frame = _frame(figure, box, look, chosen=rating == chosen)
        marks.append(RatingMark(frame, rating))
        _row(figure, box, (f"{rating:g}{scale.suffix}", words), rating, sketch, scale, look)
    return tuple(marks)


Sketch = Callable[[Axes, float, Look], None]


def _frame(
    figure: Figure, box: tuple[float, float, float, float], look: Look, *, chosen: bool
) -> Rectangle:
    left, bottom, width, height = box
    frame = Rectangle(
        (left, bottom), width, height, transform=figure.transFigure, picker=True,
        facecolor=look.scheme.faint if chosen else look.scheme.paper,
        edgecolor=look.scheme.accent if chosen else look.scheme.faint,
        linewidth=1.8 if chosen else 0.6, zorder=-1,
    )  # fmt: skip
    figure.add_artist(frame)
    return frame


def _row(
    figure: Figure,
    box: tuple[float, float, float, float],
    said: tuple[str, str],
    rating: float,
    sketch: Sketch | None,
    scale: Scale,
    look: Look,
) -> None:
    left, bottom, _, height = box
    inches_wide, inches_high = figure.get_size_inches()
    side = 0.0
    if sketch:
        side = min(0.3, 0.86 * height * inches_high / inches_wide)
        axes = figure.add_axes((left + 0.01, bottom + 0.07 * height, side, 0.86 * height))
        axes.set_xlim(-_HALF, _HALF)
        axes.set_ylim(-_HALF, _HALF)
        axes.set_aspect("equal")
        axes.set_xticks([])
        axes.set_yticks([])
        axes.set_facecolor(_FILM)
        for spine in axes.spines.values():
            spine.set(color=look.scheme.muted, linewidth=0.6)
        sketch(axes, scale.goodness(rating), look)
    number, words = said
    x = left + side + 0.03
    figure.text(
        x, bottom + height / 2, number, va="center", color=look.scheme.ink,
        fontsize=look.title_pt + 2, weight="bold",
    )  # fmt: skip
    room = (0.97 - x - 0.1) * inches_wide * 72 / (0.53 * look.note_pt)
    figure.text(
        x + 0.1, bottom + height / 2, fill(words, max(12, int(room))), va="center",
        **look.words(note=True),
    )  # fmt: skip


_FILM, _BARE = "#C9D3D6", "#8A6E52"
"""Film and what lies below it: the same on a light and a dark surface."""


def _bare(axes: Axes, points: Iterable[tuple[float, float]], look: Look) -> None:
    """Draw a place where the film is off."""
    axes.add_patch(
        Polygon(
            list(points), closed=True, facecolor=_BARE, edgecolor=look.scheme.ink, linewidth=0.4
        )
    )


def _cut(axes: Axes, points: tuple[tuple[float, float], tuple[float, float]]) -> None:
    (x0, y0), (x1, y1) = points
    axes.plot([x0, x1], [y0, y1], color="#22262B", linewidth=0.8, zorder=4)


def _lattice(axes: Axes, goodness: float, look: Look) -> None:
    """A lattice of six cuts, drawn large, with as much off as the rating says."""
    share = {1.0: 0.0, 0.8: 0.03, 0.6: 0.10, 0.4: 0.25, 0.2: 0.50, 0.0: 0.80}[round(goodness, 1)]
    edges = np.linspace(-10, 10, 6)
    squares = [(x, y) for x in edges[:-1] for y in edges[:-1]]
    order = np.random.default_rng(2409).permutation(len(squares))
    whole = int(share * 25) if share >= 0.25 else 0
    for at in order[:whole]:
        x, y = squares[at]
        _bare(axes, [(x, y), (x + 4, y), (x + 4, y + 4), (x, y + 4)], look)
    if 0 < share < 0.25:
        reach, number = (1.2, 5) if share < 0.05 else (1.6, 8)
        for at in order[:number]:
            x, y = squares[at]
            _bare(axes, [(x - reach, y), (x, y + reach), (x + reach, y), (x, y - reach)], look)
    for edge in edges:
        _cut(axes, ((edge, -11.5), (edge, 11.5)))
        _cut(axes, ((-11.5, edge), (11.5, edge)))


def _legs() -> tuple[tuple[float, float], ...]:
    """Return the four directions of an X of 40 degrees."""
    half = math.radians(20)
    return tuple((sx * math.sin(half), sy * math.cos(half)) for sx in (1, -1) for sy in (1, -1))


def _draw_x(axes: Axes) -> None:
    for x, y in _legs():
        _cut(axes, ((0, 0), (12 * x, 12 * y)))


def _x_cut(axes: Axes, goodness: float, look: Look) -> None:
    """An X-cut under tape, with the film off along its legs as far as the rating says."""
    width, along = {
        1.0: (0.0, 0.0), 0.8: (0.5, 2.0), 0.6: (1.6, 6.5), 0.4: (3.2, 9.5), 0.2: (0.0, 0.0),
        0.0: (0.0, 0.0),
    }[round(goodness, 1)]  # fmt: skip
    if round(goodness, 1) == 0.2:
        _bare(axes, [(4.2, 11), (-4.2, 11), (-2.2, 0), (-4.2, -11), (4.2, -11), (2.2, 0)], look)
    elif round(goodness, 1) == 0.0:
        _bare(axes, [(9, 12), (-8, 11.5), (-11, 2), (-9, -12), (8, -11.5), (11.5, 1)], look)
    elif width:
        _ragged(axes, width, along, look)
    _draw_x(axes)


def _ragged(axes: Axes, width: float, along: float, look: Look) -> None:
    """Draw film off along each leg, ragged, up to `width` mm to either side."""
    draw = np.random.default_rng(3359)
    for x, y in _legs():
        steps = np.linspace(0, along, 7)
        reach = width * draw.uniform(0.35, 1.0, (2, 7))
        left = [(s * x - r * y, s * y + r * x) for s, r in zip(steps, reach[0], strict=True)]
        right = [(s * x + r * y, s * y - r * x) for s, r in zip(steps, reach[1], strict=True)]
        _bare(axes, [*left, *reversed(right)], look)


def _knife(axes: Axes, goodness: float, look: Look) -> None:
    """An X-cut lifted with a knife, with chips of the size that the rating says."""
    reach = {1.0: 0.4, 0.8: 2.4, 0.6: 4.8, 0.4: 7.0, 0.2: 9.0, 0.0: 11.5}[round(goodness, 1)]
    draw = np.random.default_rng(6677)
    if goodness == 1:
        for x, y in draw.uniform(-1.5, 1.5, (5, 2)):
            axes.add_patch(Circle((x, y), reach, facecolor=_BARE, linewidth=0))
    else:
        turn = np.linspace(0, 2 * math.pi, 9)[:-1]
        out = reach / 2 * draw.uniform(0.75, 1.15, 8) if reach < 7 else reach * 0.75 * np.ones(8)
        chip = [(r * math.cos(t), r * math.sin(t)) for r, t in zip(out, turn, strict=True)]
        _bare(axes, chip, look)
    if goodness <= 0.2:
        flap = [(2, -2), (11.8, 3), (11.8, 10.5), (4, 7)]
        axes.add_patch(
            Polygon(flap, facecolor="#E4EAEC", edgecolor=look.scheme.ink, linewidth=0.7, zorder=5)
        )
    _draw_x(axes)
    axes.plot([-11, -6], [-11.2, -11.2], color="#22262B", linewidth=1.6, zorder=6)
    axes.text(-11.2, -10.6, "5 mm", ha="left", va="bottom", fontsize=5, color="#22262B", zorder=6)


def _rust(shares: dict[float, float]) -> Sketch:
    """Return the sketch of rust spots that cover as much as each goodness stands for."""

    def sketch(axes: Axes, goodness: float, _: Look) -> None:
        share = shares[round(goodness, 2)] / 100
        draw = np.random.default_rng(610)
        area, wanted = 0.0, share * (2 * _HALF) ** 2
        size = max(0.18, min(2.2, math.sqrt(wanted / _RUST_DOTS * 4 / math.pi)))
        while area < wanted:
            x, y = draw.uniform(-_HALF, _HALF, 2)
            radius = min(size * draw.uniform(0.5, 1.5), math.sqrt((wanted - area) / math.pi) + 0.05)
            axes.add_patch(Circle((x, y), radius, facecolor=_BARE, linewidth=0))
            area += math.pi * radius**2
        axes.set_clip_on(True)

    return sketch


_D610 = {1.0: 0.01, 0.9: 0.03, 0.8: 0.1, 0.7: 0.3, 0.6: 1, 0.5: 3, 0.4: 10, 0.3: 16, 0.2: 33,
         0.1: 50, 0.0: 70}  # fmt: skip
_RI = {1.0: 0, 0.8: 0.05, 0.6: 0.5, 0.4: 1, 0.2: 8, 0.0: 45}
_SKETCHES: dict[str, Sketch] = {
    "ASTM D3359 B": _lattice,
    "ISO 2409": _lattice,
    "ISO 16276-2": _lattice,
    "ASTM D3359 A": _x_cut,
    "ASTM D6677": _knife,
    "ASTM D610": _rust(_D610),
    "ISO 4628-3": _rust(_RI),
}
