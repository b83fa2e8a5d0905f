"""Writing the field book: empty for the site visit, or filled from a case."""

from collections.abc import Callable, Iterable
from datetime import UTC, datetime
from pathlib import Path

from openpyxl import Workbook
from openpyxl.cell.cell import Cell, MergedCell
from openpyxl.styles import Alignment, Border, Font, NamedStyle, PatternFill, Side
from openpyxl.utils import get_column_letter
from openpyxl.utils.exceptions import IllegalCharacterError
from openpyxl.worksheet.header_footer import HeaderFooterItem
from openpyxl.worksheet.properties import PageSetupProperties
from openpyxl.worksheet.worksheet import Worksheet

from workbench.exchange.field_book import explaining
from workbench.exchange.field_book.choosing import DropDowns
from workbench.exchange.field_book.columns import (
    CASE_REQUIRED,
    READ_ME,
    BookColumn,
    columns_of,
    header_of,
    is_number,
)
from workbench.exchange.field_book.filling import GENERAL, TEXT, Filled, row_of
from workbench.figures.palette import LIGHT
from workbench.records import (
    FIELD_BOOK,
    LABORATORY_BOOK,
    CaseEntry,
    Dossier,
    KnownError,
    Record,
    When,
    new_id,
)
from workbench.records.background import CASE_KEYS

Step = Callable[[int, int], None]
PROGRAM = "Coating-failure workbench"
LONGEST = 32_767
"""Most characters that a cell of a workbook can hold."""
_INK, _ACCENT = LIGHT.ink.removeprefix("#"), LIGHT.accent.removeprefix("#")
_FAINT, _PAPER = LIGHT.faint.removeprefix("#"), LIGHT.paper.removeprefix("#")
_PLAIN = Font(name="Calibri", size=11, color=_INK)
_TEXT = "field book text"
"""A style that all texts share: giving each cell its parts one by one takes three times as long."""
_EVERY = 100


class FieldBookError(KnownError):
    """A case that cannot be written as a workbook without losing something."""


def write_field_book(path: Path, case: Dossier | None = None, step: Step | None = None) -> None:
    """Write the field book to `path`: empty, or with the records of `case`.

    Args:
        path: Where; a file that is there is replaced, once the new one is complete.
        case: Records that the rows shall hold.
        step: Told rows done and their whole number; may raise to stop.

    Raises:
        FieldBookError: A text is too long for a cell, or has signs that no workbook can hold.
        OSError: The file cannot be written.
    """
    held = case or Dossier()
    book = Workbook()
    book.remove(book.worksheets[0])
    book.properties.creator = PROGRAM
    book.properties.title = f"Field book {held.entry('reference')}".strip()
    book.properties.created = book.properties.modified = datetime.now(UTC).replace(tzinfo=None)
    book.add_named_style(_text_style())
    _explain(book.create_sheet(READ_ME), held)
    drop_downs = DropDowns(book)
    kinds = (*FIELD_BOOK, *(kind for kind in LABORATORY_BOOK if held.all(kind)))
    whole, done = sum(len(held.all(kind)) for kind in kinds), 0
    for kind in kinds:
        sheet = book.create_sheet(kind.sheet)
        _set_out(sheet, kind)
        drop_downs.add_to(sheet, kind)
        for at, cells in enumerate(_rows(kind, held), start=2):
            _fill(sheet, at, cells)
            done += 1
            if step and done % _EVERY == 0:
                step(min(done, whole), whole)
    drop_downs.write_lists()
    _save(book, path)


def _text_style() -> NamedStyle:
    alignment = Alignment(horizontal="left", indent=1)
    return NamedStyle(_TEXT, _PLAIN, number_format=TEXT, alignment=alignment)


def _save(book: Workbook, path: Path) -> None:
    """Write beside `path` first, so that a book which is there stays whole until the end."""
    unfinished = path.with_name(f".{path.name}.{new_id()}")
    try:
        book.save(unfinished)
        unfinished.replace(path)
    finally:
        unfinished.unlink(missing_ok=True)


def _rows(kind: type[Record], case: Dossier) -> Iterable[tuple[Filled | None, ...]]:
    if kind is CaseEntry:
        return _case_rows(case)
    return (row_of(record) for record in case.all(kind))


def _case_rows(case: Dossier) -> Iterable[tuple[Filled | None, ...]]:
    """Return the keys of the sheet `case`, with what the case says of them."""
    said = {entry.key: entry.value for entry in case.all(CaseEntry)}
    for key in dict.fromkeys((*CASE_KEYS, *said)):
        value = said.get(key, "")
        yield Filled(key + "*" * (key in CASE_REQUIRED)), Filled(value) if value else None


def _fill(sheet: Worksheet, row: int, cells: Iterable[Filled | None]) -> None:
    for at, filled in enumerate(cells, start=1):
        if filled is not None:
            _put(sheet.cell(row, at), filled)


def _put(cell: Cell | MergedCell, filled: Filled) -> None:
    """Write one value; a text stays text, whatever it begins with.

    Raises:
        FieldBookError: The cell cannot hold it.
    """
    value = filled.value
    where = f"{cell.parent.title}!{cell.coordinate}"
    if isinstance(value, str) and len(value) > LONGEST:
        raise FieldBookError(
            f"{where}: {len(value)} signs; a cell holds {LONGEST}; shorten the text"
        )
    try:
        cell.value = value
    except IllegalCharacterError as wrong:
        right = "a sign that no workbook can hold; remove it in the case"
        raise FieldBookError(f"{where}: {right}") from wrong
    if isinstance(value, str):
        cell.data_type = "s"
        cell.style = _TEXT
        if value.startswith(("=", "+", "-", "@", "\t")):
            cell.quotePrefix = True
    elif filled.shown_as != GENERAL:
        cell.number_format = filled.shown_as


