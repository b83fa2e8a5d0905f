"""A check film whose bands stand about 2 1/cm low is told, as one measured by reflection was."""

import numpy as np
import pytest

from workbench.analysis.laboratory.spectra import LabSpectrum, study_spectrum
from workbench.analysis.spectra.spectrum import Ordinate, Spectrum
from workbench.analysis.spectra.wavenumber import POLYSTYRENE, check_wavenumbers
from workbench.records import CurveRole

OFFSETS = {
    3060.0: -1.85, 2849.5: -2.26, 1942.9: -0.54, 1601.2: -1.77, 1583.0: -0.99, 1154.5: -1.62,
    1028.3: -1.96,
}  # fmt: skip
"""Found less nominal, in 1/cm, computed from a published spectrum of a polystyrene film on diamond.
The band at 1583 lies on the limit there; nothing is asserted of it."""


def film(offsets: dict[float, float]) -> Spectrum:
    x = np.arange(650.0, 4000.0, 1.0)
    y = sum(0.4 / (1 + ((x - at - offsets.get(at, 0.0)) / 4) ** 2) for at, _ in POLYSTYRENE)
    return Spectrum("film", x, np.asarray(y, dtype=np.float64), Ordinate.ABSORBANCE)


def test_a_film_whose_bands_stand_two_wavenumbers_low_fails() -> None:
    check = check_wavenumbers(film(OFFSETS))
    assert not check.passed
    for band in check.bands:
        assert band.deviation == pytest.approx(OFFSETS[band.nominal], abs=0.1)
        if band.nominal != 1583.0:
            assert band.within is (abs(OFFSETS[band.nominal]) <= band.tolerance)


def test_a_film_with_its_bands_in_place_passes() -> None:
    assert check_wavenumbers(film({})).passed


def test_only_what_is_called_a_check_film_is_checked() -> None:
    spectrum = film(OFFSETS)
    checked = LabSpectrum(spectrum=spectrum, file="f", role=CurveRole.CHECK_FILM)
    other = LabSpectrum(spectrum=spectrum, file="f")
    check = study_spectrum(checked, ()).wavenumbers
    assert check is not None
    assert not check.passed
    assert study_spectrum(other, ()).wavenumbers is None
