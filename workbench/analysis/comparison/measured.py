"""What has been measured in a case, quantity by quantity, ready to be compared."""

from collections.abc import Iterable

from workbench.analysis.comparison.between_conditions import Measured, Observed
from workbench.analysis.comparison.results import Effect
from workbench.analysis.counted import counted
from workbench.records import (
    Coat,
    Dossier,
    LabResult,
    Measurement,
    Outcome,
    Rating,
    Record,
    Sample,
    Thickness,
    When,
    layer_sign,
)
from workbench.records.codes import Condition, Purpose
from workbench.trade.methods import method
from workbench.trade.names import quantity_name
from workbench.trade.register import test_name
from workbench.trade.units import UnitError, convert

_YES = frozenset({"yes", "present", "positive", "fail", "dulled", "softened", "dissolved"})
_NO = frozenset({"no", "none", "negative", "pass"})


def measured_in(dossier: Dossier) -> tuple[Measured, ...]:
    """Return every quantity measured in a case on untouched film, with its readings.

    Ratings keep to one method each, thickness to one layer and method, measurements and
    laboratory results to one quantity, method and face. Words count as yes or no.
    """
    held = counted(dossier)
    return (*_ratings(held), *_thickness(held), *_results(held))


def _observed(
    dossier: Dossier, record: Record, value: float, day: When | None, operator: str
) -> Observed:
    area = dossier.area_of(record)
    return Observed(
        value=value,
        condition=_condition(dossier, record),
        area=area.ref if area else "",
        bay=(area.within or area.ref) if area else "",
        source=record.source,
        day=day.day() if day else None,
        operator=operator,
    )


def _condition(dossier: Dossier, record: Record) -> Condition:
    """Return what a record stands for: the purpose of its sample, or the condition of its area."""
    if isinstance(record, LabResult):
        sample = dossier.find(Sample, record.sample)
        if sample is None or sample.purpose not in (None, *_CONDITIONS):
            return Condition.UNKNOWN
        if sample.purpose:
            return _CONDITIONS[sample.purpose]
    area = dossier.area_of(record)
    return area.condition if area else Condition.UNKNOWN


_CONDITIONS = {
    Purpose.FAILING: Condition.FAILING,
    Purpose.NON_FAILING: Condition.NON_FAILING,
    Purpose.CONTROL: Condition.CONTROL,
}


def _ratings(dossier: Dossier) -> Iterable[Measured]:
    groups: dict[str, list[Observed]] = {}
    for one in dossier.all(Rating):
        if one.on is None:
            read = _observed(dossier, one, one.rating.value, one.date, one.operator)
            groups.setdefault(one.method, []).append(read)
    for name, readings in groups.items():
        known = method(name)
        scale = known.scale if known else None
        yield Measured(
            quantity=f"rating by {name}",
            unit="",
            effect=Effect.DOMINANCE,
            readings=tuple(readings),
            remarks=(f"Scale: {scale.direction}.",) if scale else (),
        )


def _thickness(dossier: Dossier) -> Iterable[Measured]:
    groups: dict[tuple[str, str], list[Observed]] = {}
    for one in dossier.all(Thickness):
        try:
            um = convert(one.readings.average, one.unit, "um")
        except UnitError:
            continue
        read = _observed(dossier, one, um, one.date, one.operator)
        groups.setdefault((one.layer, one.method), []).append(read)
    for (layer, by), readings in groups.items():
        of = "total thickness" if layer == "total" else f"thickness of {_coat(dossier, layer)}"
        yield Measured(
            quantity=f"{of}, {by.replace('_', ' ')}",
            unit="um",
            effect=Effect.SHIFT,
            readings=tuple(readings),
        )


def _results(dossier: Dossier) -> Iterable[Measured]:
    """Return measurements and laboratory results, apart by quantity, method and face."""
    groups: dict[tuple[str, str, str], list[Measurement | LabResult]] = {}
    found: list[Measurement | LabResult] = [*dossier.all(Measurement), *dossier.all(LabResult)]
    for one in found:
        face = one.plane if isinstance(one, Measurement) else one.face
        key = (one.quantity, one.method, str(face or ""))
        groups.setdefault(key, []).append(one)
    for (quantity, by, at), records in groups.items():
        named = test_name(by).partition(":")[0]
        where = _face_words(dossier, records[0], at)
        words = ", ".join(part for part in (quantity_name(quantity), named, where) if part)
        numbers = [one for one in records if one.value.quantity]
        unit = numbers[0].value.unit if numbers else ""
        if numbers:
            yield _numbers(dossier, words, unit, numbers)
        if len(records) > len(numbers):
            yield _words(dossier, words, [one for one in records if one.value.word])


def _coat(dossier: Dossier, layer: str) -> str:
    """Return what a layer is called; its number where several systems name it differently."""
    names = {coat.product for coat in dossier.all(Coat) if str(coat.order) == layer}
    return names.pop() or f"coat {layer}" if len(names) == 1 else f"coat {layer}"


def _face_words(dossier: Dossier, record: Measurement | LabResult, at: str) -> str:
    """Return a face in words: a plane with its names, a layer by its product."""
    layers = dossier.system_of(dossier.area_of(record))
    face = record.plane if isinstance(record, Measurement) else record.face
    if face and face.plane:
        return dossier.plane_name(face.plane, layers)
    named = {layer_sign(coat.order): coat.product or coat.material for coat in layers}
    return " of ".join(filter(None, (" ".join(named.get(w, w) for w in at.split()),))).replace(
        "bulk ", "bulk of "
    )


def _numbers(
    dossier: Dossier, words: str, unit: str, records: list[Measurement | LabResult]
) -> Measured:
    readings = [
        _result(dossier, one, value)
        for one in records
        if (value := _in_unit(one.value, unit)) is not None
    ]
    limits = sum(one.qualifier is not None for one in records)
    remark = f"{limits} of {len(records)} are limits or rough values and count as written."
    return Measured(
        quantity=words,
        unit=unit,
        effect=Effect.SHIFT,
        readings=tuple(readings),
        remarks=(remark,) if limits else (),
    )


def _words(dossier: Dossier, words: str, records: list[Measurement | LabResult]) -> Measured:
    readings = [
        _result(dossier, one, float(one.value.word in _YES))
        for one in records
        if one.value.word in _YES | _NO
    ]
    return Measured(
        quantity=f"{words}, yes or no", unit="", effect=Effect.ODDS_RATIO, readings=tuple(readings)
    )


def _result(dossier: Dossier, one: Measurement | LabResult, value: float) -> Observed:
    who = one.operator if isinstance(one, Measurement) else one.analyst
    return _observed(dossier, one, value, one.date, who)


def _in_unit(outcome: Outcome, unit: str) -> float | None:
    if outcome.quantity is None:
        return None
    if outcome.unit == unit:
        return outcome.value
    try:
        return convert(outcome.quantity.value, outcome.unit, unit)
    except UnitError:
        return None
