"""What was seen: the form of failure, what blisters hold, what came away, and signs."""

from collections import Counter
from collections.abc import Sequence
from statistics import median

from workbench.reasoning.derivation.amounts import number
from workbench.reasoning.derivation.readings import beyond
from workbench.reasoning.derivation.said import (
    NO,
    YES,
    Rule,
    by_number,
    either,
    found,
    named,
    seen,
    share_in_words,
    silent,
    sources_of,
)
from workbench.reasoning.history import events_of, said_no
from workbench.reasoning.results import Finding
from workbench.reasoning.scene import Scene
from workbench.records import AreaEvent, LabResult, Measurement, Rating, Sample, SurveyEntry
from workbench.records.codes import FAILURE_FORMS, Event, RatingMethod, Substrate

_RATED_WORSE = {RatingMethod.ASTM_D4214: False, RatingMethod.ISO_4628_6: True}


def sign(key: str, what: str, *forms: str) -> Rule:
    """Return the rule for a key that is a sign seen, or looked for and not found."""

    def rule(scene: Scene) -> Finding:
        return seen(scene, forms, what)

    rule.__name__ = key
    rule.__doc__ = f"Return whether {what} was seen."
    return rule


def failure_form_dominant(scene: Scene) -> Finding:
    """Return the form of failure with the largest extent on this side."""
    rows = [row for row in scene.all(SurveyEntry) if row.form in FAILURE_FORMS and row.seen]
    if not rows:
        return silent(f"no form of failure is recorded in {scene.ground}", scene.sources)
    sized: Counter[str] = Counter()
    for row in rows:
        sized[row.form] += _extent(row)  # type: ignore[assignment]  # Counter adds floats
    (top, most), *rest = sized.most_common()
    second = rest[0][1] if rest else 0
    told = "; ".join(f"{form.replace('_', ' ')} ({size:g})" for form, size in sized.most_common(3))
    if rest and most == second:
        return silent(f"no form of failure stands out: {told}", sources_of(rows))
    chosen = [row for row in rows if row.form == top]
    return found(
        top, f"the form with the largest extent is {top.replace('_', ' ')}", sources_of(chosen),
        n=len(chosen), method="survey", quality=by_number(len(rows)),
    )  # fmt: skip


def _extent(row: SurveyEntry) -> float:
    if row.extent is not None:
        return row.extent.value
    return float(row.count) if row.count is not None else 1.0


def _class_of(scene: Scene, prefix: str, what: str) -> Finding:
    rows = [row for row in scene.all(SurveyEntry) if row.form.startswith(prefix + "=")]
    counted: Counter[str] = Counter()
    for row in rows:
        if row.seen:
            counted[row.form.partition("=")[2]] += row.count or 1
    if not counted:
        return silent(
            f"{what} is not recorded in {scene.ground}", sources_of(rows) or scene.sources
        )
    whole = sum(counted.values())
    looked = _looked(rows) or whole
    (top, most), *rest = counted.most_common()
    told = "; ".join(f"{k.replace('_', ' ')} {n}" for k, n in counted.most_common())
    words = f"{what} in {scene.ground}: {told} of {max(looked, whole)}"
    if 2 * most <= max(whole, looked) and (rest or looked > whole):
        return silent(f"{words}; none is in the majority", sources_of(rows))
    shares = tuple((name, count / max(looked, whole)) for name, count in counted.most_common())
    chosen = [row for row in rows if row.form.endswith("=" + top)]
    return found(
        top, words, sources_of(chosen), n=max(looked, whole), method="openings",
        quality=by_number(max(looked, whole)), shares=shares,
    )  # fmt: skip


def _looked(rows: Sequence[SurveyEntry]) -> int:
    by_place: dict[str, int] = {}
    for row in rows:
        if row.looked_at:
            by_place[row.at] = max(by_place.get(row.at, 0), row.looked_at)
    return sum(by_place.values())


def blister_contents(scene: Scene) -> Finding:
    """Return what most of the opened blisters held."""
    return _class_of(scene, "blister_contents", "the content of opened blisters")


def substrate_material_on_back_face(scene: Scene) -> Finding:
    """Return what most of the separated pieces carried on their back."""
    return _class_of(scene, "back_face", "what the back of separated pieces carries")


def blister_fluid_ph_band(scene: Scene) -> Finding:
    """Return the band of pH of the blister fluid, from the median over the places read.

    Field and laboratory readings of one place are one place, by their median.
    """
    rows: list[Measurement | LabResult] = [*scene.measured("ph_fluid"), *scene.lab("fluid_ph")]
    read = [(value, row) for row in rows if (value := number(row.value.quantity, "pH")) is not None]
    if not read:
        return silent("the pH of blister fluid is not recorded", scene.sources)
    places: dict[str, list[float]] = {}
    for value, row in read:
        places.setdefault(_place_of(scene, row), []).append(value)
    middle = median(median(values) for values in places.values())
    bands = ((6, "acid"), (8.5, "neutral"), (11.5, "alkaline"))
    band = next((name for top, name in bands if middle < top), "strongly_alkaline")
    where = "one place" if len(places) == 1 else f"{len(places)} places"
    words = f"the fluid of blisters at {where} has a median pH of {middle:.1f}"
    return found(band, words, sources_of(r for _, r in read), n=len(places),
                 quality=by_number(len(places)))  # fmt: skip


