"""What the pull-offs say together about the strength of each plane: the named results.

All stresses are in MPa, all shares fractions of the face, 0 to 1. The strength of a plane is the
stress at which that plane alone would part. Strength here is no structural opinion.
"""

from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum
from typing import Self

from workbench.analysis.comparison.results import Comparison
from workbench.records import Dossier, Plane, Source
from workbench.records.codes import Condition, Treatment
from workbench.trade.pull_off import SMALLEST_READABLE_MPA
from workbench.trade.settings import settings_of


@dataclass(frozen=True, slots=True, kw_only=True)
class StrengthSettings:
    """Choices that a person may change; every result is printed with those it was made with.

    Attributes:
        confidence: Of intervals and bounds.
        low_fractile: Share of spots weaker than the low fractile that is stated.
        glue_repeat: Share of glue breaks above which a test should be repeated (common practice).
        smallest_share: Shares below this are under the accuracy of reading and count as none.
        smallest_readable_mpa: Bound of a coating that came away before load, where the pull
            itself says none.
        fewest_pulls: With fewer pulls than this no number is given for a plane.
        least_broken: With less than this broken here, in faces and over all pulls together, a
            lower bound is given instead of an estimate.
        fewest_areas: With fewer areas than this no difference is called significant.
        seed: Of drawn permutations, where there are too many to count them all.
    """

    confidence: float = 0.95
    low_fractile: float = 0.05
    glue_repeat: float = 0.5
    smallest_share: float = 0.05
    smallest_readable_mpa: float = SMALLEST_READABLE_MPA
    fewest_pulls: int = 3
    least_broken: float = 0.5
    fewest_areas: int = 6
    seed: int = 4624

    @classmethod
    def of(cls, dossier: Dossier) -> Self:
        """Return the settings with what the case has chosen where sources disagree."""
        chosen = settings_of(dossier)
        return cls(
            glue_repeat=chosen.glue_limit_percent / 100,
            smallest_readable_mpa=chosen.smallest_readable_mpa,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Film:
    """What the fixture stood on; a stripped coat or a trial patch is never mixed with the rest.

    Attributes:
        on: Order of the coat under the fixture where coats above it were stripped; else None.
        treatment: What was done to the surface of a trial patch; else None.
    """

    on: int | None = None
    treatment: Treatment | None = None

    @property
    def untouched(self) -> bool:
        """Whether the film is as it was found, all coats on."""
        return self.on is None and self.treatment is None

    def __str__(self) -> str:
        """Return the film in words."""
        stripped = [] if self.on is None else ["bare substrate" if self.on == 0 else self._coats]
        trial = [f"trial patch, {self.treatment.replace('_', ' ')}"] if self.treatment else []
        return ", ".join(stripped + trial) or "untouched film"

    @property
    def _coats(self) -> str:
        return f"stripped down to coat {self.on}"


UNTOUCHED = Film()


@dataclass(frozen=True, slots=True, kw_only=True)
class Pull:
    """One pull-off as it enters the strength of every plane.

    Attributes:
        source: The pull-off.
        location: Its location.
        area: The area it lies in; empty where the case names none.
        bay: The area that this area lies in, or itself.
        system: The coating system there; empty where the case names none.
        condition: The condition of the area.
        film: What the fixture stood on.
        mpa: Stress at the break; for a coating that came away, the smallest readable stress.
        came_away: Whether the coating left before load: strength is at most `mpa`.
        shares: Share of the face by plane, glue planes too; only shares that are given.
        open_shares: Planes that are named without a share.
        unnamed: Share of the face for which no plane is given.
        day: Day of the test.
        operator: Who tested.
        method: The standard it follows.
    """

    source: Source
    location: str
    area: str
    bay: str = ""
    system: str
    condition: Condition
    film: Film = UNTOUCHED
    mpa: float
    came_away: bool = False
    shares: tuple[tuple[Plane, float], ...] = ()
    open_shares: tuple[Plane, ...] = ()
    unnamed: float = 0.0
    day: date | None = None
    operator: str = ""
    method: str = ""

    @property
    def glue(self) -> float:
        """Share of the face in the glue planes."""
        return sum(share for plane, share in self.shares if plane.in_glue)

    @property
    def main_plane(self) -> Plane | None:
        """The plane with the largest share given; None where no share is."""
        return max(self.shares, key=lambda pair: pair[1])[0] if self.shares else None

    def share(self, plane: Plane) -> float:
        """Share of the face that broke in `plane`."""
        return next((share for one, share in self.shares if one == plane), 0.0)


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A pull-off that speaks for no plane.

    Attributes:
        source: The pull-off.
        wrong: Why it is left out.
        right: What would let it in.
    """

    source: Source
    wrong: str
    right: str

    def __str__(self) -> str:
        """Return the sentence."""
        return f"{self.source.label}: {self.wrong}; {self.right}"


class Method(StrEnum):
    """How the number of a group was come by."""

    ESTIMATE = "estimate"
    LOWER_BOUND = "lower bound"
    UPPER_BOUND = "upper bound"
    TOO_FEW = "too few"


@dataclass(frozen=True, slots=True, kw_only=True)
class Interval:
    """A value with its interval; an end that the data do not give is None."""

    mpa: float | None
    low_mpa: float | None
    high_mpa: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class LowerBound:
    """What can be said of a plane in which nothing broke.

    Attributes:
        lowest_mpa: Lowest reading: every spot held at least its own reading. A fact.
        share_above_lowest: With the stated confidence at least this share of spots is stronger
            than the lowest reading (success run).
        sign_mpa: The median is at least this, whatever the law of strength (k-th highest
            reading); None with fewer readings than the confidence needs.
        sign_confidence: Confidence that the median is at least the lowest reading, 1 − 0.5^n.
        envelope_mpa: The median is at least this if strengths follow a Weibull law with a
            coefficient of variation between 15 and 52 %.
    """

    lowest_mpa: float
    share_above_lowest: float
    sign_mpa: float | None
    sign_confidence: float
    envelope_mpa: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One step of the curve without a model: above `mpa` the share `surviving` holds."""

    mpa: float
    surviving: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Curve:
    """The estimate without a model (Kaplan-Meier; Turnbull where coating came away)."""

    steps: tuple[Step, ...]
    median_mpa: float | None
    low_mpa: float | None
    high_mpa: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Naive:
    """The two usual answers, shown so that a reader sees what they hide.

    Attributes:
        mean_mpa: Mean of all readings of the condition, wherever they broke.
        mean_without_glue_mpa: Mean of those with no more glue than the setting allows.
        n: How many readings stand behind the first.
        n_without_glue: How many stand behind the second.
    """

    mean_mpa: float | None
    mean_without_glue_mpa: float | None
    n: int
    n_without_glue: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """The strength of one plane in one condition.

    `n = broke_here + at_least + at_most`.

    Attributes:
        condition: The condition of the areas.
        system: The coating system, since a letter means another layer in another system.
        plane: The plane.
        plane_name: The plane in words, never a letter alone.
        film: What the fixtures stood on.
        n: Pulls that say something of this plane.
        broke_here: Of these, pulls that broke here, wholly or in part.
        at_least: Of these, pulls that broke elsewhere: the plane is at least that strong.
        at_most: Of these, pulls whose coating came away here before load.
        weight: Sum of the shares that broke here under load.
        method: How the number was come by.
        median_mpa: Median strength; None where only a bound can be given.
        low_mpa: Lower end of the interval of the median, or the lower bound where none broke.
        high_mpa: Upper end, or the upper bound where all came away.
        confidence: Of interval and bounds.
        at_least_mpa: One-sided lower limit of the median at the same confidence.
        fractile: Low fractile of the strength, with its interval.
        lower_bound: What can be said where nothing broke here.
        curve: The estimate without a model.
        second: The lognormal likelihood alone, as a second opinion; needs three breaks here.
        spread: Standard deviation of ln strength.
        weibull_weight: Weight of the Weibull law in the average, 0 to 1.
        tentative: Whether the estimate rests on the model more than on breaks here.
        beyond_readings: Whether the median lies above the highest reading.
        disagree: Whether estimate and curve without a model disagree.
        remarks: What a reader must know, as sentences.
        naive: What the usual means would have said of the condition.
        sources: The pull-offs behind the group, in the order of the case.
    """

    condition: Condition
    system: str
    plane: Plane
    plane_name: str
    film: Film
    n: int
    broke_here: int
    at_least: int
    at_most: int
    weight: float
    method: Method
    median_mpa: float | None = None
    low_mpa: float | None = None
    high_mpa: float | None = None
    confidence: float = 0.95
    at_least_mpa: float | None = None
    fractile: Interval | None = None
    lower_bound: LowerBound | None = None
    curve: Curve | None = None
    second: Interval | None = None
    spread: float | None = None
    weibull_weight: float | None = None
    tentative: bool = False
    beyond_readings: bool = False
    disagree: bool = False
    remarks: tuple[str, ...] = ()
    naive: Naive
    sources: tuple[Source, ...] = ()

    @property
    def told_low_mpa(self) -> float | None:
        """The lower end that is told: the limit told alone, or that of the interval."""
        return self.at_least_mpa if self.extrapolated else self.low_mpa

    @property
    def told_high_mpa(self) -> float | None:
        """The upper end that is told; None where only a lower limit is."""
        return None if self.extrapolated else self.high_mpa

    @property
    def extrapolated(self) -> bool:
        """Whether only the lower limit is worth telling first: a bound, or a median beyond it.

        A share of a face that broke here at a low stress gives an estimate that lies far above
        every reading; what it says firmly is "at least".
        """
        if self.method is Method.LOWER_BOUND:
            return True
        return self.tentative and self.beyond_readings


@dataclass(frozen=True, slots=True, kw_only=True)
class StrengthResult:
    """All that the pull-offs of a case say together.

    Attributes:
        groups: Untouched film, by condition, system and plane, from the substrate up.
        trials: Stripped coats and trial patches, apart.
        comparisons: Between conditions, plane by plane.
        pulls: The pull-offs that entered, in the order of the case.
        left_out: The pull-offs that did not, and why.
        remarks: What holds for all of it, as sentences; the assumptions stand here.
        settings: The choices it was made with.
    """

    groups: tuple[Group, ...]
    trials: tuple[Group, ...] = ()
    comparisons: tuple[Comparison, ...] = ()
    pulls: tuple[Pull, ...] = ()
    left_out: tuple[LeftOut, ...] = ()
    remarks: tuple[str, ...] = ()
    settings: StrengthSettings = field(default_factory=StrengthSettings)

    def group(self, condition: Condition, plane: Plane, system: str | None = None) -> Group | None:
        """Return the group of untouched film for a condition and plane, or None."""
        for group in self.groups:
            if (group.condition, group.plane) == (condition, plane) and (
                system is None or group.system == system
            ):
                return group
        return None
