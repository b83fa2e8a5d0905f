"""Photographs and plans in the window: taken in, marked, compared, placed, drawn upon."""

from hashlib import sha256
from pathlib import Path

import pytest
from PIL import Image
from PIL.ExifTags import IFD, Base
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt, QTimer, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel
from pytestqt.qtbot import QtBot
from tools.pages import page_of, said_in

from workbench.records import Area, Location, MarkShape, Photo, PhotoMark, SitePlan
from workbench.ui.pages.new_plan import NewPlanPage
from workbench.ui.pages.photographs import PhotographsPage
from workbench.ui.pages.records import RecordsPage
from workbench.ui.window import Window


def picture(path: Path, taken: str = "", grey: int = 90) -> Path:
    exif = Image.Exif()
    if taken:
        exif.get_ifd(IFD.Exif)[Base.DateTimeOriginal] = taken
    Image.new("RGB", (400, 300), (grey, grey, grey)).save(path, exif=exif)
    return path


@pytest.fixture
def page(window: Window, qtbot: QtBot) -> PhotographsPage:
    made = page_of(window, Photo.noun, PhotographsPage)
    qtbot.waitUntil(made.isVisible)
    return made


def photo_called(page: PhotographsPage, ref: str) -> Photo:
    return next(one for one in page.bench.dossier.all(Photo) if one.ref == ref)


def taken_in(page: PhotographsPage, qtbot: QtBot) -> None:
    qtbot.waitUntil(lambda: not page.work.busy, timeout=30_000)


def shown(page: PhotographsPage) -> list[str]:
    return [one.ref for one in page.gallery.photos.photos]


def test_pictures_that_are_dropped_are_taken_in_once_and_in_order(
    page: PhotographsPage, tmp_path: Path, qtbot: QtBot
) -> None:
    later = picture(tmp_path / "later.jpg", "2025:01:02 10:00:00", 10)
    first = picture(tmp_path / "first.jpg", "2025:01:02 09:00:00", 20)
    number = len(shown(page))
    dropped = QMimeData()
    dropped.setUrls([QUrl.fromLocalFile(str(path)) for path in (later, first)])
    for _ in range(2):
        page.dropEvent(
            QDropEvent(
                QPointF(5, 5), Qt.DropAction.CopyAction, dropped, Qt.MouseButton.LeftButton,
                Qt.KeyboardModifier.NoModifier,
            )
        )  # fmt: skip
        taken_in(page, qtbot)
    assert [one.file for one in page.bench.dossier.all(Photo)][-2:] == [
        "photos/first.jpg",
        "photos/later.jpg",
    ]
    assert len(shown(page)) == number + 2
    kept = page.bench.case.original("photos/first.jpg")
    assert kept
    assert kept.read_bytes() == first.read_bytes()


def drop_on(page: PhotographsPage, paths: list[Path]) -> None:
    """Drag files over the page and let go, as the window system tells it."""
    files = QMimeData()
    files.setUrls([QUrl.fromLocalFile(str(path)) for path in paths])
    copy, left = Qt.DropAction.CopyAction, Qt.MouseButton.LeftButton
    entered = QDragEnterEvent(QPoint(9, 9), copy, files, left, Qt.KeyboardModifier.NoModifier)
    QApplication.sendEvent(page, entered)
    assert entered.isAccepted()
    dropped = QDropEvent(QPointF(9, 9), copy, files, left, Qt.KeyboardModifier.NoModifier)
    QApplication.sendEvent(page, dropped)
    assert dropped.isAccepted()


@pytest.fixture
def sixty(tmp_path: Path) -> list[Path]:
    """Sixty pictures, one a minute, the last first."""
    return [
        picture(tmp_path / f"p{n:02}.jpg", f"2025:01:02 09:{n:02}:00", n)
        for n in reversed(range(60))
    ]


def test_many_pictures_are_dropped_while_the_window_answers(
    page: PhotographsPage, sixty: list[Path], qtbot: QtBot
) -> None:
    before = {path: path.read_bytes() for path in sixty}
    number, beats = len(shown(page)), list[bool]()
    heart = QTimer()
    heart.timeout.connect(lambda: beats.append(page.work.isVisible()))
    heart.start(5)
    drop_on(page, sixty)
    assert page.work.busy
    words = page.work.findChild(QLabel)
    assert words
    assert words.text() == "Taking in photographs…"
    taken_in(page, qtbot)
    heart.stop()
    assert sum(beats) >= 5
    assert page.bench.case.verify(lambda _done, _whole: None).findings == ()
    fresh = [one for one in page.bench.dossier.all(Photo) if "/p" in one.file][-60:]
    assert len(shown(page)) == number + 60
    assert [str(one.taken) for one in fresh] == [f"2025-01-02 09:{n:02}:00" for n in range(60)]
    assert [path.read_bytes() for path in sixty] == list(before.values())
    for one in fresh:
        kept = page.bench.case.original(one.file)
        assert kept
        assert kept.read_bytes() in before.values()
    assert [one.ref for one in page.gallery.chosen_photos()] == [one.ref for one in fresh]
    row = page.gallery.photos.row_of(fresh[0].id)
    assert row is not None
    index = page.gallery.photos.index(row)
    qtbot.waitUntil(lambda: page.gallery.photos.picture_of(index) is not None)


