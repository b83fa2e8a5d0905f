"""How a report lies on its pages: upright where it can, no page with a few lines of words."""

import re
from pathlib import Path
from zipfile import ZipFile

from docx import Document
from report_made import MOMENT

from workbench.report import wordml as w
from workbench.report.blocks import Column, Heading, Paragraph, Row, Section, Signature, Table
from workbench.report.document import Binding, Imprint, write_document
from workbench.report.given import no_picture
from workbench.report.numbers import numbers_of
from workbench.report.setting import Setter
from workbench.report.tabling import said_once
from workbench.report.text import Value, text
from workbench.report.widths import column_widths, lies_on_its_side, lines_of_rows

UPRIGHT, SIDEWAYS = w.A4.text_width, w.A4.landscape.text_width
LONG = "within the epoxy intermediate coat of the second system, seen from above"


def test_a_table_lies_upright_where_its_words_fit_and_it_takes_one_page() -> None:
    rows = [("P-01", "T7", LONG, LONG)] * 8
    assert not lies_on_its_side(("Ref", "Place", "Where", "Note"), rows, UPRIGHT, SIDEWAYS)


def test_a_table_lies_on_its_side_where_words_would_break_upright() -> None:
    heads = ["Uncertainty"] * 15
    assert lies_on_its_side(heads, [["undetermined"] * 15], UPRIGHT, SIDEWAYS)


def test_a_long_table_lies_on_its_side_where_that_saves_pages() -> None:
    heads = ("Ref", "Where it broke")
    rows = [
        ("P-01", "C/D, intermediate to finish: 90 %; Y, within the glue: 10 %, and more yet")
    ] * 99
    lines = [sum(lines_of_rows(rows, column_widths(heads, rows, mm))) for mm in (60.0, 160.0)]
    assert lines[0] > 1.5 * lines[1]
    assert lies_on_its_side(heads, rows, 60.0, 160.0)
    assert not lies_on_its_side(heads, rows[:5], 60.0, 160.0)


def test_what_is_the_same_in_three_rows_is_said_once() -> None:
    columns = (Column("Ref"), Column("By"), Column("Note"))
    rows = tuple(Row((f"T-{n}", "I. D.", "")) for n in range(3))
    table = said_once(Table("t", "T", columns, rows))
    assert [column.heading for column in table.columns] == ["Ref"]
    assert table.note == "In every row “By” is “I. D.”."


def _sides(path: Path, *sections: Section) -> list[str]:
    """Return how the pages of a document lie, group by group."""
    imprint = Imprint("R-1", "Report", "Quay", "Draft", "Practice", (), "A. Author", MOMENT)
    binding = Binding(has_contents=False)
    write_document(imprint, sections, path, picture=no_picture, binding=binding)
    with ZipFile(path) as held:
        body = held.read("word/document.xml").decode()
    return re.findall(r'w:orient="(\w+)"|<w:pgSz w:w="11906"', body)


WIDE = Table(
    "wide", "Wide", tuple(Column(f"Uncertainty {n}") for n in range(15)),
    (Row(("undetermined",) * 15),), turns=True,
)  # fmt: skip
LEAD, AFTER = Paragraph(text("These are the entries.")), Paragraph(text("How they were copied:"))


def test_words_round_a_wide_table_lie_on_its_page(tmp_path: Path) -> None:
    blocks = (LEAD, WIDE, AFTER, Signature("", "Person certifying"))
    first = Section("summary", "Summary", (LEAD,))
    sheet = Section("sheet", "Sheet", blocks, appendix=True)
    assert _sides(tmp_path / "one.docx", first, sheet) == ["", "landscape"]


def test_words_after_another_table_stay_where_they_are(tmp_path: Path) -> None:
    upright = Table("t", "T", (Column("Ref"),), (Row(("P-1",)),))
    one = Section("s", "S", (upright, LEAD, Heading(2, "More"), WIDE, Heading(2, "Else"), AFTER))
    assert _sides(tmp_path / "one.docx", one) == ["", "landscape", ""]


def test_only_the_first_appendix_starts_a_page(tmp_path: Path) -> None:
    path = tmp_path / "one.docx"
    each = [Section(f"s{n}", f"S{n}", (LEAD,), appendix=True) for n in range(3)]
    _sides(path, Section("summary", "Summary", (LEAD,)), *each)
    with ZipFile(path) as held:
        body = held.read("word/document.xml").decode()
    heads = re.findall(r'<w:pStyle w:val="AppendixHeading"/>(<w:pageBreakBefore/>)?', body)
    assert heads == ["<w:pageBreakBefore/>", "", ""]


def test_a_value_is_as_wide_as_it_is_set() -> None:
    """A value that no line may end inside needs a column that holds it whole."""
    cell = text(Value("", "58 µm; 74 µm", ()))
    setter = Setter(Document(), numbers_of(()), no_picture, w.A4)
    table = Table("t", "T", (Column("Readings"), Column("Note")), (Row((cell, LONG)),))
    (row,) = setter._as_set(table, [""])
    assert row[0] == "58\u00a0µm;\u00a074\u00a0µm"


def test_words_that_lead_to_a_table_stay_with_it(tmp_path: Path) -> None:
    table = Table("t", "T", (Column("Ref"),), (Row(("P-1",)),))
    _sides(tmp_path / "one.docx", Section("s", "S", (AFTER, AFTER, LEAD, table, LEAD)))
    with ZipFile(tmp_path / "one.docx") as held:
        body = held.read("word/document.xml").decode()
    kept = re.findall(r'<w:pStyle w:val="NumberedText"/>(<w:keepNext/>)?', body)
    assert kept == ["<w:keepNext/>", "<w:keepNext/>", "<w:keepNext/>", ""]
