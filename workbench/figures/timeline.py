"""The application as a timeline: coats and recoat windows by area, dew-point margin below."""

from collections.abc import Iterable
from datetime import datetime, timedelta

import numpy as np
from matplotlib.axes import Axes
from matplotlib.dates import AutoDateLocator, date2num
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Patch, Rectangle

from workbench.analysis.application import Bar, Happened, MarginAt, Opening, Timeline
from workbench.figures.days import DayFormatter
from workbench.figures.look import Look
from workbench.figures.markers import faded
from workbench.figures.marks import NOTHING_CHOSEN, Mark, Marks, Selection
from workbench.records import layer_sign
from workbench.records.codes import Condition
from workbench.trade.showing import DIFFERENCE, HOURS
from workbench.trade.units import convert_difference

_TOP, _HEIGHT = -0.2, 0.4
"""Where in its row a coat begins, and how high it is; its letter stands above, events below."""
_FADED = 0.25
_BEFORE, _AFTER = timedelta(hours=12), timedelta(hours=48)
_MM_PER_ROW, _MM_BESIDE = 9.0, 66.0
_LONGEST_NAME = 20


def timeline_height_mm(timeline: Timeline) -> float:
    """Return how high the figure should be on paper for all its rows to be read."""
    return _MM_PER_ROW * max(3, len(timeline.areas)) + _MM_BESIDE


def draw_timeline(
    figure: Figure,
    timeline: Timeline,
    *,
    look: Look | None = None,
    selection: Selection = NOTHING_CHOSEN,
) -> Marks:
    """Draw coats and recoat windows by area, and the margin above the dew point below them.

    A recoat window is a shaded band; where the next coat came after it, the time beyond is
    hatched and its length stands beside it. Margins while a coat went on are filled, those below
    the margin asked for point down.

    Args:
        figure: A figure of any size; it is emptied.
        timeline: What was applied where and when.
        look: How it is drawn.
        selection: What is lit up; the rest is faded.
    """
    look = look or Look()
    look.begin(figure)
    if not timeline.bars:
        figure.text(0.5, 0.5, "no coat with a date is recorded", ha="center", **look.words())
        return Marks()
    rows = max(3, len(timeline.areas))
    above, below = figure.subplots(2, 1, sharex=True, height_ratios=(rows * _MM_PER_ROW, 32))
    _time_axis(above, below, timeline, look)
    marks = [*_rows(above, timeline, look, selection), *_margins(below, timeline, look, selection)]
    _legend(figure, timeline, look)
    _place(figure, timeline, look)
    return Marks(tuple(marks))


def _place(figure: Figure, timeline: Timeline, look: Look) -> None:
    """Leave room for the names at the left and the legend above, whatever the figure's size."""
    width, height = figure.get_size_inches()
    longest = max(len(_area_label(ref, timeline.names)) for ref in timeline.areas)
    left = (longest * 0.52 * look.note_pt + 24) / 72 / width
    figure.subplots_adjust(
        left=min(0.4, max(0.1, left)),
        right=0.985,
        top=1 - 4.2 * look.note_pt / 72 / height,
        bottom=3.4 * look.note_pt / 72 / height,
        hspace=0.06,
    )


def _rows(axes: Axes, timeline: Timeline, look: Look, selection: Selection) -> Iterable[Mark]:
    place = {ref: at for at, ref in enumerate(timeline.areas)}
    look.dress(axes)
    axes.set_ylim(len(place) - 0.5, -0.5)
    axes.set_yticks(list(place.values()), [_area_label(ref, timeline.names) for ref in place])
    axes.tick_params(axis="y", length=0, pad=14)
    axes.spines["left"].set_visible(False)
    for at in range(1, len(place)):
        axes.axhline(at - 0.5, color=look.scheme.faint, linewidth=0.6, zorder=0)
    _conditions(axes, timeline, look)
    lanes = max((one.order for one in timeline.openings), default=1)
    for opening in timeline.openings:
        _window(
            axes, opening, place[opening.area], lanes, look, dim=_is_faded(opening.area, selection)
        )
    for bar in timeline.bars:
        yield _coat(axes, bar, place[bar.area], look, dim=_is_faded(bar.area, selection))
    for event in timeline.events if _has_room(axes, rows=len(place)) else ():
        if event.area in place:
            _event(axes, event, place[event.area], look)


def _has_room(axes: Axes, rows: int) -> bool:
    """Return whether a row is high enough to name what else happened below its coats."""
    figure = axes.get_figure()
    height_mm = figure.bbox.height / figure.dpi * 25.4 if figure else 0.0
    return height_mm - _MM_BESIDE >= 0.75 * _MM_PER_ROW * rows


def _is_faded(area: str, selection: Selection) -> bool:
    return bool(selection.areas) and area not in selection.areas


def _area_label(ref: str, names: dict[str, str]) -> str:
    name = names[ref]
    short = name if len(name) <= _LONGEST_NAME else f"{name[: _LONGEST_NAME - 1]}…"
    return short if ref in short else f"{ref}  {short}"


