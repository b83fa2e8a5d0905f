"""Stress from what was read: force or stress, fixture, calibration, came away."""

import math

import pytest
from builders import make
from hypothesis import given
from hypothesis import strategies as st

from workbench.records import PullOff
from workbench.records.codes import FixtureShape
from workbench.trade.pull_off import area_mm2, force_n, rescaled, stress_mpa, stress_of


def test_a_stress_reading_stands_as_it_is() -> None:
    found = stress_of(make(PullOff, reading="2.4 MPa", fixture="50 mm"))
    assert found.mpa == 2.4
    assert not found.at_most


def test_psi_becomes_mpa() -> None:
    found = stress_of(make(PullOff, reading="350 psi"))
    assert found.mpa == pytest.approx(2.413, abs=5e-4)


def test_a_force_needs_the_face_of_the_fixture() -> None:
    assert stress_of(make(PullOff, reading="5000 N", fixture="50 mm")).mpa == pytest.approx(
        2.5465, abs=1e-4
    )
    told = stress_of(make(PullOff, reading="5 kN"))
    assert told.mpa is None
    assert "size is not recorded" in told.why_not


def test_an_inch_fixture_and_pounds_force() -> None:
    found = stress_of(make(PullOff, reading="1000 lbf", fixture="2 in"))
    assert found.mpa == pytest.approx(2.1947, abs=1e-4)


@pytest.mark.parametrize(
    "reading",
    ["2 MPa", "2 N/mm2", "290.0755 psi", "0.2900755 ksi", "2000 kPa", "20 bar",
     "20.39432 kgf/cm2", "3926.991 N", "3.926991 kN", "882.8227 lbf", "400.4416 kgf"],
)  # fmt: skip
def test_every_unit_of_stress_and_force_gives_the_same_stress(reading: str) -> None:
    """2 MPa on 50 mm, by the factors of NIST SP 811 (READ)."""
    found = stress_of(make(PullOff, reading=reading, fixture="50 mm"))
    assert found.mpa == pytest.approx(2, rel=1e-6)


@pytest.mark.parametrize("size", ["50.8 mm", "5.08 cm", "2 in"])
def test_every_unit_of_size_gives_the_same_face(size: str) -> None:
    found = stress_of(make(PullOff, reading="1000 lbf", fixture=size))
    assert found.mpa == pytest.approx(2.1947, abs=1e-4)


def test_a_square_fixture_has_its_side_squared() -> None:
    found = stress_of(make(PullOff, reading="5000 N", fixture="50 mm", shape="square"))
    assert found.mpa == pytest.approx(2.0)
    assert area_mm2(50, FixtureShape.SQUARE) == 2500


def test_a_shape_not_recorded_is_told_not_hidden() -> None:
    found = stress_of(make(PullOff, reading="5000 N", fixture="50 mm"))
    assert "taken as round" in " ".join(found.steps)


def test_a_gauge_calibrated_for_another_size_is_scaled() -> None:
    pull = make(PullOff, reading="12.5 MPa", fixture="50 mm", calibrated_for="20 mm")
    assert stress_of(pull).mpa == pytest.approx(2.0)


def test_a_calibration_without_the_size_used_gives_no_stress() -> None:
    told = stress_of(make(PullOff, reading="12.5 MPa", calibrated_for="20 mm"))
    assert told.mpa is None
    assert "calibrated for 20 mm" in told.why_not


def test_a_coating_that_came_away_has_at_most_the_smallest_readable_stress() -> None:
    found = stress_of(make(PullOff, came_away="yes"), smallest_readable_mpa=0.3)
    assert (found.mpa, found.at_most) == (0.3, True)
    zero = stress_of(make(PullOff, came_away="yes", reading="0 MPa"))
    assert (zero.mpa, zero.at_most) == (0.2, True)


def test_a_coating_that_came_away_at_a_reading_has_at_most_that() -> None:
    found = stress_of(make(PullOff, came_away="yes", reading="0.5 MPa"))
    assert (found.mpa, found.at_most) == (0.5, True)


@pytest.mark.parametrize(
    ("said", "why"),
    [
        ({}, "no reading"),
        ({"reading": "2.4"}, "has no unit"),
        ({"reading": "2.4 mm"}, "is a length"),
        ({"reading": "-1 MPa"}, "below 0"),
        ({"reading": "900 N", "fixture": "50"}, "has no unit"),
        ({"reading": "900 N", "fixture": "0 mm"}, "has no face"),
    ],
)
def test_where_no_stress_follows_it_says_why(said: dict[str, str], why: str) -> None:
    found = stress_of(make(PullOff, **said))
    assert found.mpa is None
    assert why in found.why_not


def test_the_rate_follows_from_the_time_to_the_break() -> None:
    pull = make(PullOff, reading="3 MPa", fixture="50 mm", seconds="60")
    assert stress_of(pull).rate_mpa_s == pytest.approx(0.05)
    assert stress_of(make(PullOff, reading="3 MPa")).rate_mpa_s is None


@given(force=st.floats(1, 1e5), calibrated=st.floats(5, 100), used=st.floats(5, 100))
def test_scaling_a_gauge_conserves_the_force(force: float, calibrated: float, used: float) -> None:
    shown = stress_mpa(force, area_mm2(calibrated))
    assert force_n(rescaled(shown, calibrated, used), area_mm2(used)) == pytest.approx(force)


@pytest.mark.parametrize("size", [0, -1, math.nan])
def test_a_fixture_of_no_size_is_refused(size: float) -> None:
    with pytest.raises(ValueError, match="face"):
        area_mm2(size)
