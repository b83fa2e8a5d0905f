"""What the doubts stand on: the records of a case, and what of them is looked up often."""

from collections import defaultdict
from collections.abc import Callable, Hashable, Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import cached_property
from typing import TypeVar

from workbench.analysis.measured import measured
from workbench.records import (
    Area,
    AreaEvent,
    Coat,
    Dossier,
    Location,
    Measurement,
    PullOff,
    Rating,
    SurveyEntry,
    Thickness,
    Weather,
    When,
)
from workbench.trade.methods import Condition, Method, method
from workbench.trade.pull_off import Stress, stress_of
from workbench.trade.settings import Settings
from workbench.trade.showing import Showing
from workbench.trade.units import UnitError, convert

T = TypeVar("T")
K = TypeVar("K", bound=Hashable)
Placed = PullOff | Rating | Thickness | Measurement
"""A reading that has a location."""


@dataclass(frozen=True)
class Ground:
    """A case, the choices made for it, and how numbers are shown in the words of a doubt.

    Attributes:
        dossier: The records.
        settings: The choices.
        showing: Units of the words.
    """

    dossier: Dossier
    settings: Settings
    showing: Showing

    @cached_property
    def pulls(self) -> tuple[PullOff, ...]:
        """The pull-offs."""
        return self.dossier.all(PullOff)

    @cached_property
    def stresses(self) -> dict[str, Stress]:
        """The stress of each pull-off by the record's id."""
        smallest = self.settings.smallest_readable_mpa
        return {one.id: stress_of(one, smallest_readable_mpa=smallest) for one in self.pulls}

    @cached_property
    def areas(self) -> dict[str, Area | None]:
        """The area of each location by its ref."""
        return {one.ref: self.dossier.area(one.area) for one in self.dossier.all(Location)}

    @cached_property
    def systems(self) -> dict[str, tuple[Coat, ...]]:
        """The layers of each area by its ref."""
        return {one.ref: self.dossier.system_of(one) for one in self.dossier.all(Area)}

    def area(self, reading: Placed) -> Area | None:
        """Return the area of a reading."""
        return self.areas.get(reading.location)

    def coats(self, reading: Placed) -> tuple[Coat, ...]:
        """Return the layers under a reading, from the substrate up."""
        area = self.area(reading)
        return self.systems.get(area.ref, ()) if area else ()

    def method(self, code: str) -> Method | None:
        """Return the method that a record names."""
        return method(code)

    def condition(self, code: str, name: str) -> Condition | None:
        """Return what the method asks of `name`, as the settings choose."""
        if (code, name) not in self._asked:
            found = self.method(code)
            self._asked[code, name] = found.condition(name, self.settings) if found else None
        return self._asked[code, name]

    @cached_property
    def _asked(self) -> dict[tuple[str, str], Condition | None]:
        return {}

    # -- how thick

    def film_um(self, reading: Placed, up_to: int | None = None) -> float | None:
        """Return the thickness of film at a reading in µm; None where it is not known.

        What was read at the place, else the mean of the area, else what was specified.
        """
        if up_to is not None and up_to < max((c.order for c in self.coats(reading)), default=0):
            return self.specified_um(reading, up_to)
        here = self._totals_um.get(reading.location)
        if here is not None:
            return here
        area = self.area(reading)
        usual = self._means_um.get(area.ref) if area else None
        return self.specified_um(reading, up_to) if usual is None else usual

    def specified_um(self, reading: Placed, up_to: int | None = None) -> float | None:
        """Return the nominal thickness of the coats up to one, of all by default; None: unsaid."""
        coats = [c for c in self.coats(reading) if 0 < c.order <= (up_to or c.order)]
        known = [measured(coat.dft_nominal, "um") for coat in coats]
        return sum(um for um in known if um) if known and None not in known else None

    @cached_property
    def _means_um(self) -> dict[str, float]:
        """Mean of the totals read in each area."""
        read: dict[str, list[float]] = defaultdict(list)
        for location, um in self._totals_um.items():
            if area := self.areas.get(location):
                read[area.ref].append(um)
        return {ref: sum(values) / len(values) for ref, values in read.items()}

    @cached_property
    def _totals_um(self) -> dict[str, float]:
        read: dict[str, list[float]] = defaultdict(list)
        for one in self.dossier.all(Thickness):
            if one.order is None and (um := mean_um(one)) is not None:
                read[one.location].append(um)
        return {ref: sum(values) / len(values) for ref, values in read.items()}

    # -- when and how wet

    def span(self, date: When, before_h: float = 0.0) -> tuple[datetime, datetime]:
        """Return the instants between which something recorded at `date` may have been."""
        zone = self.dossier.zone
        return date.start(zone) - timedelta(hours=before_h), date.end(zone)

    def weather(self, area: Area, date: When) -> list[Weather]:
        """Return the weather readings of an area on a date."""
        if (area.ref, date) not in self._weather_on:
            first, last = self.span(date)
            near = {area.ref, area.within}
            self._weather_on[area.ref, date] = [
                one
                for start, end, one in self._timed_weather
                if start <= last and end >= first
                if one.area is None or not near.isdisjoint(one.area)
            ]
        return self._weather_on[area.ref, date]

    @cached_property
    def wet_days(self) -> dict[tuple[str, When], str]:
        """Why the weather makes an area wet on a date, as far as it was asked for."""
        return {}

    @cached_property
    def _weather_on(self) -> dict[tuple[str, When], list[Weather]]:
        return {}

    def events(self, area: Area, date: When, before_h: float = 0.0) -> list[AreaEvent]:
        """Return what happened to an area on a date and some hours before it."""
        first, last = self.span(date, before_h)
        return [
            one
            for start, end, one in self._timed_events
            if start <= last and end >= first and one.area in {"", area.ref, area.within}
        ]

    @cached_property
    def damp(self) -> dict[str, SurveyEntry]:
        """Where dampness was seen: the entry by its place."""
        held = self.dossier.all(SurveyEntry)
        return {one.at: one for one in held if one.form == "damp" and one.seen}

    @cached_property
    def _timed_weather(self) -> list[tuple[datetime, datetime, Weather]]:
        zone, held = self.dossier.zone, self.dossier.all(Weather)
        return [(one.time.start(zone), one.time.end(zone), one) for one in held]

    @cached_property
    def _timed_events(self) -> list[tuple[datetime, datetime, AreaEvent]]:
        zone, held = self.dossier.zone, self.dossier.all(AreaEvent)
        return [(one.start.start(zone), (one.end or one.start).end(zone), one) for one in held]


def mean_um(reading: Thickness) -> float | None:
    """Return the mean of a thickness in µm; None where its unit is no length."""
    try:
        return convert(reading.readings.average, reading.unit, "um")
    except UnitError:
        return None


def grouped(items: Iterable[T], key: Callable[[T], K]) -> dict[K, list[T]]:
    """Return items by a key, in their order."""
    by_key: dict[K, list[T]] = {}
    for item in items:
        by_key.setdefault(key(item), []).append(item)
    return by_key