def test_a_drop_that_is_cancelled_leaves_nothing(
    page: PhotographsPage, sixty: list[Path], qtbot: QtBot
) -> None:
    case, told = page.bench.case, list[str]()
    page.bench.told.connect(told.append)
    heads, photos = case.heads, case.dossier.all(Photo)
    files = sorted(path for path in case.folder.rglob("*") if "originals" in path.parts)
    drop_on(page, sixty)
    page.work.cancel()
    taken_in(page, qtbot)
    assert (case.heads, case.dossier.all(Photo)) == (heads, photos)
    assert sorted(p for p in case.folder.rglob("*") if "originals" in p.parts) == files
    assert told[-1] == "Stopped: taking in photographs; nothing of it is kept."


def test_esc_leaves_a_mark_half_drawn_and_nothing_else(
    page: PhotographsPage, window: Window
) -> None:
    assert window.bench
    window.bench.selection.show_places({"B3"})
    page.open_large(photo_called(page, "PH-03"))
    page.large.choose_tool(MarkShape.RING)
    QTest.keyClick(page.large.view, Qt.Key.Key_Space)
    QTest.keyClick(page.large.view, Qt.Key.Key_Escape)
    assert page.large.view.tool is None
    assert window.bench.dossier.all(PhotoMark) == ()
    assert window.bench.selection.focus.places == {"B3"}


def test_photographs_get_the_place_of_what_was_done_at_the_same_time(
    page: PhotographsPage, tmp_path: Path, qtbot: QtBot
) -> None:
    page.take_in([picture(tmp_path / "a.jpg", "2024:11:12 09:21:30")])
    taken_in(page, qtbot)
    assert page.bench.dossier.all(Photo)[-1].at == ""
    page.place_by_time()
    assert page.bench.dossier.all(Photo)[-1].at == "B2"  # PH-02 was taken there at 09:20
    assert page.bench.undo()
    assert page.bench.dossier.all(Photo)[-1].at == ""


def test_marks_are_drawn_by_keys_and_leave_the_original_as_it_was(page: PhotographsPage) -> None:
    bench = page.bench
    photo = photo_called(page, "PH-03")
    original = bench.case.original(photo.file)
    assert original
    before = sha256(original.read_bytes()).hexdigest()
    page.open_large(photo)
    large = page.large
    QTest.keyClick(large.view, Qt.Key.Key_A)
    assert large.view.tool is MarkShape.ARROW
    QTest.keyClick(large.view, Qt.Key.Key_Left, Qt.KeyboardModifier.ShiftModifier)
    QTest.keyClick(large.view, Qt.Key.Key_Space)
    QTest.keyClick(large.view, Qt.Key.Key_Down, Qt.KeyboardModifier.ShiftModifier)
    QTest.keyClick(large.view, Qt.Key.Key_Space)
    (mark,) = bench.dossier.all(PhotoMark)
    assert (mark.photo, mark.shape) == ("PH-03", MarkShape.ARROW)
    assert mark.points.points == ((0.45, 0.5), (0.45, 0.55))
    assert sha256(original.read_bytes()).hexdigest() == before
    assert [row[0] for row in said_in(large.marks)] == [mark.ref]
    assert bench.undo()
    assert said_in(large.marks) == []


def test_a_dimension_is_measured_by_the_scale_that_was_drawn(page: PhotographsPage) -> None:
    photo = photo_called(page, "PH-03")
    page.open_large(photo)
    large = page.large
    large.length.setText("100 mm")
    along(page, MarkShape.SCALE, 2)
    along(page, MarkShape.DIMENSION, 5)
    lengths = [row[2] for row in said_in(large.marks)]
    assert lengths == ["100 mm", "250 mm"]


