"""The report's own template: paper, type, numbering and footnotes, made from this script.

`python -m workbench.report.template` writes `resources/report/template.docx` anew. The document
of a report starts from that file, or from a firm's own file with its styles mapped to these.
"""

import zipfile
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path

from workbench.report.wordml import (
    A4,
    DECLARATION,
    GUTTER,
    NAMESPACES,
    STOP_AFTER_NUMBER,
    footnotes,
    section,
    twips,
)

INK, ACCENT, ALARM, QUIET, RULE, WASH = "22262B", "1F5F7A", "B5432A", "5F646A", "CFCCC4", "F3F1EB"
SERIF = "Cambria"

"""Width beside the text in which headings and paragraphs carry their numbers."""

_PACKAGE = "http://schemas.openxmlformats.org/package/2006"
_OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006"
_MAIN = "application/vnd.openxmlformats-officedocument.wordprocessingml"


@dataclass(frozen=True, slots=True)
class Style:
    """One style of the template; `pPr` and `rPr` stand as their inner XML."""

    id: str
    name: str
    paragraph: str = ""
    letters: str = ""
    based: str = "Normal"
    following: str = ""
    kind: str = "paragraph"
    own: bool = False
    after: str = ""

    def xml(self) -> str:
        """Return the style as an element."""
        own = ' w:customStyle="1"' if self.own else ""
        default = ' w:default="1"' if self.id in ("Normal", "TableNormal") else ""
        said = (
            ("basedOn", self.based if self.id not in ("Normal", "TableNormal") else ""),
            ("next", self.following),
        )
        links = "".join(f'<w:{tag} w:val="{value}"/>' for tag, value in said if value)
        ppr = f"<w:pPr>{self.paragraph}</w:pPr>" if self.paragraph else ""
        rpr = f"<w:rPr>{self.letters}</w:rPr>" if self.letters else ""
        return (
            f'<w:style w:type="{self.kind}"{own}{default} w:styleId="{self.id}">'
            f'<w:name w:val="{self.name}"/>{links}<w:qFormat/>{ppr}{rpr}{self.after}</w:style>'
        )


def _letters(size: float = 0, colour: str = "", *, bold: bool = False, slanted: bool = False,
             more: str = "") -> str:  # fmt: skip
    return (
        f"{'<w:b/>' if bold else ''}{'<w:i/>' if slanted else ''}{more}"
        f"{f'<w:color w:val={chr(34)}{colour}{chr(34)}/>' if colour else ''}"
        f"{f'<w:sz w:val={chr(34)}{round(size * 2)}{chr(34)}/>' if size else ''}"
    )


def _space(before: float = 0, after: float = 0, line: float = 0) -> str:
    height = f' w:line="{round(line * 240)}" w:lineRule="auto"' if line else ""
    return f'<w:spacing w:before="{round(before * 20)}" w:after="{round(after * 20)}"{height}/>'


def _indent(left: int, hanging: int = 0) -> str:
    return f'<w:ind w:left="{left}" w:hanging="{hanging}"/>'


def _numbered(number: int, level: int = 0) -> str:
    return f'<w:numPr><w:ilvl w:val="{level}"/><w:numId w:val="{number}"/></w:numPr>'


def _ruled(side: str, colour: str, size: int, space: int) -> str:
    return (
        f'<w:pBdr><w:{side} w:val="single" w:sz="{size}" w:space="{space}" w:color="{colour}"/>'
        "</w:pBdr>"
    )


_WHOLE = "<w:keepNext/><w:keepLines/>"
_TEXT_MM = round(A4.text_width)


def _tabs(*stops: tuple[str, int]) -> str:
    return "<w:tabs>" + "".join(f'<w:tab {kind} w:pos="{at}"/>' for kind, at in stops) + "</w:tabs>"


_DOTTED = 'w:val="right" w:leader="dot"'


def _headings() -> tuple[Style, ...]:
    return (
        Style("Heading1", "heading 1", "<w:keepNext/><w:keepLines/>" + _numbered(1)
              + _ruled("bottom", ACCENT, 8, 3) + _space(26, 10, 1.0) + '<w:outlineLvl w:val="0"/>',
              _letters(17, ACCENT), following="NumberedText"),
        Style("Heading2", "heading 2", _WHOLE + _numbered(1, 1) + _space(16, 5, 1.0)
              + '<w:outlineLvl w:val="1"/>', _letters(12.5, INK, bold=True),
              following="NumberedText"),
        Style("Heading3", "heading 3", _WHOLE + _numbered(1, 2) + _space(12, 4, 1.0)
              + '<w:outlineLvl w:val="2"/>', _letters(10.5, INK, slanted=True),
              following="NumberedText"),
        Style("AppendixHeading", "Appendix Heading", _numbered(2), "", based="Heading1",
              following="Unnumbered", own=True),
        Style("TOCHeading", "TOC Heading", '<w:numPr><w:numId w:val="0"/></w:numPr>'
              + _ruled("bottom", ACCENT, 8, 3) + _space(18, 8, 1.0) + '<w:outlineLvl w:val="9"/>',
              "", based="Heading1", following="Normal"),
    )  # fmt: skip


