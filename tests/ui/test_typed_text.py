"""What is typed and not saved outlives the program, however it ends."""

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot
from tools.pages import page_of

from workbench.desk.case import Case
from workbench.desk.receiving import DeliveryMode, OuterCondition, Papers
from workbench.records import PullOff
from workbench.records.codes import SealCondition
from workbench.ui.bench import Bench
from workbench.ui.drafts import Drafts
from workbench.ui.pages.custody import CustodyPage
from workbench.ui.pages.open_points import OpenPointsPage
from workbench.ui.pages.receiving import ReceivingPage
from workbench.ui.pages.records import RecordsPage
from workbench.ui.window import Window

TYPING = """
import sys, time
from pathlib import Path
from PySide6.QtTest import QTest
from workbench.desk.case import Case
from workbench.ui.app import application
from workbench.ui.bench import Bench
from workbench.ui.drafts import Drafts
from workbench.ui.pages.records import RecordsPage
from workbench.records import PullOff
app = application()
case = Case.open(Path(sys.argv[1]), author="Ann")
page = RecordsPage(Bench(case, Drafts(Path(sys.argv[2]), case.folder)), PullOff)
page.show()
page.add()
QTest.keyClicks(page.form.form.field("ref"), "P-99")
QTest.keyClicks(page.form.form.field("note"), "lifted with the cut")
print("typed", flush=True)
time.sleep(60)
"""


RECEIVING = """
import sys, time
from pathlib import Path
from workbench.desk.case import Case
from workbench.ui.app import application
from workbench.ui.bench import Bench
from workbench.ui.drafts import Drafts
from workbench.ui.pages.receiving import ReceivingPage
app = application()
case = Case.open(Path(sys.argv[1]), author="Ann")
page = ReceivingPage(Bench(case, Drafts(Path(sys.argv[2]), case.folder)))
page.show()
for name, text in dict(arg.split("=", 1) for arg in sys.argv[5:]).items():
    page.outside.put(name, text)
page._on_outside()
for ref, picture in zip(("S-01", "S-02"), sys.argv[3:5]):
    page.scan(ref)
    page.item.put("condition", f"dry, {ref}")
    page.take_photo(Path(picture))
print("typed", flush=True)
time.sleep(60)
"""


def killed(script: str, *words: str) -> None:
    """Run a script until it says that it has typed, and kill it."""
    surroundings = {**os.environ, "QT_QPA_PLATFORM": "offscreen"}
    typing = subprocess.Popen(
        [sys.executable, "-c", script, *words], stdout=subprocess.PIPE, text=True, env=surroundings
    )
    assert typing.stdout
    assert "typed" in typing.stdout.readline()
    typing.kill()
    typing.wait(10)
    typing.stdout.close()


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="needs SIGKILL")
def test_no_key_is_lost_when_the_program_is_killed_and_the_case_opens_again(
    sample: Path, tmp_path: Path, window: Window
) -> None:
    window.close_case()
    folder = tmp_path / "kept"
    killed(TYPING, str(sample), str(folder))
    kept = Drafts(folder, sample).of(PullOff, None)
    assert (kept["ref"], kept["note"]) == ("P-99", "lifted with the cut")
    assert window.open_case(sample)
    assert window.bench
    assert not window.bench.case.read_only


OUTSIDE = {
    "mode": DeliveryMode.CARRIER, "by": "A. Carrier", "number": "C-1",
    "condition": OuterCondition.SOUND, "papers": Papers.COMPLETE, "seal": "77",
    "seal_condition": SealCondition.INTACT, "containers": "1",
}  # fmt: skip


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="needs SIGKILL")
def test_photographs_chosen_at_the_receiving_desk_outlive_a_kill(
    sample: Path, tmp_path: Path, qtbot: QtBot
) -> None:
    pictures = [tmp_path / "one.jpg", tmp_path / "two.png"]
    for picture in pictures:
        picture.write_bytes(picture.name.encode())
    said = (f"{name}={text}" for name, text in OUTSIDE.items())
    killed(RECEIVING, str(sample), str(tmp_path / "kept"), *map(str, pictures), *said)
    pictures[1].unlink()
    with Case.open(sample, author="Ann") as case:
        page = ReceivingPage(Bench(case, Drafts(tmp_path / "kept", sample)))
        qtbot.addWidget(page)
        first, second = page.reception.item("S-01"), page.reception.item("S-02")
        assert first
        assert second
        assert first.photo == "photos/received-S-01.jpg"
        assert page._photos == {first.photo: pictures[0]}
        assert (second.condition, second.photo) == ("dry, S-02", "")
        assert page.said.text().startswith("The photograph of S-02 is not where it was")


def again(window: Window) -> None:
    """Close the case without saving anything, and open it again."""
    assert window.bench
    folder = window.bench.case.folder
    window.close_case()
    assert window.open_case(folder)


def test_a_reason_half_written_stands_there_again(window: Window) -> None:
    page_of(window, "open-points", OpenPointsPage).reason.setText("the glue was")
    again(window)
    page = page_of(window, "open-points", OpenPointsPage)
    assert page.reason.text() == "the glue was"
    page.reason.clear()
    again(window)
    assert not page_of(window, "open-points", OpenPointsPage).reason.text()


def test_an_entry_of_custody_half_written_stands_there_again(window: Window) -> None:
    page = page_of(window, "chain", CustodyPage)
    page.fields.put("receiver", "Quillmoor")
    page._on_typed()
    again(window)
    assert page_of(window, "chain", CustodyPage).fields.text("receiver") == "Quillmoor"


def test_a_delivery_half_looked_at_stands_there_again(window: Window, qtbot: QtBot) -> None:
    del qtbot
    page = page_of(window, "receiving", ReceivingPage)
    for name, text in OUTSIDE.items():
        page.outside.put(name, str(text))
    page._on_outside()
    page.scan("S-01")
    page.item.put("condition", "dry")
    page._on_item()
    again(window)
    page = page_of(window, "receiving", ReceivingPage)
    assert page.outside.text("by") == "A. Carrier"
    assert page.sample == "S-01"
    assert page.item.text("condition") == "dry"
    assert page.reception.item("S-01")


def test_a_record_page_keeps_what_is_typed_when_text_is_made_larger(window: Window) -> None:
    page = page_of(window, "pull_off", RecordsPage)
    page.add()
    page.form.form.write({"ref": "P-98", "note": "half a"})
    window.set_text(150)
    page = page_of(window, "pull_off", RecordsPage)
    page.add()
    assert page.form.form.texts["note"] == "half a"
