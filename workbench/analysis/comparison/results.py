"""The named result of comparing two groups: effect first, then its interval, then p."""

from dataclasses import dataclass
from enum import StrEnum

from workbench.records import Source


class Effect(StrEnum):
    """What the effect is, in words."""

    RATIO_OF_MEDIANS = "ratio of medians"
    SHIFT = "difference (Hodges-Lehmann)"
    DOMINANCE = "dominance (Cliff's delta)"
    ODDS_RATIO = "odds ratio"


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """One of the two groups.

    Attributes:
        name: The condition, or the value of a feature, in words.
        n: Readings.
        areas: Areas they lie in.
        middle: Median, in the comparison's unit; None where only bounds can be given.
    """

    name: str
    n: int
    areas: int
    middle: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """Two groups against each other in one quantity.

    Attributes:
        quantity: What was compared, in words: "strength of B/C, body coat to finish".
        unit: Unit of the middles and of a shift; empty for ratings.
        one: The first group.
        other: The second group; the effect is one against other.
        effect: What kind of effect it is.
        value: The effect; None where the data give only a bound on it.
        low: Lower end of its interval; None where there is none.
        high: Upper end of its interval; None where there is none.
        confidence: Of the interval.
        p: Two-sided p of the exact or drawn permutation of readings (for strengths, among those
            still holding at each stress); None where there is nothing to exchange.
        p_areas: Two-sided p with whole areas as the units; None with fewer than the setting.
        p_logrank: Two-sided p of the log-rank test for censored readings; None otherwise.
        p_corrected: `p` corrected for all comparisons made beside it (Holm).
        looks: How many comparisons were made beside it, itself included.
        test: How `p` was come by, in words.
        strata: What readings were only compared within: "day", "operator"; empty for none.
        fewest_areas: Areas needed before a difference may be called significant.
        remarks: What a reader must know, as sentences.
        sources: The records behind it.
    """

    quantity: str
    unit: str = ""
    one: Side
    other: Side
    effect: Effect
    value: float | None = None
    low: float | None = None
    high: float | None = None
    confidence: float = 0.95
    p: float | None = None
    p_areas: float | None = None
    p_logrank: float | None = None
    p_corrected: float | None = None
    looks: int = 1
    test: str = ""
    strata: tuple[str, ...] = ()
    fewest_areas: int = 6
    remarks: tuple[str, ...] = ()
    sources: tuple[Source, ...] = ()

    @property
    def enough_areas(self) -> bool:
        """Whether there are areas enough to speak of chance at all."""
        return self.one.areas + self.other.areas >= self.fewest_areas

    @property
    def verdict(self) -> str:
        """What may be said of chance, in words; never "significant" with too few areas."""
        if not self.enough_areas:
            areas = self.one.areas + self.other.areas
            return f"described only: {areas} areas, {self.fewest_areas} needed to speak of chance"
        if self.p_corrected is None:
            return "not tested"
        corrected = "" if self.looks == 1 else f" after correction for {self.looks} comparisons"
        if self.p_corrected >= 1 - self.confidence:
            return f"not significant{corrected}"
        if self.p_areas is not None and self.p_areas >= 1 - self.confidence:
            return f"significant among readings{corrected}, but not with whole areas as the units"
        return f"significant{corrected}"
