"""A firm's own Word file as the template: its letterhead, paper and styles, our fields."""

import zipfile
from pathlib import Path

import docx
import pytest
from builders import dossier, make
from docx.shared import Mm, Pt, RGBColor
from openxml_audit import OpenXmlValidator
from report_made import setup

from workbench.records import Area, CaseEntry, KnownError, Location, PullOff, SurveyEntry
from workbench.report.document import Binding
from workbench.report.writing import write_report

SMALL = dossier(
    make(CaseEntry, key="title", value="A floor"),
    make(Area),
    make(Location),
    make(PullOff, reading="2 MPa", breaks="A 100", date="2024-11-12"),
    make(SurveyEntry),
)


@pytest.fixture
def firm(tmp_path: Path) -> Path:
    """Return a firm's file: US Letter, a letterhead, green headings, a house style."""
    document = docx.Document()
    section = document.sections[0]
    section.page_width, section.page_height = Mm(215.9), Mm(279.4)
    section.header.paragraphs[0].text = "Brackenholt Consulting, 12 High Street"
    document.styles["Heading 1"].font.color.rgb = RGBColor(0, 0x80, 0)
    house = document.styles.add_style("House Text", 1)
    house.font.size = Pt(13)
    document.add_paragraph("What stood in the firm's file before")
    path = tmp_path / "firm.docx"
    document.save(str(path))
    return path


def written(tmp_path: Path, firm: Path, styles: str = "") -> Path:
    mapping = None
    if styles:
        mapping = tmp_path / "styles.toml"
        mapping.write_text(styles)
    out = tmp_path / "out.docx"
    binding = Binding(template=firm, styles=mapping, numbered=True)
    write_report(SMALL, out, setup=setup(), binding=binding)
    return out


def test_the_report_takes_the_firms_letterhead_paper_and_styles(tmp_path: Path, firm: Path) -> None:
    document = docx.Document(str(written(tmp_path, firm)))
    section = document.sections[0]
    assert section.page_width == Mm(215.9)
    assert "Brackenholt Consulting" in section.first_page_header.paragraphs[0].text
    headings = [p for p in document.paragraphs if p.style and p.style.name == "Heading 1"]
    assert headings[0].text == "Summary"
    assert document.styles["Heading 1"].font.color.rgb == RGBColor(0, 0x80, 0)
    assert "What stood in the firm's file" not in "".join(p.text for p in document.paragraphs)


def test_a_style_of_ours_is_the_one_that_the_mapping_names(tmp_path: Path, firm: Path) -> None:
    document = docx.Document(str(written(tmp_path, firm, 'NumberedText = "House Text"\n')))
    used = {p.style.name for p in document.paragraphs if p.style}
    assert "House Text" in used
    assert "Numbered Text" not in used


def test_a_report_on_a_firms_file_keeps_to_the_schemas(tmp_path: Path, firm: Path) -> None:
    before = {e.description for e in OpenXmlValidator(max_errors=0).validate(str(firm)).errors}
    path = written(tmp_path, firm)
    after = {e.description for e in OpenXmlValidator(max_errors=0).validate(str(path)).errors}
    assert {e for e in after - before if "Numbering definition '0'" not in e} == set()


def test_a_report_on_a_firms_file_is_marked_as_a_draft(tmp_path: Path, firm: Path) -> None:
    with zipfile.ZipFile(written(tmp_path, firm)) as package:
        headers = [package.read(n).decode() for n in package.namelist() if "header10" in n]
    assert headers
    assert all("DRAFT" in header for header in headers)


@pytest.mark.parametrize(
    ("styles", "told"),
    [
        ('NumberedText = "No Such Style"\n', "the file has no style called No Such Style"),
        ('Mars = "House Text"\n', "no such style of the report: Mars"),
        ("not toml", "cannot be read"),
    ],
)
def test_a_mapping_that_does_not_fit_is_told(
    tmp_path: Path, firm: Path, styles: str, told: str
) -> None:
    with pytest.raises(KnownError, match=told):
        written(tmp_path, firm, styles)


def test_a_file_that_is_no_word_file_is_told(tmp_path: Path) -> None:
    path = tmp_path / "firm.docx"
    path.write_text("not a zip")
    with pytest.raises(KnownError, match="is no Word file that can serve as a template"):
        written(tmp_path, path)
