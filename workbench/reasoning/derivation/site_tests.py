"""What was measured on site: moisture, salts, alkalinity, profile, hardness, cure, continuity."""

from collections.abc import Sequence
from dataclasses import replace
from statistics import mean, median, pstdev

from workbench.reasoning.derivation.amounts import number
from workbench.reasoning.derivation.beneath import taken_before_coating
from workbench.reasoning.derivation.planes import parting
from workbench.reasoning.derivation.readings import beyond, higher_here, span, words_say
from workbench.reasoning.derivation.said import (
    NO,
    YES,
    by_number,
    either,
    found,
    named,
    silent,
    sources_of,
)
from workbench.reasoning.history import events_of
from workbench.reasoning.results import Finding
from workbench.reasoning.scene import Scene
from workbench.records import Area, Measurement, Rating, Source
from workbench.records.codes import Event, Quality, RatingMethod, Substrate

_IMPEDANCE = "f-moisture-meter"
_FEWEST_HARD = 2
"""Readings of hardness on either side below which their scatter is not known."""
_MOISTURE = ("moisture", "rh_in_slab", "emission")


def _moisture(scene: Scene) -> list[Measurement]:
    return [row for row in scene.measured(*_MOISTURE) if not taken_before_coating(scene, row)]


def moisture_above_limit(scene: Scene) -> Finding:
    """Return whether the substrate is wetter than the limit for the method; meters never say."""
    base = scene.coat(next(iter(scene.areas), None), 0)
    if base and base.material == Substrate.WOOD:
        return silent("timber has its own limit", (base.source,))
    rows = [row for row in _moisture(scene) if row.method != _IMPEDANCE]
    return beyond(scene, rows, "moisture")


def moisture_higher_in_failing(scene: Scene) -> Finding:
    """Return whether failing areas are wetter than sound ones, by one method."""
    settled = scene.settings.said("contrast_p")
    return higher_here(scene, _moisture(scene), _moisture(scene.sound), "moisture", settled)


def wood_moisture_high(scene: Scene) -> Finding:
    """Return whether timber is wetter than the limit, or 18 % where none is recorded."""
    base = scene.coat(next(iter(scene.areas), None), 0)
    if base is None or base.material != Substrate.WOOD:
        return silent("the substrate is not timber", scene.sources)
    rows = [row for row in _moisture(scene) if row.quantity == "moisture"]
    required = beyond(scene, rows, "moisture of the timber")
    if required.known or not rows:
        return required
    values = [v for row in rows if (v := number(row.value.quantity, "%")) is not None]
    if not values:
        return required
    need = scene.settings.wood_moist
    value = YES if median(values) > need else NO
    words = f"moisture of the timber in {scene.ground}: {span(values)} %, usual limit {need:g} %"
    return found(value, words, sources_of(rows), n=len(values), quality=by_number(len(values)),
                 settled_by=scene.settings.said("wood_moist"))  # fmt: skip


def _on_substrate(scene: Scene, rows: Sequence[Measurement]) -> list[Measurement]:
    """Return readings of the opened substrate, after coating; blanks where the substrate opened."""
    opened = parting(scene.failing).plane
    at_substrate = opened is not None and opened.lower == 0
    held = []
    for row in rows:
        face = row.plane
        named_ = face is not None and (
            face.part == "substrate" or (face.plane is not None and face.plane.code in ("A", "A/B"))
        )
        if (named_ or (face is None and at_substrate)) and not taken_before_coating(scene, row):
            held.append(row)
    return held


def chloride_above_limit(scene: Scene) -> Finding:
    """Return whether salts on the opened substrate are above the limit.

    Without a requirement, less than any common limit is "no" and more than the strictest refusal
    "yes"; in between nothing is said.
    """
    rows = _on_substrate(scene, scene.measured("chloride", "salts"))
    required = beyond(scene, rows, "salts on the opened substrate")
    if required.known or not rows:
        return required
    read = [
        (value, row)
        for row in rows
        if row.quantity == "chloride"
        and (value := number(row.value.quantity, "ug/cm2")) is not None
    ]
    if not read:
        return required
    values = [value for value, _ in read]
    settings = scene.settings
    settled = settings.said("chloride_clean_ug_cm2", "chloride_high_ug_cm2")
    words = f"chloride on the opened substrate in {scene.ground}: "
    words += scene.showing.span(min(values), max(values), "ug/cm2")
    sources = sources_of(row for _, row in read)
    quality = by_number(len(values))
    if max(values) <= settings.chloride_clean_ug_cm2:
        return found(NO, f"{words}, below every common limit", sources, n=len(values),
                     quality=quality, settled_by=settled)  # fmt: skip
    if median(values) > settings.chloride_high_ug_cm2:
        return found(YES, f"{words}, above what is refused", sources, n=len(values),
                     quality=quality, settled_by=settled)  # fmt: skip
    return silent(f"{words}; no requirement is recorded", sources)


