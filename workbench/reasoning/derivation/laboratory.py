"""Sections, fluids, concrete, retained material and panels."""

from collections.abc import Mapping
from dataclasses import replace

from workbench.reasoning.derivation.amounts import number
from workbench.reasoning.derivation.appearance import lab_says
from workbench.reasoning.derivation.controls import ABSENT, PRESENT, control_of, quantity
from workbench.reasoning.derivation.readings import beyond, span, words_say
from workbench.reasoning.derivation.said import (
    NO,
    YES,
    by_number,
    found,
    named,
    silent,
    sources_of,
)
from workbench.reasoning.results import Finding
from workbench.reasoning.scene import Scene
from workbench.records import LabResult, Sample
from workbench.records.codes import Qualifier


def layer_count_differs_from_spec(scene: Scene) -> Finding:
    """Return whether a coat is missing or extra, by the layers counted against those specified."""
    rows = [row for row in scene.lab("layer_count") if row.value.value is not None]
    specified = len([coat for coat in scene.system() if coat.order > 0])
    words_ = lab_says(
        scene, [r for r in scene.lab("layer_count") if r.value.word], "a difference of layers"
    )
    if not rows or not specified:
        return words_
    differ = [row for row in rows if row.value.value != specified]
    value = YES if 2 * len(differ) > len(rows) else NO
    counts = span([row.value.value or 0 for row in rows])
    return found(value, f"{counts} layers counted, {specified} specified", sources_of(rows),
                 n=len(rows), quality=by_number(len(rows), full=2))  # fmt: skip


def _percent_or_words(scene: Scene, name: str, what: str, most: float, setting: str) -> Finding:
    rows = scene.lab(name)
    held = words_say(
        scene, rows, what, ("present", "yes", "continuous", "patchy"), ("none", "no", "few"),
        lambda row: None if (v := number(row.value.quantity, "%")) is None else v > most,
    )  # fmt: skip
    return replace(held, settings_used=scene.settings.said(setting)) if held.known else held


def voids_bubbles_in_film(scene: Scene) -> Finding:
    """Return whether a section shows voids: in words, or above a share of the area."""
    most = scene.settings.voids_percent
    return _percent_or_words(scene, "voids", "voids in section", most, "voids_percent")


def interface_particles(scene: Scene) -> Finding:
    """Return whether particles line the failed face: in words, or above a share of it."""
    most = scene.settings.particles_percent
    return _percent_or_words(scene, "interface_particles", "particles on the failed face", most,
                             "particles_percent")  # fmt: skip


def blister_fluid_organics(scene: Scene) -> Finding:
    """Return whether organics of the coating are in the fluid; below detection is none."""
    return words_say(
        scene, scene.lab("fluid_organic:"), "coating organics in the fluid", PRESENT, ABSENT,
        lambda row: None if row.value.value is None
        else row.qualifier is not Qualifier.BELOW and row.value.value > 0,
    )  # fmt: skip


def blister_fluid_ionic_high(scene: Scene) -> Finding:
    """Return whether the fluid is rich in ions: above a limit, or against a control water."""
    rows = scene.lab("fluid_ion:", "fluid_conductivity")
    required = beyond(scene, rows, "ions in the fluid")
    if required.known:
        return required
    compared = [
        (row.value.value / control.value.value, row, control)
        for row in rows
        if (control := _water(scene, row)) and row.value.value and control.value.value
    ]
    if not compared:
        named_ = sorted({row.control for row in rows if row.control})
        why = f"; {' and '.join(named_)}, named as control, has no result of them" if named_ else ""
        return silent(f"the ions of the fluid were not compared with a control water{why}",
                      sources_of(rows) or scene.sources)  # fmt: skip
    high = [one for one in compared if one[0] > scene.settings.ions_times_control]
    value = YES if 2 * len(high) > len(compared) else NO
    times = span([round(one[0], 2) for one in compared])
    words = f"the fluid holds {times} times the ions of the control water"
    return found(
        value, words, sources_of(r for _, a, c in compared for r in (a, c)), n=len(compared),
        settled_by=scene.settings.said("ions_times_control"),
    )  # fmt: skip


def _water(scene: Scene, row: LabResult) -> LabResult | None:
    if row.control:
        return control_of(scene, row)
    return next(
        (
            one
            for one in scene.dossier.all(LabResult)
            if one.quantity == row.quantity
            and one.sample != row.sample
            and (sample := scene.dossier.find(Sample, one.sample))
            and sample.kind.value == "water"
        ),
        None,
    )


def chloride_in_concrete_high(scene: Scene) -> Finding:
    """Return whether chloride at the depth of the bars is above its limit."""
    return beyond(scene, scene.lab("chloride_depth"), "chloride at the bars")


