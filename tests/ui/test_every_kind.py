"""Every record type alike: added, found, sorted, changed, withdrawn, undone, pasted."""

import pytest
from builders import make
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot
from tools.pages import page_of, said_in

from workbench.desk.entry import choices, texts_of
from workbench.desk.issuing import Enter
from workbench.records import KINDS, Dossier, Edition, FieldInfo, Record, fields_of
from workbench.ui.bench import Bench
from workbench.ui.pages.records import RecordsPage
from workbench.ui.pages.taking_in import TakingInPage
from workbench.ui.window import Window

UP, DOWN = Qt.SortOrder.AscendingOrder, Qt.SortOrder.DescendingOrder
STRICT = frozenset(
    {"layer", "layers", "shape", "part", "signed", "about", "of", "observation", "cause"}
)
"""Fields of text that is not free."""
SHEETS = [kind for kind in KINDS if kind.sheet]


OF_TYPE = {
    "Quantity": "7", "When": "2024-12-01 10:00", "int": "1", "float": "0.5", "Plane": "C/D",
    "Points": "0.1 0.1; 0.3 0.3", "Outline": "0 0; 1 0; 1 1", "Outcome": "7", "Face": "C/D",
}  # fmt: skip
"""What a person could write, by the type of the field."""
OF_FIELD = {
    "about": "pull_off P-12", "of": "photo PH-01", "rule": "glue_share", "ref": "ZZ-1",
    "key": "declaration", "cause": "amine_blush", "observation": "soluble_salts",
}  # fmt: skip
OF_KIND: dict[str, dict[str, str]] = {
    "case_entry": {"key": "question 9"},
    "party": {"name": "Z. Zander"},
    "coat": {"order": "9", "material": "epoxy"},
    "answer": {"observation": "dew_point_margin_low"},
    "custody": {"when": "2025-01-05 10:00"},
    "recoat_window": {"product": "ZZ coat"},
    "limit": {"applies_to": "B3"},
    "area_event": {"start": "2024-12-02", "end": "2024-12-03"},
    "application": {"start": "2024-12-02 08:00", "end": "2024-12-02 17:00"},
    "weather": {"time": "2024-12-02 08:00"},
    "site_plan": {"file": "plan/other.png"},
    "photo": {"file": "photos/zz.jpg"},
}
"""What makes a second record of a type another one, where it is not called by a ref."""


def text_for(kind: type[Record], info: FieldInfo, dossier: Dossier) -> str:
    """Return what a person could write into a required field of a new record."""
    offered = choices(kind, info, dossier)
    if offered and info.name != "about":
        return offered[0]
    return OF_FIELD.get(info.name, "") or OF_TYPE.get(info.type.__name__, "ZZ words")


def texts_for(kind: type[Record], dossier: Dossier) -> dict[str, str]:
    """Return the texts of a new record of `kind` that the case can take."""
    held = dossier.all(kind)
    infos = {info.name: info for info in fields_of(kind)}
    texts = texts_of(held[0]) if held else {
        name: text_for(kind, info, dossier) for name, info in infos.items() if info.required
    }  # fmt: skip
    if "ref" in infos:
        texts["ref"] = "ZZ-1"
    return texts | OF_KIND.get(kind.noun, {})


def sorts_by_every_column(page: RecordsPage) -> None:
    """Sort by each column both ways, blanks last, and put the rows back as they were."""
    model = page.table.records
    for at, column in enumerate(model.columns):
        for order in (UP, DOWN):
            page.table.sortByColumn(at, order)
            keys = [column.key(record) for record in model.records]
            said = [key for key in keys if not key[0]]
            assert said == sorted(said, reverse=order is DOWN), column.heading
            assert keys[: len(said)] == said, f"{column.heading}: blanks stand last"
    page.table.sortByColumn(-1, UP)


def withdrawn(bench: Bench, record: Record) -> str:
    """Return why a record was withdrawn."""
    found = bench.dossier.with_id(type(record), record.id)
    return found.withdrawn if found else ""


