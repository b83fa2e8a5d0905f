"""How strong it is: pull-offs against the requirement or the other side, knife and tape."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from statistics import median

from workbench.reasoning.derivation.planes import (
    break_interface_which,
    break_plane_dominant_failing,
    break_plane_dominant_nonfailing,
    untouched,
)
from workbench.reasoning.derivation.said import NO, YES, by_number, found, named, silent
from workbench.reasoning.results import Finding
from workbench.reasoning.scene import Scene
from workbench.records import Plane, PullOff, Source
from workbench.records.codes import Quality
from workbench.trade.pull_off import stress_of
from workbench.trade.units import UnitError, in_unit


@dataclass(frozen=True, slots=True)
class Strength:
    """One reading: exactly, at least (mostly glue), or at most (came away)."""

    mpa: float
    at_least: bool
    source: Source


def strengths(scene: Scene, pulls: Iterable[PullOff]) -> tuple[Strength, ...]:
    """Return the strengths that pull-offs show; those without a reading are left out."""
    held = []
    for pull in pulls:
        stress = stress_of(pull)
        if stress.mpa is not None:
            glued = bool(pull.breaks and pull.breaks.glue > scene.settings.glue_share)
            held.append(Strength(stress.mpa, glued, pull.source))
    return tuple(held)


def as_it_stands(scene: Scene) -> tuple[Strength, ...]:
    """Return the strengths of the untouched film on this side, of the systems that fail."""
    systems = {area.system for area in scene.failing.areas}
    return strengths(
        scene,
        (
            pull
            for pull in scene.all(PullOff)
            if untouched(scene, pull) and (not systems or _system_of(scene, pull) in systems)
        ),
    )


def _system_of(scene: Scene, pull: PullOff) -> str:
    area = scene.dossier.area_of(pull)
    return area.system if area else ""


def at_least(held: Sequence[Strength]) -> float:
    """Return a median that the true one cannot lie below: glue breaks at their reading."""
    return median(one.mpa for one in held)


def at_most(held: Sequence[Strength]) -> float:
    """Return a median that the true one cannot lie above: glue breaks without bound."""
    return median(math.inf if one.at_least else one.mpa for one in held)


def sources_of_strengths(*held: Sequence[Strength]) -> tuple[Source, ...]:
    """Return the tests behind some strengths."""
    return tuple(one.source for some in held for one in some)


def in_words(scene: Scene, held: Sequence[Strength], apart_from: float | None = None) -> str:
    """Return the median in words, "at least" where glue breaks leave it open upwards."""
    sign = "at least " if at_most(held) > at_least(held) else ""
    middle = scene.showing.stress(at_least(held), apart_from=apart_from)
    return (
        f"{sign}{middle}, the median of {len(held)} readings"
        if len(held) > 1
        else f"{sign}{middle}"
    )


def required_mpa(scene: Scene) -> tuple[float, Source] | None:
    """Return the pull-off strength required here, with where it is required."""
    systems = {area.system for area in scene.failing.areas}
    areas = [area for area in scene.areas if area.system in systems] or list(scene.areas)
    limits = (scene.limit("pull_off", area=area) for area in areas)
    limit = next((one for one in limits if one), None)
    if limit is None or limit.minimum is None:
        return None
    try:
        return in_unit(limit.minimum, "MPa", "MPa"), limit.source
    except UnitError:
        return None


def against_requirement(scene: Scene, held: Sequence[Strength]) -> Finding | None:
    """Return whether a side is below the requirement; None where there is none."""
    required = required_mpa(scene)
    if required is None or not held:
        return None
    need, source = required
    shown = f"{in_words(scene, held, need)}; required {scene.showing.stress(need)}"
    words = f"pull-off in {scene.ground}: {shown}"
    sources = (*sources_of_strengths(held), source)
    if at_most(held) < need:
        return found(YES, words, sources, n=len(held), quality=by_number(len(held)))
    if at_least(held) >= need:
        return found(NO, words, sources, n=len(held), quality=by_number(len(held)))
    return silent(f"{words}; glue breaks below it leave the question open", sources)


def pull_off_low_failing(scene: Scene) -> Finding:
    """Return whether the film still attached is weak: below need, or half of the sound side."""
    held = as_it_stands(scene)
    if not held:
        return silent(f"no pull-off with a reading in {scene.ground}", scene.sources)
    if verdict := against_requirement(scene, held):
        return verdict
    sound = as_it_stands(scene.sound)
    if not sound:
        words = (
            f"pull-off in {scene.ground}: {in_words(scene, held)}; no requirement and no sound area"
        )
        return silent(words, sources_of_strengths(held))
    share = scene.settings.low_against_sound
    words = (
        f"pull-off in {scene.ground}: {in_words(scene, held)}, against {in_words(scene, sound)} "
        "in areas that look sound; no requirement is recorded"
    )
    settled = scene.settings.said("low_against_sound")
    quality, sources = by_number(min(len(held), len(sound))), sources_of_strengths(held, sound)
    if at_most(held) < share * at_least(sound):
        return found(YES, words, sources, n=len(held), quality=quality, settled_by=settled)
    if at_least(held) >= share * at_most(sound):
        return found(NO, words, sources, n=len(held), quality=quality, settled_by=settled)
    return silent(f"{words}; the two cannot be told apart", sources)


def pull_off_low_nonfailing(scene: Scene) -> Finding:
    """Return whether areas that look sound are weak too: below need, or half of the controls.

    Without either, a sound side that breaks in the substrate or the glue is not weak: the
    coating is not its weakest part.
    """
    held = as_it_stands(scene)
    if not held:
        return silent(f"no pull-off with a reading in {scene.ground}", scene.sources)
    if verdict := against_requirement(scene, held):
        return verdict
    if verdict := _against_controls(scene, held):
        return verdict
    words = f"pull-off in {scene.ground}: {in_words(scene, held)}; no requirement is recorded"
    elsewhere = [one for one in scene.all(PullOff) if _gave_elsewhere(scene, one)]
    if len(elsewhere) >= scene.settings.dominant * len(held):
        words = (
            f"{words}, and in {len(elsewhere)} tests substrate or glue gave way over most of the "
            "face, not the coating"
        )
        return found(NO, words, sources_of_strengths(held), n=len(held), quality=Quality.FAIR)
    return silent(words, sources_of_strengths(held))


def _gave_elsewhere(scene: Scene, pull: PullOff) -> bool:
    """Return whether a pull of the untouched film broke mostly in the substrate or the glue."""
    if pull.breaks is None or not untouched(scene, pull):
        return False
    return pull.breaks.glue + pull.breaks.of(Plane("A")) > scene.settings.glue_share


def _against_controls(scene: Scene, held: Sequence[Strength]) -> Finding | None:
    control = as_it_stands(scene.control)
    if not control or scene.ground == scene.control.ground:
        return None
    words = (
        f"pull-off in {scene.ground}: {in_words(scene, held)}, against "
        f"{in_words(scene, control)} in controls"
    )
    share, sources = scene.settings.low_against_sound, sources_of_strengths(held, control)
    settled = scene.settings.said("low_against_sound")
    quality = by_number(min(len(held), len(control)))
    if at_most(held) < share * at_least(control):
        return found(YES, words, sources, n=len(held), quality=quality, settled_by=settled)
    if at_least(held) >= share * at_least(control):
        return found(NO, words, sources, n=len(held), quality=quality, settled_by=settled)
    return None


def pull_off_median_mpa_failing(scene: Scene) -> Finding:
    """Return the median of the breaks in the coating, in MPa; glue breaks are left out."""
    held = [one for one in as_it_stands(scene) if not one.at_least]
    if not held:
        return silent(f"no pull-off in {scene.ground} broke outside the glue", scene.sources)
    value = f"{at_least(held):.3g}"
    return found(value, in_words(scene, held), sources_of_strengths(held), n=len(held))


def glue_breaks_excessive(scene: Scene) -> Finding:
    """Return whether glue breaks hide the strength: those below need, or in failing areas."""
    pulls = [
        pull
        for side in (scene.failing, scene.on(scene.sound.ground))
        for pull in side.all(PullOff)
        if untouched(side, pull) and pull.breaks
    ]
    if not pulls:
        return silent("no pull-off with its break was recorded", scene.sources)
    required = required_mpa(scene)
    failing = set(scene.failing.all(PullOff))
    bad = [pull for pull in pulls if _hides(scene, pull, required, failing=pull in failing)]
    share = len(bad) / len(pulls)
    words = (
        f"{len(bad)} of {len(pulls)} pull-offs broke mostly in the glue below what is required, "
        "or in a failing area"
    )
    value = YES if share > scene.settings.glue_tests else NO
    return found(
        value, words, [pull.source for pull in (bad or pulls)], n=len(pulls),
        quality=by_number(len(pulls)), settled_by=scene.settings.said("glue_share", "glue_tests"),
    )  # fmt: skip


def _hides(
    scene: Scene, pull: PullOff, required: tuple[float, Source] | None, *, failing: bool
) -> bool:
    if not pull.breaks or pull.breaks.glue <= scene.settings.glue_share:
        return False
    if failing:
        return True
    stress = stress_of(pull).mpa
    return required is not None and stress is not None and stress < required[0]


RULES = named(
    pull_off_low_failing,
    pull_off_low_nonfailing,
    pull_off_median_mpa_failing,
    glue_breaks_excessive,
    break_plane_dominant_failing,
    break_plane_dominant_nonfailing,
    break_interface_which,
)
