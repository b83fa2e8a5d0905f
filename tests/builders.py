"""Records for tests: each with everything required filled in, the rest as the test says."""

from typing import Any, TypeVar

from workbench.records import (
    Application,
    Area,
    Coat,
    Dossier,
    Face,
    Features,
    LabResult,
    Location,
    Measurement,
    Outcome,
    Outline,
    Points,
    PullOff,
    Quantity,
    Rating,
    Readings,
    Record,
    Refs,
    Sample,
    SurveyEntry,
    Thickness,
    When,
    fields_of,
)
from workbench.records.planes import Breaks, Plane
from workbench.records.written import Written

R = TypeVar("R", bound=Record)

DEFAULTS: dict[type[Record], dict[str, str | int]] = {
    Area: {"ref": "A1", "name": "Bay 1", "condition": "failing"},
    Location: {"ref": "L1", "area": "A1"},
    Coat: {"system": "S", "order": 1, "material": "epoxy"},
    Application: {"area": "A1", "coat": 1},
    PullOff: {"ref": "P1", "location": "L1", "method": "ASTM D4541"},
    Rating: {"ref": "R1", "location": "L1", "method": "ASTM D6677", "rating": "8"},
    Thickness: {
        "ref": "T1", "location": "L1", "method": "magnetic", "layer": "total",
        "readings": "200", "unit": "um",
    },
    Measurement: {
        "ref": "M1", "location": "L1", "method": "f-ph", "quantity": "ph_face", "value": "7 pH",
    },
    Sample: {"ref": "S1", "kind": "film"},
    SurveyEntry: {"ref": "V1", "at": "A1", "form": "delamination"},
    LabResult: {
        "ref": "LR1", "sample": "S1", "method": "l-ftir", "quantity": "ftir_match", "value": "yes",
    },
}  # fmt: skip


def make(kind: type[R], /, **said: Any) -> R:
    """Return a record of `kind`; text is read as the field's type reads it."""
    types = {info.name: info.type for info in fields_of(kind)}
    whole = {**DEFAULTS.get(kind, {}), **said}
    return kind(**{name: _typed(types.get(name, str), value) for name, value in whole.items()})


def _typed(wanted: type[Any], value: Any) -> Any:
    if not isinstance(value, str) or wanted is str:
        return value
    if issubclass(wanted, Written) and hasattr(wanted, "read"):
        return wanted.read(value)
    return wanted(value)


def dossier(*records: Record) -> Dossier:
    """Return a dossier of `records`."""
    return Dossier(records)


WRITTEN_TYPES = (
    Quantity,
    Outcome,
    Readings,
    When,
    Plane,
    Breaks,
    Face,
    Outline,
    Points,
    Features,
    Refs,
)
