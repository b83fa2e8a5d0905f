"""The laboratory's pages: what is chosen is evaluated, what is recorded is the person's word."""

from typing import TypeVar

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QComboBox, QLineEdit
from pytestqt.qtbot import QtBot

from workbench.records import (
    Assignment,
    LabResult,
    MarkShape,
    SectionReading,
    Thickness,
    TransitionReading,
)
from workbench.ui.bench import Bench
from workbench.ui.laboratory.page import LaboratoryPage
from workbench.ui.pages.elements import ElementsPage
from workbench.ui.pages.sections import SectionsPage
from workbench.ui.pages.spectra import SpectraPage
from workbench.ui.pages.thermograms import ThermogramsPage

pytestmark = pytest.mark.computing
P = TypeVar("P", bound=LaboratoryPage)


@pytest.fixture
def ready(bench: Bench, qtbot: QtBot) -> Bench:
    """The bench once the originals are read."""
    wait_for_originals(bench, qtbot)
    return bench


def wait_for_originals(bench: Bench, qtbot: QtBot) -> None:
    qtbot.waitUntil(lambda: bench.answers.ask(bench.laboratory) is not None, timeout=30_000)


def changed(page: ThermogramsPage) -> None:
    """Leave a field as a person does after writing in it."""
    field = page.fields.held["After, from °C"]
    assert isinstance(field, QLineEdit)
    field.editingFinished.emit()


def opened(page: P, qtbot: QtBot) -> P:
    qtbot.addWidget(page)
    page.resize(1000, 680)
    page.show()
    qtbot.waitUntil(page.isVisible)
    return page


def test_spectra_are_overlaid_held_against_the_control_and_assigned_with_a_reason(
    ready: Bench, qtbot: QtBot
) -> None:
    page = opened(SpectraPage(ready), qtbot)
    qtbot.waitUntil(lambda: len(page.list.lines.lines) == 3)
    assert page.against.lines.lines[0].cells[:2] == ("S-04, bulk D", "0.9998")
    assert "thin enough would not show" in page.meaning.text()
    assert page.drawing
    assert len(page.drawing.figure.axes[0].lines) >= 3
    assert "S-02" in page.drawing.accessibleDescription()
    page.said.set_text("Candidate", "aliphatic polyurethane")
    page.assign()
    assert page.bench.dossier.all(Assignment) == ()
    page.said.set_text("Reason", "bands of the control, none besides")
    page.assign()
    (held,) = page.bench.dossier.all(Assignment)
    assert held.by == "Ann"
    wait_for_originals(ready, qtbot)
    qtbot.waitUntil(lambda: len(page.assigned.lines.lines) == 1, timeout=30_000)


def test_a_region_left_out_that_cannot_be_read_is_told_and_the_spectra_stay(
    ready: Bench, qtbot: QtBot
) -> None:
    page = opened(SpectraPage(ready), qtbot)
    qtbot.waitUntil(lambda: len(page.list.lines.lines) == 3)
    page.settings.set_text("Left out", "carbon dioxide")
    page.renew()
    assert "no list of regions" in page.wrong.text()
    assert len(page.list.lines.lines) == 3
    page.settings.set_text("Left out", "2280 2400; 650 1000")
    page.renew()
    assert page.wrong.text() == ""


def test_a_construction_on_a_thermogram_is_proposed_changed_and_recorded(
    ready: Bench, qtbot: QtBot
) -> None:
    page = opened(ThermogramsPage(ready), qtbot)
    qtbot.waitUntil(lambda: len(page.list.lines.lines) == 4)
    assert page.read
    assert page.fields.text("Rate K/min") == "10"
    page.fields.set_text("After, from °C", "10")
    changed(page)
    assert "out of order" in page.wrong.text()
    page.record()
    assert page.bench.dossier.all(TransitionReading) == ()
    page.fields.set_text("After, from °C", "75")
    changed(page)
    page.record()
    (reading,) = page.bench.dossier.all(TransitionReading)
    assert page.bench.dossier.all(LabResult)[-1].note.endswith(str(reading.source))


def test_a_section_is_read_by_keyboard_alone(ready: Bench, qtbot: QtBot) -> None:
    page = opened(SectionsPage(ready), qtbot)
    qtbot.waitUntil(lambda: len(page.list.lines.lines) > 1)
    page.propose()
    assert "No seams proposed" in page.wrong.text()
    page.choose_tool(MarkShape.SCALE)
    QTest.keyClick(page.view, Qt.Key.Key_Space)
    QTest.keyClick(page.view, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    QTest.keyClick(page.view, Qt.Key.Key_Space)
    assert page.fields.text("Scale, two points") == "0.5 0.5; 0.55 0.5"
    for name, said in (
        ("Scale, two points", "0.6333 0.052; 0.7758 0.052"), ("Scale length", "500 um"),
        ("Line, start and end", "0.3 0.15; 0.3 0.93"), ("Layers along it", "3; -; 2; 1"),
    ):  # fmt: skip
        page.fields.set_text(name, said)
    page.propose()
    assert page.wrong.text() == ""
    assert [line.cells[0] for line in page.layers.lines.lines][:4] == ["3", "gap", "2", "1"]
    before = page.layers.lines.lines[0].cells[1]
    page.layers.setCurrentIndex(page.layers.model().index(1, 0))
    page.move_seam(2)
    assert page.layers.lines.lines[0].cells[1] != before
    assert page.bench.dossier.all(SectionReading) == ()
    page.record()
    (reading,) = page.bench.dossier.all(SectionReading)
    assert reading.confirmed_by == "Ann"
    assert [one.layer for one in page.bench.dossier.all(Thickness)][-3:] == ["3", "2", "1"]


def test_elements_show_faces_ratios_and_bounds(ready: Bench, qtbot: QtBot) -> None:
    page = opened(ElementsPage(ready), qtbot)
    qtbot.waitUntil(lambda: len(page.ratios.lines.lines) > 5)
    said = {line.cells[:2]: line.cells[5] for line in page.ratios.lines.lines}
    assert said["Na", "S-02, C/D@D"] == "< 0.5"
    assert said["Cl", "S-01, C/D@D"] == "both below the limit"
    assert not page.bench.selection.sources


@pytest.mark.parametrize("made", [SpectraPage, ThermogramsPage, SectionsPage, ElementsPage])
def test_every_field_and_button_of_the_laboratory_has_a_name(
    ready: Bench, made: type[LaboratoryPage], qtbot: QtBot
) -> None:
    page = opened(made(ready), qtbot)
    for kind in (QLineEdit, QComboBox, QAbstractButton):
        for one in page.findChildren(kind):
            if one.isVisible() and not one.objectName().startswith("qt_"):
                text = one.text() if isinstance(one, QAbstractButton) else ""
                assert one.accessibleName() or text, one
