"""Adhesion on the plan, beside the stack, by shares and by pattern: what is drawn and picked."""

import io
from collections.abc import Callable
from itertools import combinations

import numpy as np
import pytest
from bottling_hall import bottling_hall, picture
from builders import dossier, make
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.colors import to_rgba
from matplotlib.figure import Figure
from PIL import Image
from tools.paper import report_size

from workbench.analysis.pattern.follows import patterns_of
from workbench.analysis.pattern.space import between_readings
from workbench.analysis.strength import StrengthResult, strength_by_plane
from workbench.figures.adhesion_plan import (
    adhesion_plan_height_mm,
    draw_adhesion_plan,
    not_on_plan,
)
from workbench.figures.adhesion_stack import draw_adhesion_stack
from workbench.figures.break_shares import break_shares_height_mm, draw_break_shares
from workbench.figures.look import DARK, LIGHT, Look
from workbench.figures.marks import Marks, Selection
from workbench.figures.palette import plane_marker
from workbench.figures.pattern import draw_pattern, pattern_height_mm
from workbench.records import Area, Coat, Dossier, Location, Plane, PullOff, Source
from workbench.trade.showing import Showing, System


@pytest.fixture(scope="module")
def result() -> StrengthResult:
    return strength_by_plane(bottling_hall())


def words(figure: Figure) -> list[str]:
    from matplotlib.text import Text

    return [text.get_text() for text in figure.findobj(Text) if text.get_text()]


def _plan(figure: Figure, result: StrengthResult, look: Look, selection: Selection) -> Marks:
    return draw_adhesion_plan(
        figure, bottling_hall(), result, look=look, picture=picture, selection=selection
    )


def _stack(figure: Figure, result: StrengthResult, look: Look, selection: Selection) -> Marks:
    return draw_adhesion_stack(figure, bottling_hall(), result, look=look, selection=selection)


def _shares(figure: Figure, result: StrengthResult, look: Look, selection: Selection) -> Marks:
    return draw_break_shares(figure, bottling_hall(), result, look=look, selection=selection)


def _pattern(figure: Figure, result: StrengthResult, look: Look, selection: Selection) -> Marks:
    patterns = patterns_of(bottling_hall(), result)
    return draw_pattern(figure, patterns, look=look, selection=selection)


DRAWINGS = [_plan, _stack, _shares, _pattern]
Drawing = Callable[[Figure, StrengthResult, Look, Selection], Marks]


@pytest.mark.parametrize("draw", DRAWINGS)
@pytest.mark.parametrize("look", [Look(), Look(dark=True, showing=Showing(System.US))])
def test_every_figure_is_drawn_light_and_dark_and_again_over_itself(
    draw: Drawing, look: Look, result: StrengthResult
) -> None:
    figure = Figure(figsize=report_size(150))
    draw(figure, result, look, Selection())
    marks = draw(figure, result, look, Selection())
    figure.savefig(io.BytesIO(), dpi=50)
    assert figure.get_facecolor() == to_rgba((DARK if look.dark else LIGHT).paper)
    assert marks.marks


@pytest.mark.parametrize("draw", DRAWINGS)
def test_what_is_picked_is_in_the_case(draw: Drawing, result: StrengthResult) -> None:
    marks = draw(Figure(figsize=report_size(150)), result, Look(), Selection())
    for source in marks.sources:
        assert bottling_hall().resolve(source) is not None


def untouched(result: StrengthResult) -> frozenset[Source]:
    return frozenset(pull.source for pull in result.pulls if pull.film.untouched)


@pytest.mark.parametrize("draw", [_plan, _shares])
def test_every_pull_on_untouched_film_can_be_picked_once(
    draw: Drawing, result: StrengthResult
) -> None:
    marks = draw(Figure(figsize=report_size(150)), result, Look(), Selection())
    picked = [one for mark in marks for one in mark.sources if one.noun == "pull_off"]
    assert len(picked) == len(set(picked))
    assert set(picked) == untouched(result)


def test_the_marker_on_the_plan_tells_the_plane_and_its_colour_the_stress(
    result: StrengthResult,
) -> None:
    figure = Figure(figsize=report_size(125))
    marks = _plan(figure, result, Look(), Selection())
    (of_plane,) = [mark for mark in marks if mark.plane == Plane("C/D")]
    stress = {pull.source: pull.mpa for pull in result.pulls}
    faces = of_plane.artist.get_facecolor()  # type: ignore[attr-defined]
    brightness = faces[:, :3] @ [0.299, 0.587, 0.114]
    readings = np.array([stress[source] for source in of_plane.sources])
    assert np.corrcoef(readings, brightness)[0, 1] > 0.95


def test_bounds_stand_on_the_plan_as_bounds(result: StrengthResult) -> None:
    figure = Figure(figsize=report_size(125))
    _plan(figure, result, Look(), Selection())
    said = words(figure)
    assert "≤ 0.20" in said
    assert any(word.startswith("≥ ") for word in said)
    assert "at most: came away before load" in said


