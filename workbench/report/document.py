"""The whole document: cover, contents and sections set on paper, with its header and footer."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import Any, Literal

from docx.document import Document as WordDocument
from docx.opc.constants import CONTENT_TYPE
from docx.opc.constants import RELATIONSHIP_TYPE as RT
from docx.opc.packuri import PackURI
from docx.opc.part import Part
from docx.oxml import parse_xml

from workbench.report import contents
from workbench.report import wordml as w
from workbench.report.blocks import (
    Block,
    EndMark,
    Figure,
    Heading,
    Paragraph,
    Section,
    Signature,
    Table,
)
from workbench.report.firm import Ground, firm_ground, own_ground
from workbench.report.given import Picture
from workbench.report.numbers import Numbers, numbers_of
from workbench.report.package import custom_properties, save
from workbench.report.setting import Setter

Step = Callable[[int, int], None]


@dataclass(frozen=True, slots=True)
class Imprint:
    """What a document says of itself on its cover, in its footer and in its properties.

    Attributes:
        number: Number of the report; it stands on every page.
        title: What kind of document it is, and about what.
        subtitle: Object and site.
        state: "Draft", "Checked", "Authorised" or "Issued", with its date.
        practice: Name and address of the practice.
        facts: Pairs of label and value for the cover.
        author: Who wrote it.
        moment: When these bytes were made; the issue's own moment for an issued report.
        draft: Whether every page is marked as a draft.
        remarks: Short paragraphs at the foot of the cover.
        language: Language of the text, as "en-GB".
    """

    number: str
    title: str
    subtitle: str
    state: str
    practice: str
    facts: tuple[tuple[str, str], ...]
    author: str
    moment: datetime
    draft: bool = True
    remarks: tuple[str, ...] = ()
    language: str = "en-GB"
    kind: str = "Report"


@dataclass(frozen=True, slots=True)
class Binding:
    """How a document is bound: paper, template, page numbers known, what Word is asked.

    Attributes:
        sheet: The paper; a firm's file brings its own.
        template: A firm's Word file with its styles; the program's own template where None.
        styles: A mapping of our styles to the firm's; see `firm`.
        numbered: Whether the contents have page numbers, for a renderer to count.
        ask_word: Whether Word is asked to compute its fields when it opens the file.
        listed: Which lists follow the contents.
        has_contents: Whether there is a table of contents at all.
    """

    sheet: w.Sheet = w.A4
    template: Path | None = None
    styles: Path | None = None
    numbered: bool = False
    ask_word: bool = True
    listed: tuple[str, ...] = ("Figure", "Table")
    has_contents: bool = True

    def ground(self) -> Ground:
        """Return what the document is set on.

        Raises:
            KnownError: The firm's file or its mapping cannot be used.
        """
        if self.template is None:
            return own_ground(self.sheet)
        return firm_ground(self.template, self.styles)


def write_document(
    imprint: Imprint,
    sections: Sequence[Section],
    path: Path,
    *,
    picture: Picture,
    binding: Binding | None = None,
    step: Step = lambda _done, _whole: None,
) -> Numbers:
    """Write a document and return the numbers in it.

    Args:
        imprint: What the document says of itself.
        sections: Its sections, in order.
        path: Where to; the file appears whole or not at all.
        picture: Gives the file of an original by the name that records use.
        binding: Paper, template and page numbers.
        step: Told after each block how many are done, of how many; may raise to stop.
    """
    bound = binding or Binding()
    numbers = numbers_of(sections)
    ground = bound.ground()
    ground.fit()
    bound = replace(bound, sheet=ground.sheet)
    setter = Setter(ground.document, numbers, picture, bound.sheet)
    setter.drawings = _CLEAR_OF_THE_FIRMS if ground.kept else 0
    furniture = _Furniture(ground, imprint, bound)
    inner = [_cover(imprint, bound), _lists(numbers, bound)]
    turner = _Turner(bound.sheet, furniture)
    inner.extend(_sections(setter, sections, turner, step))
    body = ground.styled(w.DECLARATION + w.body("".join(inner), turner.properties())).encode()
    # the parsed tree is not moved into the document: lxml mends every namespace of it on the way
    parse_xml(body)
    other = _properties(ground.document, imprint, bound)
    notes = ground.styled(_footnotes(setter.footnotes)).encode()
    other |= {"word/document.xml": body, "word/footnotes.xml": notes}
    save(ground.document, path, other)
    return numbers


_CLEAR_OF_THE_FIRMS = 1000
"""Pictures are numbered from here where a firm's header may have some of its own."""


