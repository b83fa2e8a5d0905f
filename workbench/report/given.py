"""What a report is drafted from besides the records: results, originals, journal, setup."""

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime
from enum import StrEnum
from pathlib import Path

from workbench.analysis.application.results import ApplicationCheck
from workbench.analysis.comparison.results import Comparison
from workbench.analysis.doubts.results import Doubt
from workbench.analysis.laboratory.found import Laboratory
from workbench.analysis.strength.results import StrengthResult
from workbench.reasoning.results import Reasoning
from workbench.records import Source
from workbench.report.wordml import A4, Sheet
from workbench.trade.showing import System

Picture = Callable[[str], Path | None]
"""Gives the file of an original by the name that records use; None where the case has none."""


def no_picture(_name: str) -> Path | None:
    """Return no file: what a case without originals gives."""
    return None


class Form(StrEnum):
    """How much of the report is written."""

    FULL = "full"
    SHORT = "short"


class State(StrEnum):
    """How far a report has come; only an issued one loses its draft marks."""

    DRAFT = "draft"
    CHECKED = "checked"
    AUTHORISED = "authorised"
    ISSUED = "issued"


@dataclass(frozen=True, slots=True)
class Original:
    """A file as received: name used by records, SHA-256, size, and where it came from."""

    name: str
    sha256: str
    size: int
    received: str = ""


@dataclass(frozen=True, slots=True)
class JournalLine:
    """One act as the journal has it."""

    number: int
    when: str
    who: str
    what: str
    why: str = ""


@dataclass(frozen=True, slots=True)
class Head:
    """The head of a hash chain: how many entries it has, and the hash of the last."""

    name: str
    count: int
    digest: str


@dataclass(frozen=True, slots=True)
class Amendment:
    """One thing that differs from the edition before: what it was, what it is, and why."""

    where: str
    old: str
    new: str
    why: str
    source: Source | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Results:
    """What was computed from the records, and what the case file says of itself.

    Attributes:
        strength: Strength by plane; None where there are no pull-offs.
        doubts: Doubts about readings.
        application: How the work was done against what was asked for.
        reasoning: What the reasoning returns; None where it was not run.
        comparisons: Failing against other areas, in all that was measured.
        laboratory: What the laboratory's originals and results say; None where none was read.
        originals: The files as received.
        journal: The journal, oldest first.
        heads: Heads of journal and custody ledger.
    """

    strength: StrengthResult | None = None
    doubts: tuple[Doubt, ...] = ()
    application: ApplicationCheck | None = None
    reasoning: Reasoning | None = None
    comparisons: tuple[Comparison, ...] = ()
    laboratory: Laboratory | None = None
    originals: tuple[Original, ...] = ()
    journal: tuple[JournalLine, ...] = ()
    heads: tuple[Head, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Setup:
    """How this edition is made.

    Attributes:
        number: Number of the report with its edition, as "BH-2024-11-R1".
        moment: When it is written; for an issued edition the moment of issue.
        form: Full or short.
        system: Units shown.
        sheet: Paper.
        state: How far the edition has come.
        author: Who wrote it.
        checked_by: Who checked it, with the date; empty until then.
        authorised_by: Who authorised it, with the date; empty until then.
        replaces: Number of the edition that this one replaces.
        amendments: What changed since that edition.
        moved: Headline numbers that are not what they were in it; None where none were sought.
        profile: Which checklist it is held against; empty for none.
    """

    number: str
    moment: datetime
    form: Form = Form.FULL
    system: System = System.SI
    sheet: Sheet = field(default_factory=lambda: A4)
    state: State = State.DRAFT
    author: str = ""
    checked_by: str = ""
    authorised_by: str = ""
    replaces: str = ""
    amendments: tuple[Amendment, ...] = ()
    moved: tuple[Amendment, ...] | None = None
    profile: str = ""
