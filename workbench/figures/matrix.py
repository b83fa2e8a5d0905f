"""Candidate causes against observations: what speaks for, against, excludes, or was not read.

Every bearing has its own sign, so that nothing is told by colour. A large sign could settle the
matter by itself; a pale one belongs to a fact that is counted in another row already.
"""

import re
import textwrap
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Rectangle
from matplotlib.path import Path

from workbench.figures.look import Look
from workbench.figures.marks import NOTHING_CHOSEN, Mark, Marks, Selection
from workbench.reasoning.results import Bearing, Candidate, Cell, Matrix, Row

_MM_PER_ROW, _MM_HEAD, _MM_FOOT = 4.1, 56.0, 17.0
_LABEL_SHARE = 0.5
_STAGES = {
    "background": "Background", "survey": "Survey", "field": "Field tests", "lab": "Laboratory",
}  # fmt: skip
_SIZES = {True: 62.0, False: 30.0}
_TITLE, _LABEL, _LONGEST = 34, 56, 70


@dataclass(frozen=True, slots=True)
class _Sign:
    """How one bearing is drawn."""

    marker: str | Path
    filled: bool
    boxed: bool
    words: str


_MINUS = Path(((-1, -0.28), (1, -0.28), (1, 0.28), (-1, 0.28), (-1, -0.28)), closed=True)
_SIGNS = {
    Bearing.SUPPORTS: _Sign("P", filled=True, boxed=False, words="supports"),
    Bearing.CONTRADICTS: _Sign(_MINUS, filled=True, boxed=False, words="contradicts"),
    Bearing.EXCLUDES: _Sign("X", filled=True, boxed=True, words="excludes"),
    Bearing.WOULD_EXCLUDE: _Sign("X", filled=False, boxed=True, words="would exclude, unconfirmed"),
    Bearing.NOT_READ: _Sign("o", filled=False, boxed=False, words="not read"),
    Bearing.SILENT: _Sign(".", filled=True, boxed=False, words="says nothing"),
}


def matrix_height_mm(matrix: Matrix) -> float:
    """Return how high the figure should be on paper for all its rows to be read."""
    rows = len(matrix.rows) + len({row.stage for row in matrix.rows})
    return _MM_HEAD + _MM_FOOT + _MM_PER_ROW * max(rows, 6)


def draw_matrix(
    figure: Figure,
    matrix: Matrix,
    *,
    look: Look | None = None,
    selection: Selection = NOTHING_CHOSEN,
) -> Marks:
    """Draw candidates in columns, the best supported first, and observations in rows by stage.

    Args:
        figure: A figure of any size; it is emptied.
        matrix: What is shown.
        look: How it is drawn.
        selection: What is lit up; rows that do not rest on it are faded.
    """
    look = look or Look(text_pt=7.0)
    look.begin(figure)
    if not matrix.rows or not matrix.candidates:
        figure.text(0.5, 0.5, "nothing is weighed yet", ha="center", **look.words())
        return Marks()
    axes = figure.subplots()
    placed, heads = _placed(matrix.rows)
    _frame(axes, matrix, placed, heads, look)
    marks = [
        mark
        for bearing in Bearing
        for decisive in (True, False)
        for mark in _signs(axes, placed, bearing, look, selection, decisive=decisive)
    ]
    _legend(figure, look)
    _place(figure, axes)
    return Marks(tuple(marks))


def _placed(rows: Sequence[Row]) -> tuple[list[tuple[float, Row]], list[tuple[float, str]]]:
    """Return the rows with their places from the top, and the headings of their stages."""
    placed, heads, at = [], [], 0.0
    stage = ""
    for row in rows:
        if row.stage != stage:
            stage = row.stage
            heads.append((at, _STAGES[stage]))
            at += 1
        placed.append((at, row))
        at += 1
    return placed, heads


def _frame(
    axes: Axes, matrix: Matrix, placed: Sequence[tuple[float, Row]],
    heads: Sequence[tuple[float, str]], look: Look,
) -> None:  # fmt: skip
    scheme, columns = look.scheme, len(matrix.candidates)
    last = placed[-1][0]
    axes.set_facecolor(scheme.paper)
    axes.set_xlim(-0.5, columns - 0.5)
    axes.set_ylim(last + 0.6, -0.6)
    for spine in axes.spines.values():
        spine.set_visible(False)
    axes.tick_params(length=0)
    axes.set_yticks([at for at, _ in placed])
    axes.set_yticklabels([_short(row.label, _LONGEST) for _, row in placed], color=scheme.ink)
    for label, (_, row) in zip(axes.get_yticklabels(), placed, strict=True):
        label.set_color(scheme.ink if row.finding.known else scheme.muted)
        label.set_fontsize(look.note_pt * min(1.0, _LABEL / max(1, len(label.get_text()))))
        label.set_fontstyle("normal" if row.finding.known else "italic")
    axes.xaxis.tick_top()
    axes.set_xticks(range(columns))
    axes.set_xticklabels(
        [_head(one) for one in matrix.candidates], rotation=90, ha="center", linespacing=1.0,
        fontsize=look.note_pt, color=scheme.ink, multialignment="left",
    )  # fmt: skip
    for at, row in placed:
        if int(at) % 2:
            axes.axhspan(at - 0.5, at + 0.5, color=scheme.faint, alpha=0.45, linewidth=0)
        if row.finding.override:
            axes.text(-0.56, at, "✎", ha="right", va="center", **look.words(note=True))
    for at, words in heads:
        axes.text(-0.6, at + 0.08, words, ha="right", va="center", fontweight="bold",
                  transform=axes.transData, **look.words())  # fmt: skip
        axes.axhline(at + 0.5, color=scheme.muted, linewidth=0.5)
    axes.axhline(-0.55, color=scheme.muted, linewidth=0.8)