# -- cover and contents


def _cover(imprint: Imprint, bound: Binding) -> str:
    facts = "".join(_fact(label, value, bound) for label, value in imprint.facts if value)
    widths = _fact_widths(bound)
    grid = "".join(f'<w:gridCol w:w="{width}"/>' for width in widths)
    table = (
        f'<w:tbl><w:tblPr><w:tblStyle w:val="CoverTable"/><w:tblW w:w="{sum(widths)}" '
        'w:type="dxa"/><w:tblLayout w:type="fixed"/></w:tblPr>'
        f"<w:tblGrid>{grid}</w:tblGrid>{facts}</w:tbl>"
    )
    state = w.paragraph("CoverState", w.run(imprint.state))
    remarks = "".join(w.paragraph("TableNote", w.run(words)) for words in imprint.remarks)
    return (
        w.paragraph("CoverFirm", w.run(imprint.practice))
        + w.paragraph("Title", w.run(imprint.title))
        + w.paragraph("Subtitle", w.run(imprint.subtitle))
        + state
        + (table if facts else "")
        + w.paragraph("TableNote")
        + remarks
    )


def _fact_widths(bound: Binding) -> tuple[int, int]:
    whole = w.twips(bound.sheet.text_width)
    return whole // 4, whole - whole // 4


def _fact(label: str, value: str, bound: Binding) -> str:
    widths = _fact_widths(bound)
    cells = "".join(
        f'<w:tc><w:tcPr><w:tcW w:w="{width}" w:type="dxa"/></w:tcPr>'
        f"{w.paragraph('TableText', w.run(words, style))}</w:tc>"
        for width, words, style in zip(widths, (label, value), ("SourceRef", ""), strict=True)
    )
    return f"<w:tr><w:trPr><w:cantSplit/></w:trPr>{cells}</w:tr>"


def _lists(numbers: Numbers, bound: Binding) -> str:
    if not bound.has_contents:
        return ""
    new_page = "<w:pageBreakBefore/>"
    parts = [
        w.paragraph("TOCHeading", w.run("Contents"), properties=new_page),
        contents.contents(numbers, numbered=bound.numbered),
    ]
    for name in bound.listed:
        if any(True for _ in numbers.listed(name)):
            parts.append(w.paragraph("TOCHeading", w.run(f"{name}s")))
            parts.append(contents.figures(numbers, name, numbered=bound.numbered))
    return "".join(parts)


# -- sections, upright and on their side


@dataclass(slots=True)
class _Turner:
    """Turns the paper: ends the section at hand when the next block wants the other side."""

    sheet: w.Sheet
    furniture: "_Furniture"
    turned: bool = False
    first: bool = True

    def to(self, *, wide: bool) -> str:
        """Return what ends the section at hand, or nothing where the paper lies right already."""
        if wide == self.turned:
            return ""
        ended = w.section_end(self.properties())
        self.turned, self.first = wide, False
        return ended

    def properties(self) -> str:
        """Return the properties of the section at hand."""
        if self.turned:
            return w.section(self.sheet.landscape, self.furniture.sideways)
        return w.section(self.sheet, self.furniture.upright, first_differs=self.first)


def _sections(
    setter: Setter, sections: Sequence[Section], turner: _Turner, step: Step
) -> Iterator[str]:
    whole = sum(len(section.blocks) + 1 for section in sections)
    done = 0
    for number, section in enumerate(sections):
        setter.appendix = section.appendix
        groups = _by_side(setter, section.blocks)
        turn = turner.to(wide=bool(groups) and groups[0][0])
        first_appendix = section.appendix and not sections[number - 1].appendix
        new_page = not turn and (first_appendix or not section.numbered or number == 0)
        yield turn + setter.title(section, new_page=new_page)
        done += 1
        for wide, blocks in groups:
            yield turner.to(wide=wide)
            following = (block for _, block in (*blocks[1:], (0, None)))
            for (at, block), after in zip(blocks, following, strict=True):
                step(done, whole)
                leads = isinstance(after, Table | Figure)
                yield setter.block(block, section.key, at, wide=wide, leads=leads)
                done += 1
        step(done, whole)


