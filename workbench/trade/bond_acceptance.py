"""Whether bond results meet what is specified of their mean and of the smallest one.

A number here is a comparison with a specification, never a structural opinion.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple


class Bond(NamedTuple):
    """A bond required, in MPa: of the mean, and of the smallest single result."""

    mean: float
    single: float


class FloorBond(StrEnum):
    """Which values are taken for a rigid system under traffic; a second-hand page mixes rows."""

    STANDARD = "EN 1504-2, rigid with traffic: 2.0 (1.0) MPa"
    SECOND_HAND = "as one trade page states: 1.5 (1.0) MPa"


EN_1504_2 = {
    "flexible, no traffic": Bond(0.8, 0.5),
    "flexible, traffic": Bond(1.5, 1.0),
    "rigid, no traffic": Bond(1.0, 0.7),
    "rigid, traffic": Bond(2.0, 1.0),
}
"""Mean and smallest single in MPa (from memory)."""
_OVERLAY_CLASSES = ((2.1, "excellent"), (1.7, "very good"), (1.4, "good"), (0.7, "fair"))
"""From memory, with little confidence."""


class Verdict(StrEnum):
    """What a rule says of a set of results."""

    PASSED = "pass"
    FAILED = "fail"
    INCOMPLETE = "incomplete"


@dataclass(frozen=True, slots=True, kw_only=True)
class BondResult:
    """What the rule of mean and smallest single says.

    Attributes:
        verdict: Pass, fail, or incomplete with too few valid results.
        mean: Mean of the valid results; None where there is none.
        failed: Names of the results below the limit for a single one.
        valid: Names of the results that counted.
    """

    verdict: Verdict
    mean: float | None
    failed: tuple[str, ...]
    valid: tuple[str, ...]


def accept_bond(results: Mapping[str, float | None], required: Bond, needed: int = 3) -> BondResult:
    """Return whether results meet a bond required.

    Args:
        results: Stress in MPa by name; None for a result that does not count, such as a break in
            the glue below the limit.
        required: Mean and smallest single in MPa.
        needed: How many valid results the rule asks for.

    References:
        Mean of at least three normal results, abnormal ones replaced: AS 1012.24:2015 (READ).
    """
    valid = {name: mpa for name, mpa in results.items() if mpa is not None}
    mean = math.fsum(valid.values()) / len(valid) if valid else None
    failed = tuple(name for name, mpa in valid.items() if mpa < required.single)
    low = bool(failed) or (mean is not None and mean < required.mean)
    enough = len(valid) >= needed
    verdict = (Verdict.FAILED if low else Verdict.PASSED) if enough else Verdict.INCOMPLETE
    return BondResult(verdict=verdict, mean=mean, failed=failed, valid=tuple(valid))


def overlay_class(mpa: float) -> str:
    """Return the class of an overlay's bond in words (from memory, little confidence)."""
    return next((word for least, word in _OVERLAY_CLASSES if mpa >= least), "poor")
