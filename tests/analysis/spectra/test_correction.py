"""Baseline and smoothing against another library and against what they must leave alone."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.analysis.spectra.baseline import asymmetric_least_squares, smooth


@pytest.mark.parametrize("stiffness", [1e5, 1e6, 1e7])
@pytest.mark.parametrize("asymmetry", [0.001, 0.01])
def test_the_baseline_equals_that_of_pybaselines(stiffness: float, asymmetry: float) -> None:
    pybaselines = pytest.importorskip("pybaselines")
    x = np.linspace(650, 4000, 1676)
    y = 0.1 + 2e-5 * x + 0.05 * np.sin(x / 700)
    for place, height in ((1508, 0.8), (1245, 1.0), (829, 0.5), (2965, 0.4), (915, 0.2)):
        y = y + height / (1 + ((x - place) / 8) ** 2)
    theirs, _ = pybaselines.Baseline(x).asls(y, lam=stiffness, p=asymmetry)
    ours = asymmetric_least_squares(y, stiffness=stiffness, asymmetry=asymmetry)
    np.testing.assert_allclose(ours, theirs, atol=1e-6)


def test_a_straight_line_is_its_own_baseline() -> None:
    y = np.linspace(3, 5, 40)
    np.testing.assert_allclose(asymmetric_least_squares(y), y, atol=1e-6)


@given(st.lists(st.floats(-2, 2), min_size=4, max_size=4))
def test_smoothing_leaves_a_cubic_alone(coefficients: list[float]) -> None:
    y = np.asarray(np.polyval(coefficients, np.linspace(-1, 1, 60)), dtype=np.float64)
    np.testing.assert_allclose(smooth(y, window=11, order=3), y, atol=1e-9)


def test_parameters_out_of_range_are_refused() -> None:
    with pytest.raises(ValueError, match="window"):
        smooth(np.zeros(20), window=8)
    with pytest.raises(ValueError, match="asymmetry"):
        asymmetric_least_squares(np.zeros(20), asymmetry=1)
    with pytest.raises(ValueError, match="3 points"):
        asymmetric_least_squares(np.zeros(2))
