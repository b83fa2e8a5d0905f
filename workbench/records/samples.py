"""Samples, and the entries that say who held them."""

from dataclasses import dataclass, field
from typing import ClassVar

from workbench.records.codes import Chapter, CustodyEvent, Purpose, SampleKind, SealCondition
from workbench.records.moments import When
from workbench.records.planes import Face
from workbench.records.quantities import Quantity
from workbench.records.record import Fault, Record, told


@dataclass(frozen=True, slots=True, kw_only=True)
class Sample(Record):
    """A thing taken from the object, or made from another sample."""

    noun: ClassVar[str] = "sample"
    sheet: ClassVar[str] = "samples"
    title: ClassVar[str] = "Sample"
    chapter: ClassVar[Chapter] = Chapter.SAMPLES

    ref: str = field(metadata=told("ref"))
    parent: str = field(default="", metadata=told("parent", refers=("sample",)))
    kind: SampleKind = field(metadata=told("kind"))
    at: str = field(default="", metadata=told("at", refers=("location", "area")))
    purpose: Purpose | None = field(default=None, metadata=told("purpose"))
    taken: When | None = field(default=None, metadata=told("taken"))
    taken_by: str = field(default="", metadata=told("taken by"))
    container: str = field(default="", metadata=told("container"))
    seal: str = field(default="", metadata=told("seal"))
    face: Face | None = field(default=None, metadata=told("face"))
    amount: Quantity | None = field(
        default=None, metadata=told("amount", unit_heading="amount unit")
    )
    condition: str = field(default="", metadata=told("condition"))
    note: str = field(default="", metadata=told("note"))

    def faults(self) -> tuple[Fault, ...]:
        """Refuse a sample that is its own parent, and an amount below 0."""
        if self.parent and self.parent == self.ref:
            return (Fault("parent", "a sample as its own parent", "another sample, or blank"),)
        if self.amount and self.amount.value < 0:
            return (Fault("amount", f"amount {self.amount}", "0 or more"),)
        return ()


@dataclass(frozen=True, slots=True, kw_only=True)
class CustodyEntry(Record):
    """One entry of the chain of custody; it is never changed, only followed by another.

    Attributes:
        corrects: Identifier of the entry that this one puts right; the old one stays legible.
        recorded_at: When this computer recorded it, ISO 8601 in UTC; empty before it is.
    """

    noun: ClassVar[str] = "custody"
    sheet: ClassVar[str] = "custody"
    title: ClassVar[str] = "Custody entry"
    chapter: ClassVar[Chapter] = Chapter.SAMPLES
    identity: ClassVar[tuple[str, ...]] = ("sample", "when", "event")
    ledger: ClassVar[bool] = True

    sample: str = field(metadata=told("sample", refers=("sample",)))
    when: When = field(metadata=told("when"))
    event: CustodyEvent = field(metadata=told("event"))
    giver: str = field(default="", metadata=told("from"))
    receiver: str = field(default="", metadata=told("to"))
    place: str = field(default="", metadata=told("place"))
    seal: str = field(default="", metadata=told("seal"))
    seal_condition: SealCondition | None = field(default=None, metadata=told("seal condition"))
    condition: str = field(default="", metadata=told("condition"))
    carrier: str = field(default="", metadata=told("carrier"))
    note: str = field(default="", metadata=told("note"))
    amount: Quantity | None = field(
        default=None, metadata=told("amount used", in_book=False, hint="used up or lost in it")
    )
    corrects: str = field(default="", metadata=told("corrects", in_book=False))
    recorded_at: str = field(default="", compare=False)
