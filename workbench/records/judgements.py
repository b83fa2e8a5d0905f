"""What a person decides about causes: grades, exclusions, changed knowledge, words, opinions.

The reasoning proposes; these records hold what the investigator made of it, and why.
"""

from dataclasses import dataclass, field
from enum import StrEnum
from typing import ClassVar

from workbench.records.codes import Chapter, YesNo
from workbench.records.moments import When
from workbench.records.record import Fault, Record, told


class Grade(StrEnum):
    """How firmly an opinion on a candidate cause is held, the firmest first."""

    ESTABLISHED = "established"
    PROBABLE = "probable"
    POSSIBLE = "possible"
    NOT_SUPPORTED = "not supported"
    EXCLUDED = "excluded"

    @property
    def firmness(self) -> int:
        """4 for established down to 0 for excluded."""
        return 4 - list(Grade).index(self)


class CausalRole(StrEnum):
    """What part a retained cause plays."""

    MAIN = "main"
    CONTRIBUTORY = "contributory"
    TRIGGER = "trigger"
    BACKGROUND = "background"
    CONSEQUENCE = "consequence"


class ListOf(StrEnum):
    """The two lists of a reasoning that may not be empty without a person saying so."""

    UNEXPLAINED = "unexplained"
    SPEAKS_AGAINST = "speaks against"


class Direction(StrEnum):
    """How an observed value bears on a cause."""

    EXPECTED = "expected"
    LIKELY = "likely"
    POSSIBLE = "possible"
    UNLIKELY = "unlikely"
    EXCLUDED = "excluded"


class Weight(StrEnum):
    """How much an observation can settle, the most first."""

    DECISIVE = "decisive"
    STRONG = "strong"
    MODERATE = "moderate"
    WEAK = "weak"


@dataclass(frozen=True, slots=True, kw_only=True)
class CauseDecision(Record):
    """The grade and part that the investigator gives a candidate cause, over a name."""

    noun: ClassVar[str] = "cause_decision"
    title: ClassVar[str] = "Decision on a cause"
    chapter: ClassVar[Chapter] = Chapter.CAUSES
    identity: ClassVar[tuple[str, ...]] = ("cause", "place")

    cause: str = field(metadata=told("cause"))
    place: str = field(default="", metadata=told("place", hint="blank: the whole case"))
    grade: Grade = field(metadata=told("grade"))
    role: CausalRole | None = field(default=None, metadata=told("part played"))
    reason: str = field(default="", metadata=told("reason"))
    by: str = field(metadata=told("by"))
    signed: When | None = field(default=None, metadata=told("signed"))


@dataclass(frozen=True, slots=True, kw_only=True)
class ExclusionDecision(Record):
    """Whether an observation that would exclude a cause is accepted as doing so."""

    noun: ClassVar[str] = "exclusion_decision"
    title: ClassVar[str] = "Decision on an exclusion"
    chapter: ClassVar[Chapter] = Chapter.CAUSES
    identity: ClassVar[tuple[str, ...]] = ("cause", "observation")

    cause: str = field(metadata=told("cause"))
    observation: str = field(metadata=told("observation"))
    confirmed: YesNo = field(metadata=told("confirmed"))
    reason: str = field(metadata=told("reason"))
    by: str = field(metadata=told("by"))
    signed: When | None = field(default=None, metadata=told("signed"))


@dataclass(frozen=True, slots=True, kw_only=True)
class WeightChange(Record):
    """What a cause predicts of an observation, changed or added for this case."""

    noun: ClassVar[str] = "weight_change"
    title: ClassVar[str] = "Changed prediction"
    chapter: ClassVar[Chapter] = Chapter.CAUSES
    identity: ClassVar[tuple[str, ...]] = ("cause", "observation", "values")

    cause: str = field(metadata=told("cause"))
    observation: str = field(metadata=told("observation"))
    values: str = field(metadata=told("values", hint="the observed values meant, ; between"))
    direction: Direction = field(metadata=told("direction"))
    weight: Weight = field(metadata=told("weight"))
    reason: str = field(metadata=told("reason"))
    by: str = field(metadata=told("by"))


@dataclass(frozen=True, slots=True, kw_only=True)
class AddedCause(Record):
    """A candidate cause that the knowledge of the program does not have."""

    noun: ClassVar[str] = "added_cause"
    title: ClassVar[str] = "Added cause"
    chapter: ClassVar[Chapter] = Chapter.CAUSES
    identity: ClassVar[tuple[str, ...]] = ("cause",)

    cause: str = field(metadata=told("cause", hint="a short name with hyphens"))
    name: str = field(metadata=told("title"))
    mechanism: str = field(metadata=told("mechanism"))
    replaces: YesNo | None = field(default=None, metadata=told("replaces one of the program"))
    reason: str = field(metadata=told("reason"))
    by: str = field(metadata=told("by"))


