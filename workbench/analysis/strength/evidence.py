"""What the pulls of one group say of one plane: exact, at least, at most, each with its weight."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Self

import numpy as np
from numpy.typing import NDArray

from workbench.analysis.strength.results import Pull
from workbench.records import Plane, Source

Floats = NDArray[np.float64]


def sums_by(where: NDArray[np.intp], weight: Floats, size: int) -> Floats:
    """Return the sum of `weight` at each of `size` places."""
    return np.bincount(where, weight, size).astype(np.float64)


@dataclass(frozen=True, slots=True, kw_only=True)
class Evidence:
    """Readings of one plane, each split by area into what broke here and what held.

    A share w of the face that broke here at stress x counts as w·ln f(x) + (1 − w)·ln S(x): the
    part that broke elsewhere held at least x. A share w that came away before load counts as
    w·ln F(x), and the rest of that face bore no load and counts for nothing.

    Attributes:
        mpa: Stresses, all above 0.
        broke: Weight that broke here at that stress, 0 to 1.
        held: Weight that held at least that stress.
        came_away: Weight that is at most that stress.
    """

    mpa: Floats
    broke: Floats
    held: Floats
    came_away: Floats

    @classmethod
    def of(cls, mpa: Iterable[float], broke: Iterable[float], came_away: Iterable[float]) -> Self:
        """Return evidence from shares: what neither broke here nor came away held."""
        x, shares, away = (np.asarray(tuple(one), float) for one in (mpa, broke, came_away))
        return cls(mpa=x, broke=shares, held=np.where(away > 0, 0.0, 1.0 - shares), came_away=away)

    @property
    def weight(self) -> float:
        """Sum of the shares that broke here under load."""
        return float(self.broke.sum())

    @property
    def held_mpa(self) -> Floats:
        """Stresses of the pulls that held whole, ascending."""
        return np.sort(self.mpa[(self.broke == 0) & (self.came_away == 0)])


def says_of(pull: Pull, plane: Plane) -> tuple[float, float] | None:
    """Return the shares of one pull that broke and that came away in `plane`, or None.

    None: the pull says nothing of the plane. It stood on a coat below it, another plane came
    away before load, or the source leaves open how much broke here.
    """
    share = pull.share(plane)
    if pull.film.on is not None and (plane.upper or 0) > pull.film.on:
        return None
    if pull.came_away:
        return (0.0, share) if share else None
    if not share and (pull.unnamed or plane in pull.open_shares):
        return None
    return (share, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """Evidence on a plane with the pulls it comes from, one for one."""

    evidence: Evidence
    pulls: tuple[Pull, ...]

    @classmethod
    def of(cls, pulls: Iterable[Pull], plane: Plane) -> Self:
        """Return what `pulls` say of `plane`."""
        said = [(pull, shares) for pull in pulls if (shares := says_of(pull, plane))]
        return cls(
            evidence=Evidence.of(
                (pull.mpa for pull, _ in said),
                (broke for _, (broke, _) in said),
                (away for _, (_, away) in said),
            ),
            pulls=tuple(pull for pull, _ in said),
        )

    @property
    def sources(self) -> tuple[Source, ...]:
        """The pull-offs."""
        return tuple(pull.source for pull in self.pulls)
