"""How long a coat waited for the next one, and for service."""

import math
from collections.abc import Sequence

from workbench.analysis.application.laid import worst
from workbench.analysis.recoat import mean_celsius, recoat_rows
from workbench.reasoning.derivation.amounts import number
from workbench.reasoning.derivation.logged import any_of, coat_name, each_area, pairs_at_plane
from workbench.reasoning.derivation.said import (
    OPEN,
    Verdict,
    found,
    named,
    settle,
    silent,
    sources_of,
)
from workbench.reasoning.history import (
    HOURS_TOLD,
    Laid,
    Span,
    between,
    coats_laid,
    events_of,
    log_quality,
    mean_surface_between_c,
    said_no,
    since,
    weather_rows,
    window_range,
)
from workbench.reasoning.results import Finding
from workbench.reasoning.scene import Scene
from workbench.records import Area, AreaEvent, Limit
from workbench.records.codes import Event
from workbench.trade.curing import Rests, Tempered, TimeAt, tempered


def recoat_interval_exceeded(scene: Scene) -> Finding:
    """Return whether a coat followed later than the maximum interval of the one below."""
    return settle(
        scene,
        interval_verdicts(scene, longest=True),
        yes="the maximum recoat interval at the failed plane was exceeded",
        no="the recoat interval at the failed plane was kept",
        nothing=f"the recoat interval in {scene.ground} does not follow from the records",
    )


def recoat_interval_too_short(scene: Scene) -> Finding:
    """Return whether a coat followed sooner than the minimum interval of the one below."""
    return settle(
        scene,
        interval_verdicts(scene, longest=False),
        yes="a coat followed before the minimum recoat interval",
        no="the minimum recoat interval was kept",
        nothing=f"the minimum interval in {scene.ground} does not follow from the records",
    )


def interval_verdicts(scene: Scene, *, longest: bool) -> list[Verdict]:
    """Return, for each area, whether the maximum (or minimum) recoat interval was broken."""

    def judge(scene: Scene, area: Area) -> Verdict:
        pairs = pairs_at_plane(scene, area)
        if not pairs:
            words = "no pair of following coats is logged"
            return Verdict(area, OPEN, words, (area.source,))
        held = [_interval(scene, area, *pair, longest=longest) for pair in pairs]
        return any_of(area, held)

    return each_area(scene, judge)


def _interval(scene: Scene, area: Area, earlier: Laid, later: Laid, *, longest: bool) -> Verdict:
    sources = (*earlier.sources, *later.sources)
    quality = worst(log_quality(row) for row in (*earlier.rows, *later.rows))
    span = between(earlier, later)
    names = f"{coat_name(scene, earlier)} to {coat_name(scene, later)}"
    if span is None:
        return Verdict(area, OPEN, f"{names}: a time is missing", sources, quality)
    lower, upper = scene.coat(area, earlier.order), scene.coat(area, later.order)
    windows = recoat_rows(scene.dossier, lower, upper)
    surface_c = mean_surface_between_c(scene, earlier, later)
    limits = window_range(windows, surface_c, longest=longest)
    if limits is None:
        kind = "maximum" if longest else "minimum"
        return Verdict(area, OPEN, f"{names}: {span}; the {kind} interval is not recorded", sources)
    sources = (*sources, *sources_of(windows))
    broken = [span.over(one) if longest else span.under(one) for one in limits]
    holds = broken[0] if len(set(broken)) == 1 else None
    likely = span.middle_h > limits[0] if longest else span.middle_h < limits[0]
    words = f"{area.name}: {names} {span}, {_limit_words(limits, longest=longest)}"
    return Verdict(area, holds, words, sources, quality, likely)


def _limit_words(limits: tuple[float, float], *, longest: bool) -> str:
    if math.inf in limits:
        return "no maximum"
    kind = "maximum" if longest else "minimum"
    days = max(limits) >= HOURS_TOLD
    low, high = (one / 24 if days else one for one in limits)
    said = f"{low:.3g}" if low == high else f"{low:.3g} to {high:.3g}"
    return f"{kind} {said} {'d' if days else 'h'}"


def recoat_interval_value_h(scene: Scene) -> Finding:
    """Return the hours between the coats at the failed plane, in the middle of what they may be."""
    spans = [
        (span, pair)
        for area in scene.areas
        for pair in pairs_at_plane(scene, area)
        if (span := between(*pair))
    ]
    if not spans:
        return silent("no pair of coats at the failed plane is timed", scene.sources)
    longest, pair = max(spans, key=lambda one: one[0].high_h)
    value = f"{(longest.low_h + longest.high_h) / 2:.0f}"
    return found(value, f"the longest interval is {longest}", (*pair[0].sources, *pair[1].sources))


