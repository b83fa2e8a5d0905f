"""A value beside its limits: the one place where a check of the application is made."""

from dataclasses import dataclass

from workbench.analysis.application.laid import Laid
from workbench.analysis.application.results import Aspect, Check, Verdict
from workbench.records import Source
from workbench.records.codes import Quality
from workbench.trade.showing import Kind, Showing


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """A value as found: between `low` and `high`, from these records.

    Attributes:
        low: Least that it can be; None where it is not known.
        high: Most that it can be.
        said: What it is, in words, or why it is not known.
        quality: How far the records can be trusted.
        sources: The records.
    """

    low: float | None = None
    high: float | None = None
    said: str = ""
    quality: Quality = Quality.FAIR
    sources: tuple[Source, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What is asked for, and where.

    Attributes:
        least: Least; None for no lower limit.
        most: Most; None for no upper limit.
        source: Where it stands.
    """

    least: float | None = None
    most: float | None = None
    source: str = ""

    @property
    def something(self) -> bool:
        """Whether anything is asked for."""
        return self.least is not None or self.most is not None


def judge(
    laid: Laid, aspect: Aspect, kind: Kind, found: Found, asked: Asked, showing: Showing
) -> Check:
    """Return the check of what was found against what is asked for."""
    verdict = _verdict(found, asked)
    return Check(
        aspect=aspect,
        area=laid.area.ref,
        order=laid.order,
        coat=laid.name,
        kind=kind,
        low=found.low,
        high=found.high,
        least=asked.least,
        most=asked.most,
        verdict=verdict,
        words=_words(kind, found, asked, showing),
        limit_source=asked.source,
        quality=found.quality,
        sources=found.sources,
    )


def _verdict(found: Found, asked: Asked) -> Verdict:
    if found.low is None or found.high is None:
        return Verdict.UNKNOWN
    short = asked.least is not None and found.high < asked.least
    over = asked.most is not None and found.low > asked.most
    if short or over:
        return Verdict.OUTSIDE
    may_be_short = asked.least is not None and found.low < asked.least
    may_be_over = asked.most is not None and found.high > asked.most
    return Verdict.OPEN if may_be_short or may_be_over else Verdict.INSIDE


def _words(kind: Kind, found: Found, asked: Asked, showing: Showing) -> str:
    if found.low is None or found.high is None:
        return found.said
    near = _nearest(found.low, found.high, asked)
    low = showing.value(kind, found.low, apart_from=near)
    high = showing.value(kind, found.high, apart_from=near)
    value = low if low == high else f"{low} to {high}"
    limits = " and ".join(_limits(kind, found, asked, showing))
    said = f"{found.said}: " if found.said else ""
    return f"{said}{value}; {limits} asked for"


def _limits(kind: Kind, found: Found, asked: Asked, showing: Showing) -> list[str]:
    said = []
    if asked.least is not None:
        said.append(f"at least {showing.value(kind, asked.least, apart_from=found.low)}")
    if asked.most is not None:
        said.append(f"at most {showing.value(kind, asked.most, apart_from=found.high)}")
    return said


def _nearest(low: float, high: float, asked: Asked) -> float | None:
    bounds = [one for one in (asked.least, asked.most) if one is not None]
    middle = (low + high) / 2
    return min(bounds, key=lambda bound: abs(bound - middle)) if bounds else None