def salts_in_nonfailing_also_high(scene: Scene) -> Finding:
    """Return whether salts are high under film that was opened while it still held."""
    return chloride_above_limit(scene)


def surface_ph_high(scene: Scene) -> Finding:
    """Return whether the wetted face of the interface is strongly alkaline."""
    rows = scene.measured("ph_face")
    read = [(v, row) for row in rows if (v := number(row.value.quantity, "pH")) is not None]
    if not read:
        return silent(f"the pH of the wetted interface in {scene.ground} was not read",
                      scene.sources)  # fmt: skip
    values = [value for value, _ in read]
    value = YES if median(values) > scene.settings.wet_face_ph else NO
    return found(
        value, f"the wetted interface in {scene.ground} has a pH of {span(values)}",
        sources_of(row for _, row in read), n=len(values), quality=by_number(len(values)),
        settled_by=scene.settings.said("wet_face_ph"),
    )  # fmt: skip


def profile_below_spec(scene: Scene) -> Finding:
    """Return whether the substrate is smoother than required."""
    return beyond(scene, _profile(scene), "roughness", above=False)


def profile_above_spec(scene: Scene) -> Finding:
    """Return whether the substrate is rougher than required, or peaks exceed a third of coat 1."""
    rows = _profile(scene)
    required = beyond(scene, rows, "roughness")
    if required.known:
        return required
    first = scene.coat(next(iter(scene.areas), None), 1)
    film = number(first.dft_nominal, "um") if first else None
    read = [v for row in rows if (v := number(row.value.quantity, "um")) is not None]
    if film is None or not read or first is None:
        return required
    value = YES if median(read) > scene.settings.peak_share * film else NO
    words = f"roughness {scene.showing.span(min(read), max(read), 'um')} under a first coat of "
    words += f"{scene.showing.thickness(film)}; no requirement"
    return found(
        value, words, (*sources_of(rows), first.source), n=len(read), quality=Quality.FAIR,
        settled_by=scene.settings.said("peak_share"),
    ) if value == YES else silent(words, sources_of(rows))  # fmt: skip


def _profile(scene: Scene) -> list[Measurement]:
    return list(scene.measured("profile_rz", "profile_csp"))


# -- hardness and cure


def hardness_low(scene: Scene) -> Finding:
    """Return whether the film is softer than required, or than the sound side."""
    rows = scene.measured("hardness")
    required = beyond(scene, rows, "hardness", above=False)
    if required.known:
        return required
    pairs = _hardness_pairs(scene)
    if pairs is None:
        return required
    here, there, sources = pairs
    words = f"hardness is {span(here)}, against {span(there)} in areas that look sound"
    soft = max(here) < min(there) and median(there) - median(here) > _scatter(scene, here, there)
    return found(YES if soft else NO, words, sources, n=len(here),
                 quality=by_number(min(len(here), len(there))))  # fmt: skip


def _hardness_pairs(scene: Scene) -> tuple[list[float], list[float], tuple[Source, ...]] | None:
    here, there = scene.measured("hardness"), scene.sound.measured("hardness")
    own = [row.value.value for row in here if row.value.value is not None]
    other = [row.value.value for row in there if row.value.value is not None]
    if min(len(own), len(other)) < _FEWEST_HARD or scene.ground == scene.sound.ground:
        return None
    return own, other, sources_of([*here, *there])


def _scatter(scene: Scene, *sides: Sequence[float]) -> float:
    spread = max((pstdev(side) for side in sides if len(side) > 1), default=0.0)
    return scene.settings.hard_step * spread


def hardness_varies_by_patch(scene: Scene) -> Finding:
    """Return whether hardness steps sharply from failing to sound spots of one area."""
    pairs = _hardness_pairs(scene.failing)
    if pairs is None:
        return silent("hardness was not read on both sides of a patch", scene.sources)
    here, there, sources = pairs
    step = abs(mean(there) - mean(here))
    apart = max(here) < min(there) or max(there) < min(here)
    value = YES if apart and step > _scatter(scene, here, there) else NO
    words = f"hardness is {span(here)} in failing and {span(there)} in sound spots"
    return found(
        value, words, sources, n=len(here) + len(there),
        quality=by_number(min(len(here), len(there))), settled_by=scene.settings.said("hard_step"),
    )  # fmt: skip


def solvent_rub_fail(scene: Scene) -> Finding:
    """Return whether the film fails the solvent rub.

    In words, rated 3 or less (ASTM D4752), or by double rubs against the number required, else
    against those of the sound areas.
    """
    rows = scene.measured("solvent_rub")
    rubs = words_say(
        scene, rows, "failing the solvent rub",
        ("fail", "softened", "dissolved", "positive", "yes"),
        ("pass", "none", "negative", "no", "dulled"),
    )  # fmt: skip
    rated = [one for one in scene.all(Rating) if one.method is RatingMethod.ASTM_D4752]
    if not rated:
        counted = beyond(scene, rows, "double rubs", above=False)
        return either(either(rubs, counted), _rubs_against_sound(scene, rows))
    middle = median(one.rating.value for one in rated)
    value = YES if middle <= 3 else NO
    words = f"the solvent rub rates {scene.ground} {middle:g} of 5 (median of {len(rated)})"
    held = found(value, words, sources_of(rated), n=len(rated), quality=by_number(len(rated)))
    return either(held, rubs)


