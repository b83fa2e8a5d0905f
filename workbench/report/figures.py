"""The figures of the report: the drawings of the figures room with caption and words."""

from matplotlib.figure import Figure as Drawing

from workbench.figures.adhesion_plan import draw_adhesion_plan
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
    """Return readings by plane and break shares."""
    del draft
    return []
