"""Ratings by area and plane: each method on its own scale, the best always at the right."""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.lines import Line2D

from workbench.figures.look import CONDITION_ORDER, Look, plane_marker
from workbench.figures.markers import faded
from workbench.figures.marks import NOTHING_CHOSEN, Mark, Marks, Selection
from workbench.records import Area, Dossier, Location, Plane, Rating
from workbench.records.codes import Condition
from workbench.trade.methods import Scale, method

_PER_ROW = 3
_SIZE = 26.0
_MM_PER_AREA, _MM_BESIDE = 6.2, 31.0
_UNSTATED = "."


@dataclass(frozen=True, slots=True)
class _Placed:
    """A rating with its area and what it opened."""

    rating: Rating
    area: Area
    plane: Plane | None


def ratings_height_mm(dossier: Dossier) -> float:
    """Return how high the figure should be on paper for all its rows to be read."""
    placed = _placed(dossier)
    bands = -(-len(_by_method(placed)) // _PER_ROW)
    return max(1, bands) * (_MM_PER_AREA * max(2, len(_areas(placed))) + _MM_BESIDE)


def draw_ratings(
    figure: Figure,
    dossier: Dossier,
    *,
    look: Look | None = None,
    selection: Selection = NOTHING_CHOSEN,
) -> Marks:
    """Draw every rating beside its area, one panel for each method.

    Colour and place tell the condition, the marker the plane that was opened. Scales that run
    down to the best are turned, so that the best is at the right in every panel.

    Args:
        figure: A figure of any size; it is emptied.
        dossier: The case.
        look: How it is drawn.
        selection: What is lit up; the rest is faded.
    """
    look = look or Look()
    look.begin(figure)
    placed = _placed(dossier)
    by_method, areas = _by_method(placed), _areas(placed)
    if not placed:
        figure.text(0.5, 0.5, "no rating is recorded", ha="center", **look.words())
        return Marks()
    columns = min(_PER_ROW, len(by_method))
    grid = figure.subplots(-(-len(by_method) // columns), columns, sharey=True, squeeze=False)
    marks: list[Mark] = []
    for axes, (code, here) in zip(grid.flat, by_method.items(), strict=False):
        marks += _panel(axes, code, here, areas, look, selection)
    for axes in grid.flat[len(by_method) :]:
        axes.set_axis_off()
    _name_areas(grid[:, 0], areas, look)
    _legend(figure, dossier, placed, look)
    _place(figure, areas, look)
    return Marks(tuple(marks))


def _placed(dossier: Dossier) -> list[_Placed]:
    found = []
    for rating in dossier.all(Rating):
        location = dossier.find(Location, rating.location)
        area = dossier.area(location.area) if location else None
        if area and method(rating.method):
            found.append(_Placed(rating, area, rating.plane.plane if rating.plane else None))
    return found


def _by_method(placed: Iterable[_Placed]) -> dict[str, list[_Placed]]:
    by_method: dict[str, list[_Placed]] = {}
    for one in placed:
        by_method.setdefault(one.rating.method, []).append(one)
    return by_method


def _areas(placed: Iterable[_Placed]) -> list[Area]:
    """Return the areas rated, by condition in the order shown everywhere."""
    areas = {one.area.ref: one.area for one in placed}
    return sorted(areas.values(), key=lambda area: CONDITION_ORDER.index(area.condition))


def _panel(
    axes: Axes,
    code: str,
    here: Sequence[_Placed],
    areas: Sequence[Area],
    look: Look,
    selection: Selection,
) -> Iterable[Mark]:
    found = method(code)
    scale = found.scale if found else None
    look.dress(axes, grid="x")
    axes.tick_params(axis="y", length=0)
    look.title(axes, code)
    row = {area.ref: at for at, area in enumerate(areas)}
    for at in range(1, len(areas)):
        axes.axhline(at - 0.5, color=look.scheme.faint, linewidth=0.6, zorder=0)
    if scale:
        _scale_axis(axes, scale, here, look)
    for (condition, plane), group in _groups(here).items():
        y = [row[one.area.ref] + _step(one, here) for one in group]
        lit = np.array([_is_lit(one, selection) for one in group])
        colour = look.condition(condition).colour
        points = axes.scatter(
            [one.rating.rating.value for one in group], y, s=_SIZE if plane else 3 * _SIZE,
            marker=plane_marker(plane) if plane else _UNSTATED,
            facecolors=faded(colour, lit), edgecolors=faded(look.scheme.paper, lit),
            linewidths=0.6, zorder=3,
        )  # fmt: skip
        yield Mark(points, tuple(one.rating.source for one in group), plane=plane)


def _groups(
    here: Iterable[_Placed],
) -> dict[tuple[Condition, Plane | None], list[_Placed]]:
    groups: dict[tuple[Condition, Plane | None], list[_Placed]] = {}
    for one in here:
        groups.setdefault((one.area.condition, one.plane), []).append(one)
    return groups


def _step(one: _Placed, here: Sequence[_Placed]) -> float:
    """Return how far a point steps aside from others of the same area and rating."""
    same = [
        other
        for other in here
        if other.area.ref == one.area.ref and other.rating.rating.value == one.rating.rating.value
    ]
    at = next(at for at, other in enumerate(same) if other is one)
    room = min(0.17, 0.78 / len(same))
    return (at - (len(same) - 1) / 2) * room


def _is_lit(one: _Placed, selection: Selection) -> bool:
    planes = [one.plane] if one.plane else []
    return selection.lights(one.rating.source, area=one.area.ref, planes=planes)


def _scale_axis(axes: Axes, scale: Scale, here: Sequence[_Placed], look: Look) -> None:
    """Set the ticks at the ratings there are, the best at the right, and say which it is."""
    off = [one.rating.rating.value for one in here]
    low, high = min([*scale.values, *off]), max([*scale.values, *off])
    edge = 0.06 * (high - low)
    axes.set_xticks(scale.values, [f"{value:g}{scale.suffix}" for value in scale.values])
    axes.set_xlim(low - edge, high + edge)
    if not scale.high_is_best:
        axes.invert_xaxis()
    axes.set_xlabel(scale.direction if scale.neutral else f"{scale.best:g} is the best →")
    axes.xaxis.label.set(fontsize=look.note_pt)


def _name_areas(left: Iterable[Axes], areas: Sequence[Area], look: Look) -> None:
    for axes in left:
        axes.set_yticks(range(len(areas)), [_label(area) for area in areas])
        axes.set_ylim(len(areas) - 0.5, -0.5)
        axes.tick_params(axis="y", length=0, pad=15)
        for at, area in enumerate(areas):
            style = look.condition(area.condition)
            axes.plot(
                -7 / 72 / (axes.bbox.width / axes.figure.dpi), at, linestyle="", clip_on=False,
                transform=axes.get_yaxis_transform(), marker=style.marker, markersize=4.5,
                color=style.colour,
            )  # fmt: skip


def _label(area: Area) -> str:
    return area.ref if area.ref == area.name else f"{area.ref}  {area.condition}"


def _legend(figure: Figure, dossier: Dossier, placed: Sequence[_Placed], look: Look) -> None:
    """Name the planes that were opened; the axis has named the conditions."""
    planes = Counter(one.plane for one in placed)
    systems = {one.plane: dossier.system_of(one.area) for one in placed}
    named = sorted((p for p in planes if p), key=lambda plane: plane.height)
    handles = [
        _handle(plane_marker(plane), dossier.plane_name(plane, systems[plane]), look)
        for plane in named
    ]
    if None in planes:
        handles.append(_handle(_UNSTATED, "no plane opened or stated", look))
    figure.legend(
        handles=handles, loc="lower left", bbox_to_anchor=(0.01, 0.0), ncols=3, frameon=False,
        fontsize=look.note_pt, labelcolor=look.scheme.ink, handletextpad=0.3,
    )  # fmt: skip


def _handle(marker: str, label: str, look: Look) -> Line2D:
    return Line2D(
        [],
        [],
        linestyle="",
        marker=marker,
        color=look.scheme.ink,
        label=label,
        markersize=8 if marker == _UNSTATED else 5,
    )


def _place(figure: Figure, areas: Sequence[Area], look: Look) -> None:
    width, height = figure.get_size_inches()
    left = (max(len(_label(area)) for area in areas) * 0.52 * look.note_pt + 26) / 72 / width
    figure.subplots_adjust(
        left=min(0.4, left),
        right=0.985,
        top=1 - 2.6 * look.title_pt / 72 / height,
        bottom=7.5 * look.note_pt / 72 / height,
        wspace=0.08,
        hspace=0.55,
    )
