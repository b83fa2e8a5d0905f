"""The site plan beneath a figure: the drawing, the areas and a scale bar."""

from collections.abc import Callable, Iterable
from functools import lru_cache
from pathlib import Path
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.colors import LinearSegmentedColormap
from matplotlib.patches import Patch, PathPatch
from matplotlib.path import Path as Outline_path
from matplotlib.patheffects import withStroke
from numpy.typing import NDArray
from PIL import Image

from workbench.figures.look import Look
from workbench.figures.markers import FADED
from workbench.figures.marks import Mark, Selection
from workbench.records import Area, Dossier, Outline, SitePlan
from workbench.records.codes import Condition
from workbench.trade.plan_scale import PlanScale
from workbench.trade.showing import LENGTH, unit_sign

FindPicture = Callable[[str], Path | None]
"""Gives the file of an original by the name that records use, or None."""

_LARGEST_PX = 1600
_NICE = (1, 2, 5)
_ROOM = 0.14
"""Room over the areas for their refs and under them for the scale bar, as part of their height."""
_LOW = 0.12
"""Height of an area, as part of the reach of all, under which its ref stands above it."""


def no_picture(name: str) -> Path | None:  # noqa: ARG001 - stands for any FindPicture
    """Return None: there is no picture at hand."""
    return None


@lru_cache(maxsize=4)
def _drawing(
    path: Path,
    _changed_ns: int,
) -> tuple[NDArray[np.uint8], tuple[int, int]]:
    """Return a drawing in greys, reduced, and its full size in pixels; read anew once changed."""
    with Image.open(path) as picture:
        size = picture.size
        picture.draft("L", (_LARGEST_PX, _LARGEST_PX))
        grey = picture.convert("L")
        grey.thumbnail((_LARGEST_PX, _LARGEST_PX))
        return np.asarray(grey), size


def draw_site(
    axes: Axes,
    dossier: Dossier,
    *,
    look: Look,
    picture: FindPicture = no_picture,
    selection: Selection,
    areas: Iterable[Area] | None = None,
) -> tuple[Mark, ...]:
    """Draw the plan beneath, the outlines of areas by condition, and a scale bar.

    Args:
        axes: Axes in metres; they are emptied of ticks.
        dossier: The case.
        look: How it is drawn.
        picture: Gives the file of the plan's drawing.
        selection: Areas chosen are drawn stronger.
        areas: The areas to outline; all with an outline where not given.
    """
    _lay_drawing(axes, dossier, look, picture)
    shown = dossier.all(Area) if areas is None else areas
    outlined = [(area, area.outline) for area in shown if area.outline]
    outlined.sort(key=lambda pair: -pair[1].area_m2)
    low = _LOW * _reach(outline for _, outline in outlined)
    marks = [
        Mark(
            _outlined(axes, area, outline, look, selection, above=_reach([outline], 1) < low),
            (area.source,),
            area=area.ref,
        )
        for area, outline in outlined
    ]
    axes.autoscale_view()
    bottom, top = axes.get_ylim()
    room = _ROOM * (top - bottom)
    axes.set_ylim(bottom - room, top + room)
    axes.set_aspect("equal")
    axes.set_xticks([])
    axes.set_yticks([])
    for spine in axes.spines.values():
        spine.set_visible(False)
    return tuple(marks)


def _lay_drawing(axes: Axes, dossier: Dossier, look: Look, picture: FindPicture) -> None:
    for plan in dossier.all(SitePlan):
        path = picture(plan.file)
        if path is None or path.suffix.lower() not in Image.registered_extensions():
            continue
        grey, (width, height) = _drawing(path, path.stat().st_mtime_ns)
        scale = PlanScale.of(plan)
        shades = LinearSegmentedColormap.from_list("drawing", [look.scheme.ink, look.scheme.paper])
        pale = 0.6 * 255 + 0.4 * grey
        axes.imshow(
            pale, cmap=shades, vmin=0, vmax=255, zorder=0,
            interpolation="antialiased", extent=scale.edges(width, height),
        )  # fmt: skip
        return


