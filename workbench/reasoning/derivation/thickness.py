"""How thick the film is: against what was specified, and failing beside sound."""

from collections.abc import Sequence
from statistics import mean, median

from workbench.reasoning.derivation.amounts import number
from workbench.reasoning.derivation.chance import rank_p
from workbench.reasoning.derivation.planes import parting
from workbench.reasoning.derivation.said import NO, YES, by_number, found, named, silent, sources_of
from workbench.reasoning.results import Finding
from workbench.reasoning.scene import Scene
from workbench.records import Area, Coat, Quantity, Source, Thickness
from workbench.records.codes import Quality, ThicknessMethod
from workbench.trade.units import UnitError, in_unit

_BY_LAYER = (ThicknessMethod.SECTION, ThicknessMethod.WEDGE_CUT)


class Bounds:
    """What was specified for a layer or for the whole film, in µm."""

    def __init__(  # noqa: D107
        self, low: float | None, high: float | None, nominal: float | None,
        sources: tuple[Source, ...],
    ) -> None:  # fmt: skip
        self.low, self.high, self.nominal, self.sources = low, high, nominal, sources


def spot_um(row: Thickness) -> float | None:
    """Return the mean of one spot in µm."""
    try:
        return in_unit(Quantity(f"{row.readings.average:.6g}", row.unit), "um", "um")
    except UnitError:
        return None


def spots_um(scene: Scene, layer: str) -> list[tuple[float, Thickness]]:
    """Return the spots read for a layer ("total", "1" …) on this side."""
    return [
        (value, row)
        for row in scene.all(Thickness)
        if row.layer == layer and (value := spot_um(row)) is not None
    ]


def coat_of(scene: Scene, area: Area | None, layer: str) -> Coat | None:
    """Return the coat that a reading names by its order; None where it names none."""
    return scene.coat(area, int(layer)) if layer.isdecimal() else None


def bounds(scene: Scene, area: Area | None, layer: str) -> Bounds | None:
    """Return what was specified: the limit of the case first, then the layers of the system."""
    if layer != "total":
        coat = coat_of(scene, area, layer)
        return _of_coats([coat]) if coat else None
    limit = scene.limit("dft_total", area=area)
    if limit:
        return Bounds(
            number(limit.minimum, "um"), number(limit.maximum, "um"), None, (limit.source,)
        )
    coats = [one for one in scene.system(area) if one.order > 0]
    return _of_coats(coats) if coats else None


def _of_coats(coats: Sequence[Coat]) -> Bounds:
    def whole(name: str) -> float | None:
        values = [number(getattr(coat, name), "um") for coat in coats]
        return None if None in values else sum(v for v in values if v is not None)

    return Bounds(whole("dft_min"), whole("dft_max"), whole("dft_nominal"), sources_of(coats))


def _layers(scene: Scene) -> list[str]:
    """Return the layers worth asking: the whole film first, then each coat."""
    read = dict.fromkeys(row.layer for row in scene.failing.all(Thickness))
    plane = parting(scene.failing).plane
    near = [str(order) for order in (plane.upper, plane.lower) if order] if plane else []
    order = ["total", *near, *sorted(read)]
    return [layer for layer in dict.fromkeys(order) if layer in read]


def dft_over_spec_failing(scene: Scene) -> Finding:
    """Return whether the film, or one coat of it, is thicker than its maximum."""
    verdicts = [_over(scene, layer) for layer in _layers(scene)]
    return _worst(verdicts, scene, "no maximum thickness is recorded for what was read")


def _over(scene: Scene, layer: str) -> Finding:
    read = spots_um(scene, layer)
    held = bounds(scene, _area(scene, read), layer)
    if not read or held is None or held.high is None:
        return silent("", sources_of(row for _, row in read))
    average = mean(value for value, _ in read)
    words = f"{_film(scene, layer)} is {scene.showing.thickness(average)} on average in "
    words += f"{scene.ground}, maximum {scene.showing.thickness(held.high)}"
    value = YES if average > held.high else NO
    single = _single_um(read, largest=True)
    if value == NO and single > held.high:
        sources = (*sources_of(r for _, r in read), *held.sources)
        words += f"; the largest single reading is {scene.showing.thickness(single)}"
        return silent(f"{words}, so that single places above it are left open", sources)
    return found(value, words, (*sources_of(r for _, r in read), *held.sources),
                 n=_count(read), quality=by_number(_count(read)))  # fmt: skip


