"""On paper, by LibreOffice: pages counted right, fields that come to the same text."""

import re
import shutil
import subprocess
import zipfile
from pathlib import Path

import pytest
from docx import Document
from report_made import Made

from workbench.report.pages import (
    NoOfficeError,
    cells_lost,
    number_pages,
    office,
    places_in,
    write_pdf,
)

pytestmark = pytest.mark.skipif(office() is None, reason="this machine has no LibreOffice")


@pytest.fixture(scope="module")
def bound(report: Made, tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path, int]:
    """Return the report with its pages counted, its PDF, and the number of pages."""
    folder = tmp_path_factory.mktemp("bound")
    path = Path(shutil.copy(report.path, folder / "report.docx"))
    count = number_pages(path)
    pdf = folder / "report.pdf"
    write_pdf(path, pdf)
    return path, pdf, count


def bare(words: str) -> str:
    """Return words without what setting puts between them.

    A minus comes from another font, and pdftotext puts it on a line of its own after a line end.
    """
    return "".join(words.replace("\N{MINUS SIGN}", "").split())


def pages(pdf: Path, way: str = "-layout") -> list[str]:
    if shutil.which("pdftotext") is None:
        pytest.skip("this machine has no pdftotext")
    done = subprocess.run(
        ["pdftotext", way, str(pdf), "-"], capture_output=True, check=True, text=True
    )
    return done.stdout.rstrip("\f").split("\f")


def test_every_page_says_its_number_of_the_whole_and_the_report(
    bound: tuple[Path, Path, int],
) -> None:
    _path, pdf, count = bound
    said = pages(pdf)
    assert len(said) == count
    for number, page in enumerate(said, 1):
        assert f"Page {number} of {count}" in page
        assert "Report BH-2024-11-R1" in page
        assert "DRAFT" in page


def test_the_one_end_mark_is_on_the_last_page(bound: tuple[Path, Path, int]) -> None:
    marks = ["End of report BH-2024-11-R1" in page for page in pages(bound[1])]
    assert marks.count(True) == 1
    assert marks[-1]


def test_the_contents_name_the_pages_on_which_the_headings_are(
    bound: tuple[Path, Path, int],
) -> None:
    said = pages(bound[1])
    contents = "\n".join(said[1:6])
    entries = re.findall(r"^ *(\d+) +([A-Z][\w ]+?)\.{3,} ?(\d+)$", contents, re.MULTILINE)
    assert len(entries) >= 14
    for number, title, page in entries:
        assert re.search(rf"^ *{number} +{re.escape(title)}$", said[int(page) - 1], re.MULTILINE)


def test_lists_of_figures_and_tables_name_their_pages(bound: tuple[Path, Path, int]) -> None:
    said = pages(bound[1])
    lists = "\n".join(said[1:6])
    entries = re.findall(r"(Figure|Table) (\d+)\. (.+?)\.{3,} ?(\d+)$", lists, re.MULTILINE)
    assert len(entries) > 30
    for kind, number, _caption, page in entries:
        assert f"{kind} {number}. " in said[int(page) - 1]


def test_a_long_table_begins_each_page_with_its_head(bound: tuple[Path, Path, int]) -> None:
    said = pages(bound[1])
    weather = [page for page in said if re.search(r"Time +Areas? ?.*Air +Humidity", page)
               or re.search(r"Time +Air +Humidity", page)]  # fmt: skip
    assert len(weather) >= 3


def test_every_row_of_every_table_is_on_paper(bound: tuple[Path, Path, int]) -> None:
    said = bare("".join(pages(bound[1], "-raw")))
    for table in Document(str(bound[0])).tables:
        for row in table.rows:
            cells = dict.fromkeys(bare(cell.text) for cell in row.cells)
            assert all(cell in said for cell in cells), [cell.text for cell in row.cells]


def test_fields_come_to_the_same_text_when_they_are_computed_anew(
    bound: tuple[Path, Path, int], tmp_path: Path
) -> None:
    path, pdf, _count = bound
    stale = tmp_path / "stale.docx"
    field = re.compile(
        r"( (?:SEQ|REF|PAGE|NUMPAGES)\b[^<]*</w:instrText></w:r>"
        r'<w:r>(?:<w:rPr>.{0,80}?</w:rPr>)?<w:fldChar w:fldCharType="separate"/></w:r>'
        r'<w:r>(?:<w:rPr>.{0,80}?</w:rPr>)?<w:t xml:space="preserve">)[^<]*'
    )
    count = 0
    with zipfile.ZipFile(path) as source, zipfile.ZipFile(stale, "w") as target:
        for name in source.namelist():
            blob = source.read(name)
            if name.startswith(("word/document", "word/footer")):
                text, changed = field.subn(r"\g<1>??", blob.decode())
                blob, count = text.encode(), count + changed
            target.writestr(name, blob)
    assert count > 100
    again = tmp_path / "again.pdf"
    write_pdf(stale, again)
    assert "??" not in "".join(pages(again))
    assert pages(again) == pages(pdf)


def test_no_cell_of_any_table_is_lost_on_the_way_to_paper(bound: tuple[Path, Path, int]) -> None:
    path, pdf, _count = bound
    assert cells_lost(path, pdf) == 0
    with zipfile.ZipFile(path) as package:
        assert package.read("word/document.xml").count(b"<w:tc>") > 5000


def test_a_cell_that_is_lost_is_counted(bound: tuple[Path, Path, int], tmp_path: Path) -> None:
    path, pdf, _count = bound
    poorer = tmp_path / "poorer.pdf"
    poorer.write_bytes(re.sub(rb"/S\s*/TD\b", b"/S/P ", pdf.read_bytes(), count=3))
    assert cells_lost(path, poorer) == 3


def test_the_pdf_is_tagged_and_says_its_language_and_alternative_words(
    bound: tuple[Path, Path, int],
) -> None:
    blob = bound[1].read_bytes()
    assert b"/StructTreeRoot" in blob
    assert b"/Lang(en-GB)" in blob
    assert b"/Alt" in blob
    assert b"/DisplayDocTitle true" in blob


def test_a_pdf_of_another_make_is_told() -> None:
    with pytest.raises(NoOfficeError, match="cannot be counted"):
        places_in(b"%PDF-1.7 nothing")


def test_without_libreoffice_it_is_told_in_a_sentence(
    report: Made, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("workbench.report.pages.office", lambda: None)
    with pytest.raises(NoOfficeError, match="LibreOffice is not on this machine"):
        write_pdf(report.path, tmp_path / "r.pdf")
