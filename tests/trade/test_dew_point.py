"""Dew point against two reference libraries, printed tables and its own properties."""

import psychrolib
import pytest
from CoolProp.HumidAirProp import HAPropsSI
from hypothesis import given
from hypothesis import strategies as st

from workbench.trade.dew_point import (
    WetBulb,
    dew_margin_k,
    dew_point_c,
    dew_point_of_wet_bulb_c,
    dew_point_over_water_c,
    humidity_at_surface_percent,
    humidity_of_wet_bulb_percent,
    pressure_at_pa,
)

psychrolib.SetUnitSystem(psychrolib.SI)
AIR = st.floats(-10, 50)
HUMIDITY = st.floats(10, 100)


@given(AIR, HUMIDITY)
def test_the_dew_point_is_that_of_psychrolib(air: float, humidity: float) -> None:
    expected = psychrolib.GetTDewPointFromRelHum(air, humidity / 100)
    assert dew_point_c(air, humidity) == pytest.approx(expected, abs=0.05)


@given(AIR, HUMIDITY)
def test_the_dew_point_is_that_of_coolprop(air: float, humidity: float) -> None:
    kelvin = HAPropsSI("D", "T", air + 273.15, "P", 101325, "R", humidity / 100)
    assert dew_point_c(air, humidity) == pytest.approx(kelvin - 273.15, abs=0.05)


@given(st.floats(5, 45), st.floats(0, 15), st.floats(80000, 105000))
def test_a_thermodynamic_wet_bulb_is_that_of_psychrolib(
    air: float, depression: float, pressure: float
) -> None:
    wet = air - depression
    ratio = psychrolib.GetHumRatioFromTWetBulb(air, wet, pressure)
    if ratio < 1e-3:
        return
    expected = psychrolib.GetTDewPointFromHumRatio(air, ratio, pressure)
    found = dew_point_of_wet_bulb_c(air, wet, pressure, WetBulb.THERMODYNAMIC)
    assert found == pytest.approx(expected, abs=0.05)


@given(st.floats(0, 40), st.floats(30, 90))
def test_magnus_agrees_within_its_known_error(air: float, humidity: float) -> None:
    """Within 0.04 K where the dew point is above 0 °C."""
    dew = dew_point_c(air, humidity)
    if dew > 0.1:
        assert dew_point_over_water_c(air, humidity) == pytest.approx(dew, abs=0.04)


@pytest.mark.parametrize(("dew", "hpa"), [(-5, 4.2148), (-10, 2.8627)])
def test_below_freezing_a_dew_point_over_water_is_not_the_frost_point(
    dew: float, hpa: float
) -> None:
    """Supercooled water, Smithsonian tables (from memory); 6.1078 hPa saturate air of 0 °C."""
    humidity = 100 * hpa / 6.1078
    assert dew_point_over_water_c(0, humidity) == pytest.approx(dew, abs=0.05)
    assert dew_point_c(0, humidity) > dew + 0.4


@pytest.mark.parametrize("humidity", [0, -3, 101])
def test_a_humidity_that_cannot_be_gives_no_dew_point_over_water(humidity: float) -> None:
    with pytest.raises(ValueError, match="gives no dew point"):
        dew_point_over_water_c(20, humidity)


@given(AIR, HUMIDITY)
def test_the_dew_point_is_never_above_the_air(air: float, humidity: float) -> None:
    assert dew_point_c(air, humidity) <= air + 1e-6


def test_saturated_air_is_at_its_dew_point() -> None:
    assert dew_point_c(18, 100) == pytest.approx(18, abs=1e-6)
    assert dew_point_of_wet_bulb_c(18, 18) == pytest.approx(18, abs=1e-6)
    assert humidity_of_wet_bulb_percent(18, 18) == pytest.approx(100)


def test_below_zero_it_is_the_frost_point() -> None:
    """PsychroLib gives −3.44 °C over ice for 2 °C and 65 %; over water it would be −3.88."""
    assert dew_point_c(2, 65) == pytest.approx(-3.44, abs=0.01)


def test_altitude_moves_a_dew_point_read_by_wet_bulb() -> None:
    """25/18 °C at about 1520 m is 0.74 K above sea level, a quarter of the usual margin."""
    high = dew_point_of_wet_bulb_c(25, 18, pressure_at_pa(1520), WetBulb.THERMODYNAMIC)
    low = dew_point_of_wet_bulb_c(25, 18, method=WetBulb.THERMODYNAMIC)
    assert high - low == pytest.approx(0.74, abs=0.02)


def test_a_margin_below_three_kelvin_is_seen() -> None:
    """16 °C, 71 %, surface 13 °C: margin 2.25 K (READ in a guide, which rounds it to 2)."""
    assert dew_margin_k(13, dew_point_c(16, 71)) == pytest.approx(2.25, abs=0.01)


def test_the_air_on_a_surface_three_kelvin_above_the_dew_point_is_damp() -> None:
    assert humidity_at_surface_percent(13, 10) == pytest.approx(82, abs=0.1)


@pytest.mark.parametrize("humidity", [0, -5, 100.1])
def test_a_humidity_that_cannot_be_is_refused(humidity: float) -> None:
    with pytest.raises(ValueError, match="gives no dew point"):
        dew_point_c(20, humidity)


@pytest.mark.parametrize("method", WetBulb)
def test_a_wet_bulb_above_the_dry_one_is_refused(method: WetBulb) -> None:
    with pytest.raises(ValueError, match="above the dry one"):
        dew_point_of_wet_bulb_c(20, 21, method=method)


@pytest.mark.parametrize("method", WetBulb)
def test_a_pair_that_leaves_no_vapour_is_refused(method: WetBulb) -> None:
    with pytest.raises(ValueError, match="no vapour"):
        dew_point_of_wet_bulb_c(40, 5, method=method)


def test_air_out_of_range_is_refused() -> None:
    with pytest.raises(ValueError, match="outside"):
        dew_point_c(300, 50)
