"""One path from number to text."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.records import Outcome, Quantity, Readings
from workbench.records.codes import Qualifier
from workbench.trade.showing import (
    DIFFERENCE,
    EMISSION,
    SALTS,
    STRESS,
    Bound,
    Showing,
    System,
    rounded,
)

SI, US, BOTH = (Showing(system) for system in System)


def test_a_stress_in_si_in_us_units_and_in_both() -> None:
    assert SI.stress(2.413) == "2.4 MPa"
    assert US.stress(2.413) == "350 psi"
    assert BOTH.stress(2.413) == "2.4 MPa (350 psi)"


def test_an_interval_follows_the_value() -> None:
    assert SI.stress(2.4, low=1.94, high=3.06) == "2.4 MPa (1.9 to 3.1)"
    assert US.stress(2.4, low=1.94, high=3.06) == "350 psi (280 to 440)"
    assert BOTH.stress(2.4, low=1.9, high=3.1) == "2.4 MPa (1.9 to 3.1); 350 psi (280 to 450)"
    assert SI.stress(2.4, low=1.9) == "2.4 MPa (≥ 1.9)"


def test_bounds_carry_their_sign() -> None:
    assert SI.stress(1.3, bound=Bound.AT_LEAST) == "≥ 1.3 MPa"
    assert SI.stress(0.2, bound=Bound.AT_MOST) == "≤ 0.20 MPa"
    assert US.stress(0.2, bound=Bound.AT_MOST) == "≤ 29 psi"


def test_digits_entered_are_kept_in_their_own_unit() -> None:
    assert SI.quantity(Quantity.read("50.0 MPa")) == "50.0 MPa"
    assert US.quantity(Quantity.read("352 psi")) == "352 psi"
    assert SI.quantity(Quantity.read("2.40 N/mm2")) == "2.40 N/mm²"
    assert BOTH.quantity(Quantity.read("352 psi")) == "352 psi (2.4 MPa)"


def test_a_number_entered_in_the_other_system_is_converted() -> None:
    assert SI.quantity(Quantity.read("8 mil")) == "203 µm"
    assert US.quantity(Quantity("200"), "um") == "7.9 mil"
    assert US.quantity(Quantity.read("21.5 degC")) == "70.7 °F"


def test_a_difference_of_temperatures_has_no_offset() -> None:
    assert SI.difference(3) == "3.0 °C"
    assert US.difference(3) == "5.4 °F"
    assert US.quantity(Quantity("3"), "K", DIFFERENCE) == "5.4 °F"
    assert SI.quantity(Quantity("3"), "K", DIFFERENCE) == "3 °C"


def test_what_has_one_unit_is_said_once() -> None:
    assert BOTH.percent(71) == "71 %"
    assert BOTH.quantity(Quantity.read("12.1 pH")) == "pH 12.1"


def test_salts_and_emission_in_the_units_of_both_worlds() -> None:
    assert SI.value(SALTS, 26.4) == "26.4 mg/m²"
    assert US.value(SALTS, 26.4) == "2.64 µg/cm²"
    assert US.value(EMISSION, 14.647) == "3.00 lb/(1000 ft²·24 h)"


def test_a_value_beside_its_limit_never_looks_like_it() -> None:
    assert SI.stress(1.48, apart_from=1.5) == "1.48 MPa"
    assert SI.stress(1.5, apart_from=1.5) == "1.5 MPa"
    assert SI.stress(1.4996, apart_from=1.5) == "1.4996 MPa"


def test_a_column_says_its_unit_once() -> None:
    assert BOTH.unit(STRESS) == "MPa (psi)"
    assert US.stress(2.4, unit=False) == "350"


def test_a_word_is_a_word_and_a_qualifier_a_sign() -> None:
    assert SI.outcome(Outcome.read("positive")) == "positive"
    assert SI.outcome(Outcome.read("0.3 mg/L"), Qualifier.BELOW) == "< 0.3 mg/L"


def test_readings_and_summaries_are_said_as_recorded() -> None:
    assert SI.readings(Readings.read("690; 700"), "um") == "690 µm; 700 µm"
    said = SI.readings(Readings.read("mean 690; min 560; max 900; n 40"), "um")
    assert said == "mean 690 µm; min 560 µm; max 900 µm; n 40"


@pytest.mark.parametrize(
    ("value", "step", "text"),
    [
        (2.25, 0.1, "2.2"),
        (2.35, 0.1, "2.4"),
        (345, 10, "340"),
        (-0.04, 0.1, "0.0"),
        (-3.44, 0.1, "−3.4"),
    ],
)
def test_rounding_goes_to_the_even_step(value: float, step: float, text: str) -> None:
    """ISO 80000-1 rule A and ASTM E29 (from memory)."""
    assert rounded(value, step) == text


@given(st.floats(0.001, 500))
def test_what_is_shown_is_within_half_a_step(mpa: float) -> None:
    number = float(SI.stress(mpa, unit=False))
    assert abs(number - mpa) <= (0.005 if mpa < 1 else 0.05) + 1e-9


def test_a_shift_of_the_decimal_point_keeps_the_digits() -> None:
    assert Showing(System.SI).quantity(Quantity("2", "ug/cm2")) == "20 mg/m²"
    assert Showing(System.SI).quantity(Quantity("1.6", "ug/cm2")) == "16 mg/m²"
    assert Showing(System.US).quantity(Quantity("50", "mg/m2")) == "5.0 µg/cm²"


def test_a_unit_of_another_kind_stands_as_it_was_entered() -> None:
    shown = Showing(System.SI).quantity(Quantity("3", "psi"), "K", DIFFERENCE)
    assert shown == "3 psi"
