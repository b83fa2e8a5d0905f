"""One side of the layer stack: the readings of each plane, with its estimate or bound."""

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from numpy.typing import NDArray

from workbench.analysis.strength.evidence import says_of
from workbench.analysis.strength.results import Group, Method, Pull
from workbench.figures.look import Look
from workbench.figures.markers import ARROW_LEFT, ARROW_RIGHT, FADED, faded
from workbench.figures.marks import Mark, Selection
from workbench.records import Plane
from workbench.records.codes import Condition
from workbench.trade.showing import STRESS, Bound

_BROKE, _HELD, _ESTIMATE = 0.42, 0.15, 0.74
"""Lanes within a row, from its bottom: readings that broke here, that held, the estimate."""
_ROOM_FOR_WORDS = 2.0
"""Length of the axis over the length of its scale."""
_STAGGER = (0.0, 0.08, -0.08, 0.16, -0.16)
_STEPS = (0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000)


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """One side of the figure.

    Attributes:
        axes: Where it is drawn; stress grows away from the stack.
        condition: The condition it shows.
        groups: Its planes.
        pulls: The pulls behind them.
        highest: End of the scale of stress, in the unit shown.
        per_si: How many of the unit shown one MPa is.
        outward: +1 on the right, −1 on the left.
    """

    axes: Axes
    condition: Condition
    groups: tuple[Group, ...]
    pulls: tuple[Pull, ...]
    highest: float
    per_si: float
    outward: int


def draw_panel(
    panel: Panel, rows: dict[Plane, float], look: Look, selection: Selection
) -> Iterable[Mark]:
    """Draw one side, its rows at the heights given, and return what can be picked."""
    _dress(panel, len(rows), look)
    _usual_mean(panel, len(rows), look)
    for group in panel.groups:
        base = rows[group.plane] - 0.5
        hidden = selection.plane is not None and selection.plane != group.plane
        strength = FADED if hidden else 1.0
        yield from _readings(panel, group, base, look, selection)
        _estimate(panel, group, base + _ESTIMATE, look, strength)
        _words(panel, group, base, look, strength)


def _dress(panel: Panel, rows: int, look: Look) -> None:
    axes, right = panel.axes, panel.outward > 0
    look.dress(axes)
    axes.patch.set_alpha(0)
    end = panel.highest * _ROOM_FOR_WORDS
    axes.set_xlim((0, end) if right else (end, 0))
    axes.set_ylim(0, rows)
    step = next((one for one in _STEPS if panel.highest / one <= 5), panel.highest)
    ticks = np.arange(0, panel.highest * (1 + 1e-9), step)
    axes.set_xticks(ticks)
    axes.set_yticks([])
    axes.spines["left"].set_visible(right)
    axes.spines["right"].set_visible(not right)
    axes.spines["right"].set_color(look.scheme.muted)
    axes.spines["right"].set_linewidth(0.6)
    axes.spines["bottom"].set_bounds(0, float(ticks[-1]))
    axes.set_xlabel(look.axis_label("stress", STRESS), loc="left" if right else "right", labelpad=2)
    for tick in ticks:
        axes.axvline(tick, color=look.scheme.faint, linewidth=0.5, zorder=0)
    areas = len({pull.area for pull in panel.pulls})
    counts = f"{len(panel.pulls)} pulls, {areas} area{'' if areas == 1 else 's'}"
    axes.set_title(
        f"{panel.condition}: {counts}", loc="left" if right else "right", weight="bold", pad=13,
        color=look.condition(panel.condition).colour, fontsize=look.text_pt + 0.5,
    )  # fmt: skip


def _usual_mean(panel: Panel, rows: int, look: Look) -> None:
    """Draw the mean of all readings through all rows: it tells the strength of none of them."""
    naive = panel.groups[0].naive if panel.groups else None
    if naive is None or naive.mean_mpa is None:
        return
    x = naive.mean_mpa * panel.per_si
    panel.axes.plot(
        [x, x], [0, rows], color=look.scheme.muted, linewidth=0.8, linestyle=(0, (1, 2)), zorder=1
    )
    panel.axes.text(
        x, rows + 0.03, "mean of all", ha="center", va="bottom", **look.words(muted=True, note=True)
    )


