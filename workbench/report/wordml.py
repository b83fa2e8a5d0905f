"""The words of WordprocessingML (ISO/IEC 29500-1, part 17), each returned as a piece of XML text.

A body is joined from such pieces and parsed once: python-docx has no call for fields, bookmarks,
footnotes, repeated header rows or alternative text, and finds table cells in quadratic time.
Lengths are twips (1/1440 in) for text and tables, EMU (1/914400 in) for pictures.
"""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from xml.sax.saxutils import escape, quoteattr

W = "http://schemas.openxmlformats.org/wordprocessingml/2006/main"
R = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
NAMESPACES = (
    f'xmlns:w="{W}" xmlns:r="{R}" '
    'xmlns:wp="http://schemas.openxmlformats.org/drawingml/2006/wordprocessingDrawing" '
    'xmlns:a="http://schemas.openxmlformats.org/drawingml/2006/main" '
    'xmlns:pic="http://schemas.openxmlformats.org/drawingml/2006/picture"'
)
DECLARATION = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
TWIPS_PER_MM = 1440 / 25.4
EMU_PER_MM = 36000

_NOT_IN_XML = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]")
_TURNS_LINES = re.compile("[\u202a-\u202e\u2066-\u2069]")
_LONGEST_RUN = 50_000


def clean(text: str) -> str:
    """Return `text` with a visible mark (�) for each character that XML or a line cannot hold.

    Control characters and lone surrogates are not allowed in XML 1.0; directional overrides
    would turn the words after them round.
    """
    return _TURNS_LINES.sub("�", _NOT_IN_XML.sub("�", text))


def attribute(text: str) -> str:
    """Return `text` as a quoted attribute value."""
    return quoteattr(clean(text))


def run(text: str, style: str = "", properties: str = "") -> str:
    """Return a run of text; a line feed becomes a line break, a tab a tab."""
    about = f'<w:rStyle w:val="{style}"/>{properties}' if style else properties
    opening = f"<w:r><w:rPr>{about}</w:rPr>" if about else "<w:r>"
    return "".join(f"{opening}{_content(part)}</w:r>" for part in _short_parts(clean(text)))


def _short_parts(text: str) -> Iterable[str]:
    if len(text) <= _LONGEST_RUN:
        return (text,)
    return (text[at : at + _LONGEST_RUN] for at in range(0, len(text), _LONGEST_RUN))


def _content(text: str) -> str:
    if "\n" not in text and "\t" not in text and "\r" not in text:
        return _t(text)
    parts = re.split("(\r\n|\r|\n|\t)", text)
    return "".join("<w:tab/>" if p == "\t" else "<w:br/>" if p in _BREAKS else _t(p) for p in parts)


_BREAKS = ("\r\n", "\r", "\n")


def _t(text: str) -> str:
    return f'<w:t xml:space="preserve">{escape(text)}</w:t>' if text else ""


def field(instruction: str, cached: str, *, style: str = "") -> str:
    """Return a field with the text that stands until a reader computes it anew."""
    about = f'<w:rPr><w:rStyle w:val="{style}"/></w:rPr>' if style else ""
    return (
        f'<w:r>{about}<w:fldChar w:fldCharType="begin"/></w:r>'
        f'<w:r>{about}<w:instrText xml:space="preserve"> {escape(instruction)} </w:instrText></w:r>'
        f'<w:r>{about}<w:fldChar w:fldCharType="separate"/></w:r>'
        f"{run(cached, style)}"
        f'<w:r>{about}<w:fldChar w:fldCharType="end"/></w:r>'
    )


def field_opened(instruction: str) -> str:
    """Return the start of a field whose cached text runs over several paragraphs."""
    return (
        '<w:r><w:fldChar w:fldCharType="begin"/></w:r>'
        f'<w:r><w:instrText xml:space="preserve"> {escape(instruction)} </w:instrText></w:r>'
        '<w:r><w:fldChar w:fldCharType="separate"/></w:r>'
    )


FIELD_CLOSED = '<w:r><w:fldChar w:fldCharType="end"/></w:r>'


def bookmark(name: str, number: int, inner: str) -> str:
    """Return `inner` inside a bookmark; `number` is unique in the document."""
    return (
        f'<w:bookmarkStart w:id="{number}" w:name="{name}"/>{inner}<w:bookmarkEnd w:id="{number}"/>'
    )


