"""Adhesion by knife, tape and cut."""

from statistics import median

from workbench.reasoning.derivation.said import NO, YES, by_number, found, named, silent
from workbench.reasoning.results import Finding
from workbench.reasoning.scene import Scene
from workbench.records import Rating
from workbench.records.codes import RatingMethod

_POOR = {
    RatingMethod.ASTM_D3359_A: lambda rating: rating <= 2,
    RatingMethod.ASTM_D3359_B: lambda rating: rating <= 2,
    RatingMethod.ISO_2409: lambda rating: rating >= 3,
    RatingMethod.ISO_16276_2: lambda rating: rating >= 4,
}


def knife_adhesion_poor_failing(scene: Scene) -> Finding:
    """Return whether the film lifts easily by an independent method: knife, else tape or cut."""
    held = [one for one in scene.all(Rating) if one.on is None]
    knife = [one for one in held if one.method is RatingMethod.ASTM_D6677]
    if knife:
        middle = median(one.rating.value for one in knife)
        value = YES if middle <= scene.settings.knife_poor else NO
        return found(
            value, f"the knife rates {scene.ground} {middle:g} of 10 (median of {len(knife)})",
            [one.source for one in knife], n=len(knife), method="ASTM D6677",
            quality=by_number(len(knife)), settled_by=scene.settings.said("knife_poor"),
        )  # fmt: skip
    others = [one for one in held if one.method in _POOR]
    if not others:
        return silent(f"no knife or tape rating in {scene.ground}", scene.sources)
    poor = [one for one in others if _POOR[one.method](one.rating.value)]
    value = YES if 2 * len(poor) >= len(others) else NO
    words = f"{len(poor)} of {len(others)} tape or cut ratings in {scene.ground} are poor"
    sources = [one.source for one in others]
    return found(value, words, sources, n=len(others), quality=by_number(len(others)))


def _wet_rating(rating: Rating) -> bool:
    return rating.method is RatingMethod.ISO_2409_BOILED


def wet_adhesion_poor(scene: Scene) -> Finding:
    """Return whether a cross-cut after boiling water rates worse than 1 (ISO 2409 scale)."""
    held = [one for one in scene.all(Rating) if _wet_rating(one)]
    if not held:
        return silent(f"no cut after boiling water in {scene.ground}", scene.sources)
    middle = median(one.rating.value for one in held)
    value = YES if middle > scene.settings.boiled_rating else NO
    return found(
        value, f"the cut after boiling water rates {middle:g} of 5 (0 is best)",
        [one.source for one in held], n=len(held), method="cross-cut after boiling water",
        quality=by_number(len(held)), settled_by=scene.settings.said("boiled_rating"),
    )  # fmt: skip


RULES = named(knife_adhesion_poor_failing, wet_adhesion_poor)
