"""What service asks of the film: temperature, chemicals, current, load."""

from workbench.analysis.application.laid import worst
from workbench.reasoning.derivation.amounts import number
from workbench.reasoning.derivation.exposure import tagged
from workbench.reasoning.derivation.said import (
    NO,
    YES,
    found,
    named,
    silent,
    sources_of,
)
from workbench.reasoning.history import events_of, said_no
from workbench.reasoning.results import Finding
from workbench.reasoning.scene import Scene
from workbench.records import AreaEvent, Measurement
from workbench.records.codes import (
    Event,
    Quality,
)
from workbench.trade.units import UnitError, difference_in


def thermal_gradient_across_substrate(scene: Scene) -> Finding:
    """Return whether the coated face is warmer than the other: measured, or by the features."""
    read = [
        (value, row)
        for row in scene.measured("temp_difference")
        if (value := _kelvin(row)) is not None
    ]
    if read:
        most = max(value for value, _ in read)
        words = f"the temperature falls by {scene.showing.difference(most)} through the wall in "
        words += scene.ground
        sources, settled = sources_of(row for _, row in read), scene.settings.said("gradient_k")
        verdict = YES if most > scene.settings.gradient_k else NO
        return found(verdict, words, sources, settled_by=settled)
    return tagged(scene, ("heated_inside",), "warmth on the coated side")


def _kelvin(row: Measurement) -> float | None:
    if row.value.quantity is None:
        return None
    try:
        return abs(difference_in(row.value.quantity, "K", "K"))
    except UnitError:
        return None


def alkaline_cleaning_regime(scene: Scene) -> Finding:
    """Return whether strong alkali is used: the pH of the cleaner against 12."""
    rows = scene.measured("ph_cleaner")
    read: list[tuple[float, Measurement | AreaEvent]] = [
        (v, row) for row in rows if (v := number(row.value.quantity, "pH")) is not None
    ]
    events = [e for area in scene.areas for e in events_of(scene, area, Event.CLEANED)]
    read += [
        (v, e)
        for e in events
        if e.value and e.value.unit == "pH" and (v := number(e.value.quantity, "pH")) is not None
    ]
    settled = scene.settings.said("alkaline_cleaner_ph")
    if read:
        top = max(value for value, _ in read)
        value = YES if top > scene.settings.alkaline_cleaner_ph else NO
        return found(value, f"the cleaner has a pH of {top:g}", sources_of(r for _, r in read),
                     settled_by=settled)  # fmt: skip
    if events and all(said_no(e) for e in events):
        return found(NO, "the record denies cleaning", sources_of(events))
    return silent("the pH of the cleaner is not recorded", sources_of(events) or scene.sources)


def chemical_exposure_beyond_resistance(scene: Scene) -> Finding:
    """Return whether a chemical beyond the product's rating is recorded or denied."""
    cleaner = _cleaner_against_limit(scene)
    if cleaner.known:
        return cleaner
    events = [e for area in scene.areas for e in events_of(scene, area, Event.CHEMICAL)]
    if events and all(said_no(e) for e in events):
        return found(NO, "the record denies chemicals", sources_of(events))
    beyond = [e for e in events if e.value and e.value.word in ("yes", "fail", "positive")]
    if beyond:
        return found(
            YES, "a chemical beyond the product's rating is recorded", sources_of(beyond),
            quality=worst(e.quality for e in beyond),
        )  # fmt: skip
    within = [e for e in events if e.value and e.value.word == "pass"]
    if within and len(within) == len(events):
        return found(NO, "the chemicals recorded are within the rating", sources_of(within))
    return silent(
        "whether the chemicals met are beyond the product's rating is not recorded",
        sources_of(events) or scene.sources,
    )


def _cleaner_against_limit(scene: Scene) -> Finding:
    limit = scene.limit("ph_cleaner")
    rows = [r for r in scene.measured("ph_cleaner") if r.value.value is not None]
    if limit is None or limit.maximum is None or not rows:
        return silent("")
    top = max(row.value.value or 0 for row in rows)
    value = YES if top > limit.maximum.value else NO
    words = f"the cleaner has a pH of {top:g}, limit {limit.maximum.value:g}"
    return found(value, words, sources_of([*rows, limit]))