@pytest.mark.parametrize("draw", [_plan, _stack, _shares])
def test_no_plane_letter_stands_alone_without_its_words(
    draw: Drawing, result: StrengthResult
) -> None:
    figure = Figure(figsize=report_size(150))
    draw(figure, result, Look(), Selection())
    said = " ".join(" ".join(words(figure)).split())
    assert "C/D, Body SF to Seal AP" in said or "C/D Body SF to Seal AP" in said


def test_no_two_planes_of_a_stack_share_a_marker() -> None:
    planes = [Plane("A")]
    for order in range(5):
        planes += [Plane.above(order), Plane.within(order + 1)]
    assert len({plane_marker(plane) for plane in planes}) == len(planes)


def test_the_stack_shows_failing_left_and_non_failing_right_with_their_counts(
    result: StrengthResult,
) -> None:
    figure = Figure(figsize=report_size(140))
    marks = _stack(figure, result, Look(), Selection())
    failing = sum(pull.condition == "failing" and pull.film.untouched for pull in result.pulls)
    assert any(word.startswith(f"failing: {failing} pulls") for word in words(figure))
    bands = [mark for mark in marks if mark.plane and not mark.sources]
    assert [str(mark.plane) for mark in bands] == ["A", "A/B", "B", "B/C", "C", "C/D", "D"]


def test_layers_are_drawn_to_the_scale_of_their_thickness() -> None:
    from workbench.figures.stack_column import StackScale

    scale = StackScale.of(bottling_hall().system("FC-3"), 4)
    heights = np.diff(scale.edges)[1:]
    assert heights / heights.sum() == pytest.approx(np.array([150, 1500, 80]) / 1730, rel=1e-6)
    assert scale.height(Plane("C/D")) == pytest.approx(scale.edges[3])


def test_layers_without_a_thickness_are_said_not_to_be_to_scale() -> None:
    from workbench.figures.stack_column import StackScale

    assert StackScale.of((), 3).um_per_height is None


def test_a_chosen_plane_lights_its_readings_and_fades_the_rest(result: StrengthResult) -> None:
    chosen = Selection(plane=Plane("C/D"))
    marks = _plan(Figure(figsize=report_size(125)), result, Look(), chosen)
    for mark in marks:
        if mark.plane:
            alphas = mark.artist.get_facecolor()[:, 3]  # type: ignore[attr-defined]
            assert (alphas == 1).all() == (mark.plane == Plane("C/D"))


def test_chosen_sources_alone_are_lit(result: StrengthResult) -> None:
    source = Source("pull_off", "P-01")
    chosen = Selection(sources=frozenset({source}))
    marks = _plan(Figure(figsize=report_size(125)), result, Look(), chosen)
    lit = [
        one
        for mark in marks
        if mark.plane
        for one, face in zip(mark.sources, mark.artist.get_facecolor(), strict=True)  # type: ignore[attr-defined]
        if face[3] == 1
    ]
    assert lit == [source]


def test_a_pick_gives_back_the_sources_of_its_points(result: StrengthResult) -> None:
    marks = _plan(Figure(figsize=report_size(125)), result, Look(), Selection())
    mark = next(mark for mark in marks if len(mark.sources) > 2)
    assert marks.picked(mark.artist, [1]) == (mark.sources[1],)
    assert marks.picked(mark.artist, [10_000]) == ()


def test_shares_of_every_pull_fill_its_bar(result: StrengthResult) -> None:
    figure = Figure(figsize=report_size(break_shares_height_mm(result)))
    _shares(figure, result, Look(), Selection())
    (axes,) = figure.axes
    faces = [patch for patch in axes.patches if patch.get_height() == 0.76]  # type: ignore[attr-defined]
    told = sum(share for pull in result.pulls if pull.film.untouched for _, share in pull.shares)
    assert sum(face.get_width() for face in faces) == pytest.approx(told)  # type: ignore[attr-defined]


def test_the_pattern_that_the_failure_follows_stands_first(result: StrengthResult) -> None:
    patterns = patterns_of(bottling_hall(), result)
    figure = Figure(figsize=report_size(pattern_height_mm(patterns)))
    marks = draw_pattern(figure, patterns)
    assert patterns[0].name == "recoat window after coat 2, Body SF"
    assert {mark.area for mark in marks} == {a.ref for a in bottling_hall().all(Area)}
    assert "13 Mar" in words(figure)


def test_a_surface_is_drawn_under_the_readings_and_hatched_where_it_is_not_defensible(
    result: StrengthResult,
) -> None:
    between = between_readings(bottling_hall(), result.pulls)
    assert between is not None
    figure = Figure(figsize=report_size(125))
    draw_adhesion_plan(figure, bottling_hall(), result, surface=between)
    from matplotlib.collections import QuadMesh
    from matplotlib.contour import QuadContourSet

    assert len(figure.findobj(QuadMesh)) >= 1
    assert len(figure.findobj(QuadContourSet)) == 1
    assert "no reading near enough: not known" in words(figure)


