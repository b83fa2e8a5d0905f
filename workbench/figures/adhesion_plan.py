"""Adhesion on the plan: how strong and in which plane each pull broke, and where."""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import accumulate
from typing import Any

import numpy as np
from matplotlib import colormaps
from matplotlib.axes import Axes
from matplotlib.cm import ScalarMappable
from matplotlib.collections import PathCollection
from matplotlib.colors import Normalize
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Patch
from matplotlib.patheffects import withStroke
from numpy.typing import NDArray

from workbench.analysis.pattern.space import Surface
from workbench.analysis.strength.results import Pull, StrengthResult
from workbench.figures.beside import LEFT, RIGHT, SIDES, UNDER, Side, free_sides
from workbench.figures.look import CONDITION_ORDER, MAGNITUDES, Look, plane_marker
from workbench.figures.markers import ARROW_DOWN, ARROW_UP, FADED, faded
from workbench.figures.marks import NOTHING_CHOSEN, Mark, Marks, Selection
from workbench.figures.site import FindPicture, area_patch, draw_site, no_picture, scale_bar
from workbench.records import Area, Dossier, Location, Plane
from workbench.trade.showing import STRESS, Bound

Flags = NDArray[np.bool_]

_SIZE = 40.0
_STEP_ASIDE = 0.02
_WIDE, _LEAST_FOOT_MM, _AROUND_LEGEND_MM, _ENTRY_MM = 1.7, 24.0, 9.0, 4.3
_MOST_LABELLED = 70


def draw_adhesion_plan(
    figure: Figure,
    dossier: Dossier,
    result: StrengthResult,
    *,
    look: Look | None = None,
    picture: FindPicture = no_picture,
    surface: Surface | None = None,
    selection: Selection = NOTHING_CHOSEN,
) -> Marks:
    """Draw each pull on untouched film where it was made, and return what can be picked.

    Value by colour, plane of the larger part of the break by marker, condition by the hatch of
    the area; an arrow up says "at least" (broke in the glue), an arrow down "at most" (came away
    before load).

    Args:
        figure: A figure of any size; it is emptied.
        dossier: The case.
        result: What the pull-offs say.
        look: How it is drawn.
        picture: Gives the file of the plan's drawing.
        surface: Values between the readings; where they are not defensible it is hatched.
        selection: What is lit up; the rest is faded.
    """
    look = look or Look()
    look.begin(figure)
    placed = _placed(dossier, result.pulls)
    pulls = [one.pull for one in placed]
    legends = _legends(dossier, pulls, look, tinted=surface is not None)
    place = _Layout.of(figure, [len(handles) for _, handles in legends])
    axes = figure.add_axes(place.plan)
    axes.set_facecolor(look.scheme.paper)
    marks = list(draw_site(axes, dossier, look=look, picture=picture, selection=selection))
    _frame(axes, dossier, placed)
    if placed:
        norm = _norm(pulls, look)
        _between(axes, surface, norm, look)
        marks += _points(axes, placed, norm, look, selection)
        _colour_bar(figure, norm, look, place)
    scale_bar(axes, look)
    _draw_legends(figure, legends, place, look)
    return Marks(tuple(marks))


def not_on_plan(dossier: Dossier, pulls: Iterable[Pull]) -> tuple[Pull, ...]:
    """Return the pulls on untouched film whose location has no place on the plan."""
    return tuple(one for one in pulls if one.film.untouched and not _spot(dossier, one))


def adhesion_plan_height_mm(dossier: Dossier, pulls: Sequence[Pull], width_mm: float) -> float:
    """Return how high the figure should be on paper for the plan to fill its width.

    Args:
        dossier: The case.
        pulls: The pulls to be drawn; their planes stand in the legend.
        width_mm: Width on paper.
    """
    drawn = {one.main_plane for one in pulls if one.film.untouched and _spot(dossier, one)}
    foot = _foot_mm(len(drawn - {None}))
    rings = [area.outline.rings[0] for area in dossier.all(Area) if area.outline]
    points = [point for ring in rings for point in ring]
    if not points:
        return _TALLEST_MM + foot - _LEAST_FOOT_MM
    across, up = np.ptp(np.asarray(points), axis=0)
    plan = _PLAN_SHARE * width_mm * (1.2 * up / max(across, 1e-6))
    tallest = _TALLEST_MM + foot - _LEAST_FOOT_MM
    return float(np.clip(plan + foot + _AROUND_PLAN_MM, _LOWEST_MM, tallest))


