"""The figures of the report: the drawings of the figures room with caption and words."""

from matplotlib.figure import Figure as Drawing

from workbench.analysis.strength.results import StrengthResult
from workbench.figures.adhesion_plan import draw_adhesion_plan
from workbench.figures.adhesion_stack import draw_adhesion_stack
from workbench.figures.break_shares import break_shares_height_mm, draw_break_shares
from workbench.figures.look import Look
from workbench.report.blocks import Block, Figure
from workbench.report.draft import Draft


def look_of(draft: Draft) -> Look:
    """Return how figures are drawn for paper, in the units of the report."""
    return Look(showing=draft.show)


def plan_figure(draft: Draft) -> list[Block]:
    """Return adhesion on the plan."""
    result = draft.results.strength
    if result is None or not result.pulls:
        return []

    def draw(drawing: Drawing) -> object:
        return draw_adhesion_plan(
            drawing, draft.dossier, result, look=look_of(draft), picture=draft.picture
        )

    alt = (
        "Plan of the areas, hatched by condition, with each pull-off at its place: its strength "
        "by colour, the plane of the larger part of its break by the shape of its marker."
    )
    sources = tuple(pull.source for pull in result.pulls)
    caption = "Pull-off tests on the plan: strength by colour, plane by marker"
    return [Figure("plan", caption, alt, draw, (160, 120), sources)]


def strength_figures(draft: Draft) -> list[Block]:
    """Return readings by plane beside the layer stack, one figure for each system."""
    result = draft.results.strength
    if result is None or not result.pulls:
        return []
    systems = dict.fromkeys(group.system for group in result.groups)
    return [_stack(draft, result, system, len(systems)) for system in systems]


def share_figure(draft: Draft) -> list[Block]:
    """Return the break shares of each test."""
    result = draft.results.strength
    return [_shares(draft, result)] if result and result.pulls else []


def _stack(draft: Draft, result: StrengthResult, system: str, systems: int) -> Figure:
    def draw(drawing: Drawing) -> object:
        return draw_adhesion_stack(
            drawing, draft.dossier, result, look=look_of(draft), system=system
        )

    name = f", system {system}" if systems > 1 else ""
    alt = (
        "The layers of the system as a stack in the middle; at the height of each plane the "
        "readings that broke there, estimates with intervals, and arrows for bounds, one "
        "condition on each side."
    )
    groups = [group for group in result.groups if group.system == system]
    behind = tuple(dict.fromkeys(source for group in groups for source in group.sources))
    caption = f"Readings and strength by plane beside the layers{name}; bounds as arrows"
    key = "stack" if systems == 1 else f"stack {system}"
    return Figure(key, caption, alt, draw, (160, 135), behind)


def _shares(draft: Draft, result: StrengthResult) -> Figure:
    def draw(drawing: Drawing) -> object:
        return draw_break_shares(drawing, draft.dossier, result, look=look_of(draft))

    alt = (
        "One bar for each pull-off, divided by the share of its face that broke in each plane; "
        "the tests are ordered by condition and area."
    )
    behind = tuple(pull.source for pull in result.pulls if pull.film.untouched)
    height = min(break_shares_height_mm(result), 225.0)
    caption = "Where each pull-off broke: shares of the face by plane"
    return Figure("break shares", caption, alt, draw, (160.0, height), behind)
