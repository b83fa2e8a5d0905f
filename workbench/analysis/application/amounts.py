"""Amounts: mix, thinner, wet film, consumption and the thickness that came of them."""

from collections.abc import Iterable
from dataclasses import replace
from statistics import fmean

from workbench.analysis.application.judging import Asked, Found, judge
from workbench.analysis.application.laid import Laid, Log, row_quality
from workbench.analysis.application.results import Aspect, Check, Verdict
from workbench.analysis.limits import limits_on
from workbench.analysis.measured import measured
from workbench.records import Application, Coat, Location, Thickness
from workbench.records.codes import MixBasis, Quality, Substrate
from workbench.trade.mixing import MixRatio
from workbench.trade.showing import PERCENT, THICKNESS
from workbench.trade.spreading import dry_from_litres_um, dry_from_wet
from workbench.trade.thickness import PA2_LEVELS, PA9_LEVELS, Acceptance, accept_spots
from workbench.trade.units import UnitError, convert

_BASIS_UNIT = {MixBasis.WEIGHT: "kg", MixBasis.VOLUME: "L"}
_MINERAL = frozenset({Substrate.CONCRETE, Substrate.MASONRY_RENDER, Substrate.PLASTER_GYPSUM})


def amount_checks(log: Log) -> Iterable[Check]:
    """Return what was mixed, thinned, spread and left of every coat against what is asked."""
    for laid in log.coats:
        if laid.coat is None or laid.order == 0:
            continue
        for row in laid.rows:
            yield from _mix(log, laid, laid.coat, row)
            yield from _thinner(log, laid, row)
            yield from _wet_film(log, laid, laid.coat, row)
        yield from _consumption(log, laid, laid.coat)
        yield from _thickness(log, laid, laid.coat)


def _mix(log: Log, laid: Laid, coat: Coat, row: Application) -> Iterable[Check]:
    """Check the hardener mixed in, in percent of what the ratio asks for."""
    if not coat.mix_ratio or (row.quantity_a is None and row.quantity_b is None):
        return
    tolerance = log.settings.mix_tolerance_percent
    source = f"mix ratio {coat.mix_ratio} by {coat.mix_basis or 'a basis not recorded'}"
    asked = Asked(least=100 - tolerance, most=100 + tolerance, source=source)
    sources, quality = (row.source,), row_quality(row)
    try:
        percent = _hardener_percent(coat, row)
    except ValueError as wrong:
        found = Found(said=str(wrong), sources=sources)
    else:
        said = f"{laid.name}, hardener of what {coat.mix_ratio} asks for"
        found = Found(low=percent, high=percent, said=said, quality=quality, sources=sources)
    yield judge(laid, Aspect.MIX, PERCENT, found, asked, log.showing)


def _hardener_percent(coat: Coat, row: Application) -> float:
    if coat.mix_basis is None:
        raise ValueError(f"the basis of the mix ratio {coat.mix_ratio} is not recorded")
    unit = _BASIS_UNIT[coat.mix_basis]
    base, hardener = measured(row.quantity_a, unit), measured(row.quantity_b, unit)
    if base is None or hardener is None:
        raise ValueError(f"amounts of both components by {coat.mix_basis} are not recorded")
    return 100 * MixRatio.read(coat.mix_ratio).hardener_index(base, hardener)


def _thinner(log: Log, laid: Laid, row: Application) -> Iterable[Check]:
    limits = limits_on(log.dossier, "thinner_percent", laid.area, laid.coat)
    most = measured(limits[0].maximum, "%", "%") if limits else None
    added = measured(row.thinner_percent, "%", "%")
    if most is None or added is None:
        return
    asked = Asked(most=most, source=limits[0].source_text)
    found = Found(
        low=added,
        high=added,
        said=f"{laid.name}, {row.thinner}" if row.thinner else laid.name,
        quality=row_quality(row),
        sources=(row.source,),
    )
    yield judge(laid, Aspect.THINNER, PERCENT, found, asked, log.showing)


