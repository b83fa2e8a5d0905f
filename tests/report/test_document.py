"""The Word document: what a reader, a clerk and another program find in it."""

import re
import zipfile
from pathlib import Path

import docx
import pytest
from lxml import etree
from openxml_audit import OpenXmlValidator
from report_made import MOMENT, Made

from workbench.report import wordml as w
from workbench.report.template import template_bytes
from workbench.resources import resource

WN = f"{{{w.W}}}"
DRAWING = "{http://schemas.openxmlformats.org/drawingml/2006/wordprocessingDrawing}"


def part(path: Path, name: str = "word/document.xml") -> etree._Element:
    with zipfile.ZipFile(path) as package:
        return etree.fromstring(package.read(name))


def all_xml(path: Path) -> dict[str, str]:
    with zipfile.ZipFile(path) as package:
        names = [n for n in package.namelist() if n.endswith((".xml", ".rels"))]
        return {name: package.read(name).decode() for name in names}


def fields(path: Path, name: str = "word/document.xml") -> list[tuple[str, str]]:
    """Return each field's instruction and the text that stands for it."""
    found: list[tuple[str, str]] = []
    open_fields: list[list[str]] = []
    for element in part(path, name).iter(f"{WN}fldChar", f"{WN}instrText", f"{WN}t"):
        kind = element.get(f"{WN}fldCharType")
        if kind == "begin":
            open_fields.append(["", ""])
        elif kind == "end":
            instruction, cached = open_fields.pop()
            found.append((instruction.strip(), cached))
        elif element.tag == f"{WN}instrText":
            open_fields[-1][0] += element.text or ""
        elif element.tag == f"{WN}t" and open_fields:
            open_fields[-1][1] += element.text or ""
    assert not open_fields, "a field is left open"
    return found


def bookmarks(path: Path) -> dict[str, str]:
    """Return the text inside each bookmark of a paragraph."""
    held: dict[str, str] = {}
    for start in part(path).iter(f"{WN}bookmarkStart"):
        words = ""
        for sibling in start.itersiblings():
            if sibling.tag == f"{WN}bookmarkEnd":
                break
            words += "".join(t.text or "" for t in sibling.iter(f"{WN}t"))
        name = start.get(f"{WN}name") or ""
        assert name not in held
        held[name] = words
    return held


def test_the_document_keeps_to_the_schemas_of_iso_29500(report: Made) -> None:
    result = OpenXmlValidator(max_errors=0).validate(str(report.path))
    # a paragraph that carries no number says so with list 0 (ISO/IEC 29500-1, 17.9.18, from memory)
    errors = [e for e in result.errors if "Numbering definition '0'" not in e.description]
    assert errors == []


def test_the_schema_check_finds_what_is_out_of_order(report: Made, tmp_path: Path) -> None:
    broken = tmp_path / "broken.docx"
    with zipfile.ZipFile(report.path) as source, zipfile.ZipFile(broken, "w") as target:
        for name in source.namelist():
            blob = source.read(name)
            if name == "word/document.xml":
                blob = blob.replace(b"<w:tblHeader/>", b"<w:tblHeading/>", 1)
            target.writestr(name, blob)
    errors = OpenXmlValidator(max_errors=0).validate(str(broken)).errors
    assert any("tblHeading" in error.description for error in errors)


def test_word_opens_what_python_docx_opens(report: Made) -> None:
    document = docx.Document(str(report.path))
    assert len(document.tables) > 20
    assert len(document.sections) >= 3


def test_every_caption_is_a_field_that_counts_as_word_will(report: Made) -> None:
    counts = {"Figure": 0, "Table": 0, "Plate": 0}
    for instruction, cached in fields(report.path):
        if found := re.fullmatch(r"SEQ (\w+) \\\* ARABIC", instruction):
            counts[found[1]] += 1
            assert cached == str(counts[found[1]])
    assert counts["Figure"] >= 3
    assert counts["Table"] >= 30
    assert counts["Plate"] == 24


def test_every_reference_says_what_its_bookmark_says(report: Made) -> None:
    held = bookmarks(report.path)
    references = [f for f in fields(report.path) if f[0].startswith("REF ")]
    assert len(references) > 20
    for instruction, cached in references:
        name = instruction.split()[1]
        assert name in held
        if r"\r" not in instruction:
            assert cached == held[name]


def test_a_bookmark_of_a_caption_wraps_label_and_number_only(report: Made) -> None:
    held = bookmarks(report.path)
    captions = [t for t in held.values() if re.match(r"(Figure|Table|Plate) ", t)]
    assert captions
    assert all(re.fullmatch(r"(Figure|Table|Plate) \d+", words) for words in captions)


def test_every_entry_of_the_contents_leads_to_its_heading(report: Made) -> None:
    held = bookmarks(report.path)
    anchors = [a.get(f"{WN}anchor") for a in part(report.path).iter(f"{WN}hyperlink")]
    assert len(anchors) > 60
    assert set(anchors) <= set(held)


def test_every_picture_has_words_for_those_who_cannot_see_it(report: Made) -> None:
    pictures = list(part(report.path).iter(f"{DRAWING}docPr"))
    assert len(pictures) >= 27
    assert all(len(one.get("descr") or "") > 20 for one in pictures)
    assert len({one.get("id") for one in pictures}) == len(pictures)


def test_every_table_of_readings_repeats_its_head_and_keeps_rows_whole(report: Made) -> None:
    tables = [
        t for t in part(report.path).iter(f"{WN}tbl")
        if t.find(f"{WN}tblPr/{WN}tblCaption") is not None
    ]  # fmt: skip
    assert len(tables) >= 30
    for table in tables:
        first, *rest = table.iterchildren(f"{WN}tr")
        assert first.find(f"{WN}trPr/{WN}tblHeader") is not None
        assert all(row.find(f"{WN}trPr/{WN}tblHeader") is None for row in rest)