def _foot_mm(entries: int) -> float:
    """Return the height of a legend with that many entries, under the plan."""
    return max(_LEAST_FOOT_MM, _AROUND_LEGEND_MM + _ENTRY_MM * entries)


_PLAN_SHARE, _AROUND_PLAN_MM = 0.87, 10.0
_LOWEST_MM, _TALLEST_MM = 95.0, 120.0


@dataclass(frozen=True, slots=True)
class _Layout:
    """Where plan, colour bar and legends stand: legends below, or at the right of a wide figure."""

    plan: tuple[float, float, float, float]
    bar: tuple[float, float, float, float]
    legends: tuple[tuple[float, float], ...]

    @classmethod
    def of(cls, figure: Figure, entries: Sequence[int]) -> "_Layout":
        """Return the layout for a figure's shape and the entries of each legend."""
        width, height = figure.get_size_inches()
        if width > _WIDE * height:
            high = [_AROUND_LEGEND_MM + _ENTRY_MM * count if count else 0.0 for count in entries]
            steps = accumulate(high[:-1], initial=3.0)
            legends = tuple((0.73, 1 - mm / 25.4 / height) for mm in steps)
            return cls((0.01, 0.02, 0.60, 0.96), (0.635, 0.2, 0.012, 0.65), legends)
        foot = min(_foot_mm(max(entries)) / 25.4 / height, 0.5)
        below = foot - 1.5 / 25.4 / height
        return cls(
            (0.01, foot, 0.87, 0.99 - foot),
            (0.9, foot + 0.1, 0.018, 0.8 - foot),
            ((0.01, below), (0.43, below), (0.83, below)),
        )


@dataclass(frozen=True, slots=True)
class Placed:
    """A pull at its place in metres; `aside` steps to the right of `most` where others share it."""

    pull: Pull
    x: float
    y: float
    aside: float
    most: float


def _placed(dossier: Dossier, pulls: Sequence[Pull]) -> list[Placed]:
    """Return the pulls on untouched film with their places, those of one spot numbered."""
    at_spot: dict[tuple[float, float], list[Pull]] = {}
    for pull in pulls:
        if pull.film.untouched and (spot := _spot(dossier, pull)):
            at_spot.setdefault(spot, []).append(pull)
    return [
        Placed(pull, x, y, at - (len(here) - 1) / 2, (len(here) - 1) / 2)
        for (x, y), here in at_spot.items()
        for at, pull in enumerate(here)
    ]


def _spot(dossier: Dossier, pull: Pull) -> tuple[float, float] | None:
    """Return where a pull was made, in metres; None where its location has no place."""
    location = dossier.find(Location, pull.location)
    return (location.x.value, location.y.value) if location and location.x and location.y else None


def _norm(pulls: Iterable[Pull], look: Look) -> Normalize:
    highest = max(pull.mpa for pull in pulls) * look.per_si(STRESS)
    return Normalize(0, highest)


def _between(axes: Axes, surface: Surface | None, norm: Normalize, look: Look) -> None:
    """Draw values between readings where that is defensible, and a hatch where it is not."""
    if surface is None:
        return
    shown = np.ma.masked_where(~surface.defensible, surface.values * look.per_si(STRESS))
    axes.pcolormesh(
        surface.x, surface.y, shown, cmap=MAGNITUDES, norm=norm, alpha=0.35, zorder=0.5,
        shading="nearest", linewidth=0, rasterized=True,
    )  # fmt: skip
    hatched = axes.contourf(
        surface.x, surface.y, ~surface.defensible, levels=[0.5, 1.5], colors="none",
        hatches=["\\\\\\"], zorder=0.6,
    )  # fmt: skip
    hatched.set_edgecolor(look.scheme.muted)
    hatched.set_linewidth(0)
    hatched.set_hatch_linewidth(0.3)