def _text() -> tuple[Style, ...]:
    in_gutter = _indent(GUTTER, GUTTER)
    return (
        Style("Normal", "Normal"),
        Style("Unnumbered", "Unnumbered", _space(0, 6) + _indent(GUTTER), own=True),
        Style("AppendixText", "Appendix Text", _space(0, 6), own=True),
        Style("NumberedText", "Numbered Text", _numbered(3) + _space(0, 6) + in_gutter, own=True),
        Style("Inference", "Inference", _ruled("left", RULE, 18, 8), based="NumberedText",
              own=True),
        Style("Opinion", "Opinion", _ruled("left", ACCENT, 18, 8), based="NumberedText", own=True),
        Style("Caution", "Caution", "<w:keepLines/>" + _ruled("left", ALARM, 18, 8)
              + _space(2, 6) + _indent(GUTTER), _letters(9.5), own=True),
        Style("ListBullet", "List Bullet", _numbered(4) + _space(0, 3)
              + _indent(GUTTER + twips(5), twips(5))),
        Style("Caption", "caption", "<w:keepLines/>" + _space(4, 10, 1.0),
              _letters(9, QUIET)),
        Style("TableCaption", "Table Caption", "<w:keepNext/><w:keepLines/>" + _space(10, 4, 1.0),
              "", based="Caption", own=True),
        Style("PlateHolder", "Plate Holder", _space(6, 0, 1.0), own=True),
        Style("FigureHolder", "Figure Holder", "<w:keepNext/>" + _space(8, 2, 1.0), own=True),
        Style("TableText", "Table Text", _space(1.5, 1.5, 1.0), _letters(8.5), own=True),
        Style("TableHead", "Table Head", "", _letters(8.5, INK, bold=True),
              based="TableText", own=True),
        Style("TableNote", "Table Note", _space(3, 10, 1.0), _letters(8, QUIET), own=True),
        Style("SectionEnd", "Section End", _space(0, 0, 0.1), _letters(1), own=True),
        Style("EndMark", "End Mark", _space(18, 0) + '<w:jc w:val="center"/>',
              _letters(9.5, QUIET), own=True),
    )  # fmt: skip


def _cover() -> tuple[Style, ...]:
    return (
        Style("Title", "Title", _space(90, 6, 1.0), _letters(28, ACCENT), following="Subtitle"),
        Style("Subtitle", "Subtitle", _space(0, 30, 1.1), _letters(14, QUIET)),
        Style("ExhibitStamp", "Exhibit Stamp", "<w:keepNext/>" + _space(0, 8, 1.0)
              + '<w:jc w:val="right"/>', _letters(11, ACCENT, bold=True), own=True),
        Style("ExhibitTitle", "Exhibit Title", "<w:keepNext/>" + _space(0, 6, 1.1)
              + '<w:outlineLvl w:val="0"/>',
              _letters(13), own=True),
        Style("CoverFirm", "Cover Firm", _ruled("bottom", ACCENT, 12, 6) + _space(0, 0, 1.0),
              _letters(11, INK, bold=True), own=True),
        Style("CoverState", "Cover State", _space(0, 18), _letters(13, ALARM, bold=True),
              own=True),
    )  # fmt: skip


