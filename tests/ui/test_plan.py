"""The plan: drawn on by keys and by coordinates, calibrated, and calibrated again; its levels."""

from dataclasses import replace
from itertools import combinations
from pathlib import Path

import pytest
from bottling_hall import on_two_levels
from builders import dossier, make
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QImage
from PySide6.QtTest import QTest
from tools.pages import page_of

from workbench.desk.acts import Add, Change
from workbench.desk.questions.site import site_of
from workbench.figures.look import Look
from workbench.figures.marks import NOTHING_CHOSEN, Selection
from workbench.records import Area, Dossier, Location, Outline, Quantity, SitePlan
from workbench.records.levels import levels_of
from workbench.ui.figures.catalogue import Scene
from workbench.ui.pages.new_plan import NewPlanPage
from workbench.ui.pages.records import RecordsPage
from workbench.ui.where.items import AreaItem, scene_point
from workbench.ui.window import Window

KEYS = Qt.Key


def picture(path: Path) -> Path:
    image = QImage(200, 100, QImage.Format.Format_RGB32)
    image.fill(Qt.GlobalColor.white)
    image.save(str(path))
    return path


def form_of(window: Window, noun: str) -> dict[str, str]:
    return page_of(window, noun, RecordsPage).form.form.texts


def test_an_area_is_outlined_by_keys_and_a_corner_is_taken_back(window: Window) -> None:
    assert window.desk
    where = window.desk.where
    where.draw("outline")
    right, down = [KEYS.Key_Right] * 3, [KEYS.Key_Down] * 3
    for key in (KEYS.Key_Space, *right, KEYS.Key_Space, *down, KEYS.Key_Space, KEYS.Key_Backspace):
        QTest.keyClick(where.view, key)
    QTest.keyClick(where.view, KEYS.Key_Return)  # two corners outline nothing
    assert window.desk.key != Area.noun
    for key in (*down, KEYS.Key_Space, KEYS.Key_Return):
        QTest.keyClick(where.view, key)
    outline = Outline.read(form_of(window, Area.noun)["outline"])
    assert len(outline.rings[0]) == 3
    assert outline.area_m2 > 0


def test_corners_are_written_as_coordinates_and_an_empty_line_closes_the_outline(
    window: Window,
) -> None:
    assert window.desk
    where = window.desk.where
    where.draw("outline")
    assert where.coordinates.isVisible()
    QTest.keyClicks(where.coordinates, "0 0; 12,5 0")
    QTest.keyClick(where.coordinates, KEYS.Key_Return)
    assert where.coordinates.text()  # a comma between digits can mean two things: it is refused
    where.coordinates.clear()
    QTest.keyClicks(where.coordinates, "0 0; 12.5 0")
    QTest.keyClick(where.coordinates, KEYS.Key_Return)
    QTest.keyClicks(where.coordinates, "12.5 8")
    QTest.keyClick(where.coordinates, KEYS.Key_Return)
    QTest.keyClick(where.coordinates, KEYS.Key_Return)
    assert form_of(window, Area.noun)["outline"] == "0 0; 12.5 0; 12.5 8"
    assert not where.coordinates.isVisible()


def test_a_location_is_placed_by_coordinates_in_the_area_it_lies_in(window: Window) -> None:
    assert window.desk
    where = window.desk.where
    where.draw("point")
    QTest.keyClicks(where.coordinates, "5 5")
    QTest.keyClick(where.coordinates, KEYS.Key_Return)
    texts = form_of(window, Location.noun)
    assert (texts["x"], texts["y"], texts["area"]) == ("5 m", "5 m", "B1")


def test_esc_in_the_line_of_coordinates_leaves_what_is_drawn(window: Window) -> None:
    assert window.desk
    where = window.desk.where
    where.draw("outline")
    QTest.keyClicks(where.coordinates, "0 0")
    QTest.keyClick(where.coordinates, KEYS.Key_Return)
    QTest.keyClick(where.coordinates, KEYS.Key_Escape)
    assert not where.coordinates.isVisible()
    QTest.keyClick(where.view, KEYS.Key_Return)
    assert window.desk.key != Area.noun


def test_a_plan_is_calibrated_again_and_the_act_can_be_undone(window: Window) -> None:
    assert window.desk
    assert window.bench
    before = window.bench.dossier.all(SitePlan)[0]
    window.desk.where.calibrate_again()
    page = window.desk.page
    assert isinstance(page, NewPlanPage)
    assert page.first.text() == f"{before.x0} {before.y0}"
    page.length.clear()
    QTest.keyClicks(page.length, "120 m")
    page.save()
    after = window.bench.dossier.all(SitePlan)[0]
    assert str(after.length) == "120 m"
    assert (after.id, after.file, after.x1) == (before.id, before.file, before.x1)
    assert window.desk.where.view.site.sheet
    scale = window.desk.where.view.site.sheet.scale.metres_per_px
    assert window.bench.undo()
    assert window.bench.dossier.all(SitePlan)[0].length == before.length
    assert window.desk.where.view.site.sheet.scale.metres_per_px == pytest.approx(scale / 2)


