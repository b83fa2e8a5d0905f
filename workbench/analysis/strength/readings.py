"""From pull-off records to pulls: which may speak for a plane, and why the others may not."""

import math
from dataclasses import dataclass

from workbench.analysis.strength.results import Film, LeftOut, Pull, StrengthSettings
from workbench.records import Area, Breaks, Coat, Dossier, Location, Plane, PullOff
from workbench.records.codes import YesNo
from workbench.trade.pull_off import stress_of


@dataclass(frozen=True, slots=True)
class Sorted:
    """The pull-offs of a case: those that may speak, and those left out with the reason."""

    pulls: tuple[Pull, ...]
    left_out: tuple[LeftOut, ...]


def read_pulls(dossier: Dossier, settings: StrengthSettings | None = None) -> Sorted:
    """Return the pulls of a case and those left out; nothing is dropped without a reason."""
    chosen = settings or StrengthSettings.of(dossier)
    records = dossier.all(PullOff, withdrawn=True)
    read = [_read(record, dossier, chosen) for record in records]
    return Sorted(
        pulls=tuple(one for one in read if isinstance(one, Pull)),
        left_out=tuple(one for one in read if isinstance(one, LeftOut)),
    )


def _read(record: PullOff, dossier: Dossier, settings: StrengthSettings) -> Pull | LeftOut:
    location = dossier.find(Location, record.location)
    area = dossier.area(location.area) if location else None
    if area is None:
        wrong = f"no area is known for location “{record.location}”"
        return LeftOut(record.source, wrong, "a location that lies in an area of the case")
    coats = dossier.system_of(area)
    if why := _why_not(record, coats):
        return LeftOut(record.source, *why)
    stress = stress_of(record, smallest_readable_mpa=settings.smallest_readable_mpa)
    if stress.mpa is None:
        return LeftOut(record.source, stress.why_not, "the reading with its unit, and the fixture")
    if not (stress.mpa > 0 and math.isfinite(stress.mpa)):
        right = "the stress read, or “came away: yes” where the coating left before load"
        return LeftOut(record.source, f"the stress is {stress.mpa:g} MPa", right)
    return _pull(record, stress.mpa, area, dossier, settings)


def _why_not(record: PullOff, coats: tuple[Coat, ...]) -> tuple[str, str] | None:
    """Return what keeps a record out, and what would let it in."""
    if record.withdrawn:
        return f"withdrawn: {record.withdrawn}", "nothing to do"
    for fault in record.faults():
        return fault.wrong, fault.right
    if record.fixture is None and record.reading is not None:
        return "the fixture's size is not recorded", "the size of the fixture"
    return _why_no_break(record, coats)


def _why_no_break(record: PullOff, coats: tuple[Coat, ...]) -> tuple[str, str] | None:
    if record.breaks is None:
        return "where it broke is not recorded", "the shares of the break, as A/B 60; B 40"
    given = [share for share in record.breaks.shares if share.plane and share.percent]
    if not given:
        return "no share of the break is given", "the shares of the break, as A/B 60; B 40"
    if record.came_away is YesNo.YES and all(s.plane and s.plane.in_glue for s in given):
        return "the glue let go before load", "nothing to do: it says nothing of the coating"
    top = _top(record, coats)
    for share in given:
        if top is not None and share.plane and (share.plane.upper or 0) > top:
            return f"it names {share.plane}, above the coats that are there", "a plane of the stack"
    return None


def _top(record: PullOff, coats: tuple[Coat, ...]) -> int | None:
    """Return the order of the coat under the fixture; None where it is not known."""
    return record.on if record.on is not None else max((c.order for c in coats), default=None)


def _pull(
    record: PullOff,
    mpa: float,
    area: Area,
    dossier: Dossier,
    settings: StrengthSettings,
) -> Pull:
    breaks, coats = record.breaks or Breaks(()), dossier.system_of(area)
    shares, open_shares = _shares(breaks, settings.smallest_share)
    last = max((coat.order for coat in coats), default=None)
    return Pull(
        source=record.source,
        location=record.location,
        area=area.ref,
        bay=area.within or area.ref,
        system=coats[0].system if coats else "",
        condition=area.condition,
        film=Film(
            on=None if record.on == last else record.on, treatment=dossier.treatment_of(record)
        ),
        mpa=mpa,
        came_away=record.came_away is YesNo.YES,
        shares=shares,
        open_shares=open_shares,
        unnamed=_unnamed(breaks),
        day=record.date.day() if record.date else None,
        operator=record.operator,
        method=str(record.method),
    )


def _shares(
    breaks: Breaks, smallest: float
) -> tuple[tuple[tuple[Plane, float], ...], tuple[Plane, ...]]:
    """Return the shares given, as fractions, and the planes named without one."""
    named = [share for share in breaks.shares if share.plane]
    given = [(s.plane, s.percent / 100) for s in named if s.plane and s.percent is not None]
    open_shares = tuple(s.plane for s in named if s.plane and s.percent is None)
    return tuple(pair for pair in given if pair[1] >= smallest), open_shares


def _unnamed(breaks: Breaks) -> float:
    """Return the share of the face for which no plane is given."""
    nameless = [share for share in breaks.shares if share.plane is None]
    if any(share.percent is None for share in nameless):
        return max(0.0, 1 - breaks.total / 100)
    return sum(share.percent or 0 for share in nameless) / 100