def _conditions(axes: Axes, timeline: Timeline, look: Look) -> None:
    """Set the marker of its condition beside each area."""
    for at, ref in enumerate(timeline.areas):
        style = look.condition(timeline.conditions[ref])
        axes.plot(
            -0.012, at, transform=axes.get_yaxis_transform(), clip_on=False, linestyle="",
            marker=style.marker, markersize=5, color=style.colour,
        )  # fmt: skip


def _coat(axes: Axes, bar: Bar, at: int, look: Look, *, dim: bool) -> Mark:
    start, end = _at(bar.start), _at(bar.end)
    prepared = bar.order == 0
    alpha = _FADED if dim else 1
    shape = Rectangle(
        (start, at + _TOP),
        max(end - start, 0.02),
        _HEIGHT,
        facecolor="none" if prepared else look.scheme.ink,
        edgecolor=look.scheme.ink,
        linewidth=0.7,
        alpha=alpha,
        zorder=0.5 if prepared else 3,
    )
    axes.add_patch(shape)
    if not prepared:
        _write(axes, layer_sign(bar.order), (start + end) / 2, at + _TOP, look, alpha=alpha)
    return Mark(shape, bar.sources, area=bar.area)


def _write(
    axes: Axes,
    words: str,
    x: float,
    y: float,
    look: Look,
    *,
    beside: bool = False,
    alpha: float = 1,
) -> None:
    """Write a few words above a point, or at its right."""
    axes.annotate(
        words, (x, y), (3, 0) if beside else (0, 1), textcoords="offset points",
        ha="left" if beside else "center", va="center" if beside else "bottom",
        zorder=5, alpha=alpha, **look.words(note=True),
    )  # fmt: skip


def _window(axes: Axes, opening: Opening, at: int, lanes: int, look: Look, *, dim: bool) -> None:
    """Draw the window after a coat in its lane, and how far the next coat missed it."""
    height = _HEIGHT / lanes
    bottom = at + _TOP + (lanes - opening.order) * height
    alpha = _FADED if dim else 1
    opens, ends = _at(opening.opens), opening.closes or opening.followed
    closes = _at(ends) if ends else axes.get_xlim()[1]
    axes.add_patch(
        Rectangle(
            (opens, bottom), max(closes - opens, 0.0), height,
            facecolor=look.scheme.accent, alpha=0.28 * alpha, linewidth=0, zorder=1,
        )
    )  # fmt: skip
    if opening.followed and opening.missed:
        _miss(axes, opening, opening.followed, (bottom, height), look, alpha)
    elif opening.followed and opening.missed is None:
        x = _at(opening.laid_until or opening.followed)
        _write(axes, "?", x, bottom + height / 2, look, beside=True, alpha=alpha)


def _miss(
    axes: Axes,
    opening: Opening,
    followed: datetime,
    lane: tuple[float, float],
    look: Look,
    alpha: float,
) -> None:
    """Hatch the time between a window and the coat that missed it, and say how long it is."""
    late = opening.closes is not None and followed > opening.closes
    edge = opening.closes if late and opening.closes else opening.opens
    first, last = sorted((_at(edge), _at(followed)))
    bottom, height = lane
    axes.add_patch(
        Rectangle(
            (first, bottom), last - first, height, facecolor="none",
            edgecolor=look.condition(Condition.FAILING).colour, hatch="//////",
            linewidth=0.8, alpha=alpha, zorder=2,
        )
    )  # fmt: skip
    length = look.showing.value(HOURS, abs((followed - edge).total_seconds()) / 3600)
    x = _at(opening.laid_until or followed)
    words = f"+{length}" if late else f"−{length}"
    _write(axes, words, x, bottom + height / 2, look, beside=True, alpha=alpha)


def _event(axes: Axes, event: Happened, at: int, look: Look) -> None:
    """Draw what else happened as a line below the coats of an area, with its name."""
    first, last = axes.get_xlim()
    start, end = max(first, _at(event.start)), min(last, _at(event.end))
    y = at + _TOP + _HEIGHT + 0.04
    axes.plot([start, end], [y, y], color=look.scheme.muted, linewidth=1.2, solid_capstyle="butt")
    axes.annotate(
        event.event.replace("_", " "), (start, y), (0, -1), textcoords="offset points",
        ha="left", va="top", style="italic", **look.words(note=True, muted=True),
    )  # fmt: skip