def along(page: PhotographsPage, shape: MarkShape, leaps: int) -> None:
    """Draw something level, `leaps` leaps of the cross long."""
    view = page.large.view
    page.large.choose_tool(shape)
    QTest.keyClick(view, Qt.Key.Key_Space)
    for _ in range(leaps):
        QTest.keyClick(view, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    QTest.keyClick(view, Qt.Key.Key_Space)
    for _ in range(leaps):
        QTest.keyClick(view, Qt.Key.Key_Left, Qt.KeyboardModifier.ShiftModifier)


def test_failing_and_non_failing_photographs_stand_side_by_side(page: PhotographsPage) -> None:
    page.gallery.clearSelection()
    page.open_pair()
    titles = [side.title.toolTip() or side.title.text() for side in page.pair.sides]
    assert " failing · " in titles[0]
    assert " non-failing · " in titles[1]
    before = titles[0]
    page.pair.sides[0].leaf(1)
    assert page.pair.sides[0].title.text() != before


def test_a_photograph_lights_its_place_and_a_place_narrows_the_photographs(
    page: PhotographsPage, window: Window
) -> None:
    assert window.desk
    assert window.bench
    photo = photo_called(page, "PH-03")
    page.show_source(photo.source)
    window.bench.selection.light([photo.source])
    assert photo.at in window.desk.where.view.lit
    everything = shown(page)
    window.bench.selection.show_places({"B2"})
    assert "PH-02" in shown(page)
    assert 0 < len(shown(page)) < len(everything)
    window.desk.show_everything()
    assert shown(page) == everything


def test_what_is_no_picture_is_told_and_the_others_are_taken_in(
    page: PhotographsPage, window: Window, tmp_path: Path, qtbot: QtBot
) -> None:
    (tmp_path / "broken.jpg").write_bytes(b"\xff\xd8nothing")
    page.take_in([tmp_path / "broken.jpg", picture(tmp_path / "good.jpg")])
    taken_in(page, qtbot)
    assert "1 photograph taken in; no pictures: broken.jpg" in window.told
    assert page.bench.dossier.all(Photo)[-1].file == "photos/good.jpg"


# -- the plan


def test_a_plan_is_made_from_a_picture_and_two_points(window: Window, tmp_path: Path) -> None:
    assert window.bench
    assert window.desk
    page = page_of(window, "new-plan", NewPlanPage)
    page.choose(picture(tmp_path / "loading-bay.png"))
    along_view = page.view
    for key in (Qt.Key.Key_Space, *(Qt.Key.Key_Right,) * 10, Qt.Key.Key_Space):
        QTest.keyClick(along_view, key)
    QTest.keyClicks(page.length, "12 m")
    page.save()
    plan = window.bench.dossier.all(SitePlan)[-1]
    assert (plan.file, str(plan.length)) == ("plan/loading-bay.png", "12 m")
    assert float(plan.x1.text) - float(plan.x0.text) == pytest.approx(40, abs=1)
    assert window.bench.case.original("plan/loading-bay.png")


def test_a_plan_without_a_length_is_refused_in_words(window: Window, tmp_path: Path) -> None:
    assert window.bench
    page = page_of(window, "new-plan", NewPlanPage)
    page.choose(picture(tmp_path / "loading-bay.png"))
    for key in (Qt.Key.Key_Space, Qt.Key.Key_Right, Qt.Key.Key_Space):
        QTest.keyClick(page.view, key)
    QTest.keyClicks(page.length, "far")
    number = len(window.bench.dossier.all(SitePlan))
    page.save()
    assert "The length" in window.told
    assert len(window.bench.dossier.all(SitePlan)) == number


def test_a_point_clicked_on_the_plan_begins_a_location_in_its_area(window: Window) -> None:
    assert window.desk
    where = window.desk.where
    where.draw("point")
    middle = where.view.viewport().rect().center()
    QTest.mouseClick(where.view.viewport(), Qt.MouseButton.LeftButton, pos=middle)
    form = page_of(window, Location.noun, RecordsPage).form.form
    assert form.record is None
    assert form.texts["x"].endswith(" m")
    assert form.texts["y"].endswith(" m")
    assert form.texts["area"] == where.view.area_at(middle)


def test_corners_clicked_on_the_plan_outline_an_area(window: Window) -> None:
    assert window.desk
    where = window.desk.where
    view = where.view.viewport()
    where.draw("outline")
    middle = view.rect().center()
    for x, y in ((0, 0), (30, 0), (30, 20)):
        QTest.mouseClick(view, Qt.MouseButton.LeftButton, pos=middle + type(middle)(x, y))
    QTest.keyClick(where.view, Qt.Key.Key_Return)
    form = page_of(window, Area.noun, RecordsPage).form.form
    assert len(form.texts["outline"].split(";")) == 3
    where.draw("outline")
    QTest.mouseClick(view, Qt.MouseButton.LeftButton, pos=middle)
    QTest.keyClick(where.view, Qt.Key.Key_Return)  # one corner outlines nothing
    assert len(form.texts["outline"].split(";")) == 3
