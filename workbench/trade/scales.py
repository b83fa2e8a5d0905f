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
_RUST_GRADES = {0: 10, 1: 9, 2: 7, 3: 6, 4: 4}
"""ISO 4628-3 Ri 0 to 4 as ASTM D610 (from memory); Ri 5 is 1 or 2."""
_GRADE_BOUNDS = (0.0, 0.05, 0.5, 1.0, 8.0)
"""Percent rusted of Ri 0 to 4 (from memory; Ri 0 READ; Ri 5 is 40 to 50)."""


class Boundary(StrEnum):
    """Which rating a share on the very boundary gets; the standards do not say."""

    WORSE = "the worse rating"
    BETTER = "the better rating"


def tape_rating(removed_percent: float, boundary: Boundary = Boundary.WORSE) -> int:
    """Return the rating 0 to 5 (5 best) of ASTM D3359 B for an area removed, in percent.

    Raises:
        ValueError: The percentage is outside 0 to 100.
    """
    if _share(removed_percent) == 0:
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
    return 10 - bisect_left(_RUST_BOUNDS, _share(rusted_percent))


def rust_grade(rusted_percent: float) -> int:
    """Return the grade Ri 0 to 5 (0 best) of ISO 4628-3 for a rusted area in percent.

    An area between two grades takes the worse one.

    Raises:
        ValueError: The percentage is outside 0 to 100.
    """
    return bisect_left(_GRADE_BOUNDS, _share(rusted_percent))


def rust_grade_of_rating(rating: int) -> int:
    """Return the ISO 4628-3 grade Ri (0 best) nearest to a rating by ASTM D610 (10 best).

    The correlation is the annex's (from memory); ratings between two grades take the worse one.
    """
    if not 0 <= rating <= 10:
        raise ValueError(f"{rating} is outside 0 to 10")
    return next((grade for grade, least in _RUST_GRADES.items() if rating >= least), 5)


def _share(percent: float) -> float:
    if not 0 <= percent <= 100:
        raise ValueError(f"{percent:g} % is outside 0 to 100")
    return percent