_Placed = tuple[int, Block]


def _by_side(setter: Setter, blocks: Sequence[Block]) -> list[tuple[bool, list[_Placed]]]:
    """Return the blocks in groups, upright and wide by turns.

    Words that lead to a wide block or follow it lie on its page, with the heading over them; so no
    page is left with a few lines of words.
    """
    groups: list[tuple[bool, list[_Placed]]] = []
    for at, block in enumerate(blocks):
        wide = setter.lies_wide(block)
        follows = isinstance(block, Paragraph | Signature | EndMark)
        if groups and (groups[-1][0] == wide or (groups[-1][0] and follows)):
            groups[-1][1].append((at, block))
            continue
        led = _leading(groups[-1][1]) if wide and groups else []
        groups.append((wide, [*led, (at, block)]))
    return [group for group in groups if group[1]]


_MOST_LEADING = 3
"""Paragraphs that may go with a wide block onto its page."""


def _leading(upright: list[_Placed]) -> list[_Placed]:
    """Take from the end of upright blocks the words that lead to what follows, and return them."""
    led: list[_Placed] = []
    while upright and len(led) <= _MOST_LEADING and isinstance(upright[-1][1], Heading | Paragraph):
        led.insert(0, upright.pop())
        if isinstance(led[0][1], Heading) and not (upright and isinstance(upright[-1][1], Heading)):
            return led
    if not upright:
        return led
    upright.extend(led)
    return []


# -- header and footer


_LETTERS_PER_MM, _LARGE_LETTERS_PER_MM = 0.45, 0.27
"""Letters of a title that leave room beside them, in our header and in a firm's larger type."""


def _short(title: str, most: int) -> str:
    """Return a title that leaves the state of the document its room in the header."""
    return title if len(title) <= most else f"{title[: most - 2].rsplit(' ', 1)[0]} …"


_Kind = Literal["header", "footer"]


class _Furniture:
    """Header and footer, upright and on their side; the cover's are the upright ones."""

    def __init__(self, ground: Ground, imprint: Imprint, bound: Binding) -> None:
        self._ground = ground
        self._imprint = imprint
        self._made = _FIRST_FURNITURE
        upright, sideways = bound.sheet.text_width, bound.sheet.landscape.text_width
        self._lined: set[str] = set()
        self.upright = (
            self._reference("header", "default", self._header(upright))
            + self._reference("header", "first", self._header(upright, cover=True))
            + self._reference("footer", "default", self._footer(upright))
            + self._reference("footer", "first", self._footer(upright))
        )
        self.sideways = self._reference(
            "header", "default", self._header(sideways), own=True
        ) + self._reference("footer", "default", self._footer(sideways), own=True)

    def _reference(self, kind: _Kind, place: str, line: str, *, own: bool = False) -> str:
        """Return the reference to a header or footer: the firm's with our line, else ours."""
        held = "" if own else self._ground.kept.get(f"{kind} {place}", "")
        relation = self._with_line(held, line) if held else self._part(kind, line)
        return f'<w:{kind}Reference w:type="{place}" r:id="{relation}"/>'

    def _with_line(self, held: str, line: str) -> str:
        if held not in self._lined:
            self._lined.add(held)
            named = line.replace("<w:p>", f"<w:p {w.NAMESPACES}>", 1)
            part: Any = self._ground.document.part.related_parts[held]
            part.element.append(parse_xml(self._ground.styled(named)))
        return held

    def _header(self, width: float, *, cover: bool = False) -> str:
        state = "DRAFT – not for reliance" if self._imprint.draft else ""
        per_mm = _LARGE_LETTERS_PER_MM if self._ground.styles else _LETTERS_PER_MM
        left = w.run("" if cover else _short(self._imprint.title, int(width * per_mm)))
        inner = (left, w.run("\t"), w.run(state, "Stale"))
        return w.paragraph("Header", *inner, properties=self._tab("Header", width))

    def _footer(self, width: float) -> str:
        inner = (
            w.run(f"{self._imprint.kind} "),
            w.field("DOCPROPERTY ReportNumber", self._imprint.number),
            w.run(f" · {self._imprint.state}\tPage "),
            w.field("PAGE", "1"),
            w.run(" of "),
            w.field("NUMPAGES", contents.NOT_COUNTED),
        )
        return w.paragraph("Footer", *inner, properties=self._tab("Footer", width))

    def _tab(self, style: str, width: float) -> str:
        """Return one tab stop at the right margin, those of the style taken away."""
        right = w.twips(width)
        stops = sorted(at for at in self._ground.stops(style) if at != right)
        cleared = "".join(f'<w:tab w:val="clear" w:pos="{at}"/>' for at in stops)
        return f'<w:tabs>{cleared}<w:tab w:val="right" w:pos="{right}"/></w:tabs>'

    def _part(self, kind: _Kind, xml: str) -> str:
        self._made += 1
        tag, content_type, relation = _FURNITURE[kind]
        whole = self._ground.styled(f"<w:{tag} {w.NAMESPACES}>{xml}</w:{tag}>")
        document = self._ground.document
        name = PackURI(f"/word/{kind}{self._made}.xml")
        part = Part(name, content_type, whole.encode(), document.part.package)
        return document.part.relate_to(part, relation)