def link(anchor: str, inner: str) -> str:
    """Return `inner` as a link to a bookmark."""
    return f'<w:hyperlink w:anchor="{anchor}" w:history="1">{inner}</w:hyperlink>'


def paragraph(style: str, *inner: str, properties: str = "") -> str:
    """Return a paragraph; `properties` come in the order of the schema after the style."""
    return f'<w:p><w:pPr><w:pStyle w:val="{style}"/>{properties}</w:pPr>{"".join(inner)}</w:p>'


KEEP_WITH_NEXT = "<w:keepNext/>"


def footnote_mark(number: int) -> str:
    """Return the mark of a footnote in the text."""
    return (
        '<w:r><w:rPr><w:rStyle w:val="FootnoteReference"/></w:rPr>'
        f'<w:footnoteReference w:id="{number}"/></w:r>'
    )


@dataclass(frozen=True, slots=True)
class Sheet:
    """The paper of a section, in millimetres.

    Attributes:
        width: Width of the sheet as it is held.
        height: Height of the sheet as it is held.
        margin_x: Left and right margin.
        margin_y: Top and bottom margin.
    """

    width: float = 210.0
    height: float = 297.0
    margin_x: float = 25.0
    margin_y: float = 26.0

    @property
    def landscape(self) -> "Sheet":
        """The same paper on its side; paper that lies so already stays."""
        long, short = max(self.width, self.height), min(self.width, self.height)
        return Sheet(long, short, self.margin_x, self.margin_y)

    @property
    def text_width(self) -> float:
        """Width between the margins, in millimetres."""
        return self.width - 2 * self.margin_x

    @property
    def text_height(self) -> float:
        """Height between the margins, in millimetres."""
        return self.height - 2 * self.margin_y


A4 = Sheet()
LETTER = Sheet(215.9, 279.4)


def twips(millimetres: float) -> int:
    """Return a length in twips."""
    return round(millimetres * TWIPS_PER_MM)


GUTTER = twips(11)
"""How far text stands in from its numbers."""
STOP_AFTER_NUMBER = 2 * GUTTER
"""Where the words of a numbered entry begin in the second level of the contents."""


def section(sheet: Sheet, furniture: str, *, first_differs: bool = False) -> str:
    """Return the properties of a section; `furniture` are its header and footer references."""
    side = ' w:orient="landscape"' if sheet.width > sheet.height else ""
    x, y = twips(sheet.margin_x), twips(sheet.margin_y)
    return (
        f'<w:sectPr>{furniture}<w:type w:val="nextPage"/>'
        f'<w:pgSz w:w="{twips(sheet.width)}" w:h="{twips(sheet.height)}"{side}/>'
        f'<w:pgMar w:top="{y}" w:right="{x}" w:bottom="{y}" w:left="{x}" '
        f'w:header="{twips(12)}" w:footer="{twips(11)}" w:gutter="0"/>'
        f"{'<w:titlePg/>' if first_differs else ''}</w:sectPr>"
    )


def section_end(properties: str) -> str:
    """Return the paragraph that ends a section with these properties."""
    return f'<w:p><w:pPr><w:pStyle w:val="SectionEnd"/>{properties}</w:pPr></w:p>'


@dataclass(frozen=True, slots=True)
class Grid:
    """What a table looks like, apart from its cells.

    Attributes:
        widths: Width of each column, in twips.
        numeric: For each column, whether it is set to the right.
        caption: Name of the table for a reader that speaks it.
        description: What the table shows, in a sentence.
        style: Table style.
        together: Whether the table is kept on one page.
        noted: Whether a note follows, which stays with the last row.
    """

    widths: tuple[int, ...]
    numeric: tuple[bool, ...]
    caption: str
    description: str
    style: str = "ReportTable"
    together: bool = False
    noted: bool = False