@dataclass(frozen=True, slots=True, kw_only=True)
class AddedObservation(Record):
    """A question for this case that the knowledge of the program does not ask."""

    noun: ClassVar[str] = "added_observation"
    title: ClassVar[str] = "Added observation"
    chapter: ClassVar[Chapter] = Chapter.CAUSES
    identity: ClassVar[tuple[str, ...]] = ("observation",)

    observation: str = field(metadata=told("observation", hint="a short name with underscores"))
    question: str = field(metadata=told("question"))
    stage: str = field(
        metadata=told("stage", words=("background", "survey", "field", "lab"), open_words=False)
    )
    side: str = field(metadata=told("read in", words=("failing", "nonfailing", "contrast", "site")))
    values: str = field(default="yes; no", metadata=told("values"))
    reason: str = field(metadata=told("reason"))
    by: str = field(metadata=told("by"))


@dataclass(frozen=True, slots=True, kw_only=True)
class ListStatement(Record):
    """That a list of a reasoning holds nothing more, or what it holds besides, over a name."""

    noun: ClassVar[str] = "list_statement"
    title: ClassVar[str] = "Statement on a list"
    chapter: ClassVar[Chapter] = Chapter.CAUSES
    identity: ClassVar[tuple[str, ...]] = ("list_of", "statement")

    list_of: ListOf = field(metadata=told("list"))
    statement: str = field(metadata=told("statement"))
    basis: str = field(default="", metadata=told("basis", hint="records, as “pull_off P-12; …”"))
    by: str = field(metadata=told("by"))


@dataclass(frozen=True, slots=True, kw_only=True)
class EditedText(Record):
    """The investigator's own words in the place of a paragraph that the records gave."""

    noun: ClassVar[str] = "edited_text"
    title: ClassVar[str] = "Edited paragraph"
    chapter: ClassVar[Chapter] = Chapter.CAUSES
    identity: ClassVar[tuple[str, ...]] = ("paragraph",)

    paragraph: str = field(metadata=told("paragraph"))
    text: str = field(metadata=told("text"))
    basis: str = field(default="", metadata=told("basis", hint="records, as “pull_off P-12; …”"))
    digest: str = field(default="", metadata=told("digest of the findings behind it"))
    by: str = field(metadata=told("by"))


TO_BE_WRITTEN = "To be written:"
"""Stands in a drafted opinion before what the records alone cannot answer."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Opinion(Record):
    """An opinion on a question put: its grade, its basis, and what stands against it."""

    noun: ClassVar[str] = "opinion"
    title: ClassVar[str] = "Opinion"
    chapter: ClassVar[Chapter] = Chapter.CAUSES

    ref: str = field(metadata=told("ref"))
    question: str = field(metadata=told("question"))
    opinion: str = field(metadata=told("opinion"))
    grade: Grade | None = field(default=None, metadata=told("grade"))
    basis: str = field(default="", metadata=told("basis", hint="records, as “pull_off P-12; …”"))
    against: str = field(default="", metadata=told("evidence against"))
    limits: str = field(default="", metadata=told("limits"))
    range_of_opinion: str = field(default="", metadata=told("range of opinion"))
    by: str = field(metadata=told("by"))
    signed: When | None = field(default=None, metadata=told("signed"))

    @property
    def written(self) -> bool:
        """Whether nothing of it is left to be written."""
        return TO_BE_WRITTEN not in self.opinion

    def is_on(self, number: int, question: str) -> bool:
        """Return whether it is on the question of that number, named by number or words."""
        said = self.question.strip().rstrip(".")
        return said in (
            str(number), f"question {number}", f"Question {number}", question.rstrip("."),
        )  # fmt: skip

    def answers(self, number: int, question: str) -> bool:
        """Return whether it is on that question and written to the end."""
        return self.written and self.is_on(number, question)

    def faults(self) -> tuple[Fault, ...]:
        """Refuse an opinion that says nothing, and one signed before it is written."""
        if not self.opinion.strip():
            return (Fault("opinion", "an opinion without words", "what is held, in a sentence"),)
        if self.signed and not self.written:
            right = f"an answer in the place of what follows “{TO_BE_WRITTEN}”, then the signature"
            return (Fault("signed", "signed before it is written", right),)
        return ()
