"""Element tables, ions, and calibration lines."""

import pytest

from workbench.analysis.calibration import calibrate, read_off
from workbench.analysis.elements import (
    close,
    ratio_of_faces,
)
from workbench.analysis.xray import mistakable, overlaps, possible_confusions, sum_peaks


@pytest.mark.parametrize(
    ("one", "other"),
    [("Ti", "Ba"), ("S", "Pb"), ("S", "Mo"), ("Ti", "V"), ("Zn", "Na"), ("Cr", "Mn")],
)
def test_elements_whose_lines_overlap_are_warned_of(one: str, other: str) -> None:
    # line energies of the xraydb tables, as listed beforehand
    assert len(overlaps(frozenset({one, other, "C"}))) == 1
    assert other in possible_confusions(one)


def test_what_nobody_listed_and_what_two_photons_make_is_told_of_the_elements_reported() -> None:
    # lines of the xraydb tables: S 2.307, Mo La 2.293, Pb Ma 2.342 keV; 0.277 + 1.487 is Si 1.740
    taken, sums = mistakable({"C", "Al", "Si", "S", "Pb"})
    assert "Mo or Bi for S" in taken
    assert "Pb or" not in taken.split(" for S")[0].split("; ")[-1]
    assert "Al + C for Si" in sums
    assert mistakable(()) == ()


def test_elements_apart_give_no_warning() -> None:
    assert overlaps(frozenset({"C", "O", "Si", "Ca"})) == ()


def test_two_photons_of_aluminium_are_not_taken_for_another_element() -> None:
    # a certified layer of C, Al, Mn, Cu, Zr on silicon shows 2.97 keV = 2 x 1.486
    assert sum_peaks(frozenset({"C", "Al", "Mn", "Cu"}), 2.97) == ("Al + Al",)
    assert sum_peaks(frozenset({"C", "O"}), 2.97) == ()


def test_a_total_far_from_100_is_not_hidden_by_normalising() -> None:
    good = close({"Ti": 59.93, "O": 40.07})  # TiO2 by formula
    assert good.acceptable
    poor = close({"Ti": 40.0, "O": 40.0})
    assert not poor.acceptable
    assert poor.normalised["Ti"] == pytest.approx(50)
    with pytest.raises(ValueError, match="not negative"):
        close({"Ti": -1.0, "O": 40.0})


def test_a_ratio_to_what_was_not_detected_is_a_bound() -> None:
    for faces, ratio, bound in (((11, 0.4), 27.5, "="), ((11, 0), 110, ">"), ((0, 5), 0.02, "<")):
        found, sign = ratio_of_faces(*faces)
        assert found == pytest.approx(ratio)
        assert sign == bound
    with pytest.raises(ValueError, match="no ratio"):
        ratio_of_faces(0, 0.05)


def test_a_calibration_line_agrees_with_a_published_fluorescence_example() -> None:
    # Miller and Miller, standards 0 to 12 pg/mL (from memory): slope 1.93, intercept 1.52,
    # s(y/x) 0.4329, r 0.9989; signals 2.9, 13.5 and 23.0 read as 0.72, 6.21 and 11.13, with
    # standard errors 0.26, 0.24 and 0.26
    line = calibrate((0, 2, 4, 6, 8, 10, 12), (2.1, 5.0, 9.0, 12.6, 17.3, 21.0, 24.7))
    assert line.slope == pytest.approx(1.93, abs=0.005)
    assert line.at_0 == pytest.approx(1.52, abs=0.005)
    assert line.residual == pytest.approx(0.4329, abs=1e-4)
    assert line.r2 == pytest.approx(0.9989**2, abs=2e-4)
    for signal, value, error in ((2.9, 0.72, 0.26), (13.5, 6.21, 0.24), (23.0, 11.13, 0.26)):
        found = read_off(line, (signal,))
        assert found.value == pytest.approx(value, abs=0.006)
        assert (found.high - found.low) / 2 / 2.5706 == pytest.approx(error, abs=0.006)
        assert not found.outside


def test_a_value_beyond_the_standards_is_marked() -> None:
    line = calibrate((0, 1, 2, 3), (0.0, 1.1, 1.9, 3.0))
    assert read_off(line, (9.0, 9.1)).outside
    with pytest.raises(ValueError, match="at least one reading"):
        read_off(line, ())
    with pytest.raises(ValueError, match="3 standards"):
        calibrate((1, 1), (2, 3))
    with pytest.raises(ValueError, match="does not change"):
        calibrate((1, 2, 3), (5, 5, 5))
