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
    PeakReading,
    SectionReading,
    Source,
    Thickness,
    TransitionReading,
)
from workbench.ui.bench import Bench
from workbench.ui.laboratory.page import LaboratoryPage
from workbench.ui.pages.colours import ColoursPage
from workbench.ui.pages.elements import ElementsPage
from workbench.ui.pages.microscopy import MicroscopyPage
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
    qtbot.waitUntil(lambda: len(page.list.lines.lines) == 6)
    assert [line.cells[1] for line in page.list.lines.lines] == [
        "failing", "failing", "non-failing", "control", "reference", "check film",
    ]  # fmt: skip
    assert page.list.lines.lines[-1].cells[-1] == "within tolerance"
    assert page.against.lines.lines[0].cells[:2] == ("S-04, bulk D", "0.9998")
    assert "thin enough would not show" in page.meaning.text()
    assert page.drawing
    assert len(page.drawing.figure.axes[0].lines) >= 3
    assert "S-02" in page.drawing.accessibleDescription()
    page.said.set_text("Candidate", "aliphatic polyurethane")
    page.assign()
    assert [one.ref for one in page.bench.dossier.all(Assignment)] == ["AS-1"]
    page.said.set_text("Reason", "bands of the control, none besides")
    page.assign()
    *_, held = page.bench.dossier.all(Assignment)
    assert (held.ref, held.by) == ("AS-2", "Ann")
    wait_for_originals(ready, qtbot)
    qtbot.waitUntil(lambda: len(page.assigned.lines.lines) == 1, timeout=30_000)


def test_a_region_left_out_that_cannot_be_read_is_told_and_the_spectra_stay(
    ready: Bench, qtbot: QtBot
) -> None:
    page = opened(SpectraPage(ready), qtbot)
    qtbot.waitUntil(lambda: len(page.list.lines.lines) == 6)
    page.settings.set_text("Left out", "carbon dioxide")
    page.renew()
    assert "no list of regions" in page.wrong.text()
    assert len(page.list.lines.lines) == 6
    page.settings.set_text("Left out", "2280 2400; 650 1000")
    page.renew()
    assert page.wrong.text() == ""


def test_spectra_are_smoothed_over_an_odd_number_of_points(ready: Bench, qtbot: QtBot) -> None:
    page = opened(SpectraPage(ready), qtbot)
    qtbot.waitUntil(lambda: len(page.list.lines.lines) == 6)
    for said, wrong in (("8", "“8” is no odd number"), ("x", "“x” is no odd number"), ("9", "")):
        page.smoothing.set_text("Smoothed over", said)
        page.renew()
        assert (wrong in page.wrong.text()) if wrong else page.wrong.text() == ""


def test_the_ratio_of_two_bands_is_told_for_every_spectrum(ready: Bench, qtbot: QtBot) -> None:
    page = opened(SpectraPage(ready), qtbot)
    qtbot.waitUntil(lambda: len(page.list.lines.lines) == 6)
    ratios = page.ratios
    ratios.fields.set_text("Band", "1728 1705 1760")
    ratios.fields.set_text("Reference band", "1242 1205 1275")
    ratios.show_studies(ratios.studies)
    names, _, told = zip(*(line.cells for line in ratios.found.lines.lines), strict=True)
    assert "polystyrene" not in " ".join(names)
    assert all(0.5 < float(one) < 3 for one in told)
    ratios.fields.set_text("Band", "1728 1740 1760")
    ratios.show_studies(ratios.studies)
    assert "feet lie on both sides" in ratios.wrong.text()
    ratios.fields.set_text("Band", "carbonyl")
    ratios.show_studies(ratios.studies)
    assert "“carbonyl” is no band" in ratios.wrong.text()
    assert not ratios.found.lines.lines


def test_a_construction_on_a_thermogram_is_proposed_changed_and_recorded(
    ready: Bench, qtbot: QtBot
) -> None:
    page = opened(ThermogramsPage(ready), qtbot)
    qtbot.waitUntil(lambda: len(page.list.lines.lines) == 7)
    assert page.list.lines.lines[0].cells[:2] == ("S-02, bulk D, first heat", "failing")
    assert page.read
    assert page.fields.text("Rate K/min") == "10"
    page.fields.set_text("After, from °C", "10")
    changed(page)
    assert "out of order" in page.wrong.text()
    page.record()
    assert len(page.bench.dossier.all(TransitionReading)) == 5
    page.fields.set_text("After, from °C", "75")
    changed(page)
    page.record()
    *_, reading = page.bench.dossier.all(TransitionReading)
    assert reading.ref == "TG-6"
    assert page.bench.dossier.all(LabResult)[-1].note.endswith(str(reading.source))


def test_a_section_is_read_by_keyboard_alone(ready: Bench, qtbot: QtBot) -> None:
    page = opened(SectionsPage(ready), qtbot)
    qtbot.waitUntil(lambda: len(page.list.lines.lines) > 1)
    chips = next(n for n, one in enumerate(page.list.lines.lines) if one.cells[0] == "PH-17")
    page.list.setCurrentIndex(page.list.model().index(chips, 0))
    page.propose()
    assert "No seams proposed" in page.wrong.text()
    page.list.setCurrentIndex(page.list.model().index(0, 0))
    for name in ("Scale, two points", "Line, start and end"):
        page.fields.set_text(name, "")
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
    assert len(page.bench.dossier.all(SectionReading)) == 2
    page.record()
    *_, reading = page.bench.dossier.all(SectionReading)
    assert reading.confirmed_by == "Ann"
    assert [one.layer for one in page.bench.dossier.all(Thickness)][-3:] == ["3", "2", "1"]


