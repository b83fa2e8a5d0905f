"""How many more pulls, where, and what the present ones can and cannot exclude."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtri

from workbench.analysis.strength.results import Group, Method
from workbench.records import Area, Dossier, Location, Outline, Quantity

Floats = NDArray[np.float64]

_MOST_TRIES = 2_000


@dataclass(frozen=True, slots=True, kw_only=True)
class PullsForPrecision:
    """How many pulls would narrow the interval of a plane's median.

    Attributes:
        present_ratio: Upper over lower end now; None where no interval is told.
        further: Further pulls, if as many break here as so far; None where none broke here.
        remarks: What it rests on, as sentences.
    """

    present_ratio: float | None
    further: int | None
    remarks: tuple[str, ...] = ()


def pulls_for_precision(
    group: Group, wanted_ratio: float = 1.5, *, power: float = 0.8
) -> PullsForPrecision:
    """Return how many further pulls would bring upper over lower end down to `wanted_ratio`.

    The width of ln median falls with the root of the breaks in the plane; as many pulls break in
    it as did so far. The allowance for chance is that of `power`.

    Raises:
        ValueError: The ratio wanted is not above 1.
    """
    if not wanted_ratio > 1:
        raise ValueError(f"an interval cannot have a ratio of {wanted_ratio:g}; give one above 1")
    if group.method is not Method.ESTIMATE or not (group.low_mpa and group.high_mpa):
        words = "Nothing broke here often enough to say how many pulls would."
        return PullsForPrecision(present_ratio=None, further=None, remarks=(words,))
    present = group.high_mpa / group.low_mpa
    breaks = max(group.weight + group.at_most, 0.5)
    per_pull = breaks / group.n
    z = float(ndtri((1 + group.confidence) / 2))
    needed = (2 * z * (group.spread or 0.3) / math.log(wanted_ratio)) ** 2 + z**2 / 2
    with_chance = needed + float(ndtri(power)) * math.sqrt(needed * (1 - min(per_pull, 1)))
    further = 0 if present <= wanted_ratio else max(1, math.ceil((with_chance - breaks) / per_pull))
    share = f"{breaks:.2g} of {group.n}"
    return PullsForPrecision(
        present_ratio=None if group.extrapolated else present,
        further=further,
        remarks=(f"If breaks fall here as often as so far ({share}).",),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class PullsForDifference:
    """How many pulls on each side would show a difference in strength.

    Attributes:
        each_side: Pulls needed on each side.
        power: Chance of showing the difference if it is there.
        risk: Two-sided risk of showing one that is not.
    """

    each_side: int
    power: float
    risk: float


def pulls_for_difference(
    ratio: float, spread: float = 0.3, share_here: float = 1.0, *, power: float = 0.8,
    risk: float = 0.05,
) -> PullsForDifference:  # fmt: skip
    """Return how many pulls on each side would show a ratio of medians, in one plane.

    Two-sample normal formula on ln strength, for breaks; pulls that break elsewhere are added by
    their share. Small numbers are raised by z²/4 for the t distribution (Guenther).

    Raises:
        ValueError: The ratio is not above 0 or is 1, or a share is not above 0.
    """
    if ratio <= 0 or ratio == 1 or not 0 < share_here <= 1:
        raise ValueError("give a ratio other than 1 and a share above 0, up to 1")
    z_risk, z_power = float(ndtri(1 - risk / 2)), float(ndtri(power))
    breaks = 2 * ((z_risk + z_power) * spread / math.log(ratio)) ** 2 + z_risk**2 / 4
    return PullsForDifference(
        each_side=math.ceil(breaks / share_here),
        power=power,
        risk=risk,
    )


class Against(StrEnum):
    """What the present pulls exclude of a median against a required strength."""

    MET = "a lower median is excluded"
    MISSED = "so high a median is excluded"
    OPEN = "neither side is excluded"
    NOTHING = "nothing is excluded"


def against(group: Group, required_mpa: float) -> Against:
    """Return what the present pulls exclude about the median of a plane and a strength.

    The ends held against it are those that are told of the plane, so that a strength within the
    interval that a reader sees is never called excluded.
    """
    low, high = group.told_low_mpa, group.told_high_mpa
    if low is not None and low >= required_mpa:
        return Against.MET
    if high is not None and high < required_mpa:
        return Against.MISSED
    bounded = group.method in (Method.LOWER_BOUND, Method.TOO_FEW)
    return Against.NOTHING if bounded and not group.broke_here else Against.OPEN


def random_points(outline: Outline, count: int, rng: np.random.Generator) -> Floats:
    """Return `count` points drawn at random within an outline, its holes left out, shape (n, 2).

    Raises:
        ValueError: No points can be found within it.
    """
    rings = [np.asarray(ring, float) for ring in outline.rings]
    low, high = rings[0].min(axis=0), rings[0].max(axis=0)
    kept: list[Floats] = []
    found = 0
    for _ in range(_MOST_TRIES):
        points = low + rng.random((max(64, 2 * count), 2)) * (high - low)
        inside = _inside(rings[0], points)
        for hole in rings[1:]:
            inside &= ~_inside(hole, points)
        kept.append(points[inside])
        found += int(inside.sum())
        if found >= count:
            return np.concatenate(kept)[:count]
    raise ValueError("no point lies within the outline; check its corners and holes")


def _inside(ring: Floats, points: Floats) -> NDArray[np.bool_]:
    """Return which points lie inside a ring, by crossings of a ray to the right."""
    x, y = points[:, :1], points[:, 1:]
    x0, y0 = ring[:, 0], ring[:, 1]
    x1, y1 = np.roll(x0, -1), np.roll(y0, -1)
    straddles = (y0 > y) != (y1 > y)
    rise = np.where(y1 == y0, 1.0, y1 - y0)
    crossing = x0 + (y - y0) / rise * (x1 - x0)
    return np.asarray((straddles & (x < crossing)).sum(axis=1) % 2 == 1, bool)


def plan_points(
    dossier: Dossier, wanted: Sequence[tuple[str, int]], *, seed: int = 4624
) -> tuple[Location, ...]:
    """Return new locations for further pulls, drawn at random within areas.

    Spots inside an area that lies within another are not drawn for the outer one. The draw is
    repeatable by its seed, which is written down with each location.

    Args:
        dossier: The case.
        wanted: Refs of areas with how many locations each.
        seed: Of the draw.

    Raises:
        ValueError: An area is not in the case, or has no outline.
    """
    rng = np.random.default_rng(seed)
    taken = {location.ref for location in dossier.all(Location, withdrawn=True)}
    return tuple(
        location
        for ref, count in wanted
        for location in _locations(dossier, ref, count, rng, taken, seed)
    )


def _locations(
    dossier: Dossier, ref: str, count: int, rng: np.random.Generator, taken: set[str], seed: int
) -> Iterable[Location]:
    area = dossier.area(ref)
    if area is None or area.outline is None:
        missing = "is not in the case" if area is None else "has no outline"
        raise ValueError(f"area “{ref}” {missing}; random points need one")
    inner = [one.outline.rings[0] for one in dossier.all(Area) if one.within == ref and one.outline]
    free = Outline((*area.outline.rings, *inner))
    for x, y in random_points(free, count, rng):
        name = _free_name(ref, taken)
        taken.add(name)
        yield Location(
            ref=name,
            area=ref,
            x=Quantity(f"{x:.1f}", "m"),
            y=Quantity(f"{y:.1f}", "m"),
            chosen=f"at random within {ref}, draw {seed}",
            origin="planned",
        )


def _free_name(ref: str, taken: set[str]) -> str:
    number = 1
    while f"{ref}-N{number}" in taken:
        number += 1
    return f"{ref}-N{number}"
