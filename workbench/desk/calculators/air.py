"""Calculators of the air and of cure: dew point, recoat window at another temperature."""

from collections.abc import Iterable

from workbench.desk.calculators.frame import Calculator, Found, Given, Input
from workbench.trade.basis import Basis, Status
from workbench.trade.curing import TimeAt, tempered
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
from workbench.trade.showing import DIFFERENCE, HOURS, LENGTH, PERCENT, TEMPERATURE


def _dew(given: Given) -> Iterable[Found]:
    air = given["air"]
    if (humidity := given.get("humidity")) is not None:
        dew = dew_point_c(air, humidity)
    elif (wet := given.get("wet_bulb")) is not None:
        way = WetBulb(given.word("method"))
        pressure = pressure_at_pa(given["altitude"])
        dew = dew_point_of_wet_bulb_c(air, wet, pressure, way)
        humidity = humidity_of_wet_bulb_percent(air, wet, pressure, way)
        yield Found(name="humidity", label="relative humidity", kind=PERCENT, value=humidity)
    else:
        raise ValueError("humidity or wet_bulb is missing; give one of them")
    yield Found(name="dew_point", label="dew point", kind=TEMPERATURE, value=dew)
    if dew < 0:
        yield Found(name="over_water", label="the same over water, as most meters show it",
                    kind=TEMPERATURE, value=dew_point_over_water_c(air, humidity))  # fmt: skip
    if (surface := given.get("surface")) is None:
        return
    margin, asked = dew_margin_k(surface, dew), given["required"]
    yield Found(
        name="margin", label="surface above dew point", kind=DIFFERENCE, value=margin,
        quantity="temp_difference", apart_from=asked,
    )  # fmt: skip
    at_surface = humidity_at_surface_percent(surface, dew)
    yield Found(name="at_surface", label="humidity at the surface", kind=PERCENT, value=at_surface)
    words = "as asked for" if margin >= asked else "less than asked for"
    yield Found(name="enough", label="margin", words=words)


DEW_POINT = Calculator(
    name="dew-point",
    title="Dew point and margin",
    inputs=(
        Input(name="air", label="air", kind=TEMPERATURE, required=True),
        Input(name="humidity", label="relative humidity", kind=PERCENT, hint="or the wet bulb"),
        Input(name="wet_bulb", label="wet bulb", kind=TEMPERATURE),
        Input(name="surface", label="surface", kind=TEMPERATURE),
        Input(name="required", label="margin asked for", kind=DIFFERENCE, setting="dew_margin_k"),
        Input(name="altitude", label="altitude", kind=LENGTH, setting="altitude_m"),
        Input(name="method", label="wet bulb read by", words=tuple(WetBulb), setting="wet_bulb"),
    ),
    formula="p(dew point) = humidity × p(air), p the saturation pressure of water, of ice below "
    "0 °C; by a psychrometer e = p(wet) − 0.00066 (1 + 0.00115 wet) P (air − wet); "
    "over water by Magnus, 17.27 and 237.3",
    bases=(
        Basis("ASHRAE Fundamentals 2017, chapter 1, eqs. 5 and 6", Status.READ),
        Basis("university weather network, psychrometer formula", Status.READ),
    ),
    compute=_dew,
    caution="A margin holds for the moment and place of the reading.",
)


def _recoat(given: Given) -> Iterable[Found]:
    rows = [TimeAt(given["at"], given["time"])]
    if given.any_of("time2", "at2"):
        rows.append(TimeAt(given["at2"], given["time2"]))
    found = tempered(rows, given["temperature"], given.settings.doubling_k)
    if found:
        yield Found(name="time", label="time", kind=HOURS, value=found.hours)
        yield Found(name="rests", label="rests on", words=str(found.rests))


RECOAT = Calculator(
    name="recoat",
    title="Pot life, recoat or cure at another temperature",
    inputs=(
        Input(name="time", label="time of the data sheet", kind=HOURS, required=True),
        Input(name="at", label="at", kind=TEMPERATURE, required=True),
        Input(name="time2", label="second time of the data sheet", kind=HOURS),
        Input(name="at2", label="at", kind=TEMPERATURE),
        Input(name="temperature", label="temperature that was there", kind=TEMPERATURE,
              required=True),
    ),
    formula="between two rows ln t runs straight in T; beyond them t = t₀ · 2^((T₀ − T) / 10 °C)",
    bases=(
        Basis("data sheet, where it has the temperature", Status.PRACTICE),
        Basis("rule of thumb, four trade pages", Status.READ),
    ),
    compute=_recoat,
    caution="The rule of thumb is no data: it fails near the least temperature of cure, near the "
    "glass transition, and for a batch that heats itself.",
)  # fmt: skip
CALCULATORS = (DEW_POINT, RECOAT)
