"""The exhibit book: register, then every exhibit on pages of its own with its page numbers."""

import io
import textwrap
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Any

import matplotlib.image as images
from matplotlib.figure import Figure as Drawing

from workbench.records import Exhibit, KnownError, PhotoMark, Source
from workbench.report.blocks import ExhibitPage, Row, Section, Table
from workbench.report.document import Binding, Imprint, Step, with_end, write_document
from workbench.report.draft import Draft
from workbench.report.exhibits import Shown, in_order, register, shown
from workbench.report.marked import with_marks
from workbench.report.pictures import PictureError, Prepared, draw_png, prepare_photo
from workbench.report.refs import in_short
from workbench.report.text import plain as in_words
from workbench.report.text import sources_of
from workbench.report.widths import column_widths, lies_on_its_side, lines_of_rows
from workbench.report.wording import day
from workbench.report.wordml import A4

_AROUND_TABLE_MM, _LINE_MM, _ROW_MM = 75.0, 4.6, 1.6
_PHOTO_PX = 2400
_FIGURE_DPI = 300


def pages_of(one: Shown) -> int:
    """Return how many pages an exhibit takes in the book."""
    if one.table:
        return len(_parts(one.table))
    return one.exhibit.pages or 1


def _parts(table: Table) -> tuple[Table, ...]:
    """Return a table page by page; a page is filled with care, never over."""
    cells = [[in_words(cell) for cell in row.cells] for row in table.rows]
    heads = [column.heading for column in table.columns]
    sides = (A4.text_width, A4.landscape.text_width)
    wide = table.wide or (table.turns and lies_on_its_side(heads, cells, *sides))
    sheet = A4.landscape if wide else A4
    room = sheet.text_height - _AROUND_TABLE_MM
    parts: list[list[Row]] = [[]]
    used = 0.0
    lines = lines_of_rows(cells, column_widths(heads, cells, sheet.text_width))
    for row, count in zip(table.rows, lines, strict=True):
        height = count * _LINE_MM + _ROW_MM
        if used + height > room and parts[-1]:
            parts.append([])
            used = 0.0
        parts[-1].append(row)
        used += height
    return tuple(replace(table, rows=tuple(part), wide=wide) for part in parts)


def image_of(draft: Draft, one: Shown) -> Prepared:
    """Return the picture of an exhibit ready for print, with the marks of a photograph.

    Raises:
        PictureError: It cannot be shown; the text says why.
    """
    if one.figure:
        return draw_png(one.figure.draw, one.figure.size_mm, _FIGURE_DPI)
    path = draft.picture(one.file)
    if path is None:
        raise PictureError("the picture is not among the originals of the case")
    ref = one.exhibit.of.partition(" ")[2]
    marks = [mark for mark in draft.dossier.all(PhotoMark) if mark.photo == ref]
    return with_marks(prepare_photo(path, _PHOTO_PX), marks)


def book_sections(draft: Draft, sections: Sequence[Section]) -> tuple[Section, ...]:
    """Return the exhibit book: the register, then a section for each exhibit shown."""
    told = (shown(draft, one, sections) for one in in_order(draft.dossier.all(Exhibit)))
    listed = replace(register(draft, sections), note=_ABOUT_NUMBERS)
    first = Section("register", "Register of exhibits", (listed,))
    seen: Counter[str] = Counter()
    following = []
    for one in told:
        section = _section(draft, one)
        seen[section.key] += 1
        again = seen[section.key]
        following.append(replace(section, key=f"{section.key} {again}") if again > 1 else section)
    return (first, *following)


_ABOUT_NUMBERS = (
    "Numbers are given once: an exhibit withdrawn keeps its number and stands here as withdrawn. "
    "Page numbers are stamped on these copies, never on an original. A digest (SHA-256) lets "
    "anyone compare an original with what was shown."
)


def _section(draft: Draft, one: Shown) -> Section:
    pages = tuple(_pages(draft, one))
    title = f"Exhibit {one.exhibit.ref}: {one.title}"
    lead = stamp_of(one.exhibit, 0, len(pages))
    return Section(one.exhibit.ref, title, pages, numbered=False, lead=lead)


def _pages(draft: Draft, one: Shown) -> Iterator[ExhibitPage]:
    parts: tuple[Table | None, ...] = _parts(one.table) if one.table else (None,)
    printed = (bool(one.figure) or one.is_picture) and not one.missing
    for number, part in enumerate(parts):
        last = number == len(parts) - 1
        yield ExhibitPage(
            stamp_of(one.exhibit, number, len(parts)) if number else "",
            one.legend,
            lines_of(one) if last else (),
            partial(image_of, draft, one) if printed else None,
            drawn=_DRAWN if one.figure else "",
            alt=f"Exhibit {one.exhibit.ref}: {one.title}. {' '.join(one.about)}",
            table=part,
        )


def stamp_of(exhibit: Exhibit, number: int, whole: int) -> str:
    """Return what is stamped on one page of an exhibit."""
    page = f", page {number + 1} of {whole}" if whole > 1 else ""
    return "   ".join(filter(None, (f"Exhibit {exhibit.ref}{page}", page_number(exhibit, number))))