def _furniture() -> tuple[Style, ...]:
    right = twips(_TEXT_MM)
    return (
        Style("Header", "header", _tabs(('w:val="right"', right)) + _space(0, 0, 1.0),
              _letters(8, QUIET)),
        Style("Footer", "footer", _ruled("top", RULE, 4, 4) + _tabs(('w:val="right"', right))
              + _space(0, 0, 1.0), _letters(8, QUIET)),
        Style("TOC1", "toc 1", _tabs(('w:val="left"', GUTTER), (_DOTTED, right))
              + _space(4, 1, 1.0) + _indent(GUTTER, GUTTER), _letters(10)),
        Style("TOC2", "toc 2", _tabs(('w:val="left"', STOP_AFTER_NUMBER), (_DOTTED, right))
              + _space(0, 1, 1.0) + _indent(GUTTER + twips(11), twips(11)),
              _letters(9.5, QUIET)),
        Style("TableofFigures", "table of figures", _tabs((_DOTTED, right))
              + _space(0, 2, 1.0) + _indent(twips(18), twips(18)), _letters(9.5)),
        Style("FootnoteText", "footnote text", _space(0, 2, 1.0), _letters(8.5)),
        Style("FootnoteReference", "footnote reference", "", '<w:vertAlign w:val="superscript"/>',
              based="DefaultParagraphFont", kind="character"),
        Style("Hyperlink", "Hyperlink", "", "", based="DefaultParagraphFont", kind="character"),
        Style("Strong", "Strong", "", "<w:b/>", based="DefaultParagraphFont", kind="character"),
        Style("SourceRef", "Source Ref", "", _letters(7.5, QUIET),
              based="DefaultParagraphFont", kind="character", own=True),
        Style("Tag", "Tag", "", _letters(8.5, QUIET, bold=True, more="<w:smallCaps/>"),
              based="DefaultParagraphFont", kind="character", own=True),
        Style("Stale", "Stale", "", _letters(0, ALARM, bold=True),
              based="DefaultParagraphFont", kind="character", own=True),
    )  # fmt: skip


def _borders(**sides: tuple[int, str]) -> str:
    order = ("top", "left", "bottom", "right", "insideH", "insideV")
    return "".join(
        f'<w:{side} w:val="single" w:sz="{sides[side][0]}" w:space="0" w:color="{sides[side][1]}"/>'
        for side in order
        if side in sides
    )


def _cell_margins(x_mm: float) -> str:
    across = twips(x_mm)
    return (
        f'<w:tblCellMar><w:left w:w="{across}" w:type="dxa"/>'
        f'<w:right w:w="{across}" w:type="dxa"/></w:tblCellMar>'
    )


def _tables() -> tuple[Style, ...]:
    plain = f'<w:tblPr><w:tblInd w:w="0" w:type="dxa"/>{_cell_margins(1.4)}</w:tblPr>'
    faint = _borders(insideH=(2, RULE))
    lines = _borders(top=(8, INK), bottom=(8, INK), insideH=(2, RULE))
    ruled = (
        f'<w:tblPr><w:tblInd w:w="0" w:type="dxa"/><w:tblBorders>{lines}</w:tblBorders>'
        f"{_cell_margins(1.4)}</w:tblPr>"
        '<w:tblStylePr w:type="firstRow"><w:tcPr><w:tcBorders>'
        f'{_borders(bottom=(6, INK))}</w:tcBorders><w:shd w:val="clear" w:color="auto" '
        f'w:fill="{WASH}"/><w:vAlign w:val="bottom"/></w:tcPr></w:tblStylePr>'
    )
    return (
        Style("TableNormal", "Normal Table", kind="table", after=plain),
        Style("ReportTable", "Report Table", kind="table", based="TableNormal", own=True,
              after=ruled),
        Style("CoverTable", "Cover Table", kind="table", based="TableNormal", own=True,
              after=f"<w:tblPr><w:tblBorders>{faint}</w:tblBorders></w:tblPr>"),
        Style("PlateTable", "Plate Table", kind="table", based="TableNormal", own=True),
    )  # fmt: skip


def _styles() -> str:
    fonts = f'<w:rFonts w:ascii="{SERIF}" w:hAnsi="{SERIF}" w:eastAsia="{SERIF}" w:cs="{SERIF}"/>'
    defaults = (
        f'<w:docDefaults><w:rPrDefault><w:rPr>{fonts}<w:color w:val="{INK}"/><w:sz w:val="21"/>'
        '<w:szCs w:val="21"/><w:lang w:val="en-GB" w:eastAsia="en-GB" w:bidi="ar-SA"/></w:rPr>'
        '</w:rPrDefault><w:pPrDefault><w:pPr><w:spacing w:after="0" w:line="276" '
        'w:lineRule="auto"/></w:pPr></w:pPrDefault></w:docDefaults>'
    )
    basis = (
        '<w:style w:type="character" w:default="1" w:styleId="DefaultParagraphFont">'
        '<w:name w:val="Default Paragraph Font"/><w:uiPriority w:val="1"/><w:semiHidden/></w:style>'
    )
    styles = (*_text(), *_headings(), *_cover(), *_furniture(), *_tables())
    return (
        f"{DECLARATION}<w:styles {NAMESPACES}>{defaults}{basis}"
        f"{''.join(style.xml() for style in styles)}</w:styles>"
    )


