"""Photographs: read once, kept unchanged, numbered in time, placed by what was near in time."""

from datetime import timedelta
from pathlib import Path

import pytest
from builders import dossier, make
from PIL import Image
from PIL.ExifTags import GPS, IFD, Base

from workbench.desk.case import Case
from workbench.desk.marking import length_of, marks_of, next_ref, words_of
from workbench.desk.photographs import proposals, read_photographs
from workbench.exchange.photographs import NoPictureError, read_photograph
from workbench.records import KnownError, Photo, PhotoMark, Sample


def picture(path: Path, taken: str = "", direction: float | None = None, grey: int = 90) -> Path:
    exif = Image.Exif()
    if taken:
        exif.get_ifd(IFD.Exif)[Base.DateTimeOriginal] = taken
    if direction is not None:
        exif.get_ifd(IFD.GPSInfo)[GPS.GPSImgDirection] = direction
    Image.new("L", (400, 300), grey).convert("RGB").save(path, exif=exif)
    return path


def test_time_and_direction_come_from_the_camera(tmp_path: Path) -> None:
    read = read_photograph(picture(tmp_path / "a.jpg", "2024:11:12 14:05:33", 42.4))
    assert str(read.taken) == "2024-11-12 14:05:33"
    assert read.direction == "NE (42°)"
    assert read.size == (400, 300)


@pytest.mark.parametrize("taken", ["", "0000:00:00 00:00:00", "soon"])
def test_a_camera_that_says_no_time_leaves_it_unknown(tmp_path: Path, taken: str) -> None:
    assert read_photograph(picture(tmp_path / "a.jpg", taken)).taken is None


def test_what_is_no_picture_is_told(tmp_path: Path) -> None:
    (tmp_path / "a.jpg").write_text("not a picture")
    with pytest.raises(NoPictureError, match=r"a\.jpg is no picture"):
        read_photograph(tmp_path / "a.jpg")


def test_photographs_are_taken_in_once_in_the_order_they_were_taken(tmp_path: Path) -> None:
    folder = tmp_path / "camera"
    folder.mkdir()
    picture(folder / "late.jpg", "2024:11:12 15:00:00", grey=10)
    picture(folder / "early.jpg", "2024:11:12 09:00:00", grey=20)
    (folder / "notes.txt").write_text("left aside")
    (folder / "broken.png").write_bytes(b"\x89PNG")
    with Case.create(tmp_path / "a.case", author="Ann") as case:
        intake = read_photographs(case, [folder])
        case.do(intake.act())
        photos = case.dossier.all(Photo)
        assert [(p.ref, p.file) for p in photos] == [
            ("PH-01", "photos/early.jpg"), ("PH-02", "photos/late.jpg"),
        ]  # fmt: skip
        assert [problem.place for problem in intake.problems] == ["broken.png"]
        kept = case.original("photos/early.jpg")
        assert kept
        assert kept.read_bytes() == (folder / "early.jpg").read_bytes()
        again = read_photographs(case, [folder])
        assert not again.records
        assert sorted(again.known) == ["early.jpg", "late.jpg"]


def test_two_cameras_may_use_the_same_names(tmp_path: Path) -> None:
    first, second = (tmp_path / name for name in ("one", "two"))
    for folder, grey in ((first, 1), (second, 2)):
        folder.mkdir()
        picture(folder / "IMG_1.jpg", grey=grey)
    with Case.create(tmp_path / "a.case", author="Ann") as case:
        case.do(read_photographs(case, [first]).act())
        case.do(read_photographs(case, [second]).act())
        assert [p.file for p in case.dossier.all(Photo)] == [
            "photos/IMG_1.jpg", "photos/IMG_1-2.jpg",
        ]  # fmt: skip
        assert [p.ref for p in case.dossier.all(Photo)] == ["PH-01", "PH-02"]


def test_a_folder_without_pictures_is_refused_in_words(tmp_path: Path) -> None:
    with (
        Case.create(tmp_path / "a.case", author="Ann") as case,
        pytest.raises(KnownError, match="no picture among these"),
    ):
        read_photographs(case, [tmp_path / "nothing"])


def test_a_photograph_without_a_place_takes_that_of_what_was_near_in_time() -> None:
    held = dossier(
        make(Photo, file="a", ref="PH-1", taken="2024-11-12 10:00", at="L1"),
        make(Photo, file="b", ref="PH-2", taken="2024-11-12 10:04"),
        make(Photo, file="c", ref="PH-3", taken="2024-11-12 13:00"),
        make(Photo, file="d", ref="PH-4", taken="2024-11-12"),
        make(Photo, file="e", ref="PH-5", taken="2024-11-12 11:58"),
        make(Sample, ref="S1", at="L2", taken="2024-11-12 12:00"),
    )
    found = {one.photo.ref: (one.at, one.because) for one in proposals(held)}
    assert found == {
        "PH-2": ("L1", "taken 4 min after photograph PH-1"),
        "PH-5": ("L2", "taken 2 min before sample S1"),
    }
    assert proposals(held, near=timedelta(minutes=1)) == ()


def mark(shape: str, points: str, **said: str) -> PhotoMark:
    return make(
        PhotoMark, ref=said.pop("ref", "M"), photo="PH-1", shape=shape, points=points, **said
    )


def test_a_dimension_follows_from_the_scale_on_the_same_photograph() -> None:
    scale = mark("scale", "0.1 0.5; 0.3 0.5", length="50 mm")
    across, down = mark("dimension", "0 0; 1 0"), mark("dimension", "0 0; 0 1")
    size = (1000, 500)
    for one, long_mm in ((across, 250), (down, 125)):
        measured = length_of(one, [scale, one], size)
        assert measured
        assert measured[0] == pytest.approx(long_mm)
        assert measured[1] == "mm"
    assert words_of(across, [scale], size) == "250 mm"
    assert length_of(across, [across], size) is None
    assert words_of(scale, [scale], size) == "50 mm"


@pytest.mark.parametrize(
    ("shape", "points", "said"),
    [("arrow", "0 0", {}), ("scale", "0 0; 1 1", {}), ("words", "0 0", {}),
     ("scale", "0 0; 1 1", {"length": "0 mm"})],
)  # fmt: skip
def test_a_mark_that_says_nothing_has_a_fault(
    shape: str, points: str, said: dict[str, str]
) -> None:
    assert mark(shape, points, **said).faults()


def test_marks_belong_to_their_photograph_and_are_counted_on() -> None:
    photo = make(Photo, file="photos/a.jpg", ref="PH-1")
    held = dossier(photo, mark("arrow", "0 0; 1 1", ref="M-07"))
    assert [one.ref for one in marks_of(held, photo)] == ["M-07"]
    assert next_ref(held) == "M-08"
    assert next_ref(dossier()) == "M-01"
