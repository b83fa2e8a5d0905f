"""What the trade knows: candidate causes, what each predicts, and the questions that tell.

The knowledge is data in `resources/causes` and `resources/observations`; here is its shape. A
case may change it, with a reason, through its records (`workbench.reasoning.amended`).
"""

from collections import Counter
from collections.abc import Collection, Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum
from functools import cached_property

from workbench.records import Direction, Weight
from workbench.trade.register import RegisteredTest

BREAK_PLANE, FORM = "break_plane_dominant_failing", "failure_form_dominant"
FOR = (Direction.EXPECTED, Direction.LIKELY)
"""The directions in which a value speaks for a cause."""


class Stage(StrEnum):
    """When in an investigation an observation is made."""

    BACKGROUND = "background"
    SURVEY = "survey"
    FIELD = "field"
    LAB = "lab"


class Side(StrEnum):
    """Where an observation is read."""

    FAILING = "failing"
    NONFAILING = "nonfailing"
    CONTRAST = "contrast"
    SITE = "site"


class PlaneClass(StrEnum):
    """What a plane is to a cause: classes of planes, whatever the letters of the system."""

    SUB_COH = "SUB_COH"
    SUB_IF = "SUB_IF"
    COAT_COH = "COAT_COH"
    INTERCOAT = "INTERCOAT"
    GLUE = "GLUE"
    NONE = "NONE"


@dataclass(frozen=True, slots=True, kw_only=True)
class Observation:
    """One question that an investigation answers.

    Attributes:
        key: Its name in rules and records.
        stage: When it is made.
        side: Where it is read.
        question: The question in words.
        values: What the answer may be; "unknown" is always among them and is not listed.
        core: Whether it is asked of every case; others are prompts.
        group: Its group of evidence; within one only the strongest reading counts.
        says: For each value, what was found, as a sentence.
        tells: For each value, what that means.
        tests: Identifiers of the tests that read it.
        documents: Kinds of document that would give it.
        unit: Unit of a number; a number is an input to other rules and stands in no matrix.
    """

    key: str
    stage: Stage
    side: Side
    question: str
    values: tuple[str, ...] = ("yes", "no")
    core: bool = False
    group: str
    says: Mapping[str, str] = field(default_factory=dict)
    tells: Mapping[str, str] = field(default_factory=dict)
    tests: tuple[str, ...] = ()
    documents: tuple[str, ...] = ()
    unit: str = ""

    @property
    def in_matrix(self) -> bool:
        """Whether causes are weighed against it."""
        return not self.unit


@dataclass(frozen=True, slots=True, kw_only=True)
class Prediction:
    """How some values of one observation bear on a cause.

    Attributes:
        key: Key of the observation.
        values: The values meant.
        direction: Whether the cause makes them expected, likely, possible, unlikely, or excludes
            itself by them.
        weight: How much they can settle.
        expect: What is found then, in the words of this cause; empty for the observation's own.
        why: Why it bears so; empty for what the observation tells by itself.
        implied: Whether it only follows from the planes and forms of the cause, so that another
            value is not held against it.
        substrates: The substrates on which it holds; empty for all.
    """

    key: str
    values: tuple[str, ...]
    direction: Direction
    weight: Weight
    expect: str = ""
    why: str = ""
    implied: bool = False
    substrates: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class ExpectedPlane:
    """Where a cause parts the system."""

    kind: PlaneClass
    primary: bool
    where: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Confirming:
    """A test that would confirm a cause, and what to look for in it."""

    test: str
    look_for: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Lookalike:
    """A cause that this one is taken for, and how to tell them apart."""

    cause: str
    tell_apart: str


@dataclass(frozen=True, slots=True, kw_only=True)
class OnSubstrate:
    """How a cause is told on some substrates; what is empty is told as on all others."""

    substrates: tuple[str, ...]
    mechanism: str = ""
    failing_shows: str = ""
    sound_shows: str = ""
    remedy: str = ""
    remedy_classes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Cited:
    """Where a statement of the knowledge comes from, and how it is known."""

    source: str
    section: str
    status: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """One entry of the register of sources."""

    id: str
    citation: str
    status: str