def dft_under_spec_failing(scene: Scene) -> Finding:
    """Return whether more than a fifth of the spots are below the minimum, or one far below it.

    Without a minimum the nominal thickness is taken as ISO 19840 takes it: none below 80 % of it
    and no more than a fifth of the spots between. That nothing is short takes every single
    reading: none below the minimum, or below 80 % of the nominal.
    """
    verdicts = [_under(scene, layer) for layer in _layers(scene)]
    return _worst(verdicts, scene, "no minimum thickness is recorded for what was read")


def _single_um(read: Sequence[tuple[float, Thickness]], *, largest: bool = False) -> float:
    """Return the smallest (or largest) single reading; a spot's mean where none is known."""
    held = []
    for value, row in read:
        one = row.readings.largest if largest else row.readings.smallest
        held.append(value if one is None else value * one / (row.readings.average or one or 1))
    return max(held) if largest else min(held)


def _under(scene: Scene, layer: str) -> Finding:
    read = spots_um(scene, layer)
    held = bounds(scene, _area(scene, read), layer)
    need = (held.low if held.low is not None else held.nominal) if held else None
    if not read or held is None or need is None:
        return silent("", sources_of(row for _, row in read))
    settings = scene.settings
    values = [value for value, _ in read]
    short = sum(value < need for value in values) / len(values)
    lowest = min(values)
    under = short > settings.dft_below_share or lowest < settings.dft_single * need
    if held.low is None:
        under = lowest < settings.dft_single * need
    kind = "minimum" if held.low is not None else "nominal"
    least = need if held.low is not None else settings.dft_single * need
    single = _single_um(read)
    read_um = scene.showing.span(round(lowest), round(max(values)), "um")
    words = f"{_film(scene, layer)} is {read_um} in {scene.ground}, "
    words += f"{kind} {scene.showing.thickness(need)}"
    words += f"; the smallest single reading is {scene.showing.thickness(single, apart_from=least)}"
    if not under and single < least:
        sources = (*sources_of(r for _, r in read), *held.sources)
        return silent(f"{words}, so a shortage at single places is left open", sources)
    quality = by_number(_count(read)) if held.low is not None else Quality.FAIR
    return found(
        YES if under else NO, words, (*sources_of(r for _, r in read), *held.sources),
        n=_count(read), quality=quality, settled_by=settings.said("dft_below_share", "dft_single"),
    )  # fmt: skip


def _worst(verdicts: Sequence[Finding], scene: Scene, nothing: str) -> Finding:
    """Return what holds of the layers together: one that is left open leaves it open."""
    yes = [one for one in verdicts if one.value == YES]
    left_open = [one for one in verdicts if not one.known and one.words]
    known = [one for one in verdicts if one.known]
    if held := yes or left_open or known:
        return held[0]
    return silent(nothing, verdicts[0].sources if verdicts else scene.sources)


def _area(scene: Scene, read: Sequence[tuple[float, Thickness]]) -> Area | None:
    return scene.dossier.area_of(read[0][1]) if read else None


def _count(read: Sequence[tuple[float, Thickness]]) -> int:
    return sum(row.readings.number or 1 for _, row in read)


def _film(scene: Scene, layer: str) -> str:
    if layer == "total":
        return "the film"
    coat = coat_of(scene, next(iter(scene.areas), None), layer)
    return (coat.product or coat.material.replace("_", " ")) if coat else f"coat {layer}"