def _level(level: int, form: str, text: str, *, style: str = "", indent: str, letters: str = "",
           gap: str = "tab") -> str:  # fmt: skip
    bound = f'<w:pStyle w:val="{style}"/>' if style else ""
    return (
        f'<w:lvl w:ilvl="{level}"><w:start w:val="1"/><w:numFmt w:val="{form}"/>{bound}'
        f'<w:suff w:val="{gap}"/><w:lvlText w:val="{text}"/><w:lvlJc w:val="left"/>'
        f"<w:pPr>{indent}</w:pPr>{f'<w:rPr>{letters}</w:rPr>' if letters else ''}</w:lvl>"
    )


def _numbering() -> str:
    hanging = _indent(GUTTER, GUTTER)
    texts = ("%1", "%1.%2", "%1.%2.%3")
    wide = _indent(GUTTER + twips(4), GUTTER + twips(4))
    heads = "".join(
        _level(n, "decimal", texts[n], style=f"Heading{n + 1}", indent=wide if n == 2 else hanging)
        for n in range(3)
    )
    appendix = _level(0, "upperLetter", "Appendix %1", style="AppendixHeading",
                      indent=_indent(0), gap="space") + ""  # fmt: skip
    numbers = _level(0, "decimal", "%1", style="NumberedText", indent=hanging,
                     letters=_letters(8, QUIET))  # fmt: skip
    dots = _level(0, "bullet", "–", style="ListBullet",
                  indent=_indent(GUTTER + twips(5), twips(5)))  # fmt: skip
    lists = enumerate((heads, appendix, numbers, dots))
    kinds = ("multilevel", "singleLevel", "singleLevel", "singleLevel")
    abstract = "".join(
        f'<w:abstractNum w:abstractNumId="{n}"><w:multiLevelType w:val="{kinds[n]}"/>'
        f"{levels}</w:abstractNum>"
        for n, levels in lists
    )
    uses = "".join(
        f'<w:num w:numId="{n + 1}"><w:abstractNumId w:val="{n}"/></w:num>' for n in range(4)
    )
    return f"{DECLARATION}<w:numbering {NAMESPACES}>{abstract}{uses}</w:numbering>"


_SETTINGS = (
    f'{DECLARATION}<w:settings {NAMESPACES}><w:zoom w:percent="100"/>'
    '<w:defaultTabStop w:val="720"/><w:characterSpacingControl w:val="doNotCompress"/>'
    "<w:footnotePr>"
    '<w:footnote w:id="-1"/><w:footnote w:id="0"/></w:footnotePr>'
    '<w:compat><w:compatSetting w:name="compatibilityMode" '
    'w:uri="http://schemas.microsoft.com/office/word" w:val="15"/></w:compat>'
    '<w:decimalSymbol w:val="."/><w:listSeparator w:val=","/></w:settings>'
)
_FONTS = (
    f'{DECLARATION}<w:fonts {NAMESPACES}><w:font w:name="{SERIF}"><w:altName w:val="Caladea"/>'
    '<w:panose1 w:val="02040503050406030204"/><w:charset w:val="00"/><w:family w:val="roman"/>'
    '<w:pitch w:val="variable"/></w:font></w:fonts>'
)
_DRAWING = "http://schemas.openxmlformats.org/drawingml/2006/main"
_COLOURS = {
    "dk1": INK, "lt1": "FFFFFF", "dk2": ACCENT, "lt2": WASH, "accent1": ACCENT, "accent2": ALARM,
    "accent3": QUIET, "accent4": "7A5C99", "accent5": "7A6A3A", "accent6": RULE, "hlink": ACCENT,
    "folHlink": QUIET,
}  # fmt: skip


