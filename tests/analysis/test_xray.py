"""Spectra of X-rays: labels of the elements listed and of no others, sums of photons, overlaps."""

import numpy as np
import pytest

from workbench.analysis.elements import as_oxides
from workbench.analysis.spectra.spectrum import Spectrum
from workbench.analysis.xray import XrayPeak, label_peaks, overlaps, xray_elements


def counted(*said: tuple[float, float], seed: int = 1) -> Spectrum:
    """Return counts over keV with peaks of the width of a detector, drawn at random."""
    kev = np.arange(1024, dtype=np.float64) * 0.01
    counts = 40 * np.exp(-kev / 3) + 20
    for at, height in said:
        counts += height * np.exp(-((kev - at) ** 2) / (2 * (0.0009 + 0.00045 * at)))
    drawn = np.random.default_rng(seed).poisson(counts).astype(np.float64)
    return Spectrum("face", kev, drawn)


def at(peaks: tuple[XrayPeak, ...], kev: float) -> XrayPeak:
    return min(peaks, key=lambda peak: abs(peak.kev - kev))


def test_only_elements_that_were_listed_are_labelled() -> None:
    peaks = label_peaks(counted((0.277, 900), (0.525, 800), (4.512, 700)), ("C", "Ti"))
    assert [peak.label for peak in peaks] == ["C Kα", "?", "Ti Kα"]
    assert "candidates: O Ka" in at(peaks, 0.525).doubt


def test_two_photons_of_aluminium_are_a_sum_and_neither_silver_nor_argon() -> None:
    # a certified layer of C, Al, Mn, Cu, Zr on silicon shows 2.97 keV = 2 x 1.486 (RUN on its data)
    peaks = label_peaks(counted((1.486, 4000), (2.972, 300), (0.277, 900)), ("C", "Al", "Mn"))
    doubt = at(peaks, 2.97).doubt
    assert doubt.startswith("two photons counted as one (1.49 + 1.49 keV)")
    assert "not taken for Ag La" in doubt


def test_a_peak_of_two_listed_elements_bears_both_names() -> None:
    peaks = label_peaks(counted((4.5, 700)), ("Ti", "Ba"))
    assert set(at(peaks, 4.5).lines) == {"Ti Ka", "Ba La"}


def test_scatter_of_counts_gives_no_peak() -> None:
    for seed in range(20):
        found = label_peaks(counted((0.525, 900), seed=seed), ("O",), prominence=0.01)
        assert [peak.label for peak in found] == ["O Kα"]


@pytest.mark.parametrize(
    ("one", "other", "lines"),
    [
        ("Ti", "Ba", "Ba La 4.466 keV and Ti Ka 4.512 keV"),
        ("S", "Pb", "Pb Ma 2.342 keV and S Ka 2.309 keV"),
        ("S", "Mo", "Mo La 2.292 keV and S Ka 2.309 keV"),
        ("Ti", "V", "Ti Kb 4.933 keV and V Ka 4.953 keV"),
        ("Zn", "Na", "Na Ka 1.040 keV and Zn La 1.012 keV"),
        ("Cr", "Mn", "Cr Kb 5.947 keV and Mn Ka 5.900 keV"),
    ],
)
def test_overlaps_name_the_lines_of_the_xraydb_tables(one: str, other: str, lines: str) -> None:
    (told,) = overlaps((one, other))
    assert lines in told


@pytest.mark.parametrize(
    ("symbol", "percent"),
    [("Ti", 59.93), ("Fe", 69.94), ("Zn", 80.34)],  # RUN with the periodictable library
)
def test_oxides_have_the_mass_fractions_of_their_formulas(symbol: str, percent: float) -> None:
    assert 100 / xray_elements()[symbol].oxide_factor == pytest.approx(percent, abs=0.01)


def test_a_sum_as_oxides_leaves_out_oxygen_and_carbon() -> None:
    told = as_oxides({"C": 10, "O": 40, "Ti": 59.93, "Cl": 0.5})
    assert told["TiO2"] == pytest.approx(100, abs=0.02)
    assert set(told) == {"TiO2", "Cl"}
