"""Places: Moran's I against computed values, distances, and where a surface may be drawn."""

import numpy as np
import pytest

from workbench.analysis.pattern.space import (
    dependence,
    distances_to,
    inverse_distance,
    moran,
    near_weights,
    nearness,
    surface,
)

NEIGHBOURS = {
    1: [2, 4], 2: [1, 5], 3: [4, 7], 4: [1, 3, 5, 8], 5: [2, 4, 6, 9], 6: [5, 10], 7: [3, 8],
    8: [4, 7, 9], 9: [5, 8, 10], 10: [6, 9],
}  # fmt: skip
VALUES = np.array([2.24, 3.1, 4.55, -5.15, -4.39, 0.46, 5.54, 9.02, -2.09, -3.06])


def _weights() -> np.ndarray:
    weights = np.zeros((10, 10))
    for one, others in NEIGHBOURS.items():
        weights[one - 1, [other - 1 for other in others]] = 1
    return weights


def test_moran_of_ten_places_agrees_with_a_general_library() -> None:
    """De Smith, Goodchild and Longley, figure 5-31: data READ, values computed with esda 2.9."""
    assert moran(VALUES, _weights()) == pytest.approx(0.03167039, abs=1e-8)
    by_row = _weights() / _weights().sum(axis=1, keepdims=True)
    assert moran(VALUES, by_row) == pytest.approx(0.07361243, abs=1e-8)


def test_places_that_grade_across_the_site_are_alike_and_dealt_out_ones_are_not() -> None:
    rng = np.random.default_rng(1)
    places = rng.random((40, 2)) * 50
    graded, dealt = places[:, 0] + rng.normal(0, 3, 40), rng.normal(0, 1, 40)
    alike, apart = dependence(places, graded), dependence(places, dealt)
    assert alike is not None
    assert apart is not None
    assert alike.p == pytest.approx(0.001)
    assert apart.p > 0.05
    assert alike.moran == pytest.approx(moran(graded, near_weights(places)))


def test_nothing_is_said_of_dependence_with_too_few_places() -> None:
    assert dependence(np.arange(20.0).reshape(10, 2), np.arange(10.0)) is None
    assert dependence(np.arange(40.0).reshape(20, 2), np.ones(20)) is None


SAMPLES = np.array([[61, 139], [63, 140], [64, 129], [68, 128], [71, 140], [73, 141], [75, 128]])
V = np.array([477, 696, 227, 646, 606, 791, 783], float)


@pytest.mark.parametrize(("power", "value"), [(1, 593.95), (2, 597.62), (5, 635.37)])
def test_inverse_distance_agrees_with_the_worked_example(power: float, value: float) -> None:
    """Isaaks and Srivastava (1989), chapter 11, with exact distances (computed)."""
    found = inverse_distance(SAMPLES.astype(float), V, np.array([[65.0, 137.0]]), power)
    assert found[0] == pytest.approx(value, abs=0.01)


def test_no_surface_is_drawn_where_near_places_are_not_alike() -> None:
    rng = np.random.default_rng(2)
    places, values = rng.random((30, 2)) * 50, rng.normal(size=30)
    assert surface(places, values, dependence(places, values)) is None
    assert surface(places, values, None) is None


def test_a_surface_is_defensible_only_between_and_near_readings() -> None:
    x, y = np.meshgrid(np.arange(6.0), np.arange(6.0))
    places = np.stack([x.ravel(), y.ravel()], axis=1)
    hole = (np.abs(places - 2.5) > 1.2).any(axis=1)
    places = places[hole]
    found = surface(places, places[:, 0], dependence(places, places[:, 0]))
    assert found is not None
    assert found.values.min() >= 0
    assert found.values.max() <= 5
    assert found.defensible.any()
    assert 0 < found.defensible.mean() <= 1


def test_distances_run_to_the_nearest_point_of_a_line() -> None:
    places = np.array([[0.0, 3.0], [5.0, 4.0], [13.0, 4.0]])
    assert distances_to([(0, 0), (10, 0)], places).tolist() == [3, 4, 5]
    assert distances_to([(0, 0)], places)[0] == 3


def test_failing_places_near_a_drain_are_told_with_their_distance() -> None:
    rng = np.random.default_rng(5)
    near, far = (np.stack([rng.random(8) * 20, rng.random(8) * 3 + at], axis=1) for at in (0, 8))
    found = nearness("drain", [(0, 0), (20, 0)], near, far)
    assert found is not None
    assert found.shift.value < -6
    assert found.p == pytest.approx(2 / 12870, rel=1e-6)
    assert nearness("drain", [(0, 0)], near, far[:0]) is None