def _wet_film(log: Log, laid: Laid, coat: Coat, row: Application) -> Iterable[Check]:
    """Check the dry film that the wet film leaves."""
    wet, solids = measured(row.wet_film, "um"), measured(coat.volume_solids, "%", "%")
    asked = _film_asked(coat)
    if wet is None or not solids or not asked.something:
        return
    thinner = (measured(row.thinner_percent, "%", "%") or 0.0) / 100
    dry = dry_from_wet(wet, solids / 100, thinner)
    said = f"{laid.name}, from {log.showing.thickness(wet)} wet"
    quality = row_quality(row)
    found = Found(low=dry, high=dry, said=said, quality=quality, sources=(row.source,))
    yield judge(laid, Aspect.WET_FILM, THICKNESS, found, asked, log.showing)


def _consumption(log: Log, laid: Laid, coat: Coat) -> Iterable[Check]:
    """Check the dry film that all of the paint could give, nothing lost, against the least."""
    least = measured(coat.dft_min, "um")
    solids = measured(coat.volume_solids, "%", "%")
    rows = [row for row in laid.rows if row.quantity_a is not None]
    if least is None or not solids or not rows:
        return
    litres = [_litres(row) for row in laid.rows]
    sizes = [_size_m2(log, ref) for ref in dict.fromkeys(ref for row in rows for ref in row.area)]
    if None not in litres and None not in sizes:
        used, size = sum(one or 0.0 for one in litres), sum(one or 0.0 for one in sizes)
        dry = dry_from_litres_um(used, size, solids / 100)
        said = f"{laid.name}, nothing lost"
        found = Found(low=dry, high=dry, said=said, quality=laid.quality, sources=laid.sources)
    else:
        blank = "the size of the area" if None in sizes else "amounts by volume"
        found = Found(said=f"{blank} not recorded for {laid.name}", sources=laid.sources)
    asked = Asked(least=least, source="specified thickness")
    yield judge(laid, Aspect.CONSUMPTION, THICKNESS, found, asked, log.showing)


def _litres(row: Application) -> float | None:
    both = [measured(one, "L") for one in (row.quantity_a, row.quantity_b) if one is not None]
    return sum(one for one in both if one) if both and None not in both else None


def _size_m2(log: Log, ref: str) -> float | None:
    area = log.dossier.area(ref)
    if area is None:
        return None
    size = measured(area.size, "m2")
    return size or (area.outline.area_m2 if area.outline else None)


def _film_asked(coat: Coat) -> Asked:
    least, most = measured(coat.dft_min, "um"), measured(coat.dft_max, "um")
    return Asked(least=least, most=most, source="specified thickness")


def _thickness(log: Log, laid: Laid, coat: Coat) -> Iterable[Check]:
    """Check the mean thickness of the layer, and every spot by the rule of its substrate."""
    asked = _film_asked(coat)
    spots = _spots(log, laid)
    if not asked.something or not spots:
        return
    mean = fmean(spots.values())
    refused = _refused(log, laid, spots, asked)
    outside = ", ".join(one.name for one in refused.failed) if refused else ""
    said = f"{laid.name}, mean of {len(spots)}"
    found = Found(
        low=mean,
        high=mean,
        said=f"{said}, spots outside by {refused.rule}: {outside}" if refused and outside else said,
        quality=Quality.GOOD,
        sources=tuple(one.source for one in _readings(log, laid)),
    )
    check = judge(laid, Aspect.THICKNESS, THICKNESS, found, asked, log.showing)
    yield replace(check, verdict=Verdict.OUTSIDE) if outside else check


def _refused(log: Log, laid: Laid, spots: dict[str, float], asked: Asked) -> Acceptance | None:
    if asked.least is None or asked.most is None:
        return None
    below = next((c.material for c in log.dossier.system_of(laid.area) if c.order == 0), "")
    mineral = below in _MINERAL
    levels, rule = (PA9_LEVELS, "SSPC-PA 9") if mineral else (PA2_LEVELS, "SSPC-PA 2")
    chosen = log.settings.spot_level_concrete if mineral else log.settings.spot_level_metal
    level = levels.get(chosen, levels[3])
    return accept_spots(spots, asked.least, asked.most, level, rule)


def _readings(log: Log, laid: Laid) -> list[Thickness]:
    places = {one.ref for one in log.dossier.all(Location) if one.area == laid.area.ref}
    held = log.dossier.all(Thickness)
    return [one for one in held if one.order == laid.order and one.location in places]


def _spots(log: Log, laid: Laid) -> dict[str, float]:
    spots = {}
    for one in _readings(log, laid):
        try:
            spots[one.ref] = convert(one.readings.average, one.unit, "um")
        except UnitError:
            continue
    return spots
