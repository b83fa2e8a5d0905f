"""Peaks, ratios, likeness, differences, and the wavenumber check on a real film."""

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.analysis.spectra.matching import difference, likeness, match, mixture
from workbench.analysis.spectra.peaks import Band, measure, parabola_top, pick, ratio
from workbench.analysis.spectra.spectrum import Floats, Ordinate, Spectrum
from workbench.analysis.spectra.wavenumber import check_wavenumbers
from workbench.exchange.jcamp import read_jcamp, spectrum_of

FILM = Path(__file__).parents[2] / "exchange" / "jcamp_files" / "jtpolys.jdx"
X = np.arange(600.0, 1900.0, 2.0)


def bands(*said: tuple[float, float], title: str = "t", tilt: float = 0.0) -> Spectrum:
    """Lorentz bands of half width 8 1/cm at (position, height)."""
    y = sum((h / (1 + ((X - p) / 8) ** 2) for p, h in said), np.zeros_like(X)) + tilt * X
    return Spectrum(title, X, y, Ordinate.ABSORBANCE)


@pytest.fixture(scope="module")
def film() -> Spectrum:
    return spectrum_of(read_jcamp(FILM.read_bytes()).blocks[0])


@given(st.floats(-0.9, 0.9), st.floats(0.1, 9))
def test_the_top_of_a_sampled_parabola_is_exact(at: float, bend: float) -> None:
    x = np.array([-1.0, 0.0, 1.0])
    assert parabola_top(x, -bend * (x - at) ** 2) == pytest.approx(at, abs=1e-9)


def test_bands_of_known_position_are_found_within_a_tenth() -> None:
    said = [(915.3, 0.3), (1245.4, 1.0), (1508.7, 0.8), (1730.1, 0.5)]
    found = pick(bands(*said), prominence=0.05)
    assert [p.position for p in found] == pytest.approx([p for p, _ in said], abs=0.1)
    assert [p.centre for p in found] == pytest.approx([p for p, _ in said], abs=0.3)


def test_the_film_of_the_test_disk_shows_the_bands_worked_out_for_it(film: Spectrum) -> None:
    # computed beforehand with other code on the same file: parabola, centre of gravity
    expected = {
        539.5: 539.4, 906.5: 906.5, 1027.7: 1027.6, 1582.9: 1582.9, 1600.9: 1600.8,
        1942.5: 1942.8, 2849.7: 2850.2, 3025.2: 3025.4, 3059.2: 3059.2, 3081.5: 3081.3,
    }  # fmt: skip
    found = pick(film.absorbance(), prominence=0.01)
    for place, centre in expected.items():
        nearest = min(found, key=lambda peak: abs(peak.position - place))
        assert nearest.position == pytest.approx(place, abs=0.15)
        assert nearest.centre == pytest.approx(centre, abs=0.35)


def test_the_films_wavenumbers_pass_and_shifted_by_two_they_fail(film: Spectrum) -> None:
    good = check_wavenumbers(film)
    assert good.passed
    deviations = {band.nominal: band.deviation for band in good.bands}
    assert deviations[3060.0] == pytest.approx(-0.78, abs=0.1)
    assert deviations[1601.2] == pytest.approx(-0.33, abs=0.1)
    shifted = Spectrum("off by 2", film.x - 2, film.y, film.ordinate)
    assert not check_wavenumbers(shifted).passed


def test_a_thin_film_is_told_by_its_depth_not_by_its_bands(film: Spectrum) -> None:
    depth = check_wavenumbers(film).depth_2870_2850
    assert depth is not None
    assert depth == pytest.approx(4.9, abs=0.5)  # computed beforehand with other code


def test_a_spectrum_that_stops_short_leaves_bands_unchecked() -> None:
    checked = check_wavenumbers(bands((1601.2, 1.0)))
    assert [band.within for band in checked.bands if band.nominal == 3060.0] == [None]
    assert not checked.passed


