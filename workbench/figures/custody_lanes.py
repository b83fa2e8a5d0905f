"""Who held each sample when: one lane a sample, holders as numbered bars, gaps in hatch."""

from collections.abc import Sequence
from datetime import datetime, timedelta, tzinfo
from typing import TYPE_CHECKING

from matplotlib.axes import Axes
from matplotlib.dates import AutoDateLocator, date2num
from matplotlib.figure import Figure
from matplotlib.patches import Patch, Rectangle

from workbench.figures.days import DayFormatter
from workbench.figures.look import Look
from workbench.figures.marks import Mark, Marks
from workbench.records.codes import Condition, CustodyEvent, CustodyState

if TYPE_CHECKING:
    from workbench.custody.story import Span, Story

_HEIGHT = 0.62
_LEAST_DAYS_FOR_A_NUMBER = 0.5
_SIGNS = {
    CustodyEvent.SEALED: ("v", "seal placed", True),
    CustodyEvent.OPENED: ("^", "opened", False),
    CustodyEvent.TESTED: ("o", "tested", False),
    CustodyEvent.SPLIT: ("D", "split", False),
    CustodyEvent.DISCREPANCY: ("X", "discrepancy", True),
}
_HATCHES = ("", "////", "....", "xxxx", "\\\\\\\\", "++++", "oo", "--")
_HANDED = frozenset(
    {
        CustodyEvent.HANDED_OVER,
        CustodyEvent.DISPATCHED,
        CustodyEvent.RECEIVED,
        CustodyEvent.RETURNED,
    }
)


def draw_custody_lanes(
    figure: Figure, stories: Sequence["Story"], *, zone: tzinfo, look: Look | None = None
) -> Marks:
    """Draw the custody of samples over time; return what can be picked.

    Args:
        figure: A bare figure.
        stories: One for each lane, the first on top.
        zone: Time zone of the axis.
        look: How it is drawn.
    """
    look = look or Look()
    look.begin(figure)
    axes = figure.add_subplot()
    look.dress(axes, grid="x")
    told = [story for story in stories if story.moments]
    if not told:
        axes.axis("off")
        axes.text(0.5, 0.5, "no custody entries yet", ha="center", **look.words(muted=True))
        return Marks()
    until = _until(told)
    holders = list(dict.fromkeys(s.holder for one in told for s in one.spans() if s.holder))
    marks: list[Mark] = []
    for lane, story in enumerate(told):
        marks += _lane(axes, look, lane, story, holders, until)
    _frame(axes, look, told, zone)
    _legend(figure, look, holders, told)
    return Marks(tuple(marks))


def _until(told: Sequence["Story"]) -> datetime:
    """Return where bars that go on end: a little after the last entry."""
    moments = [moment.at for story in told for moment in story.moments]
    return max(moments) + max((max(moments) - min(moments)) * 0.04, timedelta(hours=2))


def _days(moment: datetime) -> float:
    return float(date2num(moment))  # type: ignore[no-untyped-call]


def _lane(
    axes: Axes, look: Look, lane: int, story: "Story", holders: list[str], until: datetime
) -> list[Mark]:
    for span in story.spans():
        _bar(axes, look, lane, span, holders, until)
    marks = []
    for moment in story.moments:
        entry = moment.entry
        x = _days(moment.at)
        if entry.event in _HANDED:
            axes.plot(
                [x, x], [lane - 0.42, lane + 0.42], color=look.scheme.ink, linewidth=1.1, zorder=4
            )
        if entry.event in _SIGNS:
            marker, _, filled = _SIGNS[entry.event]
            face = look.scheme.ink if filled else look.scheme.paper
            (drawn,) = axes.plot(
                x, lane - 0.46, marker, markersize=4.2, markerfacecolor=face,
                markeredgecolor=look.scheme.ink, markeredgewidth=0.8, zorder=5, picker=True,
            )  # fmt: skip
            marks.append(Mark(drawn, (entry.source,)))
    return marks


def _bar(
    axes: Axes, look: Look, lane: int, span: "Span", holders: list[str], until: datetime
) -> None:
    left, right = _days(span.start), _days(span.end or until)
    shape = Rectangle((left, lane - _HEIGHT / 2), right - left, _HEIGHT, zorder=2)
    if span.gap:
        alarm = look.condition(Condition.FAILING).colour
        shape.set(facecolor=look.scheme.paper, edgecolor=alarm, hatch="//////", linewidth=1.2)
        axes.add_patch(shape)
        axes.text(
            (left + right) / 2, lane, "gap", ha="center", va="center", color=alarm,
            fontsize=look.note_pt, weight="bold", zorder=4,
            bbox={"facecolor": look.scheme.paper, "edgecolor": "none", "pad": 0.8},
        )  # fmt: skip
        return
    number = holders.index(span.holder)
    moving = span.state is CustodyState.IN_TRANSIT
    shape.set(
        facecolor=look.scheme.paper if moving else look.scheme.faint,
        edgecolor=look.scheme.muted,
        hatch=_HATCHES[number % len(_HATCHES)],
        hatch_linewidth=0.5,
        linewidth=0.6,
        linestyle=(0, (3, 2)) if moving else "solid",
    )
    axes.add_patch(shape)
    if right - left >= _LEAST_DAYS_FOR_A_NUMBER:
        axes.text(
            (left + right) / 2, lane, str(number + 1), ha="center", va="center", zorder=4,
            clip_on=True, bbox={"facecolor": look.scheme.paper, "edgecolor": "none", "pad": 0.6},
            **look.words(note=True),
        )  # fmt: skip


def _frame(axes: Axes, look: Look, told: Sequence["Story"], zone: tzinfo) -> None:
    axes.set_ylim(len(told) - 0.4, -0.8)
    axes.set_yticks(range(len(told)), [story.sample.ref for story in told])
    axes.xaxis_date(zone)
    locator = AutoDateLocator(tz=zone, maxticks=9)  # type: ignore[no-untyped-call]
    axes.xaxis.set_major_locator(locator)
    axes.xaxis.set_major_formatter(DayFormatter(locator, zone))
    axes.xaxis.get_offset_text().set(color=look.scheme.muted, fontsize=look.note_pt)
    axes.margins(x=0.01)
    axes.autoscale(axis="x")
    look.title(axes, "Who held each sample")


def _legend(figure: Figure, look: Look, holders: list[str], told: Sequence["Story"]) -> None:
    handles: list[object] = [
        Patch(
            facecolor=look.scheme.faint, edgecolor=look.scheme.muted, linewidth=0.6,
            hatch=_HATCHES[n % len(_HATCHES)], hatch_linewidth=0.5, label=f"{n + 1}  {holder}",
        )
        for n, holder in enumerate(holders)
    ]  # fmt: skip
    seen = {moment.entry.event for story in told for moment in story.moments}
    axes = figure.axes[0]
    for event, (marker, word, filled) in _SIGNS.items():
        if event in seen:
            face = look.scheme.ink if filled else look.scheme.paper
            (handle,) = axes.plot(
                [], [], marker, markersize=4.2, markerfacecolor=face,
                markeredgecolor=look.scheme.ink, label=word,
            )  # fmt: skip
            handles.append(handle)
    if seen & _HANDED:
        (line,) = axes.plot([], [], color=look.scheme.ink, linewidth=1.1, label="handed over")
        handles.append(line)
    legend = figure.legend(
        handles=handles, loc="outside lower left", ncols=3, frameon=False,
        fontsize=look.note_pt, labelcolor=look.scheme.ink, handlelength=2.2,
    )  # fmt: skip
    legend.set_in_layout(True)