@dataclass(frozen=True, kw_only=True)
class Cause:
    """One candidate cause: a condition, never a person or a firm.

    Attributes:
        id: Its name in rules and records.
        title: Its name in words.
        group: What family it belongs to.
        process: Whether it is a damage process whose root cause lies upstream.
        mechanism: How it works, in one or two sentences.
        substrates: Substrates it acts on; "any" for all.
        chemistries: Chemistries most prone to it; "any" for all.
        only_with: Chemistries without which it cannot act; empty where there is no such rule.
        forms: Forms of failure it shows.
        planes: Where it parts the system.
        failing_shows: What failing areas show.
        sound_shows: What areas that look sound show.
        predictions: What it predicts of the observations.
        caveat: When an exclusion counts; empty for the general rule.
        tests: Tests that would confirm it.
        lookalikes: Causes it is taken for.
        upstream: Causes that may lie behind it.
        upstream_question: What to ask further.
        combined_with: Causes it often stands with.
        companions: Causes that are the other face of the same event.
        remedy: What is usually done.
        remedy_classes: The same in classes.
        examined: Roles whose records are usually looked at first; no finding of fault.
        examined_note: The same in words.
        on: How it is told on some substrates, where that differs.
        sources: Where this comes from.
    """

    id: str
    title: str
    group: str
    process: bool = False
    mechanism: str
    substrates: tuple[str, ...]
    chemistries: tuple[str, ...] = ("any",)
    only_with: tuple[str, ...] = ()
    forms: tuple[str, ...] = ()
    planes: tuple[ExpectedPlane, ...] = ()
    failing_shows: str = ""
    sound_shows: str = ""
    predictions: tuple[Prediction, ...]
    caveat: str = ""
    tests: tuple[Confirming, ...] = ()
    lookalikes: tuple[Lookalike, ...] = ()
    upstream: tuple[str, ...] = ()
    upstream_question: str = ""
    combined_with: tuple[str, ...] = ()
    companions: tuple[str, ...] = ()
    remedy: str = ""
    remedy_classes: tuple[str, ...] = ()
    examined: tuple[str, ...] = ()
    examined_note: str = ""
    on: tuple[OnSubstrate, ...] = ()
    sources: tuple[Cited, ...] = ()

    def of(self, key: str) -> tuple[Prediction, ...]:
        """Return what the cause predicts of one observation."""
        return self._by_key.get(key, ())

    @cached_property
    def _by_key(self) -> Mapping[str, tuple[Prediction, ...]]:
        held: dict[str, list[Prediction]] = {}
        for one in self.predictions:
            held.setdefault(one.key, []).append(one)
        return {key: tuple(some) for key, some in held.items()}

    def as_on(self, substrates: Collection[str]) -> "Cause":
        """Return the cause as it acts and is told on some substrates; as it is where none known.

        Its own words are kept where one of the substrates is told otherwise and another is not.
        """
        if not substrates:
            return self
        held = {*substrates}
        kept = tuple(one for one in self.predictions
                     if not one.substrates or held & {*one.substrates})  # fmt: skip
        told = next((one for one in self.on if held <= {*one.substrates}), None)
        names = ("mechanism", "failing_shows", "sound_shows", "remedy", "remedy_classes")
        words = {name: said for name in names if told and (said := getattr(told, name))}
        return replace(self, predictions=kept, **words)

    @property
    def rules_out(self) -> tuple[Prediction, ...]:
        """The readings that would exclude the cause."""
        return tuple(one for one in self.predictions if one.direction is Direction.EXCLUDED)


@dataclass(frozen=True, kw_only=True)
class Knowledge:
    """Causes, observations, tests and sources; unchanging."""

    causes: tuple[Cause, ...]
    observations: tuple[Observation, ...]
    tests: Mapping[str, RegisteredTest] = field(default_factory=dict)
    works: Mapping[str, Work] = field(default_factory=dict)

    @cached_property
    def cause(self) -> Mapping[str, Cause]:
        """The causes by identifier."""
        return {one.id: one for one in self.causes}

    @cached_property
    def observation(self) -> Mapping[str, Observation]:
        """The observations by key."""
        return {one.key: one for one in self.observations}

    def known_from(self, cause: Cause) -> tuple[str, ...]:
        """Return the works that a cause is known from, each with the part and how it is known."""
        held = ((self.works.get(one.source), one) for one in cause.sources)
        return tuple(
            f"{work.citation if work else one.source}; {one.section} ({_known(one.status)})"
            for work, one in held
        )

    @cached_property
    def agreeing(self) -> Mapping[tuple[str, str], int]:
        """How many causes each value of an observation speaks for."""
        return Counter(
            pair
            for cause in self.causes
            for pair in {(p.key, v) for p in cause.predictions if p.direction in FOR
                         for v in p.values}
        )  # fmt: skip

    @cached_property
    def groups(self) -> Mapping[str, tuple[str, ...]]:
        """The keys of each group of evidence."""
        held: dict[str, list[str]] = {}
        for one in self.observations:
            held.setdefault(one.group, []).append(one.key)
        return {name: tuple(keys) for name, keys in held.items()}


def _known(status: str) -> str:
    """Return how a part of a work is known, in running words: "read in extract or abstract"."""
    return status.lower().replace(" (", " in ").rstrip(")")
