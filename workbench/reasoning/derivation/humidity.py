"""How damp or dry the air was while a coat cured, and whether water reached it."""

from collections.abc import Sequence
from datetime import timedelta

from workbench.analysis.application.laid import worst
from workbench.reasoning.derivation.amounts import number
from workbench.reasoning.derivation.logged import (
    coat_name,
    coats_at_plane,
    each_coat,
    lacking,
)
from workbench.reasoning.derivation.said import (
    HOLDS,
    HOLDS_NOT,
    OPEN,
    Verdict,
    named,
    settle,
    sources_of,
)
from workbench.reasoning.history import (
    Climate,
    Laid,
    climate_of,
    events_of,
    overlaps,
    said_no,
    weather_rows,
)
from workbench.reasoning.results import Finding
from workbench.reasoning.scene import Scene
from workbench.records import Area
from workbench.records.codes import Chemistry, Event, Quality, YesNo

_CURES_BY_MOISTURE = (Chemistry.ZINC_SILICATE, Chemistry.MOISTURE_CURE_PU)


def humidity_above_limit_during_cure(scene: Scene) -> Finding:
    """Return whether the air was damper than the product allows, where it sets a limit."""
    return settle(
        scene,
        damp_verdicts(scene),
        yes="the air was damper than the product allows",
        no="the humidity stayed within the product's limit",
        nothing=f"the humidity in {scene.ground} cannot be compared",
        settled_by=scene.settings.said("humid_share", "early_cure_h"),
    )


def damp_verdicts(scene: Scene) -> list[Verdict]:
    """Return, for each area, whether the humidity was above the limit while a coat cured."""
    return each_coat(scene, _damp, coats_at_plane)


def _damp(scene: Scene, area: Area, coat: Laid) -> Verdict:
    layer = scene.coat(area, coat.order)
    need = number(layer.humidity_max if layer else None, "%")
    read = _humid(climate_of(scene, coat, hours_after=scene.settings.early_cure_h))
    if need is None or not read:
        return lacking(scene, coat, "limit of humidity" if need is None else "humidity")
    over = [one for value, one in read if value > need]
    share = len(over) / len(read)
    top = max(value for value, _ in read)
    words = f"{area.name}, {coat_name(scene, coat)}: up to {top:g} %, limit {need:g} %"
    sources = sources_of_climate(over or [one for _, one in read])
    quality = worst(one.quality for _, one in read)
    return Verdict(area, share > scene.settings.humid_share, words, sources, quality)


def _humid(climates: Sequence[Climate]) -> list[tuple[float, Climate]]:
    return [(one.humidity, one) for one in climates if one.humidity is not None]


def sources_of_climate(climates: Sequence[Climate]) -> tuple:  # type: ignore[type-arg]
    """Return the log and weather rows of some readings."""
    return tuple(dict.fromkeys(one.source for one in climates))


def humidity_below_min_for_cure(scene: Scene) -> Finding:
    """Return whether the air was too dry for a coat that cures by moisture."""

    def coats(scene: Scene, area: Area) -> list[Laid]:
        return [
            coat
            for coat in coats_at_plane(scene, area)
            if (layer := scene.coat(area, coat.order))
            and (layer.humidity_min or layer.material in _CURES_BY_MOISTURE)
        ]

    return settle(
        scene,
        each_coat(scene, _dry, coats),
        yes="the air was too dry for a coat that cures by moisture",
        no="there was enough moisture for the cure",
        nothing=f"no coat that cures by moisture can be judged in {scene.ground}",
        settled_by=scene.settings.said("early_cure_h"),
    )


def _dry(scene: Scene, area: Area, coat: Laid) -> Verdict:
    layer = scene.coat(area, coat.order)
    need = number(layer.humidity_min if layer else None, "%")
    read = _humid(climate_of(scene, coat, hours_after=scene.settings.early_cure_h))
    if need is None or not read:
        return lacking(scene, coat, "minimum of humidity" if need is None else "humidity")
    mean = sum(value for value, _ in read) / len(read)
    words = f"{area.name}, {coat_name(scene, coat)}: {mean:.0f} % on average, minimum {need:g} %"
    sources = sources_of_climate([one for _, one in read])
    return Verdict(area, mean < need, words, sources, worst(one.quality for _, one in read))


def wetting_event_during_cure(scene: Scene) -> Finding:
    """Return whether rain, dew, washing or a leak reached the film before it was dry."""
    return settle(
        scene,
        wet_verdicts(scene),
        yes="water reached the film or the surface in the critical hours",
        no="no water reached the film in the critical hours",
        nothing=f"neither rain nor a wetting is recorded or denied for {scene.ground}",
        settled_by=scene.settings.said("early_cure_h"),
    )


def wet_verdicts(scene: Scene) -> list[Verdict]:
    """Return, for each area, whether water reached the film in the critical hours."""
    return each_coat(scene, _wetted, coats_at_plane)


def _wetted(scene: Scene, area: Area, coat: Laid) -> Verdict:
    if coat.starts is None or coat.ends is None:
        return Verdict(area, OPEN, f"{coat_name(scene, coat)}: not timed", coat.sources)
    start, end = coat.starts[0], coat.ends[1] + timedelta(hours=scene.settings.early_cure_h)
    events = [
        one
        for one in events_of(scene, area, Event.WETTED, Event.WASHED, Event.LEAK)
        if overlaps(scene, one, start, end)
    ]
    wet = [one for one in events if not said_no(one)]
    if wet:
        words = f"{area.name}: {wet[0].event} at {wet[0].start}"
        quality = worst(one.quality for one in wet)
        return Verdict(area, HOLDS, words, sources_of(wet), quality)
    return _rained(scene, area, coat, events)


def _rained(scene: Scene, area: Area, coat: Laid, events: Sequence) -> Verdict:  # type: ignore[type-arg]
    hours = timedelta(hours=scene.settings.early_cure_h)
    assert coat.starts is not None  # noqa: S101 - the caller has looked
    assert coat.ends is not None  # noqa: S101
    rows = [
        row
        for row in weather_rows(scene, area)
        if coat.starts[0] <= row.time.start(scene.dossier.zone) <= coat.ends[1] + hours
        and row.rain is not None
    ]
    rain = [row for row in rows if row.rain is YesNo.YES]
    dew = [
        one
        for one in climate_of(scene, coat, hours_after=scene.settings.early_cure_h)
        if one.surface_c is not None and one.margin_k is not None and one.margin_k <= 0
    ]
    if rain:
        return Verdict(area, HOLDS, f"{area.name}: rain at {rain[0].time}", sources_of(rain))
    if dew:
        words = f"{area.name}: the surface was at or below the dew point"
        return Verdict(area, HOLDS, words, sources_of_climate(dew), worst(d.quality for d in dew))
    denied = [one for one in events if said_no(one)]
    if rows or denied:
        words = f"{area.name}: no rain or wetting in the record"
        offsite = any(row.on_site is YesNo.NO for row in rows)
        quality = Quality.POOR if offsite else Quality.GOOD
        return Verdict(area, HOLDS_NOT, words, sources_of([*rows, *denied]), quality)
    return Verdict(
        area, OPEN, f"{coat_name(scene, coat)}: no rain recorded or denied", coat.sources
    )


RULES = named(
    humidity_above_limit_during_cure, humidity_below_min_for_cure, wetting_event_during_cure
)
