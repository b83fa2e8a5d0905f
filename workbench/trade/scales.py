"""Rating scales, and how one standard's rating reads on another's; directions differ.

ASTM D3359, D6677, D610, D714, D4214 and D4752 run up to the best; ISO 2409, 4628 and 8502-3 run
down to it.
"""

from bisect import bisect_left, bisect_right
from enum import StrEnum

_TAPE_BOUNDS = (0.0, 5.0, 15.0, 35.0, 65.0)
"""Percent removed: READ in two university pages for D3359; ISO 2409 from memory."""
_RUST_BOUNDS = (0.01, 0.03, 0.1, 0.3, 1.0, 3.0, 10.0, 16.0, 33.0, 50.0)
"""Percent rusted, upper bounds included, for ratings 10 to 1 of ASTM D610 (READ)."""
RUST_GRADES = {0: 10, 1: 9, 2: 7, 3: 6, 4: 4}
"""ISO 4628-3 Ri 0 to 4 as ASTM D610 (from memory); Ri 5 is 1 or 2."""
RUST_PERCENT = {0: 0.0, 1: 0.05, 2: 0.5, 3: 1.0, 4: 8.0, 5: 40.0}
"""Percent rusted of ISO 4628-3 (from memory; Ri 0 READ; Ri 5 is 40 to 50)."""
PENCILS = (
    "6B", "5B", "4B", "3B", "2B", "B", "HB", "F", "H", "2H", "3H", "4H", "5H", "6H",
)  # fmt: skip
"""From soft to hard (ASTM D3363, from memory)."""
CONCRETE_PROFILES = {
    1: "acid etched", 2: "ground", 3: "light shotblast", 4: "light scarification",
    5: "medium shotblast", 6: "medium scarification", 7: "heavy abrasive blast", 8: "scabbled",
    9: "heavy scarification", 10: "breaker, then blast or high-pressure water",
}  # fmt: skip
"""ICRI 310.2R-2013 (READ; one page swaps 1 and 2). The 2003 edition and earlier stop at 9."""


class Boundary(StrEnum):
    """Which rating a share on the very boundary gets; the standards do not say."""

    WORSE = "the worse rating"
    BETTER = "the better rating"


def tape_rating(removed_percent: float, boundary: Boundary = Boundary.WORSE) -> int:
    """Return the rating 0 to 5 (5 best) of ASTM D3359 B for an area removed, in percent.

    Raises:
        ValueError: The percentage is outside 0 to 100.
    """
    if not 0 <= removed_percent <= 100:
        raise ValueError(f"{removed_percent:g} % is outside 0 to 100")
    if removed_percent == 0:
        return 5
    beside = bisect_right if boundary is Boundary.WORSE else bisect_left
    return 5 - max(1, beside(_TAPE_BOUNDS, removed_percent))


def iso_2409_of_tape(rating: int) -> int:
    """Return the ISO 2409 rating (0 best) of a rating by ASTM D3359 B (5 best), or back."""
    if not 0 <= rating <= 5:
        raise ValueError(f"{rating} is outside 0 to 5")
    return 5 - rating


def rust_rating(rusted_percent: float) -> int:
    """Return the rating 0 to 10 (10 best) of ASTM D610 for a rusted area in percent.

    Raises:
        ValueError: The percentage is outside 0 to 100.
    """
    if not 0 <= rusted_percent <= 100:
        raise ValueError(f"{rusted_percent:g} % is outside 0 to 100")
    return 10 - bisect_left(_RUST_BOUNDS, rusted_percent)


def rust_grade_of_rating(rating: int) -> int:
    """Return the ISO 4628-3 grade Ri (0 best) nearest to a rating by ASTM D610 (10 best).

    The correlation is the annex's (from memory); ratings between two grades take the worse one.
    """
    if not 0 <= rating <= 10:
        raise ValueError(f"{rating} is outside 0 to 10")
    return next((grade for grade, least in RUST_GRADES.items() if rating >= least), 5)


def delaminated_percent(hollow: float, whole: float) -> float:
    """Return the share that sounds hollow, in percent, of two areas in one unit."""
    if not whole > 0:
        raise ValueError("an area above 0 is needed")
    return 100 * hollow / whole


def harder_pencil(one: str, other: str) -> str:
    """Return the harder of two pencils."""
    return max(one, other, key=PENCILS.index)