def _place_of(scene: Scene, row: Measurement | LabResult) -> str:
    """Return where a reading was made, by the location or by that of the sample."""
    if isinstance(row, Measurement):
        return row.location or row.ref
    sample = scene.dossier.find(Sample, row.sample)
    return sample.at if sample and sample.at else row.sample or row.ref


def water_ingress_source_identified(scene: Scene) -> Finding:
    """Return whether a path for water behind the film was found, or a leak recorded."""
    held = seen(scene, ("water_entry",), "a path for water behind the film")
    leaks = [one for area in scene.areas for one in events_of(scene, area, Event.LEAK) if one.area]
    return either(held, _leaked(scene, leaks))


def _leaked(scene: Scene, leaks: Sequence[AreaEvent]) -> Finding:
    real = [one for one in leaks if not said_no(one)]
    if real:
        return found(YES, f"a leak is recorded in {scene.ground}", sources_of(real))
    if leaks:
        return found(NO, f"a leak is denied for {scene.ground}", sources_of(leaks))
    return silent("no leak is recorded or denied", scene.sources)


def abrasion_marks_on_exposed_face(scene: Scene) -> Finding:
    """Return whether the opened lower face shows abrasion, under a lens or in the laboratory."""
    survey = seen(scene, ("abrasion_marks",), "abrasion on the opened lower face")
    return either(_lab_word(scene, "abrasion_marks", "abrasion on the opened face"), survey)


def _lab_word(scene: Scene, quantity: str, what: str) -> Finding:
    return lab_says(scene, scene.lab(quantity), what)


def lab_says(scene: Scene, rows: Sequence[LabResult], what: str) -> Finding:
    """Return yes or no as most of some laboratory results say; undetermined ones say nothing."""
    words = {
        "yes": YES, "present": YES, "positive": YES, "fail": YES, "few": NO, "continuous": YES,
        "no": NO, "none": NO, "negative": NO, "pass": NO, "patchy": YES,
    }  # fmt: skip
    said = [(words[row.value.word], row) for row in rows if row.value.word in words]
    said += [
        (YES if row.value.value > 0 else NO, row) for row in rows if row.value.value is not None
    ]
    if not said:
        lacking = f"the laboratory could not determine {what}" if rows else f"{what}: not examined"
        return silent(lacking, sources_of(rows) or scene.sources)
    yes = [row for value, row in said if value == YES]
    no = [row for value, row in said if value == NO]
    if len(yes) == len(no):
        return silent(f"{what}: the laboratory results are divided", sources_of(rows))
    value, chosen = (YES, yes) if len(yes) > len(no) else (NO, no)
    told = f"{what}: {'found' if value == YES else 'not found'} in "
    told += share_in_words(len(chosen), len(said), "sample")
    return found(
        value, f"{told} from {scene.ground}", sources_of(chosen), n=len(said),
        method="laboratory", quality=by_number(len(said), full=2),
    )  # fmt: skip


def dust_or_debris_on_back_face(scene: Scene) -> Finding:
    """Return whether dust lies on the separated faces: seen, or a tape rating of 3 or more."""
    tapes = [one for one in scene.all(Rating) if one.method is RatingMethod.ISO_8502_3]
    held = seen(scene, ("dust_on_face",), "dust or debris on the separated faces")
    if not tapes:
        return held
    middle = median(one.rating.value for one in tapes)
    value = YES if middle >= 3 else NO
    words = f"the dust tape rates the faces {middle:g} of 5"
    return either(found(value, words, sources_of(tapes), quality=by_number(len(tapes))), held)


def chalk_rating_high(scene: Scene) -> Finding:
    """Return whether chalking is heavy: ASTM D4214 up to 4, or ISO 4628-6 from 3."""
    rows = [one for one in scene.all(Rating) if one.method in _RATED_WORSE]
    if not rows:
        return seen(scene, ("chalking",), "chalking")
    heavy = [
        one.rating.value >= 3 if _RATED_WORSE[one.method] else one.rating.value <= 4 for one in rows
    ]
    value = YES if 2 * sum(heavy) >= len(heavy) else NO
    words = f"{sum(heavy)} of {len(heavy)} chalk ratings in {scene.ground} are heavy"
    return found(value, words, sources_of(rows), quality=by_number(len(rows)))


def gloss_or_colour_change(scene: Scene) -> Finding:
    """Return whether gloss or colour changed against the limit or the protected area."""
    for quantity, above in (("gloss_retention", False), ("colour_de", True)):
        rows = scene.measured(quantity)
        held = beyond(scene, rows, quantity.replace("_", " "), above=above)
        if held.known:
            return held
    return either(seen(scene, ("discolouration",), "a change of colour"), _dulled(scene))


