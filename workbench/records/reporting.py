"""The report: its editions, its exhibits, and what a person states in it."""

from dataclasses import dataclass, field
from enum import StrEnum
from typing import ClassVar

from workbench.records.codes import Chapter
from workbench.records.moments import When
from workbench.records.record import Fault, Record, told


class EditionState(StrEnum):
    """How far an edition has come; only an issued one loses its draft marks."""

    DRAFT = "draft"
    CHECKED = "checked"
    AUTHORISED = "authorised"
    ISSUED = "issued"


class ExhibitKind(StrEnum):
    """What an exhibit is offered as."""

    SUBSTANTIVE = "substantive"
    SUMMARY = "summary"
    ILLUSTRATIVE_AID = "illustrative_aid"


class ExhibitStatus(StrEnum):
    """What became of an exhibit; one withdrawn keeps its number."""

    LISTED = "listed"
    OFFERED = "offered"
    ADMITTED = "admitted"


class InstructionForm(StrEnum):
    """How an instruction or another communication came."""

    LETTER = "letter"
    E_MAIL = "e_mail"
    MEETING = "meeting"
    CALL = "call"
    ORDER = "order"


class InstructionKind(StrEnum):
    """What a communication with those instructing is, where that decides who may see it."""

    INSTRUCTION = "instruction"
    COMPENSATION = "compensation"
    FACTS_SUPPLIED = "facts_supplied"
    ASSUMPTION = "assumption"
    PRIVILEGED = "privileged"


class CredentialKind(StrEnum):
    """What a line of a person's record says."""

    QUALIFICATION = "qualification"
    EXPERIENCE = "experience"
    PUBLICATION = "publication"
    TESTIMONY = "testimony"


@dataclass(frozen=True, slots=True, kw_only=True)
class Edition(Record):
    """One edition of the report: who checked, authorised and issued it, and the bytes issued."""

    noun: ClassVar[str] = "edition"
    title: ClassVar[str] = "Edition of the report"
    chapter: ClassVar[Chapter] = Chapter.REPORT
    comes_about: ClassVar[str] = (
        "An edition comes about under “Write the report”: it is checked, authorised and issued "
        "there. Only the signed copy is named here."
    )
    left_open: ClassVar[tuple[str, ...]] = ("signed",)

    ref: str = field(metadata=told("number"))
    form: str = field(default="full", metadata=told("form", words=("full", "short")))
    units: str = field(default="SI", metadata=told("units", words=("SI", "US", "both")))
    profile: str = field(default="", metadata=told("profile"))
    author: str = field(default="", metadata=told("author"))
    checked_by: str = field(default="", metadata=told("checked by"))
    checked_on: When | None = field(default=None, metadata=told("checked on"))
    authorised_by: str = field(default="", metadata=told("authorised by"))
    authorised_on: When | None = field(default=None, metadata=told("authorised on"))
    content: str = field(default="", metadata=told("digest of what was checked"))
    issued_on: When | None = field(default=None, metadata=told("issued on"))
    file: str = field(default="", metadata=told("file"))
    sha256: str = field(default="", metadata=told("SHA-256"))
    pdf: str = field(default="", metadata=told("PDF"))
    pdf_sha256: str = field(default="", metadata=told("SHA-256 of the PDF"))
    journal_head: str = field(default="", metadata=told("head of the journal"))
    ledger_head: str = field(default="", metadata=told("head of the custody ledger"))
    replaces: str = field(default="", metadata=told("replaces", refers=("edition",)))
    signed: str = field(default="", metadata=told("signed copy"))

    @property
    def state(self) -> EditionState:
        """How far the edition has come."""
        if self.issued_on:
            return EditionState.ISSUED
        if self.authorised_by:
            return EditionState.AUTHORISED
        return EditionState.CHECKED if self.checked_by else EditionState.DRAFT

    def faults(self) -> tuple[Fault, ...]:
        """Refuse an edition that replaces itself, or is issued without authority."""
        if self.replaces and self.replaces == self.ref:
            return (Fault("replaces", "an edition that replaces itself", "the one before it"),)
        if self.issued_on and not self.authorised_by:
            return (Fault("authorised_by", "issued without authority", "who authorised it"),)
        return ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Exhibit(Record):
    """Something shown to support the report, under one number that never changes."""

    noun: ClassVar[str] = "exhibit"
    title: ClassVar[str] = "Exhibit"
    chapter: ClassVar[Chapter] = Chapter.REPORT

    ref: str = field(metadata=told("number"))
    order: int = field(metadata=told("order"))
    kind: ExhibitKind = field(metadata=told("kind"))
    of: str = field(metadata=told("of", hint="photo PH-03, document DOC-1, figure plan, table …"))
    name: str = field(default="", metadata=told("title"))
    legend: str = field(default="", metadata=told("legend"))
    dated: When | None = field(default=None, metadata=told("dated"))
    status: ExhibitStatus | None = field(default=None, metadata=told("status"))
    pages: int | None = field(default=None, metadata=told("pages"))
    first_page: str = field(default="", metadata=told("first page number"))
    last_page: str = field(default="", metadata=told("last page number"))
    note: str = field(default="", metadata=told("note"))

    def faults(self) -> tuple[Fault, ...]:
        """Refuse an aid that does not say that it is one."""
        if self.kind is ExhibitKind.ILLUSTRATIVE_AID and not self.legend:
            right = "what it illustrates, and that it is no evidence"
            return (Fault("legend", "an illustrative aid without a legend", right),)
        return ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Instruction(Record):
    """An instruction or another communication, written or oral, with its substance."""

    noun: ClassVar[str] = "instruction"
    title: ClassVar[str] = "Instruction"
    chapter: ClassVar[Chapter] = Chapter.REPORT

    ref: str = field(metadata=told("ref"))
    date: When = field(metadata=told("date"))
    sender: str = field(metadata=told("from"))
    addressee: str = field(default="", metadata=told("to"))
    form: InstructionForm = field(metadata=told("form"))
    kind: InstructionKind = field(metadata=told("kind"))
    substance: str = field(metadata=told("substance"))
    opinion: str = field(default="", metadata=told("bears on", refers=("opinion",)))


@dataclass(frozen=True, slots=True, kw_only=True)
class Assumption(Record):
    """Something taken as given, and who asked that it be."""

    noun: ClassVar[str] = "assumption"
    title: ClassVar[str] = "Assumption"
    chapter: ClassVar[Chapter] = Chapter.REPORT

    ref: str = field(metadata=told("ref"))
    words: str = field(metadata=told("assumption"))
    given_by: str = field(metadata=told("given by"))
    effect: str = field(default="", metadata=told("if it is wrong"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Statement(Record):
    """What a person states under a heading that a profile of the report asks for."""

    noun: ClassVar[str] = "statement"
    title: ClassVar[str] = "Statement"
    chapter: ClassVar[Chapter] = Chapter.REPORT
    identity: ClassVar[tuple[str, ...]] = ("key",)

    key: str = field(metadata=told("item", hint="the item of the profile"))
    words: str = field(metadata=told("statement"))
    by: str = field(default="", metadata=told("by"))
    dated: When | None = field(default=None, metadata=told("dated"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Credential(Record):
    """One line of a person's record: a qualification, a publication, testimony given."""

    noun: ClassVar[str] = "credential"
    title: ClassVar[str] = "Credential"
    chapter: ClassVar[Chapter] = Chapter.REPORT

    ref: str = field(metadata=told("ref"))
    person: str = field(metadata=told("person"))
    kind: CredentialKind = field(metadata=told("kind"))
    date: When | None = field(default=None, metadata=told("date"))
    words: str = field(metadata=told("what"))
