"""Records are tied to the originals they name; what cannot be read is told."""

from pathlib import Path

import numpy as np
import pytest
from bottling_hall import bottling_hall, picture
from builders import dossier, make

from workbench.analysis.spectra.spectrum import Ordinate
from workbench.desk.laboratory.claims import Opened
from workbench.desk.laboratory.files import curves_in
from workbench.desk.laboratory.reading import (
    laboratory_of,
    match_against_controls,
    spectra_of,
    thermograms_of,
)
from workbench.records import Curve, CurveKind, CurveRole, Heat, LabResult, Sample
from workbench.records.codes import Condition

CASE = bottling_hall()


def table(path: Path, head: str, rows: list[tuple[float, ...]]) -> Path:
    path.write_text("\n".join([head, *(",".join(map(str, row)) for row in rows)]), "utf-8")
    return path


def test_the_spectra_of_the_sample_case_are_tied_to_sample_face_and_condition() -> None:
    opened = Opened(picture)
    spectra = spectra_of(CASE, opened)
    assert opened.problems == []
    assert {(one.sample, one.face, one.condition) for one in spectra} == {
        ("S-01", "C/D@D", Condition.FAILING),
        ("S-02", "C/D@D", Condition.FAILING),
        ("S-04", "bulk D", Condition.NON_FAILING),
        ("S-08", "bulk D", Condition.CONTROL),
        ("S-09", "", Condition.UNKNOWN),
        ("", "", Condition.UNKNOWN),
    }
    assert {one.role for one in spectra} == {
        CurveRole.SPECIMEN, CurveRole.CONTROL, CurveRole.REFERENCE, CurveRole.CHECK_FILM,
    }  # fmt: skip


def test_failing_faces_are_held_against_the_sound_one_and_nothing_is_left_over() -> None:
    spectra = spectra_of(CASE, Opened(picture))
    studies = {one.of.sample: one for one in match_against_controls(spectra)}
    assert studies[""].against == ()
    assert studies[""].wavenumbers
    assert studies[""].wavenumbers.passed
    for failing in ("S-01", "S-02"):
        held, *_ = studies[failing].against
        assert {one.known.sample for one in studies[failing].against} == {"S-04", "S-08", "S-09"}
        assert held.known.sample == "S-04"
        assert held.match.score > 0.999
        assert held.more == held.less == ()
        assert "thin enough would not show" in held.words[0]


def test_every_column_of_a_thermogram_is_a_curve_with_its_heat() -> None:
    opened = Opened(picture)
    curves = thermograms_of(CASE, opened)
    assert opened.problems == []
    assert {(one.sample, one.heat) for one in curves if one.sample in ("S-02", "S-04")} == {
        ("S-02", Heat.FIRST), ("S-02", Heat.SECOND), ("S-04", Heat.FIRST), ("S-04", Heat.SECOND),
    }  # fmt: skip
    assert all(one.exotherm_up and one.rate_k_min == 10 for one in curves)


def test_a_curve_record_says_more_than_the_result_that_names_the_file(tmp_path: Path) -> None:
    path = table(
        tmp_path / "s.csv",
        "wavenumber 1/cm,front,back",
        [(600 + 4 * n, 90 - n % 7, 80.0) for n in range(60)],
    )
    case = dossier(
        make(Sample, ref="S1", purpose="reference"),
        make(LabResult, file="lab/s.csv"),
        make(
            Curve, ref="C1", file="lab/s.csv", part="back", kind="infrared", sample="S1",
            ordinate="percent transmittance",
        ),
    )  # fmt: skip
    opened = Opened(lambda _name: path)
    (one,) = spectra_of(case, opened)
    assert opened.problems == []
    assert one.part == "back"
    assert one.role is CurveRole.REFERENCE
    assert one.spectrum.ordinate is Ordinate.PERCENT_TRANSMITTANCE
    assert one.spectrum.absorbance().y == pytest.approx(np.full(60, -np.log10(0.8)))
    assert [source.noun for source in one.sources] == ["curve", "lab_result"]


def test_an_original_that_is_not_there_or_not_readable_is_told(tmp_path: Path) -> None:
    case = dossier(make(Sample), make(LabResult, file="lab/gone.jdx"))
    found = laboratory_of(case, lambda _name: None)
    assert found.spectra == ()
    assert "lab/gone.jdx: not in the case" in found.problems[0]
    path = tmp_path / "bad.csv"
    path.write_text("only words\n", "utf-8")
    found = laboratory_of(case, lambda _name: path)
    assert found.spectra == ()
    assert any("columns of numbers" in one for one in found.problems)


def test_a_thermogram_in_kelvin_is_told_in_degrees_celsius(tmp_path: Path) -> None:
    path = tmp_path / "t.jdx"
    points = " ".join(f"{300 + n},{n % 5}" for n in range(20))
    path.write_text(
        "##TITLE=t\n##JCAMP-DX=4.24\n##DATA TYPE=DSC\n##XUNITS=K\n##YUNITS=mW\n"
        f"##NPOINTS=20\n##XYPOINTS=(XY..XY)\n{points}\n##END=\n",
        "utf-8",
    )
    (curve,) = curves_in(path, "t.jdx").curves
    assert curve.kind is CurveKind.THERMOGRAM
    assert curve.curve.x[0] == pytest.approx(26.85)