def _head(one: Candidate) -> str:
    """Return rank, name and grade on two lines; what a name has in brackets is left to the text."""
    bare = re.sub(r"\s*\([^)]*\)", "", one.title)
    name = _short(f"{one.place}  {bare}", 2 * _TITLE - len(one.grade) - 3)
    lines = textwrap.wrap(f"{name} – {one.grade}", _TITLE)
    return "\n".join([*lines[:1], " ".join(lines[1:])]).strip()


def _short(words: str, most: int) -> str:
    """Return words cut at a word's end."""
    return textwrap.shorten(words, most, placeholder=" …")


def _signs(
    axes: Axes, placed: Sequence[tuple[float, Row]], bearing: Bearing, look: Look,
    selection: Selection, *, decisive: bool,
) -> Iterable[Mark]:  # fmt: skip
    sign = _SIGNS[bearing]
    points = [
        (column, at, cell, row)
        for at, row in placed
        for column, cell in enumerate(row.cells)
        if cell.bearing is bearing and _is_large(cell) is decisive
    ]
    if not points:
        return
    colours = [_colour(cell, row, look, selection) for _, _, cell, row in points]
    if sign.boxed:
        for (x, y, _, _), colour in zip(points, colours, strict=True):
            dash = "solid" if sign.filled else (0, (2, 1.4))
            axes.add_patch(
                Rectangle((x - 0.4, y - 0.42), 0.8, 0.84, fill=False, edgecolor=colour,
                          linewidth=0.8, linestyle=dash)
            )  # fmt: skip
    artist = axes.scatter(
        [x for x, _, _, _ in points],
        [y for _, y, _, _ in points],
        marker=sign.marker,
        s=_SIZES[decisive] * (0.12 if bearing is Bearing.SILENT else 1),
        facecolors=colours if sign.filled else "none",
        edgecolors=colours,
        linewidths=0.8,
        zorder=3,
    )
    sources = tuple(row.finding.sources[:1] for _, _, _, row in points)
    if all(sources):
        yield Mark(artist, tuple(source for (source,) in sources))


def _is_large(cell: Cell) -> bool:
    return cell.decisive and cell.bearing not in (Bearing.SILENT, Bearing.NOT_READ)


def _colour(cell: Cell, row: Row, look: Look, selection: Selection) -> str:
    scheme = look.scheme
    if selection and not any(source in selection.sources for source in row.finding.sources):
        return scheme.faint
    if cell.bearing is Bearing.SILENT:
        return scheme.faint
    if cell.bearing is Bearing.NOT_READ:
        return scheme.muted
    pale = not cell.counted and cell.bearing in (Bearing.SUPPORTS, Bearing.CONTRADICTS)
    if pale:
        return scheme.muted
    return scheme.accent if cell.bearing is Bearing.SUPPORTS else scheme.ink


def _legend(figure: Figure, look: Look) -> None:
    handles = [
        Line2D(
            [], [], linestyle="none", marker=sign.marker, markersize=6,
            markerfacecolor=look.scheme.ink if sign.filled else "none",
            markeredgecolor=look.scheme.ink, label=sign.words,
        )
        for sign in _SIGNS.values()
    ]  # fmt: skip
    legend = figure.legend(
        handles=handles, loc="lower center", bbox_to_anchor=(0.5, 0.02), ncols=6, frameon=False,
        fontsize=look.note_pt, labelcolor=look.scheme.ink, handletextpad=0.2, columnspacing=1.2,
    )  # fmt: skip
    legend.set_in_layout(False)
    figure.text(
        0.5, 0.004,
        "large: could settle it alone; pale: the same fact counts in another row; "
        "italic: not read",
        ha="center", va="bottom", **look.words(muted=True, note=True),
    )  # fmt: skip


def _place(figure: Figure, axes: Axes) -> None:
    height_mm = figure.get_figheight() * 25.4
    bottom, top = _MM_FOOT / height_mm, 1 - _MM_HEAD / height_mm
    right = 0.985
    axes.set_position((_LABEL_SHARE, bottom, right - _LABEL_SHARE, max(top - bottom, 0.1)))
