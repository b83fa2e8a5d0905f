"""A firm's own Word file as the template: its paper, letterhead and styles, ours where it has none.

A style of ours is the firm's where the firm has one of the same name ("heading 1", "caption"), or
where the mapping names one: `NumberedText = "Body Text"`. All others are added to the file.
"""

import copy
import re
import tomllib
from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from io import BytesIO
from pathlib import Path
from typing import Any
from zipfile import BadZipFile

import docx
from docx.document import Document as WordDocument
from docx.opc.constants import CONTENT_TYPE
from docx.opc.constants import RELATIONSHIP_TYPE as RT
from docx.opc.exceptions import PackageNotFoundError
from docx.opc.packuri import PackURI
from docx.opc.part import Part
from docx.oxml import parse_xml

from workbench.records import KnownError
from workbench.report.wordml import A4, NAMESPACES, TWIPS_PER_MM, Sheet, W
from workbench.resources import resource

_W = f"{{{W}}}"
_STYLED = re.compile(r'(<w:(?:pStyle|rStyle|tblStyle) w:val=")([^"]+)(")')
_EMU_PER_MM = 36000
_OURS_ALWAYS = ("Heading1", "Heading2", "Heading3", "TOCHeading")
"""Styles whose numbers are ours in every file, since contents and references count by them."""
_TO_THE_MARGIN = ("TOC1", "TOC2", "TOC3", "TableofFigures")


@dataclass(frozen=True, slots=True)
class Ground:
    """The document that a report is set on.

    Attributes:
        document: An empty document with all styles.
        sheet: Its paper.
        styles: The ids that our styles have in it.
        kept: Relations of the firm's headers and footers, by "header first", "footer default".
    """

    document: WordDocument
    sheet: Sheet
    styles: Mapping[str, str] = field(default_factory=dict)
    kept: Mapping[str, str] = field(default_factory=dict)

    def styled(self, xml: str) -> str:
        """Return XML with our styles called as the document calls them."""
        if not self.styles:
            return xml
        return _STYLED.sub(lambda m: f"{m[1]}{self.styles.get(m[2], m[2])}{m[3]}", xml)

    def stops(self, ours: str) -> tuple[int, ...]:
        """Return the tab stops of one of our styles as the document has it, in twips."""
        found: list[int] = []
        style = self._style(self.styles.get(ours, ours))
        while style is not None:
            found += [int(tab.get(f"{_W}pos")) for tab in style.iter(f"{_W}tab")]
            base = style.find(f"{_W}basedOn")
            style = self._style(base.get(f"{_W}val")) if base is not None else None
        return tuple(dict.fromkeys(found))

    def fit(self) -> None:
        """Set the page numbers of contents and lists at the right margin of the paper."""
        right = str(round(self.sheet.text_width * TWIPS_PER_MM))
        for ours in _TO_THE_MARGIN:
            style = self._style(self.styles.get(ours, ours))
            if style is None:
                continue
            tabs = style.get_or_add_pPr().get_or_add_tabs()
            for tab in tabs.findall(f"{_W}tab"):
                if tab.get(f"{_W}val") == "right":
                    tabs.remove(tab)
            tabs.append(parse_xml(
                f'<w:tab {NAMESPACES} w:val="right" w:leader="dot" w:pos="{right}"/>'
            ))  # fmt: skip

    def _style(self, style_id: str) -> Any:  # noqa: ANN401 - an lxml element
        styles = self.document.styles.element.findall(f"{_W}style")
        return next((one for one in styles if one.get(f"{_W}styleId") == style_id), None)


def own_ground(sheet: Sheet = A4) -> Ground:
    """Return the program's own template."""
    return Ground(docx.Document(BytesIO(resource("report/template.docx").read_bytes())), sheet)


def firm_ground(path: Path, mapping: Path | None = None) -> Ground:
    """Return a firm's file as the ground of a report.

    Args:
        path: The firm's Word file; it is not changed.
        mapping: A TOML file with a firm's style name for each of our style ids that shall have one.

    Raises:
        KnownError: One of them cannot be read, or a style is not there.
    """
    try:
        document = docx.Document(str(path))
    except (PackageNotFoundError, BadZipFile, KeyError, ValueError) as wrong:
        raise KnownError(f"{path} is no Word file that can serve as a template") from wrong
    ours = own_ground().document
    wanted = _wanted(mapping)
    lists = _add_lists(document, ours)
    styles = _adopt_styles(document, ours, wanted, lists)
    _add_footnotes(document, ours)
    _drop_leftovers(document)
    _drop_settings(document)
    section = document.sections[0]
    width, height, margin_x, margin_y = (
        (length or default * _EMU_PER_MM) / _EMU_PER_MM
        for length, default in (
            (section.page_width, A4.width), (section.page_height, A4.height),
            (section.left_margin, A4.margin_x), (section.top_margin, A4.margin_y),
        )
    )  # fmt: skip
    return Ground(document, Sheet(width, height, margin_x, margin_y), styles, _furniture(document))


