"""Where each pull broke: the shares of its face, one bar to a pull, or to an area with many."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from textwrap import shorten
from typing import Any

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Patch, Rectangle

from workbench.analysis.strength.results import Pull, StrengthResult
from workbench.figures.look import CONDITION_ORDER, Look
from workbench.figures.markers import FADED
from workbench.figures.marks import NOTHING_CHOSEN, Mark, Marks, Selection
from workbench.records import Dossier, Plane, PlaneKind, Source
from workbench.records.codes import Condition
from workbench.trade.showing import STRESS, Bound

_ROW_MM, _HEAD_MM, _AXIS_MM, _LEGEND_MM = 3.6, 8.0, 10.0, 4.2
_MOST_BARS = 56
"""Pulls that have a bar each on one page; with more, each area has one."""
_DOUBT = "?"
_LEGEND_COLUMNS, _LEGEND_LETTERS = 2, 52
_MOST_SIGNS = 2
"""Entries of the legend beside the planes: the doubt, and the test to be repeated."""
_LEAST_NAMED = 0.08
"""Smallest share that has room for its letters."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Row:
    """One bar: a pull, or the mean of an area's pulls where there are too many for a page.

    Attributes:
        label: Ref of the pull, or how many pulls.
        area: Ref of the area.
        condition: Condition of the area.
        shares: Shares of the face by plane.
        mpa: The reading, or the mean of the readings.
        bound: Whether it is a bound.
        repeat: Whether the test should be repeated.
        pulls: The pulls behind it.
    """

    label: str
    area: str
    condition: Condition
    shares: dict[Plane, float]
    mpa: float
    bound: Bound
    repeat: bool
    pulls: tuple[Pull, ...]


def break_shares_height_mm(result: StrengthResult) -> float:
    """Return how high the figure should be for its rows to be read on a page."""
    bars = _bars(result)
    rows = len(bars) + len({bar.condition for bar in bars})
    return _HEAD_MM + _foot_mm(bars) + _ROW_MM * rows


