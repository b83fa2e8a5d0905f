"""The chain of custody on the screen: holders, story, breaches, the next entry, putting right."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from builders import make
from pytestqt.qtbot import QtBot

from workbench.desk.acts import Add
from workbench.desk.case import Case
from workbench.records import CustodyEntry, Party, Sample
from workbench.ui.bench import Bench
from workbench.ui.drafts import Drafts
from workbench.ui.pages.custody import CustodyPage


def entry(when: str, event: str, giver: str, receiver: str, ref: str = "S-01") -> CustodyEntry:
    return make(CustodyEntry, sample=ref, when=when, event=event, giver=giver, receiver=receiver)


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    case = Case.create(tmp_path / "a.case", author="Ann")
    case.do(
        Add(
            (
                make(Party, name="Lab", role="laboratory"),
                make(Sample, ref="S-01"),
                make(Sample, ref="S-02"),
                entry("2026-03-01 09:00", "collected", "", "Ann"),
                entry("2026-03-02 09:00", "handed_over", "Ann", "Lab"),
                entry("2026-03-01 09:00", "collected", "", "Ann", "S-02"),
                entry("2026-03-02 09:00", "handed_over", "Zed", "Lab", "S-02"),
            )
        )
    )
    made = Bench(case, Drafts(tmp_path / "drafts", case.folder))
    yield made
    made.close()


@pytest.fixture
def page(bench: Bench, qtbot: QtBot) -> Iterator[CustodyPage]:
    made = CustodyPage(bench)
    qtbot.addWidget(made)
    made.show()
    qtbot.waitExposed(made)
    yield made
    made.hide()


def cells(page: CustodyPage, column: int) -> list[str]:
    return [line.cells[column] for line in page.samples.lines.lines]


def test_each_sample_shows_its_holder_and_whether_its_chain_holds(page: CustodyPage) -> None:
    assert cells(page, 1) == ["S-01", "S-02"]
    assert cells(page, 2) == ["Lab", "Lab"]
    marks = cells(page, 0)
    assert marks[1] == "✗"
    page.samples.setCurrentIndex(page.samples.lines.index(1, 0))
    assert "Zed gives it, Ann holds it" in page.wrong.text()
    assert page.wrong.isVisible()


def test_the_next_entry_begins_with_the_holder_and_goes_into_the_ledger(
    page: CustodyPage, bench: Bench
) -> None:
    assert page.fields.text("giver") == "Lab"
    page.fields.put("event", "stored")
    page.fields.put("receiver", "Lab")
    page.fields.put("place", "Cabinet 3")
    page.record()
    last = bench.dossier.all(CustodyEntry)[-1]
    assert (last.sample, last.event.value, last.place) == ("S-01", "stored", "Cabinet 3")
    assert last.recorded_at
    assert page.story.lines.rowCount() == 3


def test_an_entry_without_an_event_is_refused_in_words(
    page: CustodyPage, bench: Bench, qtbot: QtBot
) -> None:
    with qtbot.waitSignal(bench.refused) as told:
        page.record()
    assert "what happened" in told.args[0]


def test_putting_right_leaves_the_old_entry_legible(page: CustodyPage, bench: Bench) -> None:
    page.samples.setCurrentIndex(page.samples.lines.index(1, 0))
    page.story.setCurrentIndex(page.story.lines.index(1, 0))
    page.put_right()
    page.fields.put("giver", "Ann")
    page.record()
    assert len(bench.dossier.all(CustodyEntry)) == 5
    shown = [line.cells[1] for line in page.story.lines.lines]
    assert "handed over (put right)" in shown
    assert "Zed gives it" not in page.wrong.text()


def test_the_entry_chosen_is_what_how_do_you_know_asks_about(page: CustodyPage) -> None:
    page.story.setCurrentIndex(page.story.lines.index(0, 0))
    assert page.current is not None
    assert page.current.noun == "custody"


def test_one_entry_is_made_for_each_sample_chosen(page: CustodyPage, bench: Bench) -> None:
    page.samples.selectAll()
    page.fields.put("event", "dispatched")
    page.fields.put("receiver", "Van")
    page.record()
    last = bench.dossier.all(CustodyEntry)[-2:]
    assert [(one.sample, one.giver, one.receiver) for one in last] == [
        ("S-01", "Lab", "Van"), ("S-02", "Lab", "Van"),
    ]  # fmt: skip


def test_records_go_out_and_come_back_from_the_page(
    page: CustodyPage, bench: Bench, tmp_path: Path, qtbot: QtBot
) -> None:
    with qtbot.waitSignal(bench.refused):
        page.ask_hand_over()
    page.fields.put("receiver", "Lab")
    with qtbot.waitSignal(bench.told):
        page.hand_over(tmp_path / "bag")
    assert (tmp_path / "bag" / "bagit.txt").exists()
    with qtbot.waitSignal(bench.refused) as told:
        page.join(tmp_path / "bag")
    assert "nothing new" in told.args[0]


def test_form_and_labels_are_written_from_the_page(page: CustodyPage, tmp_path: Path) -> None:
    page.write_form(tmp_path / "form.docx")
    page.write_labels(tmp_path / "labels.pdf")
    assert (tmp_path / "form.docx").exists()
    assert (tmp_path / "labels.pdf").exists()
