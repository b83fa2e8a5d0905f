"""Setting type: each block of a report becomes a piece of WordprocessingML."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from docx.document import Document as WordDocument
from docx.opc.constants import RELATIONSHIP_TYPE as RT
from docx.opc.packuri import PackURI
from docx.opc.part import Part

from workbench.report import wordml as w
from workbench.report.blocks import (
    Block,
    Column,
    EndMark,
    ExhibitPage,
    Figure,
    Heading,
    Paragraph,
    Plate,
    Plates,
    Section,
    Signature,
    Table,
    Voice,
)
from workbench.report.given import Picture
from workbench.report.numbers import Numbers
from workbench.report.pictures import PictureError, Prepared, draw_png, fitted, prepare_photo
from workbench.report.refs import in_short
from workbench.report.text import Footnote, See, Text, Value, Words, plain, sources_of
from workbench.report.widths import column_widths, lies_on_its_side, lines_of_rows
from workbench.report.wording import NO_BREAK, unparted

MARKS = {"supplied": "†", "outside": "‡"}
"""Marks of a fact supplied by others and of a result from an outside laboratory."""
_VOICES = {
    Voice.FACT: "NumberedText", Voice.INFERENCE: "Inference", Voice.OPINION: "Opinion",
    Voice.PLAIN: "Unnumbered", Voice.CAUTION: "Caution", Voice.ITEM: "ListBullet",
}  # fmt: skip
_TAGS = {Voice.INFERENCE: "Inference", Voice.OPINION: "Opinion", Voice.CAUTION: "Caution"}
_PLATE_MM = (76.0, 62.0)
_FROM = "From"
_LINES_KEPT_TOGETHER = 14
_SHORT_VALUE = 16


@dataclass(slots=True)
class Setter:
    """What is carried along while a document is set."""

    document: WordDocument
    numbers: Numbers
    picture: Picture
    sheet: w.Sheet
    appendix: bool = False
    footnotes: list[str] = field(default_factory=list)
    drawings: int = 0
    _held: dict[bytes, str] = field(default_factory=dict)

    def block(
        self, block: Block, section: str, at: int, *, wide: bool = False, leads: bool = False
    ) -> str:
        """Return a block as XML; `section` and `at` say where it stands, `leads` what follows.

        Words that lead to a table or a figure stay on its page.
        """
        if isinstance(block, Paragraph):
            return self._paragraph(block, leads=leads)
        if isinstance(block, Table):
            return self._table(block, wide=wide)
        if isinstance(block, Figure):
            return self._figure(block, wide=wide)
        if isinstance(block, Plates):
            return self._plates(block)
        if isinstance(block, ExhibitPage):
            return self._exhibit(block)
        return self._of_words(block, f"{section} {at}")

    def _of_words(self, block: Heading | Signature | EndMark, place: str) -> str:
        if isinstance(block, Heading):
            section, _, at = place.rpartition(" ")
            return self._heading(block, f"heading {section} {block.key or at}")
        if isinstance(block, Signature):
            return _signature(block)
        return w.paragraph("EndMark", w.run(block.words))

    def title(self, section: Section, *, new_page: bool) -> str:
        """Return the heading of a section, and what leads it."""
        target = self.numbers.targets[f"section {section.key}"]
        inner = w.bookmark(target.bookmark, target.id, w.run(section.title))
        break_ = "<w:pageBreakBefore/>" if new_page else ""
        if not section.numbered:
            lead = w.paragraph("ExhibitStamp", w.run(section.lead), properties=break_)
            return lead + w.paragraph("ExhibitTitle", inner)
        if section.appendix:
            lead_in = w.bookmark(target.bookmark, target.id, w.run(f"  {section.title}"))
            return w.paragraph("AppendixHeading", lead_in, properties=break_)
        return w.paragraph("Heading1", inner, properties=break_)

    # -- words

    def words(self, whole: str | Text, style: str = "") -> str:
        """Return a text as runs."""
        if isinstance(whole, str):
            return w.run(unparted(whole), style)
        return "".join(self._piece(piece, style) for piece in whole)

    def _piece(self, piece: Words | Value | See | Footnote, style: str) -> str:
        if isinstance(piece, Words):
            return w.run(unparted(piece.text), "Strong" if piece.strong else style)
        if isinstance(piece, Value):
            if not piece.shown:
                return w.run(f"[no such number: {piece.name}]", "Stale")
            return w.run(_whole(piece.shown), style) + _raised(MARKS.get(piece.outside, ""))
        if isinstance(piece, Footnote):
            self.footnotes.append(piece.text)
            return w.footnote_mark(len(self.footnotes))
        target = self.numbers.targets.get(piece.key)
        if target is None:
            return w.run(self.numbers.label(piece.key), "Stale")
        return (
            w.field(f"REF {target.bookmark} \\h", target.label)
            if _has_label(target.list)
            else (_section_reference(target.bookmark, target.label))
        )

    def _heading(self, block: Heading, key: str) -> str:
        target = self.numbers.targets[key]
        inner = w.bookmark(target.bookmark, target.id, w.run(block.words))
        plain = '<w:numPr><w:ilvl w:val="0"/><w:numId w:val="0"/></w:numPr>'
        about = f'{plain}<w:ind w:left="0" w:firstLine="0"/>' if self.appendix else ""
        return w.paragraph(f"Heading{block.level}", inner, properties=about)

    def _paragraph(self, block: Paragraph, *, leads: bool) -> str:
        style = _VOICES[block.voice]
        if self.appendix and block.voice in (Voice.FACT, Voice.PLAIN):
            style = "AppendixText"
        tag = _TAGS.get(block.voice, "")
        lead = w.run(f"{tag}  ", "Tag") if tag else ""
        stale = w.run(f"[Check: {block.stale}] ", "Stale") if block.stale else ""
        sources = dict.fromkeys((*block.sources, *sources_of(block.text)))
        refs = w.run(f"  [{in_short(tuple(sources))}]", "SourceRef") if sources else ""
        kept = w.KEEP_WITH_NEXT if leads or plain(block.text).endswith(":") else ""
        return w.paragraph(style, lead, stale, self.words(block.text), refs, properties=kept)

    # -- tables

    def lies_wide(self, block: Block) -> bool:
        """Return whether a block needs a page on its side."""
        if isinstance(block, Table) and block.turns and not block.wide:
            heads, refs = self._heads(block), self._refs(block)
            said = list(self._as_set(block, refs))
            widths = (self.sheet.text_width, self.sheet.landscape.text_width)
            return lies_on_its_side(heads, said, *widths)
        return isinstance(block, Table | Figure | ExhibitPage) and block.wide

    def _heads(self, block: Table) -> list[str]:
        return [column.heading for column in block.columns] + ([_FROM] if block.traced else [])

    def _refs(self, block: Table) -> list[str]:
        return [in_short(row.sources, most=3) if block.traced else "" for row in block.rows]

    def _table(self, block: Table, *, wide: bool) -> str:
        key = f"table {block.key}"
        sheet = self.sheet.landscape if wide else self.sheet
        heads, refs = self._heads(block), self._refs(block)
        numeric = [column.numeric for column in block.columns] + ([False] if block.traced else [])
        widths = self._widths(heads, block, refs, sheet)
        room = [width / w.TWIPS_PER_MM for width in widths]
        lines = sum(lines_of_rows(self._as_set(block, refs), room))
        grid = w.Grid(
            widths=widths,
            numeric=tuple(numeric),
            caption=self.numbers.label(key) if block.numbered else block.caption,
            description=block.caption,
            together=lines <= _LINES_KEPT_TOGETHER,
            noted=bool(block.note),
        )
        rows = [
            [self._cell(cell, of) for cell, of in zip(row.cells, block.columns, strict=True)]
            + ([w.run(ref, "SourceRef")] if block.traced else [])
            for row, ref in zip(block.rows, refs, strict=True)
        ]
        note = self.words(block.note) if block.note else ""
        alone = w.paragraph("TableCaption", self.words(block.caption))
        return (
            (self._caption("TableCaption", key, block.caption) if block.numbered else alone)
            + w.table(grid, [w.run(head) for head in heads], rows)
            + w.paragraph("TableNote", note)
        )

    def _cell(self, cell: str | Text, of: Column) -> str:
        return self.words(_whole(cell) if isinstance(cell, str) and of.numeric else cell)

    def _as_set(self, block: Table, refs: Sequence[str]) -> Iterator[list[str]]:
        """Return the words of each row as they are set, with what may not be parted joined."""
        for row, ref in zip(block.rows, refs, strict=True):
            said = (self._as_printed(cell) for cell in row.cells)
            yield [
                _whole(words) if of.numeric else words
                for words, of in zip(said, block.columns, strict=True)
            ] + ([ref] if ref else [])

    def _as_printed(self, cell: str | Text) -> str:
        if isinstance(cell, str):
            return unparted(cell)
        return "".join(
            _whole(piece.shown)
            if isinstance(piece, Value)
            else unparted(plain((piece,), self.numbers.label))
            for piece in cell
        )

    def _widths(
        self, heads: Sequence[str], block: Table, refs: Sequence[str], sheet: w.Sheet
    ) -> tuple[int, ...]:
        said = self._as_set(block, refs)
        widths = [w.twips(mm) for mm in column_widths(heads, said, sheet.text_width)]
        widths[-1] += w.twips(sheet.text_width) - sum(widths)
        return tuple(widths)

    def _caption(self, style: str, key: str, words: str | Text, refs: str = "") -> str:
        target = self.numbers.targets[key]
        label = w.bookmark(
            target.bookmark,
            target.id,
            w.run(f"{target.list} ", "Strong")
            + w.field(f"SEQ {target.list} \\* ARABIC", target.number, style="Strong"),
        )
        source = w.run(f"  [{refs}]", "SourceRef") if refs else ""
        return w.paragraph(style, label, w.run(".  "), self.words(words), source)

    # -- pictures

    def _figure(self, block: Figure, *, wide: bool) -> str:
        sheet = self.sheet.landscape if wide else self.sheet
        box = (sheet.text_width, sheet.text_height - 30)
        scale = min(1.0, box[0] / block.size_mm[0], box[1] / block.size_mm[1])
        size = (block.size_mm[0] * scale, block.size_mm[1] * scale)
        image = self._image(draw_png(block.draw, block.size_mm), size, block.alt)
        caption = self._caption(
            "Caption", f"figure {block.key}", block.caption, in_short(block.sources, most=6)
        )
        return w.paragraph("FigureHolder", image) + caption

    def _plates(self, block: Plates) -> str:
        half = w.twips(self.sheet.text_width) // 2
        cells = [self._plate(plate, half) for plate in block.plates]
        empty = f'<w:tc><w:tcPr><w:tcW w:w="{half}" w:type="dxa"/></w:tcPr><w:p/></w:tc>'
        if len(cells) % 2:
            cells.append(empty)
        rows = "".join(
            f"<w:tr><w:trPr><w:cantSplit/></w:trPr>{left}{right}</w:tr>"
            for left, right in zip(cells[::2], cells[1::2], strict=True)
        )
        return (
            '<w:tbl><w:tblPr><w:tblStyle w:val="PlateTable"/>'
            f'<w:tblW w:w="{2 * half}" w:type="dxa"/><w:tblLayout w:type="fixed"/>'
            '<w:tblLook w:val="0000" w:firstRow="0" w:lastRow="0" w:firstColumn="0" '
            'w:lastColumn="0" w:noHBand="1" w:noVBand="1"/></w:tblPr>'
            f'<w:tblGrid><w:gridCol w:w="{half}"/><w:gridCol w:w="{half}"/></w:tblGrid>{rows}'
            f"</w:tbl>{w.paragraph('TableNote')}"
        )

    def _plate(self, plate: Plate, width: int) -> str:
        try:
            prepared = self._photo(plate)
        except PictureError as wrong:
            shown = w.run(f"[{plate.ref}: {wrong}]", "Stale")
            done: tuple[str, ...] = ()
        else:
            size = fitted(prepared.size_px, _PLATE_MM)
            shown, done = self._image(prepared, size, plate.alt), prepared.done
        treated = "; ".join(part for part in (plate.treatment, *done) if part)
        words = f"{plate.caption} ({treated})" if treated else plate.caption
        caption = self._caption("Caption", f"photo {plate.ref}", words, plate.ref)
        return (
            f'<w:tc><w:tcPr><w:tcW w:w="{width}" w:type="dxa"/></w:tcPr>'
            f"{w.paragraph('PlateHolder', shown)}{caption}</w:tc>"
        )

    def _exhibit(self, page: ExhibitPage) -> str:
        """Return one page of an exhibit; it starts a page of its own."""
        parts = []
        if page.stamp:
            new_page = "<w:pageBreakBefore/>"
            parts.append(w.paragraph("ExhibitStamp", w.run(page.stamp), properties=new_page))
        if page.legend:
            parts.append(w.paragraph("Caution", w.run(page.legend, "Strong")))
        lines = list(page.lines)
        if page.image:
            try:
                prepared = page.image()
            except PictureError as wrong:
                lines.insert(0, f"Cannot be shown: {wrong}.")
            else:
                box = (self.sheet.text_width, self.sheet.text_height - 62)
                size = fitted(prepared.size_px, box)
                parts.append(w.paragraph("PlateHolder", self._image(prepared, size, page.alt)))
                done = "; ".join(prepared.done) or "nothing but the removal of metadata"
                told = f"Done to this copy: {done}. The original is unchanged since import."
                lines.append(page.drawn or told)
        if page.table:
            parts.append(self._plain_table(page.table, wide=page.wide))
        parts += [w.paragraph("TableNote", w.run(line)) for line in lines]
        return "".join(parts)

    def _plain_table(self, block: Table, *, wide: bool) -> str:
        sheet = self.sheet.landscape if wide else self.sheet
        heads = [column.heading for column in block.columns]
        widths = self._widths(heads, block, [""] * len(block.rows), sheet)
        numeric = tuple(column.numeric for column in block.columns)
        grid = w.Grid(widths, numeric, block.caption, block.caption)
        rows = [
            [self._cell(cell, of) for cell, of in zip(row.cells, block.columns, strict=True)]
            for row in block.rows
        ]
        return w.table(grid, [w.run(head) for head in heads], rows)

    def _photo(self, plate: Plate) -> Prepared:
        path = self.picture(plate.file)
        if path is None:
            raise PictureError("the picture is not among the originals of the case")
        return prepare_photo(path)

    def _image(self, prepared: Prepared, size_mm: tuple[float, float], alt: str) -> str:
        self.drawings += 1
        name = f"Picture {self.drawings}"
        relation = self._relation(prepared)
        return w.picture(relation, self.drawings, size_mm, name=name, alt=alt)

    def _relation(self, prepared: Prepared) -> str:
        """Return the relation to a picture, taken in once however often it is shown."""
        if prepared.blob not in self._held:
            kind = "image/jpeg" if prepared.ending == "jpg" else "image/png"
            number = len(self._held) + 1
            name = PackURI(f"/word/media/picture{number}.{prepared.ending}")
            part = Part(name, kind, prepared.blob, self.document.part.package)
            self._held[prepared.blob] = f"rIdPicture{number}"
            self.document.part.rels.add_relationship(RT.IMAGE, part, self._held[prepared.blob])
        return self._held[prepared.blob]


def _whole(value: str) -> str:
    """Return a value so that no line ends inside it, or inside none of its parts if it is long."""
    return value.replace(" ", NO_BREAK) if len(value) < _SHORT_VALUE else unparted(value)


def _has_label(listed: str) -> bool:
    return listed in ("Figure", "Table", "Plate")


def _section_reference(bookmark: str, label: str) -> str:
    """Return "Section 5" as a word and the number of the heading as a field."""
    word, _, number = label.partition(" ")
    if word == "Appendix":
        return w.field(f"REF {bookmark} \\r \\h", label)
    if word == "Section" and number:
        return w.run("Section ") + w.field(f"REF {bookmark} \\r \\h", number)
    return w.field(f"REF {bookmark} \\h", label)


def _raised(mark: str) -> str:
    return w.run(mark, properties='<w:vertAlign w:val="superscript"/>') if mark else ""


def _signature(block: Signature) -> str:
    line = "_" * 38
    kept = "<w:keepNext/><w:keepLines/>"
    over = "".join(w.paragraph("Unnumbered", w.run(one), properties=kept) for one in block.over)
    return over + "".join(
        w.paragraph("Unnumbered", w.run(words), properties=kept)
        for words in (
            f"\nSigned\t{line}", f"Name\t{block.name or line}",
            f"Role\t{block.role or line}", f"Date\t{line}",
        )
    )  # fmt: skip
