"""A firm's own Word file as the template: its paper, letterhead and styles, ours where it has none.

A style of ours is the firm's where the firm has one of the same name ("heading 1", "caption"), or
where the mapping names one: `NumberedText = "Body Text"`. All others are added to the file.
"""

import copy
import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from io import BytesIO
from pathlib import Path
from zipfile import BadZipFile

import docx
from docx.document import Document as WordDocument
from docx.opc.constants import CONTENT_TYPE
from docx.opc.constants import RELATIONSHIP_TYPE as RT
from docx.opc.exceptions import PackageNotFoundError
from docx.opc.packuri import PackURI
from docx.opc.part import Part

from workbench.records import KnownError
from workbench.report.wordml import A4, Sheet, W
from workbench.resources import resource

_W = f"{{{W}}}"
_STYLED = re.compile(r'(<w:(?:pStyle|rStyle|tblStyle) w:val=")([^"]+)(")')
_EMU_PER_MM = 36000
_NUMBERED = ("Heading1", "Heading2", "Heading3")


@dataclass(frozen=True, slots=True)
class Ground:
    """The document that a report is set on.

    Attributes:
        document: An empty document with all styles.
        sheet: Its paper.
        styles: The ids that our styles have in it.
        letterhead: Relation of the header that the cover keeps; empty for none.
    """

    document: WordDocument
    sheet: Sheet
    styles: Mapping[str, str] = field(default_factory=dict)
    letterhead: str = ""

    def styled(self, xml: str) -> str:
        """Return XML with our styles called as the document calls them."""
        if not self.styles:
            return xml
        return _STYLED.sub(lambda m: f"{m[1]}{self.styles.get(m[2], m[2])}{m[3]}", xml)


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
    section = document.sections[0]
    width, height, margin_x, margin_y = (
        (length or default * _EMU_PER_MM) / _EMU_PER_MM
        for length, default in (
            (section.page_width, A4.width), (section.page_height, A4.height),
            (section.left_margin, A4.margin_x), (section.top_margin, A4.margin_y),
        )
    )  # fmt: skip
    return Ground(document, Sheet(width, height, margin_x, margin_y), styles, _letterhead(document))


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
            _number(held, style, own_id)
        else:
            added = copy.deepcopy(style)
            ids[own_id] = f"Report{own_id}" if own_id in taken else own_id
            added.set(f"{_W}styleId", ids[own_id])
            document.styles.element.append(added)
            theirs[name] = added
    _mend(document, ids, lists)
    return ids


def _number(held: object, ours: object, own_id: str) -> None:
    """Give a firm's heading our numbers where it has none, so that references agree."""
    numbers = ours.find(f"{_W}pPr/{_W}numPr")  # type: ignore[attr-defined]  # an lxml element
    if own_id not in _NUMBERED or numbers is None:
        return
    about = held.get_or_add_pPr()  # type: ignore[attr-defined]
    if about.find(f"{_W}numPr") is None:
        about._insert_numPr(copy.deepcopy(numbers))  # noqa: SLF001 - keeps the schema's order


def _mend(document: WordDocument, ids: Mapping[str, str], lists: Mapping[str, str]) -> None:
    """Point what was added to the styles and lists as they are called here."""
    for style in document.styles.element.findall(f"{_W}style"):
        if style.get(f"{_W}styleId") not in ids.values():
            continue
        for tag in ("basedOn", "next"):
            link = style.find(f"{_W}{tag}")
            if link is not None and link.get(f"{_W}val") in ids:
                link.set(f"{_W}val", ids[link.get(f"{_W}val")])
        for number in style.iter(f"{_W}numId"):
            if number.get(f"{_W}val") in lists:
                number.set(f"{_W}val", lists[number.get(f"{_W}val")])
    for bound in document.part.numbering_part.element.iter(f"{_W}pStyle"):
        if bound.get(f"{_W}val") in ids:
            bound.set(f"{_W}val", ids[bound.get(f"{_W}val")])


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


_LEFTOVERS = ("/stylesWithEffects", "/thumbnail")
"""Relations to what an older Word kept beside the styles, and to a picture of the firm's page."""


def _drop_leftovers(document: WordDocument) -> None:
    package = document.part.package
    for relations in (document.part.rels, package.rels if package else {}):
        for key in [k for k, one in relations.items() if one.reltype.endswith(_LEFTOVERS)]:
            del relations[key]


def _letterhead(document: WordDocument) -> str:
    """Return the header that the first page of the firm's file shows."""
    references = document.sections[0]._sectPr.findall(f"{_W}headerReference")  # noqa: SLF001
    of_kind = {one.get(f"{_W}type"): one for one in references}
    chosen = of_kind.get("first", of_kind.get("default"))
    relation = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id"
    return chosen.get(relation) if chosen is not None else ""
