"""Mix ratio, glass transition, unfinished cure and retained solvent."""

from collections.abc import Sequence
from dataclasses import dataclass

from workbench.reasoning.derivation.amounts import number
from workbench.reasoning.derivation.controls import (
    ABSENT,
    PRESENT,
    control_of,
    more_than_control,
    without_control,
)
from workbench.reasoning.derivation.mixing import ratio_of
from workbench.reasoning.derivation.readings import beyond, judge, span, words_say
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
from workbench.reasoning.results import Finding
from workbench.reasoning.scene import Scene
from workbench.records import LabResult, Source, layer_letter
from workbench.records.codes import Qualifier, SpecimenCondition
from workbench.trade.showing import DIFFERENCE


def mix_ratio_off(scene: Scene) -> Finding:
    """Return whether the analysed mix ratio is off what was specified, or off the control."""
    judged = [
        one
        for row in scene.lab("mix_ratio", "mix_ratio_relative")
        if (one := _ratio(scene, row)) is not None
    ]
    if not judged:
        return silent(f"the mix ratio of {scene.ground} was not analysed against a known one",
                      scene.sources)  # fmt: skip
    off = [row for holds, row, _ in judged if holds]
    value = YES if 2 * len(off) > len(judged) else NO
    read = [row.value.value for _, row, _ in judged if row.value.value is not None]
    right = judged[0][2]
    words = (
        f"the analysed mix ratio is {span(read)} to 1 in {scene.ground}; {right:g} to 1 is right"
    )
    return found(
        value, words, sources_of(row for _, row, _ in judged), n=len(judged),
        quality=by_number(len(judged), full=2), settled_by=scene.settings.said("ratio_off"),
    )  # fmt: skip


def _ratio(scene: Scene, row: LabResult) -> tuple[bool, LabResult, float] | None:
    value = row.value.value
    if value is None:
        return None
    right: float | None = 1.0 if row.quantity == "mix_ratio_relative" else _specified(scene, row)
    if right is None:
        control = control_of(scene, row)
        right = control.value.value if control else None
    if not right:
        return None
    return abs(value / right - 1) > scene.settings.ratio_off, row, right


def _specified(scene: Scene, row: LabResult) -> float | None:
    """Return the mix ratio of the only coat that has one, or of the coat the section names."""
    coats = scene.system(scene.dossier.area_of(row))
    ratios = {one for coat in coats if (one := ratio_of(coat.mix_ratio)) is not None}
    return ratios.pop() if len(ratios) == 1 else None


def tg_low(scene: Scene) -> Finding:
    """Return whether the glass transition is below the requirement, or the control's.

    Water lowers the first heat, so only dried specimens count. The second heat, which completes
    the cure, can only tell that it is low.
    """
    first = [row for row in scene.lab("tg_first") if _dry(row)]
    judged = [one for row in first if (one := _against_known(scene, row))]
    if not judged:
        judged = [one for row in scene.lab("tg_second") if _dry(row)
                  if (one := _against_known(scene, row)) and one.low]  # fmt: skip
    if not judged:
        wet = [row for row in scene.lab("tg_first") if not _dry(row)]
        why = (
            "only from a specimen that is not stated to be dried"
            if wet
            else "not read against a requirement or a control"
        )
        if not wet and (named_ := sorted({row.control for row in first if row.control})):
            why += f"; {' and '.join(named_)}, named as control, has no result of it"
        return silent(f"the glass transition in {scene.ground} is {why}",
                      sources_of(wet) or scene.sources)  # fmt: skip
    low = [one for one in judged if one.low]
    value = YES if 2 * len(low) > len(judged) else NO
    words = f"the glass transition in {scene.ground}: {_by_layer(scene, judged)}"
    return found(
        value, words, [source for one in judged for source in one.sources], n=len(judged),
        quality=by_number(len(judged), full=2),
        settled_by=scene.settings.said("tg_below_control_k"),
    )  # fmt: skip


def _celsius_span(scene: Scene, values: Sequence[float]) -> str:
    return scene.showing.span(min(values), max(values), "degC")


def _by_layer(scene: Scene, judged: list["_Transition"]) -> str:
    """Return the temperatures in words, those of each layer by themselves."""
    groups: dict[tuple[str, str], list[_Transition]] = {}
    for one in judged:
        groups.setdefault((one.layer, one.against), []).append(one)
    told = []
    for (layer, against), some in groups.items():
        of = f"{layer} " if layer else ""
        read = _celsius_span(scene, [one.celsius for one in some])
        known = _celsius_span(scene, [one.known for one in some])
        told.append(f"{of}{read} ({against} {known})")
    return "; ".join(told)


def _layer(scene: Scene, row: LabResult) -> str:
    """Return the layer that a result was found in, by product or material; empty if none said."""
    if row.face is None:
        return ""
    first, *rest = str(row.face).split()
    letter = row.face.side or next(iter(rest), "") or (first if row.face.plane else "")
    for coat in scene.system(scene.dossier.area_of(row)):
        if layer_letter(coat.order) == letter:
            return coat.product or coat.material.replace("_", " ")
    return ""