def test_a_plan_is_calibrated_in_feet_as_truly_as_in_metres(window: Window, tmp_path: Path) -> None:
    assert window.desk
    assert window.bench
    window.desk.errands.plan("")
    page = window.desk.page
    assert isinstance(page, NewPlanPage)
    page.choose(picture(tmp_path / "deck.png"))
    for line, text in ((page.first, "20 80"), (page.second, "120 80"), (page.length, "100 ft")):
        QTest.keyClicks(line, text)
    QTest.keyClicks(page.level, "deck")
    page.save()
    sheet = site_of(window.bench.dossier, "deck").sheet
    assert sheet
    assert sheet.file == "plan/deck.png"
    assert sheet.scale.metres_per_px == pytest.approx(0.3048)  # 1 ft is 0.3048 m exactly


def test_points_that_are_not_two_numbers_are_refused_and_kept(
    window: Window, tmp_path: Path
) -> None:
    assert window.desk
    window.desk.errands.plan("")
    page = window.desk.page
    assert isinstance(page, NewPlanPage)
    page.choose(picture(tmp_path / "deck.png"))
    for line, text in ((page.first, "here"), (page.second, "120 80"), (page.length, "1 m")):
        QTest.keyClicks(line, text)
    page.save()
    assert "The first point “here”" in window.told
    assert page.first.text() == "here"


@pytest.fixture
def two_levels() -> Dossier:
    """Two levels, each with its plan; one area says its level, another is placed by its spot."""
    px = {"x0": Quantity("0"), "y0": Quantity("0"), "x1": Quantity("10"), "y1": Quantity("0")}
    outline = Outline.read("0 0; 9 0; 9 9")
    return Dossier([
        make(SitePlan, file="plan/a.png", length=Quantity("10", "m"), level="ground", **px),
        make(SitePlan, file="plan/b.png", length=Quantity("10", "m"), level="deck", **px),
        make(Area, ref="A1", outline=outline, level="ground"),
        make(Area, ref="A2", outline=outline),
        make(Area, ref="A3", outline=outline),
        make(Location, ref="L1", area="A2", level="deck", x=Quantity("1"), y=Quantity("1")),
        make(Location, ref="L2", area="A1", x=Quantity("1"), y=Quantity("1")),
    ])  # fmt: skip


def test_each_level_shows_its_plan_its_areas_and_its_places(two_levels: Dossier) -> None:
    assert levels_of(two_levels) == ("ground", "deck")
    ground, deck = (site_of(two_levels, level) for level in ("ground", "deck"))
    assert ground.sheet
    assert deck.sheet
    assert (ground.sheet.file, deck.sheet.file) == ("plan/a.png", "plan/b.png")
    assert {one.ref for one in ground.areas} == {"A1", "A3"}  # nothing says where A3 lies
    assert {one.ref for one in deck.areas} == {"A2", "A3"}
    assert [one.ref for one in deck.spots] == ["L1"]
    assert "L2" in ground.unplaced  # with several levels a place without one cannot be drawn


def test_what_is_drawn_on_a_level_says_so(window: Window) -> None:
    assert window.desk
    assert window.bench
    area = window.bench.dossier.all(Area)[0]
    assert window.bench.do(Change(replace(area, level="ground"), ""))
    assert window.bench.do(Add((make(Area, ref="Z9", name="Z", level="roof"),)))
    where = window.desk.where
    where.show_level("roof")
    where.draw("point")
    QTest.keyClicks(where.coordinates, "5 5")
    QTest.keyClick(where.coordinates, KEYS.Key_Return)
    assert form_of(window, Location.noun)["level"] == "roof"


def test_a_figure_is_of_the_level_of_what_is_chosen() -> None:
    def shown(areas: set[str]) -> str:
        chosen = Selection(areas=frozenset(areas)) if areas else NOTHING_CHOSEN
        return Scene(on_two_levels(), None, Look(), chosen, lambda _name: None).level[0]

    assert shown({"B5"}) == "upper"
    assert shown({"B1"}) == "lower"
    assert shown(set()) == "lower"


@pytest.mark.parametrize("ring", ["0 0; 60 0; 60 4; 0 4", "0 0; 20 0; 20 20; 0 20"])
def test_no_spot_covers_the_name_of_an_area(ring: str) -> None:
    area = make(Area, ref="LOW", name="Lower wall", outline=ring)
    places = [
        make(Location, ref=f"L-{x}-{y}", area="LOW", x=f"{x} m", y=f"{y} m")
        for x in range(2, 60, 5) for y in (1, 3, 10) if y < 4 or x < 12
    ]  # fmt: skip
    site = site_of(dossier(area, *places))
    item = AreaItem(site.areas[0])
    points = [scene_point(spot.x, spot.y) for spot in site.spots]
    item.keep_name_clear((), [(point.x(), point.y()) for point in points])
    room = item.name_room(1.6, 1.1, 0.9, QRectF(-5, -30, 90, 60))
    assert not [point for point in points if room.contains(point)]


def test_no_name_of_an_area_lies_over_another() -> None:
    """Four strips side by side, each lower than its own name."""
    areas = [
        make(Area, ref=f"A{at}", outline=f"0 {at}; 40 {at}; 40 {at + 1}; 0 {at + 1}")
        for at in range(4)
    ]
    items = [AreaItem(area) for area in site_of(dossier(*areas)).areas]
    rooms = []
    for at, item in enumerate(items):
        item.keep_name_clear(items[at + 1 :], (), items[:at])
        rooms.append(item.name_room(2.0, 0.9, 0.6, QRectF(-10, -20, 60, 40)))
    assert not any(one.intersects(other) for one, other in combinations(rooms, 2))
