"""Units: exact conversions, and a clear sentence for what is no unit of the trade."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.records import Quantity
from workbench.records.codes import UNITS
from workbench.trade.units import (
    UnitError,
    convert,
    convert_difference,
    difference_in,
    exactly_in,
    in_unit,
    is_unit,
)

FACTORS = [
    ("1 psi", "kPa", 6.894757293168361),
    ("1 psi", "MPa", 0.006894757293168361),
    ("1 ksi", "MPa", 6.894757293168361),
    ("1 mil", "um", 25.4),
    ("1 in", "mm", 25.4),
    ("1 ft", "m", 0.3048),
    ("1 ft2", "m2", 0.09290304),
    ("1 in2", "mm2", 645.16),
    ("1 lbf", "N", 4.4482216152605),
    ("1 lb", "g", 453.59237),
    ("1 gal", "L", 3.785411784),
    ("1 inHg", "kPa", 3.386389),
    ("1 bar", "MPa", 0.1),
    ("1 kgf/cm2", "MPa", 0.0980665),
    ("1 ft2/gal", "m2/L", 0.02454238674711116),
    ("1 m2/L", "ft2/gal", 40.74583333333333),
    ("1 lb/gal", "g/L", 119.82642731689663),
    ("1 oz/yd2", "g/m2", 33.9057474748823),
    ("1 lb/1000ft2/24h", "ug/s/m2", 56.50957912480382),
    ("1 lb/1000ft2/24h", "g/m2/24h", 4.88242763638305),
    ("1 ug/cm2", "mg/m2", 10.0),
    ("1 perm", "ng/Pa/s/m2", 57.2135),
]
"""NIST SP 811 and exact definitions (READ in three tables that agree)."""


@pytest.mark.parametrize(("written", "unit", "factor"), FACTORS)
def test_factors_are_those_of_nist(written: str, unit: str, factor: float) -> None:
    assert in_unit(Quantity.read(written), unit) == pytest.approx(factor, rel=1e-9)


def test_a_mil_is_a_length() -> None:
    assert in_unit(Quantity.read("8 mil"), "um") == 203.2


def test_temperatures_carry_their_offset_and_differences_do_not() -> None:
    assert in_unit(Quantity.read("68 degF"), "degC") == 20
    assert in_unit(Quantity.read("-40 degF"), "degC") == -40
    assert difference_in(Quantity.read("5 degF")) == pytest.approx(25 / 9)
    assert difference_in(Quantity.read("3"), "degF", "K") == pytest.approx(5.4)
    assert convert_difference(9, "degF", "degC") == 5


@pytest.mark.parametrize("unit", UNITS)
def test_every_unit_of_the_field_book_is_known(unit: str) -> None:
    assert is_unit(unit)


@pytest.mark.parametrize("spelt", ["lb/1000 ft2/24 h", "lb/1000 ft2/24h", "lb/1000ft2/24h"])
def test_an_emission_rate_is_read_however_its_unit_is_spaced(spelt: str) -> None:
    assert in_unit(Quantity("3", spelt), "g/m2/24h") == pytest.approx(14.65, abs=0.005)


@pytest.mark.parametrize(
    ("quantity", "unit", "said"),
    [
        (Quantity("350"), "MPa", "has no unit"),
        (Quantity("8", "mil"), "MPa", "is a length, not a stress"),
        (Quantity("8", "kpsi"), "MPa", "is not a unit"),
        (Quantity("8", "mmm"), "um", "is not a unit"),
        (Quantity("8", "m2.K"), "um", "is not a unit"),
        (Quantity("7", "pH"), "%", "is a pH, not a share"),
    ],
)
def test_a_wrong_unit_is_told_in_words(quantity: Quantity, unit: str, said: str) -> None:
    with pytest.raises(UnitError, match=said):
        in_unit(quantity, unit)


PAIRS = [
    ("MPa", "psi"), ("N/mm2", "bar"), ("um", "mil"), ("m2", "ft2"), ("L", "gal"), ("N", "lbf"),
    ("degC", "degF"), ("ug/cm2", "mg/m2"), ("lb/1000ft2/24h", "g/m2/24h"), ("m2/L", "ft2/gal"),
]  # fmt: skip


@given(
    number=st.decimals(-1000, 100000, allow_nan=False, allow_infinity=False, places=3),
    pair=st.sampled_from(PAIRS),
)
def test_there_and_back_is_exact(number: object, pair: tuple[str, str]) -> None:
    unit, other = pair
    entered = Quantity(str(number), unit)
    zero = exactly_in(Quantity("0", unit), other)
    factor = exactly_in(Quantity("1", unit), other) - zero
    moved = exactly_in(entered, other)
    assert (moved - zero) / factor == exactly_in(entered, unit)
    assert convert(convert(entered.value, unit, other), other, unit) == pytest.approx(
        entered.value, rel=1e-12, abs=1e-9
    )


def test_a_number_in_its_own_unit_does_not_move() -> None:
    assert in_unit(Quantity("50.0", "psi"), "psi") == 50.0
    assert in_unit(Quantity("0.1", "MPa"), "N/mm2") == 0.1
