"""What is left under the failed plane, and paired trial patches."""

import math
from collections.abc import Sequence
from statistics import median

from workbench.reasoning.derivation.adhesion import (
    as_it_stands,
    at_least,
    at_most,
    in_words,
    required_mpa,
    sources_of_strengths,
    strengths,
)
from workbench.reasoning.derivation.planes import (
    parting,
)
from workbench.reasoning.derivation.said import NO, YES, by_number, found, named, silent
from workbench.reasoning.results import Finding
from workbench.reasoning.scene import Scene
from workbench.records import Plane, PlaneKind, PullOff, Rating
from workbench.records.codes import Quality, RatingMethod, Treatment


def lower_layers_sound(scene: Scene) -> Finding:
    """Return whether what is left under the failed plane holds: pull-off or knife on it."""
    plane = parting(scene).plane
    if plane is None or plane.lower is None:
        return silent("the failed plane is not known", scene.sources)
    pulls = [p for p in scene.all(PullOff) if p.on is not None and 0 < p.on <= plane.lower]
    knife = [
        r for r in scene.all(Rating)
        if r.on is not None and 0 < r.on <= plane.lower and r.method is RatingMethod.ASTM_D6677
    ]  # fmt: skip
    if knife and not pulls:
        return _by_knife(scene, knife)
    held = strengths(scene, pulls)
    if not held:
        return _never_parted(scene, plane)
    above = [one for one in as_it_stands(scene) if not one.at_least]
    required = required_mpa(scene)
    need = required[0] if required else 2 * at_most(above) if above else None
    words = f"the layers under the failed plane hold {in_words(scene, held)}"
    if need is None or need == math.inf:
        return silent(f"{words}; there is nothing to compare with", sources_of_strengths(held))
    shown = scene.showing.stress(need)
    compared = f"required {shown}" if required else f"twice the failed plane: {shown}"
    value = YES if at_least(held) >= need else NO if at_most(held) < need else None
    sources = (*sources_of_strengths(held), *((required[1],) if required else ()))
    if value is None:
        return silent(f"{words} ({compared}); glue breaks leave it open", sources)
    quality = by_number(len(held))
    return found(value, f"{words} ({compared})", sources, n=len(held), quality=quality)


def _never_parted(scene: Scene, plane: Plane) -> Finding:
    """Return that the layers below hold where no test parted them and sound areas show they can.

    It is inference, not a test of those layers, and therefore only fair.
    """
    nothing = silent("the layers under the failed plane were not tested", scene.sources)
    here, there = parting(scene), as_it_stands(scene.sound)
    if plane.kind is not PlaneKind.INTERFACE or plane.lower == 0 or not there:
        return nothing
    below = [one for one in here.by_plane if one.height < plane.height]
    above = [one for one in as_it_stands(scene) if not one.at_least]
    if below or len(above) < 3 or len(there) < 3 or at_least(there) < 2 * at_most(above):
        return nothing
    words = (
        f"no test in failing areas parted the layers under the failed plane, and in areas that "
        f"look sound the film with these layers bore {in_words(scene, there)}; "
        "the layers were not tested by themselves"
    )
    sources = (*here.sources, *sources_of_strengths(there))
    return found(YES, words, sources, n=len(above) + len(there), quality=Quality.FAIR)


def _by_knife(scene: Scene, knife: Sequence[Rating]) -> Finding:
    middle = median(one.rating.value for one in knife)
    words = f"the knife rates the layers under the failed plane {middle:g} (median of {len(knife)})"
    value = YES if middle >= scene.settings.knife_sound else NO
    return found(
        value, words, [one.source for one in knife], n=len(knife), method="knife",
        quality=by_number(len(knife)), settled_by=scene.settings.said("knife_sound"),
    )  # fmt: skip


def patch_test_abraded_adheres(scene: Scene) -> Finding:
    """Return whether abrading alone restores bond on paired trial patches."""
    return _patch(scene, Treatment.ABRADED, "abrading")


def patch_test_washed_adheres(scene: Scene) -> Finding:
    """Return whether washing alone restores bond on paired trial patches."""
    return _patch(scene, Treatment.WASHED, "washing")


def _patch(scene: Scene, treatment: Treatment, doing: str) -> Finding:
    pulls, of = scene.failing.all(PullOff), scene.dossier.treatment_of
    treated = strengths(scene, (p for p in pulls if of(p) is treatment))
    as_is = strengths(scene, (p for p in pulls if of(p) is Treatment.AS_FOUND))
    as_is = as_is or as_it_stands(scene.failing)
    if not treated or not as_is:
        return silent(f"no paired trial patches with {doing}", scene.failing.sources)
    gain = scene.settings.patch_gain
    words = f"after {doing} the bond is {in_words(scene, treated)}; as found it is "
    words += in_words(scene, as_is)
    sources, quality = (
        sources_of_strengths(treated, as_is),
        by_number(min(len(treated), len(as_is))),
    )
    settled = scene.settings.said("patch_gain")
    if at_least(treated) >= gain * at_most(as_is):
        return found(YES, words, sources, n=len(treated), quality=quality, settled_by=settled)
    if at_most(treated) < gain * at_least(as_is):
        return found(NO, words, sources, n=len(treated), quality=quality, settled_by=settled)
    return silent(f"{words}; glue breaks leave it open", sources)


RULES = named(lower_layers_sound, patch_test_abraded_adheres, patch_test_washed_adheres)