_FIRST_FURNITURE = 100
"""Headers and footers are numbered from here, clear of those of a firm's file."""
_FURNITURE = {
    "header": ("hdr", CONTENT_TYPE.WML_HEADER, RT.HEADER),
    "footer": ("ftr", CONTENT_TYPE.WML_FOOTER, RT.FOOTER),
}


# -- properties and footnotes


def _properties(document: WordDocument, imprint: Imprint, bound: Binding) -> dict[str, bytes]:
    """Say what the document is, in its properties; return the parts that hold other ones."""
    core = document.core_properties
    core.title, core.author = w.clean(imprint.title)[:255], w.clean(imprint.author)[:255]
    core.subject, core.identifier = w.clean(imprint.subtitle)[:255], imprint.number[:255]
    core.last_modified_by, core.comments, core.keywords = core.author, "", ""
    core.created = core.modified = imprint.moment.replace(microsecond=0)
    core.language, core.content_status, core.revision = imprint.language, imprint.state[:255], 1
    for language in document.styles.element.iter(f"{{{w.W}}}lang"):
        language.set(f"{{{w.W}}}val", imprint.language)
    if bound.ask_word:
        _ask_word(document)
    return custom_properties(
        document, {"ReportNumber": imprint.number, "ReportState": imprint.state}
    )


_AFTER_UPDATE = ("hdrShapeDefaults", "footnotePr", "endnotePr", "compat", "rsids", "themeFontLang",
                 "clrSchemeMapping", "decimalSymbol", "listSeparator")  # fmt: skip


def _ask_word(document: WordDocument) -> None:
    """Have Word ask whether to compute its fields; the place is the schema's."""
    settings = document.settings.element
    asked = parse_xml(f'<w:updateFields {w.NAMESPACES} w:val="true"/>')
    following = (settings.find(f"{{{w.W}}}{name}") for name in _AFTER_UPDATE)
    before = next((one for one in following if one is not None), None)
    if before is None:
        settings.append(asked)
    else:
        before.addprevious(asked)


def _footnotes(notes: Sequence[str]) -> str:
    each = "".join(
        f'<w:footnote w:id="{number}">'
        + w.paragraph(
            "FootnoteText",
            '<w:r><w:rPr><w:rStyle w:val="FootnoteReference"/></w:rPr><w:footnoteRef/></w:r>',
            w.run(f" {words}"),
        )
        + "</w:footnote>"
        for number, words in enumerate(notes, 1)
    )
    return w.DECLARATION + w.footnotes(each)


def with_end(sections: Sequence[Section], number: str, kind: str = "report") -> tuple[Section, ...]:
    """Return the sections with the one end mark after the last block."""
    *others, last = sections
    mark = EndMark(f"— End of {kind} {number} —")
    return (*others, replace(last, blocks=(*last.blocks, mark)))