def _points(
    axes: Axes, placed: list[Placed], norm: Normalize, look: Look, selection: Selection
) -> Iterable[Mark]:
    by_plane: dict[Plane, list[Placed]] = {}
    for one in placed:
        if one.pull.main_plane:
            by_plane.setdefault(one.pull.main_plane, []).append(one)
    _arrows(axes, placed, look, selection)
    for plane, here in by_plane.items():
        points = _scatter(axes, plane, here, norm, look, selection)
        yield Mark(points, tuple(one.pull.source for one in here), plane=plane)
    if len(placed) <= _MOST_LABELLED:
        _values(axes, placed, look, selection)


def _lit(here: Sequence[Placed], selection: Selection) -> Flags:
    return np.array(
        [
            selection.lights(
                one.pull.source, area=one.pull.area, planes=[plane for plane, _ in one.pull.shares]
            )
            for one in here
        ],
        bool,
    )


def _places(axes: Axes, here: Sequence[Placed]) -> tuple[list[float], list[float]]:
    left, right = axes.get_xlim()
    step = _STEP_ASIDE * (right - left)
    return [one.x + step * one.aside for one in here], [one.y for one in here]


def _scatter(
    axes: Axes,
    plane: Plane,
    here: list[Placed],
    norm: Normalize,
    look: Look,
    selection: Selection,
) -> PathCollection:
    values = np.array([one.pull.mpa for one in here]) * look.per_si(STRESS)
    lit = _lit(here, selection)
    colours = colormaps[MAGNITUDES](norm(values))
    colours[:, 3] = np.where(lit, 1.0, FADED)
    return axes.scatter(
        *_places(axes, here),
        s=_SIZE,
        marker=plane_marker(plane),
        facecolors=colours,
        edgecolors=faded(look.scheme.ink, lit),
        linewidths=np.where(lit, 1.4 if selection else 0.6, 0.2).tolist(),
        zorder=4,
        picker=True,
        gid=f"pulls {plane}",
    )


def _arrows(axes: Axes, placed: list[Placed], look: Look, selection: Selection) -> None:
    """Draw an arrow up on each "at least" and an arrow down on each "at most"."""
    for marker, here in (
        (ARROW_UP, [one for one in placed if _bound(one.pull) is Bound.AT_LEAST]),
        (ARROW_DOWN, [one for one in placed if _bound(one.pull) is Bound.AT_MOST]),
    ):
        axes.scatter(
            *_places(axes, here),
            s=7 * _SIZE,
            marker=marker,
            facecolors="none",
            edgecolors=faded(look.scheme.ink, _lit(here, selection)),
            linewidths=1.0,
            zorder=3,
        )


def _bound(pull: Pull) -> Bound:
    if pull.came_away:
        return Bound.AT_MOST
    in_glue = pull.main_plane and pull.main_plane.in_glue
    return Bound.AT_LEAST if in_glue else Bound.NONE


def _values(axes: Axes, placed: list[Placed], look: Look, selection: Selection) -> None:
    """Write the value of each pull beside its point, where it hides no other."""
    places = list(zip(*_places(axes, placed), strict=True))
    said = [look.showing.stress(one.pull.mpa, bound=_bound(one.pull), unit=False) for one in placed]
    size = look.note_pt - 1
    sides = free_sides(axes, places, said, [_sides(one) for one in placed], size)
    lit = _lit(placed, selection)
    for place, words, how, shines in zip(places, said, sides, lit, strict=True):
        axes.annotate(
            words, place, xytext=how.away, textcoords="offset points", ha=how.ha, va=how.va,
            zorder=5, path_effects=[withStroke(linewidth=2, foreground=look.scheme.paper)],
            color=look.scheme.ink, alpha=1.0 if shines else FADED, fontsize=size,
        )  # fmt: skip


def _sides(one: Placed) -> tuple[Side, ...]:
    """Return where a value may stand, the best first: at the outer side of a spot shared."""
    first = LEFT if one.aside < 0 else RIGHT if one.aside == one.most else UNDER
    return tuple(dict.fromkeys((first, *SIDES)))


