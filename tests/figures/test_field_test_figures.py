"""The figures of the field tests: what is drawn, what can be picked, what is told beside colour."""

from collections.abc import Callable

import numpy as np
import pytest
from builders import dossier, make
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.collections import PathCollection
from matplotlib.figure import Figure
from matplotlib.patches import Circle, Polygon, Rectangle
from matplotlib.text import Text

from workbench.analysis.application import timeline_of
from workbench.figures.look import Look
from workbench.figures.marks import Marks, Selection
from workbench.figures.moisture import draw_moisture, moisture_height_mm
from workbench.figures.ratings import draw_ratings, ratings_height_mm
from workbench.figures.scales import RatingMark, draw_scale
from workbench.figures.thickness import draw_thickness, thickness_height_mm
from workbench.figures.timeline import draw_timeline, timeline_height_mm
from workbench.records import (
    Application,
    Area,
    Coat,
    Dossier,
    Limit,
    Location,
    Measurement,
    Rating,
    RecoatWindow,
    Source,
    Thickness,
    Weather,
)
from workbench.records.codes import RatingMethod
from workbench.trade.showing import Showing, System

COATS = (
    make(Coat, system="S", order=0, material="concrete"),
    make(Coat, system="S", order=1, material="epoxy", product="Body", dft_nominal="300 um",
         dft_min="200 um", dft_max="400 um"),
    make(Coat, system="S", order=2, material="polyurethane_aliphatic", product="Seal"),
)  # fmt: skip
CASE = dossier(
    *COATS,
    make(Area, ref="A1", condition="failing", system="S", outline="0 0; 10 0; 10 8; 0 8"),
    make(Area, ref="A2", condition="non-failing", system="S", outline="10 0; 20 0; 20 8; 10 8"),
    make(Location, ref="L1", area="A1", x="3 m", y="4 m"),
    make(Location, ref="L2", area="A2", x="15 m", y="4 m"),
    make(RecoatWindow, product="Body", at_temperature="15 degC", min_interval="12 h",
         max_interval="48 h"),
    make(Application, ref="AP1", area="A1; A2", coat=1, start="2024-03-04 08:00",
         end="2024-03-04 12:00", air="18 degC", humidity="60 %", surface="15 degC"),
    make(Application, ref="AP2", area="A1", coat=2, start="2024-03-08 12:00",
         end="2024-03-08 16:00", air="18 degC", humidity="80 %", surface="15 degC"),
    make(Application, ref="AP3", area="A2", coat=2, start="2024-03-05 12:00",
         end="2024-03-05 16:00"),
    make(Weather, time="2024-03-06 10:00", area="A1", air="15 degC", humidity="60 %",
         surface="15 degC"),
    make(Rating, ref="R1", location="L1", rating="2", plane="B/C"),
    make(Rating, ref="R2", location="L1", rating="2", plane="B/C"),
    make(Rating, ref="R3", location="L2", rating="8"),
    make(Rating, ref="R4", location="L2", method="ISO 2409", rating="1", plane="B/C"),
    make(Thickness, ref="T1", location="L1", layer="1", readings="150; 170; 160"),
    make(Thickness, ref="T2", location="L2", layer="1", readings="mean 300; min 280; max 320"),
    make(Thickness, ref="T3", location="L2", readings="12; 13", unit="mil"),
    make(Measurement, ref="M1", location="L1", quantity="salts", value="80 mg/m2",
         method="f-salts"),
    make(Measurement, ref="M2", location="L2", quantity="salts", value="2 ug/cm2",
         method="f-salts"),
    make(Measurement, ref="M3", location="L2", quantity="moisture", value="none",
         method="f-carbide"),
    make(Limit, quantity="salts", maximum="50 mg/m2", source_text="specification"),
)  # fmt: skip


def _drawn(draw: Callable[[Figure], object]) -> Figure:
    figure = Figure(figsize=(6.3, 5), dpi=40)
    draw(figure)
    FigureCanvasAgg(figure).draw()  # type: ignore[no-untyped-call]
    return figure


def _marks(draw: Callable[[Figure], Marks]) -> Marks:
    kept: list[Marks] = []
    _drawn(lambda figure: kept.append(draw(figure)))
    return kept[0]


def _words(figure: Figure) -> str:
    return "\n".join(text.get_text() for text in figure.findobj(Text) if isinstance(text, Text))


def _points(axes: Axes) -> list[PathCollection]:
    return [one for one in axes.collections if isinstance(one, PathCollection)]


EVERY: list[Callable[[Figure, Dossier, Look], Marks]] = [
    lambda figure, held, look: draw_timeline(figure, timeline_of(held), look=look),
    lambda figure, held, look: draw_ratings(figure, held, look=look),
    lambda figure, held, look: draw_thickness(figure, held, look=look),
    lambda figure, held, look: draw_moisture(figure, held, look=look),
]


