"""How old the work was: when failing was first seen, and what had been expected."""

from dataclasses import dataclass

from workbench.analysis.application.laid import worst
from workbench.reasoning.derivation.amounts import number
from workbench.reasoning.derivation.said import (
    NO,
    OPEN,
    YES,
    Verdict,
    found,
    named,
    settle,
    silent,
    sources_of,
)
from workbench.reasoning.history import Span, coats_laid, events_of, said_no, since
from workbench.reasoning.results import Finding
from workbench.reasoning.scene import Scene
from workbench.records import Area, AreaEvent, Document, Source, When
from workbench.records.codes import (
    DocumentKind,
    Event,
    Quality,
    Substrate,
)

CEMENTITIOUS = (Substrate.CONCRETE, Substrate.MASONRY_RENDER, Substrate.PLASTER_GYPSUM)


@dataclass(frozen=True, slots=True)
class Onset:
    """When failing of an area came, counted from a start, and what that rests on.

    Attributes:
        span: Between what times after the start it came.
        seen: Between what times after the start it was first seen.
        bounded: Whether it was first seen only, the place having been out of sight before.
        served: Whether the time runs from entry into service, else from the last coat.
        quality: The poorest of the events used.
        sources: The records used.
    """

    span: Span
    seen: Span
    bounded: bool
    served: bool
    quality: Quality
    sources: tuple[Source, ...]


def time_to_failure(scene: Scene) -> Finding:
    """Return how long after entry into service, or the last coat, failing came.

    First seen stands for the onset in a place open to view; a place under water or in the ground
    failed at any time between the last look that found it sound, else the start, and first seen.
    A band is concluded where the whole of that time, with the doubt of the dates, lies in it; what
    was seen on the day of the start, by dates alone, came that day.
    """
    onsets = [one for area in scene.failing.areas for one in _onsets(scene, area)]
    if not onsets:
        return silent("when failing was first seen, or the work ended, is not recorded",
                      scene.failing.sources)  # fmt: skip
    onset = min(onsets, key=lambda one: (one.bounded, one.seen.high_h))
    since_what = "entry into service" if onset.served else "the last coat"
    days = onset.seen.middle_h / 24
    lag = "within a day of" if days < 1 else f"about {days_in_words(days)} after"
    words = f"failing was first seen {lag} {since_what}"
    first, last = (_band(hours / 24) for hours in (onset.span.low_h, onset.span.high_h))
    if first != last and onset.bounded:
        began = "the last look that found it sound" if onset.span.low_h > 0 else since_what
        words += (
            f"; the place was out of sight until then, so that it came at any time after {began}"
        )
        return silent(words, onset.sources)
    same_day = onset.seen.high_h <= 24
    if first != last and not same_day:
        told = ages_in_words(onset.seen.low_h / 24, onset.seen.high_h / 24)
        return silent(f"{words}; the dates leave {told}", onset.sources)
    return found(first, words, onset.sources, method="dates", quality=onset.quality)


_BANDS = ((1, "during_application"), (7, "days"), (60, "weeks"), (365, "months"),
          (5 * 365.25, "one_to_five_years"))  # fmt: skip


def _band(days: float) -> str:
    return next((name for top, name in _BANDS if days < top), "over_five_years")


def _onsets(scene: Scene, area: Area) -> list[Onset]:
    """Return when failing of an area came, by each record of when it was first seen."""
    zone = scene.dossier.zone
    coats = [one for one in coats_laid(scene, area) if one.order > 0]
    ends = coats[-1].ends if coats else None
    begun = [
        e
        for e in events_of(scene, area, Event.IN_SERVICE, Event.IMMERSED)
        if not said_no(e) and (ends is None or e.start.end(zone) > ends[0])
    ]
    start, start_sources = ends, coats[-1].sources if coats else ()
    if begun:
        start = (begun[0].start.start(zone), begun[0].start.end(zone))
        start_sources = (begun[0].source,)
    held = []
    for when, source in first_seen(scene, area):
        seen = since(start, scene, when)
        if seen is None:
            continue
        seen = Span(max(seen.low_h, 0), seen.high_h)
        looks = _found_sound(scene, area, when)
        before = since(start, scene, looks[-1].start) if looks else None
        hidden = out_of_sight(scene, area)
        low = (max(before.low_h, 0) if before else 0) if hidden else seen.low_h
        span = Span(low, seen.high_h)
        rows = (scene.dossier.resolve(one) for one in (*start_sources, source))
        quality = worst(row.quality for row in rows if isinstance(row, AreaEvent))
        sources = (*start_sources, source, *sources_of(looks[-1:]))
        held.append(Onset(span, seen, hidden, bool(begun), quality, sources))
    return held


def out_of_sight(scene: Scene, area: Area) -> bool:
    """Return whether an area lies under water or in the ground, by its features or events."""
    if any(scene.tag(area.ref, name) for name in ("immersed", "buried")):
        return True
    return any(not said_no(one) for one in events_of(scene, area, Event.IMMERSED))


