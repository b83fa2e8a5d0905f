"""What a report is made of before it is paper: headings, paragraphs, tables, figures, plates.

Blocks are values, so that the same report can be written to Word, checked for statements without
a source, shown on a screen, and compared with an earlier edition.
"""

from collections.abc import Callable, Collection
from dataclasses import dataclass
from enum import StrEnum

from matplotlib.figure import Figure as Drawing

from workbench.records import Source
from workbench.report.pictures import Prepared
from workbench.report.text import Text


class Voice(StrEnum):
    """How a paragraph speaks; facts, inferences and opinions never share one."""

    FACT = "fact"
    INFERENCE = "inference"
    OPINION = "opinion"
    PLAIN = "plain"
    """Words of the report about itself: what it is, how to read it."""
    CAUTION = "caution"
    ITEM = "item"


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading; `level` 2 or 3 (a section brings its own at level 1)."""

    level: int
    words: str
    key: str = ""


@dataclass(frozen=True, slots=True)
class Paragraph:
    """One paragraph.

    Attributes:
        text: What it says.
        voice: How it speaks.
        sources: Records it rests on, besides those of the values in its text.
        stale: What changed since a person wrote it; empty while it stands.
        name: What an edit refers to; empty for words that are not edited.
        edited_by: Who put their own words in the place of the draft.
    """

    text: Text
    voice: Voice = Voice.FACT
    sources: tuple[Source, ...] = ()
    stale: str = ""
    name: str = ""
    edited_by: str = ""


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a table: its heading, and whether it holds numbers."""

    heading: str
    numeric: bool = False


def headed(*heads: str, numbers: Collection[str] = ()) -> tuple[Column, ...]:
    """Return columns by their headings; those named in `numbers` hold numbers."""
    return tuple(Column(head, numeric=head in numbers) for head in heads)


@dataclass(frozen=True, slots=True)
class Row:
    """One row of a table, with the records that it says."""

    cells: tuple[str | Text, ...]
    sources: tuple[Source, ...] = ()


@dataclass(frozen=True, slots=True)
class Table:
    """A table with its caption above.

    Attributes:
        key: What a cross reference calls it.
        caption: What it shows.
        columns: Its columns.
        rows: Its rows.
        note: What stands in small type under it.
        wide: Whether it needs a page on its side.
        turns: Whether it may lie on its side: it does where it has no room upright.
        traced: Whether a last column says where each row comes from, because the row itself does
            not begin with a ref.
        numbered: Whether it counts among the tables; else its caption stands alone.
    """

    key: str
    caption: str
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    note: str | Text = ""
    wide: bool = False
    turns: bool = False
    traced: bool = False
    numbered: bool = True


@dataclass(frozen=True, slots=True)
class Figure:
    """A drawn figure with its caption below.

    Attributes:
        key: What a cross reference calls it.
        caption: What it shows.
        alt: What it shows, for a reader who cannot see it.
        draw: Draws it on a bare figure.
        size_mm: Width and height on paper.
        sources: Records it shows.
        wide: Whether it needs a page on its side.
    """

    key: str
    caption: str
    alt: str
    draw: Callable[[Drawing], object]
    size_mm: tuple[float, float] = (160.0, 95.0)
    sources: tuple[Source, ...] = ()
    wide: bool = False


@dataclass(frozen=True, slots=True)
class Plate:
    """A photograph as it is shown: which original, what to say of it, what was done to it."""

    ref: str
    file: str
    caption: str
    alt: str
    source: Source
    treatment: str = ""


@dataclass(frozen=True, slots=True)
class Plates:
    """Photographs, two side by side, each with its own caption."""

    plates: tuple[Plate, ...]


@dataclass(frozen=True, slots=True)
class ExhibitPage:
    """One page of an exhibit, on a page of its own.

    Attributes:
        stamp: Number of the exhibit, its page, and the running page number; empty for its first
            page, which the section leads.
        legend: What must stand on every page of it; empty for nothing.
        lines: Caption, source, digest, and what was done to the picture.
        image: Gives the picture ready for print; None for a page of a table or without one.
        drawn: What is said of a drawing in the place of what was done to a copy.
        alt: Words for those who cannot see it.
        table: The part of a table on this page.
    """

    stamp: str
    legend: str
    lines: tuple[str, ...]
    image: Callable[[], Prepared] | None = None
    drawn: str = ""
    alt: str = ""
    table: Table | None = None

    @property
    def wide(self) -> bool:
        """Whether it needs a page on its side."""
        return self.table is not None and self.table.wide


@dataclass(frozen=True, slots=True)
class Signature:
    """Lines for a name, a signature and a date by hand, and what stands over them.

    Attributes:
        name: Who signs; empty for a line.
        role: As what.
        over: Sentences that stay on the page of the signature.
    """

    name: str
    role: str
    over: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class EndMark:
    """The one mark at the end of the document."""

    words: str


Block = Heading | Paragraph | Table | Figure | Plates | ExhibitPage | Signature | EndMark


@dataclass(frozen=True, slots=True)
class Section:
    """A section of the report.

    Attributes:
        key: What the section is called in edited texts and cross references.
        title: Its heading.
        blocks: What stands in it.
        appendix: Whether it is lettered as an appendix.
        short: Whether the short form has it.
        numbered: Whether its heading carries a number.
        lead: What stands over its heading, at the right; it starts a page.
    """

    key: str
    title: str
    blocks: tuple[Block, ...]
    appendix: bool = False
    short: bool = True
    numbered: bool = True
    lead: str = ""
