"""Dew point: the temperature at which the air of a place would wet a surface.

Below 0 °C the value is the frost point, as in the tables of ASHRAE. From temperature and relative
humidity the pressure does not matter; from a wet bulb it does.

References:
    ASHRAE Handbook of Fundamentals 2017, chapter 1, eqs. 3, 5, 6, 33, 35 (coefficients from
    memory; checked against its tables, READ, and against PsychroLib and CoolProp).
    Wet bulb of a ventilated psychrometer: university weather network, "Dewpoint Formulas" (READ);
    psychrometer coefficients: AMS Glossary of Meteorology (READ).
"""

import math
from enum import StrEnum

_WATER = (-5.8002206e3, 1.3914993, -4.8640239e-2, 4.1764768e-5, -1.4452093e-8, 6.5459673)
_ICE = (
    -5.6745359e3, 6.3925247, -9.6778430e-3, 6.2215701e-7, 2.0747825e-9, -9.4840240e-13, 4.1635019,
)  # fmt: skip
_TRIPLE_POINT_C = 0.01
_SEA_LEVEL_PA = 101325.0
_MASS_RATIO = 0.621945
"""Molar mass of water over that of dry air (ASHRAE)."""


class WetBulb(StrEnum):
    """How a wet-bulb temperature is read: sources differ by 0.06 to 0.5 K of dew point."""

    PSYCHROMETER = "ventilated psychrometer"
    THERMODYNAMIC = "thermodynamic wet bulb"


def dew_point_c(air_c: float, humidity_percent: float) -> float:
    """Return the dew point in °C of air at `air_c` °C and a relative humidity in percent.

    Below 0 °C it is the frost point, and the humidity is taken over ice.

    Raises:
        ValueError: The humidity is not above 0 and at most 100 %, or the air is out of range.
    """
    if not 0 < humidity_percent <= 100:
        raise ValueError(f"a relative humidity of {humidity_percent:g} % gives no dew point")
    return _temperature_of(saturation_pa(air_c) * humidity_percent / 100)


def dew_point_of_wet_bulb_c(
    air_c: float,
    wet_bulb_c: float,
    pressure_pa: float = _SEA_LEVEL_PA,
    method: WetBulb = WetBulb.PSYCHROMETER,
) -> float:
    """Return the dew point in °C from dry and wet bulb in °C and the pressure of the air in Pa.

    Raises:
        ValueError: The wet bulb is above the dry one, or the pair leaves no vapour in the air.
    """
    if method is WetBulb.THERMODYNAMIC:
        return _temperature_of(_vapour_thermodynamic_pa(air_c, wet_bulb_c, pressure_pa))
    return _magnus_dew_c(_vapour_of_psychrometer_hpa(air_c, wet_bulb_c, pressure_pa / 100))


def humidity_of_wet_bulb_percent(
    air_c: float,
    wet_bulb_c: float,
    pressure_pa: float = _SEA_LEVEL_PA,
    method: WetBulb = WetBulb.PSYCHROMETER,
) -> float:
    """Return the relative humidity in percent from dry and wet bulb in °C; see the dew point.

    Raises:
        ValueError: As for the dew point.
    """
    if method is WetBulb.THERMODYNAMIC:
        vapour = _vapour_thermodynamic_pa(air_c, wet_bulb_c, pressure_pa)
        return 100 * vapour / saturation_pa(air_c)
    vapour = _vapour_of_psychrometer_hpa(air_c, wet_bulb_c, pressure_pa / 100)
    return 100 * vapour / _magnus_hpa(air_c)


def dew_margin_k(surface_c: float, dew_c: float) -> float:
    """Return by how many K a surface is above the dew point; negative when it is below."""
    return surface_c - dew_c


def humidity_at_surface_percent(surface_c: float, dew_c: float) -> float:
    """Return the relative humidity of the air that touches a surface, in percent."""
    return 100 * saturation_pa(dew_c) / saturation_pa(surface_c)


