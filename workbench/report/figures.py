"""The figures of the report: the drawings of the figures room with caption and words."""

from collections.abc import Callable
from typing import Protocol

from matplotlib.figure import Figure as Drawing

from workbench.analysis.application import timeline_of
from workbench.analysis.pattern.space import between_readings
from workbench.analysis.strength.results import Pull, StrengthResult
from workbench.custody.story import stories
from workbench.figures.adhesion_plan import (
    adhesion_plan_height_mm,
    draw_adhesion_plan,
    not_on_plan,
)
from workbench.figures.adhesion_stack import draw_adhesion_stack
from workbench.figures.break_shares import break_shares_height_mm, draw_break_shares
from workbench.figures.custody_lanes import draw_custody_lanes
from workbench.figures.look import Look
from workbench.figures.matrix import draw_matrix, matrix_height_mm
from workbench.figures.moisture import draw_moisture, moisture_height_mm
from workbench.figures.ratings import draw_ratings, ratings_height_mm
from workbench.figures.thickness import draw_thickness, thickness_height_mm
from workbench.figures.timeline import draw_timeline
from workbench.reasoning import Filter, amended, load_knowledge, matrix_of
from workbench.records import (
    Application,
    CustodyEntry,
    Dossier,
    Measurement,
    Rating,
    Record,
    Sample,
    Source,
    Thickness,
    layer_sign,
)
from workbench.records.levels import each_level, places_of
from workbench.report.blocks import Block, Figure
from workbench.report.draft import Draft, sources
from workbench.report.refs import in_short
from workbench.report.wording import coat_words

WIDTH_MM = 160.0
_TALLEST_MM = 215.0
_MOISTURE = ("moisture", "rh_in_slab", "emission", "ph", "chloride", "salts")
MOST_CAUSES = 12
"""Causes in the figure that sets them against what was found; the tables have all."""
_MOST_ROWS = 36
_AROUND_TIMELINE_MM, _LANE_MM, _LONGEST_TIMELINE_MM = 66.0, 8.0, 150.0
_AROUND_STACK_MM, _PLANE_MM = 37.0, 14.0


def look_of(draft: Draft) -> Look:
    """Return how figures are drawn for paper, in the units of the report."""
    return Look(showing=draft.show)


def _figure(
    key: str,
    words: tuple[str, str],
    draw: Callable[[Drawing], object],
    height_mm: float,
    behind: tuple[Source, ...],
) -> Figure:
    caption, alt = words
    return Figure(key, caption, alt, draw, (WIDTH_MM, min(height_mm, _TALLEST_MM)), behind)


def _of_records(draft: Draft, kind: type[Record]) -> tuple[Source, ...]:
    return sources(draft.dossier.all(kind))


def plan_figures(draft: Draft) -> list[Figure]:
    """Return adhesion on the plan, one figure for each level that has a pull-off."""
    result = draft.results.strength
    if result is None:
        return []
    levels = each_level(draft.dossier)
    drawn = []
    for level, held in levels.items():
        places = places_of(held)
        pulls = [one for one in result.pulls if len(levels) == 1 or one.location in places]
        if pulls:
            drawn.append(_plan(draft, result, level, held, pulls))
    return drawn


_TINTED = (
    "The tint between the readings is their mean by distance squared, bounds as they were read; it "
    "is drawn because near places read alike, and hatched where no reading is near enough."
)


def _plan(
    draft: Draft, result: StrengthResult, level: str, held: Dossier, pulls: list[Pull]
) -> Figure:
    words = (
        f"Pull-off tests on the plan{_called(level)}: strength by colour, plane by marker",
        (
            f"Plan of the areas{_called(level)}, hatched by condition, with each pull-off at its "
            "place: its strength by colour, the plane of the larger part of its break by the shape "
            "of its marker."
        ),
    )

    between = between_readings(held, result.pulls)
    if between:
        words = _with(words, _TINTED)
    if missing := not_on_plan(draft.dossier, result.pulls):
        refs = in_short(pull.source for pull in missing)
        words = _with(words, f"Not on it, since the location has no place on the plan: {refs}.")

    def draw(drawing: Drawing) -> object:
        look = look_of(draft)
        return draw_adhesion_plan(
            drawing, held, result, look=look, picture=draft.picture, surface=between
        )

    apart = not_on_plan(held, pulls)
    behind = tuple(pull.source for pull in pulls if pull not in apart)
    height = adhesion_plan_height_mm(held, pulls, WIDTH_MM)
    return _figure(f"plan {level}".strip(), words, draw, height, behind)