def dft_contrast(scene: Scene) -> Finding:
    """Return whether failing areas are thicker or thinner than sound ones.

    A difference counts from a fifth of the nominal (or of the sound side) where the rank test
    tells the two apart, or where few spots are completely separate.
    """
    for layer in _layers(scene):
        here, there = spots_um(scene.failing, layer), spots_um(scene.sound, layer)
        there = there or spots_um(scene.control, layer)
        if here and there:
            return _contrast(scene, layer, here, there)
    return silent("thickness was not read on both sides", scene.sources)


def _contrast(
    scene: Scene, layer: str, here: list[tuple[float, Thickness]],
    there: list[tuple[float, Thickness]],
) -> Finding:  # fmt: skip
    own, other = [v for v, _ in here], [v for v, _ in there]
    held = bounds(scene, _area(scene, here), layer)
    base = (held.nominal or held.low if held else None) or median(other)
    difference = median(own) - median(other)
    words = f"{_film(scene, layer)}: {scene.showing.thickness(median(own))} in failing areas, "
    words += f"{scene.showing.thickness(median(other))} in areas that look sound"
    sources = sources_of(row for _, row in (*here, *there))
    settled = scene.settings.said("dft_contrast", "follows_p")
    n = _count(here) + _count(there)
    quality = by_number(min(_count(here), _count(there)))
    if abs(difference) <= scene.settings.dft_contrast * base:
        return found("no_difference", words, sources, n=n, quality=quality, settled_by=settled)
    high, low = (own, other) if difference > 0 else (other, own)
    if not _apart(scene, high, low, here, there):
        return silent(f"{words}; too few or too scattered to tell", sources)
    value = "higher_in_failing" if difference > 0 else "lower_in_failing"
    return found(value, words, sources, n=n, quality=quality, settled_by=settled)


def _apart(
    scene: Scene, high: Sequence[float], low: Sequence[float],
    *sides: list[tuple[float, Thickness]],
) -> bool:  # fmt: skip
    if rank_p(high, low) < scene.settings.follows_p:
        return True
    enough = all(_count(side) >= 3 for side in sides)
    return enough and min(high) > max(low)


def layer_thickness_microscopy(scene: Scene) -> Finding:
    """Return whether the suspect layer is thin, normal or thick in sections or wedge cuts."""
    verdicts = []
    for layer in _layers(scene):
        if layer == "total":
            continue
        read = [(v, r) for v, r in spots_um(scene, layer) if r.method in _BY_LAYER]
        if read:
            verdicts.append(_section(scene, layer, read))
    for coat in (one for one in scene.system() if one.order > 0):
        verdicts += _from_lab(scene, coat)
    odd = [one for one in verdicts if one.value in ("under", "over")]
    known = [one for one in verdicts if one.known]
    if odd or known:
        return (odd or known)[0]
    return silent("no layer was measured in a section or wedge cut", scene.sources)


def _section(scene: Scene, layer: str, read: list[tuple[float, Thickness]]) -> Finding:
    held = bounds(scene, _area(scene, read), layer)
    average = mean(value for value, _ in read)
    return _within(scene, layer, average, held, sources_of(row for _, row in read), _count(read))


def _from_lab(scene: Scene, coat: Coat) -> list[Finding]:
    rows = scene.lab(f"layer_thickness:{coat.order}")
    read = [v for row in rows if (v := number(row.value.quantity, "um")) is not None]
    if not read:
        return []
    held = _of_coats([coat])
    return [_within(scene, str(coat.order), mean(read), held, sources_of(rows), len(read))]


def _within(
    scene: Scene, layer: str, average: float, held: Bounds | None, sources: tuple[Source, ...],
    n: int,
) -> Finding:  # fmt: skip
    shown = scene.showing.thickness(average)
    words = f"{_film(scene, layer)} is {shown} in section in {scene.ground}"
    if held is None or (held.low is None and held.high is None):
        return silent(f"{words}; no bounds are recorded", sources)
    value = "within"
    if held.low is not None and average < held.low:
        value = "under"
    if held.high is not None and average > held.high:
        value = "over"
    return found(value, words, (*sources, *held.sources), n=n, quality=by_number(n))


RULES = named(
    dft_over_spec_failing, dft_under_spec_failing, dft_contrast, layer_thickness_microscopy
)
