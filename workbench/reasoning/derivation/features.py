"""Whether failing goes with a feature of the place."""

from collections.abc import Sequence
from dataclasses import dataclass

from workbench.reasoning.derivation.chance import fisher_p
from workbench.reasoning.derivation.said import HOLDS, NO, YES, found, named, silent
from workbench.reasoning.results import Finding
from workbench.reasoning.scene import Scene
from workbench.records import Location, Source, SurveyEntry
from workbench.records.codes import FAILURE_FORMS, Quality


@dataclass(frozen=True, slots=True)
class Split:
    """How failing divides over groups of areas.

    Attributes:
        follows: Whether failing goes with a group; None where nothing can be said.
        groups: The groups that go with failing.
        words: The counts in words.
        n: Areas counted.
        described: Whether only a complete separation of few areas is described, not a chance.
    """

    follows: bool | None
    groups: frozenset[str]
    words: str
    n: int
    described: bool = False


FEWEST_FAILING = 2
"""Failing areas or places below which what they have in common is no pattern."""
EXPOSURES = (
    "outdoor", "indoor", "sunlit", "immersed", "splash", "condensing", "buried", "marine",
    "deiced", "freeze_thaw", "confined", "insulated", "heated_inside", "below_grade",
    "water_behind", "cathodic_protection", "traffic", "hot_tyres", "impact",
)  # fmt: skip

Extent = tuple[float, SurveyEntry]
Extents = list[Extent]
POSITIONS = ("edge", "weld", "fastener", "joint", "crack", "drain", "low", "film_break")


def failing_follows_location_feature(scene: Scene) -> Finding:
    """Return whether failing goes with a feature of the place that someone recorded."""
    places = places_of(scene)
    names = sorted({name for features, _, _ in places for name in features})
    judged = [(name, _feature_split(scene, places, name)) for name in names]
    known = [(name, one) for name, one in judged if one.follows is not None]
    sources = tuple(dict.fromkeys(source for _, _, source in places))
    settled = scene.settings.said("follows_ratio", "follows_p", "fewest_areas")
    hits = [(name, one) for name, one in known if one.follows]
    if hits:
        name, one = min(hits, key=lambda hit: (hit[0] not in (*EXPOSURES, *POSITIONS), hit[0]))
        words = f"failing goes with “{name.replace('_', ' ')}” ({one.words})"
        quality = Quality.FAIR if one.described else Quality.GOOD
        return found(YES, words, sources, n=one.n, quality=quality, settled_by=settled)
    by_extent = _extent_follows(scene)
    if by_extent:
        return by_extent
    if known:
        said = ", ".join(name.replace("_", " ") for name, _ in known[:5])
        words = f"failing does not go with any feature recorded on both sides ({said})"
        return found(NO, words, sources, n=known[0][1].n, settled_by=settled)
    return silent("no feature is recorded for both failing and sound places", sources)


def places_of(scene: Scene) -> list[tuple[dict[str, str], bool, Source]]:
    """Return the features of areas, and of locations that have their own, on both sides."""
    held = []
    systems = {one.system for one in scene.failing.areas}
    for side, fails in ((scene.failing, True), (scene.sound, False)):
        own = [
            spot for spot in side.all(Location)
            if spot.features and (area := scene.dossier.area_of(spot)) and area.system in systems
        ]  # fmt: skip
        with_own = {spot.area for spot in own}
        held += [(scene.features(spot.ref), fails, spot.source) for spot in own]
        held += [
            (scene.features(area.ref), fails, area.source)
            for area in side.areas
            if area.ref not in with_own and area.system in systems and scene.features(area.ref)
        ]
    return held


def _feature_split(
    scene: Scene, places: Sequence[tuple[dict[str, str], bool, Source]], name: str
) -> Split:
    fails = [features[name] for features, bad, _ in places if bad and name in features]
    sound = [features[name] for features, bad, _ in places if not bad and name in features]
    values = {*fails, *sound}
    words = "; ".join(
        f"{_value(name, one)}: {fails.count(one)} failing, {sound.count(one)} sound"
        for one in sorted(values)[:6]
    )
    n = len(fails) + len(sound)
    if not fails or not sound or len(values) < 2:
        return Split(None, frozenset(), words, n)
    if len(values) > max(2, n // 2):
        return Split(None, frozenset(), words, n)
    if not {*fails} & {*sound}:
        if max(len(fails), _spots(scene.failing)) < FEWEST_FAILING:
            return Split(None, frozenset(), words, n)
        described = n < scene.settings.fewest_areas
        return Split(HOLDS, frozenset(fails), words, n, described=described)
    worse = [
        value
        for value in values
        if _is_worse(scene, fails.count(value), sound.count(value), len(fails), len(sound))
    ]
    return Split(bool(worse), frozenset(worse), words, n)


def _spots(scene: Scene) -> int:
    """Return how many places of this side were looked at; a feature of an area is theirs too."""
    return len(scene.all(Location))


def _is_worse(scene: Scene, bad: int, good: int, fails: int, sound: int) -> bool:
    inside, outside = bad + good, fails + sound - bad - good
    if inside + outside < scene.settings.fewest_areas or not inside or not outside:
        return False
    ratio = (bad / inside) / max((fails - bad) / outside, 1e-9)
    chance = fisher_p(bad, inside, fails - bad, outside)
    return ratio >= scene.settings.follows_ratio and chance < scene.settings.follows_p


def _value(name: str, value: str) -> str:
    plain = name.replace("_", " ")
    return {"yes": plain, "no": f"not {plain}"}.get(value, f"{plain} {value}")


def _extent_follows(scene: Scene) -> Finding | None:
    """Return that extents differ threefold with a feature, where all the areas fail."""
    extents = extents_of(scene.failing)
    for name in (*POSITIONS, *EXPOSURES):
        with_, without = by_tag(scene, extents, name)
        if not with_ or not without:
            continue
        high, low = mean_extent(with_), mean_extent(without)
        if high >= scene.settings.follows_ratio * low > 0:
            plain = name.replace("_", " ")
            words = f"{high:.0f} % fails where “{plain}” is recorded, {low:.0f} % elsewhere"
            sources = [row.source for _, row in (*with_, *without)]
            return found(YES, words, sources, quality=Quality.FAIR)
    return None


def extents_of(scene: Scene) -> list[tuple[float, SurveyEntry]]:
    """Return the rated extents of failure on this side, in percent."""
    return [
        (row.extent.value, row)
        for row in scene.all(SurveyEntry)
        if row.form in FAILURE_FORMS and row.extent is not None
    ]


def by_tag(scene: Scene, extents: Sequence[Extent], name: str) -> tuple[Extents, Extents]:
    """Return the extents where a feature is recorded, and those where it is denied."""
    tagged = [(one, scene.tag(one[1].at, name)) for one in extents]
    return [one for one, t in tagged if t is True], [one for one, t in tagged if t is False]


def mean_extent(held: Sequence[Extent]) -> float:
    """Return the mean of some extents, in percent."""
    return sum(value for value, _ in held) / len(held)


RULES = named(failing_follows_location_feature)
