"""Words of records stand in figures as they are, whatever characters they hold."""

from dataclasses import replace

import pytest
from bottling_hall import bottling_hall
from matplotlib.figure import Figure

from workbench.analysis.strength import strength_by_plane
from workbench.figures.adhesion_plan import draw_adhesion_plan
from workbench.figures.look import Look
from workbench.records import Area
from workbench.report.pictures import draw_png


@pytest.mark.parametrize("top", [3.0, 50.0, 2e5])
def test_a_logarithmic_axis_has_plain_numbers(top: float) -> None:
    figure = Figure()
    axes = figure.add_subplot()
    Look().logarithmic(axes)
    axes.set_ylim(0.8, top)
    figure.draw_without_rendering()
    labels = axes.get_yticklabels() + axes.get_yticklabels(minor=True)
    assert "1" in {one.get_text() for one in labels}
    assert not [one.get_text() for one in labels if "$" in one.get_text()]


HOSTILE = ("$x^$ and $5", "$\\frac{1}$", "a_b^{c", "\x80\x9f", "\U0001f9ea", "الأرض")


@pytest.mark.parametrize("words", HOSTILE)
def test_a_name_is_no_formula_and_no_character_stops_a_figure(words: str) -> None:
    held = bottling_hall()
    named = held.with_records([replace(one, ref=f"{one.ref}{words}") for one in held.all(Area)])
    result = strength_by_plane(held)

    def draw(figure: Figure) -> object:
        return draw_adhesion_plan(figure, named, result)

    made = draw_png(draw, (160, 90))
    assert made.blob.startswith(b"\x89PNG")
