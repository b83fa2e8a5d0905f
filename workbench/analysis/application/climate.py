"""Air and surface while a coat went on: margin above the dew point, temperature, humidity."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from workbench.analysis.application.judging import Asked, Found, judge
from workbench.analysis.application.laid import Laid, Log, row_quality, weather_quality
from workbench.analysis.application.results import Aspect, Check
from workbench.analysis.measured import measured
from workbench.records import Application, Quantity, Source, Weather
from workbench.records.codes import Quality
from workbench.trade.dew_point import (
    dew_margin_k,
    dew_point_c,
    dew_point_of_wet_bulb_c,
    humidity_of_wet_bulb_percent,
    pressure_at_pa,
)
from workbench.trade.settings import Settings
from workbench.trade.showing import DIFFERENCE, PERCENT, TEMPERATURE, Kind
from workbench.trade.units import difference_in


@dataclass(frozen=True, slots=True, kw_only=True)
class Climate:
    """Air and surface as one record has them; what is not recorded stays None.

    Attributes:
        at: When; None where the record does not say.
        said_at: When, as it was recorded.
        air_c: Temperature of the air, °C.
        surface_c: Temperature of the surface, °C.
        humidity: Relative humidity in percent, from the record or from its wet bulb.
        dew_c: Dew point, °C.
        areas: Refs of the areas it was read for; empty for the whole site.
        quality: How far the record can be trusted.
        source: The record.
    """

    at: datetime | None
    said_at: str
    air_c: float | None
    surface_c: float | None
    humidity: float | None
    dew_c: float | None
    areas: tuple[str, ...]
    quality: Quality
    source: Source

    @property
    def margin_k(self) -> float | None:
        """Surface above dew point in K; None without both."""
        if self.surface_c is None or self.dew_c is None:
            return None
        return dew_margin_k(self.surface_c, self.dew_c)


def climate_checks(log: Log) -> Iterable[Check]:
    """Return margins, temperatures and humidities of every coat against what is asked for."""
    for laid in log.coats:
        if laid.order > 0:
            held = climates(log, laid)
            yield from _margin(log, laid, held)
            yield from _temperature(log, laid, held)
            yield from _humidity(log, laid, held)


def climates(log: Log, laid: Laid) -> tuple[Climate, ...]:
    """Return what the log and the weather record say of the air while a coat went on."""
    own = [of_application(row, log) for row in laid.rows]
    if laid.start is None or laid.end is None:
        return tuple(own)
    rows = log.weather(laid.area, laid.start.first, laid.end.last)
    return (*own, *(of_weather(row, at, log.settings) for at, row in rows))


def of_application(row: Application, log: Log) -> Climate:
    """Return the climate that a row of the log has."""
    return Climate(
        at=log.moment(row.start).first if row.start else None,
        said_at=str(row.start or ""),
        surface_c=_celsius(row.surface),
        areas=tuple(row.area),
        quality=row_quality(row),
        source=row.source,
        **_air(row.air, row.humidity, row.wet_bulb, log.settings),
    )


def of_weather(row: Weather, at: datetime, settings: Settings) -> Climate:
    """Return the climate that a weather row has."""
    return Climate(
        at=at,
        said_at=str(row.time),
        surface_c=_celsius(row.surface),
        areas=tuple(row.area or ()),
        quality=weather_quality(row),
        source=row.source,
        **_air(row.air, row.humidity, None, settings),
    )


def required_margin_k(laid: Laid, settings: Settings) -> float:
    """Return the margin asked for: by the coat's data sheet, else by the settings."""
    told = laid.coat.dew_margin if laid.coat else None
    return difference_in(told, "K", "K") if told else settings.dew_margin_k


def _air(
    air: Quantity | None,
    humidity: Quantity | None,
    wet_bulb: Quantity | None,
    settings: Settings,
) -> dict[str, float | None]:
    air_c, percent, wet_c = _celsius(air), measured(humidity, "%", "%"), _celsius(wet_bulb)
    dew_c: float | None = None
    try:
        if air_c is not None and percent is not None:
            dew_c = dew_point_c(air_c, percent)
        elif air_c is not None and wet_c is not None:
            state = (air_c, wet_c, pressure_at_pa(settings.altitude_m), settings.wet_bulb)
            percent = humidity_of_wet_bulb_percent(*state)
            dew_c = dew_point_of_wet_bulb_c(*state)
    except ValueError:
        dew_c = None
    return {"air_c": air_c, "humidity": percent, "dew_c": dew_c}


def _celsius(quantity: Quantity | None) -> float | None:
    return measured(quantity, "degC", "degC")


def _margin(log: Log, laid: Laid, held: tuple[Climate, ...]) -> Iterable[Check]:
    told = laid.coat.dew_margin if laid.coat else None
    source = "data sheet" if told else "common practice, a setting of the case"
    asked = Asked(least=required_margin_k(laid, log.settings), source=source)
    known = [(one.margin_k, one) for one in held if one.margin_k is not None]
    yield _judged(log, laid, Aspect.DEW_MARGIN, DIFFERENCE, known, asked, "surface and dew point")


def _temperature(log: Log, laid: Laid, held: tuple[Climate, ...]) -> Iterable[Check]:
    if laid.coat is None:
        return
    asked = Asked(
        least=_celsius(laid.coat.apply_min),
        most=_celsius(laid.coat.apply_max),
        source="data sheet",
    )
    known = [
        (celsius, one)
        for one in held
        if (celsius := one.air_c if one.surface_c is None else one.surface_c) is not None
    ]
    if asked.something:
        yield _judged(log, laid, Aspect.TEMPERATURE, TEMPERATURE, known, asked, "temperature")


def _humidity(log: Log, laid: Laid, held: tuple[Climate, ...]) -> Iterable[Check]:
    coat = laid.coat
    least = measured(coat.humidity_min, "%", "%") if coat else None
    most = measured(coat.humidity_max, "%", "%") if coat else None
    source = "data sheet"
    if most is None:
        most, source = log.settings.humidity_max_percent, "common practice, a setting of the case"
    known = [(one.humidity, one) for one in held if one.humidity is not None]
    asked = Asked(least=least, most=most, source=source)
    yield _judged(log, laid, Aspect.HUMIDITY, PERCENT, known, asked, "relative humidity")


def _judged(
    log: Log,
    laid: Laid,
    aspect: Aspect,
    kind: Kind,
    known: list[tuple[float, Climate]],
    asked: Asked,
    what: str,
) -> Check:
    """Return the check of the reading that lies worst to its limits."""
    if not known:
        found = Found(said=f"{what} not recorded for {laid.name}", sources=laid.sources)
    else:
        value, one = min(known, key=lambda pair: _room(pair[0], asked))
        at = f", {one.said_at}" if one.said_at else ""
        of = f", worst of {len(known)}" if len(known) > 1 else ""
        found = Found(
            low=value,
            high=value,
            said=f"{laid.name}{at}{of}",
            quality=one.quality,
            sources=tuple(dict.fromkeys([one.source, *(other.source for _, other in known)])),
        )
    return judge(laid, aspect, kind, found, asked, log.showing)


def _room(value: float, asked: Asked) -> float:
    below = value - asked.least if asked.least is not None else float("inf")
    above = asked.most - value if asked.most is not None else float("inf")
    return min(below, above)
