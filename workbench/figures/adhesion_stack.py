"""Adhesion by plane: the layer stack to scale, failing on one side and non-failing on the other."""

from collections.abc import Iterable, Sequence
from textwrap import fill

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.legend_handler import HandlerTuple
from matplotlib.lines import Line2D
from matplotlib.patches import Rectangle

from workbench.analysis.strength.results import Group, StrengthResult
from workbench.figures.look import CONDITION_ORDER, Look
from workbench.figures.markers import FADED
from workbench.figures.marks import NOTHING_CHOSEN, Mark, Marks, Selection
from workbench.figures.stack_column import Side, StackScale, draw_column
from workbench.figures.stack_panel import Panel, draw_panel
from workbench.records import Dossier, Plane
from workbench.records.codes import Condition
from workbench.trade.showing import STRESS

_LEFT, _MIDDLE, _RIGHT = (0.012, 0.355), (0.355, 0.645), (0.645, 0.988)
_HEAD_MM, _FOOT_MM = 11.5, 23.0
_STACK, _LINES, _NAMES = (0.15, 0.40), (0.0, 0.52), 0.535
"""Edges of the stack, ends of the lines to the rows, and start of the names, within the middle."""


def draw_adhesion_stack(
    figure: Figure,
    dossier: Dossier,
    result: StrengthResult,
    *,
    look: Look | None = None,
    sides: tuple[Condition, Condition] | None = None,
    system: str | None = None,
    selection: Selection = NOTHING_CHOSEN,
) -> Marks:
    """Draw readings, estimates and bounds of each plane beside the stack; return what is picked.

    Args:
        figure: A figure of any size; it is emptied.
        dossier: The case.
        result: What the pull-offs say.
        look: How it is drawn.
        sides: Conditions on the left and on the right; the first two there are where not given.
        system: The coating system; the one with most pulls where not given.
        selection: What is lit up; the rest is faded.
    """
    look = look or Look()
    look.begin(figure)
    groups = _of_system(result.groups, system)
    if not groups:
        figure.text(0.5, 0.5, "No pull-off on untouched film.", ha="center", **look.words())
        return Marks()
    planes = sorted({group.plane for group in groups}, key=lambda plane: plane.height)
    rows = {plane: at + 0.5 for at, plane in enumerate(planes)}
    conditions = sides or _two_conditions(groups)
    marks = list(_bands(figure, rows, look, selection))
    panels = [
        _panel(figure, condition, groups, result, look, outward)
        for condition, outward in zip(conditions, (-1, 1), strict=False)
    ]
    for panel in panels:
        marks += draw_panel(panel, rows, look, selection)
    _middle(figure, dossier, panels, rows, look, selection)
    _legend(figure, panels, result.settings.confidence, look)
    return Marks(tuple(marks))


def _of_system(groups: Sequence[Group], system: str | None) -> tuple[Group, ...]:
    pulls: dict[str, int] = {}
    for group in groups:
        pulls[group.system] = pulls.get(group.system, 0) + group.n
    chosen = max(pulls, key=lambda name: pulls[name], default="") if system is None else system
    return tuple(group for group in groups if group.system == chosen)


def _two_conditions(groups: Sequence[Group]) -> tuple[Condition, ...]:
    present = {group.condition for group in groups}
    return tuple(condition for condition in CONDITION_ORDER if condition in present)[:2]


def _panel(
    figure: Figure,
    condition: Condition,
    groups: Sequence[Group],
    result: StrengthResult,
    look: Look,
    outward: int,
) -> Panel:
    left, right = _LEFT if outward < 0 else _RIGHT
    mine = tuple(group for group in groups if group.condition is condition)
    behind = {source for group in mine for source in group.sources}
    per_si = look.per_si(STRESS)
    of_system = {source for group in groups for source in group.sources}
    highest = max(pull.mpa for pull in result.pulls if pull.source in of_system)
    return Panel(
        axes=_add_axes(figure, left, right),
        condition=condition,
        groups=mine,
        pulls=tuple(pull for pull in result.pulls if pull.source in behind),
        highest=1.05 * highest * per_si,
        per_si=per_si,
        outward=outward,
    )


def _add_axes(figure: Figure, left: float, right: float) -> Axes:
    """Return axes between head and foot, which keep their height on paper."""
    height_mm = 25.4 * figure.get_figheight()
    bottom, top = _FOOT_MM / height_mm, 1 - _HEAD_MM / height_mm
    return figure.add_axes((left, bottom, right - left, max(top - bottom, 0.1)))


