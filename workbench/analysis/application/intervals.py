"""Intervals: how long a coat waited for the next one and for service, against its window.

An interval runs from the end of one coat to the start of the next. Where only days are recorded
it lies between two numbers, and a verdict follows only when both are on one side of the limit.
Dates of a poor record may be off by some days more (a setting, no source).
"""

import math
from collections.abc import Iterable
from dataclasses import replace
from datetime import timedelta

from workbench.analysis.application.judging import Asked, Found, judge
from workbench.analysis.application.laid import Laid, Log, Moment, hours, worst
from workbench.analysis.application.results import Aspect, Check, Verdict
from workbench.analysis.limits import limits_on
from workbench.analysis.measured import measured
from workbench.analysis.recoat import longest_wait, mean_celsius, recoat_rows, shortest_wait
from workbench.records import AreaEvent, Limit, RecoatWindow
from workbench.records.codes import Event, Quality, YesNo
from workbench.trade.curing import Rests, Tempered, TimeAt, tempered
from workbench.trade.settings import Settings
from workbench.trade.showing import HOURS

_IN_SERVICE = frozenset({Event.IN_SERVICE, Event.IMMERSED})


def interval_checks(log: Log) -> Iterable[Check]:
    """Return the intervals between coats, and from the last coat to service."""
    for below in log.coats:
        above = log.after(below)
        if above and below.order > 0:
            if check := recoat_check(log, below, above):
                yield check
        elif above is None:
            yield from _service(log, below)


def window_after(
    log: Log, below: Laid, above: Laid | None
) -> tuple[Tempered | None, Tempered | None]:
    """Return the shortest and the longest time to the next coat at the temperature that was.

    None where the data sheet does not say; infinity where it says that there is no maximum.
    """
    rows = _rows(log, below, above)
    celsius = _mean_celsius(log, below, above)
    doubling_k = log.settings.doubling_k
    return shortest_wait(rows, celsius, doubling_k), longest_wait(rows, celsius, doubling_k)


def _between(
    end: Moment, start: Moment, quality: Quality, settings: Settings
) -> tuple[float, float]:
    """Return between how many hours lay between two moments, as good as the record is."""
    off = timedelta(days=settings.poor_date_d if quality is Quality.POOR else 0.0)
    least, most = hours(start.first - end.last - off), hours(start.last - end.first + off)
    return max(0.0, least), max(0.0, most)


def recoat_check(log: Log, below: Laid, above: Laid) -> Check | None:
    """Return the interval between two coats against its window; None where none is known."""
    shortest, longest = window_after(log, below, above)
    stands = _stands([row.source_text for row in _rows(log, below, above)], shortest, longest)
    first = Asked(least=_finite(shortest), most=_finite(longest), source=stands)
    other = Asked(least=_finite(shortest, other=True), most=_finite(longest, other=True))
    if not first.something:
        return None
    found = _waited(log, below, above)
    check, beside = (
        judge(below, Aspect.RECOAT, HOURS, found, asked, log.showing) for asked in (first, other)
    )
    return _settled(check, beside)


def _finite(limit: Tempered | None, *, other: bool = False) -> float | None:
    """Return a limit in hours, or the other one that may hold as well; None for no limit."""
    if limit is None:
        return None
    hours_ = limit.other.hours if other and limit.other else limit.hours
    return hours_ if math.isfinite(hours_) else None


def _settled(check: Check, other: Check) -> Check:
    """Return a check; open where another limit, which may hold as well, says otherwise."""
    if check.verdict is other.verdict:
        return check
    words = f"{check.words}; {other.verdict} by the nearest row of the data sheet as it stands"
    return replace(check, verdict=Verdict.OPEN, words=words)


def _waited(log: Log, below: Laid, above: Laid) -> Found:
    quality = worst([below.quality, above.quality])
    sources = (*below.sources, *above.sources)
    if below.end is None or above.start is None:
        blank = "end" if below.end is None else "start"
        coat = below if below.end is None else above
        return Found(said=f"the {blank} of {coat.name} is not recorded", sources=sources)
    span = _between(below.end, above.start, quality, log.settings)
    celsius = _mean_celsius(log, below, above)
    at = f" at {log.showing.temperature(celsius)}" if celsius is not None else ""
    abraded = ", abraded before" if any(r.abraded is YesNo.YES for r in above.rows) else ""
    return Found(
        low=span[0],
        high=span[1],
        said=f"{below.name} to {above.name}{at}{abraded}",
        quality=quality,
        sources=sources,
    )


def _stands(sources: list[str], *limits: Tempered | None) -> str:
    """Return where a window stands, and what it rests on where not on the data sheet itself."""
    rests = [str(one.rests) for one in limits if one and one.rests is not Rests.TABLE]
    return "; ".join(dict.fromkeys([*filter(None, sources), *rests]))


def _rows(log: Log, below: Laid, above: Laid | None) -> tuple[RecoatWindow, ...]:
    return recoat_rows(log.dossier, below.coat, above.coat if above else None)


def _mean_celsius(log: Log, below: Laid, above: Laid | None) -> float | None:
    """Return the mean surface temperature between two coats, else of the air, else None."""
    if below.end is None:
        return None
    last = above.start.last if above and above.start else below.end.last
    weather = (row for _, row in log.weather(below.area, below.end.first, last))
    return mean_celsius(weather, (row for laid in (below, above) if laid for row in laid.rows))


def _service(log: Log, last: Laid) -> Iterable[Check]:
    """Check the time from the last coat to service against what the data sheet asks."""
    limits = limits_on(log.dossier, "cure_to_service", last.area, last.coat)
    event = _first_service(log, last)
    if not limits or event is None:
        return
    celsius = _mean_celsius(log, last, None)
    rows = [TimeAt(_limit_at(one), told) for one in limits if (told := _limit_h(one)) is not None]
    least = tempered(rows, celsius, log.settings.doubling_k)
    if least is None:
        return
    sources = (*last.sources, event.source)
    if last.end is None:
        found = Found(said=f"the end of {last.name} is not recorded", sources=sources)
    else:
        said = f"{last.name} to {event.event.replace('_', ' ')}"
        quality = worst([last.quality, event.quality or Quality.FAIR])
        low, high = _between(last.end, log.moment(event.start), quality, log.settings)
        found = Found(low=low, high=high, said=said, quality=quality, sources=sources)
    asked = Asked(least=_finite(least), source=_stands([limits[0].source_text], least))
    check = judge(last, Aspect.SERVICE, HOURS, found, asked, log.showing)
    by_other = Asked(least=_finite(least, other=True))
    yield _settled(check, judge(last, Aspect.SERVICE, HOURS, found, by_other, log.showing))


def _limit_at(limit: Limit) -> float | None:
    return measured(limit.at_temperature, "degC", "degC")


def _limit_h(limit: Limit) -> float | None:
    return measured(limit.minimum, "h", "h")


def _first_service(log: Log, last: Laid) -> AreaEvent | None:
    places = {"", last.area.ref, *(one.ref for one in log.around(last.area))}
    held = [e for e in log.dossier.all(AreaEvent) if e.event in _IN_SERVICE and e.area in places]
    return min(held, key=lambda e: e.start.start(log.dossier.zone), default=None)
