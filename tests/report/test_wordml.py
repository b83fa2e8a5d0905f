"""Words of WordprocessingML: what a person typed never breaks the document."""

from hypothesis import given
from hypothesis import strategies as st
from lxml import etree

from workbench.report import wordml as w
from workbench.report.widths import column_widths

WN = f"{{{w.W}}}"


def parsed(inner: str) -> etree._Element:
    return etree.fromstring(w.body(inner, "").encode())


def said(element: etree._Element) -> str:
    return "".join(t.text or "" for t in element.iter(f"{WN}t"))


@given(st.text())
def test_any_text_gives_well_formed_xml(text: str) -> None:
    parsed(
        w.paragraph("Normal", w.run(text))
        + f"<w:p><w:bookmarkStart w:name={w.attribute(text)}/></w:p>"
    )


def test_what_xml_cannot_hold_leaves_a_visible_mark() -> None:
    assert said(parsed(w.paragraph("Normal", w.run("a\x00b\x0bc\ud800d")))) == "a�b�c�d"


def test_an_override_of_direction_does_not_turn_the_words_after_it() -> None:
    assert w.clean("pay \u202e001 now") == "pay �001 now"


def test_right_to_left_words_and_formulas_stay_as_they_were_typed() -> None:
    for words in ("שלום", "=1+2", "<w:p>", "a & b"):
        assert said(parsed(w.paragraph("Normal", w.run(words)))) == words


def test_a_long_note_is_split_into_runs_and_nothing_is_lost() -> None:
    note = "0123456789" * 12_000
    whole = parsed(w.paragraph("Normal", w.run(note)))
    assert said(whole) == note
    assert max(len(t.text or "") for t in whole.iter(f"{WN}t")) <= 50_000


def test_lines_and_tabs_become_breaks_and_tabs() -> None:
    whole = parsed(w.paragraph("Normal", w.run("a\nb\tc\r\nd")))
    assert len(list(whole.iter(f"{WN}br"))) == 2
    assert len(list(whole.iter(f"{WN}tab"))) == 1


def test_a_row_that_may_be_taller_than_a_page_may_be_split() -> None:
    grid = w.Grid(widths=(4000,), numeric=(False,), caption="T", description="d")
    rows = [[w.run("short")], [w.run("long " * 4000)]]
    table = parsed(w.table(grid, [w.run("Head")], rows))
    head, short, long = table.iter(f"{WN}tr")
    assert head.find(f".//{WN}tblHeader") is not None
    assert short.find(f".//{WN}cantSplit") is not None
    assert long.find(f".//{WN}cantSplit") is None


CELLS = st.text(st.characters(codec="ascii"), max_size=60)


@given(
    st.integers(1, 9).flatmap(
        lambda n: st.lists(st.lists(CELLS, min_size=n, max_size=n), min_size=1, max_size=5)
    )
)
def test_columns_fill_the_page_whatever_they_hold(rows: list[list[str]]) -> None:
    widths = column_widths(["Head"] * len(rows[0]), rows, 160.0)
    assert abs(sum(widths) - 160.0) < 0.01
    assert min(widths) > 0


def test_a_ref_is_not_broken_for_the_sake_of_a_long_neighbour() -> None:
    ref, _note = column_widths(["Ref", "Note"], [["DOC-01", "long words " * 30]], 160.0)
    assert ref > 12
