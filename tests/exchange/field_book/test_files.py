"""Files that a book names."""

from pathlib import Path

import pytest
from PIL import Image
from tools.field_books import Sheets, small_book, workbook

from workbench.exchange.field_book import files
from workbench.exchange.field_book.reading import BookReading, read_book


def with_photo(name: str) -> Sheets:
    return small_book() | {"photos": [["file", "ref"], [name, "PH1"]]}


def picture(path: Path) -> Path:
    path.parent.mkdir(exist_ok=True)
    Image.effect_noise((640, 480), 60).save(path)
    return path


def told(reading: BookReading) -> str:
    assert not reading.hindrances
    return " ".join(str(one) for one in reading.warnings if one.place == "photos")


def test_a_picture_beside_the_book_is_found_and_kept_under_its_name(tmp_path: Path) -> None:
    kept = picture(tmp_path / "photos" / "p1.jpg")
    reading = read_book(workbook(tmp_path / "book.xlsx", with_photo("photos/p1.jpg")))
    assert not told(reading)
    assert [(one.name, one.path, one.is_book) for one in reading.files] == [
        ("book.xlsx", tmp_path / "book.xlsx", True),
        ("photos/p1.jpg", kept, False),
    ]


def test_a_missing_file_is_told_with_one_of_a_near_name(tmp_path: Path) -> None:
    picture(tmp_path / "photos" / "P1.JPG".lower())
    reading = read_book(workbook(tmp_path / "book.xlsx", with_photo("photos/P-1.jpg")))
    assert "recorded without its file; there is a file p1.jpg" in told(reading)
    assert len(reading.files) == 1


def test_a_file_that_the_case_keeps_already_is_not_missed(tmp_path: Path) -> None:
    kept = picture(tmp_path / "elsewhere" / "p1.jpg")
    path = workbook(tmp_path / "book.xlsx", with_photo("photos/p1.jpg"))
    assert not told(read_book(path, kept=lambda name: kept if name == "photos/p1.jpg" else None))


@pytest.mark.parametrize("name", ["../p1.jpg", "/etc/hosts", r"C:\photos\p1.jpg", "a/../../p1.jpg"])
def test_a_name_that_leads_out_of_the_folder_takes_no_file(name: str, tmp_path: Path) -> None:
    picture(tmp_path / "p1.jpg")
    inside = tmp_path / "visit"
    inside.mkdir()
    reading = read_book(workbook(inside / "book.xlsx", with_photo(name)))
    assert "does not lie beside the book" in told(reading)
    assert len(reading.files) == 1


def test_a_link_that_leads_out_of_the_folder_takes_no_file(tmp_path: Path) -> None:
    secret = tmp_path / "secret.jpg"
    picture(secret)
    inside = tmp_path / "visit"
    inside.mkdir()
    (inside / "p1.jpg").symlink_to(secret)
    reading = read_book(workbook(inside / "book.xlsx", with_photo("p1.jpg")))
    assert "does not lie beside the book" in told(reading)


def test_a_picture_that_was_cut_off_is_told_and_kept(tmp_path: Path) -> None:
    path = picture(tmp_path / "p1.jpg")
    path.write_bytes(path.read_bytes()[:9000])
    reading = read_book(workbook(tmp_path / "book.xlsx", with_photo("p1.jpg")))
    assert "damaged or was cut off" in told(reading)
    assert "p1.jpg" in [one.name for one in reading.files]


def test_a_file_that_is_no_picture_is_told(tmp_path: Path) -> None:
    (tmp_path / "p1.jpg").write_text("no picture", "utf-8")
    reading = read_book(workbook(tmp_path / "book.xlsx", with_photo("p1.jpg")))
    assert "no picture that can be shown" in told(reading)


def test_an_empty_file_is_told(tmp_path: Path) -> None:
    (tmp_path / "p1.jpg").touch()
    reading = read_book(workbook(tmp_path / "book.xlsx", with_photo("p1.jpg")))
    assert "p1.jpg is empty" in told(reading)


def test_a_picture_of_another_kind_than_its_name_says_is_told(tmp_path: Path) -> None:
    picture(tmp_path / "p1.png").rename(tmp_path / "p1.jpg")
    reading = read_book(workbook(tmp_path / "book.xlsx", with_photo("p1.jpg")))
    assert "p1.jpg is a PNG by its content" in told(reading)


def test_a_huge_picture_is_not_opened(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(files, "MOST_PIXELS", 1000)
    picture(tmp_path / "p1.jpg")
    reading = read_book(workbook(tmp_path / "book.xlsx", with_photo("p1.jpg")))
    assert "million pixels" in told(reading)


def test_a_document_of_any_kind_is_kept_unopened(tmp_path: Path) -> None:
    (tmp_path / "log.pdf").write_bytes(b"%PDF-1.7 broken")
    rows = [["ref", "title", "status", "file"], ["D1", "log", "received", "log.pdf"]]
    reading = read_book(workbook(tmp_path / "book.xlsx", small_book() | {"documents": rows}))
    assert not [one for one in reading.problems if one.place == "documents"]
    assert "log.pdf" in [one.name for one in reading.files]


def test_backslashes_are_read_as_folders_and_told(tmp_path: Path) -> None:
    picture(tmp_path / "photos" / "p1.jpg")
    reading = read_book(workbook(tmp_path / "book.xlsx", with_photo(r"photos\p1.jpg")))
    assert "separators of another system" in told(reading)
    assert "photos/p1.jpg" in [one.name for one in reading.files]
