"""What is evaluated becomes records with their sources, each in one act that can be undone."""

from dataclasses import replace
from pathlib import Path

import pytest
from builders import dossier, make
from PIL import Image

from workbench.analysis.laboratory.micrographs import read_section
from workbench.analysis.laboratory.peaks import ReadPeak
from workbench.analysis.laboratory.thermograms import construct
from workbench.desk.case import Case
from workbench.desk.intake import make_from_book
from workbench.desk.laboratory.claims import Opened
from workbench.desk.laboratory.constructing import Sketch, proposed, sketch_of
from workbench.desk.laboratory.reading import (
    laboratory_of,
    match_against_controls,
    spectra_of,
    thermograms_of,
)
from workbench.desk.laboratory.results import (
    assignment_act,
    comparison_act,
    next_ref,
    peak_act,
    section_act,
    transition_act,
)
from workbench.records import (
    Assignment,
    KnownError,
    LabResult,
    PeakReading,
    SectionReading,
    Source,
    Thickness,
    TransitionReading,
    When,
    new_id,
)
from workbench.records.codes import YesNo
from workbench.resources import sample_case

TODAY = When("2024-12-20")


@pytest.fixture(scope="module")
def case(tmp_path_factory: pytest.TempPathFactory) -> Case:
    folder = tmp_path_factory.mktemp("lab") / "bh.case"
    return Case.open(make_from_book(folder, sample_case("bottling-hall-floor"), author="Ann"))


def reading(ref: str = "TG-9") -> TransitionReading:
    return make(
        TransitionReading, ref=ref, file="lab/s-02-dsc.csv", part="heat flow first W/g",
        sample="S-02", face="bulk D", heat="first", before_from="20 degC", before_to="50 degC",
        after_from="75 degC", after_to="120 degC", definition="half step height", rate="10 K/min",
        by="Ann", date="2024-12-20",
    )  # fmt: skip


def test_a_transition_becomes_a_result_that_names_definition_and_construction(case: Case) -> None:
    curves = thermograms_of(case.dossier, Opened(case.original))
    curve = next(one for one in curves if one.part == "heat flow first W/g")
    read = construct(reading(), curve)
    case.do(transition_act(case.dossier, read, control="S-04"))
    result = case.dossier.all(LabResult)[-1]
    assert result.ref == "R-115"
    assert result.quantity == "tg_first"
    assert result.value.value == pytest.approx(62, abs=1)  # what the laboratory reported
    assert "half step height" in result.note
    assert "transition_reading TG-9" in result.note
    again = laboratory_of(case.dossier, case.original)
    assert again.transitions[-1].celsius == pytest.approx(read.celsius)
    case.undo()
    assert "TG-9" not in {one.ref for one in case.dossier.all(TransitionReading)}
    assert case.dossier.all(LabResult)[-1].ref == "R-114"


def test_a_residual_peak_becomes_a_result_with_its_degree_of_cure(case: Case) -> None:
    found = laboratory_of(case.dossier, case.original)
    peak = next(one for one in found.peaks if one.reading.ref == "PK-1")
    fresh = next(one for one in found.peaks if one.reading.ref == "PK-3")
    assert 40 < fresh.energy_j_g < 60
    act = peak_act(case.dossier, replace(peak, reading=peak_again(peak)), cured=1.0)
    case.do(act)
    result = case.dossier.all(LabResult)[-1]
    assert (result.quantity, str(result.value)) == ("exotherm", "none")
    assert "degree of cure 100 %" in result.note
    assert "below the 1 J/g" in result.note
    case.undo()


def peak_again(peak: ReadPeak) -> PeakReading:
    return replace(peak.reading, id=new_id(), ref="PK-9")


def test_the_section_of_the_sample_case_gives_the_thickness_that_was_drawn(case: Case) -> None:
    size = (1200, 900)
    sketch = Sketch(
        file="photos/ph-20-s-07-section.jpg", sample="S-07/1", size=size,
        scale=((0.6333, 0.052), (0.7758, 0.052)), length="500 um", doubt="3 um",
        line=((0.3, 0.15), (0.3, 0.93)), layers="3; 2; 1",
    )  # fmt: skip
    path = case.original(sketch.file)
    assert path
    made = proposed(sketch, path)
    case.do(section_act(case.dossier, made.reading("SR-9", "Ann", TODAY), size))
    results = case.dossier.all(LabResult)[-3:]
    said = {one.quantity: one.value.value for one in results}
    drawn = {"layer_thickness:1": 155, "layer_thickness:2": 1490, "layer_thickness:3": 82}
    for quantity, um in drawn.items():
        assert said[quantity] == pytest.approx(um, rel=0.05), quantity
    assert all(str(one.coverage_factor) == "2" for one in results)
    layers = [one for one in case.dossier.all(Thickness) if one.method.value == "section"]
    ours = [one for one in layers if "SR-9" in one.note]
    assert [(one.location, one.layer) for one in ours] == [
        ("L505", "3"), ("L505", "2"), ("L505", "1"),
    ]  # fmt: skip
    assert all(one.readings.number == 7 for one in ours)
    again = laboratory_of(case.dossier, case.original).sections[-1]
    assert again.layers[1].mean_um == pytest.approx(said["layer_thickness:1"], abs=0.1)
    assert sketch_of(again.reading, size).read().layers[1].mean_um == again.layers[1].mean_um
    case.undo()