def _with(words: tuple[str, str], sentence: str) -> tuple[str, str]:
    """Return caption and words of a figure, each with one more sentence."""
    caption, alt = words
    return f"{caption.removesuffix('.')}. {sentence}", f"{alt} {sentence}"


def _called(level: str) -> str:
    return f", level or side {level}" if level else ""


def strength_figures(draft: Draft) -> list[Figure]:
    """Return readings by plane beside the layer stack, one figure for each system."""
    result = draft.results.strength
    if result is None or not result.pulls:
        return []
    systems = dict.fromkeys(group.system for group in result.groups)
    return [_stack(draft, result, system, len(systems)) for system in systems]


def _stack(draft: Draft, result: StrengthResult, system: str, systems: int) -> Figure:
    def draw(drawing: Drawing) -> object:
        look = look_of(draft)
        return draw_adhesion_stack(drawing, draft.dossier, result, look=look, system=system)

    name = f", system {system}" if systems > 1 else ""
    words = (
        f"Readings and strength by plane beside the layers{name}; bounds as arrows",
        (
            "The layers of the system as a stack in the middle; at the height of each plane the "
            "readings that broke there, estimates with intervals, and arrows for bounds, one "
            "condition on each side."
        ),
    )
    groups = [group for group in result.groups if group.system == system]
    behind = tuple(dict.fromkeys(source for group in groups for source in group.sources))
    height = _AROUND_STACK_MM + _PLANE_MM * len({group.plane for group in groups})
    return _figure("stack" if systems == 1 else f"stack {system}", words, draw, height, behind)


def share_figure(draft: Draft) -> list[Block]:
    """Return the break shares of each test."""
    result = draft.results.strength
    if result is None or not result.pulls:
        return []
    words = (
        "Where each pull-off broke: shares of the face by plane",
        (
            "One bar for each pull-off, divided by the share of its face that broke in each plane; "
            "the tests are ordered by condition and area."
        ),
    )

    def draw(drawing: Drawing) -> object:
        return draw_break_shares(
            drawing, draft.dossier, result, look=look_of(draft), doubtful=doubtful
        )

    doubtful = frozenset(doubt.source for doubt in draft.results.doubts)
    behind = tuple(pull.source for pull in result.pulls if pull.film.untouched)
    return [_figure("break shares", words, draw, break_shares_height_mm(result), behind)]


class _Draws(Protocol):
    def __call__(
        self, figure: Drawing, dossier: Dossier, *, look: Look | None = None
    ) -> object: ...


def _of_kind(
    draft: Draft,
    kind: type[Record],
    key: str,
    words: tuple[str, str],
    draws: _Draws,
    height: Callable[[Dossier], float],
) -> list[Block]:
    """Return the figure of all records of one kind, nothing where there are none."""
    behind = sources(draft.dossier.all(kind))

    def draw(drawing: Drawing) -> object:
        return draws(drawing, draft.dossier, look=look_of(draft))

    return [_figure(key, words, draw, height(draft.dossier), behind)] if behind else []


def rating_figure(draft: Draft) -> list[Block]:
    """Return the ratings by area."""
    words = (
        "Ratings by area, method by method, the best at the right",
        (
            "One panel for each method; each rating stands beside its area, its marker tells the "
            "plane that was opened, its place the condition of the area."
        ),
    )
    return _of_kind(draft, Rating, "ratings", words, draw_ratings, ratings_height_mm)


def thickness_figure(draft: Draft) -> list[Block]:
    """Return the thickness by layer against what was specified."""
    words = (
        "Thickness by layer over the range specified, the top layer first",
        (
            "For each layer a band for the range specified, with the mean of every spot as a point "
            "and its smallest and largest reading as a line, by condition."
        ),
    )
    return _of_kind(draft, Thickness, "thickness", words, draw_thickness, thickness_height_mm)


