"""Broken, foreign and hostile files: one clear problem each, quickly, and nothing raised."""

import struct
import time
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest
from docx import Document
from tools.field_books import small_book, workbook

from workbench.exchange.field_book import fitness
from workbench.exchange.field_book.reading import read_book

OLE = bytes.fromhex("d0cf11e0a1b11ae1")


def remade(path: Path, change: Callable[[str, bytes], bytes], **more: bytes) -> Path:
    """Write the small book anew with its parts changed and others added."""
    source = workbook(path.with_name("source.xlsx"), small_book())
    with zipfile.ZipFile(source) as old, zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as new:
        for name in old.namelist():
            new.writestr(name, change(name, old.read(name)))
        for name, data in more.items():
            new.writestr(name.replace("__", "/").replace("_dot_", "."), data)
    return path


def unchanged(_name: str, data: bytes) -> bytes:
    return data


def empty(path: Path) -> None:
    path.write_bytes(b"")


def text(path: Path) -> None:
    path.write_text("ref,location\nP1,L1\n", "utf-8")


def locked(path: Path) -> None:
    path.write_bytes(OLE + b"\0" * 504 + "EncryptedPackage".encode("utf-16-le") + b"\0" * 512)


def old_binary(path: Path) -> None:
    path.write_bytes(OLE + b"\0" * 504 + "Workbook".encode("utf-16-le") + b"\0" * 512)


def word_document(path: Path) -> None:
    document = Document()
    document.add_paragraph("a letter")
    document.save(str(path))


