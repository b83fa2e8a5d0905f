"""What was laid where and when: the coats of each area, with the precision of the log."""

from bisect import bisect_left, bisect_right
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import cached_property
from operator import itemgetter
from typing import NamedTuple

from workbench.records import Application, Area, Coat, Dossier, Source, Weather, When
from workbench.records.codes import Quality, YesNo
from workbench.trade.settings import Settings
from workbench.trade.showing import Showing

_WORST_FIRST = (Quality.POOR, Quality.FAIR, Quality.GOOD)


class Moment(NamedTuple):
    """A moment as it was recorded: no earlier than `first`, no later than `last`."""

    first: datetime
    last: datetime


@dataclass(frozen=True, slots=True)
class Laid:
    """One coat on one area: of several rows the first start and the last end count.

    Attributes:
        area: The area.
        order: Order of the coat; 0 is the preparation.
        coat: The coat as specified; None where the system names none of that order.
        rows: The rows of the log.
        start: When it was begun; None where no row says.
        end: When it was finished; the start where no row says.
    """

    area: Area
    order: int
    coat: Coat | None
    rows: tuple[Application, ...]
    start: Moment | None
    end: Moment | None

    @property
    def name(self) -> str:
        """What the coat is called."""
        if self.coat:
            return self.coat.product or self.coat.material.replace("_", " ")
        return "preparation" if self.order == 0 else f"coat {self.order}"

    @property
    def sources(self) -> tuple[Source, ...]:
        """The rows of the log."""
        return tuple(row.source for row in self.rows)

    @property
    def quality(self) -> Quality:
        """The worst quality of its rows."""
        return worst(row_quality(row) for row in self.rows)


@dataclass(frozen=True)
class Log:
    """The application log of a case, with the choices made and the units of words.

    Attributes:
        dossier: The records.
        settings: The choices.
        showing: Units of words.
    """

    dossier: Dossier
    settings: Settings
    showing: Showing

    @cached_property
    def areas(self) -> tuple[Area, ...]:
        """The areas that the log names, in the order of the case."""
        named = {ref for row in self.dossier.all(Application) for ref in row.area}
        return tuple(area for area in self.dossier.all(Area) if area.ref in named)

    @cached_property
    def coats(self) -> tuple[Laid, ...]:
        """Every coat on every area, from the bottom up."""
        return tuple(laid for area in self.areas for laid in self._on(area))

    def after(self, below: Laid) -> Laid | None:
        """Return the next coat on the same area; None where none is recorded."""
        above = [c for c in self.coats if c.area is below.area and c.order > below.order]
        return min(above, key=lambda c: c.order) if above else None

    def is_last(self, laid: Laid) -> bool:
        """Return whether the system names no coat above this one."""
        orders = [coat.order for coat in self.dossier.system_of(laid.area)]
        return bool(orders) and laid.order >= max(orders)

    def weather(
        self, area: Area, first: datetime, last: datetime
    ) -> tuple[tuple[datetime, Weather], ...]:
        """Return the weather rows of an area between two instants, with their times."""
        near = {area.ref, *(one.ref for one in self.around(area))}
        start = bisect_left(self._timed, first, key=itemgetter(0))
        end = bisect_right(self._timed, last, key=itemgetter(0))
        return tuple(
            (at, row)
            for at, row in self._timed[start:end]
            if row.area is None or not near.isdisjoint(row.area)
        )

    def around(self, area: Area) -> Iterable[Area]:
        """Return the areas that `area` lies in, the nearest first."""
        seen = {area.ref}
        while (outer := self.dossier.area(area.within)) and outer.ref not in seen:
            seen.add(outer.ref)
            yield outer
            area = outer

    @cached_property
    def _timed(self) -> list[tuple[datetime, Weather]]:
        zone = self.dossier.zone
        timed = ((row.time.start(zone), row) for row in self.dossier.all(Weather))
        return sorted(timed, key=lambda pair: pair[0])

    def _on(self, area: Area) -> Iterable[Laid]:
        system = {coat.order: coat for coat in self.dossier.system_of(area)}
        places = (area, *self.around(area))
        orders = {row.coat for at in places for row in self._rows(at)}
        for order in sorted(orders):
            rows = next(
                found
                for at in places
                if (found := tuple(row for row in self._rows(at) if row.coat == order))
            )
            yield self._laid(area, order, system.get(order), rows)

    def _rows(self, area: Area) -> tuple[Application, ...]:
        return self._by_area.get(area.ref, ())

    @cached_property
    def _by_area(self) -> dict[str, tuple[Application, ...]]:
        by_area: dict[str, tuple[Application, ...]] = {}
        for row in self.dossier.all(Application):
            for ref in row.area:
                by_area[ref] = (*by_area.get(ref, ()), row)
        return by_area

    def _laid(
        self, area: Area, order: int, coat: Coat | None, rows: tuple[Application, ...]
    ) -> Laid:
        starts = [self.moment(row.start) for row in rows if row.start]
        ends = [self.moment(at) for row in rows if (at := row.end or row.start)]
        start = (
            Moment(min(m.first for m in starts), min(m.last for m in starts)) if starts else None
        )
        end = Moment(max(m.first for m in ends), max(m.last for m in ends)) if ends else None
        return Laid(area, order, coat, rows, start, end)

    def moment(self, when: When) -> Moment:
        """Return when something recorded at `when` may have been."""
        return Moment(when.start(self.dossier.zone), when.end(self.dossier.zone))


def worst(qualities: Iterable[Quality | None]) -> Quality:
    """Return the worst of some qualities that are said; good where there are none."""
    held = set(qualities)
    return next((one for one in _WORST_FIRST if one in held), Quality.GOOD)


def row_quality(row: Application) -> Quality:
    """Return how far a row of the log can be trusted: as said, else fair."""
    return row.quality or Quality.FAIR


def weather_quality(row: Weather) -> Quality:
    """Return how far a weather row can be trusted: read on site, or from elsewhere."""
    if row.on_site is YesNo.YES:
        return Quality.GOOD
    return Quality.POOR if row.on_site is YesNo.NO else Quality.FAIR


def hours(length: timedelta) -> float:
    """Return a length of time in hours."""
    return length.total_seconds() / 3600