def saturation_pa(celsius: float) -> float:
    """Return the saturation pressure of water vapour in Pa, over ice below 0.01 °C.

    Raises:
        ValueError: The temperature is outside −100 to 200 °C.
    """
    if not -100 <= celsius <= 200:
        raise ValueError(f"{celsius:g} °C is outside −100 to 200 °C")
    kelvin = celsius + 273.15
    coefficients: tuple[float, ...] = _ICE if celsius <= _TRIPLE_POINT_C else _WATER
    *powers, log = coefficients
    terms = [factor * math.pow(kelvin, power - 1) for power, factor in enumerate(powers)]
    return math.exp(math.fsum([*terms, log * math.log(kelvin)]))


def pressure_at_pa(altitude_m: float) -> float:
    """Return the standard pressure of the air in Pa at an altitude in m (ASHRAE eq. 3)."""
    return _SEA_LEVEL_PA * math.pow(1 - 2.25577e-5 * altitude_m, 5.2559)


def dew_point_over_water_c(air_c: float, humidity_percent: float) -> float:
    """Return the dew point in °C by the formula of Magnus, over water at any temperature.

    Most meters show this one: below 0 °C it lies some tenths of a kelvin under the frost point.

    Raises:
        ValueError: The humidity is not above 0 and at most 100 %.

    References:
        Magnus, with 17.27 and 237.3 (READ); good to 0.04 K above 0 °C.
    """
    if not 0 < humidity_percent <= 100:
        raise ValueError(f"a relative humidity of {humidity_percent:g} % gives no dew point")
    return _magnus_dew_c(_magnus_hpa(air_c) * humidity_percent / 100)


def _temperature_of(vapour_pa: float) -> float:
    """Return the temperature in °C at which `vapour_pa` saturates, by bisection."""
    if vapour_pa <= 0:
        raise ValueError("there is no vapour in the air: check dry and wet bulb")
    low, high = -100.0, 200.0
    while high - low > 1e-9:
        middle = (low + high) / 2
        low, high = (middle, high) if saturation_pa(middle) < vapour_pa else (low, middle)
    return (low + high) / 2


def _vapour_of_psychrometer_hpa(air_c: float, wet_bulb_c: float, pressure_hpa: float) -> float:
    _refuse_wet_above_dry(air_c, wet_bulb_c)
    coefficient = 0.00066 * (1 + 0.00115 * wet_bulb_c)
    return _magnus_hpa(wet_bulb_c) - coefficient * pressure_hpa * (air_c - wet_bulb_c)


def _vapour_thermodynamic_pa(air_c: float, wet_bulb_c: float, pressure_pa: float) -> float:
    _refuse_wet_above_dry(air_c, wet_bulb_c)
    saturated = saturation_pa(wet_bulb_c)
    ratio = _MASS_RATIO * saturated / (pressure_pa - saturated)
    depression = air_c - wet_bulb_c
    if wet_bulb_c >= 0:
        heat, divisor = 2501 - 2.326 * wet_bulb_c, 2501 + 1.86 * air_c - 4.186 * wet_bulb_c
    else:
        heat, divisor = 2830 - 0.24 * wet_bulb_c, 2830 + 1.86 * air_c - 2.1 * wet_bulb_c
    humidity_ratio = (heat * ratio - 1.006 * depression) / divisor
    return pressure_pa * humidity_ratio / (_MASS_RATIO + humidity_ratio)


def _refuse_wet_above_dry(air_c: float, wet_bulb_c: float) -> None:
    if wet_bulb_c > air_c:
        raise ValueError(f"a wet bulb of {wet_bulb_c:g} °C is above the dry one, {air_c:g} °C")


def _magnus_hpa(celsius: float) -> float:
    return 6.108 * math.exp(17.27 * celsius / (237.3 + celsius))


def _magnus_dew_c(vapour_hpa: float) -> float:
    if vapour_hpa <= 0:
        raise ValueError("there is no vapour in the air: check dry and wet bulb")
    logarithm = math.log(vapour_hpa / 6.108)
    return 237.3 * logarithm / (17.27 - logarithm)