def early_service_before_cure(scene: Scene) -> Finding:
    """Return whether service began before the cure time of the last coat had passed.

    The time is taken at the temperature that was: by the rows of the data sheet, else by the rule
    of thumb; where the two part, or no temperature is recorded, it is left open.
    """
    return settle(
        scene,
        each_area(scene, _served_early),
        yes="service began before the cure time had passed",
        no="service began after the cure time had passed",
        nothing=f"the start of service or the cure time is not recorded for {scene.ground}",
    )


def _served_early(scene: Scene, area: Area) -> Verdict:
    coats = [one for one in coats_laid(scene, area) if one.order > 0]
    limits = _cure_limits(scene, area)
    begun = [
        one
        for one in events_of(
            scene, area, Event.IN_SERVICE, Event.IMMERSED, Event.WASHED, Event.CURRENT_ON,
            Event.CHEMICAL, Event.CLEANED,
        )
        if not said_no(one)
    ]  # fmt: skip
    if not coats or coats[-1].ends is None or not begun or not limits:
        return Verdict(
            area, OPEN, f"{area.name}: service or cure time not recorded", (area.source,)
        )
    ends = coats[-1].ends
    after = [one for one in begun if one.start.end(scene.dossier.zone) > ends[0]]
    if not after:
        return Verdict(area, OPEN, f"{area.name}: no service after the last coat", (area.source,))
    first = min(after, key=lambda one: one.start.start(scene.dossier.zone))
    waited = since(ends, scene, first.start)
    need = _cure_time(scene, limits, coats[-1], first)
    if waited is None or need is None:
        return Verdict(area, OPEN, f"{area.name}: cure time not recorded", (area.source,))
    holds, asked = _before(scene, waited, need, limits)
    what = first.event.replace("_", " ")
    words = f"{area.name}: {what} after {max(waited.low_h, 0):.0f} h, {asked}"
    sources = (first.source, *coats[-1].sources, *sources_of(limits))
    return Verdict(area, holds, words, sources, worst([first.quality]))


def _cure_limits(scene: Scene, area: Area) -> list[Limit]:
    """Return the rows that state the cure time for an area, at whatever temperatures."""
    best = scene.limit("cure_to_service", area=area)
    if best is None:
        return []
    return [
        one for one in scene.dossier.all(Limit)
        if (one.quantity, one.applies_to) == (best.quantity, best.applies_to)
        and number(one.minimum, "h") is not None
    ]  # fmt: skip


def _cure_time(
    scene: Scene, limits: Sequence[Limit], last: Laid, first: AreaEvent
) -> Tempered | None:
    """Return the cure time at the mean temperature from the last coat to service."""
    if last.ends is None:
        return None
    until = first.start.end(scene.dossier.zone)
    weather = [
        row for row in weather_rows(scene, last.area)
        if last.ends[0] <= row.time.start(scene.dossier.zone) <= until
    ]  # fmt: skip
    rows = [TimeAt(number(one.at_temperature, "degC"), number(one.minimum, "h") or 0)
            for one in limits]  # fmt: skip
    return tempered(rows, mean_celsius(weather, last.rows))


def _before(
    scene: Scene, waited: Span, need: Tempered, limits: Sequence[Limit]
) -> tuple[bool | None, str]:
    """Return whether a wait was shorter than the cure time, and what was asked in words."""
    if need.rests is Rests.NOT_RECORDED:
        stated = [
            f"{one.minimum} at {scene.showing.temperature(celsius)}"
            for one in limits
            if (celsius := number(one.at_temperature, "degC")) is not None
        ]
        return None, f"{' or '.join(stated)} required; the temperature is not recorded"
    asked = f"{need.hours:.0f} h required"
    if need.rests is not Rests.UNTEMPERED:
        asked += f" at the temperature that was ({need.rests})"
    held = {waited.under(need.hours)}
    if need.other and need.other.celsius is not None:
        held.add(waited.under(need.other.hours))
        stated_at = scene.showing.temperature(need.other.celsius)
        asked += f", {need.other.hours:.0f} h at {stated_at}"
    return (held.pop() if len(held) == 1 else None), asked


RULES = named(
    recoat_interval_exceeded,
    recoat_interval_too_short,
    recoat_interval_value_h,
    early_service_before_cure,
)
