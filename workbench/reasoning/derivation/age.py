"""How old the work was: when failing was first seen, and what had been expected."""

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
from workbench.reasoning.history import coats_laid, events_of, said_no, since
from workbench.reasoning.results import Finding
from workbench.reasoning.scene import Scene
from workbench.records import Area, Document, Source, When
from workbench.records.codes import (
    DocumentKind,
    Event,
    Substrate,
)

CEMENTITIOUS = (Substrate.CONCRETE, Substrate.MASONRY_RENDER, Substrate.PLASTER_GYPSUM)


def time_to_failure(scene: Scene) -> Finding:
    """Return how long after entry into service, or the last coat, failing was first seen."""
    spans = []
    for area in scene.failing.areas:
        coats = [one for one in coats_laid(scene, area) if one.order > 0]
        ends = coats[-1].ends if coats else None
        begun = [
            e
            for e in events_of(scene, area, Event.IN_SERVICE, Event.IMMERSED)
            if not said_no(e) and (ends is None or e.start.end(scene.dossier.zone) > ends[0])
        ]
        start, start_sources = ends, coats[-1].sources if coats else ()
        if begun:
            moment = begun[0].start
            start = (moment.start(scene.dossier.zone), moment.end(scene.dossier.zone))
            start_sources = (begun[0].source,)
        for when, source in first_seen(scene, area):
            span = since(start, scene, when)
            if span:
                spans.append((span, (*start_sources, source), bool(begun)))
    if not spans:
        return silent("when failing was first seen, or the work ended, is not recorded",
                      scene.failing.sources)  # fmt: skip
    span, sources, served = min(spans, key=lambda one: one[0].high_h)
    days = (max(span.low_h, 0) + span.high_h) / 48
    bands = ((1, "during_application"), (7, "days"), (60, "weeks"), (365, "months"),
             (5 * 365.25, "one_to_five_years"))  # fmt: skip
    value = next((name for top, name in bands if days < top), "over_five_years")
    since_what = "entry into service" if served else "the last coat"
    lag = "within a day of" if days < 1 else f"about {days_in_words(days)} after"
    words = f"failing was first seen {lag} {since_what}"
    return found(value, words, sources,
                 method="dates")  # fmt: skip


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
    youngest = min(one.low_h for one, _ in ages)
    age, life = ages_in_words(youngest / 24, span.high_h / 24), days_in_words(need)
    words = f"the film was {age} old where failing was first seen, {life} expected"
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
