"""How strong the substrate itself is."""

from collections.abc import Sequence

from workbench.reasoning.derivation.adhesion import (
    at_least,
    at_most,
    in_words,
    sources_of_strengths,
    strengths,
)
from workbench.reasoning.derivation.planes import untouched
from workbench.reasoning.derivation.said import NO, YES, by_number, found, named, silent
from workbench.reasoning.results import Finding
from workbench.reasoning.scene import Scene
from workbench.records import Plane, PullOff, Source
from workbench.records.codes import PullOffMethod, Substrate
from workbench.trade.units import UnitError, in_unit

_CONCRETE = (Substrate.CONCRETE,)

_CORED = (PullOffMethod.ASTM_C1583, PullOffMethod.EN_1542)


def substrate_strength_low(scene: Scene) -> Finding:
    """Return whether the bare, prepared substrate is weak in tension."""
    bare = [p for p in scene.dossier.all(PullOff) if p.on == 0 and not _cored(p)]
    if bare:
        return _substrate(scene, bare, "the bare substrate")
    torn = [pull for pull in scene.all(PullOff) if untouched(scene, pull) and _torn(scene, pull)]
    return _substrate(scene, torn, "the substrate, torn through the coating,")


def _torn(scene: Scene, pull: PullOff) -> bool:
    share = pull.breaks.of(Plane("A")) if pull.breaks else 0
    return share >= 100 * scene.settings.dominant


def substrate_strength_low_failing(scene: Scene) -> Finding:
    """Return whether the substrate of this side is weak below its surface (partly cored)."""
    pulls = [pull for pull in scene.all(PullOff) if pull.on == 0 and _cored(pull)]
    return _substrate(scene, pulls, "the substrate below its surface")


def _cored(pull: PullOff) -> bool:
    depth = pull.cut_round.quantity if pull.cut_round else None
    if depth is None:
        return pull.method in _CORED and pull.cut_round is None
    try:
        return in_unit(depth, "mm", "mm") >= 5
    except UnitError:
        return False


def _substrate(scene: Scene, pulls: Sequence[PullOff], what: str) -> Finding:
    held = strengths(scene, pulls)
    if not held:
        return silent(f"{what} was not pulled in {scene.ground}", scene.sources)
    required = _substrate_need(scene)
    words = f"{what} holds {in_words(scene, held)}"
    if required is None:
        return silent(f"{words}; no requirement is recorded", sources_of_strengths(held))
    need, said, source = required
    value = YES if at_most(held) < need else NO if at_least(held) >= need else None
    sources = (*sources_of_strengths(held), *source)
    if value is None:
        return silent(f"{words}, {said}; glue breaks leave it open", sources)
    return found(
        value, f"{words}, {said}", sources, n=len(held), quality=by_number(len(held)),
        settled_by=scene.settings.said("concrete_pull_mpa") if not source else (),
    )  # fmt: skip


def _substrate_need(scene: Scene) -> tuple[float, str, tuple[Source, ...]] | None:
    base = next((coat for coat in scene.system() if coat.order == 0), None)
    limit = scene.limit("pull_off", coat=base) if base else None
    if limit and limit.minimum and base and limit.applies_to == f"{base.system}:0":
        return (
            in_unit(limit.minimum, "MPa", "MPa"),
            f"required {scene.showing.quantity(limit.minimum)}",
            (limit.source,),
        )
    if base and base.material in _CONCRETE:
        need = scene.settings.concrete_pull_mpa
        return need, f"{scene.showing.stress(need)} is usual for concrete", ()
    return None


RULES = named(substrate_strength_low, substrate_strength_low_failing)