def cut_off(path: Path) -> None:
    whole = workbook(path.with_name("whole.xlsx"), small_book()).read_bytes()
    path.write_bytes(whole[: len(whole) // 2])


def rotten(path: Path) -> None:
    whole = bytearray(workbook(path.with_name("whole.xlsx"), small_book()).read_bytes())
    for at in range(60, len(whole) // 2, 40):
        whole[at] ^= 255
    path.write_bytes(bytes(whole))


def macros(path: Path) -> None:
    remade(path, unchanged, xl__vbaProject_dot_bin=OLE)


def strict(path: Path) -> None:
    old = b"http://schemas.openxmlformats.org/spreadsheetml/2006/main"
    remade(
        path, lambda _, data: data.replace(old, b"http://purl.oclc.org/ooxml/spreadsheetml/main")
    )


def entities(path: Path) -> None:
    bomb = b'<!DOCTYPE a [<!ENTITY b "ha"><!ENTITY c "&b;&b;&b;&b;&b;&b;&b;&b;">]>'
    remade(
        path,
        lambda name, data: (
            data.replace(b"<worksheet", bomb + b"<worksheet", 1) if "sheet1" in name else data
        ),
    )


def hidden_entities(path: Path) -> None:
    def change(name: str, data: bytes) -> bytes:
        return data.decode().encode("utf-16") if name.endswith("sheet1.xml") else data

    remade(path, change)


def bomb(path: Path) -> None:
    remade(path, unchanged, xl__worksheets__sheet99_dot_xml=b"<worksheet>" + b" " * 60_000_000)


def lying_bomb(path: Path) -> None:
    """A bomb whose directory says that the part is small."""
    bomb(path)
    data = path.read_bytes()
    true_size = struct.pack("<I", 60_000_011)
    path.write_bytes(data.replace(true_size, struct.pack("<I", 1000)))


def archive(path: Path) -> None:
    with zipfile.ZipFile(path, "w") as new:
        new.writestr("photos/p1.jpg", b"no picture")


BROKEN: dict[str, tuple[Callable[[Path], None], str]] = {
    "empty": (empty, "the file is empty"),
    "text": (text, "not a workbook, whatever its name says"),
    "password": (locked, "protected by a password"),
    "xls": (old_binary, "of the old binary kind"),
    "docx": (word_document, "is a Word document, not an Excel workbook"),
    "cut off": (cut_off, "damaged or was cut off"),
    "rotten": (rotten, "damaged"),
    "macros": (macros, "holds macros"),
    "strict": (strict, "“strict” kind"),
    "entities": (entities, "declares its own entities"),
    "hidden entities": (hidden_entities, "is not UTF-8"),
    "zip bomb": (bomb, "unpacks to far more"),
    "lying zip bomb": (lying_bomb, "damaged|unpacks to far more"),
    "another archive": (archive, "is a ZIP archive, not an Excel workbook"),
}


@pytest.mark.parametrize("name", BROKEN)
def test_a_broken_file_gives_one_clear_problem_within_a_second(name: str, tmp_path: Path) -> None:
    make, wrong = BROKEN[name]
    path = tmp_path / "book.xlsx"
    make(path)
    before = time.perf_counter()
    reading = read_book(path)
    assert time.perf_counter() - before < 2
    (problem,) = reading.problems
    assert problem.hinders
    assert problem.place == "book.xlsx"
    assert any(part in problem.wrong for part in wrong.split("|"))
    assert problem.right
    assert not reading.records
    assert not reading.files


def test_a_book_that_is_not_there_is_a_problem_too(tmp_path: Path) -> None:
    (problem,) = read_book(tmp_path / "none.xlsx").problems
    assert "No such file" in problem.wrong


def test_a_folder_without_csv_names_the_workbook_in_it(tmp_path: Path) -> None:
    (problem,) = read_book(tmp_path).problems
    assert problem.wrong == "the folder has no CSV file"
    workbook(tmp_path / "hall.xlsx", small_book())
    (problem,) = read_book(tmp_path).problems
    assert problem.right == "take hall.xlsx itself"


def test_a_forged_size_of_a_sheet_costs_no_time(tmp_path: Path) -> None:
    def forge(name: str, data: bytes) -> bytes:
        if "sheet1" not in name:
            return data
        start = data.index(b'<dimension ref="') + len(b'<dimension ref="')
        end = data.index(b'"', start)
        return data[:start] + b"A1:XFD1048576" + data[end:]

    before = time.perf_counter()
    reading = read_book(remade(tmp_path / "book.xlsx", forge))
    assert time.perf_counter() - before < 2
    assert not reading.hindrances


def test_what_is_in_the_file_and_not_taken_in_is_told(tmp_path: Path) -> None:
    path = remade(
        tmp_path / "book.xlsx",
        unchanged,
        xl__media__image1_dot_png=b"picture",
        xl__externalLinks__externalLink1_dot_xml=b"<externalLink/>",
        xl__comments1_dot_xml=b"<comments/>",
    )
    reading = read_book(path)
    told = " ".join(str(problem) for problem in reading.warnings)
    for words in ("comments on cells", "pictures pasted onto sheets", "links to other files"):
        assert words in told
    assert not reading.hindrances


def test_a_single_table_names_its_folder_as_the_book(tmp_path: Path) -> None:
    (tmp_path / "areas.csv").write_text("ref,name,condition\n", "utf-8")
    (problem,) = read_book(tmp_path / "areas.csv").problems
    assert problem.right == "take the folder of the CSV files"


def test_a_file_larger_than_any_field_book_is_not_opened(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(fitness, "MOST_BYTES", 1000)
    (problem,) = read_book(workbook(tmp_path / "book.xlsx", small_book())).problems
    assert "keep pictures beside the book" in problem.right


@pytest.mark.parametrize(
    ("data", "wrong"),
    [(b"\xff\xfea", "damaged UTF-16"), (b"ref\x81\n", "neither UTF-8 nor Western European")],
)
def test_a_table_in_no_known_encoding_is_told(data: bytes, wrong: str, tmp_path: Path) -> None:
    (tmp_path / "areas.csv").write_bytes(data)
    assert wrong in read_book(tmp_path).hindrances[0].wrong
