"""How samples are kept: care, discrepancies, shipments, and leave to cut."""

from dataclasses import dataclass, field
from typing import ClassVar

from workbench.records.codes import (
    Chapter,
    ClientDecision,
    Direction,
    DiscrepancyKind,
    YesNo,
)
from workbench.records.moments import When
from workbench.records.places import Refs
from workbench.records.record import Fault, Record, told


@dataclass(frozen=True, slots=True, kw_only=True)
class SampleCare(Record):
    """How one sample must be handled, stored and kept."""

    noun: ClassVar[str] = "sample_care"
    title: ClassVar[str] = "Sample care"
    chapter: ClassVar[Chapter] = Chapter.SAMPLES
    identity: ClassVar[tuple[str, ...]] = ("sample",)

    sample: str = field(metadata=told("sample", refers=("sample",)))
    hazards: str = field(default="", metadata=told("hazards", hint="lead, solvent, sharp …"))
    layers: str = field(default="", metadata=told("layers held", hint="B C D, from the bottom"))
    storage: str = field(default="", metadata=told("storage", hint="dry, 21 degC, dark"))
    handling: str = field(default="", metadata=told("handling"))
    hold: YesNo | None = field(default=None, metadata=told("hold"))
    hold_reason: str = field(default="", metadata=told("why held"))
    keep_until: When | None = field(default=None, metadata=told("keep until"))

    def faults(self) -> tuple[Fault, ...]:
        """Refuse a hold without its reason."""
        if self.hold is YesNo.YES and not self.hold_reason:
            return (Fault("hold_reason", "a hold without a reason", "who asked for it, and why"),)
        return ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Discrepancy(Record):
    """What did not agree, what was asked, and what was answered."""

    noun: ClassVar[str] = "discrepancy"
    title: ClassVar[str] = "Discrepancy"
    chapter: ClassVar[Chapter] = Chapter.SAMPLES

    ref: str = field(metadata=told("ref"))
    samples: Refs = field(metadata=told("samples", refers=("sample",)))
    kind: DiscrepancyKind = field(metadata=told("kind"))
    found: When = field(metadata=told("found"))
    words: str = field(metadata=told("what was found"))
    photo: str = field(default="", metadata=told("photo", refers=("photo",)))
    asked: str = field(default="", metadata=told("asked whom"))
    asked_when: When | None = field(default=None, metadata=told("asked when"))
    question: str = field(default="", metadata=told("question"))
    answer: str = field(default="", metadata=told("answer"))
    answered_when: When | None = field(default=None, metadata=told("answered when"))
    decision: ClientDecision | None = field(default=None, metadata=told("decision"))

    @property
    def open(self) -> bool:
        """Whether nobody has decided yet."""
        return self.decision is None

    def faults(self) -> tuple[Fault, ...]:
        """Refuse a decision without the answer it rests on."""
        if self.decision is not None and not self.answer:
            return (Fault("answer", "a decision without an answer", "who answered what"),)
        return ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Shipment(Record):
    """Samples that travel together."""

    noun: ClassVar[str] = "shipment"
    title: ClassVar[str] = "Shipment"
    chapter: ClassVar[Chapter] = Chapter.SAMPLES

    ref: str = field(metadata=told("ref"))
    samples: Refs = field(metadata=told("samples", refers=("sample",)))
    sender: str = field(default="", metadata=told("from"))
    addressee: str = field(default="", metadata=told("to"))
    carrier: str = field(default="", metadata=told("carrier"))
    number: str = field(default="", metadata=told("consignment number"))
    seal: str = field(default="", metadata=told("outer seal"))
    sent: When | None = field(default=None, metadata=told("sent"))
    expected: When | None = field(default=None, metadata=told("expected"))
    received: When | None = field(default=None, metadata=told("received"))
    containers_sent: int | None = field(default=None, metadata=told("containers sent"))
    containers_received: int | None = field(default=None, metadata=told("containers received"))
    note: str = field(default="", metadata=told("note"))


@dataclass(frozen=True, slots=True, kw_only=True)
class DestructiveStep(Record):
    """Leave to do what alters or uses up a sample: the condition shown, the parties told."""

    noun: ClassVar[str] = "destructive_step"
    title: ClassVar[str] = "Destructive step"
    chapter: ClassVar[Chapter] = Chapter.SAMPLES
    identity: ClassVar[tuple[str, ...]] = ("sample", "step")

    sample: str = field(metadata=told("sample", refers=("sample",)))
    step: str = field(metadata=told("step", hint="what will be done"))
    photos: Refs | None = field(default=None, metadata=told("photos", refers=("photo",)))
    notice_to: str = field(default="", metadata=told("notice to"))
    notice_when: When | None = field(default=None, metadata=told("notice when"))
    approved_by: str = field(default="", metadata=told("approved by"))
    approved_when: When | None = field(default=None, metadata=told("approved when"))
    override: str = field(default="", metadata=told("why without", hint="reason to go on without"))

    @property
    def lacking(self) -> tuple[str, ...]:
        """What is missing of photographs, notice and approval; nothing where a reason is given."""
        if self.override:
            return ()
        wanted = (
            ("photographs", self.photos),
            ("notice to the parties", self.notice_to and self.notice_when),
            ("approval", self.approved_by and self.approved_when),
        )
        return tuple(name for name, there in wanted if not there)


@dataclass(frozen=True, slots=True, kw_only=True)
class HandOver(Record):
    """Records that went to, or came from, another place that works on the case."""

    noun: ClassVar[str] = "hand_over"
    title: ClassVar[str] = "Hand-over"
    chapter: ClassVar[Chapter] = Chapter.SAMPLES

    ref: str = field(metadata=told("ref"))
    direction: Direction = field(metadata=told("direction"))
    party: str = field(metadata=told("with whom"))
    when: When = field(metadata=told("when"))
    samples: Refs = field(metadata=told("samples", refers=("sample",)))
    our_ledger: str = field(metadata=told("our ledger", hint="head of the ledger, HASH:COUNT"))
    their_ledger: str = field(default="", metadata=told("their ledger"))
    note: str = field(default="", metadata=told("note"))
