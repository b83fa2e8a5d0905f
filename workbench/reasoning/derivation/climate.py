"""Dew point and temperature while a coat went on and cured."""

from workbench.analysis.application.laid import worst
from workbench.reasoning.derivation.amounts import number
from workbench.reasoning.derivation.humidity import sources_of_climate
from workbench.reasoning.derivation.logged import (
    any_of,
    coat_name,
    coats_at_plane,
    each_area,
    each_coat,
    lacking,
)
from workbench.reasoning.derivation.said import (
    OPEN,
    Verdict,
    found,
    named,
    settle,
    silent,
)
from workbench.reasoning.history import Laid, climate_of, coats_laid
from workbench.reasoning.results import Finding
from workbench.reasoning.scene import Scene
from workbench.records import Area, Coat
from workbench.records.codes import Chemistry, Quality, Substrate
from workbench.trade.units import UnitError, difference_in

_POROUS = (
    Substrate.CONCRETE, Substrate.MASONRY_RENDER, Substrate.ZINC_METAL_SPRAY,
    Substrate.PLASTER_GYPSUM, Chemistry.ZINC_SILICATE,
)  # fmt: skip


def dew_point_margin_low(scene: Scene) -> Finding:
    """Return whether the surface came within the margin of the dew point."""
    return settle(
        scene,
        dew_verdicts(scene),
        yes="the surface came within the dew-point margin",
        no="the surface stayed clear of the dew point",
        nothing=f"the dew-point margin in {scene.ground} does not follow from the records",
        settled_by=scene.settings.said("dew_margin_k", "early_cure_h"),
    )


def dew_verdicts(scene: Scene) -> list[Verdict]:
    """Return, for each area, whether the surface came within the margin of the dew point."""
    return each_coat(scene, _dew, coats_at_plane)


def _dew(scene: Scene, area: Area, coat: Laid) -> Verdict:
    climates = climate_of(scene, coat, hours_after=scene.settings.early_cure_h)
    read = [(one.margin_k, one) for one in climates if one.margin_k is not None]
    if not read:
        return lacking(scene, coat, "air, humidity and surface")
    margin, at = min(read, key=lambda one: one[0])
    need = _dew_margin(scene, scene.coat(area, coat.order))
    words = f"{area.name}, {coat_name(scene, coat)}: "
    words += f"{scene.showing.difference(margin)} above the dew point, "
    words += f"required {scene.showing.difference(need)}"
    quality = at.quality if at.surface_c is not None else Quality.POOR
    return Verdict(area, margin < need, words, (at.source,), quality)


def _dew_margin(scene: Scene, coat: Coat | None) -> float:
    if coat and coat.dew_margin:
        try:
            return difference_in(coat.dew_margin, "K", "K")
        except UnitError:
            pass
    return scene.settings.dew_margin_k


def dew_point_margin_min_c(scene: Scene) -> Finding:
    """Return the smallest margin of the surface above the dew point that was logged, in K."""
    held = [
        (one.margin_k, one)
        for area in scene.areas
        for coat in coats_at_plane(scene, area)
        for one in climate_of(scene, coat, hours_after=scene.settings.early_cure_h)
        if one.margin_k is not None
    ]
    if not held:
        return silent("no air, humidity and surface are logged", scene.sources)
    margin, at = min(held, key=lambda one: one[0])
    return found(
        f"{margin:.1f}", f"the smallest margin is {scene.showing.difference(margin)}", (at.source,)
    )


def substrate_temp_below_min(scene: Scene) -> Finding:
    """Return whether the surface fell below the product's minimum until it had cured."""
    return settle(
        scene,
        cold_verdicts(scene),
        yes="the surface was below the product's minimum",
        no="the surface stayed above the product's minimum",
        nothing=f"the surface temperature in {scene.ground} cannot be compared",
        settled_by=scene.settings.said("cure_watch_h"),
    )


def cold_verdicts(scene: Scene) -> list[Verdict]:
    """Return, for each area, whether a coat at the failed plane was too cold."""
    return each_coat(scene, _cold, coats_at_plane)


def _cold(scene: Scene, area: Area, coat: Laid) -> Verdict:
    return _surface(scene, area, coat, _cure_hours(scene, area), lowest=True)


def _cure_hours(scene: Scene, area: Area) -> float:
    limit = scene.limit("cure_to_service", area=area)
    given = number(limit.minimum, "h") if limit else None
    return given if given is not None else scene.settings.cure_watch_h


def substrate_temp_above_max(scene: Scene) -> Finding:
    """Return whether the surface was above the product's maximum when coated."""

    def hot(scene: Scene, area: Area, coat: Laid) -> Verdict:
        return _surface(scene, area, coat, 0, lowest=False)

    return settle(
        scene,
        each_coat(scene, hot, coats_at_plane),
        yes="the surface was above the product's maximum",
        no="the surface stayed below the product's maximum",
        nothing=f"the surface temperature in {scene.ground} cannot be compared",
    )


def _surface(scene: Scene, area: Area, coat: Laid, hours: float, *, lowest: bool) -> Verdict:
    layer = scene.coat(area, coat.order)
    need = number((layer.apply_min if lowest else layer.apply_max) if layer else None, "degC")
    read = [
        (one.surface_c, one)
        for one in climate_of(scene, coat, hours_after=hours)
        if one.surface_c is not None
    ]
    name = coat_name(scene, coat)
    if need is None or not read:
        return lacking(scene, coat, "limit" if need is None else "surface temperature")
    value, at = (min if lowest else max)(read, key=lambda one: one[0])
    words = f"{area.name}, {name}: {scene.showing.temperature(value)}, "
    words += f"limit {scene.showing.temperature(need)}"
    return Verdict(area, value < need if lowest else value > need, words, (at.source,), at.quality)


def rising_temperature_at_application(scene: Scene) -> Finding:
    """Return whether a porous surface was warming while the film was wet."""

    def judge(scene: Scene, area: Area) -> Verdict:
        held = [
            _warming(scene, area, coat)
            for coat in coats_laid(scene, area)
            if coat.order > 0
            and (under := scene.coat(area, coat.order - 1))
            and under.material in _POROUS
        ]
        return any_of(area, held) if held else Verdict(area, OPEN, "", (area.source,))

    return settle(
        scene,
        each_area(scene, judge),
        yes="a porous surface was warming while the film was wet",
        no="the porous surface was steady or cooling while the film was wet",
        nothing=f"no temperatures over a porous surface are logged for {scene.ground}",
        settled_by=scene.settings.said("warming_k_per_h"),
    )


def _warming(scene: Scene, area: Area, coat: Laid) -> Verdict:
    read = [
        (one.at, one.surface_c, one)
        for one in climate_of(scene, coat, hours_after=scene.settings.wet_film_h)
        if one.at is not None and one.surface_c is not None
    ]
    read.sort(key=lambda one: one[0])
    if len(read) < 2 or (hours := (read[-1][0] - read[0][0]).total_seconds() / 3600) <= 0:
        words = f"{coat_name(scene, coat)}: fewer than two surface temperatures"
        return Verdict(area, OPEN, words, coat.sources)
    slope = (read[-1][1] - read[0][1]) / hours
    words = f"{area.name}: {scene.showing.difference(slope)} per hour over {hours:.0f} h"
    sources = sources_of_climate([one for _, _, one in read])
    quality = worst(one.quality for _, _, one in read)
    return Verdict(area, slope > scene.settings.warming_k_per_h, words, sources, quality)


RULES = named(
    dew_point_margin_low,
    dew_point_margin_min_c,
    substrate_temp_below_min,
    substrate_temp_above_max,
    rising_temperature_at_application,
)
