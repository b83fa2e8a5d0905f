"""Thickness by layer against the specified range, failing beside non-failing."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from statistics import fmean

import numpy as np
from matplotlib.axes import Axes
from matplotlib.colors import to_rgba
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Patch

from workbench.analysis.limits import limits_on
from workbench.analysis.measured import measured
from workbench.figures.look import CONDITION_ORDER, Look
from workbench.figures.markers import faded
from workbench.figures.marks import NOTHING_CHOSEN, Mark, Marks, Selection
from workbench.records import Area, Coat, Dossier, Location, Thickness, layer_sign
from workbench.records.codes import Condition
from workbench.trade.showing import THICKNESS
from workbench.trade.units import UnitError, convert

_MM_PER_ROW, _MM_GAP, _MM_TOP, _MM_BOTTOM = 6.0, 11.5, 13.0, 11.5
_CROWD = 10
"""Spots of a condition beyond which its row grows and its points shrink."""
_TOTAL = "total"


@dataclass(frozen=True, slots=True)
class _Spot:
    """One spot: mean, smallest and largest reading in µm, with its area."""

    record: Thickness
    area: Area
    um: float
    low_um: float
    high_um: float


@dataclass(frozen=True, slots=True)
class _Layer:
    """A layer, or the total, of one system with its spots and what is specified.

    Attributes:
        name: The layer in words, with its letter.
        spots: What was read.
        least: Least specified in µm; None for none.
        most: Most specified in µm.
        nominal: Nominal in µm.
    """

    name: str
    spots: tuple[_Spot, ...]
    least: float | None
    most: float | None
    nominal: float | None

    @property
    def conditions(self) -> list[Condition]:
        """The conditions there are, in the order shown everywhere."""
        held = {spot.area.condition for spot in self.spots}
        return [condition for condition in CONDITION_ORDER if condition in held]

    @property
    def height(self) -> float:
        """How many plain rows the layer needs; crowded conditions need more."""
        most = max(self.spots_in(condition) for condition in self.conditions)
        return len(self.conditions) * max(1.0, 0.5 + 0.5 * most / _CROWD)

    def spots_in(self, condition: Condition) -> int:
        """Return how many spots were read in a condition."""
        return sum(spot.area.condition is condition for spot in self.spots)

    def outside(self, spot: _Spot) -> bool:
        """Return whether the mean of a spot is outside what is specified."""
        thin = self.least is not None and spot.um < self.least
        return thin or (self.most is not None and spot.um > self.most)


def thickness_height_mm(dossier: Dossier) -> float:
    """Return how high the figure should be on paper for all its rows to be read."""
    layers = _layers(dossier)
    rows = sum(layer.height for layer in layers) if layers else 3.0
    return _MM_PER_ROW * rows + _MM_GAP * (len(layers) - 1) + _MM_TOP + _MM_BOTTOM


def draw_thickness(
    figure: Figure,
    dossier: Dossier,
    *,
    look: Look | None = None,
    selection: Selection = NOTHING_CHOSEN,
) -> Marks:
    """Draw every spot of every layer, the top layer first, over the specified range.

    A point is the mean of a spot, the thin line its smallest and largest reading, the upright
    stroke the mean of a condition. Spots outside the range are open.

    Args:
        figure: A figure of any size; it is emptied.
        dossier: The case.
        look: How it is drawn.
        selection: What is lit up; the rest is faded.
    """
    look = look or Look()
    look.begin(figure)
    layers = _layers(dossier)
    if not layers:
        figure.text(0.5, 0.5, "no thickness is recorded", ha="center", **look.words())
        return Marks()
    ratios = [layer.height for layer in layers]
    grid = figure.subplots(len(layers), 1, squeeze=False, height_ratios=ratios)[:, 0]
    marks = [
        mark
        for axes, layer in zip(grid, layers, strict=True)
        for mark in _panel(axes, layer, look, selection)
    ]
    grid[-1].set_xlabel(look.axis_label("thickness", THICKNESS))
    _legend(figure, layers, look)
    _place(figure, layers, look)
    return Marks(tuple(marks))


def _layers(dossier: Dossier) -> list[_Layer]:
    """Return the layers read, system by system, the total first and then from the top down."""
    by_layer: dict[tuple[str, int], list[_Spot]] = {}
    systems: dict[str, tuple[Coat, ...]] = {}
    for record in dossier.all(Thickness):
        spot = _spot(dossier, record)
        if spot is None:
            continue
        coats = dossier.system_of(spot.area)
        name = coats[0].system if coats else ""
        systems[name] = coats
        order = -1 if record.order is None else record.order
        by_layer.setdefault((name, order), []).append(spot)
    several = len(systems) > 1
    return [
        _layer(dossier, systems[name], order, spots, name if several else "")
        for (name, order), spots in sorted(
            by_layer.items(), key=lambda item: (item[0][0], item[0][1] >= 0, -item[0][1])
        )
    ]


def _spot(dossier: Dossier, record: Thickness) -> _Spot | None:
    location = dossier.find(Location, record.location)
    area = dossier.area(location.area) if location else None
    if area is None:
        return None
    held = record.readings
    read = (held.average, held.smallest, held.largest)
    try:
        um, low, high = (
            convert(held.average if one is None else one, record.unit, "um") for one in read
        )
    except UnitError:
        return None
    return _Spot(record, area, um, low, high)


def _layer(
    dossier: Dossier, coats: Sequence[Coat], order: int, spots: list[_Spot], system: str
) -> _Layer:
    prefix = f"{system}: " if system else ""
    coat = next((one for one in coats if one.order == order), None)
    if order < 0:
        limits = limits_on(dossier, "dft_total", spots[0].area)
        least = measured(limits[0].minimum, "um") if limits else None
        most = measured(limits[0].maximum, "um") if limits else None
        return _Layer(f"{prefix}{_TOTAL}", tuple(spots), least, most, None)
    what = (coat.product or coat.material.replace("_", " ")) if coat else f"coat {order}"
    return _Layer(
        name=f"{prefix}{layer_sign(order)}, {what}",
        spots=tuple(spots),
        least=measured(coat.dft_min, "um") if coat else None,
        most=measured(coat.dft_max, "um") if coat else None,
        nominal=measured(coat.dft_nominal, "um") if coat else None,
    )


def _panel(axes: Axes, layer: _Layer, look: Look, selection: Selection) -> Iterable[Mark]:
    look.dress(axes, grid="x")
    axes.set_title(_title(layer, look), loc="left", pad=4, **look.words())
    per = look.per_si(THICKNESS)
    _specified(axes, layer, per, look)
    rows = {condition: at for at, condition in enumerate(layer.conditions)}
    axes.set_ylim(len(rows) - 0.4, -0.6)
    axes.set_yticks(list(rows.values()), [str(condition) for condition in rows])
    axes.tick_params(axis="y", length=0)
    axes.spines["left"].set_visible(False)
    for condition, at in rows.items():
        spots = [spot for spot in layer.spots if spot.area.condition is condition]
        yield from _condition(axes, layer, spots, at, per, look, selection)
    axes.set_xlim(left=0)


def _title(layer: _Layer, look: Look) -> str:
    count = len(layer.spots)
    said = f"{layer.name}: {count} spot{'s' if count != 1 else ''}"
    outside = sum(layer.outside(spot) for spot in layer.spots)
    show = look.showing
    if layer.least is not None and layer.most is not None:
        asked = f"{show.thickness(layer.least)} to {show.thickness(layer.most)} specified"
    elif layer.least is not None or layer.most is not None:
        word = "at least" if layer.least is not None else "at most"
        asked = f"{word} {show.thickness(layer.least or layer.most or 0)} specified"
    else:
        nominal = f"nominal {show.thickness(layer.nominal)}, " if layer.nominal else ""
        return f"{said}; {nominal}no range specified"
    return f"{said}, {outside} outside; {asked}"


def _specified(axes: Axes, layer: _Layer, per: float, look: Look) -> None:
    """Shade the specified range, and draw its edges and the nominal."""
    if layer.least is not None or layer.most is not None:
        low = (layer.least or 0) * per
        high = (layer.most if layer.most is not None else 1e6) * per
        axes.axvspan(low, high, color=look.scheme.accent, alpha=0.13, linewidth=0, zorder=0)
        top = 1.15 * max(spot.high_um for spot in layer.spots)
        axes.set_xlim(0, per * max(top, 1.1 * (layer.most or layer.least or top)))
    if layer.nominal is not None:
        axes.axvline(layer.nominal * per, color=look.scheme.accent, linewidth=0.9, linestyle="--")


def _condition(
    axes: Axes,
    layer: _Layer,
    spots: Sequence[_Spot],
    at: int,
    per: float,
    look: Look,
    selection: Selection,
) -> Iterable[Mark]:
    style = look.condition(spots[0].area.condition)
    offset = np.linspace(-0.27, 0.27, len(spots)) if len(spots) > 1 else np.zeros(1)
    y = at + offset
    lit = np.array([selection.lights(s.record.source, area=s.area.ref) for s in spots])
    edge = faded(style.colour, lit)
    axes.hlines(
        y, [spot.low_um * per for spot in spots], [spot.high_um * per for spot in spots],
        colors=edge, linewidth=0.6, zorder=2,
    )  # fmt: skip
    face = edge.copy()
    face[[layer.outside(spot) for spot in spots]] = to_rgba(look.scheme.paper)
    size = 20.0 if len(spots) <= _CROWD else 12.0
    points = axes.scatter(
        [spot.um * per for spot in spots], y, s=size, marker=style.marker, facecolors=face,
        edgecolors=edge, linewidths=0.9, zorder=3,
    )  # fmt: skip
    mean = fmean(spot.um for spot in spots) * per
    axes.plot([mean, mean], [at - 0.42, at + 0.42], color=look.scheme.ink, linewidth=1.4, zorder=4)
    yield Mark(points, tuple(spot.record.source for spot in spots))


def _legend(figure: Figure, layers: Sequence[_Layer], look: Look) -> None:
    """Say what the signs mean that the figure has."""
    scheme = look.scheme
    handles: list[Patch | Line2D] = [
        Line2D([], [], color=scheme.ink, linewidth=1.4, marker="|", linestyle="", markersize=9,
               label="mean of the condition"),
    ]  # fmt: skip
    if any(one.least is not None or one.most is not None for one in layers):
        handles.append(Patch(facecolor=scheme.accent, alpha=0.13, label="specified range"))
    if any(one.nominal is not None for one in layers):
        handles.append(
            Line2D([], [], color=scheme.accent, linestyle="--", linewidth=0.9, label="nominal")
        )
    if any(one.outside(spot) for one in layers for spot in one.spots):
        handles.append(
            Line2D([], [], linestyle="", marker="o", markerfacecolor=scheme.paper,
                   markeredgecolor=scheme.ink, markersize=5, label="spot outside the range (open)")
        )  # fmt: skip
    figure.legend(
        handles=handles, loc="upper left", bbox_to_anchor=(0.01, 1.0), ncols=4, frameon=False,
        fontsize=look.note_pt, labelcolor=scheme.ink, handlelength=1.6,
    )  # fmt: skip


def _place(figure: Figure, layers: Sequence[_Layer], look: Look) -> None:
    width, height = figure.get_size_inches()
    longest = max(len(str(c)) for layer in layers for c in layer.conditions)
    height_mm = height * 25.4
    gaps = _MM_GAP * (len(layers) - 1)
    each_mm = (height_mm - _MM_TOP - _MM_BOTTOM - gaps) / len(layers)
    figure.subplots_adjust(
        left=(longest * 0.55 * look.note_pt + 10) / 72 / width,
        right=0.98,
        top=1 - _MM_TOP / height_mm,
        bottom=_MM_BOTTOM / height_mm,
        hspace=_MM_GAP / max(each_mm, 1.0),
    )