def _rubs_against_sound(scene: Scene, rows: Sequence[Measurement]) -> Finding:
    """Return whether the film dissolves after far fewer rubs than where it holds."""
    others = scene.sound.measured("solvent_rub") if scene is scene.failing else ()
    own, other = ([v for r in some if (v := r.value.value) is not None] for some in (rows, others))
    if not own or not other:
        return silent("double rubs were not counted on both sides", sources_of([*rows, *others]))
    fails = median(own) <= scene.settings.rubs_of_sound * median(other) and max(own) < min(other)
    words = (
        f"double rubs: {span(own)} in failing areas, {span(other)} in areas that look sound; "
        "no number is required"
    )
    return found(
        YES if fails else NO, words, sources_of([*rows, *others]), n=len(own),
        quality=Quality.FAIR, settled_by=scene.settings.said("rubs_of_sound"),
    )  # fmt: skip


def holiday_count_high(scene: Scene) -> Finding:
    """Return whether there are more discontinuities than allowed."""
    return beyond(scene, scene.measured("holidays"), "discontinuities")


def water_beads_on_substrate(scene: Scene) -> Finding:
    """Return whether water stays as beads on the bare substrate, from words or seconds."""
    return words_say(
        scene, scene.measured("water_drop"), "water beading on the substrate",
        ("positive", "yes", "present", "fail"), ("negative", "no", "none", "pass"),
        lambda row: None if (held := number(row.value.quantity, "s")) is None
        else held >= scene.settings.beads_s,
    )  # fmt: skip


def amine_swab_positive(scene: Scene) -> Finding:
    """Return whether a colour swab shows amine on the fresh lower face.

    A negative swab of a face that stood open to the weather says little: amine salts wash off.
    """
    rows = scene.measured("amine_swab")
    held = words_say(
        scene, rows, "amine on the opened face by swab",
        ("positive", "present", "yes"), ("negative", "none", "no"),
    )  # fmt: skip
    if held.value == NO and all(_weathered(scene, row) for row in rows):
        words = f"{held.words}; the face may have stood in the weather since the film came off"
        return replace(held, words=words, quality=Quality.POOR,
                       settings_used=scene.settings.said("washed_face_d"))  # fmt: skip
    return held


def _weathered(scene: Scene, row: Measurement) -> bool:
    """Return whether a face outdoors may have stood open since failing was first seen."""
    area = scene.dossier.area_of(row)
    if area is None or row.date is None or not _outdoors(scene, area):
        return False
    seen = events_of(scene, area, Event.FIRST_SEEN)
    if not seen:
        return False
    days = row.date.start(scene.dossier.zone) - seen[0].start.end(scene.dossier.zone)
    return days.total_seconds() > 86400 * scene.settings.washed_face_d


def _outdoors(scene: Scene, area: Area) -> bool:
    return any(scene.tag(area.ref, tag) for tag in ("outdoor", "marine", "splash", "sunlit"))


def crack_movement_active(scene: Scene) -> Finding:
    """Return whether cracks or joints move more than the film can follow."""
    rows = scene.measured("crack_movement")
    required = beyond(scene, rows, "movement of cracks")
    if required.known:
        return required
    held = words_say(scene, rows, "movement of cracks", ("yes", "present"), ("no", "none"))
    if held.known:
        return held
    zero = [row for row in rows if row.value.value == 0]
    if rows and len(zero) == len(rows):
        return found(NO, "the cracks did not move while they were watched", sources_of(rows))
    return required


def steel_section_loss(scene: Scene) -> Finding:
    """Return whether the steel has lost section."""
    rows = scene.measured("steel_loss")
    held = words_say(
        scene, rows, "loss of section", ("yes", "present"), ("no", "none"),
        lambda row: None if row.value.value is None else row.value.value > 0,
    )  # fmt: skip
    required = beyond(scene, rows, "loss of section")
    return required if required.known else held


def etch_removal_low(scene: Scene) -> Finding:
    """Return whether pretreatment took off less metal than required."""
    rows = [*scene.measured("etch_removal"), *scene.control.measured("etch_removal")]
    return beyond(scene, rows, "metal removed by the etch", above=False)


RULES = named(
    moisture_above_limit, moisture_higher_in_failing, wood_moisture_high, chloride_above_limit,
    salts_in_nonfailing_also_high, surface_ph_high, profile_below_spec, profile_above_spec,
    hardness_low, hardness_varies_by_patch, solvent_rub_fail, holiday_count_high,
    water_beads_on_substrate, amine_swab_positive, crack_movement_active, steel_section_loss,
    etch_removal_low,
)  # fmt: skip
