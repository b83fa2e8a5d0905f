"""A firm's own Word file as the template: its letterhead, paper and styles, our fields."""

from pathlib import Path

import docx
import pytest
from builders import dossier, make
from docx.oxml import parse_xml
from docx.oxml.ns import nsdecls, qn
from docx.shared import Mm, Pt, RGBColor
from openxml_audit import OpenXmlValidator
from report_made import setup

from workbench.records import Area, CaseEntry, KnownError, Location, PullOff, SurveyEntry
from workbench.report.document import Binding
from workbench.report.wordml import A4, Sheet
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
    document = docx.Document(str(written(tmp_path, firm)))
    shown = [
        header
        for section in document.sections
        for header in (section.header, section.first_page_header)
        if not header.is_linked_to_previous
    ]
    assert shown
    assert all("DRAFT" in "".join(p.text for p in header.paragraphs) for header in shown)


def numbering(path: Path, style: str) -> str:
    """Return the level texts of the list that a style of a document counts by."""
    document = docx.Document(str(path))
    (number,) = document.styles[style].element.iter(qn("w:numId"))
    lists = document.part.numbering_part.element
    (num,) = [n for n in lists.iter(qn("w:num")) if n.get(qn("w:numId")) == number.get(qn("w:val"))]
    chosen = num.find(qn("w:abstractNumId")).get(qn("w:val"))
    (abstract,) = [
        a for a in lists.iter(qn("w:abstractNum")) if a.get(qn("w:abstractNumId")) == chosen
    ]
    return " ".join(t.get(qn("w:val")) for t in abstract.iter(qn("w:lvlText")))


def test_headings_count_by_our_numbers_whatever_the_firms_count_by(
    tmp_path: Path, firm: Path
) -> None:
    document = docx.Document(str(firm))
    lists = document.part.numbering_part.element
    lists.insert(0, parse_xml(
        f'<w:abstractNum {nsdecls("w")} w:abstractNumId="77"><w:lvl w:ilvl="0">'
        '<w:numFmt w:val="upperRoman"/><w:pStyle w:val="Heading1"/><w:lvlText w:val="§ %1"/>'
        "</w:lvl></w:abstractNum>"
    ))  # fmt: skip
    lists.append(parse_xml(
        f'<w:num {nsdecls("w")} w:numId="77"><w:abstractNumId w:val="77"/></w:num>'
    ))  # fmt: skip
    document.styles["Heading 1"].element.get_or_add_pPr()._insert_numPr(
        parse_xml(f'<w:numPr {nsdecls("w")}><w:numId w:val="77"/></w:numPr>')
    )
    document.save(str(firm))
    assert numbering(firm, "Heading 1") == "§ %1"
    bullets = numbering(firm, "List Bullet")
    path = written(tmp_path, firm)
    assert numbering(path, "Heading 1").startswith("%1 %1.%2")
    assert numbering(path, "List Bullet") == bullets
    contents = docx.Document(str(path)).styles["TOC Heading"].element
    assert [n.get(qn("w:val")) for n in contents.iter(qn("w:numId"))] == ["0"]


def test_the_firms_running_header_and_footer_stay_and_lose_their_page_numbers(
    tmp_path: Path, firm: Path
) -> None:
    document = docx.Document(str(firm))
    section = document.sections[0]
    section.different_first_page_header_footer = True
    section.first_page_header.paragraphs[0].text = "Large letterhead"
    section.footer.paragraphs[0].text = "Registered in Nowhere"
    section.footer.add_paragraph()._p.append(parse_xml(
        f'<w:fldSimple {nsdecls("w")} w:instr=" PAGE "><w:r><w:t>9</w:t></w:r></w:fldSimple>'
    ))  # fmt: skip
    document.settings.odd_and_even_pages_header_footer = True
    document.save(str(firm))
    made = docx.Document(str(written(tmp_path, firm)))
    first = made.sections[0]
    assert "Large letterhead" in first.first_page_header.paragraphs[0].text
    assert "Brackenholt" in first.header.paragraphs[0].text
    told = [p.text for p in first.footer.paragraphs]
    assert told[0] == "Registered in Nowhere"
    assert len(told) == 2
    assert not made.settings.odd_and_even_pages_header_footer
    tabs = [t.get(qn("w:val")) for t in first.footer.paragraphs[1]._p.iter(qn("w:tab"))]
    assert tabs.count("right") == 1


def test_paper_that_lies_on_its_side_stays_so_for_wide_tables() -> None:
    assert Sheet(297, 210).landscape == Sheet(297, 210)
    assert A4.landscape == Sheet(297, 210)


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
