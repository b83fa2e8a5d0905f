"""What was done to an area and when, with the doubt that the records leave.

Dates are recorded to the year, the day or the minute; an interval is therefore a range, and a
verdict follows only where the whole range lies on one side of the limit.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

from workbench.analysis.measured import measured
from workbench.analysis.recoat import longest_wait, mean_celsius, shortest_wait
from workbench.reasoning.scene import Scene
from workbench.records import (
    Application,
    Area,
    AreaEvent,
    Quantity,
    RecoatWindow,
    Source,
    Weather,
    When,
)
from workbench.records.codes import Event, Quality, YesNo
from workbench.trade.dew_point import dew_margin_k, dew_point_c, humidity_of_wet_bulb_percent

HOURS_TOLD = 240.0
"""From here on a length of time is told in days; a shorter one in hours, as data sheets do."""


@dataclass(frozen=True, slots=True)
class Span:
    """A length of time that lies between `low` and `high` hours."""

    low_h: float
    high_h: float

    def over(self, limit_h: float) -> bool | None:
        """Return whether it is longer than `limit_h`; None where the records leave it open."""
        if self.low_h > limit_h:
            return True
        return False if self.high_h <= limit_h else None

    def under(self, limit_h: float) -> bool | None:
        """Return whether it is shorter than `limit_h`; None where the records leave it open."""
        if self.high_h < limit_h:
            return True
        return False if self.low_h >= limit_h else None

    @property
    def middle_h(self) -> float:
        """The middle of the span."""
        return (self.low_h + self.high_h) / 2

    def __str__(self) -> str:
        """Return the span in words: "21 h", "139 h", "16 to 18 d"."""
        if self.high_h >= HOURS_TOLD:
            return _span(self.low_h / 24, self.high_h / 24, "d")
        return _span(self.low_h, self.high_h, "h")


def _span(low: float, high: float, unit: str) -> str:
    said = [f"{max(value, 0):.0f}" for value in (low, high)]
    return f"{said[0]} {unit}" if said[0] == said[1] else f"{said[0]} to {said[1]} {unit}"


@dataclass(frozen=True, slots=True)
class Climate:
    """Air and surface at one moment of the work."""

    at: datetime | None
    air_c: float | None
    humidity: float | None
    surface_c: float | None
    quality: Quality
    source: Source

    @property
    def margin_k(self) -> float | None:
        """Surface above dew point, or air where no surface was read; None where none follows."""
        if self.air_c is None or self.humidity is None:
            return None
        surface = self.air_c if self.surface_c is None else self.surface_c
        try:
            return dew_margin_k(surface, dew_point_c(self.air_c, self.humidity))
        except ValueError:
            return None


@dataclass(frozen=True, slots=True)
class Laid:
    """One coat on one area: the first start and the last end of its rows count."""

    area: Area
    order: int
    rows: tuple[Application, ...]
    starts: tuple[datetime, datetime] | None
    ends: tuple[datetime, datetime] | None
    doubt: timedelta = timedelta(0)

    @property
    def sources(self) -> tuple[Source, ...]:
        """The rows of the log."""
        return tuple(row.source for row in self.rows)

    @property
    def days(self) -> frozenset[str]:
        """The calendar days of the coat, as recorded."""
        return frozenset(row.start.text[:10] for row in self.rows if row.start)

    @property
    def batches(self) -> frozenset[str]:
        """The batches of the coat."""
        return frozenset(one for row in self.rows for one in (row.batch_a, row.batch_b) if one)


def laid(scene: Scene, area: Area, order: int) -> Laid | None:
    """Return the coat of that order on `area`.

    Its own rows count, else those of what it lies in, else those of its parts.
    """
    rows = [row for row in scene.dossier.all(Application) if row.coat == order]
    for held in scene.with_ancestors(area):
        own = [row for row in rows if held.ref in row.area]
        if own:
            return _laid(scene, area, order, own)
    parts = {part.ref for part in scene.parts_of(area)}
    of_parts = [row for row in rows if parts & set(row.area)]
    return _laid(scene, area, order, of_parts) if of_parts else None


def _laid(scene: Scene, area: Area, order: int, rows: list[Application]) -> Laid:
    starts = [_range(scene, row.start) for row in rows if row.start]
    ends = [_range(scene, end) for row in rows if (end := row.end or row.start)]
    first = (min(a for a, _ in starts), min(b for _, b in starts)) if starts else None
    last = (max(a for a, _ in ends), max(b for _, b in ends)) if ends else None
    return Laid(area, order, tuple(rows), first, last, _doubt(scene, rows))


def _range(scene: Scene, when: When) -> tuple[datetime, datetime]:
    return when.start(scene.dossier.zone), when.end(scene.dossier.zone)


def _doubt(scene: Scene, rows: list[Application]) -> timedelta:
    """Return by how much dates may be off: those of a reconstructed log by some days."""
    poor = any(row.quality is Quality.POOR for row in rows)
    return timedelta(days=scene.settings.poor_date_d if poor else 0)


def coats_laid(scene: Scene, area: Area) -> tuple[Laid, ...]:
    """Return the coats recorded for `area`, from the bottom; preparation is coat 0."""
    return scene.once(("coats", area.ref), lambda: _coats_laid(scene, area))


def _coats_laid(scene: Scene, area: Area) -> tuple[Laid, ...]:
    refs = {one.ref for one in (*scene.with_ancestors(area), *scene.parts_of(area))}
    orders = {row.coat for row in scene.dossier.all(Application) if refs & set(row.area)}
    found = (laid(scene, area, order) for order in sorted(orders))
    return tuple(one for one in found if one)


def between(earlier: Laid, later: Laid) -> Span | None:
    """Return the time from the end of one coat to the start of the next."""
    if earlier.ends is None or later.starts is None:
        return None
    doubt = max(earlier.doubt, later.doubt).total_seconds() / 3600
    low = (later.starts[0] - earlier.ends[1]).total_seconds() / 3600
    high = (later.starts[1] - earlier.ends[0]).total_seconds() / 3600
    return Span(max(low - doubt, 0), max(high + doubt, 0))


def since(start: tuple[datetime, datetime] | None, scene: Scene, when: When | None) -> Span | None:
    """Return the time from a moment in a range to another moment; None where either is unknown."""
    if start is None or when is None:
        return None
    first, last = _range(scene, when)
    low = (first - start[1]).total_seconds() / 3600
    return Span(low, (last - start[0]).total_seconds() / 3600)


# -- climate


def climate_of(scene: Scene, coat: Laid, *, hours_after: float) -> tuple[Climate, ...]:
    """Return the climate logged for a coat, and that of the weather record in its window."""
    own = [_of_log(scene, row) for row in coat.rows]
    held = [one for one in own if (one.air_c, one.humidity, one.surface_c) != (None, None, None)]
    return (*held, *weather_of(scene, coat, hours_after=hours_after))


def weather_of(scene: Scene, coat: Laid, *, hours_after: float) -> tuple[Climate, ...]:
    """Return the weather record from the start of a coat to some hours after its end."""
    if coat.starts is None or coat.ends is None:
        return ()
    window = (coat.starts[0], coat.ends[1] + timedelta(hours=hours_after))
    return tuple(
        _of_weather(row, at)
        for row in weather_rows(scene, coat.area)
        if window[0] <= (at := row.time.start(scene.dossier.zone)) <= window[1]
    )


def weather_rows(scene: Scene, area: Area) -> tuple[Weather, ...]:
    """Return the weather rows that hold for `area`, or for the whole site."""
    return scene.once(("weather", area.ref), lambda: _weather_rows(scene, area))


def _weather_rows(scene: Scene, area: Area) -> tuple[Weather, ...]:
    refs = [one.ref for one in scene.with_ancestors(area)]
    rows = scene.dossier.all(Weather)
    return tuple(r for r in rows if r.area is None or any(ref in r.area for ref in refs))


def _of_log(scene: Scene, row: Application) -> Climate:
    air, surface = _celsius(row.air), _celsius(row.surface)
    humidity = measured(row.humidity, "%", "%")
    if humidity is None and air is not None and (wet := _celsius(row.wet_bulb)) is not None:
        humidity = humidity_of_wet_bulb_percent(air, wet) if wet <= air else None
    at = row.start.start(scene.dossier.zone) if row.start else None
    return Climate(at, air, humidity, surface, log_quality(row), row.source)


def _of_weather(row: Weather, at: datetime) -> Climate:
    if row.on_site is YesNo.NO or row.surface is None:
        quality = Quality.POOR
    else:
        quality = Quality.GOOD if row.on_site is YesNo.YES else Quality.FAIR
    air, surface = _celsius(row.air), _celsius(row.surface)
    return Climate(at, air, measured(row.humidity, "%", "%"), surface, quality, row.source)


def _celsius(quantity: Quantity | None) -> float | None:
    return measured(quantity, "degC", "degC")


def log_quality(row: Application) -> Quality:
    """Return how far a row of the log can be trusted: as said, else by what it holds."""
    if row.quality:
        return row.quality
    timed = row.start is not None and row.start.precision == "time"
    return Quality.GOOD if timed or row.surface is not None else Quality.FAIR


# -- events


def events_of(scene: Scene, area: Area, *events: Event) -> tuple[AreaEvent, ...]:
    """Return what happened to `area`, to what it lies in, or to the whole site."""
    refs = {"", *(one.ref for one in scene.with_ancestors(area))}
    return tuple(
        one for one in scene.dossier.all(AreaEvent) if one.event in events and one.area in refs
    )


def overlaps(scene: Scene, event: AreaEvent, start: datetime, end: datetime) -> bool:
    """Return whether an event may fall into a span of time."""
    first = event.start.start(scene.dossier.zone)
    last = (event.end or event.start).end(scene.dossier.zone)
    return first <= end and last >= start


def said_no(event: AreaEvent) -> bool:
    """Return whether an event is recorded as not having happened."""
    return event.value is not None and event.value.word in ("no", "none", "negative")


# -- recoat windows


def window_range(
    windows: Iterable[RecoatWindow], surface_c: float | None, *, longest: bool
) -> tuple[float, float] | None:
    """Return the limit in hours between which it lies at the temperature that prevailed.

    None where it is not known; infinity where there is no maximum.
    """
    held = (longest_wait if longest else shortest_wait)(windows, surface_c)
    if held is None:
        return None
    limits = [held.hours, *([held.other.hours] if held.other else [])]
    return min(limits), max(limits)


def mean_surface_between_c(scene: Scene, earlier: Laid, later: Laid) -> float | None:
    """Return the mean surface temperature between two coats, else of the air, else None."""
    if earlier.ends is None or later.starts is None:
        return None
    first, last = earlier.ends[0], later.starts[1]
    weather = (
        row for row in weather_rows(scene, earlier.area)
        if first <= row.time.start(scene.dossier.zone) <= last
    )  # fmt: skip
    return mean_celsius(weather, (*earlier.rows, *later.rows))
