"""Adding, changing, withdrawing: told while one types, kept when the program dies."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QComboBox, QLineEdit

from workbench.desk.entry import read_record, texts_of
from workbench.records import BY_NOUN, KINDS, Dossier, PullOff, Record, Source
from workbench.ui.pages.records import RecordsPage
from workbench.ui.window import Window

NEW = {
    "ref": "P-90", "location": "L301", "method": "ASTM D7234", "fixture": "50 mm",
    "reading": "0.7 MPa", "breaks": "C/D 80; D 20",
}  # fmt: skip


def page_of(window: Window, noun: str = "pull_off") -> RecordsPage:
    assert window.desk
    page = window.desk.open_page(noun)
    assert isinstance(page, RecordsPage)
    return page


def write(page: RecordsPage, texts: dict[str, str]) -> None:
    for name, text in texts.items():
        field = page.form.form.field(name)
        if isinstance(field, QLineEdit):
            field.clear()
            QTest.keyClicks(field, text)
        elif isinstance(field, QComboBox):
            field.setCurrentIndex(field.findData(text))
            field.activated.emit(field.currentIndex())


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.noun)
def test_what_a_form_shows_reads_back_as_the_same_record(kind: type[Record], held: Dossier) -> None:
    for record in held.all(kind)[:40]:
        typed = read_record(kind, texts_of(record), held, record)
        assert typed.record == record, typed.wrong


def test_a_pull_off_with_a_mixed_break_is_added_undone_and_done_again(window: Window) -> None:
    assert window.bench
    page = page_of(window)
    page.add()
    write(page, NEW)
    page.form.save()
    added = window.bench.dossier.find(PullOff, "P-90")
    assert added
    assert str(added.breaks) == "C/D 80; D 20"
    assert window.bench.case.undo_list[0] == "Added pull-off P-90"
    assert window.bench.undo()
    gone = window.bench.dossier.find(PullOff, "P-90")
    assert gone
    assert gone.withdrawn
    assert window.bench.redo()
    back = window.bench.dossier.find(PullOff, "P-90")
    assert back
    assert not back.withdrawn


def test_the_keys_stay_in_their_field_when_the_form_is_saved(window: Window) -> None:
    page = page_of(window)
    page.show_source(Source("pull_off", "P-12"))
    QTest.qWait(50)
    page.form.form.focus_field("note")
    write(page, {"operator": "J. Abara"})
    page.form.form.focus_field("operator")
    page.form.save()
    assert page.form.form.field("operator").hasFocus()
    assert page.form.form.record
    assert page.form.form.record.label == "P-12"


def test_a_choice_is_typed_with_its_spaces_or_by_a_part_of_it(window: Window) -> None:
    page = page_of(window)
    page.add()
    choice = page.form.form.field("method")
    assert isinstance(choice, QComboBox)
    QTest.keyClicks(choice, "astm d7234")
    assert page.form.form.texts["method"] == "ASTM D7234"
    assert not choice.view().isVisible()
    page.form.form.write({"method": ""})
    page.form.discard()
    again = page.form.form.field("method")
    assert isinstance(again, QComboBox)
    again.setCurrentIndex(0)
    QTest.qWait(1600)
    QTest.keyClicks(again, "1583")
    assert page.form.form.texts["method"] == "ASTM C1583"


@pytest.mark.parametrize(
    ("field", "text", "words"),
    [
        ("breaks", "C/D 80; D 10", "the shares sum to 90"),
        ("breaks", "Q/R 100 20", "is not a plane"),
        ("reading", "much", "is not a number"),
        ("reading", "2.4", "a number without its unit"),
        ("location", "L999", "there is no location “L999”"),
        ("date", "yesterday", "yesterday"),
    ],
)
def test_what_is_wrong_is_said_while_one_types_and_nothing_typed_is_lost(
    window: Window, field: str, text: str, words: str
) -> None:
    assert window.bench
    page = page_of(window)
    page.add()
    write(page, NEW | {field: text})
    told = page.form.form.told(field)
    assert words in told
    before = len(window.bench.dossier.all(PullOff))
    page.form.save()
    assert len(window.bench.dossier.all(PullOff)) == before
    assert page.form.form.texts[field] == text


def test_text_that_was_not_saved_is_there_when_the_case_is_opened_again(window: Window) -> None:
    assert window.bench
    page = page_of(window)
    page.add()
    write(page, {"ref": "P-91", "note": "half a sent"} | {"breaks": "C/D 4"})
    folder = window.bench.case.folder
    window.close_case()
    assert window.open_case(folder)
    again = page_of(window)
    again.add()
    assert again.form.form.texts["ref"] == "P-91"
    assert again.form.form.texts["breaks"] == "C/D 4"


def test_a_record_is_withdrawn_only_with_a_reason_and_keeps_its_name(window: Window) -> None:
    assert window.bench
    page = page_of(window)
    record = window.bench.dossier.find(PullOff, "P-05")
    assert record
    page.show_source(record.source)
    page.withdraw()
    page.form.save()
    kept = window.bench.dossier.find(PullOff, "P-05")
    assert kept
    assert not kept.withdrawn
    QTest.keyClicks(page.form.why, "wrong fixture")
    page.form.save()
    gone = window.bench.dossier.find(PullOff, "P-05")
    assert gone
    assert gone.withdrawn == "wrong fixture"
    assert page.table.records.row_of(record.id) is None


def test_an_entry_of_the_ledger_cannot_be_changed_in_its_form(window: Window) -> None:
    assert window.bench
    page = page_of(window, "custody")
    first = window.bench.dossier.all(BY_NOUN["custody"])[0]
    page.show_source(first.source)
    assert not page.form.form.field("place").isEnabled()


def test_every_field_has_a_name_for_those_who_hear_the_screen(window: Window) -> None:
    assert window.desk
    for kind in KINDS:
        page = window.desk.open_page(kind.noun)
        if not isinstance(page, RecordsPage):
            continue
        form = page.form.form
        for name in form.texts:
            assert form.field(name).accessibleName(), (kind.noun, name)
            assert form.field(name).focusPolicy() & Qt.FocusPolicy.TabFocus