def _readings(
    panel: Panel, group: Group, base: float, look: Look, selection: Selection
) -> Iterable[Mark]:
    """Draw what held, what came away and what broke here, each in its lane."""
    arrows = (ARROW_RIGHT, ARROW_LEFT)
    outward, inward = arrows if panel.outward > 0 else arrows[::-1]
    style = look.condition(panel.condition)
    said = [(pull, shares) for pull in panel.pulls if (shares := says_of(pull, group.plane))]
    lanes: tuple[tuple[list[tuple[Pull, float]], float, Any, str, float, float], ...] = (
        ([(p, 0.0) for p, s in said if s == (0.0, 0.0)], _HELD, outward, look.scheme.muted, 30, 0),
        ([(p, s[1]) for p, s in said if s[1]], _BROKE, inward, style.colour, 60, 0),
        ([(p, s[0]) for p, s in said if s[0]], _BROKE, style.marker, style.colour, 4, 14),
    )
    for here, lane, marker, colour, least, more in lanes:
        if not here:
            continue
        x = np.array([pull.mpa for pull, _ in here]) * panel.per_si
        lit = np.array([_lit(pull, group.plane, selection) for pull, _ in here], bool)
        colours = faded(colour, lit)
        points = panel.axes.scatter(
            x,
            base + lane + _spread(x / panel.highest),
            s=[least + more * share for _, share in here],
            marker=marker,
            facecolors="none" if marker in arrows else colours,
            edgecolors=colours if marker in arrows else faded(look.scheme.paper, lit),
            linewidths=0.8 if marker in arrows else 0.4,
            zorder=4,
            picker=True,
        )
        yield Mark(points, tuple(pull.source for pull, _ in here), plane=group.plane)


def _lit(pull: Pull, plane: Plane, selection: Selection) -> bool:
    return selection.lights(pull.source, area=pull.area, planes=[plane])


def _spread(x: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return how far each point moves up or down so that near ones stand beside each other."""
    offsets = np.zeros(x.size)
    order = np.argsort(x, kind="stable")
    run = 0
    for before, at in pairwise(order.tolist()):
        run = run + 1 if x[at] - x[before] < 0.035 else 0
        offsets[at] = _STAGGER[run % len(_STAGGER)]
    return offsets


def _estimate(panel: Panel, group: Group, y: float, look: Look, strength: float) -> None:
    """Draw the median with its interval; an arrow where only a bound can be told."""
    colour = (look.condition(panel.condition).colour, strength)
    axes, per_si, end = panel.axes, panel.per_si, panel.highest
    if group.extrapolated and group.at_least_mpa is not None:
        _arrow(panel, min(group.at_least_mpa * per_si, end), y, colour, outward=True)
    elif group.method is Method.UPPER_BOUND and group.high_mpa is not None:
        _arrow(panel, min(group.high_mpa * per_si, end), y, colour, outward=False)
    elif group.median_mpa is not None:
        low, high = ((group.low_mpa or 0) * per_si, (group.high_mpa or 0) * per_si)
        dash = ":" if group.tentative else "-"
        axes.plot(
            [low, min(high, end)], [y, y], color=colour, linewidth=2, linestyle=dash, zorder=3
        )
        if high > end:
            _arrow(panel, end, y, colour, outward=True)
        axes.plot(
            [group.median_mpa * per_si] * 2, [y - 0.13, y + 0.13], color=colour, linewidth=2.4,
            solid_capstyle="butt", zorder=4,
        )  # fmt: skip


def _arrow(panel: Panel, x: float, y: float, colour: Any, *, outward: bool) -> None:  # noqa: ANN401 - a colour
    length = panel.highest * (0.16 if outward else -min(0.16, 0.9 * x / panel.highest))
    panel.axes.annotate(
        "", xy=(x + length, y), xytext=(x, y), zorder=3, annotation_clip=False,
        arrowprops={"arrowstyle": "|-|,widthA=0.25,widthB=0", "color": colour, "linewidth": 1.6,
                    "shrinkA": 0, "shrinkB": 0},
    )  # fmt: skip
    panel.axes.annotate(
        "", xy=(x + length, y), xytext=(x, y), zorder=3, annotation_clip=False,
        arrowprops={"arrowstyle": "-|>", "color": colour, "linewidth": 1.6, "shrinkA": 0,
                    "shrinkB": 0, "mutation_scale": 8},
    )  # fmt: skip


def _words(panel: Panel, group: Group, base: float, look: Look, strength: float) -> None:
    """Say the number and the counts at the outer end of the row."""
    x = panel.highest * _ROOM_FOR_WORDS
    place = "right" if panel.outward > 0 else "left"
    lines = (_number(group, look), *_counts(group))
    for at, words in enumerate(lines):
        style = look.words(muted=at > 0, note=at > 0)
        y = base + (0.76, 0.46, 0.20)[at]
        panel.axes.text(x, y, words, ha=place, va="center", alpha=strength, **style)


def _number(group: Group, look: Look) -> str:
    show = look.showing.stress
    if group.extrapolated and group.at_least_mpa is not None:
        return show(group.at_least_mpa, bound=Bound.AT_LEAST, unit=False)
    if group.method is Method.UPPER_BOUND and group.high_mpa is not None:
        return show(group.high_mpa, bound=Bound.AT_MOST, unit=False)
    if group.median_mpa is None:
        return "no number"
    return show(group.median_mpa, low=group.low_mpa, high=group.high_mpa, unit=False)


def _counts(group: Group) -> tuple[str, ...]:
    if not group.n:
        return ("no pull tells",)
    parted = f"{group.broke_here + group.at_most} of {group.n} parted here"
    return (parted, f"{group.at_most} before load") if group.at_most else (parted,)