def table(grid: Grid, head: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """Return a table; each cell is the inside of one paragraph; the head repeats on each page."""
    columns = "".join(f'<w:gridCol w:w="{width}"/>' for width in grid.widths)
    return (
        f'<w:tbl><w:tblPr><w:tblStyle w:val="{grid.style}"/>'
        f'<w:tblW w:w="{sum(grid.widths)}" w:type="dxa"/><w:tblLayout w:type="fixed"/>'
        '<w:tblLook w:val="0420" w:firstRow="1" w:lastRow="0" w:firstColumn="0" '
        'w:lastColumn="0" w:noHBand="0" w:noVBand="1"/>'
        f"<w:tblCaption w:val={attribute(grid.caption)}/>"
        f"<w:tblDescription w:val={attribute(grid.description)}/></w:tblPr>"
        f"<w:tblGrid>{columns}</w:tblGrid>"
        f"{_row(grid, head, head=True) if head else ''}{_rows(grid, rows)}</w:tbl>"
    )


def _rows(grid: Grid, rows: Iterable[Sequence[str]]) -> str:
    held = list(rows)
    last = len(held) - 1
    # with only one row under its head on a page, LibreOffice may drop all rows that follow
    kept = last if grid.together else min(last, _LEADING_ROWS)
    # the last row stands on no page alone
    ends = (last - 1, last) if grid.noted else (last - 1,)
    return "".join(_row(grid, cells, kept=at < kept or at in ends) for at, cells in enumerate(held))


_TALL_ROW = 6000
_LEADING_ROWS = 2


def _row(grid: Grid, cells: Sequence[str], *, head: bool = False, kept: bool = False) -> str:
    style = "TableHead" if head else "TableText"
    about_text = KEEP_WITH_NEXT if kept or head else ""
    inside = "".join(
        _cell(width, style, inner, about_text, numeric=numeric)
        for width, numeric, inner in zip(grid.widths, grid.numeric, cells, strict=True)
    )
    # a row that may not be split and is taller than a page would be cut off
    whole = "" if len(inside) > _TALL_ROW * len(cells) else "<w:cantSplit/>"
    about = f"{whole}<w:tblHeader/>" if head else whole
    return f"<w:tr>{f'<w:trPr>{about}</w:trPr>' if about else ''}{inside}</w:tr>"


def _cell(width: int, style: str, inner: str, about: str, *, numeric: bool) -> str:
    aligned = f'{about}<w:jc w:val="right"/>' if numeric else about
    return (
        f'<w:tc><w:tcPr><w:tcW w:w="{width}" w:type="dxa"/></w:tcPr>'
        f'<w:p><w:pPr><w:pStyle w:val="{style}"/>{aligned}</w:pPr>{inner}</w:p></w:tc>'
    )


def picture(
    relation: str, number: int, size_mm: tuple[float, float], *, name: str, alt: str
) -> str:
    """Return a run with an inline picture; `number` is unique among the pictures."""
    cx, cy = (round(length * EMU_PER_MM) for length in size_mm)
    about = f"id={attribute(str(number))} name={attribute(name)} descr={attribute(alt)}"
    return (
        '<w:r><w:drawing><wp:inline distT="0" distB="0" distL="0" distR="0">'
        f'<wp:extent cx="{cx}" cy="{cy}"/><wp:docPr {about}/>'
        '<wp:cNvGraphicFramePr><a:graphicFrameLocks noChangeAspect="1"/></wp:cNvGraphicFramePr>'
        '<a:graphic><a:graphicData uri="http://schemas.openxmlformats.org/drawingml/2006/picture">'
        f"<pic:pic><pic:nvPicPr><pic:cNvPr {about}/><pic:cNvPicPr/></pic:nvPicPr>"
        f'<pic:blipFill><a:blip r:embed="{relation}"/><a:stretch><a:fillRect/></a:stretch>'
        '</pic:blipFill><pic:spPr><a:xfrm><a:off x="0" y="0"/>'
        f'<a:ext cx="{cx}" cy="{cy}"/></a:xfrm><a:prstGeom prst="rect"><a:avLst/></a:prstGeom>'
        "</pic:spPr></pic:pic></a:graphicData></a:graphic></wp:inline></w:drawing></w:r>"
    )


def footnotes(notes: str) -> str:
    """Return a whole `footnotes` part: the two separators that Word asks for, then the notes."""
    separators = "".join(
        f'<w:footnote w:type="{kind}" w:id="{number}"><w:p><w:pPr><w:spacing w:after="0"/></w:pPr>'
        f"<w:r><w:{kind}/></w:r></w:p></w:footnote>"
        for kind, number in (("separator", -1), ("continuationSeparator", 0))
    )
    return f"<w:footnotes {NAMESPACES}>{separators}{notes}</w:footnotes>"


def body(inner: str, last_section: str) -> str:
    """Return a whole `document` part."""
    return f"<w:document {NAMESPACES}><w:body>{inner}{last_section}</w:body></w:document>"
