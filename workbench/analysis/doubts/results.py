"""What a doubt is: a record, the rule behind it, and what it does to the use of the reading."""

from dataclasses import dataclass
from enum import StrEnum
from typing import Self

from workbench.records import DoubtAnswer, Effect, Record, Source
from workbench.trade.basis import Basis


class Rule(StrEnum):
    """The rules by which a careful reader doubts a reading."""

    CALIBRATION = "instrument out of calibration"
    TOO_FAST = "stress rose too fast"
    TOO_SLOW = "stress rose too slowly"
    TOO_LONG = "the pull took too long"
    GLUE_SHARE = "glue share over the limit"
    NOT_CUT_ROUND = "not cut round the fixture"
    GLUE_CURE = "glue cured too short"
    RESCALED = "gauge calibrated for another size"
    FIXTURE_SIZE = "fixture of another size than usual"
    NO_STRESS = "no stress follows"
    NO_BREAK = "break not given in full"
    TOO_FEW = "too few tests in the area"
    POOLED_METHODS = "pooled across methods"
    POOLED_RATES = "pooled across rates"
    SURFACE_WET = "surface wet"
    MOISTURE_AIR = "moisture test outside its conditions"
    MOISTURE_DEPTH = "probe not at the depth asked for"
    NO_CONTROL = "no control"
    NO_CONTRAST = "read only where it fails"
    DEVIATION = "deviation reported by the laboratory"
    GAUGE = "gauge does not suit the substrate"
    FEW_READINGS = "too few readings at the spot"
    FILM_RANGE = "film outside the range of the method"
    OFF_SCALE = "rating off the scale"
    OUTSIDE_AREA = "place outside its area"
    SIZES_DIFFER = "size and outline differ"
    BEFORE_COAT = "test before the coat was laid"
    BEFORE_SAMPLE = "result before the sample was taken"
    FILM_FAR = "film far from what is specified"
    STRESS_FAR = "stress that cannot be believed"
    TWICE = "entered twice"


SLIPS = frozenset(
    {
        Rule.OUTSIDE_AREA, Rule.SIZES_DIFFER, Rule.BEFORE_COAT, Rule.BEFORE_SAMPLE, Rule.FILM_FAR,
        Rule.STRESS_FAR, Rule.TWICE,
    }
)  # fmt: skip
"""Rules whose doubts a correction settles, and no further test."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Doubt:
    """One doubt about one record.

    Attributes:
        source: The record in doubt.
        rule: The rule that raises it.
        words: What is doubtful, with the numbers.
        basis: Where the rule stands, and how that is known.
        effect: What the doubt does to the use of the reading, unanswered.
        answer: What a person decided; None while nobody has.
        shared: What is doubtful about all records that were mistaken in this way; else empty.
    """

    source: Source
    rule: Rule
    words: str
    basis: Basis
    effect: Effect
    answer: DoubtAnswer | None = None
    shared: str = ""

    @classmethod
    def about(
        cls, record: Record, rule: Rule, words: str, basis: Basis, effect: Effect = Effect.NONE
    ) -> Self:
        """Return a doubt about `record`; most do nothing to the use of the reading."""
        return cls(source=record.source, rule=rule, words=words, basis=basis, effect=effect)

    @property
    def holds(self) -> Effect:
        """The effect that holds: the one decided; nothing is set aside before a person decides."""
        if self.answer:
            return self.answer.effect
        return Effect.NONE if self.effect is Effect.SET_ASIDE else self.effect

    @property
    def waits(self) -> bool:
        """Whether it would set the reading aside, and waits for a person to decide."""
        return self.answer is None and self.effect is Effect.SET_ASIDE

    @property
    def is_open(self) -> bool:
        """Whether nobody has answered it yet."""
        return self.answer is None