def cp_potential_overprotective(scene: Scene) -> Finding:
    """Return whether instant-off potentials are more negative than the limit."""
    shift = {"cp_off_cse": 0.0, "cp_off_agcl": scene.settings.agcl_to_cse_v}
    read = [
        (value + shift[row.quantity], row)
        for row in scene.measured(*shift)
        if (value := number(row.value.quantity, "V")) is not None
    ]
    if not read:
        return silent("no instant-off potential is recorded", scene.sources)
    lowest = min(value for value, _ in read)
    limit = scene.limit("cp_off_cse", "cp_off_agcl")
    bound = number(limit.minimum, "V") if limit else None
    if limit and bound is not None:
        need = bound + shift.get(limit.quantity, 0.0)
    else:
        need = scene.settings.overprotection_v
    source = (limit.source,) if limit and bound is not None else ()
    words = f"{lowest:.2f} V against copper sulphate, limit {need:.2f} V"
    return found(
        YES if lowest < need else NO, words, (*sources_of(row for _, row in read), *source),
        n=len(read), settled_by=scene.settings.said("overprotection_v", "agcl_to_cse_v"),
    )  # fmt: skip


def service_temperature_excursion(scene: Scene) -> Finding:
    """Return whether rapid or extreme temperatures are recorded, against the limit if any."""
    events = [e for area in scene.areas for e in events_of(scene, area, Event.TEMPERATURE)]
    if not events:
        return silent("no temperature event is recorded or denied", scene.sources)
    if all(said_no(e) for e in events):
        return found(NO, "the record denies temperature events", sources_of(events))
    limit = scene.limit("temp_surface")
    most = number(limit.maximum, "degC") if limit else None
    read = [v for e in events if e.value and (v := number(e.value.quantity, "degC")) is not None]
    if limit and most is not None and read:
        value = YES if max(read) > most else NO
        show = scene.showing.temperature
        words = f"up to {show(max(read), apart_from=most)}, rated to {show(most)}"
        return found(value, words, sources_of([*events, limit]),
                     quality=worst(e.quality for e in events))  # fmt: skip
    words = "a temperature event is recorded; the rating is not"
    return found(YES, words, sources_of(events), quality=Quality.FAIR)


def surface_temperature_swing_high(scene: Scene) -> Finding:
    """Return whether logged surface temperatures step or rise beyond the rating."""
    steps = [
        (value, row) for row in scene.measured("temp_step") if (value := _kelvin(row)) is not None
    ]
    peaks = [
        (value, row)
        for row in scene.measured("temp_surface")
        if (value := number(row.value.quantity, "degC")) is not None
    ]
    limit = scene.limit("temp_surface")
    most = number(limit.maximum, "degC") if limit else None
    high = [row for value, row in steps if value > scene.settings.temperature_step_k]
    high += [row for value, row in peaks if most is not None and value > most]
    judged = bool(steps) or (bool(peaks) and most is not None)
    rows = [row for _, row in (*steps, *peaks)]
    if not judged:
        return silent("surface temperature was not logged against a rating", scene.sources)
    settled = scene.settings.said("temperature_step_k")
    if high:
        words = f"{len(high)} of {len(rows)} logged values step or rise beyond the rating"
        return found(YES, words, sources_of(high), settled_by=settled)
    return found(NO, "logged temperatures stay within the rating", sources_of(rows),
                 settled_by=settled)  # fmt: skip


def mechanical_load_or_impact(scene: Scene) -> Finding:
    """Return whether loads or impacts beyond the duty are recorded."""
    return tagged(scene, ("impact",), "an impact or load", (Event.IMPACT,))


RULES = named(
    thermal_gradient_across_substrate,
    alkaline_cleaning_regime,
    chemical_exposure_beyond_resistance,
    cp_potential_overprotective,
    service_temperature_excursion,
    surface_temperature_swing_high,
    mechanical_load_or_impact,
)
