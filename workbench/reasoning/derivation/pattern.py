"""Whether failing goes with a day, a batch, a feature, or with nothing.

Both sides are counted area by area. Fewer areas than `fewest_areas` give no chance, only the
description of a complete separation; and where two circumstances divide the areas alike, neither
can be named. A pattern takes at least two failing areas, and sound ones of the same system.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from workbench.reasoning.derivation.amounts import number
from workbench.reasoning.derivation.chance import fisher_p
from workbench.reasoning.derivation.features import (
    FEWEST_FAILING,
    Split,
    extents_of,
    failing_follows_location_feature,
)
from workbench.reasoning.derivation.planes import parting
from workbench.reasoning.derivation.said import HOLDS, HOLDS_NOT, NO, YES, found, named, silent
from workbench.reasoning.history import Laid, coats_laid
from workbench.reasoning.results import Finding
from workbench.reasoning.scene import Scene
from workbench.records import Area, Source
from workbench.records.codes import Quality

Trait = Callable[[Scene, Area], frozenset[str]]


@dataclass(frozen=True, slots=True)
class Spot:
    """One area on one side, with what it has in common with others."""

    area: Area
    fails: bool
    traits: frozenset[str]
    sources: tuple[Source, ...]


def spots(scene: Scene, trait: Trait) -> list[Spot]:
    """Return the areas of both sides that have the trait recorded.

    A sound area that a failing one lies in is the rest of it, and no sound area of its own; one
    of another system has nothing to say of this one.
    """
    held = []
    holding = {one.within for one in scene.failing.areas}
    systems = {one.system for one in scene.failing.areas}
    for side, fails in ((scene.failing, True), (scene.sound, False)):
        for area in side.areas:
            if not fails and (area.ref in holding or area.system not in systems):
                continue
            traits = trait(scene, area)
            if traits:
                rows = [s for one in coats_laid(scene, area) for s in one.sources]
                held.append(Spot(area, fails, traits, (area.source, *rows)))
    return held


def coat_of_interest(scene: Scene) -> int | None:
    """Return the order of the coat whose day or batch matters: the one above the failed plane."""
    plane = parting(scene.failing).plane
    return None if plane is None or plane.upper is None else max(plane.upper, 1)


def days_of(scene: Scene, area: Area) -> frozenset[str]:
    """Return the days on which the coat of interest was laid."""
    return frozenset(day for one in _of_interest(scene, area) for day in one.days)


def batches_of(scene: Scene, area: Area) -> frozenset[str]:
    """Return the batches of the coat of interest."""
    return frozenset(one for coat in _of_interest(scene, area) for one in coat.batches)


def _of_interest(scene: Scene, area: Area) -> list[Laid]:
    order = coat_of_interest(scene)
    coats = [one for one in coats_laid(scene, area) if one.order > 0]
    chosen = [one for one in coats if one.order == order]
    return chosen if order is not None else coats


def products_of(scene: Scene, area: Area) -> frozenset[str]:
    """Return the products of the system of an area."""
    return frozenset(coat.product for coat in scene.system(area) if coat.product)


def split(scene: Scene, held: Sequence[Spot]) -> Split:
    """Return how failing divides over the traits of some areas."""
    fails = [one for one in held if one.fails]
    sound = [one for one in held if not one.fails]
    groups = {trait for one in held for trait in one.traits}
    if not fails or not sound or len(groups) < 2:
        return Split(None, frozenset(), _counts(fails, sound, groups), len(held))
    bad = frozenset(t for one in fails for t in one.traits)
    good = frozenset(t for one in sound for t in one.traits)
    words = _counts(fails, sound, groups)
    if not bad & good:
        if len(fails) < FEWEST_FAILING:
            return Split(None, frozenset(), words, len(held))
        return Split(
            HOLDS, bad, words, len(held), described=len(held) < scene.settings.fewest_areas
        )
    if len(held) >= scene.settings.fewest_areas and (worse := _worse(scene, held, groups)):
        return Split(HOLDS, worse, words, len(held))
    return Split(HOLDS_NOT, frozenset(), words, len(held))


def _worse(scene: Scene, held: Sequence[Spot], groups: Iterable[str]) -> frozenset[str]:
    """Return the groups that fail so much more often than the rest that it is hardly chance."""
    found_ = set()
    for group in groups:
        inside = [one for one in held if group in one.traits]
        outside = [one for one in held if group not in one.traits]
        if not inside or not outside:
            continue
        hit_in, hit_out = (sum(one.fails for one in some) for some in (inside, outside))
        ratio = (hit_in / len(inside)) / max(hit_out / len(outside), 1e-9)
        chance = fisher_p(hit_in, len(inside), hit_out, len(outside))
        if ratio >= scene.settings.follows_ratio and chance < scene.settings.follows_p:
            found_.add(group)
    return frozenset(found_)


def _counts(fails: Sequence[Spot], sound: Sequence[Spot], groups: Iterable[str]) -> str:
    parts = []
    for group in sorted(groups):
        bad = sum(group in one.traits for one in fails)
        good = sum(group in one.traits for one in sound)
        parts.append(f"{_day(group)}: {bad} failing, {good} sound")
    more = len(parts) - _MOST_COUNTS
    return "; ".join(parts[:_MOST_COUNTS]) + (f"; and {more} more" if more > 0 else "")


_MOST_COUNTS = 12


def _day(group: str) -> str:
    """Return a day as it is read, "25 Nov 2023"; any other name of a group as it is."""
    try:
        day = date.fromisoformat(group)
    except ValueError:
        return group
    return f"{day.day} {day:%b} {day.year}"


def aliased(scene: Scene, one: Trait, others: Mapping[str, Trait]) -> tuple[str, ...]:
    """Return the names of other traits that divide the areas exactly as `one` does."""
    own = {spot.area.ref: spot.traits for spot in spots(scene, one)}
    return tuple(name for name, trait in others.items() if _alike(own, scene, trait))


def _alike(own: Mapping[str, frozenset[str]], scene: Scene, trait: Trait) -> bool:
    theirs = {spot.area.ref: spot.traits for spot in spots(scene, trait)}
    if set(theirs) != set(own) or len(set(theirs.values())) < 2:
        return False
    refs = sorted(own)
    return all(
        (own[a] == own[b]) == (theirs[a] == theirs[b])
        for at, a in enumerate(refs)
        for b in refs[at + 1 :]
    )


def failing_follows_application_day(scene: Scene) -> Finding:
    """Return whether failing goes with working days; unknown where day and batch go together."""
    others = {"batch": batches_of, "product": products_of}
    return _follows(scene, days_of, "working day", others)


def failing_follows_batch(scene: Scene) -> Finding:
    """Return whether failing goes with a batch; one batch on both sides says that it does not."""
    held = spots(scene, batches_of)
    fails = [one for one in held if one.fails]
    sound = [one for one in held if not one.fails]
    shared = {t for one in fails for t in one.traits} & {t for one in sound for t in one.traits}
    if fails and sound and shared and all(one.traits & shared for one in fails):
        words = f"batch {min(shared)} is in failing areas and in areas that look sound"
        return found(NO, words, _sources(held), n=len(held))
    several = {trait for one in fails for trait in one.traits}
    if not sound and len(several) > 1:
        words = f"{len(several)} batches fail alike: {', '.join(sorted(several)[:5])}"
        return found(NO, words, _sources(fails), n=len(fails), quality=Quality.FAIR)
    others = {"working day": days_of, "product": products_of}
    return _follows(scene, batches_of, "batch", others)


def _follows(scene: Scene, trait: Trait, what: str, others: Mapping[str, Trait]) -> Finding:
    held = spots(scene, trait)
    result = split(scene, held)
    if result.follows is None:
        return _one_sided(scene, held, what, result)
    settled = scene.settings.said("follows_ratio", "follows_p", "fewest_areas")
    if result.follows and (alike := aliased(scene, trait, others)):
        words = (
            f"{what} and {' and '.join(alike)} divide the areas alike, so neither can be named "
            f"({result.words})"
        )
        return silent(words, _sources(held))
    if result.follows:
        quality = Quality.FAIR if result.described else Quality.GOOD
        words = f"failing goes with the {what} ({result.words})"
        if result.described:
            words = f"{words}; too few areas to calculate a chance, but all of them agree"
        return found(
            YES, words, _sources(held), n=result.n, quality=quality, method="areas by " + what,
            settled_by=settled,
        )  # fmt: skip
    return found(
        NO, f"failing does not go with the {what} ({result.words})", _sources(held), n=result.n,
        method="areas by " + what, settled_by=settled,
    )  # fmt: skip


def _one_sided(scene: Scene, held: Sequence[Spot], what: str, result: Split) -> Finding:
    """Return "no" where areas of several groups all fail; silent where one side is missing."""
    fails = [one for one in held if one.fails]
    kinds = {trait for one in fails for trait in one.traits}
    if len(fails) >= 2 and len(kinds) >= 2 and not any(not one.fails for one in held):
        words = f"areas of {len(kinds)} different {what}s all fail ({result.words})"
        return found(NO, words, _sources(fails), n=len(fails), quality=Quality.FAIR)
    words = f"failing and sound areas of one system are not both recorded with their {what}"
    if len(fails) == 1 and len(held) > 1:
        words = f"one failing area shows no pattern by {what}; two are needed ({result.words})"
    return silent(words, _sources(held) or scene.sources)


def _sources(held: Iterable[Spot]) -> tuple[Source, ...]:
    return tuple(dict.fromkeys(source for one in held for source in one.sources))


def failing_uniform_everywhere(scene: Scene) -> Finding:
    """Return whether all areas of a system fail alike, with no pattern by day, batch or feature."""
    systems = {area.system for area in scene.failing.areas}
    sound = [area for area in scene.sound.areas if area.system in systems and not area.within]
    fails = scene.failing.areas
    if not fails:
        return silent("no failing area is recorded", scene.sources)
    share = _area_share(fails, sound)
    extents = [value for value, _ in extents_of(scene.failing) if value > 0]
    uneven = len(extents) > 1 and max(extents) > scene.settings.uneven_extent * min(extents)
    sources = tuple(area.source for area in (*fails, *sound))
    words = f"{len(fails)} of {len(fails) + len(sound)} areas of the system fail"
    if not sound and scene.sound.areas:
        words = f"all {len(fails)} areas of the system fail; what looks sound lies within them"
    settled = scene.settings.said("uniform_share", "uneven_extent")
    patterned = any(
        rule(scene).value == YES
        for rule in (
            failing_follows_application_day, failing_follows_batch,
            failing_follows_location_feature,
        )
    )  # fmt: skip
    n = len(fails) + len(sound)
    if share >= scene.settings.uniform_share and not uneven and not patterned:
        if n < 2:
            return silent("only one area is mapped", sources)
        span = f", over {min(extents):g} to {max(extents):g} % of each" if extents else ""
        return found(YES, words + span, sources, n=n, settled_by=settled)
    if n < 2:
        return silent("only one area is mapped", sources)
    return found(NO, f"{words}; the failing is patchy", sources, n=n, settled_by=settled)


def _area_share(fails: Sequence[Area], sound: Sequence[Area]) -> float:
    sizes = [number(area.size, "m2") for area in (*fails, *sound)]
    if sizes and all(size is not None for size in sizes):
        whole = sum(size for size in sizes if size)
        bad = sum(size for size in sizes[: len(fails)] if size)
        return bad / whole if whole else 0.0
    return len(fails) / max(len(fails) + len(sound), 1)


RULES = named(failing_follows_application_day, failing_follows_batch, failing_uniform_everywhere)
