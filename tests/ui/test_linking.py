"""Brushing and linking: what is chosen anywhere is seen everywhere."""

import time

from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from tools.pages import page_of

from workbench.records import Location, Plane, PullOff, Rating, Source
from workbench.ui.pages.records import RecordsPage
from workbench.ui.where.items import scene_point
from workbench.ui.window import Window


def desk_of(window: Window) -> tuple[RecordsPage, set[str]]:
    assert window.desk
    page = window.desk.open_page(PullOff.noun)
    assert isinstance(page, RecordsPage)
    return page, {one.label for one in page.table.records.records}


def point_of(window: Window, ref: str) -> QPoint:
    assert window.desk
    view = window.desk.where.view
    spot = next(one for one in view.site.spots if one.ref == ref)
    return view.mapFromScene(scene_point(spot.x, spot.y))


def test_a_clicked_place_narrows_the_table_to_what_was_done_there(window: Window) -> None:
    assert window.desk
    assert window.bench
    page, everything = desk_of(window)
    view = window.desk.where.view
    QTest.mouseClick(view.viewport(), Qt.MouseButton.LeftButton, pos=point_of(window, "L303"))
    assert window.bench.selection.focus.places == {"L303"}
    shown = {one.label for one in page.table.records.records}
    there = {p.label for p in window.bench.dossier.all(PullOff) if p.location == "L303"}
    assert shown == there != everything
    window.desk.show_everything()
    assert {one.label for one in page.table.records.records} == everything


def test_an_area_takes_in_every_place_and_area_inside_it(window: Window) -> None:
    assert window.bench
    page, _ = desk_of(window)
    window.bench.selection.show_places({"B2"})
    shown = {one.location for one in page.table.records.records if isinstance(one, PullOff)}
    dossier = window.bench.dossier
    areas = {dossier.find(Location, ref).area for ref in shown if dossier.find(Location, ref)}  # type: ignore[union-attr]
    assert {"B2", "W2"} <= areas  # the strip W2 lies within bay 2


def test_a_plane_narrows_every_table_that_speaks_of_layers(window: Window) -> None:
    assert window.desk
    assert window.bench
    page, everything = desk_of(window)
    stack = window.desk.layers.view
    row = stack.planes.row_of(Plane("C/D"))
    assert row is not None
    QTest.mouseClick(
        stack.viewport(),
        Qt.MouseButton.LeftButton,
        pos=stack.visualRect(stack.planes.index(row)).center(),
    )
    assert window.bench.selection.focus.plane == Plane("C/D")
    shown = page.table.records.records
    assert 0 < len(shown) < len(everything)
    assert all(
        isinstance(one, PullOff) and one.breaks and one.breaks.of(Plane("C/D")) > 0 for one in shown
    )
    ratings = window.desk.open_page(Rating.noun)
    assert isinstance(ratings, RecordsPage)
    said = {str(getattr(one, "plane", "")).split("@")[0] for one in ratings.table.records.records}
    assert said == {"C/D"}


def test_chosen_rows_light_up_on_the_plan_and_in_the_stack(window: Window) -> None:
    assert window.desk
    assert window.bench
    page, _ = desk_of(window)
    row = page.table.records.row_of(next(
        one.id for one in window.bench.dossier.all(PullOff) if one.ref == "P-03"
    ))  # fmt: skip
    assert row is not None
    page.table.scrollTo(page.table.records.index(row, 0))
    QTest.mouseClick(
        page.table.viewport(),
        Qt.MouseButton.LeftButton,
        pos=page.table.visualRect(page.table.records.index(row, 0)).center(),
    )
    assert window.bench.selection.sources == (Source("pull_off", "P-03"),)
    assert "L303" in window.desk.where.view.lit
    assert "C/D" in window.desk.layers.view.lit
    assert page.form.form.texts["ref"] == "P-03"


def test_choosing_answers_within_a_tenth_of_a_second(window: Window) -> None:
    assert window.bench
    desk_of(window)
    window.bench.selection.show_places({"B1"})  # the first look builds what is looked up after
    window.bench.selection.clear()
    began = time.perf_counter()
    window.bench.selection.show_places({"B3"})
    window.bench.selection.show_plane(Plane("C/D"))
    assert time.perf_counter() - began < 0.1


def test_the_bar_says_what_is_shown_in_words_and_never_by_letters_alone(window: Window) -> None:
    assert window.bench
    window.bench.selection.show_places({"B3"})
    window.bench.selection.show_plane(Plane("C/D"))
    said = window.bench.selection.focus.words(window.bench.dossier)
    assert said == "B3 Bay 3, south-east · C/D, Body SF to Seal AP"


def test_what_was_lit_on_another_page_is_chosen_when_its_table_is_seen(window: Window) -> None:
    assert window.desk
    assert window.bench
    page_of(window, "pull_off", RecordsPage)
    window.desk.open_page("party")
    window.bench.selection.light([Source("pull_off", "P-12")])
    page = page_of(window, "pull_off", RecordsPage)
    assert [one.label for one in page.table.chosen_records()] == ["P-12"]
    assert page.form.form.record
    assert page.form.form.record.label == "P-12"