@dataclass(frozen=True, slots=True)
class _Transition:
    """A glass transition beside the one it should have."""

    layer: str
    low: bool
    celsius: float
    known: float
    against: str
    sources: tuple[Source, ...]


def _against_known(scene: Scene, row: LabResult) -> _Transition | None:
    own = _celsius(row)
    if own is None:
        return None
    if limit := judge(scene, row, above=False):
        low = bool(limit.holds)
        return _Transition(_layer(scene, row), low, own, limit.need, "at least", limit.sources)
    control = control_of(scene, row)
    other = _celsius(control)
    if other is None or control is None:
        return None
    low = other - own > scene.settings.tg_below_control_k
    sources = (row.source, control.source)
    return _Transition(_layer(scene, row), low, own, other, "control", sources)


def _dry(row: LabResult) -> bool:
    return row.condition is SpecimenCondition.DRIED or (
        row.quantity == "tg_second" and row.condition is not SpecimenCondition.WET
    )


def _celsius(row: LabResult | None) -> float | None:
    return number(row.value.quantity, "degC") if row else None


def residual_exotherm_present(scene: Scene) -> Finding:
    """Return whether cure is unfinished: an exotherm, or a rise on the second heat.

    Water lowers the first heat, so a rise counts from a dried specimen only; where there is no
    rise the specimen need not have been dried.
    """
    exotherm = [
        row for row in scene.lab("exotherm")
        if row.condition in (SpecimenCondition.DRIED, None) and row.value.word != "undetermined"
    ]  # fmt: skip
    by_peak = words_say(
        scene, exotherm, "an exotherm of unfinished cure", PRESENT, ABSENT,
        lambda row: None if row.value.value is None else row.value.value > 0,
    )  # fmt: skip
    rises = _rises(scene)
    if not rises:
        return by_peak
    big = [one for one in rises if one.kelvin > scene.settings.tg_rise_k]
    value = YES if 2 * len(big) > len(rises) else NO
    if value == YES and not all(one.dried for one in big):
        words = "the second heat is higher, but the specimen is not stated to be dried"
        return either(by_peak, silent(words, [s for one in big for s in one.sources]))
    kelvin = [one.kelvin for one in rises]
    rise = scene.showing.span(min(kelvin), max(kelvin), "degC", DIFFERENCE)
    words = f"the glass transition rises by {rise} on the second heat"
    sources = [source for one in rises for source in one.sources]
    held = found(
        value, words, sources, n=len(rises), quality=by_number(len(rises), full=2),
        settled_by=scene.settings.said("tg_rise_k"),
    )  # fmt: skip
    return either(held, by_peak)


@dataclass(frozen=True, slots=True)
class _Rise:
    """How far the second heat lies above the first on one specimen."""

    kelvin: float
    sources: tuple[Source, ...]
    dried: bool


def _rises(scene: Scene) -> list[_Rise]:
    second = scene.lab("tg_second")
    held = []
    for row in scene.lab("tg_first"):
        same = (one for one in second if (one.sample, one.face) == (row.sample, row.face))
        other = next(same, None)
        if other and row.value.quantity and other.value.quantity:
            a, b = _celsius(row), _celsius(other)
            if a is not None and b is not None:
                held.append(_Rise(b - a, (row.source, other.source), _dry(row)))
    return held


def residual_solvent_high(scene: Scene) -> Finding:
    """Return whether retained solvent exceeds the limit, or the control's of the same solvent.

    Solvent that is merely present is more than the control only where the control lacks it.
    """
    rows = scene.lab("solvent:", "solvent_share:")
    required = beyond(scene, rows, "retained solvent")
    if required.known:
        return required
    compared = [(more, row) for row in rows if (more := _more_solvent(scene, row)) is not None]
    if not compared:
        some = [row for row in rows if row.value.word in PRESENT or row.value.value]
        if some:
            return without_control(scene, some, "retained solvent")
        return silent(f"retained solvent was not read in {scene.ground}", sources_of(rows))
    high = [row for more, row in compared if more]
    chosen = high or [row for _, row in compared]
    known = [one for row in chosen if (one := control_of(scene, row))]
    words = f"retained solvent against the control: {'higher' if high else 'not higher'}"
    if not known:
        words = "retained solvent: none found"
    return found(
        YES if high else NO, f"{words} in {scene.ground}", sources_of((*chosen, *known)),
        n=len(compared), quality=by_number(len(compared)),
        settled_by=scene.settings.said("solvent_times_control"),
    )  # fmt: skip


def _more_solvent(scene: Scene, row: LabResult) -> bool | None:
    """Return whether a result is above its control; None where that is open."""
    own, control = row.value.value, control_of(scene, row)
    if own is None:
        return more_than_control(scene, row)
    if row.qualifier is Qualifier.BELOW:
        return False if control else None
    if control is None:
        return None
    other = 0.0 if control.value.word in ABSENT else control.value.value
    return None if other is None else own > scene.settings.solvent_times_control * other


RULES = named(mix_ratio_off, tg_low, residual_exotherm_present, residual_solvent_high)
