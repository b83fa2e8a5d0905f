"""Moisture, pH and salts by place: one plan for each quantity and way of measuring."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from matplotlib.axes import Axes
from matplotlib.cm import ScalarMappable
from matplotlib.colors import Normalize
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.ticker import MaxNLocator

from workbench.analysis.limits import limits_on
from workbench.analysis.measured import measured
from workbench.figures.beside import LEFT, RIGHT, SIDES, free_sides
from workbench.figures.look import MAGNITUDES, Look
from workbench.figures.markers import FADED
from workbench.figures.marks import NOTHING_CHOSEN, Mark, Marks, Selection
from workbench.figures.site import FindPicture, draw_site, no_picture, scale_bar
from workbench.records import Area, Dossier, Location, Measurement, layer_sign
from workbench.trade.methods import methods_of_test
from workbench.trade.showing import ACIDITY, EMISSION, PERCENT, SALTS, Kind, unit_sign
from workbench.trade.units import UnitError, convert, is_unit

BY_PLACE = ("moisture", "rh_in_slab", "emission", "ph_face", "ph_fluid", "salts", "chloride")
"""Quantities that the figure shows, in its order."""
_WORDS = {
    "moisture": "moisture", "rh_in_slab": "humidity in the slab", "emission": "emission",
    "ph_face": "pH of the face", "ph_fluid": "pH of fluid", "salts": "soluble salts",
    "chloride": "chloride",
}  # fmt: skip
_KINDS = {
    "moisture": PERCENT, "rh_in_slab": PERCENT, "emission": EMISSION, "ph_face": ACIDITY,
    "ph_fluid": ACIDITY, "salts": SALTS, "chloride": SALTS,
}  # fmt: skip
_MOST_LABELLED = 40
_SIZE = 46.0
_MM_ACROSS, _MM_TITLE, _MM_LEGEND = 72.0, 13.0, 8.0


@dataclass(frozen=True, slots=True)
class _Here:
    """A measurement at its place in metres; `si` is its number in the kind's SI unit."""

    record: Measurement
    area: str
    x: float
    y: float
    si: float | None
    over: bool


@dataclass(frozen=True, slots=True)
class _Title:
    """What a plan shows: quantity, face in words, method, limit in the kind's SI unit."""

    quantity: str
    face: str
    by: str
    most: float | None

    def words(self, kind: Kind, look: Look) -> str:
        """Return the title: "moisture, carbide method; limit 6.0 %"."""
        said = f"{_WORDS[self.quantity]}, {self.by}"
        if self.most is None:
            return said
        return f"{said}; limit {look.showing.value(kind, self.most)}"


@dataclass(frozen=True, slots=True)
class _Plan:
    """The measurements of one quantity on one face by one method."""

    quantity: str
    kind: Kind
    title: _Title
    here: tuple[_Here, ...]