def area_patch(look: Look, condition: Condition, **how: Any) -> Patch:  # noqa: ANN401 - passed on
    """Return a patch with the hatch and outline of a condition, for a legend."""
    style = look.condition(condition)
    dash: Any = style.dash
    return Patch(
        facecolor=(style.colour, 0.05),
        edgecolor=style.colour,
        hatch=style.hatch,
        hatch_linewidth=0.4,
        linestyle=dash,
        linewidth=0.9,
        **how,
    )


def _reach(outlines: Iterable[Outline], axis: int | None = None) -> float:
    """Return how far outlines reach along one axis, or along the longer one, in metres."""
    points = [point for outline in outlines for point in outline.rings[0]]
    if not points:
        return 0.0
    spans = np.ptp(np.asarray(points), axis=0)
    return float(spans.max() if axis is None else spans[axis])


def _outlined(
    axes: Axes, area: Area, outline: Outline, look: Look, selection: Selection, *, above: bool
) -> PathPatch:
    """Draw the hatch quietly and the outline firmly; the outline is what is picked.

    The ref of a low area stands `above` it, where it does not hide what was read inside.
    """
    style = look.condition(area.condition)
    strength = 1.0 if not selection.areas or area.ref in selection.areas else FADED
    axes.add_patch(
        PathPatch(
            _path(outline), facecolor=(style.colour, 0.05 * strength), linewidth=0, zorder=0.8,
            edgecolor=(style.colour, 0.4 * strength), hatch=style.hatch, hatch_linewidth=0.4,
        )
    )  # fmt: skip
    dash: Any = style.dash
    edge = PathPatch(
        _path(outline), facecolor="none", edgecolor=(style.colour, strength), linestyle=dash,
        linewidth=2.0 if area.ref in selection.areas else 0.9, zorder=1, gid=f"area {area.ref}",
    )  # fmt: skip
    axes.add_patch(edge)
    left, top = min(outline.rings[0], key=lambda point: point[0] - point[1])
    axes.annotate(
        area.ref, (left, top), (0, 2) if above else (3, -3), textcoords="offset points",
        ha="left", va="bottom" if above else "top", zorder=1.1,
        annotation_clip=True, clip_on=True, color=style.colour, alpha=strength,
        fontsize=look.note_pt, weight="bold",
        path_effects=[withStroke(linewidth=2, foreground=look.scheme.paper)],
    )  # fmt: skip
    return edge


def _path(outline: Outline) -> Outline_path:
    vertices: list[tuple[float, float]] = []
    codes: list[np.uint8] = []
    for ring in outline.rings:
        vertices += [*ring, ring[0]]
        lines = [Outline_path.LINETO] * (len(ring) - 1)
        codes += [Outline_path.MOVETO, *lines, Outline_path.CLOSEPOLY]
    return Outline_path(vertices, codes)


def scale_bar(axes: Axes, look: Look) -> None:
    """Draw a scale bar at the lower right of axes in metres, in the unit that the case shows."""
    left, right = axes.get_xlim()
    bottom, top = axes.get_ylim()
    per_metre = look.per_si(LENGTH)
    length = _nice((right - left) * per_metre / 6)
    x1 = right - 0.02 * (right - left)
    x0 = x1 - length / per_metre
    y = bottom + 0.015 * (top - bottom)
    tick = 0.008 * (top - bottom)
    axes.plot(
        [x0, x0, x0, x1, x1, x1], [y + tick, y - tick, y, y, y - tick, y + tick],
        color=look.scheme.ink, linewidth=1, solid_capstyle="butt", zorder=5,
    )  # fmt: skip
    words = f"{length:g} {unit_sign(look.unit(LENGTH))}"
    axes.text((x0 + x1) / 2, y + 2 * tick, words, ha="center", va="bottom", **look.words(note=True))


def _nice(about: float) -> float:
    """Return the largest of 1, 2, 5 times a power of ten that is not above `about`."""
    power = 10.0 ** np.floor(np.log10(about))
    return float(max(step * power for step in _NICE if step * power <= about * (1 + 1e-9)))