def page_number(exhibit: Exhibit, number: int) -> str:
    """Return the running number of one page, such as "NH000012"; empty where none is given."""
    first = exhibit.first_page
    digits = first[len(first.rstrip("0123456789")) :]
    if not digits:
        return ""
    return f"{first[: -len(digits)]}{int(digits) + number:0{len(digits)}d}"


def lines_of(one: Shown) -> tuple[str, ...]:
    """Return what is printed under an exhibit."""
    kind = f"Offered as: {one.exhibit.kind.value.replace('_', ' ')}."
    source = f"Source: {_source(one)}."
    digest = f"SHA-256 of the original: {one.sha256}." if one.sha256 else ""
    kept = (
        "The file itself is kept with the case and served beside this book."
        if one.file and not one.is_picture
        else ""
    )
    missing = f"It cannot be shown: {one.missing}." if one.missing else ""
    note = in_words(one.table.note) if one.table else ""
    return tuple(filter(None, (note, *one.about, kind, source, digest, kept, missing)))


def _source(one: Shown) -> str:
    """Return what an exhibit shows; a summary or a drawing names the records behind it."""
    if one.figure:
        return f"figure of the report, drawn from {_behind(one.figure.sources)}"
    if one.table:
        cells = (sources_of(cell) for row in one.table.rows for cell in row.cells)
        rows = (row.sources for row in one.table.rows)
        behind = dict.fromkeys(source for some in (*rows, *cells) for source in some)
        return f"table of the report, summing up {_behind(behind)}"
    return one.exhibit.of


def _behind(sources: Iterable[Source]) -> str:
    return in_short(sources, most=24) or "the case file"


_DRAWN = "It was drawn for this book from the records named and is no copy of an original."


def write_book(
    draft: Draft,
    sections: Sequence[Section],
    path: Path,
    binding: Binding,
    step: Step = lambda _done, _whole: None,
) -> None:
    """Write the exhibit book as a Word document."""
    setup, dossier = draft.setup, draft.dossier
    imprint = Imprint(
        number=f"{dossier.entry('reference') or 'case'}-exhibits",
        title="Exhibit book",
        subtitle=dossier.entry("title"),
        state=f"Written {day(setup.moment)}",
        practice=draft.practice or "Practice not recorded",
        facts=(("Case", dossier.entry("reference")), ("Prepared for", dossier.entry("client"))),
        author=draft.author or "not recorded",
        moment=setup.moment,
        draft=False,
        kind="Exhibits",
    )
    whole = with_end(book_sections(draft, sections), imprint.number, "exhibits")
    write_document(imprint, whole, path, picture=draft.picture, binding=binding, step=step)


# -- one exhibit alone


_A4_IN = (8.27, 11.69)


def write_single(draft: Draft, one: Shown, path: Path) -> None:
    """Write one exhibit as a page of its own: PNG with 300 dots to the inch, or PDF.

    Raises:
        KnownError: It is neither a picture nor a figure, or cannot be shown.
    """
    if one.missing or not (one.figure or one.is_picture):
        why = one.missing or "it is no picture and no figure; the exhibit book has it"
        raise KnownError(f"exhibit {one.exhibit.ref} has no page of its own: {why}")
    if path.suffix.lower() not in (".png", ".pdf"):
        raise KnownError(f"{path}: a single exhibit is a PNG or a PDF; end its name so")
    page = _page(one, image_of(draft, one))
    kind = path.suffix[1:].lower()
    clean = {"Software": None} if kind == "png" else {"Creator": None, "CreationDate": None}
    page.savefig(path, format=kind, dpi=_FIGURE_DPI, metadata=clean)


def _page(one: Shown, prepared: Prepared) -> Drawing:
    page = Drawing(figsize=_A4_IN, facecolor="white")
    font: dict[str, Any] = {"family": "serif", "color": "#22262B"}
    page.text(0.92, 0.955, stamp_of(one.exhibit, 0, 1), ha="right", fontsize=12,
              weight="bold", family="serif", color="#1F5F7A")  # fmt: skip
    page.text(0.08, 0.925, textwrap.fill(one.title, 70), va="top", fontsize=13, **font)
    axes = page.add_axes((0.08, 0.3, 0.84, 0.57))
    axes.imshow(images.imread(io.BytesIO(prepared.blob), format=_format(prepared)))
    axes.set_axis_off()
    axes.set_anchor("N")
    done = "; ".join(prepared.done) or "nothing but the removal of metadata"
    told = f"Done to this copy: {done}. The original is unchanged since import."
    lines = [one.legend, *lines_of(one), _DRAWN if one.figure else told]
    words = "\n".join(textwrap.fill(line, 98) for line in lines if line)
    page.text(0.08, 0.28, words, va="top", fontsize=8.5, linespacing=1.5, **font)
    return page


def _format(prepared: Prepared) -> str:
    return "jpeg" if prepared.ending == "jpg" else "png"