def _wanted(mapping: Path | None) -> dict[str, str]:
    if mapping is None:
        return {}
    try:
        said = tomllib.loads(mapping.read_text("utf-8"))
    except (OSError, tomllib.TOMLDecodeError, UnicodeDecodeError) as wrong:
        raise KnownError(f"{mapping}: the mapping of styles cannot be read ({wrong})") from wrong
    return {str(role): str(name) for role, name in said.items()}


def _adopt_styles(
    document: WordDocument, ours: WordDocument, wanted: Mapping[str, str], lists: Mapping[str, str]
) -> dict[str, str]:
    """Add our styles where the firm has none; return what each is called in the document."""
    theirs = {style.find(f"{_W}name").get(f"{_W}val").lower(): style
              for style in document.styles.element.findall(f"{_W}style")}  # fmt: skip
    known = {style.get(f"{_W}styleId") for style in ours.styles.element.findall(f"{_W}style")}
    strange = [role for role in wanted if role not in known]
    missing = [name for name in wanted.values() if name.lower() not in theirs]
    if strange or missing:
        wrong = (
            f"no such style of the report: {', '.join(strange)}"
            if strange
            else (f"the file has no style called {', '.join(missing)}")
        )
        raise KnownError(f"the mapping of styles does not fit: {wrong}")
    ids: dict[str, str] = {}
    taken = {style.get(f"{_W}styleId") for style in theirs.values()}
    for style in ours.styles.element.findall(f"{_W}style"):
        own_id = style.get(f"{_W}styleId")
        name = wanted.get(own_id, style.find(f"{_W}name").get(f"{_W}val")).lower()
        held = theirs.get(name)
        if held is not None:
            ids[own_id] = held.get(f"{_W}styleId")
            if own_id in _OURS_ALWAYS:
                _number(document, held, style)
        else:
            added = copy.deepcopy(style)
            ids[own_id] = f"Report{own_id}" if own_id in taken else own_id
            added.set(f"{_W}styleId", ids[own_id])
            document.styles.element.append(added)
            theirs[name] = added
    added_or_ours = {ids[own] for own in ids if ids[own] not in taken or own in _OURS_ALWAYS}
    _mend(document, ids, lists, added_or_ours)
    return ids


def _number(document: WordDocument, held: Any, ours: Any) -> None:  # noqa: ANN401 - lxml elements
    """Give a firm's heading our numbers in the place of its own, so that references agree."""
    about = held.get_or_add_pPr()
    old = about.find(f"{_W}numPr")
    if old is not None:
        about.remove(old)
    numbers = ours.find(f"{_W}pPr/{_W}numPr")
    if numbers is not None:
        about._insert_numPr(copy.deepcopy(numbers))  # noqa: SLF001 - keeps the schema's order
    name = held.get(f"{_W}styleId")
    for link in list(document.part.numbering_part.element.iter(f"{_W}pStyle")):
        if link.get(f"{_W}val") == name and not _is_ours(link):
            link.getparent().remove(link)


def _is_ours(link: Any) -> bool:  # noqa: ANN401 - an lxml element
    abstract = link.getparent().getparent()
    return abstract.get(_MARK) is not None


_MARK = "ours"
"""Attribute of a list that was just added, until its names are mended."""


def _mend(
    document: WordDocument,
    ids: Mapping[str, str],
    lists: Mapping[str, str],
    numbered: Collection[str],
) -> None:
    """Point what was added to the styles and lists as they are called here."""
    for style in document.styles.element.findall(f"{_W}style"):
        if style.get(f"{_W}styleId") not in numbered:
            continue
        for tag in ("basedOn", "next"):
            link = style.find(f"{_W}{tag}")
            if link is not None and link.get(f"{_W}val") in ids:
                link.set(f"{_W}val", ids[link.get(f"{_W}val")])
        for number in style.iter(f"{_W}numId"):
            if number.get(f"{_W}val") in lists:
                number.set(f"{_W}val", lists[number.get(f"{_W}val")])
    for abstract in document.part.numbering_part.element.findall(f"{_W}abstractNum"):
        if abstract.attrib.pop(_MARK, None) is None:
            continue
        for bound in abstract.iter(f"{_W}pStyle"):
            bound.set(f"{_W}val", ids.get(bound.get(f"{_W}val"), bound.get(f"{_W}val")))


