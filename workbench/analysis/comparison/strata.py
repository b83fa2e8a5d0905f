"""What readings may only be compared within, and whole areas as the units of chance."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from workbench.analysis.comparison.permutation import Flags, Floats, Permuted, permuted

_MOST_COUNTED = 15
_DRAWS = 9_999
_BAY = "bay"
_ENOUGH = 0.5
"""Share of readings that must lie in strata with both groups for stratifying to be of use."""


@dataclass(frozen=True, slots=True)
class Strata:
    """The strata of some readings.

    Attributes:
        names: What they are strata of: "day", "operator".
        labels: The stratum of each reading.
        remarks: What could not be told apart from the groups, as sentences.
    """

    names: tuple[str, ...]
    labels: tuple[tuple[object, ...], ...]
    remarks: tuple[str, ...]


def strata_of(
    first: Flags,
    recorded: Mapping[str, Sequence[object | None]],
    bays: Sequence[str] = (),
) -> Strata:
    """Return the strata that keep the groups comparable.

    Readings are stratified by each thing that is recorded for all of them, varies, and still
    leaves half of the readings beside some of the other group. One that does not is named in a
    remark: its effect cannot be told from that of the groups.

    Args:
        first: Which readings belong to the first group.
        recorded: By name, what is recorded of each reading; None or empty is not recorded.
        bays: The bay of each reading. Where bays hold one group only, that is the question
            itself, and nothing is remarked.
    """
    names: list[str] = []
    labels: list[tuple[object, ...]] = [()] * first.size
    remarks = []
    for name, values in {**recorded, _BAY: bays}.items():
        told = len(values) == first.size and all(value not in (None, "") for value in values)
        if not told or len(set(values)) < 2:
            continue
        finer = [(*label, value) for label, value in zip(labels, values, strict=True)]
        if _mixed_share(first, finer) >= _ENOUGH:
            names.append(name)
            labels = finer
        elif name != _BAY:
            remarks.append(f"The groups differ in {name} as well: its effect is not told apart.")
    return Strata(tuple(names), tuple(labels), tuple(remarks))


def _mixed_share(first: Flags, labels: Sequence[tuple[object, ...]]) -> float:
    """Return the share of readings whose stratum holds both groups."""
    groups: dict[tuple[object, ...], set[bool]] = {}
    for label, mine in zip(labels, first.tolist(), strict=True):
        groups.setdefault(label, set()).add(mine)
    return sum(len(groups[label]) == 2 for label in labels) / len(labels)


def areas_permuted(
    scores: Floats, first: Flags, areas: Sequence[str], *, fewest: int, seed: int = 0
) -> Permuted | None:
    """Return p of exchanging whole areas between the groups; None with fewer than `fewest`.

    An area stands for the mean of its scores: neighbouring readings share their fate.
    """
    names = list(dict.fromkeys(areas))
    if len(names) < fewest:
        return None
    inside = [np.array([area == name for area in areas], bool) for name in names]
    means = np.array([scores[here].mean() for here in inside])
    mine = np.array([first[here].mean() > 0.5 for here in inside], bool)
    return permuted(means, mine, seed=seed)


def signs_exchanged(parts: Floats, areas: Sequence[str], *, fewest: int) -> float | None:
    """Return two-sided p of whole areas whose parts of a difference are of either sign by chance.

    For readings of which many are only bounds; None with fewer areas than `fewest`.

    Args:
        parts: What each reading adds to the difference, of mean zero by chance alone.
        areas: The area of each reading.
        fewest: Areas needed.
    """
    names = list(dict.fromkeys(areas))
    if len(names) < fewest:
        return None
    sums = np.array([parts[[area == name for area in areas]].sum() for name in names])
    if len(names) <= _MOST_COUNTED:
        signs = 1 - 2 * ((np.arange(2 ** len(names))[:, None] >> np.arange(len(names))) & 1)
    else:
        signs = np.random.default_rng(0).choice((-1, 1), (_DRAWS, len(names)))
    far = np.abs(signs @ sums) >= abs(sums.sum()) - 1e-9 * np.abs(sums).sum()
    return float(far.mean()) if len(names) <= _MOST_COUNTED else (int(far.sum()) + 1) / (_DRAWS + 1)