def test_the_epoxide_ratio_over_tangent_baselines_ignores_a_tilt() -> None:
    epoxide, aromatic = Band(915, (880, 950)), Band(1508, (1470, 1545))
    flat = ratio(bands((915, 0.1), (1508, 0.9)), epoxide, aromatic)
    tilted = ratio(bands((915, 0.1), (1508, 0.9), tilt=2e-4), epoxide, aromatic)
    assert tilted == pytest.approx(flat, abs=1e-9)
    assert flat == pytest.approx(0.1 / 0.9, abs=0.01)
    half = ratio(bands((915, 0.05), (1508, 0.9)), epoxide, aromatic)
    assert 1 - half / flat == pytest.approx(0.5, abs=0.01)


def test_feet_outside_the_spectrum_are_refused() -> None:
    with pytest.raises(ValueError, match="feet"):
        measure(bands((915, 1)), Band(915, (100, 950)))


def test_likeness_agrees_with_the_worked_example() -> None:
    # worked by hand: A = 0 1 4 1 0, B = 0 2 3 1 0 give r2 0.828431
    a: Floats = np.array([0.0, 1, 4, 1, 0])
    assert likeness(a, np.array([0.0, 2, 3, 1, 0])) == pytest.approx(0.828431, abs=5e-7)
    assert likeness(a, 3 * a + 7) == pytest.approx(1)
    assert likeness(a, np.ones(5)) == 0


def test_a_match_is_blind_to_scale_and_offset_and_to_the_masked_air() -> None:
    known = bands((1245, 1), (1508, 0.8), title="control")
    scaled = Spectrum("chip", known.x, 0.3 * known.y + 0.2, Ordinate.ABSORBANCE)
    assert match(scaled, known).score == pytest.approx(1)
    spoilt = scaled.y + np.where((X > 1000) & (X < 1100), 2.0, 0.0)
    off = Spectrum("chip", X, spoilt, Ordinate.ABSORBANCE)
    assert match(off, known).score < 0.5
    assert match(off, known, masked=((990, 1110),)).score == pytest.approx(1)


def test_spectra_with_too_little_in_common_are_not_compared() -> None:
    low, high = bands((700, 1)).between(600, 900), bands((1500, 1)).between(880, 1890)
    with pytest.raises(ValueError, match="too little"):
        match(low, high)


def test_a_second_material_on_a_film_is_left_when_the_first_is_taken_off() -> None:
    resin = bands((1245, 1), (1508, 0.8), (829, 0.5), title="control")
    silicone = bands((1261, 0.5), (1090, 0.6), (800, 0.5), title="silicone")
    chip = Spectrum("chip", X, 0.7 * resin.y + 0.2 * silicone.y, Ordinate.ABSORBANCE)
    rest, scale = difference(chip, resin)
    assert scale == pytest.approx(0.7, abs=0.06)
    assert match(rest, silicone).score > match(rest, resin).score
    shares = mixture(chip, (resin, silicone))
    assert shares.shares == pytest.approx((0.7, 0.2), abs=1e-6)
    assert shares.residual < shares.alone / 100


def test_the_contaminated_film_of_the_test_disk_keeps_its_foreign_bands(film: Spectrum) -> None:
    # bands of the second polymer on the film, seen at these places (computed beforehand)
    found = pick(film.absorbance().between(1100, 1850), prominence=0.02)
    places = [peak.position for peak in found]
    for foreign in (1774.1, 1226.8, 1192.8, 1163.2):
        assert min(abs(place - foreign) for place in places) < 1.0


def test_a_flat_spectrum_has_no_bands_and_a_stub_is_refused() -> None:
    assert pick(Spectrum("flat", X, np.ones_like(X), Ordinate.ABSORBANCE)) == ()
    with pytest.raises(ValueError, match="3 points"):
        pick(Spectrum("stub", X[:2], X[:2], Ordinate.ABSORBANCE))
    with pytest.raises(ValueError, match="no spectrum"):
        mixture(bands((900, 1)), ())