def _theme() -> str:
    colours = "".join(
        f'<a:{name}><a:srgbClr val="{value}"/></a:{name}>' for name, value in _COLOURS.items()
    )
    face = f'<a:latin typeface="{SERIF}"/><a:ea typeface=""/><a:cs typeface=""/>'
    solid = '<a:solidFill><a:schemeClr val="phClr"/></a:solidFill>'
    lines = "".join(f'<a:ln w="{width}">{solid}</a:ln>' for width in (6350, 12700, 19050))
    plain = "<a:effectStyle><a:effectLst/></a:effectStyle>" * 3
    return (
        f'{DECLARATION}<a:theme xmlns:a="{_DRAWING}" name="Report"><a:themeElements>'
        f'<a:clrScheme name="Report">{colours}</a:clrScheme><a:fontScheme name="Report">'
        f"<a:majorFont>{face}</a:majorFont><a:minorFont>{face}</a:minorFont></a:fontScheme>"
        f'<a:fmtScheme name="Report"><a:fillStyleLst>{solid * 3}</a:fillStyleLst>'
        f"<a:lnStyleLst>{lines}</a:lnStyleLst><a:effectStyleLst>{plain}</a:effectStyleLst>"
        f"<a:bgFillStyleLst>{solid * 3}</a:bgFillStyleLst></a:fmtScheme></a:themeElements>"
        "</a:theme>"
    )


_CORE = (
    f'{DECLARATION}<cp:coreProperties xmlns:cp="{_PACKAGE}/metadata/core-properties" '
    'xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:dcterms="http://purl.org/dc/terms/" '
    'xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance"><dc:title>Report</dc:title>'
    "</cp:coreProperties>"
)
_APP = (
    f'{DECLARATION}<Properties xmlns="{_OFFICE}/extended-properties">'
    "<Application>Coating-failure workbench</Application></Properties>"
)

_PARTS = (
    ("word/document.xml", f"{_MAIN}.document.main+xml"),
    ("word/styles.xml", f"{_MAIN}.styles+xml"),
    ("word/numbering.xml", f"{_MAIN}.numbering+xml"),
    ("word/settings.xml", f"{_MAIN}.settings+xml"),
    ("word/fontTable.xml", f"{_MAIN}.fontTable+xml"),
    ("word/footnotes.xml", f"{_MAIN}.footnotes+xml"),
    ("word/theme/theme1.xml", "application/vnd.openxmlformats-officedocument.theme+xml"),
    ("docProps/core.xml", "application/vnd.openxmlformats-package.core-properties+xml"),
    ("docProps/app.xml", "application/vnd.openxmlformats-officedocument.extended-properties+xml"),
)


def _types() -> str:
    parts = "".join(f'<Override PartName="/{name}" ContentType="{kind}"/>' for name, kind in _PARTS)
    return (
        f'{DECLARATION}<Types xmlns="{_PACKAGE}/content-types">'
        '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.'
        'relationships+xml"/><Default Extension="xml" ContentType="application/xml"/>'
        f"{parts}</Types>"
    )


def _relations(*targets: tuple[str, str]) -> str:
    each = "".join(
        f'<Relationship Id="rId{n}" Type="{kind}" Target="{target}"/>'
        for n, (kind, target) in enumerate(targets, 1)
    )
    return f'{DECLARATION}<Relationships xmlns="{_PACKAGE}/relationships">{each}</Relationships>'


def template_bytes() -> bytes:
    """Return the template; the same bytes each time."""
    start = f"{DECLARATION}<w:document {NAMESPACES}><w:body>{section(A4, '')}</w:body></w:document>"
    own = ("styles", "numbering", "settings", "fontTable", "footnotes")
    files = {
        "[Content_Types].xml": _types(),
        "_rels/.rels": _relations(
            (f"{_OFFICE}/relationships/officeDocument", "word/document.xml"),
            (f"{_PACKAGE}/relationships/metadata/core-properties", "docProps/core.xml"),
            (f"{_OFFICE}/relationships/extended-properties", "docProps/app.xml"),
        ),
        "word/_rels/document.xml.rels": _relations(
            *((f"{_OFFICE}/relationships/{name}", f"{name}.xml") for name in own),
            (f"{_OFFICE}/relationships/theme", "theme/theme1.xml"),
        ),
        "word/document.xml": start,
        "word/styles.xml": _styles(),
        "word/numbering.xml": _numbering(),
        "word/settings.xml": _SETTINGS,
        "word/fontTable.xml": _FONTS,
        "word/footnotes.xml": DECLARATION + footnotes(""),
        "word/theme/theme1.xml": _theme(),
        "docProps/core.xml": _CORE,
        "docProps/app.xml": _APP,
    }
    whole = BytesIO()
    with zipfile.ZipFile(whole, "w", zipfile.ZIP_DEFLATED) as package:
        for name, text in files.items():
            package.writestr(zipfile.ZipInfo(name, (1980, 1, 1, 0, 0, 0)), text,
                             zipfile.ZIP_DEFLATED)  # fmt: skip
    return whole.getvalue()


if __name__ == "__main__":
    Path("resources/report/template.docx").write_bytes(template_bytes())