def test_every_caption_of_a_table_stays_with_its_table(report: Made) -> None:
    styles = part(report.path, "word/styles.xml")
    (caption,) = [s for s in styles if s.get(f"{WN}styleId") == "TableCaption"]
    assert caption.find(f"{WN}pPr/{WN}keepNext") is not None


def test_number_and_page_stand_on_every_kind_of_page(report: Made) -> None:
    footers = [name for name in all_xml(report.path) if name.startswith("word/footer")]
    assert len(footers) >= 3
    for name in footers:
        said = fields(report.path, name)
        assert ("DOCPROPERTY ReportNumber", "BH-2024-11-R1") in said
        assert [instruction for instruction, _ in said][1:] == ["PAGE", "NUMPAGES"]


def test_the_cover_has_a_footer_of_its_own(report: Made) -> None:
    first = next(part(report.path).iter(f"{WN}sectPr"))
    kinds = [one.get(f"{WN}type") for one in first.iter(f"{WN}footerReference")]
    assert sorted(kinds) == ["default", "first"]
    assert first.find(f"{WN}titlePg") is not None


def test_pages_on_their_side_swap_the_sheet_and_move_the_page_number(report: Made) -> None:
    sides = [
        (int(s.get(f"{WN}w")), int(s.get(f"{WN}h")), s.get(f"{WN}orient"))
        for s in part(report.path).iter(f"{WN}pgSz")
    ]
    assert (11906, 16838, None) in sides
    assert (16838, 11906, "landscape") in sides
    stops = {
        name: re.findall(r'w:tab w:val="right" w:pos="(\d+)"', xml)
        for name, xml in all_xml(report.path).items()
        if name.startswith("word/footer")
    }
    assert {tuple(found) for found in stops.values()} == {("9071",), ("14003",)}


def test_there_is_exactly_one_end_mark_and_it_is_the_last_text(report: Made) -> None:
    paragraphs = list(part(report.path).iter(f"{WN}p"))
    ends = [
        n for n, p in enumerate(paragraphs)
        if "End of report BH-2024-11-R1" in "".join(t.text or "" for t in p.iter(f"{WN}t"))
    ]  # fmt: skip
    assert ends == [len(paragraphs) - 1]


def test_properties_tell_the_truth_about_where_the_document_comes_from(report: Made) -> None:
    core = docx.Document(str(report.path)).core_properties
    assert core.author == "R. Tennick"
    assert core.title.startswith("Investigation report: Bottling hall floor")
    assert core.identifier == "BH-2024-11-R1"
    assert core.created == core.modified == MOMENT.replace(tzinfo=core.created.tzinfo)
    whole = "".join(all_xml(report.path).values())
    for stranger in ("python-docx", "2013-12-23", "Macintosh", "thumbnail"):
        assert stranger not in whole


def test_no_name_of_an_original_stands_in_the_package(report: Made) -> None:
    with zipfile.ZipFile(report.path) as package:
        names = package.namelist()
    assert all(re.fullmatch(r"word/media/picture\d+\.(jpg|png)", n) for n in names if "media" in n)


def test_pictures_are_stored_and_not_deflated_again(report: Made) -> None:
    with zipfile.ZipFile(report.path) as package:
        media = [one for one in package.infolist() if "media" in one.filename]
    assert media
    assert {one.compress_type for one in media} == {zipfile.ZIP_STORED}


def test_every_numbered_paragraph_can_be_cited(report: Made) -> None:
    numbering = part(report.path, "word/numbering.xml")
    bound = [s.get(f"{WN}val") for s in numbering.iter(f"{WN}pStyle")]
    assert {"Heading1", "Heading2", "Heading3", "AppendixHeading", "NumberedText"} <= set(bound)


def test_nothing_private_is_left_in_the_document(report: Made) -> None:
    whole = all_xml(report.path)
    assert not [name for name in whole if "comments" in name]
    text = whole["word/document.xml"]
    assert not re.search(r"<w:(ins|del|vanish|comment)\b", text)


def test_the_language_of_the_text_is_said(report: Made) -> None:
    langs = [e.get(f"{WN}val") for e in part(report.path, "word/styles.xml").iter(f"{WN}lang")]
    assert set(langs) == {"en-GB"}


def test_the_template_is_the_one_that_its_script_makes() -> None:
    assert resource("report/template.docx").read_bytes() == template_bytes()


def test_styles_of_word_keep_their_names(report: Made) -> None:
    styles = part(report.path, "word/styles.xml")
    named = {
        s.get(f"{WN}styleId"): (s.find(f"{WN}name").get(f"{WN}val"), s.get(f"{WN}customStyle"))
        for s in styles.iter(f"{WN}style")
    }
    for own_id, name in (("Heading1", "heading 1"), ("Caption", "caption"), ("TOC1", "toc 1"),
                         ("FootnoteText", "footnote text"), ("Header", "header")):  # fmt: skip
        assert named[own_id] == (name, None)


@pytest.mark.parametrize("style", ["TOCHeading"])
def test_the_heading_of_the_contents_is_neither_numbered_nor_listed(
    report: Made, style: str
) -> None:
    styles = part(report.path, "word/styles.xml")
    (heading,) = [s for s in styles if s.get(f"{WN}styleId") == style]
    assert heading.find(f"{WN}pPr/{WN}numPr/{WN}numId").get(f"{WN}val") == "0"
    assert heading.find(f"{WN}pPr/{WN}outlineLvl").get(f"{WN}val") == "9"
