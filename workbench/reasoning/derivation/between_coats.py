"""What happened between the coats and while they cured."""

from collections.abc import Callable
from datetime import timedelta

from workbench.analysis.application.laid import worst
from workbench.reasoning.derivation.amounts import number
from workbench.reasoning.derivation.logged import any_of, coats_at_plane, each_area, pairs_at_plane
from workbench.reasoning.derivation.said import (
    HOLDS_NOT,
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
from workbench.reasoning.history import Laid, between, events_of, log_quality, overlaps, said_no
from workbench.reasoning.results import Finding
from workbench.reasoning.scene import Scene
from workbench.records import Area
from workbench.records.codes import Chemistry, Event, Quality, YesNo

_LIGHT_SENSITIVE = (
    Chemistry.EPOXY, Chemistry.EPOXY_NOVOLAC, Chemistry.EPOXY_SOLVENTFREE,
    Chemistry.EPOXY_WATERBORNE, Chemistry.ZINC_RICH_EPOXY, Chemistry.COAL_TAR_EPOXY,
    Chemistry.POLYURETHANE_AROMATIC, Chemistry.VINYL_ESTER,
)  # fmt: skip


def abrading_between_coats_recorded(scene: Scene) -> Finding:
    """Return whether abrading under the coat above the failed plane is logged; blank is unknown."""
    return _noted(scene, lambda row: row.abraded, "abrading")


def cleaning_between_coats_recorded(scene: Scene) -> Finding:
    """Return whether cleaning under the coat above the failed plane is logged; blank is unknown."""
    return _noted(scene, lambda row: row.cleaned, "cleaning")


def _noted(scene: Scene, of: Callable[..., YesNo | None], doing: str) -> Finding:
    upper = [later for area in scene.areas for _, later in pairs_at_plane(scene, area)]
    rows = list(dict.fromkeys(row for coat in upper for row in coat.rows))
    said = [(of(row), row) for row in rows if of(row)]
    if not said:
        return silent(f"the log neither records nor denies {doing} between coats",
                      sources_of(rows) or scene.sources)  # fmt: skip
    told = [row for value, row in said if value is YesNo.YES]
    denied = [row for value, row in said if value is YesNo.NO]
    if told and denied:
        words = f"{doing} is recorded for {len(told)} and denied for {len(denied)} entries"
        return silent(words, sources_of([*told, *denied]))
    value = YES if told else NO
    words = f"the log {'records' if told else 'denies'} {doing} between coats in {scene.ground}"
    held = told or denied
    return found(value, words, sources_of(held), quality=worst(log_quality(row) for row in held))


def exposure_between_coats_uncontrolled(scene: Scene) -> Finding:
    """Return whether the surface was open to trades, weather or spray between the coats."""
    held = []
    for area in scene.areas:
        for earlier, later in pairs_at_plane(scene, area):
            if earlier.ends and later.starts:
                events = events_of(
                    scene, area, Event.OPENED_TO_OTHERS, Event.EXPOSED, Event.WETTED, Event.CHEMICAL
                )
                held += [
                    one for one in events if overlaps(scene, one, earlier.ends[0], later.starts[1])
                ]
    open_to = [one for one in held if not said_no(one)]
    if open_to:
        words = f"between the coats the surface was {open_to[0].event.replace('_', ' ')}"
        return found(YES, words, sources_of(open_to), quality=worst(e.quality for e in open_to))
    if held:
        words = "the record denies that the surface was open to others between the coats"
        return found(NO, words, sources_of(held), quality=worst(e.quality for e in held))
    return silent("no exposure between coats is recorded or denied", scene.sources)


def uv_exposure_between_coats(scene: Scene) -> Finding:
    """Return whether a light-sensitive coat stood in the sun for weeks before the next."""

    def judge(scene: Scene, area: Area) -> Verdict:
        held = [
            _sunlit(scene, area, *pair)
            for pair in pairs_at_plane(scene, area)
            if (layer := scene.coat(area, pair[0].order)) and layer.material in _LIGHT_SENSITIVE
        ]
        return any_of(area, held) if held else Verdict(area, OPEN, "", (area.source,))

    return settle(
        scene,
        each_area(scene, judge),
        yes="a light-sensitive coat stood in the sun for weeks before it was covered",
        no="no light-sensitive coat stood in the sun for weeks",
        nothing=f"waiting times or the light on a light-sensitive coat are not recorded for "
        f"{scene.ground}",
        settled_by=scene.settings.said("sunlit_wait_d"),
    )


def _sunlit(scene: Scene, area: Area, earlier: Laid, later: Laid) -> Verdict:
    sources = (area.source, *earlier.sources, *later.sources)
    stored = scene.features(area.ref).get("stored")
    shaded = stored == "shaded" or scene.tag(area.ref, "indoor") is True
    if shaded:
        return Verdict(area, HOLDS_NOT, f"{area.name}: stood in the shade", sources)
    span = between(earlier, later)
    if span is None:
        return Verdict(area, OPEN, f"{area.name}: not timed", sources)
    long = span.over(24 * scene.settings.sunlit_wait_d)
    words = f"{area.name}: {span} before the next coat"
    quality = worst(log_quality(row) for row in (*earlier.rows, *later.rows))
    if long is False:
        return Verdict(area, HOLDS_NOT, words, sources, quality)
    lit = stored == "sunlit" or scene.tag(area.ref, "sunlit")
    return Verdict(area, True if long and lit else None, words, sources, quality)


def combustion_heater_used(scene: Scene) -> Finding:
    """Return whether an unvented fuel heater ran while a coat at the failed plane cured.

    The event `heated` says that there was heating; only its note tells of the fuel, and one
    dated no closer than a month does not place it within the cure.
    """
    held = []
    for area in scene.areas:
        for coat in coats_at_plane(scene, area):
            if coat.starts and coat.ends:
                end = coat.ends[1] + timedelta(hours=scene.settings.early_cure_h)
                events = events_of(scene, area, Event.HEATED)
                held += [one for one in events if overlaps(scene, one, coat.starts[0], end)]
    held = list(dict.fromkeys(held))
    if not held:
        return silent("no heating is recorded while the coats cured", scene.sources)
    if all(said_no(one) for one in held):
        return found(NO, "the record denies heating while the coats cured", sources_of(held))
    dated = [one for one in held if one.start.precision in ("day", "time") and not said_no(one)]
    burning = [one for one in dated if _burns(one.note + " " + one.source_text)]
    if burning:
        words = "an unvented fuel heater is recorded while a coat at the failed plane cured"
        return found(YES, words, sources_of(burning), quality=worst(e.quality for e in burning))
    lacking = "its fuel" if dated else "its days"
    return silent(f"heating is recorded, but not {lacking}", sources_of(held))


_FUELS = ("combustion", "direct oil", "oil heater", "oil-fired", "gas heater", "propane",
          "paraffin", "kerosene", "diesel", "unvented", "direct-fired", "direct fired",
          "salamander")  # fmt: skip


def _burns(words: str) -> bool:
    said = words.lower()
    return any(fuel in said for fuel in _FUELS) and "no " + "combustion" not in said


def ventilation_inadequate(scene: Scene) -> Finding:
    """Return whether air changes fell short of what is required while solvent had to leave."""
    rows = scene.measured("air_changes")
    judged = []
    for row in rows:
        limit = scene.limit("air_changes", area=scene.dossier.area_of(row))
        need = number(limit.minimum, "1/h") if limit else None
        value = number(row.value.quantity, "1/h")
        if limit and need is not None and value is not None:
            judged.append((value < need, f"{value:g} per hour, required {need:g}", row, limit))
    if judged:
        low = [one for one in judged if one[0]]
        held = low or judged
        words = f"air changes in {scene.ground}: {held[0][1]}"
        return found(
            YES if low else NO,
            words,
            sources_of([r for _, _, row, lim in held for r in (row, lim)]),
        )
    events = [e for area in scene.areas for e in events_of(scene, area, Event.VENTILATED)]
    denied = [one for one in events if said_no(one)]
    if denied:
        words = f"the record says that {scene.ground} were not ventilated"
        return found(YES, words, sources_of(denied), quality=worst(e.quality for e in denied))
    if events:
        return found(NO, "ventilation is recorded", sources_of(events), quality=Quality.FAIR)
    return silent("neither air changes nor ventilation are recorded", scene.sources)


RULES = named(
    abrading_between_coats_recorded,
    cleaning_between_coats_recorded,
    exposure_between_coats_uncontrolled,
    uv_exposure_between_coats,
    combustion_heater_used,
    ventilation_inadequate,
)
