"""What a place is exposed to: its features and events."""

from collections.abc import Sequence

from workbench.reasoning.derivation.amounts import number
from workbench.reasoning.derivation.said import (
    HOLDS,
    HOLDS_NOT,
    NO,
    OPEN,
    YES,
    Rule,
    Verdict,
    found,
    named,
    settle,
    silent,
    sources_of,
)
from workbench.reasoning.history import events_of, said_no
from workbench.reasoning.results import Finding
from workbench.reasoning.scene import Scene
from workbench.records import Area, Location, Measurement
from workbench.records.codes import (
    Event,
    Quality,
)


def exposed(key: str, what: str, *tags: str, events: Sequence[Event] = ()) -> Rule:
    """Return the rule for a key that is a feature of the place, or an event there."""

    def rule(scene: Scene) -> Finding:
        return tagged(scene, tags, what, events)

    rule.__name__ = key
    rule.__doc__ = f"Return whether {what} is recorded for the place."
    return rule


def tagged(scene: Scene, tags: Sequence[str], what: str, events: Sequence[Event] = ()) -> Finding:
    """Return whether a feature, or an event, is recorded or denied for the areas of a side."""

    def judge(area: Area) -> Verdict:
        said = [tag for name in tags if (tag := scene.tag(area.ref, name)) is not None]
        happened = events_of(scene, area, *events) if events else ()
        if any(said):
            return Verdict(area, HOLDS, f"{area.name}", (area.source,))
        if any(not said_no(e) for e in happened):
            return Verdict(area, HOLDS, area.name, sources_of(happened))
        if said or happened:
            return Verdict(area, HOLDS_NOT, area.name, (area.source, *sources_of(happened)))
        return Verdict(area, OPEN, "", (area.source,))

    return settle(
        scene,
        [judge(area) for area in scene.areas],
        yes=f"{what} is recorded",
        no=f"{what} is ruled out by the record",
        nothing=f"{what} is neither recorded nor denied for {scene.ground}",
    )


def exterior_uv_exposure(scene: Scene) -> Finding:
    """Return whether the place is sunlit; indoors, buried and immersed places are not."""
    held = tagged(scene, ("sunlit",), "sunlight")
    if held.known:
        return held
    dark = tagged(scene, ("indoor", "buried"), "an indoor or buried place")
    if dark.value == YES:
        return found(NO, "the place is indoors or buried", dark.sources, n=dark.n)
    outdoor = tagged(scene, ("outdoor",), "an outdoor place")
    if outdoor.value == YES:
        words = "the place is outdoors; sun and shade are not recorded apart"
        return found(YES, words, outdoor.sources, n=outdoor.n, quality=Quality.FAIR)
    return held


def water_head_present(scene: Scene) -> Finding:
    """Return whether water can stand behind the substrate above the failure."""
    levels = [
        (value, row)
        for row in scene.dossier.all(Measurement)
        if row.quantity == "water_level" and (value := number(row.value.quantity, "m")) is not None
    ]
    if levels:
        return _against_level(scene, levels)
    return tagged(scene, ("water_behind",), "water behind the substrate")


def _against_level(scene: Scene, levels: Sequence[tuple[float, Measurement]]) -> Finding:
    top = max(value for value, _ in levels)
    heights = _heights(scene)
    said = tagged(scene, ("water_behind",), "water behind the substrate")
    words = f"the water level reaches {top:g} m"
    sources = sources_of(row for _, row in levels)
    if not heights:
        return said if said.known else silent(f"{words}; no heights are recorded", sources)
    below = [one for one in heights if one < top]
    value = YES if 2 * len(below) >= len(heights) else NO
    detail = f"{len(below)} of {len(heights)} spots in {scene.ground} lie below it"
    return found(value, f"{words}; {detail}", (*sources, *scene.sources), n=len(heights))


def _heights(scene: Scene) -> list[float]:
    return [h for one in scene.all(Location) if (h := _height(one.level)) is not None]


def _height(text: str) -> float | None:
    words = text.replace("m", " ").replace("+", " ").split()
    try:
        return float(words[0]) if words else None
    except ValueError:
        return None


def curing_compound_or_release_agent_used(scene: Scene) -> Finding:
    """Return whether a curing or sealing product was used, from the feature `curing`."""
    said = [(scene.features(area.ref).get("curing"), area) for area in scene.areas]
    told = [(value, area) for value, area in said if value]
    if not told:
        return silent("how the concrete was cured is not recorded", scene.sources)
    used = [(v, area) for v, area in told if v not in ("none", "no", "water", "wet")]
    if used:
        words = f"the concrete was cured with {used[0][0]}"
        return found(YES, words, sources_of(area for _, area in used))
    return found(NO, "no curing or sealing product was used", sources_of(a for _, a in told))


_PLACES: tuple[Rule, ...] = (
    exposed("below_grade_or_no_vapour_barrier", "a place on or below ground", "below_grade"),
    exposed("vehicle_traffic_hot_tyres", "parking of vehicles", "hot_tyres"),
    exposed("immersion_or_condensing_service", "immersion or condensation", "immersed", "buried",
            "condensing", events=(Event.IMMERSED,)),
    exposed("cathodic_protection_present", "cathodic protection", "cathodic_protection",
            events=(Event.CURRENT_ON,)),
    exposed("deicing_or_marine_exposure", "salt in the surroundings", "marine", "deiced", "splash"),
    exposed("freeze_thaw_exposure", "freezing while damp", "freeze_thaw"),
)  # fmt: skip


RULES = named(
    exterior_uv_exposure, water_head_present, curing_compound_or_release_agent_used, *_PLACES
)