def _add_lists(document: WordDocument, ours: WordDocument) -> dict[str, str]:
    """Add our lists to the firm's numbering; return the number that each has there."""
    target = document.part.numbering_part.element
    taken = [int(n.get(f"{_W}abstractNumId")) for n in target.findall(f"{_W}abstractNum")]
    numbers = [int(n.get(f"{_W}numId")) for n in target.findall(f"{_W}num")]
    first_abstract, first = max(taken, default=-1) + 1, max(numbers, default=0) + 1
    source = ours.part.numbering_part.element
    moved = {}
    for at, abstract in enumerate(source.findall(f"{_W}abstractNum")):
        added = copy.deepcopy(abstract)
        added.set(f"{_W}abstractNumId", str(first_abstract + at))
        added.set(_MARK, "1")
        before = target.find(f"{_W}num")
        if before is None:
            target.append(added)
        else:
            before.addprevious(added)
    for at, number in enumerate(source.findall(f"{_W}num")):
        added = copy.deepcopy(number)
        moved[number.get(f"{_W}numId")] = str(first + at)
        added.set(f"{_W}numId", str(first + at))
        added.find(f"{_W}abstractNumId").set(f"{_W}val", str(first_abstract + at))
        target.append(added)
    return moved


def _add_footnotes(document: WordDocument, ours: WordDocument) -> None:
    try:
        document.part.part_related_by(RT.FOOTNOTES)
    except KeyError:
        blob = ours.part.part_related_by(RT.FOOTNOTES).blob
        name = PackURI("/word/footnotes.xml")
        part = Part(name, CONTENT_TYPE.WML_FOOTNOTES, blob, document.part.package)
        document.part.relate_to(part, RT.FOOTNOTES)


_LEFTOVERS = (
    "/stylesWithEffects", "/thumbnail", "/comments", "/commentsExtended", "/commentsIds",
    "/commentsExtensible", "/people", "/attachedTemplate", "/vbaProject", "/glossaryDocument",
)  # fmt: skip
"""Relations to what an older Word kept, to the firm's page, and to what is not to be served."""
_OF_THE_FIRM = (
    "evenAndOddHeaders", "trackRevisions", "documentProtection", "writeProtection",
    "attachedTemplate", "mailMerge", "docVars",
)  # fmt: skip
"""Settings that would hide the draft mark on even pages, lock the report, or tell of the firm."""


def _drop_settings(document: WordDocument) -> None:
    settings = document.settings.element
    for name in _OF_THE_FIRM:
        for found in settings.findall(f"{_W}{name}"):
            settings.remove(found)


def _drop_leftovers(document: WordDocument) -> None:
    package = document.part.package
    for relations in (document.part.rels, package.rels if package else {}):
        for key in [k for k, one in relations.items() if one.reltype.endswith(_LEFTOVERS)]:
            del relations[key]


def _furniture(document: WordDocument) -> dict[str, str]:
    """Return the relations of the headers and footers that the firm's file shows.

    Without a first page of its own the file shows its default ones there too.
    """
    properties = document.sections[0]._sectPr  # noqa: SLF001 - there is no call for references
    first = properties.find(f"{_W}titlePg") is not None
    kept: dict[str, str] = {}
    for kind in ("header", "footer"):
        of_kind = {
            one.get(f"{_W}type"): one.get(_RELATION)
            for one in properties.findall(f"{_W}{kind}Reference")
        }
        default = of_kind.get("default", "")
        for place, relation in (("first", of_kind.get("first", "") if first else default),
                                ("default", default)):  # fmt: skip
            if relation and _says_something(document, relation):
                kept[f"{kind} {place}"] = relation
    return kept


_RELATION = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id"
_COUNTS = re.compile(r"\b(PAGE|NUMPAGES|SECTIONPAGES)\b")


def _says_something(document: WordDocument, relation: str) -> bool:
    """Take the page numbers out, since ours count, and return whether anything else is said."""
    element = document.part.related_parts[relation].element
    for paragraph in element.findall(f"{_W}p"):
        told = "".join(one.text or "" for one in paragraph.iter(f"{_W}instrText"))
        told += "".join(one.get(f"{_W}instr", "") for one in paragraph.iter(f"{_W}fldSimple"))
        if _COUNTS.search(told):
            element.remove(paragraph)
    words = "".join(one.text or "" for one in element.iter(f"{_W}t")).strip()
    pictures = next(element.iter(f"{_W}drawing", f"{_W}pict"), None)
    return bool(words) or pictures is not None
