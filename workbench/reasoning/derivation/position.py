"""Whether failing is concentrated at one kind of place."""

from collections.abc import Mapping, Sequence

from workbench.reasoning.derivation.features import by_tag, extents_of, mean_extent, places_of
from workbench.reasoning.derivation.said import NO, YES, found, named, silent
from workbench.reasoning.results import Finding
from workbench.reasoning.scene import Scene
from workbench.records import Source
from workbench.records.codes import Quality


def failing_at_joints_cracks(scene: Scene) -> Finding:
    """Return whether failing is concentrated at joints or cracks."""
    return _concentrated(scene, ("joint", "crack"), "joints or cracks")


def failing_at_edges_welds_fasteners(scene: Scene) -> Finding:
    """Return whether failing is concentrated at edges, welds or fasteners."""
    return _concentrated(scene, ("edge", "weld", "fastener"), "edges, welds or fasteners")


def failing_under_traffic_paths(scene: Scene) -> Finding:
    """Return whether failing is confined to trafficked routes."""
    return _concentrated(scene, ("traffic", "hot_tyres"), "trafficked routes")


def failing_low_or_wet_zones(scene: Scene) -> Finding:
    """Return whether failing is worst at low level, at drains or in damp zones."""
    tags = ("low", "drain", "splash", "water_behind", "condensing", "immersed")
    held = _concentrated(scene, tags, "low or wet zones")
    if held.known:
        return held
    damp = scene.failing.signs("damp")
    dry = scene.sound.signs("damp")
    if any(row.seen for row in damp) and dry and not any(row.seen for row in dry):
        words = "damp was seen in failing areas and not in areas that look sound"
        sources = [row.source for row in (*damp, *dry)]
        return found(YES, words, sources, quality=Quality.FAIR)
    return held


def _concentrated(scene: Scene, tags: Sequence[str], what: str) -> Finding:
    """Return whether failing spots have a tag and sound ones have not, by share of extent."""
    places = places_of(scene)
    fails = [_tagged(features, tags) for features, bad, _ in places if bad]
    sound = [_tagged(features, tags) for features, bad, _ in places if not bad]
    said = [one for one in fails if one is not None]
    sources = [source for features, _, source in places if _tagged(features, tags) is not None]
    if not said:
        return silent(f"{what} are not recorded for failing places", scene.sources)
    share = sum(said) / len(said)
    elsewhere = [one for one in sound if one is not None]
    words = f"{sum(said)} of {len(said)} failing places lie at {what}"
    if elsewhere:
        words = f"{words}, {sum(elsewhere)} of {len(elsewhere)} sound ones"
    settled = scene.settings.said("concentrated")
    n = len(said) + len(elsewhere)
    if heavier := share <= scene.settings.concentrated and _heavier(scene, tags):
        return found(YES, heavier, sources, n=n, settled_by=settled, quality=Quality.FAIR)
    if share <= scene.settings.concentrated and _more_often(said, elsewhere):
        return silent(f"{words}: failing is more frequent there, and is elsewhere too", sources)
    if share <= scene.settings.concentrated:
        return found(NO, words, sources, n=n, settled_by=settled)
    return _against_sound(scene, words, elsewhere, sources, n)


def _against_sound(
    scene: Scene, words: str, elsewhere: Sequence[bool], sources: Sequence[Source], n: int
) -> Finding:
    """Return whether sound places lie elsewhere than most of the failing ones do."""
    settled = scene.settings.said("concentrated")
    if not elsewhere:
        return silent(f"{words}; nothing is recorded for sound places", sources)
    if sum(elsewhere) / len(elsewhere) > scene.settings.concentrated:
        return found(NO, f"{words}: sound places lie there as often", sources, n=n)
    return found(YES, words, sources, n=n, settled_by=settled)


def _more_often(fails: Sequence[bool], sound: Sequence[bool]) -> bool:
    """Return whether places of the kind fail more often than the others."""
    there, elsewhere = (
        (sum(one is kind for one in fails), sum(one is kind for one in sound))
        for kind in (True, False)
    )
    if not sum(there) or not sum(elsewhere):
        return False
    return there[0] / sum(there) > elsewhere[0] / sum(elsewhere)


def _tagged(features: Mapping[str, str], tags: Sequence[str]) -> bool | None:
    said = [features[tag] != "no" for tag in tags if tag in features]
    return any(said) if said else None


def _heavier(scene: Scene, tags: Sequence[str]) -> str:
    extents = extents_of(scene.failing)
    for tag in tags:
        with_, without = by_tag(scene, extents, tag)
        if (
            with_
            and without
            and mean_extent(with_) >= scene.settings.follows_ratio * mean_extent(without)
        ):
            plain, high, low = tag.replace("_", " "), mean_extent(with_), mean_extent(without)
            return f"{high:.0f} % fails at “{plain}”, {low:.0f} % elsewhere"
    return ""


def failing_on_sun_exposed_faces(scene: Scene) -> Finding:
    """Return whether sunlit faces are worse than shaded ones, by extent or by area."""
    extents = extents_of(scene.failing) + extents_of(scene.sound)
    lit, shaded = by_tag(scene, extents, "sunlit")
    settled = scene.settings.said("sunnier")
    if lit and shaded:
        high, low = mean_extent(lit), mean_extent(shaded)
        words = f"{high:.0f} % fails on sunlit faces, {low:.0f} % on shaded ones"
        worse = high > scene.settings.sunnier * low
        sources = [row.source for _, row in (*lit, *shaded)]
        return found(YES if worse else NO, words, sources, settled_by=settled)
    places = places_of(scene)
    said = [(f["sunlit"] != "no", bad, source) for f, bad, source in places if "sunlit" in f]
    bad_lit = [lit for lit, bad, _ in said if bad]
    good_lit = [lit for lit, bad, _ in said if not bad]
    sources = [source for _, _, source in said]
    if bad_lit and not all(bad_lit) and any(bad_lit):
        words = "sunlit and shaded faces both fail"
        return found(NO, words, sources, n=len(said), quality=Quality.FAIR)
    if bad_lit and good_lit and all(bad_lit) != all(good_lit):
        words = f"{sum(bad_lit)} of {len(bad_lit)} failing places are sunlit, "
        words += f"{sum(good_lit)} of {len(good_lit)} sound ones"
        return found(YES if all(bad_lit) else NO, words, sources, n=len(said))
    if bad_lit and not any(bad_lit):
        return found(NO, "the failing places are not sunlit", sources, n=len(said))
    return silent("sun and shade are not both recorded", sources or scene.sources)


RULES = named(
    failing_at_joints_cracks,
    failing_at_edges_welds_fasteners,
    failing_under_traffic_paths,
    failing_low_or_wet_zones,
    failing_on_sun_exposed_faces,
)