def _of_material(scene: Scene, name: str) -> list[LabResult]:
    """Return results that speak of the material, whatever side the sample stands for."""
    return [row for row in scene.dossier.all(LabResult) if row.quantity == name]


def retained_material_fails_qc(scene: Scene) -> Finding:
    """Return whether retained liquid of the batch fails its quality tests."""
    rows = _of_material(scene, "retained_qc")
    return words_say(scene, rows, "failing quality tests of retained material",
                     ("fail", "no", "negative"), ("pass", "yes", "positive"))  # fmt: skip


def retained_material_cures_normally(scene: Scene) -> Finding:
    """Return whether retained liquid performs when correctly mixed."""
    rows = _of_material(scene, "retained_cure")
    return words_say(scene, rows, "normal cure of retained material",
                     ("pass", "yes", "positive"), ("fail", "no", "negative"))  # fmt: skip


_REPRODUCED = ("yes", "positive", "present", "fail")
_NOT_REPRODUCED = ("no", "negative", "none", "pass")


def lab_reproduction_of_failure(scene: Scene) -> Finding:
    """Return whether panels made with one suspected circumstance fail as the coating did.

    A result `reproduction:CAUSE` says for which; one that names none shows that the failure can be
    brought about, and speaks for no cause.
    """
    rows = [
        row for row in scene.dossier.all(LabResult)
        if row.quantity.partition(":")[0] == "reproduction"
    ]  # fmt: skip
    held = words_say(scene, rows, "the failure on panels", _REPRODUCED, _NOT_REPRODUCED)
    if not held.known:
        return held
    said = {
        cause: YES if row.value.word in _REPRODUCED else NO
        for row in rows
        if (cause := row.quantity.partition(":")[2])
        and row.value.word in (*_REPRODUCED, *_NOT_REPRODUCED)
    }
    return replace(held, words=_panels(said), speaks_of=tuple(said.items()) or (("", held.value),))


def _panels(said: Mapping[str, str]) -> str:
    if not said:
        return "panels were made to bring the failure about; with which circumstance is not said"
    parts = [
        f"panels made so that only “{cause.replace('-', ' ')}” acts "
        f"{'failed as the coating did' if value == YES else 'did not fail'}"
        for cause, value in said.items()
    ]
    return "; ".join(parts)


def sd_value_above_limit(scene: Scene) -> Finding:
    """Return whether the film holds back more vapour than the build-up tolerates."""
    return beyond(scene, scene.lab("sd_value"), "resistance to vapour")


def moisture_accumulates_behind_film(scene: Scene) -> Finding:
    """Return whether moisture gathers behind the film by calculation."""
    rows = scene.lab("moisture_accumulation")
    required = beyond(scene, rows, "moisture gathering behind the film")
    if required.known:
        return required
    return words_say(
        scene, rows, "moisture gathering behind the film", ("yes", "present", "positive"), ABSENT,
        lambda row: False if row.value.value == 0 else None,
    )  # fmt: skip


def conversion_layer_deficient(scene: Scene) -> Finding:
    """Return whether the conversion layer is missing, patchy or lighter than required."""
    rows = scene.lab("conversion_layer")
    required = beyond(scene, rows, "weight of the conversion layer", above=False)
    if required.known:
        return required
    return words_say(scene, rows, "a missing or patchy conversion layer",
                     ("none", "patchy", "few", "no", "fail"),
                     ("continuous", "present", "yes", "pass"))  # fmt: skip


def alloy_outside_limits(scene: Scene) -> Finding:
    """Return whether an element of the alloy is above its limit."""
    return beyond(scene, scene.lab("alloy:"), "an alloying element")


def disbond_radius_high(scene: Scene) -> Finding:
    """Return whether a panel disbonds further than allowed."""
    rows = [row for row in scene.dossier.all(LabResult) if row.quantity == "disbond_radius"]
    return beyond(scene, rows, "disbonding radius")


RULES = named(
    layer_count_differs_from_spec,
    voids_bubbles_in_film,
    interface_particles,
    blister_fluid_organics,
    blister_fluid_ionic_high,
    chloride_in_concrete_high,
    retained_material_fails_qc,
    retained_material_cures_normally,
    lab_reproduction_of_failure,
    sd_value_above_limit,
    moisture_accumulates_behind_film,
    conversion_layer_deficient,
    alloy_outside_limits,
    disbond_radius_high,
    quantity("interface_smooth_no_keying", "interface_smooth", "a smooth, unkeyed interface"),
    quantity("microcracks_in_film", "microcracks", "microcracks in the film"),
    quantity("petro_weak_surface_layer", "petro_weak_skin", "a weak skin of the concrete"),
    quantity("petro_asr_gel", "petro_gel", "alkali-silica gel"),
    quantity("petro_freeze_thaw_cracks", "petro_frost_cracks", "frost cracks"),
    quantity("petro_near_surface_fractures", "petro_fractures", "fractures below the surface"),
)