def test_nothing_is_recorded_before_a_person_confirms(tmp_path: Path) -> None:
    picture = tmp_path / "p.png"
    image = Image.new("L", (200, 200), 40)
    image.paste(200, (0, 60, 200, 120))
    image.save(picture)
    sketch = Sketch(
        file="p.png", sample="S1", size=(200, 200), scale=((0.1, 0.1), (0.6, 0.1)),
        length="50 um", line=((0.5, 0.1), (0.5, 0.9)), layers="1",
    )  # fmt: skip
    with pytest.raises(KnownError, match="propose"):
        sketch.reading("SR-1", "Ann", TODAY)
    made = proposed(sketch, picture)
    with pytest.raises(KnownError, match="nobody confirmed"):
        made.reading("SR-1", " ", TODAY)
    assert made.reading("SR-1", "Ann", TODAY).proposed is YesNo.YES
    assert made.read().layers[1].mean_um == pytest.approx(30, rel=0.005)
    moved = made.with_seam_moved(1, 10)
    assert moved.reading("SR-1", "Ann", TODAY).proposed is YesNo.NO
    assert moved.read().layers[1].mean_um == pytest.approx(35, rel=0.005)


@pytest.mark.parametrize(
    ("lack", "words"),
    [({"scale": ()}, "scale"), ({"line": ()}, "line"), ({"layers": ""}, "layers")],
)
def test_a_sketch_says_what_is_lacking(lack: dict[str, object], words: str) -> None:
    whole = Sketch(
        scale=((0.1, 0.1), (0.6, 0.1)), length="50 um", line=((0.5, 0.1), (0.5, 0.9)), layers="1"
    )
    with pytest.raises(KnownError, match=words):
        replace(whole, **lack).reading("SR-1", "Ann", TODAY)  # type: ignore[arg-type]  # as a form


def test_an_assignment_needs_a_reason_and_a_comparison_is_the_persons_word(case: Case) -> None:
    spectra = spectra_of(case.dossier, Opened(case.original))
    of = next(one for one in spectra if one.sample == "S-01")
    act = assignment_act(
        case.dossier, of, said={"candidate": "polyurethane", "reason": ""}, by="Ann", date=TODAY
    )
    with pytest.raises(KnownError, match="no reason"):
        case.do(act)
    said = {"candidate": "polyurethane", "bands": "1728; 1525", "reason": "as the control"}
    case.do(assignment_act(case.dossier, of, said=said, by="Ann", date=TODAY))
    assert case.dossier.all(Assignment)[-1].file == of.file
    study = next(one for one in match_against_controls(spectra) if one.of is of)
    act = comparison_act(case.dossier, of, study.against[0], extra=YesNo.NO, by="Ann", date=TODAY)
    case.do(act)
    result = case.dossier.all(LabResult)[-1]
    assert (result.quantity, str(result.value), result.control) == (
        "ftir_extra_bands", "none", "S-04",
    )  # fmt: skip
    assert "r2 0.999" in result.note


def test_refs_go_on_from_the_highest_there_is() -> None:
    case = dossier(make(LabResult, ref="R-009"), make(LabResult, ref="R-011"))
    assert next_ref(case, LabResult, "R-") == "R-012"
    assert next_ref(dossier(), LabResult, "R-") == "R-1"
    assert Source("lab_result", "R-011") == case.all(LabResult)[1].source


def test_a_recorded_section_is_measured_the_same_in_another_unit_of_its_scale() -> None:
    seams = "0.5 0.3; 0.6 0.3; 0.5 0.6; 0.6 0.6"
    base = make(
        SectionReading, ref="SR-1", file="p", sample="S1", scale="0 0; 0.5 0", length="100 um",
        line="0.5 0; 0.5 1", profiles=2, apart="10 px", seams=seams, layers="1", confirmed_by="A",
    )  # fmt: skip
    inches = replace(base, length=type(base.length).read("3.937007874 mil"))
    one, other = read_section(base, (400, 400)), read_section(inches, (400, 400))
    assert one.layers[1].mean_um == pytest.approx(60)
    assert other.layers[1].mean_um == pytest.approx(60)