def _found_sound(scene: Scene, area: Area, before: When) -> list[AreaEvent]:
    """Return the looks that found no failing in an area ("first seen: no"), in order of time."""
    zone = scene.dossier.zone
    looks = [
        one for one in events_of(scene, area, Event.FIRST_SEEN)
        if said_no(one) and one.start.start(zone) < before.start(zone)
    ]  # fmt: skip
    return sorted(looks, key=lambda one: one.start.start(zone))


def days_in_words(days: float) -> str:
    """Return a span in days, months or years."""
    if days < 60:
        return "1 day" if round(days) == 1 else f"{days:.0f} days"
    return f"{days / 30.4:.0f} months" if days < 730 else f"{round(days / 365.25, 1):.3g} years"


def ages_in_words(least: float, most: float) -> str:
    """Return between what ages a span lies: "6 to 8 months"."""
    low, high = days_in_words(max(least, 0)), days_in_words(most)
    if low == high:
        return high
    (number_, unit), other = low.split(), high.split()[-1]
    return f"{number_} to {high}" if unit == other else f"{low} to {high}"


def first_seen(scene: Scene, area: Area) -> list[tuple[When, Source]]:
    """Return when failing of an area was first seen, else when it was first reported."""
    events = [e for e in events_of(scene, area, Event.FIRST_SEEN) if not said_no(e)]
    if events:
        return [(e.start, e.source) for e in events]
    papers = [
        one for one in scene.dossier.all(Document)
        if one.kind is DocumentKind.FIRST_REPORT and one.dated
    ]  # fmt: skip
    return [(one.dated, one.source) for one in papers if one.dated]


def age_exceeds_expected_life(scene: Scene) -> Finding:
    """Return whether the film was older than its expected life when failing was first seen."""
    limit = scene.limit("expected_life")
    bound = (limit.maximum or limit.minimum) if limit else None
    need = number(bound, "d")
    ages = []
    for area in scene.failing.areas:
        coats = [one for one in coats_laid(scene, area) if one.order > 0]
        for when, source in first_seen(scene, area):
            span = since(coats[-1].ends if coats else None, scene, when)
            if span:
                ages.append((span, (*coats[-1].sources, source)))
    if not ages or limit is None or need is None:
        return silent("the expected life or the age is not recorded", scene.failing.sources)
    span, sources = max(ages, key=lambda one: one[0].high_h)
    holds = span.over(24 * need)
    hidden = all(out_of_sight(scene, area) for area in scene.failing.areas)
    youngest = min(one.low_h for one, _ in ages)
    age, life = ages_in_words(youngest / 24, span.high_h / 24), days_in_words(need)
    words = f"the film was {age} old where failing was first seen, {life} expected"
    if holds and hidden:
        holds, words = None, f"{words}; the place was out of sight before"
    if holds is None:
        return silent(words, (*sources, limit.source))
    return found(YES if holds else NO, words, (*sources, limit.source))


def substrate_age_low(scene: Scene) -> Finding:
    """Return whether concrete, render or plaster was young when first coated."""

    def judge(area: Area) -> Verdict:
        base = scene.coat(area, 0)
        cast = [e for e in events_of(scene, area, Event.CAST) if not said_no(e)]
        coats = [one for one in coats_laid(scene, area) if one.order > 0]
        if not base or base.material not in CEMENTITIOUS or not cast or not coats:
            return Verdict(area, OPEN, "", (area.source,))
        starts = coats[0].starts
        if starts is None:
            return Verdict(area, OPEN, "", (area.source,))
        low = (starts[0] - cast[0].start.end(scene.dossier.zone)).total_seconds() / 86400
        high = (starts[1] - cast[0].start.start(scene.dossier.zone)).total_seconds() / 86400
        need = scene.settings.young_cement_d
        holds = True if high < need else False if low >= need else None
        words = f"{area.name}: about {high:.0f} d old when coated"
        return Verdict(area, holds, words, (cast[0].source, *coats[0].sources))

    return settle(
        scene,
        [judge(area) for area in scene.failing.areas],
        yes="the cementitious substrate was young when coated",
        no="the cementitious substrate was of age when coated",
        nothing="the age of the substrate when coated is not recorded",
        settled_by=scene.settings.said("young_cement_d"),
    )


def repair_history_same_location(scene: Scene) -> Finding:
    """Return whether this place failed and was repaired before."""
    events = [e for area in scene.areas for e in events_of(scene, area, Event.REPAIRED)]
    first = [
        when.start(scene.dossier.zone)
        for area in scene.areas
        for when, _ in first_seen(scene, area)
    ]
    before = [
        e
        for e in events
        if not said_no(e) and (not first or e.start.start(scene.dossier.zone) < max(first))
    ]
    if before:
        return found(YES, f"an earlier repair is recorded in {scene.ground}", sources_of(before))
    if events and all(said_no(e) for e in events):
        return found(NO, "the record denies earlier repairs", sources_of(events))
    return silent("no earlier repair is recorded or denied", scene.sources)


RULES = named(
    time_to_failure, age_exceeds_expected_life, substrate_age_low, repair_history_same_location
)
