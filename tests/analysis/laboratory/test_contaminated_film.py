"""A real film, measured for a public test disk, is solved: its matrix, the difference, the rest.

The film of the JCAMP-DX Test Disk (R. S. McDonald, public domain) is labelled polystyrene. It also
shows the bands of bisphenol A polycarbonate: nobody documents this; it is read from the positions.
The references are synthesised from positions found in textbooks (from memory), not from the film.
"""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from workbench.analysis.laboratory.spectra import (
    LabSpectrum,
    SpectrumSettings,
    hold_against,
    study_spectrum,
)
from workbench.analysis.spectra.matching import mixture
from workbench.analysis.spectra.spectrum import Ordinate, Spectrum
from workbench.exchange.jcamp import read_jcamp, spectrum_of
from workbench.records import CurveRole

FILES = Path(__file__).parents[2] / "exchange" / "jcamp_files"
POLYSTYRENE = (
    (540, 0.45, 6), (698, 1.0, 5), (757, 0.65, 5), (842, 0.06, 6), (907, 0.17, 5), (1028, 0.27, 5),
    (1069, 0.13, 5), (1154, 0.08, 5), (1181, 0.06, 5), (1371, 0.12, 8), (1452, 0.55, 6),
    (1493, 0.7, 5), (1583, 0.1, 4), (1601, 0.45, 4), (1748, 0.06, 9), (1803, 0.07, 9),
    (1871, 0.08, 9), (1943, 0.08, 9), (2850, 0.4, 9), (2923, 0.8, 12), (3001, 0.15, 7),
    (3026, 0.6, 8), (3060, 0.4, 7), (3082, 0.25, 7),
)  # fmt: skip
POLYCARBONATE = (
    (832, 0.3, 6), (1015, 0.3, 5), (1081, 0.25, 5), (1164, 0.7, 7), (1193, 0.8, 7), (1227, 1.0, 10),
    (1365, 0.12, 6), (1410, 0.1, 5), (1506, 0.5, 5), (1600, 0.1, 6), (1774, 0.75, 9),
    (2870, 0.08, 9), (2969, 0.2, 9),
)  # fmt: skip
ACRYLIC = ((750, 0.1, 8), (1150, 0.9, 18), (1240, 0.5, 15), (1450, 0.3, 10), (1730, 1.0, 10))
ALKYD = ((745, 0.3, 6), (1070, 0.5, 9), (1125, 0.6, 9), (1265, 0.9, 12), (1730, 1.0, 10))
EPOXY = ((829, 0.5, 6), (1036, 0.4, 7), (1182, 0.5, 7), (1247, 0.8, 10), (1508, 0.9, 6))


def reference(title: str, bands: tuple[tuple[float, float, float], ...]) -> LabSpectrum:
    x = np.arange(460.0, 3990.0, 2.0)
    y = sum(height * width**2 / ((x - at) ** 2 + width**2) for at, height, width in bands)
    spectrum = Spectrum(title, x, np.asarray(y, dtype=np.float64), Ordinate.ABSORBANCE)
    return LabSpectrum(spectrum=spectrum, file=title, sample=title, role=CurveRole.REFERENCE)


REFERENCES = tuple(
    reference(title, bands)
    for title, bands in (
        ("acrylic", ACRYLIC), ("alkyd", ALKYD), ("epoxy", EPOXY), ("polycarbonate", POLYCARBONATE),
        ("polystyrene", POLYSTYRENE),
    )
)  # fmt: skip


@pytest.fixture(scope="module")
def film() -> LabSpectrum:
    (block,) = read_jcamp((FILES / "jtpolys.jdx").read_bytes()).blocks
    return LabSpectrum(spectrum=spectrum_of(block), file="film", sample="unknown")


def test_the_matrix_is_the_reference_most_alike(film: LabSpectrum) -> None:
    for slopes in (False, True):
        study = study_spectrum(film, REFERENCES, SpectrumSettings(slopes=slopes))
        best, second = study.against[:2]
        assert best.known.sample == "polystyrene"
        assert best.match.score > second.match.score + 0.05


def test_the_difference_shows_the_bands_of_the_second_material(film: LabSpectrum) -> None:
    held = hold_against(film, REFERENCES[-1])
    found = [peak.position for peak in held.more]
    for band in (1774, 1227, 1193, 1164):
        assert min(abs(band - at) for at in found) < 4, band
    assert any("second material" in words for words in held.words)


def test_the_bands_left_over_lead_to_the_second_material(film: LabSpectrum) -> None:
    held = hold_against(film, REFERENCES[-1])
    assert held.fits[0].chemistry.id == "polycarbonate"
    rest = LabSpectrum(spectrum=held.difference, file="difference")
    again = study_spectrum(rest, REFERENCES)
    assert again.against[0].known.sample == "polycarbonate"


def test_both_materials_together_explain_the_film_better_than_one(film: LabSpectrum) -> None:
    styrene, carbonate = REFERENCES[-1].spectrum, REFERENCES[-2].spectrum
    both = mixture(film.spectrum, (styrene, carbonate))
    assert both.shares[0] > both.shares[1] > 0
    assert both.residual < 0.75 * both.alone


def test_a_study_names_the_two_materials_that_together_explain_the_film(film: LabSpectrum) -> None:
    told = study_spectrum(film, REFERENCES).together
    assert "× polystyrene and" in told
    assert "× polycarbonate together leave" in told
    assert "no shares by mass" in told
    one = LabSpectrum(spectrum=REFERENCES[-1].spectrum, file="one")
    assert study_spectrum(one, REFERENCES[:-1]).together == ""
    assert study_spectrum(film, REFERENCES[:1]).together == ""


def test_smoothing_finds_the_bands_under_noise(film: LabSpectrum) -> None:
    clean = REFERENCES[-1].spectrum
    noise = np.random.default_rng(7).normal(0, 0.03, clean.x.size)
    rough = LabSpectrum(
        spectrum=Spectrum("rough", clean.x, clean.y + noise, Ordinate.ABSORBANCE), file="rough"
    )
    raw, smoothed = (
        study_spectrum(rough, (), SpectrumSettings(smooth=points, prominence=0.05)).peaks
        for points in (0, 11)
    )
    assert len(smoothed) < len(raw) / 2
    found = [peak.position for peak in smoothed]
    for band in (698, 1452, 1493, 2923, 3026):
        assert min(abs(band - at) for at in found) < 4, band
    with pytest.raises(ValueError, match="odd number"):
        study_spectrum(film, (), SpectrumSettings(smooth=8))


def test_spectra_measured_otherwise_are_told_as_such(film: LabSpectrum) -> None:
    of = replace(film, technique="transmission")
    atr = replace(REFERENCES[-1], technique="ATR on diamond")
    assert (
        "Measured by transmission, the other by ATR on diamond" in hold_against(of, atr).words[-1]
    )
    same = replace(REFERENCES[-1], technique="Transmission")
    for known in (same, REFERENCES[-1]):
        assert not any("Measured by" in words for words in hold_against(of, known).words)


def test_a_film_of_one_material_leaves_nothing_over() -> None:
    twice = REFERENCES[-1].spectrum
    thick = LabSpectrum(
        spectrum=Spectrum("thick", twice.x, 2 * twice.y + 0.01, Ordinate.ABSORBANCE), file="thick"
    )
    held = hold_against(thick, REFERENCES[-1])
    assert held.match.score == pytest.approx(1, abs=1e-9)
    assert held.more == held.less == ()
    assert held.scale == pytest.approx(2, rel=1e-6)
    assert "candidate for more film" in held.words[-1]