def moisture_figures(draft: Draft) -> list[Figure]:
    """Return moisture, pH and salts on the plan, one figure for each level that has a reading."""
    held = [m for m in draft.dossier.all(Measurement) if m.quantity.startswith(_MOISTURE)]
    if not held:
        return []
    levels = each_level(draft.dossier)
    drawn = []
    for level, dossier in levels.items():
        places = places_of(dossier)
        here = [m for m in held if len(levels) == 1 or m.location in places]
        if here:
            drawn.append(_moisture(draft, level, dossier, here))
    return drawn


def _moisture(draft: Draft, level: str, dossier: Dossier, held: list[Measurement]) -> Figure:
    words = (
        f"Moisture, pH and salts where measured{_called(level)}, one plan for each method",
        (
            "One plan of the areas for each method, with each value at its place by colour and in "
            "figures; a ring with a bar marks a value over the limit of the case."
        ),
    )

    def draw(drawing: Drawing) -> object:
        return draw_moisture(drawing, dossier, look=look_of(draft), picture=draft.picture)

    key = f"moisture {level}".strip()
    return _figure(key, words, draw, moisture_height_mm(dossier), sources(held))


def timeline_figure(draft: Draft) -> list[Block]:
    """Return the application as a timeline with recoat windows and dew-point margins."""
    laid = draft.dossier.all(Application)
    if not any(one.start for one in laid):
        return []
    words = (
        (
            "Coats area by area with their recoat windows, and the margin above the dew point†; "
            f"{_letters(draft)}"
        ),
        (
            "For each area the coats as bars along the days, the recoat window after each as a "
            "shaded band, the time beyond it hatched; below them the margin of the surface above "
            "the dew point while each coat was laid."
        ),
    )

    def draw(drawing: Drawing) -> object:
        return draw_timeline(drawing, timeline_of(draft.dossier), look=look_of(draft))

    areas = {ref for one in laid for ref in one.area}
    height = min(_LONGEST_TIMELINE_MM, _AROUND_TIMELINE_MM + _LANE_MM * len(areas))
    return [_figure("timeline", words, draw, height, sources(laid))]


def _letters(draft: Draft) -> str:
    """Return what the letters of the layers stand for; of several systems, how they are read."""
    if len(draft.systems) != 1:
        return "B is the first coat of each system, C the second, and so on"
    coats = (coat for coat in draft.systems[0] if coat.order)
    return ", ".join(f"{layer_sign(coat.order)} is {coat_words(coat)}" for coat in coats)


def custody_figure(draft: Draft) -> list[Block]:
    """Return the custody of samples as lanes."""
    if not draft.dossier.all(CustodyEntry):
        return []
    words = (
        "Who held each sample, and when",
        (
            "One lane for each sample along the days: holders as bars, seals and hand-overs as "
            "marks, gaps hatched."
        ),
    )

    def draw(drawing: Drawing) -> object:
        drawing.set_layout_engine("constrained")
        told = stories(draft.dossier)
        return draw_custody_lanes(drawing, told, zone=draft.dossier.zone, look=look_of(draft))

    height = 28.0 + 6.4 * len(draft.dossier.all(Sample))
    return [_figure("custody", words, draw, height, _of_records(draft, CustodyEntry))]


def matrix_figure(draft: Draft) -> list[Block]:
    """Return candidate causes against observations."""
    reasoning = draft.results.reasoning
    if reasoning is None or not reasoning.candidates:
        return []
    wanted = Filter(most_causes=MOST_CAUSES, most_rows=_MOST_ROWS, with_unread=False)
    matrix = matrix_of(reasoning, amended(load_knowledge(), draft.dossier), wanted)
    shared = "; 1= is joint first" if any(one.joint for one in reasoning.candidates) else ""
    words = (
        f"Candidate causes against what was found, those best supported first{shared}",
        (
            "Candidate causes in columns, observations in rows; a sign in each cell says whether "
            "the observation supports, contradicts or excludes the cause, or says nothing."
        ),
    )

    def draw(drawing: Drawing) -> object:
        return draw_matrix(drawing, matrix, look=look_of(draft))

    behind = tuple(dict.fromkeys(s for row in matrix.rows for s in row.finding.sources))
    return [_figure("matrix", words, draw, matrix_height_mm(matrix), behind)]
