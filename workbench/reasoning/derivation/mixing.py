"""What was drawn, mixed and thinned."""

from workbench.analysis.application.laid import worst
from workbench.reasoning.derivation.amounts import number
from workbench.reasoning.derivation.logged import (
    coat_name,
    coats_at_plane,
    each_coat,
    lacking,
)
from workbench.reasoning.derivation.said import (
    Verdict,
    found,
    named,
    settle,
    silent,
)
from workbench.reasoning.history import Laid, coats_laid, log_quality
from workbench.reasoning.results import Finding
from workbench.reasoning.scene import Scene
from workbench.records import Area
from workbench.records.codes import Quality


def mix_quantity_anomaly(scene: Scene) -> Finding:
    """Return whether the quantities drawn disagree with the mix ratio of the coat."""
    return settle(
        scene,
        each_coat(scene, _mix, coats_at_plane),
        yes="the quantities drawn do not balance at the mix ratio",
        no="the quantities drawn balance at the mix ratio",
        nothing=f"quantities or the mix ratio are not recorded for {scene.ground}",
        settled_by=scene.settings.said("mix_deviation"),
    )


def _mix(scene: Scene, area: Area, coat: Laid) -> Verdict:
    layer = scene.coat(area, coat.order)
    wanted = ratio_of(layer.mix_ratio) if layer else None
    pairs = [(row.quantity_a, row.quantity_b) for row in coat.rows]
    drawn = [(a.value, b.value) for a, b in pairs if a and b and a.unit == b.unit and b.value]
    if wanted is None or not drawn:
        return lacking(scene, coat, "mix ratio" if wanted is None else "quantities")
    ratio = sum(a for a, _ in drawn) / sum(b for _, b in drawn)
    off = abs(ratio / wanted - 1) > scene.settings.mix_deviation
    words = (
        f"{area.name}, {coat_name(scene, coat)}: {ratio:.2f} to 1 drawn, {wanted:g} to 1 specified"
    )
    quality = worst(log_quality(row) for row in coat.rows)
    return Verdict(area, off, words, coat.sources, quality)


def ratio_of(text: str) -> float | None:
    """Return the ratio of base to hardener that "3:1" says; None where it says none."""
    first, _, second = text.replace("/", ":").partition(":")
    try:
        return float(first) / float(second or 1)
    except (ValueError, ZeroDivisionError):
        return None


def thinner_nonapproved_or_excess(scene: Scene) -> Finding:
    """Return whether more thinner went in than the limit allows."""

    def coats(scene: Scene, area: Area) -> list[Laid]:
        return [coat for coat in coats_laid(scene, area) if coat.order > 0]

    return settle(
        scene,
        each_coat(scene, _thinned, coats),
        yes="more thinner was added than the product allows",
        no="the thinning recorded is within what the product allows",
        nothing=f"thinning or its limit is not recorded for {scene.ground}",
    )


def _thinned(scene: Scene, area: Area, coat: Laid) -> Verdict:
    layer = scene.coat(area, coat.order)
    limit = scene.limit("thinner_percent", area=area, coat=layer)
    most = number(limit.maximum, "%") if limit else None
    read = [p for row in coat.rows if (p := number(row.thinner_percent, "%")) is not None]
    if any(row.thinner.lower() in ("none", "no") for row in coat.rows):
        read.append(0.0)
    if not read or (most is None and max(read) > 0):
        return lacking(scene, coat, "limit of thinner" if read else "thinning")
    words = f"{area.name}, {coat_name(scene, coat)}: up to {max(read):g} %"
    sources = (*coat.sources, *((limit.source,) if limit else ()))
    quality = worst(log_quality(row) for row in coat.rows)
    return Verdict(area, max(read) > (most or 0), words, sources, quality)


def consumption_vs_theoretical(scene: Scene) -> Finding:
    """Return whether the paint drawn is short, normal or heavy for area, thickness and solids."""
    for area in scene.areas:
        for coat in coats_laid(scene, area):
            if verdict := _consumed(scene, coat):
                return verdict
    return silent(
        "volumes drawn, size, thickness and volume solids are not all recorded", scene.sources
    )


def _consumed(scene: Scene, coat: Laid) -> Finding | None:
    layer = scene.coat(coat.area, coat.order)
    solids = number(layer.volume_solids, "%") if layer else None
    nominal = number(layer.dft_nominal, "um") if layer else None
    sizes = [
        number(area.size, "m2") if area else None
        for ref in dict.fromkeys(ref for row in coat.rows for ref in row.area)
        for area in [scene.dossier.area(ref)]
    ]
    litres = [number(one, "L") for row in coat.rows for one in (row.quantity_a, row.quantity_b)]
    used = sum(one for one in litres if one is not None)
    if not solids or not nominal or None in sizes or not sizes or not used:
        return None
    theory = sum(size for size in sizes if size) * nominal / (10 * solids)
    share = used / theory
    settings = scene.settings
    value = "low" if share < settings.consumption_low else "normal"
    value = "high" if share > settings.consumption_high else value
    words = f"{used:.3g} L drawn, {theory:.3g} L by area, thickness and volume solids"
    return found(
        value, words, coat.sources, method="consumption", quality=Quality.FAIR,
        settled_by=settings.said("consumption_low", "consumption_high"),
    )  # fmt: skip


RULES = named(mix_quantity_anomaly, thinner_nonapproved_or_excess, consumption_vs_theoretical)
