"""The application as a timeline: coats, recoat windows, margins above the dew point, events."""

import math
from collections.abc import Iterable
from datetime import datetime, timedelta

from workbench.analysis.application.climate import (
    Climate,
    climates,
    of_weather,
    required_margin_k,
)
from workbench.analysis.application.intervals import recoat_check, window_after
from workbench.analysis.application.laid import Laid, Log
from workbench.analysis.application.results import (
    Bar,
    Happened,
    MarginAt,
    Opening,
    Timeline,
    Verdict,
)
from workbench.records import AreaEvent, Source

_MISSED = {Verdict.OUTSIDE: True, Verdict.INSIDE: False}
_SHOWN_AFTER = timedelta(days=3)


def timeline(log: Log) -> Timeline:
    """Return the timeline of a case."""
    bars = tuple(bar for laid in log.coats for bar in _bar(laid))
    return Timeline(
        areas=tuple(area.ref for area in log.areas),
        names={area.ref: area.name for area in log.areas},
        conditions={area.ref: area.condition for area in log.areas},
        bars=bars,
        openings=tuple(one for laid in log.coats for one in _opening(log, laid)),
        margins=tuple(sorted(_margins(log, bars), key=lambda one: one.time)),
        events=tuple(_happened(log, bars)),
    )


def _bar(laid: Laid) -> Iterable[Bar]:
    if laid.start and laid.end:
        yield Bar(
            area=laid.area.ref,
            order=laid.order,
            name=laid.name,
            start=laid.start.first,
            end=laid.end.last,
            sources=laid.sources,
        )


def _opening(log: Log, laid: Laid) -> Iterable[Opening]:
    above = log.after(laid)
    shortest, longest = window_after(log, laid, above)
    limit = longest or shortest
    if laid.end is None or laid.order == 0 or limit is None or log.is_last(laid):
        return
    check = recoat_check(log, laid, above) if above else None
    opens_h = shortest.hours if shortest else 0.0
    closes_h = longest.hours if longest and math.isfinite(longest.hours) else None
    yield Opening(
        area=laid.area.ref,
        order=laid.order,
        opens=laid.end.first + timedelta(hours=opens_h),
        closes=None if closes_h is None else laid.end.last + timedelta(hours=closes_h),
        rests=limit.rests,
        missed=_MISSED.get(check.verdict) if check else None,
        followed=above.start.first if above and above.start else None,
        laid_until=above.end.last if above and above.end else None,
    )


def _margins(log: Log, bars: tuple[Bar, ...]) -> Iterable[MarginAt]:
    """Return every margin known from the first coat to some days after the last, each once."""
    seen: dict[Source, MarginAt] = {}
    for laid in log.coats:
        for one in climates(log, laid):
            _keep(seen, one, log, laid, working=True)
    for area in log.areas if bars else ():
        first, last = _shown(bars)
        laid = next(laid for laid in log.coats if laid.area is area)
        for at, row in log.weather(area, first, last):
            _keep(seen, of_weather(row, at, log.settings), log, laid, working=False)
    return seen.values()


def _keep(
    seen: dict[Source, MarginAt], one: Climate, log: Log, laid: Laid, *, working: bool
) -> None:
    if one.at is None or one.margin_k is None or one.source in seen:
        return
    seen[one.source] = MarginAt(
        time=one.at,
        margin_k=one.margin_k,
        areas=one.areas,
        working=working,
        required_k=required_margin_k(laid, log.settings),
        source=one.source,
    )


def _shown(bars: tuple[Bar, ...]) -> tuple[datetime, datetime]:
    """Return the first and the last instant that the timeline shows."""
    return min(bar.start for bar in bars), max(bar.end for bar in bars) + _SHOWN_AFTER


def _happened(log: Log, bars: tuple[Bar, ...]) -> Iterable[Happened]:
    if not bars:
        return
    first, last = _shown(bars)
    for event in log.dossier.all(AreaEvent):
        start = log.moment(event.start).first
        end = log.moment(event.end or event.start).last
        if start <= last and end >= first:
            yield Happened(
                area=event.area, event=event.event, start=start, end=end, source=event.source
            )