def _frame(axes: Axes, dossier: Dossier, placed: list[Placed]) -> None:
    """Set the limits so that all areas and pulls are in view, with a margin."""
    rings = [area.outline.rings[0] for area in dossier.all(Area) if area.outline]
    points = [point for ring in rings for point in ring] + [(one.x, one.y) for one in placed]
    if not points:
        axes.set(xlim=(0, 1), ylim=(0, 1))
        return
    low, high = np.min(points, axis=0), np.max(points, axis=0)
    margin = 0.03 * max(high - low) + 0.5
    axes.set_xlim(low[0] - margin, high[0] + margin)
    axes.set_ylim(low[1] - 2 * margin, high[1] + margin)


def _colour_bar(figure: Figure, norm: Normalize, look: Look, place: "_Layout") -> None:
    axes = figure.add_axes(place.bar)
    bar = figure.colorbar(ScalarMappable(norm, MAGNITUDES), cax=axes)
    bar.outline.set_visible(False)
    bar.set_label(look.axis_label("stress at the break", STRESS), **look.words())
    axes.tick_params(
        colors=look.scheme.muted, labelcolor=look.scheme.ink, labelsize=look.note_pt, length=3
    )


_Legends = tuple[tuple[str, list[Any]], ...]


def _legends(dossier: Dossier, pulls: list[Pull], look: Look, *, tinted: bool) -> _Legends:
    """Return titles with entries for markers, arrows and hatches; no letter stands alone."""
    return (
        ("Where most of it broke", [*_plane_handles(dossier, pulls, look)]),
        (
            "Bounds, and between" if tinted else "Bounds",
            [*_bound_handles(pulls, look), *(_tint_handles(look) if tinted else ())],
        ),
        ("Areas", [*_area_handles(dossier, look)]),
    )


def _draw_legends(figure: Figure, legends: _Legends, place: "_Layout", look: Look) -> None:
    """Say what markers, arrows and hatches mean."""
    for (title, handles), corner in zip(legends, place.legends, strict=True):
        if not handles:
            continue
        legend = figure.legend(
            handles=handles, title=title, loc="upper left", bbox_to_anchor=corner,
            alignment="left", frameon=False, fontsize=look.note_pt, title_fontsize=look.note_pt,
            labelcolor=look.scheme.ink, handlelength=1.8, labelspacing=0.45, borderaxespad=0,
        )  # fmt: skip
        legend.get_title().set_color(look.scheme.muted)


def _point(look: Look, marker: Any, size: float, label: str) -> Line2D:  # noqa: ANN401 - a marker
    return Line2D(
        [], [], linestyle="none", marker=marker, markersize=size, markeredgewidth=0.7,
        color=look.scheme.ink, markerfacecolor=look.scheme.faint, label=label,
    )  # fmt: skip


def _plane_handles(dossier: Dossier, pulls: list[Pull], look: Look) -> list[Line2D]:
    counts = Counter(
        (pull.main_plane, dossier.plane_name(pull.main_plane, dossier.system(pull.system)))
        for pull in pulls if pull.main_plane
    )  # fmt: skip
    return [
        _point(look, plane_marker(plane), 5.5, f"{name}: {count}")
        for (plane, name), count in sorted(counts.items(), key=lambda pair: pair[0][0].height)
    ]


def _bound_handles(pulls: list[Pull], look: Look) -> list[Line2D]:
    present = {_bound(pull) for pull in pulls}
    told = (
        (Bound.AT_LEAST, r"$\uparrow$", "at least: broke in the glue"),
        (Bound.AT_MOST, r"$\downarrow$", "at most: came away before load"),
    )
    return [_point(look, marker, 8, words) for bound, marker, words in told if bound in present]


def _tint_handles(look: Look) -> tuple[Patch, Patch]:
    low, high = (colormaps[MAGNITUDES](at) for at in (0.3, 0.75))
    return (
        Patch(facecolor=(*high[:3], 0.35), edgecolor=(*low[:3], 0.6),
              label="between readings: by distance"),
        Patch(facecolor="none", edgecolor=look.scheme.muted, hatch="\\\\\\", linewidth=0,
              hatch_linewidth=0.3, label="no reading near enough: not known"),
    )  # fmt: skip


def _area_handles(dossier: Dossier, look: Look) -> list[Patch]:
    present = {area.condition for area in dossier.all(Area) if area.outline}
    return [
        area_patch(look, condition, label=str(condition))
        for condition in CONDITION_ORDER
        if condition in present
    ]
