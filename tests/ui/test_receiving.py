"""The receiving desk on the screen: a scan goes to the scan line and nowhere else."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from builders import make
from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from workbench.desk.acts import Add
from workbench.desk.case import Case
from workbench.records import CaseEntry, CustodyEntry, Discrepancy, Party, Photo, Record, Sample
from workbench.ui.bench import Bench
from workbench.ui.drafts import Drafts
from workbench.ui.pages.receiving import ReceivingPage

OUTSIDE = {
    "mode": "by carrier", "by": "Van", "number": "551-208", "condition": "sound",
    "papers": "complete", "seal": "77", "seal_condition": "intact", "containers": "1",
}  # fmt: skip


def on_their_way(count: int) -> list[Record]:
    records: list[Record] = [
        make(CaseEntry, key="reference", value="CF-7"),
        make(Party, name="Lab", role="laboratory"),
    ]
    for number in range(1, count + 1):
        ref, seal = f"S-{number:02}", str(100 + number)
        said = {"sample": ref, "seal": seal}
        records += [
            make(Sample, ref=ref),
            make(CustodyEntry, **said, when="2026-03-01 09:00", event="collected", receiver="Ann"),
            make(CustodyEntry, **said, when="2026-03-01 09:05", event="sealed", giver="Ann",
                 receiver="Ann"),
            make(CustodyEntry, **said, when="2026-03-02 08:00", event="dispatched", giver="Ann",
                 receiver="Van", carrier="Van"),
        ]  # fmt: skip
    return records


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    case = Case.create(tmp_path / "a.case", author="Lab")
    case.do(Add(tuple(on_their_way(12))))
    made = Bench(case, Drafts(tmp_path / "drafts", case.folder))
    yield made
    made.close()


@pytest.fixture
def page(bench: Bench, qtbot: QtBot) -> Iterator[ReceivingPage]:
    made = ReceivingPage(bench)
    qtbot.addWidget(made)
    made.show()
    qtbot.waitExposed(made)
    made.activateWindow()
    yield made
    made.hide()


def look_outside(page: ReceivingPage) -> None:
    for name, word in OUTSIDE.items():
        page.outside.put(name, word)
    page.outside.put("mode", OUTSIDE["mode"])
    page._on_outside()


def send(target: QWidget, text: str) -> None:
    """Send keys as a scanner does: one after the other, without a pause."""
    for letter in text:
        key = {"\r": Qt.Key.Key_Return, "\t": Qt.Key.Key_Tab, " ": Qt.Key.Key_Space}.get(
            letter, Qt.Key(ord(letter.upper()))
        )
        for kind in (QEvent.Type.KeyPress, QEvent.Type.KeyRelease):
            event = QKeyEvent(kind, key, Qt.KeyboardModifier.NoModifier, letter)
            QApplication.sendEvent(target, event)


def state(page: ReceivingPage) -> dict[str, str]:
    fields = {**page.outside.fields, **page.item.fields}
    return {name: field.text() for name, field in fields.items()}


def test_a_typed_ref_shows_its_item_once_the_outside_is_done(
    page: ReceivingPage, qtbot: QtBot
) -> None:
    page.scan("S-01")
    assert "outside first" in page.said.text()
    assert page.sample == ""
    look_outside(page)
    page.enter()
    for letter in "s03":
        QTest.keyClicks(page.scan_line, letter)
        qtbot.wait(120)
    QTest.keyClick(page.scan_line, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: page.sample == "S-03")


@pytest.mark.parametrize(
    "focused", ["condition", "leaking", "place", "expected", "finish", "scan", "list"]
)
def test_a_scan_changes_nothing_but_the_item_wherever_the_focus_is(
    page: ReceivingPage, qtbot: QtBot, focused: str
) -> None:
    look_outside(page)
    page.scan("S-01")
    page.as_expected()
    page.item.put("condition", "dry")
    page.item.put("place", "Cabinet 3")
    page._on_item()
    before = page.reception.item("S-01")
    targets: dict[str, QWidget] = {
        "expected": page._expected, "finish": page._finish, "scan": page.scan_line,
        "list": page.list,
    }  # fmt: skip
    target = targets.get(focused) or page.item.fields[focused].widget()
    target.setFocus()
    send(target, "S02\t \r")
    qtbot.waitUntil(lambda: page.sample == "S-02")
    qtbot.wait(120)
    assert page.reception.item("S-01") == before
    assert page.item.text("condition") == ""
    assert page.item.text("leaking") == ""
    assert page.item.text("place") == "Cabinet 3"
    assert page.bench.dossier.all(CustodyEntry)[-1].event.value == "dispatched"


def test_a_code_that_is_no_sample_changes_nothing(page: ReceivingPage, qtbot: QtBot) -> None:
    look_outside(page)
    before = state(page)
    page._finish.setFocus()
    send(page._finish, "4006381333931\r")
    qtbot.waitUntil(lambda: "carrier" in page.said.text())
    assert state(page) == before
    assert page.sample == ""


def test_after_a_scan_the_next_key_goes_to_the_item(page: ReceivingPage) -> None:
    look_outside(page)
    page.outside.enter("containers")
    page.scan("S-01")
    focused = QApplication.focusWidget()
    assert focused is not None
    assert page.item.isAncestorOf(focused)


def test_single_keys_of_a_person_reach_their_field(page: ReceivingPage, qtbot: QtBot) -> None:
    look_outside(page)
    page.scan("S-01")
    field = page.item.fields["condition"].widget()
    field.setFocus()
    for letter in "dry x":
        QTest.keyClicks(field, letter)
        qtbot.wait(120)
    assert page.item.text("condition") == "dry x"


def test_a_keyboard_of_another_country_still_finds_the_sample(
    page: ReceivingPage, bench: Bench
) -> None:
    bench.case.do(Add((make(Sample, ref="SZ-1"),)))
    look_outside(page)
    page.scan("SY1")
    assert page.sample == "SZ-1"


def test_twelve_samples_are_received_in_one_act(
    page: ReceivingPage, bench: Bench, tmp_path: Path
) -> None:
    look_outside(page)
    picture = tmp_path / "p.jpg"
    picture.write_bytes(b"\xff\xd8\xff\xd9")
    for number in range(1, 13):
        page.scan(f"S{number:02}")
        page.as_expected()
        page.item.put("condition", "dry")
        page.item.put("place", "Cabinet 3")
        page._on_item()
    page.take_photo(picture)
    assert page._finish.isEnabled()
    page.finish()
    entries = bench.dossier.all(CustodyEntry)
    assert sum(one.event.value == "received" for one in entries) == 12
    assert not bench.dossier.all(Discrepancy)
    assert [one.at for one in bench.dossier.all(Photo)] == ["S-12"]
    assert page.list.lines.rowCount() == 0
    page.write(tmp_path / "receipt.docx")
    assert (tmp_path / "receipt.docx").stat().st_size > 5000


def test_an_amount_without_a_number_is_told_and_kept_in_the_field(page: ReceivingPage) -> None:
    look_outside(page)
    page.scan("S-01")
    page.item.put("amount", "some")
    page._on_item()
    assert "number" in page.said.text()
    assert page.item.text("amount") == "some"
    page.scan("S-02")
    assert page.sample == "S-01"


def test_the_guard_lets_go_when_the_page_is_hidden(page: ReceivingPage) -> None:
    page.hide()
    assert not page.guard._standing
