"""What the laboratory found."""

from dataclasses import dataclass, field
from typing import ClassVar

from workbench.records.bounds import value_fault
from workbench.records.codes import (
    LAB_QUANTITIES,
    OPEN_PREFIXES,
    Chapter,
    Qualifier,
    SpecimenCondition,
)
from workbench.records.moments import When
from workbench.records.planes import Face
from workbench.records.quantities import Outcome, Quantity
from workbench.records.record import Fault, Record, told


@dataclass(frozen=True, slots=True, kw_only=True)
class LabResult(Record):
    """One result on one sample, against its control."""

    noun: ClassVar[str] = "lab_result"
    sheet: ClassVar[str] = "lab"
    title: ClassVar[str] = "Laboratory result"
    chapter: ClassVar[Chapter] = Chapter.LABORATORY

    ref: str = field(metadata=told("ref"))
    sample: str = field(metadata=told("sample", refers=("sample",)))
    face: Face | None = field(default=None, metadata=told("face"))
    method: str = field(metadata=told("method", hint="test id, record, calculation, not_stated"))
    quantity: str = field(metadata=told("quantity", words=(*LAB_QUANTITIES, *OPEN_PREFIXES)))
    value: Outcome = field(metadata=told("value", unit_heading="unit"))
    qualifier: Qualifier | None = field(default=None, metadata=told("qualifier"))
    uncertainty: Quantity | None = field(default=None, metadata=told("uncertainty"))
    coverage_factor: Quantity | None = field(default=None, metadata=told("k"))
    control: str = field(default="", metadata=told("control", refers=("sample", "lab_result")))
    condition: SpecimenCondition | None = field(default=None, metadata=told("condition"))
    laboratory: str = field(default="", metadata=told("laboratory"))
    analyst: str = field(default="", metadata=told("analyst"))
    date: When | None = field(default=None, metadata=told("date"))
    deviation: str = field(default="", metadata=told("deviation", hint="none, on purpose"))
    file: str = field(default="", metadata=told("file"))
    note: str = field(default="", metadata=told("note"))
    request: str = field(
        default="", metadata=told("request", refers=("lab_request",), in_book=False)
    )
    blank: str = field(
        default="", metadata=told("blank", refers=("sample", "lab_result"), in_book=False)
    )

    def faults(self) -> tuple[Fault, ...]:
        """Refuse a pH that no water has, and a glass transition that no coating has."""
        fault = value_fault(self.quantity, self.value.quantity)
        return (fault,) if fault else ()