def moisture_height_mm(dossier: Dossier) -> float:
    """Return how high the figure should be on paper for its plans to fill it."""
    points = [
        point for area in dossier.all(Area) if area.outline for point in area.outline.rings[0]
    ]
    across, along = np.ptp(np.array(points), axis=0) if points else (1.0, 1.0)
    rows = -(-len(_plans(dossier)) // 2)
    each = _MM_ACROSS * min(1.6, max(0.5, along / max(across, 1e-9))) + _MM_TITLE
    return float(max(1, rows) * each + _MM_LEGEND)


def draw_moisture(
    figure: Figure,
    dossier: Dossier,
    *,
    look: Look | None = None,
    picture: FindPicture = no_picture,
    selection: Selection = NOTHING_CHOSEN,
) -> Marks:
    """Draw every measurement of moisture, pH and salts where it was made.

    Value by colour and beside the point; a ring with a bar above it says that the value is over
    the limit of the case. Readings by different methods are never on one plan: they are not
    comparable.

    Args:
        figure: A figure of any size; it is emptied.
        dossier: The case.
        look: How it is drawn.
        picture: Gives the file of the plan's drawing.
        selection: What is lit up; the rest is faded.
    """
    look = look or Look()
    look.begin(figure)
    plans = _plans(dossier)
    if not plans:
        figure.text(
            0.5, 0.5, "no moisture, pH or salt reading has a place", ha="center", **look.words()
        )
        return Marks()
    columns = min(2, len(plans))
    grid = figure.subplots(-(-len(plans) // columns), columns, squeeze=False)
    marks: list[Mark] = []
    for axes, plan in zip(grid.flat, plans, strict=False):
        marks += draw_site(axes, dossier, look=look, picture=picture, selection=selection)
        _name(axes, plan, look)
        marks += _points(axes, plan, look, selection)
    scale_bar(grid[0, 0], look)
    for axes in grid.flat[len(plans) :]:
        axes.set_axis_off()
    _legend(figure, plans, look)
    height_mm = figure.get_size_inches()[1] * 25.4
    figure.subplots_adjust(
        left=0.01, right=0.9, wspace=0.26, hspace=0.14,
        top=1 - _MM_TITLE / height_mm, bottom=_MM_LEGEND / height_mm,
    )  # fmt: skip
    return Marks(tuple(marks))


def _name(axes: Axes, plan: _Plan, look: Look) -> None:
    """Say what a plan shows, and below it on which face."""
    pad = look.note_pt + 6 if plan.title.face else 4
    axes.set_title(plan.title.words(plan.kind, look), loc="left", pad=pad, **look.words())
    axes.annotate(
        plan.title.face, (0, 1), (0, 3), xycoords="axes fraction", textcoords="offset points",
        va="bottom", annotation_clip=False, **look.words(muted=True, note=True),
    )  # fmt: skip


def _plans(dossier: Dossier) -> list[_Plan]:
    """Return the plans: one for each quantity, way of measuring and face."""
    by_way: dict[tuple[str, str, str], list[Measurement]] = {}
    for record in dossier.all(Measurement):
        if record.quantity in BY_PLACE:
            way = (record.quantity, str(record.plane or ""), record.method)
            by_way.setdefault(way, []).append(record)
    plans = [_plan(dossier, way, records) for way, records in by_way.items()]
    return sorted(
        (plan for plan in plans if plan.here), key=lambda plan: BY_PLACE.index(plan.quantity)
    )


def _plan(dossier: Dossier, way: tuple[str, str, str], records: Sequence[Measurement]) -> _Plan:
    quantity, _, method = way
    kind = _kind(quantity, records)
    named = methods_of_test(method)
    by = named[0].number if named else method.replace("_", " ")
    limits = [_limit(dossier, record, kind) for record in records]
    most = next((limit for limit in limits if limit is not None), None)
    here = tuple(one for record in records if (one := _here(dossier, record, kind)))
    return _Plan(quantity, kind, _Title(quantity, _face(dossier, records[0]), by, most), here)


def _face(dossier: Dossier, record: Measurement) -> str:
    """Return the face measured in words, never as a letter alone."""
    if record.plane is None:
        return ""
    if record.plane.plane is None:
        return record.plane.text
    coats = dossier.system_of(dossier.area_at(record.location))
    name = dossier.plane_name(record.plane.plane, coats)
    side = next((c for c in coats if layer_sign(c.order) == record.plane.side), None)
    of = (side.product or side.material.replace("_", " ")) if side else record.plane.side
    return f"{name}, face of {of}" if of else name


def _kind(quantity: str, records: Sequence[Measurement]) -> Kind:
    """Return the kind of a quantity; that of its own unit where it is not the usual one."""
    usual = _KINDS[quantity]
    units = {record.value.unit for record in records if record.value.unit}
    if all(is_unit(unit, usual.si) for unit in units):
        return usual
    own = min(units)
    return Kind(own, own, ((10, 0.01, 0.01), (float("inf"), 0.1, 0.1)))


def _here(dossier: Dossier, record: Measurement, kind: Kind) -> _Here | None:
    location = dossier.find(Location, record.location)
    if location is None or location.x is None or location.y is None:
        return None
    si = _si(record, kind)
    most = _limit(dossier, record, kind)
    over = si is not None and most is not None and si > most
    x, y = location.x.value, location.y.value
    return _Here(record, location.area, x, y, si, over)


def _si(record: Measurement, kind: Kind) -> float | None:
    quantity = record.value.quantity
    try:
        return convert(quantity.value, quantity.unit or kind.si, kind.si) if quantity else None
    except UnitError:
        return None


def _limit(dossier: Dossier, record: Measurement, kind: Kind) -> float | None:
    """Return the most that the case permits of a quantity at its place."""
    area = dossier.area_at(record.location)
    coats = [None, *dossier.system_of(area)]
    for coat in coats:
        for limit in limits_on(dossier, record.quantity, area, coat):
            if limit.method in {"", record.method} and limit.maximum:
                return measured(limit.maximum, kind.si, kind.si)
    return None


def _points(axes: Axes, plan: _Plan, look: Look, selection: Selection) -> Iterable[Mark]:
    numbers = [one for one in plan.here if one.si is not None]
    unit = look.unit(plan.kind)
    if numbers:
        values = [convert(one.si or 0.0, plan.kind.si, unit) for one in numbers]
        low, high = min(values), max(values)
        norm = Normalize(low - 0.05 * (high - low or 1), high + 0.05 * (high - low or 1))
        lit = [selection.lights(o.record.source, area=o.area) for o in numbers]
        points = axes.scatter(
            [one.x for one in numbers], [one.y for one in numbers], s=_SIZE, c=values, norm=norm,
            cmap=MAGNITUDES, zorder=4, linewidths=0.7, edgecolors=look.scheme.ink,
        )  # fmt: skip
        points.set_alpha([1.0 if one else FADED for one in lit])
        yield Mark(points, tuple(one.record.source for one in numbers))
        _colour_bar(axes, norm, unit, look)
        _rings(axes, numbers, look)
    if len(plan.here) <= _MOST_LABELLED:
        _labels(axes, plan, look)


def _rings(axes: Axes, numbers: Sequence[_Here], look: Look) -> None:
    """Set a ring round every value over its limit."""
    over = [one for one in numbers if one.over]
    axes.scatter(
        [one.x for one in over], [one.y for one in over], s=3.2 * _SIZE, facecolors="none",
        edgecolors=look.scheme.ink, linewidths=1.3, zorder=4,
    )  # fmt: skip


def _labels(axes: Axes, plan: _Plan, look: Look) -> None:
    """Write each value beside its point, where it hides no other."""
    places = [(one.x, one.y) for one in plan.here]
    said = [_said(one, plan.kind, look) for one in plan.here]
    size = look.note_pt - 0.5
    sides = free_sides(axes, places, said, [(RIGHT, LEFT, *SIDES)] * len(said), size)
    for place, words, how in zip(places, said, sides, strict=True):
        axes.annotate(
            words, place, how.away, textcoords="offset points", ha=how.ha, va=how.va, zorder=5,
            fontsize=size, color=look.scheme.ink,
            bbox={"facecolor": look.scheme.paper, "edgecolor": "none", "pad": 0.4, "alpha": 0.75},
        )  # fmt: skip


def _said(one: _Here, kind: Kind, look: Look) -> str:
    if one.si is None:
        return look.showing.outcome(one.record.value)
    said = look.showing.outcome(one.record.value, one.record.qualifier, kind.si)
    sign = unit_sign(look.unit(kind))
    return said.removesuffix(f" {sign}").removeprefix(f"{sign} ")


def _colour_bar(axes: Axes, norm: Normalize, unit: str, look: Look) -> None:
    scale = axes.inset_axes((1.06, 0.12, 0.022, 0.76))
    figure = axes.get_figure()
    if figure is None:
        return
    bar = figure.colorbar(ScalarMappable(norm, MAGNITUDES), cax=scale, ticks=MaxNLocator(4))
    bar.outline.set_visible(False)
    scale.tick_params(labelsize=look.note_pt - 0.5, colors=look.scheme.ink, length=2)
    scale.set_title(unit_sign(unit), fontsize=look.note_pt - 0.5, color=look.scheme.ink, pad=3)


def _legend(figure: Figure, plans: Sequence[_Plan], look: Look) -> None:
    if not any(one.over for plan in plans for one in plan.here):
        return
    ring = Line2D(
        [], [], linestyle="", marker="o", markersize=10, markerfacecolor="none",
        markeredgecolor=look.scheme.ink, markeredgewidth=1.3, label="over the limit of the case",
    )  # fmt: skip
    figure.legend(
        handles=[ring], loc="lower left", bbox_to_anchor=(0.01, 0.0), frameon=False,
        fontsize=look.note_pt, labelcolor=look.scheme.ink,
    )  # fmt: skip