def _foot_mm(bars: Sequence[_Row]) -> float:
    """Return the height of the axis and of the legend, two entries to a line."""
    planes = {plane for bar in bars for plane in bar.shares}
    return _AXIS_MM + _LEGEND_MM * (-(-(len(planes) + _MOST_SIGNS) // _LEGEND_COLUMNS))


def draw_break_shares(
    figure: Figure,
    dossier: Dossier,
    result: StrengthResult,
    *,
    look: Look | None = None,
    selection: Selection = NOTHING_CHOSEN,
    doubtful: Collection[Source] = (),
) -> Marks:
    """Draw the shares of every pull on untouched film, by condition and area; return the marks.

    Args:
        figure: A figure, `break_shares_height_mm` high on paper; it is emptied.
        dossier: The case.
        result: What the pull-offs say.
        look: How it is drawn.
        selection: What is lit up; the rest is faded.
        doubtful: Pulls that a careful reader doubts; they bear a question mark.
    """
    look = look or Look()
    look.begin(figure)
    bars = [_doubted(bar, doubtful) for bar in _bars(result)]
    height_mm = figure.get_figheight() * 25.4
    bottom = _foot_mm(bars) / height_mm
    room = _Room.of(figure, bars)
    axes = figure.add_axes((room.left, bottom, room.width, 1 - bottom - _HEAD_MM / height_mm))
    rows = _rows(bars)
    tints = _Tints(sorted({p for bar in bars for p in bar.shares}, key=lambda p: p.height))
    marks = []
    for bar, y in zip(bars, rows, strict=True):
        lit = any(_lit(pull, selection) for pull in bar.pulls)
        marks.append(_bar(axes, bar, y, tints, look, lit=lit, chosen=bool(selection)))
        _row_words(axes, bar, y, look, lit=lit)
    _conditions(axes, bars, rows, look, room)
    _dress(axes, rows, look)
    _legend(figure, dossier, bars, tints, look)
    return Marks(tuple(marks))


@dataclass(frozen=True, slots=True)
class _Room:
    """Where the bars stand in the figure, and how far the names of areas reach beside them.

    Attributes:
        left: Left edge of the bars, as part of the figure.
        width: Width of the bars, as part of the figure.
        areas: How far the names of areas reach to the left, as part of the bars.
    """

    left: float
    width: float
    areas: float

    @classmethod
    def of(cls, figure: Figure, bars: Sequence[_Row]) -> "_Room":
        """Return the room that the longest name of an area leaves."""
        whole = figure.get_figwidth() * 25.4
        longest = _LETTER_MM * max((len(bar.area) for bar in bars), default=0)
        beside = max(_LEAST_BESIDE_MM, longest + _BEFORE_AREAS_MM)
        left = min((beside + _CONDITION_MM) / whole, _MOST_LEFT)
        width = _RIGHT - left
        return cls(left, width, beside / (width * whole))


_LETTER_MM, _LEAST_BESIDE_MM, _BEFORE_AREAS_MM, _CONDITION_MM = 1.9, 22.0, 13.5, 13.0
_MOST_LEFT, _RIGHT = 0.45, 0.86


def _doubted(bar: _Row, doubtful: Collection[Source]) -> _Row:
    single = len(bar.pulls) == 1 and bar.pulls[0].source in doubtful
    return replace(bar, label=f"{_DOUBT} {bar.label}") if single else bar


def _bars(result: StrengthResult) -> list[_Row]:
    """Return the bars by condition and area."""
    order = {condition: at for at, condition in enumerate(CONDITION_ORDER)}
    shown = [pull for pull in result.pulls if pull.film.untouched]
    shown.sort(key=lambda pull: (order[pull.condition], pull.area))
    if len(shown) <= _MOST_BARS:
        return [_of_pull(pull, result.settings.glue_repeat) for pull in shown]
    areas = dict.fromkeys((pull.condition, pull.area) for pull in shown)
    return [_of_area([p for p in shown if (p.condition, p.area) == one]) for one in areas]


def _of_pull(pull: Pull, glue_repeat: float) -> _Row:
    repeat = pull.glue > glue_repeat and not pull.came_away
    bound = Bound.AT_LEAST if repeat else Bound.NONE
    return _Row(
        label=pull.source.label,
        area=pull.area,
        condition=pull.condition,
        shares=dict(pull.shares),
        mpa=pull.mpa,
        bound=Bound.AT_MOST if pull.came_away else bound,
        repeat=repeat,
        pulls=(pull,),
    )


def _of_area(pulls: Sequence[Pull]) -> _Row:
    planes = dict.fromkeys(plane for pull in pulls for plane, _ in pull.shares)
    return _Row(
        label=f"{len(pulls)}",
        area=pulls[0].area,
        condition=pulls[0].condition,
        shares={plane: sum(p.share(plane) for p in pulls) / len(pulls) for plane in planes},
        mpa=sum(pull.mpa for pull in pulls) / len(pulls),
        bound=Bound.NONE,
        repeat=False,
        pulls=tuple(pulls),
    )


def _rows(bars: Sequence[_Row]) -> list[float]:
    """Return the height of each row, with a gap where the condition changes."""
    rows, at = [], 0.0
    for before, bar in zip((None, *bars), bars, strict=False):
        at += 1.0 if before is None or before.condition is bar.condition else 2.0
        rows.append(-at)
    return rows


class _Tints:
    """The face of each plane: layers light, the planes between them dark, glue hatched."""

    def __init__(self, planes: Sequence[Plane]) -> None:
        self.planes = tuple(planes)

    def style(self, plane: Plane, look: Look) -> tuple[dict[str, Any], str]:
        """Return the face of a share and the colour of letters on it."""
        scheme = look.scheme
        edge = {"edgecolor": scheme.muted, "linewidth": 0.5}
        if plane.kind is PlaneKind.GLUE:
            glue = {"facecolor": scheme.paper, "hatch": "xxxx", "hatch_linewidth": 0.3}
            return {**edge, **glue}, scheme.ink
        kin = [one for one in self.planes if one.kind is PlaneKind.INTERFACE]
        if plane.kind is PlaneKind.INTERFACE:
            weight = 0.95 - 0.22 * (len(kin) - 1 - kin.index(plane))
            return {**edge, "facecolor": (scheme.accent, max(weight, 0.5))}, scheme.paper
        order = plane.lower or 0
        if order == 0:
            sand = {"facecolor": (scheme.ink, 0.08), "hatch": "....", "hatch_linewidth": 0.3}
            return {**edge, **sand}, scheme.ink
        return {**edge, "facecolor": (scheme.ink, (0.10, 0.22)[order % 2])}, scheme.ink


def _lit(pull: Pull, selection: Selection) -> bool:
    planes = [plane for plane, _ in pull.shares]
    return selection.lights(pull.source, area=pull.area, planes=planes)


def _bar(
    axes: Axes, bar: _Row, y: float, tints: _Tints, look: Look, *, lit: bool, chosen: bool
) -> Mark:
    """Draw the shares from the substrate on the left to the glue on the right."""
    alpha = None if lit else FADED
    left = 0.0
    for plane, share in sorted(bar.shares.items(), key=lambda pair: pair[0].height):
        face, letters = tints.style(plane, look)
        if alpha and isinstance(face["facecolor"], tuple):
            face["facecolor"] = face["facecolor"][0]
        axes.add_patch(Rectangle((left, y - 0.38), share, 0.76, alpha=alpha, **face))
        if share >= _LEAST_NAMED:
            axes.text(
                left + share / 2, y, str(plane), ha="center", va="center_baseline",
                color=letters, fontsize=look.note_pt - 1.5, alpha=alpha,
                bbox={"facecolor": look.scheme.paper, "edgecolor": "none", "pad": 0.6}
                if plane.in_glue else None,
            )  # fmt: skip
        left += share
    whole = Rectangle(
        (0, y - 0.45), 1, 0.9, facecolor="none", picker=True, gid=f"{bar.area} {bar.label}",
        edgecolor=look.scheme.ink if lit and chosen else "none", linewidth=0.9,
    )  # fmt: skip
    axes.add_patch(whole)
    return Mark(whole, tuple(pull.source for pull in bar.pulls), area=bar.area)


def _row_words(axes: Axes, bar: _Row, y: float, look: Look, *, lit: bool) -> None:
    style = look.words(note=True) | {"alpha": None if lit else FADED}
    axes.text(-0.015, y, bar.label, ha="right", va="center_baseline", **style)
    axes.text(-0.125, y, bar.area, ha="right", va="center_baseline", **style)
    words = look.showing.stress(bar.mpa, bound=bar.bound, unit=False)
    axes.text(1.10, y, words, ha="right", va="center_baseline", **style)
    if bar.repeat:
        axes.text(1.115, y, "repeat", ha="left", va="center_baseline", **style)


def _conditions(
    axes: Axes, bars: Sequence[_Row], rows: Sequence[float], look: Look, room: _Room
) -> None:
    """Draw a bar with the condition's colour and name beside its rows."""
    for condition in dict.fromkeys(bar.condition for bar in bars):
        here = [y for bar, y in zip(bars, rows, strict=True) if bar.condition is condition]
        colour = look.condition(condition).colour
        axes.plot(
            [-room.areas, -room.areas], [max(here) + 0.4, min(here) - 0.4], color=colour,
            linewidth=3, clip_on=False, solid_capstyle="butt",
        )  # fmt: skip
        axes.text(
            -room.areas - 0.02, (max(here) + min(here)) / 2, condition, rotation=90, ha="right",
            va="center", color=colour, fontsize=look.text_pt, weight="bold",
        )  # fmt: skip


def _dress(axes: Axes, rows: Sequence[float], look: Look) -> None:
    look.dress(axes)
    axes.set_xlim(0, 1)
    axes.set_ylim(min(rows, default=-1) - 0.7, -0.3)
    axes.set_yticks([])
    axes.spines["left"].set_visible(False)
    axes.set_xticks([0, 0.25, 0.5, 0.75, 1], ["0", "25", "50", "75", "100"])
    axes.set_xlabel("share of the face, %", labelpad=2)
    heads = ((-0.125, "area", "right"), (-0.015, "pull", "right"))
    for x, words, side in (*heads, (1.10, look.axis_label("stress", STRESS), "center")):
        axes.text(x, 0.2, words, ha=side, va="bottom", **look.words(muted=True, note=True))


def _legend(
    figure: Figure, dossier: Dossier, bars: Sequence[_Row], tints: _Tints, look: Look
) -> None:
    coats = dossier.system(bars[0].pulls[0].system) if bars else ()
    handles = [
        Patch(
            **tints.style(plane, look)[0],
            label=shorten(dossier.plane_name(plane, coats), _LEGEND_LETTERS, placeholder=" …"),
        )
        for plane in tints.planes
    ]
    if any(bar.label.startswith(_DOUBT) for bar in bars):
        handles.append(Patch(alpha=0, label=f"{_DOUBT}  a doubt about it is told in the text"))
    if any(bar.repeat for bar in bars):
        told = "repeat: too much of the face broke in the glue"
        handles.append(Patch(alpha=0, label=told))
    figure.legend(
        handles=handles, loc="lower center", ncols=_LEGEND_COLUMNS, frameon=False,
        fontsize=look.note_pt, labelcolor=look.scheme.ink, borderaxespad=0.2, columnspacing=1.6,
        labelspacing=0.4,
    )  # fmt: skip