def _dulled(scene: Scene) -> Finding:
    own = [row for row in scene.measured("gloss") if row.value.value is not None]
    other = [row for row in scene.sound.measured("gloss") if row.value.value is not None]
    if not own or not other:
        return silent("gloss is not read on both sides", scene.sources)
    here, there = (median(row.value.value or 0 for row in some) for some in (own, other))
    limit = scene.limit("gloss_retention")
    words = f"gloss {here:g} against {there:g}"
    if limit is None or limit.minimum is None:
        return silent(
            f"{words}; no limit of gloss retention is recorded", sources_of([*own, *other])
        )
    value = YES if 100 * here / there < limit.minimum.value else NO
    return found(value, f"{words}, required {limit.minimum} retained",
                 sources_of([*own, *other, limit]))  # fmt: skip


def hollow_area_exceeds_visible(scene: Scene) -> Finding:
    """Return whether sounding shows half as much again as what is visible."""
    hollow = [row for row in scene.failing.signs("hollow") if row.extent is not None]
    visible = [row for row in scene.failing.signs(*FAILURE_FORMS) if row.extent is not None]
    pairs = [
        (row.extent.value, most, row, other)
        for row in hollow
        if row.extent is not None
        and (other := max((v for v in visible if v.at == row.at), key=_extent, default=None))
        and (most := _extent(other)) is not None
    ]
    if not pairs:
        plain = seen(scene.failing, ("hollow",), "hollow areas")
        if plain.value == NO:
            return plain
        return silent("hollow and visible extents are not both recorded", plain.sources)
    ratio = scene.settings.hollow_ratio
    wide = [h >= ratio * v for h, v, _, _ in pairs]
    value = YES if 2 * sum(wide) >= len(wide) else NO
    words = f"hollow {pairs[0][0]:g} % against {pairs[0][1]:g} % visible"
    sources = [row.source for _, _, a, b in pairs for row in (a, b)]
    return found(value, words, sources, settled_by=scene.settings.said("hollow_ratio"))


def white_deposit_around_holiday(scene: Scene) -> Finding:
    """Return whether white deposit rings breaks of the film; on zinc it is the zinc's own."""
    base = scene.coat(next(iter(scene.areas), None), 0)
    if base and base.material in (Substrate.GALVANISED_STEEL, Substrate.ZINC_METAL_SPRAY):
        return silent("white deposit on zinc is a product of the zinc", (base.source,))
    return seen(scene, ("white_deposit",), "white deposit around breaks of the film")


def pinholes_or_craters_present(scene: Scene) -> Finding:
    """Return whether pinholes, craters or fisheyes were seen."""
    return seen(scene, ("pinholes_craters", "fisheyes"), "pinholes or craters")


def tacky_or_soft_film(scene: Scene) -> Finding:
    """Return whether the film is tacky or softened."""
    return seen(scene, ("tacky", "softening"), "a tacky or soft film")


_SIGNS: tuple[tuple[str, str, str], ...] = (
    ("blisters_pressurised", "fluid spurting from opened blisters", "blister_spurts"),
    ("efflorescence_present", "white salts on or behind the film", "efflorescence"),
    ("substrate_map_cracking", "map cracking of the substrate", "map_cracking"),
    ("cracks_mirror_substrate_cracks", "film cracks over substrate cracks", "crack_over_crack"),
    ("greasy_or_sticky_lower_face", "a greasy or sticky lower face", "greasy_face"),
    ("smooth_glossy_exposed_face", "a glossy, unmarked lower face", "glossy_face"),
    ("footprints_or_marks_between_coats", "prints or marks between coats", "footprints"),
    ("rust_on_exposed_steel", "rust on the steel beneath the film", "rust_on_steel"),
    ("bright_clean_steel_under_film", "bright steel beneath the film", "bright_steel"),
    ("mill_scale_visible", "mill scale", "mill_scale"),
    ("stain_bleed_brown", "brown stain through the film", "brown_stain"),
    ("chalk_on_lower_coat_face", "chalk on the lower face", "chalk_on_face"),
    ("runs_sags_present", "runs or sags", "runs"),
    ("dry_spray_texture", "dry spray", "dry_spray"),
    ("tyre_pattern_match", "lifted areas that match tyres", "tyre_marks"),
    ("impact_or_gouge_marks", "impact or scrape marks", "gouges"),
    ("film_curls_on_release", "curling of released film", "curling"),
    ("mould_or_algae_present", "growth on or behind the film", "growth"),
    ("solvent_odour_on_opening", "a smell of solvent on opening", "solvent_smell"),
    ("timber_decay_present", "decay of the timber", "decay"),
    ("reinforcement_rust_or_spall", "rusting bars or lifting cover", "bar_rust"),
)


RULES = named(
    failure_form_dominant, blister_contents, substrate_material_on_back_face,
    blister_fluid_ph_band, water_ingress_source_identified, abrasion_marks_on_exposed_face,
    dust_or_debris_on_back_face, chalk_rating_high, gloss_or_colour_change,
    hollow_area_exceeds_visible, white_deposit_around_holiday, pinholes_or_craters_present,
    tacky_or_soft_film, *(sign(key, what, form) for key, what, form in _SIGNS),
)  # fmt: skip