def _bands(
    figure: Figure, rows: dict[Plane, float], look: Look, selection: Selection
) -> Iterable[Mark]:
    """Draw a band behind each row across the figure; it is what picks the plane."""
    axes = _add_axes(figure, 0, 1)
    axes.set(xlim=(0, 1), ylim=(0, len(rows)))
    axes.axis("off")
    for plane, middle in rows.items():
        chosen = selection.plane == plane
        band = Rectangle(
            (0.006, middle - 0.5), 0.988, 1, linewidth=1.2 if chosen else 0,
            edgecolor=look.scheme.accent, facecolor=(look.scheme.accent, 0.08 if chosen else 0.0),
            picker=True, gid=f"plane {plane}",
        )  # fmt: skip
        axes.add_patch(band)
        if middle > 1:
            axes.axhline(middle - 0.5, 0.012, 0.988, color=look.scheme.faint, linewidth=0.6)
        yield Mark(band, plane=plane)


def _middle(
    figure: Figure,
    dossier: Dossier,
    panels: Sequence[Panel],
    rows: dict[Plane, float],
    look: Look,
    selection: Selection,
) -> None:
    axes = _add_axes(figure, *_MIDDLE)
    axes.set(xlim=(0, 1), ylim=(0, len(rows)))
    axes.axis("off")
    coats = dossier.system(panels[0].groups[0].system)
    layers = 1 + max(plane.upper or 0 for plane in rows)
    sides = [Side(panel.condition, _shares(panel)) for panel in panels]
    draw_column(
        axes, StackScale.of(coats, layers), rows, (sides[0], sides[1] if len(sides) > 1 else None),
        look=look, place=_STACK, reach=_LINES,
    )  # fmt: skip
    worst = max(sides[0].shares, key=lambda plane: sides[0].shares[plane], default=None)
    for plane, middle in rows.items():
        code, _, name = dossier.plane_name(plane, coats).partition(", ")
        hidden = selection.plane is not None and selection.plane != plane
        long = fill(name, 14).count("\n") > 1
        style = look.words(note=True) | ({"fontsize": 0.86 * look.note_pt} if long else {})
        axes.text(
            _NAMES, middle, f"{code}\n{fill(name, 17 if long else 14)}", va="center",
            linespacing=1.1, weight="bold" if plane == worst else "normal",
            alpha=FADED if hidden else 1.0, **style,
        )  # fmt: skip


def _shares(panel: Panel) -> dict[Plane, float]:
    """Return the share of the area broken in the coating system that lies in each plane."""
    sums: dict[Plane, float] = {}
    for pull in panel.pulls:
        for plane, share in pull.shares:
            if not plane.in_glue:
                sums[plane] = sums.get(plane, 0.0) + share
    whole = sum(sums.values()) or 1.0
    return {plane: share / whole for plane, share in sums.items()}


def _legend(figure: Figure, panels: Sequence[Panel], confidence: float, look: Look) -> None:
    ink, muted = look.scheme.ink, look.scheme.muted
    markers = [
        Line2D([], [], linestyle="none", marker=style.marker, color=style.colour, markersize=4.5)
        for style in (look.condition(panel.condition) for panel in panels)
    ]
    handles = [
        (tuple(markers), "broke here; size: share of the face"),
        (_sign(r"$\leftarrow\,\rightarrow$", muted, 13), "away from the stack: held, at least"),
        (_sign(r"$\rightarrow\,\leftarrow$", muted, 13), "to the stack: came away, at most"),
        (Line2D([], [], color=ink, linewidth=2), f"median, {confidence:.0%} interval"),
        (Line2D([], [], color=ink, linewidth=2, linestyle=":"), "resting on the model"),
        (_sign(r"$\mapsto$", ink, 9), "lower bound of the median"),
        (Line2D([], [], color=ink, linewidth=4), "in the stack: share of the breaks"),
    ]
    figure.legend(
        handles=[handle for handle, _ in handles], labels=[words for _, words in handles],
        loc="lower center", ncols=3, frameon=False, fontsize=look.note_pt, labelcolor=ink,
        handler_map={tuple: HandlerTuple(ndivide=None)}, columnspacing=1.6, labelspacing=0.5,
        bbox_to_anchor=(0.5, 0.0), borderaxespad=0.3,
    )  # fmt: skip


def _sign(marker: str, colour: str, size: float) -> Line2D:
    return Line2D([], [], linestyle="none", marker=marker, color=colour, markersize=size)
