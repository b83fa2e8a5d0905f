"""Scales between standards, with their directions."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.trade.scales import (
    Boundary,
    iso_2409_of_tape,
    rust_grade,
    rust_grade_of_rating,
    rust_rating,
    tape_rating,
)


@pytest.mark.parametrize(
    ("removed", "rating"), [(0, 5), (0.1, 4), (4, 4), (12, 3), (15, 2), (30, 2), (50, 1), (66, 0)]
)
def test_tape_by_area_removed(removed: float, rating: int) -> None:
    """Bounds 5, 15, 35, 65 % READ for ASTM D3359 B; 3 of 25 squares off are 12 %, rating 3."""
    assert tape_rating(removed) == rating


def test_a_share_on_the_boundary_follows_the_choice() -> None:
    assert tape_rating(15, Boundary.WORSE) == 2
    assert tape_rating(15, Boundary.BETTER) == 3


@pytest.mark.parametrize("rating", range(6))
def test_iso_2409_runs_the_other_way(rating: int) -> None:
    """5B is 0, 0B is 5 (map from memory)."""
    assert iso_2409_of_tape(rating) == 5 - rating
    assert iso_2409_of_tape(iso_2409_of_tape(rating)) == rating


@pytest.mark.parametrize(
    ("rusted", "rating"),
    [(0, 10), (0.01, 10), (0.02, 9), (0.3, 7), (0.31, 6), (12, 3), (50, 1), (51, 0)],
)
def test_rust_by_area(rusted: float, rating: int) -> None:
    """ASTM D610-08(2012), table 1 (READ)."""
    assert rust_rating(rusted) == rating


@pytest.mark.parametrize(
    ("rating", "grade"), [(10, 0), (9, 1), (8, 2), (7, 2), (6, 3), (4, 4), (1, 5)]
)
def test_rust_grades_of_iso_run_down_to_the_best(rating: int, grade: int) -> None:
    """Correlation from memory; Ri 0 at rating 10 READ."""
    assert rust_grade_of_rating(rating) == grade


@given(st.floats(0, 100), st.floats(0, 100))
def test_more_removed_or_rusted_is_never_rated_better(one: float, other: float) -> None:
    less, more = sorted((one, other))
    assert tape_rating(less) >= tape_rating(more)
    assert rust_rating(less) >= rust_rating(more)


@pytest.mark.parametrize("percent", [-1, 100.5])
def test_a_share_outside_the_whole_is_refused(percent: float) -> None:
    with pytest.raises(ValueError, match="outside 0 to 100"):
        tape_rating(percent)
    with pytest.raises(ValueError, match="outside 0 to 100"):
        rust_rating(percent)


@pytest.mark.parametrize(
    ("rusted", "grade"), [(0, 0), (0.05, 1), (0.5, 2), (1, 3), (5, 4), (8, 4), (40, 5), (50, 5)]
)
def test_rust_grades_by_area(rusted: float, grade: int) -> None:
    """ISO 4628-3, table 1 (from memory): 0, 0.05, 0.5, 1, 8, 40 to 50 %."""
    assert rust_grade(rusted) == grade


@given(st.floats(0, 100))
def test_by_area_and_by_rating_a_grade_differs_by_one_at_most(rusted: float) -> None:
    """The annex of ISO 4628-3 holds the two scales together (from memory)."""
    assert abs(rust_grade(rusted) - rust_grade_of_rating(rust_rating(rusted))) <= 1
