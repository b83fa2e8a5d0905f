"""What the failure follows: the areas set out by day, wait, batch, crew, treatment and feature."""

import math
from calendar import month_abbr
from collections.abc import Sequence
from datetime import date

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.lines import Line2D

from workbench.analysis.pattern.results import Pattern, Tally
from workbench.figures.look import Look
from workbench.figures.markers import FADED
from workbench.figures.marks import NOTHING_CHOSEN, Mark, Marks, Selection
from workbench.records import Source
from workbench.records.codes import Condition

_ROW_MM, _HEAD_MM, _FOOT_MM = 10.5, 7.0, 9.0
_LEFT, _RIGHT = 0.252, 0.82
MOST_ROWS = 14
"""Groupings drawn; the rest stand in the table beside the figure."""


def pattern_height_mm(patterns: Sequence[Pattern]) -> float:
    """Return how high the figure should be for its rows to be read on a page."""
    return _HEAD_MM + _FOOT_MM + _ROW_MM * max(1, min(len(patterns), MOST_ROWS))


def draw_pattern(
    figure: Figure,
    patterns: Sequence[Pattern],
    *,
    look: Look | None = None,
    selection: Selection = NOTHING_CHOSEN,
) -> Marks:
    """Draw a row for each grouping, strongest first, with its areas under each value.

    Where each value holds areas of one kind only, the row is drawn in full ink; p stands at the
    end of the row with the number of areas behind it.

    Args:
        figure: A figure, `pattern_height_mm` high on paper; it is emptied.
        patterns: What was looked at, in the order to show.
        look: How it is drawn.
        selection: Areas chosen are drawn in full, the rest faded.
    """
    look = look or Look()
    look.begin(figure)
    shown = patterns[:MOST_ROWS]
    if not shown:
        words = "No grouping of the areas takes more than one value."
        figure.text(0.5, 0.5, words, ha="center", **look.words())
        return Marks()
    height_mm = figure.get_figheight() * 25.4
    bottom, top = _FOOT_MM / height_mm, 1 - _HEAD_MM / height_mm
    axes = figure.add_axes((0, bottom, 1, top - bottom))
    axes.set(xlim=(0, 1), ylim=(len(shown), 0))
    axes.axis("off")
    marks = [
        mark for row, one in enumerate(shown) for mark in _row(axes, one, row, look, selection)
    ]
    _heads(axes, look, len(patterns))
    _legend(figure, look)
    return Marks(tuple(marks))


def _row(axes: Axes, pattern: Pattern, row: int, look: Look, selection: Selection) -> list[Mark]:
    bold = "bold" if pattern.clean else "normal"
    axes.axhline(row, 0.01, 0.99, color=look.scheme.faint, linewidth=0.6)
    name, _, of = pattern.name.partition(", ")
    axes.text(0.012, row + 0.36, name, va="center", weight=bold, **look.words(note=True))
    axes.text(0.012, row + 0.70, of, va="center", **look.words(muted=True, note=True))
    marks = []
    left = _LEFT
    width = (_RIGHT - _LEFT) / max(sum(map(_room, pattern.tallies)), 1)
    for tally in pattern.tallies:
        right = left + width * _room(tally)
        marks += _value(axes, tally, row, (left, right), look, selection)
        left = right
    p = "" if pattern.p is None else f"p {pattern.p:.2g}"
    axes.text(0.895, row + 0.36, p, va="center", ha="right", weight=bold, **look.words(note=True))
    words = f"{pattern.areas} areas"
    axes.text(
        0.895, row + 0.70, words, va="center", ha="right", **look.words(muted=True, note=True)
    )
    if pattern.p_readings is not None:
        p = f"{pattern.p_readings:.2g}"
        axes.text(0.988, row + 0.36, p, va="center", ha="right", **look.words(note=True))
    return marks


def _room(tally: Tally) -> int:
    """Return how many places wide a value is drawn: its areas, and its own name."""
    areas = len(tally.failing) + len(tally.holding)
    return max(areas + 1, math.ceil(len(_short(tally.value)) / 5))


def _short(value: str) -> str:
    """Return a day without its year, as "6 Mar"; any other value as it is."""
    try:
        day = date.fromisoformat(value)
    except ValueError:
        return value
    return f"{day.day} {month_abbr[day.month]}"


def _value(
    axes: Axes,
    tally: Tally,
    row: int,
    span: tuple[float, float],
    look: Look,
    selection: Selection,
) -> list[Mark]:
    """Draw one value: its name above, its areas side by side below, failing ones first."""
    left, right = span
    axes.plot([left, left], [row + 0.14, row + 0.86], color=look.scheme.muted, linewidth=0.6)
    axes.text(left + 0.006, row + 0.26, _short(tally.value), va="center", **look.words(note=True))
    refs = [(ref, Condition.FAILING) for ref in tally.failing]
    refs += [(ref, Condition.NON_FAILING) for ref in tally.holding]
    step = min(0.052, (right - left - 0.01) / max(len(refs), 1))
    marks = []
    for at, (ref, condition) in enumerate(refs):
        style = look.condition(condition)
        lit = not selection.areas or ref in selection.areas
        x = left + 0.013 + step * at
        (point,) = axes.plot(
            [x], [row + 0.64], linestyle="none", marker=style.marker, markersize=4.6,
            color=style.colour, alpha=1.0 if lit else FADED, picker=4, gid=f"area {ref}",
            markerfacecolor=style.colour if condition is Condition.FAILING else look.scheme.paper,
        )  # fmt: skip
        axes.text(
            x + 0.009, row + 0.65, ref, va="center", alpha=1.0 if lit else FADED,
            color=style.colour, fontsize=look.note_pt - 0.5,
        )  # fmt: skip
        marks.append(Mark(point, (Source("area", ref),), area=ref))
    return marks


def _heads(axes: Axes, look: Look, looked_at: int) -> None:
    words = look.words(muted=True, note=True)
    axes.text(0.012, -0.12, f"grouping ({looked_at} looked at)", va="bottom", **words)
    axes.text(_LEFT + 0.006, -0.12, "value, and the areas with it", va="bottom", **words)
    axes.text(0.895, -0.12, "p, areas", va="bottom", ha="right", **words)
    axes.text(0.988, -0.12, "p, pulls", va="bottom", ha="right", **words)


def _legend(figure: Figure, look: Look) -> None:
    failing, holding = (look.condition(one) for one in (Condition.FAILING, Condition.NON_FAILING))
    handles = [
        Line2D([], [], linestyle="none", marker=failing.marker, color=failing.colour,
               markersize=4.6, label="failing area"),
        Line2D([], [], linestyle="none", marker=holding.marker, color=holding.colour,
               markersize=4.6, markerfacecolor=look.scheme.paper,
               label="area that holds (non-failing or control)"),
        Line2D([], [], linestyle="none", label="p before correction; a lead, not a cause"),
    ]  # fmt: skip
    figure.legend(
        handles=handles, loc="lower center", ncols=3, frameon=False, fontsize=look.note_pt,
        labelcolor=look.scheme.ink, borderaxespad=0.2, handletextpad=0.3, columnspacing=1.4,
    )  # fmt: skip
