"""What the check of an application returns: every computed value beside its limit."""

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from workbench.records import Source
from workbench.records.codes import Condition, Event, Quality
from workbench.trade.curing import Rests
from workbench.trade.showing import Kind


class Aspect(StrEnum):
    """What is checked of a coat on an area."""

    RECOAT = "interval to the next coat"
    SERVICE = "cure before service"
    DEW_MARGIN = "margin above the dew point"
    TEMPERATURE = "temperature"
    HUMIDITY = "relative humidity"
    MIX = "mix ratio"
    THINNER = "thinner"
    THICKNESS = "thickness"
    WET_FILM = "film that the wet film leaves"
    CONSUMPTION = "film that the amount used can give"


class Verdict(StrEnum):
    """Where a value lies to its limits."""

    OUTSIDE = "outside"
    OPEN = "the records leave it open"
    UNKNOWN = "not known"
    INSIDE = "inside"


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """One value of one coat on one area, against what is asked for.

    Attributes:
        aspect: What is checked.
        area: Ref of the area.
        order: Order of the coat.
        coat: What the coat is called.
        kind: Kind of quantity of all numbers here; they are in its SI unit.
        low: Least that the value can be, as precisely as it was recorded; None where not known.
        high: Most that it can be.
        least: Least that is asked for; None for no lower limit.
        most: Most that is asked for; None for no upper limit.
        verdict: Where the value lies.
        words: The finding in a sentence.
        limit_source: Where the limit stands.
        quality: How far the records behind the value can be trusted.
        sources: The records behind it.
    """

    aspect: Aspect
    area: str
    order: int
    coat: str
    kind: Kind
    low: float | None
    high: float | None
    least: float | None
    most: float | None
    verdict: Verdict
    words: str
    limit_source: str
    quality: Quality
    sources: tuple[Source, ...]

    @property
    def margin(self) -> float | None:
        """How far the value surely is inside its nearest limit; negative when it is beyond.

        Where the records leave the value open, the worst that they permit.
        """
        if self.low is None or self.high is None:
            return None
        room = [] if self.least is None else [self.low - self.least]
        room += [] if self.most is None else [self.most - self.high]
        return min(room) if room else None


@dataclass(frozen=True, slots=True)
class ApplicationCheck:
    """All checks of a case, area by area and coat by coat."""

    checks: tuple[Check, ...]

    @property
    def gaps(self) -> tuple[Check, ...]:
        """What could not be checked because an entry is blank; it counts for nobody."""
        return tuple(one for one in self.checks if one.verdict is Verdict.UNKNOWN)


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """A coat on an area as a span of time."""

    area: str
    order: int
    name: str
    start: datetime
    end: datetime
    sources: tuple[Source, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """The recoat window after a coat, at the temperature that was there.

    Attributes:
        area: Ref of the area.
        order: Order of the coat that it follows.
        opens: When the next coat may go on at the earliest.
        closes: When it must be on at the latest; None for no maximum, or none known.
        rests: What the window rests on.
        missed: Whether the next coat went on outside it; None where that is not known.
        followed: When the next coat was begun; None where that is not known.
        laid_until: When the next coat was finished; None where that is not known.
    """

    area: str
    order: int
    opens: datetime
    closes: datetime | None
    rests: Rests | None
    missed: bool | None
    followed: datetime | None
    laid_until: datetime | None


@dataclass(frozen=True, slots=True, kw_only=True)
class MarginAt:
    """The margin above the dew point at one moment.

    Attributes:
        time: When.
        margin_k: Surface above dew point, in K.
        areas: Refs of the areas it was read for; empty for the whole site.
        working: Whether a coat was going on in one of them at the time.
        required_k: The margin asked for then.
        source: The record.
    """

    time: datetime
    margin_k: float
    areas: tuple[str, ...]
    working: bool
    required_k: float
    source: Source


@dataclass(frozen=True, slots=True, kw_only=True)
class Happened:
    """Something that happened to an area other than a coat."""

    area: str
    event: Event
    start: datetime
    end: datetime
    source: Source


@dataclass(frozen=True, slots=True, kw_only=True)
class Timeline:
    """What was applied where and when, with recoat windows and dew-point margins.

    Attributes:
        areas: Refs of the areas, in the order shown.
        names: Name of each area by its ref.
        conditions: Condition of each area by its ref.
        bars: The coats.
        openings: The recoat windows.
        margins: The margins above the dew point, in time.
        events: What else happened between the first coat and the last.
    """

    areas: tuple[str, ...]
    names: dict[str, str]
    conditions: dict[str, Condition]
    bars: tuple[Bar, ...]
    openings: tuple[Opening, ...]
    margins: tuple[MarginAt, ...]
    events: tuple[Happened, ...]