@pytest.mark.parametrize(
    "kind", [kind for kind in KINDS if not kind.comes_about], ids=lambda kind: kind.noun
)
def test_one_is_added_found_sorted_changed_withdrawn_and_all_of_it_undone(
    kind: type[Record], bench: Bench, qtbot: QtBot
) -> None:
    page = RecordsPage(bench, kind)
    qtbot.addWidget(page)
    page.resize(900, 600)
    page.show()
    before = {record.id for record in bench.dossier.all(kind)}
    page.add()
    page.form.form.write(texts_for(kind, bench.dossier))
    page.save()
    fresh = [record for record in bench.dossier.all(kind) if record.id not in before]
    assert len(fresh) == 1, [page.form.form.told(info.name) for info in fields_of(kind)]
    added = fresh[0]
    # found by its name, through the filter of the table
    page.filter.setText(added.label)
    page._narrow()
    assert page.table.records.row_of(added.id) is not None
    page.filter.clear()
    page._narrow()
    sorts_by_every_column(page)
    if kind.ledger:  # what went into the ledger is put right by a further entry, never unsaid
        assert not any(added.label in said for said in bench.case.undo_list)
        return
    # changed in every field that is free text, and read back
    page.show_source(added.source)
    changed = {
        info.name: "ZZ other words" for info in fields_of(kind)
        if info.type is str and info.name not in kind.identity and not info.column.refers
        and not choices(kind, info, bench.dossier) and info.name not in STRICT
    }  # fmt: skip
    page.form.form.write(changed)
    page.form.why.setText("put right")
    page.save()
    now = bench.dossier.with_id(kind, added.id)
    assert now
    assert {name: str(getattr(now, name)) for name in changed} == changed
    # withdrawn with a reason, then everything taken back and done again
    page.show_source(added.source)
    page.withdraw()
    page.form.why.setText("entered twice")
    page.save()
    assert withdrawn(bench, added) == "entered twice"
    done = 3 if changed else 2
    told = bench.case.undo_list[:done]
    assert all(added.label in said and said[0].isupper() for said in told), told
    for _ in range(done):
        assert bench.undo()
    assert {record.id for record in bench.dossier.all(kind)} == before
    for _ in range(done):
        assert bench.redo()
    assert withdrawn(bench, added) == "entered twice"


def test_an_edition_is_read_and_only_its_signed_copy_is_named(bench: Bench, qtbot: QtBot) -> None:
    refused = list[str]()
    bench.refused.connect(refused.append)
    page = RecordsPage(bench, Edition)
    qtbot.addWidget(page)
    page.resize(900, 600)
    page.show()
    page.add()
    assert refused == [Edition.comes_about]
    assert not page._add.isVisible()
    qtbot.waitUntil(lambda: bool(page.form.form.texts))
    assert not page.form.form.field("ref").isEnabled()
    assert not page.form._save.isVisible()
    bench.case.do(Enter(edition := make(Edition, ref="ZZ-R1", checked_by="Bo"), "checked report"))
    page.show_source(edition.source)
    assert not page.form.form.field("checked_by").isEnabled()
    assert not page.form._save.isVisible()
    page.withdraw()
    assert refused == [Edition.comes_about] * 2
    page.form.form.write({"signed": "report-signed.pdf"})
    page.save()
    now = bench.dossier.with_id(Edition, edition.id)
    assert now
    assert (now.signed, now.checked_by, now.withdrawn) == ("report-signed.pdf", "Bo", "")


def as_pasted(kind: type[Record], rows: list[dict[str, str]]) -> str:
    """Return rows as a spreadsheet puts them on the clipboard, under the words of the sheet."""
    infos = [info for info in fields_of(kind) if info.column.in_book]
    lines = ["\t".join([*(info.column.heading for info in infos), "colour of the sky"])]
    lines += ["\t".join([*(row.get(info.name, "") for info in infos), "blue"]) for row in rows]
    return "\n".join(lines) + "\n"


@pytest.mark.parametrize("kind", SHEETS, ids=lambda kind: kind.noun)
def test_rows_of_it_are_pasted_and_what_is_wrong_in_them_is_listed(
    kind: type[Record], window: Window, qtbot: QtBot
) -> None:
    assert window.desk
    assert window.bench
    good = texts_for(kind, window.bench.dossier)
    needed = [info.name for info in fields_of(kind) if info.required and info.column.in_book]
    without = good | {needed[-1]: ""}
    page = page_of(window, "taking-in", TakingInPage)
    for rows, problems in (([good, without], True), ([good], False)):
        QApplication.clipboard().setText(as_pasted(kind, rows))
        window.desk.errands.paste_rows(kind.noun)
        qtbot.waitUntil(lambda: page.idle, timeout=20_000)
        told = said_in(page.problems)
        assert any("colour of the sky" in " ".join(row) for row in told), told
        assert bool([row for row in told if row[0] == "✕"]) is problems, told
        assert page.take_button.isEnabled() is not problems
    number = len(window.bench.dossier.all(kind))
    page.take()
    qtbot.waitUntil(lambda: page.idle, timeout=20_000)
    assert len(window.bench.dossier.all(kind)) == number + 1