@pytest.mark.parametrize("draw", [draw_adhesion_plan, draw_adhesion_stack, draw_break_shares])
def test_a_case_without_pulls_is_drawn_without_failing(draw: Callable[..., Marks]) -> None:
    empty = dossier()
    figure = Figure(figsize=report_size(120))
    marks = draw(figure, empty, strength_by_plane(empty))
    figure.savefig(io.BytesIO(), dpi=40)
    assert marks.sources == frozenset()


def test_in_grey_a_stronger_reading_is_lighter(result: StrengthResult) -> None:
    figure = Figure(figsize=report_size(125))
    _plan(figure, result, Look(), Selection())
    stored = io.BytesIO()
    figure.savefig(stored, dpi=60)
    grey = np.asarray(Image.open(stored).convert("L"))
    assert grey.std() > 10
    shades = [np.dot(colour[:3], (0.299, 0.587, 0.114)) for colour in _viridis()]
    assert (np.diff(shades) > 0).all()


def _viridis() -> np.ndarray:
    from matplotlib import colormaps

    return np.asarray(colormaps["viridis"](np.linspace(0, 1, 64)))


def test_with_more_pulls_than_a_page_holds_each_area_has_one_bar() -> None:
    from builders import make

    from workbench.records import Location, PullOff

    records = [
        record
        for at in range(3)
        for record in (make(Area, ref=f"A{at}"), make(Location, ref=f"A{at}", area=f"A{at}"))
    ]
    pulls = [
        make(PullOff, ref=f"P{at}", location=f"A{at % 3}", fixture="20 mm", reading="2 MPa",
             breaks="A/B 50; B 50")
        for at in range(90)
    ]  # fmt: skip
    case = dossier(*records, *pulls)
    result = strength_by_plane(case)
    figure = Figure(figsize=report_size(break_shares_height_mm(result)))
    marks = draw_break_shares(figure, case, result)
    assert [len(mark.sources) for mark in marks] == [30, 30, 30]
    assert break_shares_height_mm(result) < 60


@pytest.mark.parametrize("planes", [2, 9])
@pytest.mark.parametrize("wide", [False, True])
def test_every_legend_of_the_plan_stands_on_the_paper_and_clear_of_the_next(
    planes: int, *, wide: bool
) -> None:
    held = many_planes(planes)
    found = strength_by_plane(held)
    height = adhesion_plan_height_mm(held, found.pulls, 160)
    figure = Figure(figsize=report_size(height) if not wide else (2 * height / 25.4, height / 25.4))
    draw_adhesion_plan(figure, held, found)
    figure.canvas = FigureCanvasAgg(figure)
    figure.draw_without_rendering()
    boxes = [legend.get_window_extent() for legend in figure.legends]
    assert len(boxes) == 3
    assert all(box.y0 >= 0 for box in boxes)
    assert not any(one.overlaps(other) for one, other in combinations(boxes, 2))


def many_planes(planes: int) -> Dossier:
    """Return one wide low area in which pulls broke in that many planes, and some in the glue."""
    names = [Plane.within(0)]
    for order in range(planes):
        names += [Plane.above(order), Plane.within(order + 1)]
    coats = [make(Coat, order=0, material="concrete", product="Slab")]
    coats += [make(Coat, order=at, product=f"Coat {at}") for at in range(1, planes + 1)]
    broke = [*(f"{plane} 100" for plane in names[:planes]), "Y 100"]
    places = [make(Location, ref=f"L-{at}", x=f"{3 * at + 1} m", y="2 m") for at in range(planes)]
    places.append(make(Location, ref=f"L-{planes}"))
    pulls = [
        make(PullOff, ref=f"P-{at}", location=f"L-{at}", fixture="20 mm", reading="2 MPa", breaks=b)
        for at, b in enumerate(broke[:-1])
    ]
    pulls.append(
        make(PullOff, ref="P-G", location="L-0", fixture="20 mm", reading="3 MPa", breaks=broke[-1])
    )
    pulls.append(
        make(PullOff, ref="P-N", location=f"L-{planes}", fixture="20 mm", reading="3 MPa",
             breaks=broke[0])
    )  # fmt: skip
    return dossier(make(Area, system="S", outline="0 0; 40 0; 40 4; 0 4"), *coats, *places, *pulls)


def test_a_pull_whose_location_has_no_place_is_told_as_not_on_the_plan() -> None:
    held = many_planes(2)
    missing = not_on_plan(held, strength_by_plane(held).pulls)
    assert [pull.source.label for pull in missing] == ["P-N"]