@pytest.mark.parametrize("draw", EVERY)
@pytest.mark.parametrize("look", [Look(), Look(dark=True, showing=Showing(System.US))])
def test_a_figure_draws_in_light_and_dark_and_says_where_its_points_come_from(
    draw: Callable[[Figure, Dossier, Look], Marks], look: Look
) -> None:
    marks = _marks(lambda figure: draw(figure, CASE, look))
    assert marks.sources
    assert all(CASE.resolve(source) for source in marks.sources)


@pytest.mark.parametrize("draw", EVERY)
def test_an_empty_case_says_that_nothing_is_recorded(
    draw: Callable[[Figure, Dossier, Look], Marks],
) -> None:
    figure = _drawn(lambda figure: draw(figure, dossier(), Look()))
    assert "recorded" in _words(figure) or "has a place" in _words(figure)


def test_heights_grow_with_what_is_drawn() -> None:
    assert timeline_height_mm(timeline_of(CASE)) >= timeline_height_mm(timeline_of(dossier()))
    assert ratings_height_mm(CASE) > 0
    assert thickness_height_mm(CASE) > thickness_height_mm(dossier())
    more = make(Measurement, ref="M9", location="L1", quantity="ph_face", value="9 pH")
    assert moisture_height_mm(CASE.with_records([more])) > moisture_height_mm(CASE)


def test_a_missed_window_is_hatched_and_its_length_stands_beside_it() -> None:
    """Ended 12:00 on the 4th, 48 h at 15 °C, next coat 12:00 on the 8th: 48 h beyond."""
    figure = _drawn(lambda figure: draw_timeline(figure, timeline_of(CASE)))
    assert "+48 h" in _words(figure)
    hatched = [
        one
        for one in figure.axes[0].patches
        if isinstance(one, Rectangle) and one.get_hatch() == "//////"
    ]
    assert [round(one.get_width(), 6) for one in hatched] == [2.0]


def test_a_margin_too_small_while_coating_points_down() -> None:
    """18 °C and 80 % have a dew point of 14.5 °C: the surface at 15 °C is 0.5 K above it."""
    figure = _drawn(lambda figure: draw_timeline(figure, timeline_of(CASE)))
    sizes = sorted(np.asarray(one.get_offsets()).shape[0] for one in _points(figure.axes[1]))
    assert sizes == [1, 1, 1]
    low = min(_points(figure.axes[1]), key=lambda one: np.asarray(one.get_offsets())[0, 1])
    assert np.asarray(low.get_offsets())[0, 1] == pytest.approx(0.5, abs=0.1)
    assert "asked for" in _words(figure)


def test_an_area_chosen_fades_the_others() -> None:
    shown = Selection(areas=frozenset({"A1"}))
    figure = _drawn(lambda figure: draw_timeline(figure, timeline_of(CASE), selection=shown))
    bars = [one for one in figure.axes[0].patches if isinstance(one, Rectangle)]
    assert len({one.get_alpha() for one in bars}) > 1


def test_the_best_is_at_the_right_whatever_way_the_scale_runs() -> None:
    figure = _drawn(lambda figure: draw_ratings(figure, CASE))
    knife, tape = figure.axes[:2]
    assert knife.get_xlim()[0] < knife.get_xlim()[1]
    assert tape.get_xlim()[0] > tape.get_xlim()[1]
    assert "10 is the best" in knife.get_xlabel()
    assert "0 is the best" in tape.get_xlabel()


def test_two_ratings_of_one_place_lie_side_by_side() -> None:
    figure = _drawn(lambda figure: draw_ratings(figure, CASE))
    failing = _points(figure.axes[0])[0]
    heights = np.asarray(failing.get_offsets())[:, 1]
    assert len(set(heights.tolist())) == 2


def test_a_rating_off_its_scale_is_still_drawn() -> None:
    held = CASE.with_records([make(Rating, ref="R9", location="L1", rating="11")])
    figure = _drawn(lambda figure: draw_ratings(figure, held))
    assert figure.axes[0].get_xlim()[1] > 11


def test_planes_are_named_in_words() -> None:
    figure = _drawn(lambda figure: draw_ratings(figure, CASE))
    assert "B/C, Body to Seal" in _words(figure)


def test_a_spot_outside_the_specified_range_is_open() -> None:
    figure = _drawn(lambda figure: draw_thickness(figure, CASE))
    body = next(axes for axes in figure.axes if "Body" in axes.get_title(loc="left"))
    thin, sound = _points(body)
    paper = Look().scheme.paper
    assert np.allclose(thin.get_facecolor()[0], _rgba(paper))
    assert not np.allclose(sound.get_facecolor()[0], _rgba(paper))
    assert "2 spots, 1 outside; 200 µm to 400 µm specified" in body.get_title(loc="left")


