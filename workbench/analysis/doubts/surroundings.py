"""Doubts about the surroundings of a test: a wet surface, air outside the method's conditions."""

from collections.abc import Iterable
from datetime import timedelta

from workbench.analysis.doubts.ground import Ground
from workbench.analysis.doubts.results import Doubt, Rule
from workbench.analysis.measured import measured
from workbench.records import Area, AreaEvent, Effect, Measurement, PullOff, Rating, Weather, When
from workbench.records.codes import Event, YesNo
from workbench.trade.basis import PRACTICE
from workbench.trade.concrete_moisture import probe_depth
from workbench.trade.dew_point import dew_point_c
from workbench.trade.methods import Condition, methods
from workbench.trade.showing import PERCENT, SIZE, TEMPERATURE

_WETTING = frozenset({Event.WETTED, Event.WASHED, Event.LEAK})
_ONE_EVENT = timedelta(days=2)
_ADHESION = frozenset({"tape", "knife"})


def doubts_of_surroundings(ground: Ground) -> Iterable[Doubt]:
    """Return the doubts about wet surfaces and about moisture tests outside their conditions."""
    ratings = [one for one in ground.dossier.all(Rating) if _is_adhesion(ground, one)]
    adhesion: list[PullOff | Rating] = [*ground.pulls, *ratings]
    for reading in adhesion:
        yield from _wet(ground, reading)
    for measurement in ground.dossier.all(Measurement):
        if measurement.quantity == "emission":
            yield from _air(ground, measurement)
        if measurement.quantity == "rh_in_slab":
            yield from _depth(ground, measurement)


def _is_adhesion(ground: Ground, rating: Rating) -> bool:
    method = ground.method(rating.method)
    return method is not None and method.family in _ADHESION


def _wet(ground: Ground, reading: PullOff | Rating) -> Iterable[Doubt]:
    area = ground.area(reading)
    if why := _why_wet(ground, reading, area):
        yield Doubt.about(reading, Rule.SURFACE_WET, why, PRACTICE)


def _why_wet(ground: Ground, reading: PullOff | Rating, area: Area | None) -> str:
    """Return why the surface counts as wet at a reading; empty where nothing says so."""
    if damp := ground.damp.get(reading.location):
        return f"the place was seen damp ({damp.label})"
    if area is None or reading.date is None:
        return ""
    hours = ground.settings.surface_wet_h
    for event in ground.events(area, reading.date, hours):
        if event.event in _WETTING and not _goes_on(ground, event):
            return f"{event.event} {event.start}, within {hours:g} h of the test"
    day = (area.ref, reading.date)
    if day not in ground.wet_days:
        ground.wet_days[day] = _weather_words(ground, area, reading.date)
    return ground.wet_days[day]


def _goes_on(ground: Ground, event: AreaEvent) -> bool:
    """Return whether an event is a state of affairs that says nothing of one day."""
    first, last = ground.span(event.start)
    until = ground.span(event.end)[1] if event.end else last
    return until - first > _ONE_EVENT


def _weather_words(ground: Ground, area: Area, date: When) -> str:
    outdoors = bool(area.features and area.features.has("outdoor"))
    for row in ground.weather(area, date):
        if outdoors and row.rain is YesNo.YES:
            return f"rain at {row.time}"
        if (margin := _margin_k(row)) is not None and margin <= 0:
            return f"surface at or below the dew point at {row.time}"
    return ""


def _margin_k(row: Weather) -> float | None:
    air, surface = measured(row.air, "degC", "degC"), measured(row.surface, "degC", "degC")
    humidity = measured(row.humidity, "%", "%")
    if air is None or surface is None or humidity is None or not 0 < humidity <= 100:
        return None
    return surface - dew_point_c(air, humidity)


def _air(ground: Ground, measurement: Measurement) -> Iterable[Doubt]:
    """Doubt an emission test whose air is recorded outside the conditions of the method."""
    area, method = ground.area(measurement), methods()["ASTM F1869"]
    if area is None or measurement.date is None:
        return
    for row in ground.weather(area, measurement.date):
        for name, value, kind in (
            ("air", measured(row.air, "degC", "degC"), TEMPERATURE),
            ("humidity", measured(row.humidity, "%", "%"), PERCENT),
        ):
            asked = method.condition(name, ground.settings)
            if asked and value is not None and not _inside(value, asked):
                show = ground.showing
                low, high = (show.value(kind, bound or 0) for bound in (asked.least, asked.most))
                said = show.value(kind, value)
                yield Doubt.about(
                    measurement,
                    Rule.MOISTURE_AIR,
                    f"{name} {said} at {row.time}; {low} to {high} asked for",
                    asked.basis,
                    Effect.SET_ASIDE,
                )
                return


def _inside(value: float, asked: Condition) -> bool:
    low = asked.least is None or value >= asked.least
    return low and (asked.most is None or value <= asked.most)


def _depth(ground: Ground, measurement: Measurement) -> Iterable[Doubt]:
    """Doubt a probe whose depth is not recorded, or not the share of the slab asked for."""
    asked = methods()["ASTM F2170"].condition("depth", ground.settings)
    depth = measured(measurement.depth, "mm", "mm")
    if asked is None:
        return
    if depth is None:
        words, effect = "the depth of the probe is not recorded", Effect.SET_ASIDE
    else:
        slab = next((c.dft_nominal for c in ground.coats(measurement) if c.order == 0), None)
        thick = measured(slab, "mm")
        right = probe_depth(thick, ground.settings.slab_drying) if thick else depth
        if abs(depth - right) <= 0.1 * right:
            return
        said, due = (ground.showing.value(SIZE, one) for one in (depth, right))
        words, effect = f"probe at {said}; {due} asked for in this slab", Effect.NONE
    yield Doubt.about(measurement, Rule.MOISTURE_DEPTH, words, asked.basis, effect)
