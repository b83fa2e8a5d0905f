"""Where one pull-off broke: the stack with its planes to choose, and the face of the fixture."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle, Wedge

from workbench.figures.look import Look
from workbench.records import Breaks, Coat, Dossier, Plane

_HATCHES = ("", "////", "....", "\\\\\\\\", "xxxx", "----", "++++", "oo")


@dataclass(frozen=True, slots=True)
class PlaneMark:
    """One plane of the sketch, and the artist that stands for it."""

    artist: Artist
    plane: Plane


def planes_of(coats: Sequence[Coat], on: int | None = None) -> tuple[Plane, ...]:
    """Return every plane that a break can lie in, from the substrate to the fixture.

    Args:
        coats: The layers of the system.
        on: The coat that the fixture stands on; the last where not given.
    """
    last = max((coat.order for coat in coats), default=1)
    top = last if on is None else on
    layers = [Plane.within(order) for order in range(top + 1)]
    between = [Plane.above(order) for order in range(top)]
    glue = [Plane("-/Y"), Plane("Y"), Plane("Y/Z")]
    return tuple(sorted([*layers, *between, *glue], key=lambda plane: plane.height))


def draw_break(
    figure: Figure,
    dossier: Dossier,
    coats: Sequence[Coat],
    breaks: Breaks | None = None,
    *,
    on: int | None = None,
    look: Look | None = None,
    chosen: Plane | None = None,
) -> tuple[PlaneMark, ...]:
    """Draw the stack under a fixture with the share of each plane, and the fixture's face.

    A row stands for a plane: a band for a layer, a line for an interface. The face is divided as
    the break was; what is still missing to 100 % is blank.

    Args:
        figure: A figure of any size; it is emptied.
        dossier: The case, for the names of the planes.
        coats: The layers of the system.
        breaks: The shares so far.
        on: The coat that the fixture stands on; the last where not given.
        look: How it is drawn.
        chosen: The plane that is being entered; it is framed.

    Returns:
        The artist that stands for each plane, for picking.
    """
    look = look or Look()
    look.begin(figure)
    planes = planes_of(coats, on)
    shares = {plane: breaks.of(plane) for plane in planes} if breaks else {}
    stack = figure.add_axes((0.02, 0.04, 0.6, 0.9))
    marks = tuple(_rows(stack, planes, shares, dossier, coats, look, chosen))
    face = figure.add_axes((0.64, 0.16, 0.34, 0.66))
    _face(face, planes, shares, look)
    return marks


def _rows(
    axes: Axes,
    planes: Sequence[Plane],
    shares: dict[Plane, float],
    dossier: Dossier,
    coats: Sequence[Coat],
    look: Look,
    chosen: Plane | None,
) -> Iterable[PlaneMark]:
    axes.set_axis_off()
    axes.set_xlim(0, 1)
    axes.set_ylim(0, len(planes))
    hatches = hatches_of(planes, shares)
    for at, plane in enumerate(planes):
        layer = "/" not in plane.code
        row = Rectangle(
            (0, at), 1, 1, picker=True, linewidth=1.8 if plane == chosen else 0,
            facecolor=look.scheme.faint if plane == chosen else look.scheme.paper,
            edgecolor=look.scheme.accent, zorder=1,
        )  # fmt: skip
        axes.add_patch(row)
        axes.add_patch(
            Rectangle(
                (0.02, at + (0.08 if layer else 0.38)), 0.13, 0.84 if layer else 0.24,
                facecolor=_tone(plane, look), edgecolor=look.scheme.ink, linewidth=0.7,
                hatch=hatches.get(plane, ""), zorder=2,
            )
        )  # fmt: skip
        bold = "bold" if shares.get(plane) else "normal"
        name = dossier.plane_name(plane, coats)
        axes.text(0.18, at + 0.5, name, va="center", weight=bold, zorder=3, **look.words(note=True))
        if shares.get(plane):
            axes.text(
                0.98, at + 0.5, f"{shares[plane]:g} %", va="center", ha="right", weight="bold",
                zorder=3, **look.words(),
            )  # fmt: skip
        yield PlaneMark(row, plane)


def hatches_of(planes: Sequence[Plane], shares: dict[Plane, float]) -> dict[Plane, str]:
    """Return the hatch of each plane that broke, so that no two look alike."""
    broke = [plane for plane in planes if shares.get(plane)]
    return {plane: _HATCHES[at % len(_HATCHES)] for at, plane in enumerate(broke)}


def _tone(plane: Plane, look: Look) -> tuple[str, float]:
    """Return the tint of a row: stronger where layers are, faint in the glue."""
    if plane.in_glue:
        return look.scheme.muted, 0.12
    return look.scheme.accent, 0.12 + 0.1 * ((plane.upper or 0) % 3)


def _face(axes: Axes, planes: Sequence[Plane], shares: dict[Plane, float], look: Look) -> None:
    axes.set_axis_off()
    axes.set_aspect("equal")
    axes.set_xlim(-1.25, 1.25)
    axes.set_ylim(-1.3, 1.3)
    axes.add_patch(
        Wedge((0, 0), 1, 0, 360, facecolor="none", edgecolor=look.scheme.ink, linewidth=1)
    )
    hatches = hatches_of(planes, shares)
    turn = 90.0
    for plane in planes:
        share = shares.get(plane, 0.0)
        if not share:
            continue
        start = turn - 3.6 * share
        axes.add_patch(
            Wedge(
                (0, 0), 1, start, turn, facecolor=_tone(plane, look), hatch=hatches[plane],
                edgecolor=look.scheme.ink, linewidth=0.7,
            )
        )  # fmt: skip
        _letter(axes, plane, (start + turn) / 2, share, look)
        turn = start
    total = sum(shares.values())
    axes.text(0, -1.12, f"{total:g} of 100 %", ha="center", va="top", **look.words())


def _letter(axes: Axes, plane: Plane, degrees: float, share: float, look: Look) -> None:
    radius = 0.62 if share >= 12 else 1.13
    x, y = radius * math.cos(math.radians(degrees)), radius * math.sin(math.radians(degrees))
    axes.text(
        x, y, plane.code, ha="center", va="center", **look.words(note=True),
        bbox={"facecolor": look.scheme.paper, "edgecolor": "none", "pad": 0.8, "alpha": 0.8},
    )  # fmt: skip
