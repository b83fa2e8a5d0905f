"""Readings gathered for a table of the text: by area, by layer, by what a sample stands for."""

from collections.abc import Callable, Hashable, Iterable
from dataclasses import dataclass
from typing import TypeVar

from workbench.records import Area, Dossier, LabResult, Outcome, Record, Sample
from workbench.records.codes import Condition, Purpose

K = TypeVar("K", bound=Hashable)
R = TypeVar("R", bound=Record)

_CONDITION_OF = {
    Purpose.FAILING: Condition.FAILING,
    Purpose.NON_FAILING: Condition.NON_FAILING,
    Purpose.CONTROL: Condition.CONTROL,
}


def grouped(records: Iterable[R], key: Callable[[R], K]) -> dict[K, list[R]]:
    """Return records by a key, keys in the order they first come."""
    groups: dict[K, list[R]] = {}
    for record in records:
        groups.setdefault(key(record), []).append(record)
    return groups


def by_area(dossier: Dossier, records: Iterable[R]) -> dict[str, list[R]]:
    """Return records by the ref of their area, in the order of the areas; "" for none."""
    groups = grouped(records, lambda one: _ref(dossier.area_of(one)))
    order = {area.ref: at for at, area in enumerate(dossier.all(Area))}
    return dict(sorted(groups.items(), key=lambda pair: order.get(pair[0], len(order))))


def by_condition(dossier: Dossier, records: Iterable[R]) -> dict[str, list[R]]:
    """Return records by the condition of their area, failing first."""
    order = {condition.value: at for at, condition in enumerate(Condition)}
    groups = grouped(records, lambda one: _condition(dossier.area_of(one)))
    return dict(sorted(groups.items(), key=lambda pair: order[pair[0]]))


def _condition(area: Area | None) -> str:
    return area.condition.value if area else Condition.UNKNOWN.value


def _ref(area: Area | None) -> str:
    return area.ref if area else ""


def stands_for(dossier: Dossier, sample: Sample | None) -> str:
    """Return what a sample stands for: its purpose, else the condition of its area."""
    if sample is None:
        return Condition.UNKNOWN.value
    if sample.purpose:
        condition = _CONDITION_OF.get(sample.purpose)
        return condition.value if condition else sample.purpose.value.replace("_", " ")
    parent = dossier.find(Sample, sample.parent) if sample.parent else None
    if parent and parent is not sample:
        return stands_for(dossier, parent)
    return dossier.condition_at(sample.at).value if sample.at else Condition.UNKNOWN.value


def sample_of(dossier: Dossier, result: LabResult) -> Sample | None:
    """Return the sample of a result."""
    return dossier.find(Sample, result.sample)


@dataclass(frozen=True, slots=True)
class Spread:
    """The smallest, middle and largest of several numbers."""

    low: float
    middle: float
    high: float
    count: int


def spread(values: Iterable[float]) -> Spread | None:
    """Return smallest, median and largest; None without a value."""
    known = sorted(values)
    if not known:
        return None
    half = len(known) // 2
    middle = known[half] if len(known) % 2 else (known[half - 1] + known[half]) / 2
    return Spread(known[0], middle, known[-1], len(known))


def numbers(outcomes: Iterable[Outcome]) -> list[float]:
    """Return the numbers among outcomes."""
    return [outcome.value for outcome in outcomes if outcome.value is not None]