def _margins(axes: Axes, timeline: Timeline, look: Look, selection: Selection) -> Iterable[Mark]:
    look.dress(axes, grid="y")
    axes.set_ylabel(look.axis_label("above\ndew point", DIFFERENCE), fontsize=look.note_pt)
    if not timeline.margins:
        axes.text(
            0.5, 0.5, "surface and dew point are not recorded", transform=axes.transAxes,
            ha="center", **look.words(muted=True),
        )  # fmt: skip
        return
    per_k = convert_difference(1, "degC", look.unit(DIFFERENCE))
    required = sorted({one.required_k for one in timeline.margins})
    for asked in required:
        axes.axhline(asked * per_k, color=look.scheme.ink, linewidth=0.9, linestyle=(0, (5, 3)))
        said = look.showing.difference(asked)
        axes.annotate(
            f"{said} asked for", (0, asked * per_k), (4, -2), xycoords=("axes fraction", "data"),
            textcoords="offset points", ha="left", va="top", **look.words(note=True),
        )  # fmt: skip
    lowest = min(one.margin_k for one in timeline.margins) * per_k
    axes.axhspan(
        min(0.0, lowest) - 1, required[0] * per_k, color=look.scheme.faint, alpha=0.55, zorder=0
    )
    yield from _points(axes, timeline.margins, per_k, look, selection)
    axes.set_ylim(min(0.0, lowest) - 0.6 * per_k)


def _points(
    axes: Axes,
    margins: tuple[MarginAt, ...],
    per_k: float,
    look: Look,
    selection: Selection,
) -> Iterable[Mark]:
    failing = look.condition(Condition.FAILING).colour
    groups = (
        ([one for one in margins if not one.working], "o", 6.0, "none", look.scheme.muted),
        ([one for one in margins if one.working and one.margin_k >= one.required_k],
         "o", 22.0, look.scheme.accent, look.scheme.accent),
        ([one for one in margins if one.working and one.margin_k < one.required_k],
         "v", 42.0, failing, failing),
    )  # fmt: skip
    for held, marker, size, face, edge in groups:
        if not held:
            continue
        lit = np.array([not _is_far(one, selection) for one in held])
        points = axes.scatter(
            [_at(one.time) for one in held],
            [one.margin_k * per_k for one in held],
            s=size,
            marker=marker,
            facecolors=face if face == "none" else faded(face, lit),
            edgecolors=faded(edge, lit),
            linewidths=0.7,
            zorder=3,
        )
        yield Mark(points, tuple(one.source for one in held))


def _is_far(one: MarginAt, selection: Selection) -> bool:
    """Return whether a margin has nothing to do with what is chosen."""
    other = bool(selection.sources) and one.source not in selection.sources
    elsewhere = bool(selection.areas and one.areas) and selection.areas.isdisjoint(one.areas)
    return other or elsewhere


def _time_axis(above: Axes, below: Axes, timeline: Timeline, look: Look) -> None:
    first = min(bar.start for bar in timeline.bars) - _BEFORE
    last = max(bar.end for bar in timeline.bars) + _AFTER
    zone = first.tzinfo
    above.tick_params(axis="x", length=0, labelbottom=False)
    locator = AutoDateLocator(tz=zone, minticks=4, maxticks=12)  # type: ignore[no-untyped-call]
    below.xaxis.set_major_locator(locator)
    below.xaxis.set_major_formatter(DayFormatter(locator, zone))
    below.xaxis.get_offset_text().set(color=look.scheme.muted, fontsize=look.note_pt)
    below.set_xlim(_at(first), _at(last))
    above.grid(visible=True, axis="x", color=look.scheme.faint, linewidth=0.6)
    below.grid(visible=True, axis="x", color=look.scheme.faint, linewidth=0.6)


def _legend(figure: Figure, timeline: Timeline, look: Look) -> None:
    """Say what the signs mean that the figure has."""
    scheme = look.scheme
    failing = look.condition(Condition.FAILING).colour
    away = Patch(
        facecolor="none", edgecolor=failing, hatch="//////", label="outside the window, by"
    )
    missed = [one.missed for one in timeline.openings if one.missed]
    small = [one for one in timeline.margins if one.margin_k < one.required_k]
    working = [one for one in timeline.margins if one.working]
    told: list[tuple[object, Patch | Line2D]] = [
        (True, Patch(facecolor=scheme.ink, label="coat")),
        (
            any(bar.order == 0 for bar in timeline.bars),
            Patch(facecolor=scheme.paper, edgecolor=scheme.ink, label="preparation"),
        ),
        (
            timeline.openings,
            Patch(facecolor=scheme.accent, alpha=0.28, label="recoat window (? left open)"),
        ),
        (missed, away),
        (working, _point("o", scheme.accent, scheme.accent, "margin while coating")),
        (small, _point("v", failing, failing, "too small a margin")),
        (
            len(working) < len(timeline.margins),
            _point("o", "none", scheme.muted, "at other times"),
        ),
    ]
    figure.legend(
        handles=[handle for present, handle in told if present], loc="upper left",
        bbox_to_anchor=(0.01, 1.0), ncols=4, frameon=False, fontsize=look.note_pt,
        labelcolor=scheme.ink, handlelength=1.6, columnspacing=1.6,
    )  # fmt: skip


def _at(moment: datetime) -> float:
    """Return a moment as the axis counts it."""
    return float(date2num(moment))  # type: ignore[no-untyped-call]


def _point(marker: str, face: str, edge: str, label: str) -> Line2D:
    return Line2D(
        [], [], linestyle="", marker=marker, markerfacecolor=face, markeredgecolor=edge,
        markersize=5, label=label,
    )  # fmt: skip
