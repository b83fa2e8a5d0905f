"""Where each pull broke: the shares of its face, one bar to a pull."""

from collections.abc import Sequence
from typing import Any

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Patch, Rectangle

from workbench.analysis.strength.results import Pull, StrengthResult
from workbench.figures.look import CONDITION_ORDER, Look
from workbench.figures.markers import FADED
from workbench.figures.marks import NOTHING_CHOSEN, Mark, Marks, Selection
from workbench.records import Dossier, Plane, PlaneKind
from workbench.trade.showing import STRESS, Bound

_ROW_MM, _HEAD_MM, _FOOT_MM = 3.6, 8.0, 21.0
_LEAST_NAMED = 0.08
"""Smallest share that has room for its letters."""


def break_shares_height_mm(result: StrengthResult) -> float:
    """Return how high the figure should be for its rows to be read on a page."""
    pulls = _ordered(result)
    breaks_between = len({pull.condition for pull in pulls})
    return _HEAD_MM + _FOOT_MM + _ROW_MM * (len(pulls) + breaks_between)


def draw_break_shares(
    figure: Figure,
    dossier: Dossier,
    result: StrengthResult,
    *,
    look: Look | None = None,
    selection: Selection = NOTHING_CHOSEN,
) -> Marks:
    """Draw the shares of every pull on untouched film, by condition and area; return the marks.

    Args:
        figure: A figure, `break_shares_height_mm` high on paper; it is emptied.
        dossier: The case.
        result: What the pull-offs say.
        look: How it is drawn.
        selection: What is lit up; the rest is faded.
    """
    look = look or Look()
    look.begin(figure)
    pulls = _ordered(result)
    height_mm = figure.get_figheight() * 25.4
    bottom = _FOOT_MM / height_mm
    axes = figure.add_axes((0.24, bottom, 0.62, 1 - bottom - _HEAD_MM / height_mm))
    rows = _rows(pulls)
    tints = _Tints(sorted({p for pull in pulls for p, _ in pull.shares}, key=lambda p: p.height))
    marks = []
    for pull, y in zip(pulls, rows, strict=True):
        marks.append(_bar(axes, pull, y, tints, look, selection))
        repeat = pull.glue > result.settings.glue_repeat
        _row_words(axes, pull, y, look, lit=_lit(pull, selection), repeat=repeat)
    _conditions(axes, pulls, rows, look)
    _dress(axes, rows, look)
    _legend(figure, dossier, pulls, tints, look)
    return Marks(tuple(marks))


def _ordered(result: StrengthResult) -> list[Pull]:
    order = {condition: at for at, condition in enumerate(CONDITION_ORDER)}
    shown = [pull for pull in result.pulls if pull.film.untouched]
    return sorted(shown, key=lambda pull: (order[pull.condition], pull.area))


def _rows(pulls: Sequence[Pull]) -> list[float]:
    """Return the height of each row, with a gap where the condition changes."""
    rows, at = [], 0.0
    for before, pull in zip((None, *pulls), pulls, strict=False):
        at += 1.0 if before is None or before.condition is pull.condition else 2.0
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


def _bar(axes: Axes, pull: Pull, y: float, tints: _Tints, look: Look, selection: Selection) -> Mark:
    """Draw the shares from the substrate on the left to the glue on the right."""
    lit = _lit(pull, selection)
    alpha = None if lit else FADED
    left = 0.0
    for plane, share in sorted(pull.shares, key=lambda pair: pair[0].height):
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
        (0, y - 0.45), 1, 0.9, facecolor="none", picker=True, gid=str(pull.source),
        edgecolor=look.scheme.ink if lit and selection else "none", linewidth=0.9,
    )  # fmt: skip
    axes.add_patch(whole)
    return Mark(whole, (pull.source,), area=pull.area)


def _row_words(axes: Axes, pull: Pull, y: float, look: Look, *, lit: bool, repeat: bool) -> None:
    style = look.words(note=True) | {"alpha": None if lit else FADED}
    axes.text(-0.015, y, pull.source.label, ha="right", va="center_baseline", **style)
    axes.text(-0.125, y, pull.area, ha="right", va="center_baseline", **style)
    bound = Bound.AT_MOST if pull.came_away else Bound.NONE
    if repeat and not pull.came_away:
        bound = Bound.AT_LEAST
        axes.text(1.115, y, "repeat", ha="left", va="center_baseline", **style)
    words = look.showing.stress(pull.mpa, bound=bound, unit=False)
    axes.text(1.10, y, words, ha="right", va="center_baseline", **style)


def _conditions(axes: Axes, pulls: Sequence[Pull], rows: Sequence[float], look: Look) -> None:
    """Draw a bar with the condition's colour and name beside its rows."""
    for condition in dict.fromkeys(pull.condition for pull in pulls):
        here = [y for pull, y in zip(pulls, rows, strict=True) if pull.condition is condition]
        colour = look.condition(condition).colour
        axes.plot(
            [-0.225, -0.225], [max(here) + 0.4, min(here) - 0.4], color=colour, linewidth=3,
            clip_on=False, solid_capstyle="butt",
        )  # fmt: skip
        axes.text(
            -0.245, (max(here) + min(here)) / 2, condition, rotation=90, ha="right", va="center",
            color=colour, fontsize=look.text_pt, weight="bold",
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
    figure: Figure, dossier: Dossier, pulls: Sequence[Pull], tints: _Tints, look: Look
) -> None:
    coats = dossier.system(pulls[0].system) if pulls else ()
    handles = [
        Patch(**tints.style(plane, look)[0], label=dossier.plane_name(plane, coats))
        for plane in tints.planes
    ]
    figure.legend(
        handles=handles, loc="lower center", ncols=3, frameon=False, fontsize=look.note_pt,
        labelcolor=look.scheme.ink, borderaxespad=0.2, columnspacing=1.6, labelspacing=0.4,
    )  # fmt: skip