def _set_out(sheet: Worksheet, kind: type[Record]) -> None:
    """Write the header row and set widths, formats and printing."""
    columns = columns_of(kind)
    for at, (heading, column) in enumerate(zip(header_of(kind), columns, strict=True), start=1):
        cell = sheet.cell(1, at, heading)
        _head(cell, strong=heading.endswith("*"))
        letter = get_column_letter(at)
        sheet.column_dimensions[letter].width = _width(column)
        sheet.column_dimensions[letter].number_format = "General" if _is_numeric(column) else TEXT
        sheet.column_dimensions[letter].font = _PLAIN
    sheet.row_dimensions[1].height = 20
    sheet.freeze_panes = "B2" if columns[0].heading == "ref" else "A2"
    sheet.sheet_properties.tabColor = _ACCENT
    sheet.print_title_rows = "1:1"
    sheet.print_options.gridLines = True
    sheet.page_setup.orientation = "landscape"
    _fit_to_width(sheet, pages=1 + round(sum(map(_width, columns))) // 200)


def _fit_to_width(sheet: Worksheet, pages: int) -> None:
    """Have it print so many pages wide, with its name and page below."""
    sheet.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
    sheet.page_setup.paperSize = "9"
    sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight = pages, 0
    footer = HeaderFooterItem()
    footer.left.text, footer.right.text = "&A", "&P / &N"
    sheet.oddFooter = footer


def _head(cell: Cell | MergedCell, *, strong: bool) -> None:
    """Mark a heading; those that must be filled in stand on the accent, with their star."""
    cell.font = Font(name="Calibri", size=11, bold=True, color=_PAPER if strong else _INK)
    cell.fill = PatternFill("solid", fgColor=_ACCENT if strong else _FAINT)
    cell.alignment = Alignment(horizontal="left", vertical="center", indent=1)
    cell.border = Border(bottom=Side("thin", color=_ACCENT))
    cell.number_format = TEXT


def _is_numeric(column: BookColumn) -> bool:
    return column.info is not None and is_number(column.info)


_WIDE = {
    "note": 36, "title": 36, "description": 30, "caption": 40, "value": 44, "outline": 30,
    "features": 26, "breaks": 22, "readings": 30, "file": 28, "reason": 36, "name": 26,
    "source": 24, "contact": 28, "key": 16, "product": 20, "chosen": 20, "observation": 30,
    "quantity": 22, "method": 18, "place": 24, "deviation": 20, "taken by": 16, "kind": 20,
    "container": 20, "applicator": 14, "from": 18, "to": 18, "form": 22, "material": 22,
    "role": 15, "event": 18, "condition": 15, "status": 15, "purpose": 15, "system": 14,
}  # fmt: skip


def _width(column: BookColumn) -> float:
    """Return the width of a column in characters."""
    if column.info and column.info.type is When:
        return 17
    wide = _WIDE.get(column.heading, 10)
    if _is_numeric(column):
        wide = 8
    return max(wide, len(column.heading) + 4)


_READ_ME_WIDTH = 106


def _explain(sheet: Worksheet, case: Dossier) -> None:
    """Write the sheet that explains the book."""
    sheet.column_dimensions["A"].width = 15
    sheet.column_dimensions["B"].width = _READ_ME_WIDTH
    sheet.sheet_view.showGridLines = False
    title = " · ".join(filter(None, ("Field book", case.entry("reference"), case.entry("title"))))
    _put(sheet["A1"], Filled(title))
    sheet["A1"].font = Font(name="Calibri", size=16, bold=True, color=_ACCENT)
    sheet.row_dimensions[1].height = 26
    words = explaining.words()
    at = _section(sheet, 2, "Filling it in", (("", line) for line in words.filling_in))
    safety = (*words.cautions, words.safety_first)
    at = _section(sheet, at, "Safety", (("", line) for line in safety))
    about = ((kind.sheet, _about(kind, words)) for kind in FIELD_BOOK)
    at = _section(sheet, at, "The sheets", about)
    _section(sheet, at, "Coming back", (("", words.coming_back),))
    _fit_to_width(sheet, pages=1)


def _about(kind: type[Record], words: explaining.Words) -> str:
    return f"{(kind.__doc__ or '').splitlines()[0]} {words.rules.get(kind.sheet, '')}"


def _section(sheet: Worksheet, at: int, title: str, lines: Iterable[tuple[str, str]]) -> int:
    """Write a headed list, and return the row after it and a blank one."""
    _put(sheet.cell(at, 1), Filled(title))
    sheet.cell(at, 1).font = Font(name="Calibri", size=11, bold=True, color=_ACCENT)
    for column in (1, 2):
        sheet.cell(at, column).border = Border(bottom=Side("thin", color=_ACCENT))
    for row, (name, words) in enumerate(lines, start=at + 1):
        _line(sheet, row, name, words.strip())
        at = row
    return at + 2


def _line(sheet: Worksheet, at: int, name: str, words: str) -> None:
    """Write one line of the list, as high as its words need."""
    for column, said in ((1, name), (2, words)):
        if said:
            _put(sheet.cell(at, column), Filled(said))
            sheet.cell(at, column).alignment = Alignment(wrap_text=True, vertical="top")
    sheet.row_dimensions[at].height = 15.5 * (1 + len(words) // _READ_ME_WIDTH)