def _rgba(colour: str) -> tuple[float, float, float, float]:
    red, green, blue = (int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5))
    return red, green, blue, 1.0


def test_mils_and_micrometres_share_an_axis() -> None:
    figure = _drawn(lambda figure: draw_thickness(figure, CASE))
    total = next(axes for axes in figure.axes if "total" in axes.get_title(loc="left"))
    (points,) = _points(total)
    assert np.asarray(points.get_offsets())[0, 0] == pytest.approx(12.5 * 25.4)


def test_a_value_over_its_limit_has_a_ring() -> None:
    figure = _drawn(lambda figure: draw_moisture(figure, CASE))
    salts = next(axes for axes in figure.axes if "salts" in axes.get_title(loc="left"))
    values, rings = _points(salts)
    assert np.asarray(values.get_offsets()).shape[0] == 2
    assert np.asarray(rings.get_offsets()).tolist() == [[3, 4]]
    assert "limit 50.0 mg/m²" in salts.get_title(loc="left")


def test_units_of_two_worlds_meet_on_one_plan() -> None:
    figure = _drawn(lambda figure: draw_moisture(figure, CASE))
    salts = next(axes for axes in figure.axes if "salts" in axes.get_title(loc="left"))
    assert sorted(np.asarray(_points(salts)[0].get_array()).tolist()) == [20, 80]


def test_a_unit_of_another_kind_has_a_plan_in_that_unit() -> None:
    odd = make(Measurement, ref="M8", location="L1", quantity="emission", value="3 mm",
               method="f-mver")  # fmt: skip
    figure = _drawn(lambda figure: draw_moisture(figure, CASE.with_records([odd])))
    assert "\nmm\n" in _words(figure)


def test_the_face_measured_is_named_in_words() -> None:
    face = make(Measurement, ref="M8", location="L1", quantity="ph_face", value="9 pH",
                plane="B/C@B")  # fmt: skip
    figure = _drawn(lambda figure: draw_moisture(figure, CASE.with_records([face])))
    assert "B/C, Body to Seal, face of Body" in _words(figure)


def test_a_word_stands_where_there_is_no_number() -> None:
    figure = _drawn(lambda figure: draw_moisture(figure, CASE))
    assert "none" in _words(figure)


@pytest.mark.parametrize("code", RatingMethod)
def test_every_scale_can_be_drawn_from_the_best_down(code: str) -> None:
    kept: list[RatingMark] = []
    figure = _drawn(lambda figure: kept.extend(draw_scale(figure, code)))
    assert len(kept) >= 2
    assert "is the best" in _words(figure)


def test_a_method_without_a_scale_says_so() -> None:
    figure = _drawn(lambda figure: draw_scale(figure, "ASTM D7234"))
    assert "has no scale" in _words(figure)


def _bare_share(axes: Axes, whole: float) -> float:
    area = 0.0
    for one in axes.patches:
        if isinstance(one, Polygon):
            x, y = one.get_xy()[:-1].T
            area += abs(np.dot(x, np.roll(y, 1)) - np.dot(y, np.roll(x, 1))) / 2
        if isinstance(one, Circle):
            area += np.pi * one.get_radius() ** 2
    return 100 * area / whole


def test_a_lattice_shows_as_much_off_as_its_rating_says() -> None:
    """0, under 5, 5 to 15, 15 to 35, 35 to 65, over 65 % (READ for ASTM D3359 B)."""
    figure = _drawn(lambda figure: draw_scale(figure, "ASTM D3359 B"))
    shares = [_bare_share(axes, 400) for axes in figure.axes]
    bounds = [(0, 0), (0.1, 5), (5, 15), (15, 35), (35, 65), (65, 100)]
    assert all(low <= share <= high for share, (low, high) in zip(shares, bounds, strict=True))


def test_rust_covers_no_more_than_its_rating_permits() -> None:
    """ASTM D610-08(2012), table 1 (READ): upper bounds of ratings 10 to 1."""
    figure = _drawn(lambda figure: draw_scale(figure, "ASTM D610"))
    shares = [_bare_share(axes, 625) for axes in figure.axes]
    bounds = [0.01, 0.03, 0.1, 0.3, 1, 3, 10, 16, 33, 50]
    assert all(s <= b * 1.1 + 0.01 for s, b in zip(shares[:10], bounds, strict=True))
    assert shares[10] > 50


def test_sources_are_records() -> None:
    marks = _marks(lambda figure: draw_ratings(figure, CASE))
    assert Source("rating", "R1") in marks.sources
