"""The table of known bands, and which chemistries a set of peaks is a candidate for."""

import tomllib
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from workbench.analysis.spectra.peaks import Peak
from workbench.resources import resource


@dataclass(frozen=True, slots=True)
class Chemistry:
    """A chemistry and where its bands stand.

    Attributes:
        id: Short name.
        title: What a person reads.
        bands: Pairs of position in 1/cm and group.
        note: What it is easily taken for.
        status: Where the positions come from.
    """

    id: str
    title: str
    bands: tuple[tuple[float, str], ...]
    note: str
    status: str


@dataclass(frozen=True, slots=True)
class Candidate:
    """How many bands of a chemistry were found: a candidate, never a verdict.

    Attributes:
        chemistry: The chemistry.
        found: Pairs of the table's position and the position found, in 1/cm.
        missing: Positions of its bands that were looked for and not found.
        outside: Positions beyond the spectrum's range.
    """

    chemistry: Chemistry
    found: tuple[tuple[float, float], ...]
    missing: tuple[float, ...]
    outside: tuple[float, ...]

    @property
    def share(self) -> float:
        """Share of the bands within range that were found, 0 to 1."""
        looked_for = len(self.found) + len(self.missing)
        return len(self.found) / looked_for if looked_for else 0.0


@cache
def band_table() -> tuple[Chemistry, ...]:
    """Return the chemistries of the band table."""
    said = tomllib.loads(resource("bands.toml").read_text("utf-8"))["chemistry"]
    return tuple(
        Chemistry(
            one["id"],
            one["title"],
            tuple((float(position), group) for position, group in one["bands"]),
            one.get("note", ""),
            one["status"],
        )
        for one in said
    )


def candidates(
    peaks: Sequence[Peak], *, low: float, high: float, within: float = 6.0
) -> tuple[Candidate, ...]:
    """Return the chemistries of which at least two thirds of the bands were found, best first.

    Args:
        peaks: The bands of a spectrum.
        low: Lower end of its range, in 1/cm.
        high: Upper end.
        within: How far a band may stand from the table's position, in 1/cm.
    """
    weighed = (_weigh(one, peaks, low, high, within) for one in band_table())
    likely = [one for one in weighed if one.share >= 2 / 3]
    return tuple(sorted(likely, key=lambda one: (-one.share, -len(one.found))))


def _weigh(
    chemistry: Chemistry, peaks: Sequence[Peak], low: float, high: float, within: float
) -> Candidate:
    found, missing, outside = [], [], []
    for position, _ in chemistry.bands:
        if not low <= position <= high:
            outside.append(position)
            continue
        nearest = min(peaks, key=lambda peak: abs(peak.position - position), default=None)
        if nearest is not None and abs(nearest.position - position) <= within:
            found.append((position, nearest.position))
        else:
            missing.append(position)
    return Candidate(chemistry, tuple(found), tuple(missing), tuple(outside))