def test_elements_show_faces_ratios_and_bounds(ready: Bench, qtbot: QtBot) -> None:
    page = opened(ElementsPage(ready), qtbot)
    qtbot.waitUntil(lambda: len(page.ratios.lines.lines) > 5)
    said = {line.cells[:2]: line.cells[5] for line in page.ratios.lines.lines}
    assert said["Na", "S-02, C/D@D"] == "< 0.5"
    assert said["Cl", "S-01, C/D@D"] == "both below the limit"
    assert not page.bench.selection.sources


def test_a_peak_is_bounded_told_as_degree_of_cure_and_recorded(ready: Bench, qtbot: QtBot) -> None:
    page = opened(ThermogramsPage(ready), qtbot)
    qtbot.waitUntil(lambda: len(page.list.lines.lines) == 7)
    page.ways.setCurrentIndex(1)
    said = {line.cells[0]: line.cells[1] for line in page.peaks.found.lines.lines}
    assert page.peaks.fields.text("Fresh mixture") == "PK-3"
    assert said["degree of cure"] == "at least 98 %"
    assert "below the 1 J/g" in said["direction"]
    page.record_peak()
    assert page.bench.dossier.all(PeakReading)[-1].ref == "PK-5"
    result = page.bench.dossier.all(LabResult)[-1]
    assert (result.quantity, str(result.value)) == ("exotherm", "none")
    page.peaks.fields.set_text("Peak to °C", "many")
    page._construct()  # as leaving the field does
    assert "is no number" in page.wrong.text()


def test_two_heats_cure_rules_and_checks_stand_under_the_curve(ready: Bench, qtbot: QtBot) -> None:
    page = opened(ThermogramsPage(ready), qtbot)
    qtbot.waitUntil(lambda: len(page.tables.heats.lines.lines) == 2)
    assert page.tables.heats.lines.lines[0].cells[:4] == (
        "S-02, half step height", "61.8", "63.0", "+1.2",
    )  # fmt: skip
    assert page.tables.cures.lines.lines[0].cells[4] == "at least 98 %"
    assert [one.cells[2] for one in page.tables.estimates.lines.lines] == [
        "Fox", "DiBenedetto, cure from Tg",
    ]  # fmt: skip
    assert len(page.tables.checks.lines.lines) == 10
    assert {one.cells[4] for one in page.tables.checks.lines.lines} == {"within"}


def test_x_ray_spectra_bear_labels_of_the_elements_reported_or_asked_for(
    ready: Bench, qtbot: QtBot
) -> None:
    page = opened(ElementsPage(ready), qtbot)
    qtbot.waitUntil(lambda: len(page.peaks.lines.lines) > 10)
    labels = {line.cells[3] for line in page.peaks.lines.lines}
    assert {"C Kα", "O Kα", "Ti Kα", "Ti Kβ"} <= labels
    assert "Ba Lα" not in " ".join(labels)
    assert page.sums.lines.lines[-1].cells[2] == "100.0"
    page.labelled.set_text("Label with", "Ti Ba")
    page.show_found(page.bench.answers.ask(page.bench.laboratory))  # type: ignore[arg-type]
    assert "Ti Kα / Ba Lα" in {line.cells[3] for line in page.peaks.lines.lines}
    assert "Ba and Ti cannot be told apart" in page.warnings.text()
    assert "V or Ba for Ti" in page.warnings.text()
    assert "Al + C for Si" in page.warnings.text()
    page.spectra.setChecked(True)
    assert page.drawing
    assert "Ti Kα" in page.drawing.accessibleDescription()


def test_a_colour_read_off_a_photograph_is_told_as_indicative(ready: Bench, qtbot: QtBot) -> None:
    page = opened(ColoursPage(ready), qtbot)
    qtbot.waitUntil(lambda: len(page.list.lines.lines) == 3)
    told = {line.cells[0]: line.cells for line in page.list.lines.lines}
    assert told["CR-2"][3] == "1.59"
    assert told["CR-2"][7:] == ("77 %", "")
    assert told["CR-4"][7] == ""
    assert "indicative only" in told["CR-4"][8]


def test_observations_stand_beside_their_picture(ready: Bench, qtbot: QtBot) -> None:
    page = MicroscopyPage(ready)
    qtbot.addWidget(page)
    page.resize(1000, 680)
    page.show()
    page.renew()
    qtbot.waitUntil(lambda: page.drawing is not None)
    ready.selection.light([Source("microscopy", "M-4")])
    assert page.drawing
    said = page.drawing.accessibleDescription()
    assert "M-3, interface line: present" in said
    assert "M-4, voids: few" in said


@pytest.mark.parametrize(
    "made", [SpectraPage, ThermogramsPage, SectionsPage, ElementsPage, ColoursPage]
)
def test_every_field_and_button_of_the_laboratory_has_a_name(
    ready: Bench, made: type[LaboratoryPage], qtbot: QtBot
) -> None:
    page = opened(made(ready), qtbot)
    for kind in (QLineEdit, QComboBox, QAbstractButton):
        for one in page.findChildren(kind):
            if one.isVisible() and not one.objectName().startswith("qt_"):
                text = one.text() if isinstance(one, QAbstractButton) else ""
                assert one.accessibleName() or text, one
