"""The default estimator against a dense grid computed apart, and against its own limits.

The values were computed with a grid of 6001 by 241 points in another program and cross-checked
with a third (computed, not published).
"""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.analysis.strength.bounds import lower_bound, pulls_needed_to_show, upper_bound
from workbench.analysis.strength.evidence import Evidence
from workbench.analysis.strength.posterior import posterior_of

GOLDEN = {
    "three of five broke here": (
        [2.1, 2.6, 1.8, 3.0, 2.4], [1, 0, 1, 0, 1], None,
        (2.6107, 1.8233, 4.4786, 1.966), 0.4029,
    ),
    "only the lowest of three broke here": (
        [1.2, 1.9, 2.3], [1, 0, 0], None, (2.5946, 1.2535, 9.822, 1.4344), 0.5179,
    ),
    "only the highest of three broke here": (
        [1.2, 1.9, 2.3], [0, 0, 1], None, (2.4463, 1.6444, 6.1554, 1.7985), 0.501,
    ),
    "two of six came away before load": (
        [0.2, 0.2, 0.6, 0.9, 0.5, 1.4], [0, 0, 1, 1, 1, 0], [1, 1, 0, 0, 0, 0],
        (0.5739, 0.2424, 1.3781, 0.2825), 0.4979,
    ),
    "three equal readings": (
        [2.1, 2.1, 2.1], [1, 1, 1], None, (2.07, 1.6823, 2.5469, 1.7824), 0.5704,
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", GOLDEN)
def test_the_estimate_agrees_with_a_dense_grid(name: str) -> None:
    mpa, broke, away, expected, weibull = GOLDEN[name]
    found = posterior_of(Evidence.of(mpa, broke, away or [0] * len(mpa)))
    assert found.median(0.5)[0] == pytest.approx(expected[0], rel=0.001)
    assert found.median(0.025, 0.975, 0.05) == pytest.approx(expected[1:], rel=0.002)
    assert found.weibull_weight == pytest.approx(weibull, abs=0.001)


def _dense(evidence: Evidence) -> np.ndarray:
    """Return the density of ln median on a plain dense grid, written apart from the program."""
    from scipy.stats import lognorm, norm, weibull_min

    ln_m, ln_s = (
        np.linspace(np.log(0.005), np.log(800), 1501),
        np.linspace(np.log(0.06), np.log(1.5), 121),
    )
    m, s = np.exp(ln_m)[:, None], np.exp(ln_s)[None, :]
    prior = norm.logpdf(ln_m, np.log(2), 1.5)[:, None] + norm.logpdf(ln_s, np.log(0.3), 0.75)
    shape = np.pi / np.sqrt(6) / s
    laws = (weibull_min(shape, scale=m / np.log(2) ** (1 / shape)), lognorm(s, scale=m))
    total = np.zeros_like(ln_m)
    for law in laws:
        log_likelihood = prior.copy()
        for x, b, h, a in zip(
            evidence.mpa, evidence.broke, evidence.held, evidence.came_away, strict=True
        ):
            for weight, part in ((b, law.logpdf), (h, law.logsf), (a, law.logcdf)):
                if weight:
                    log_likelihood += weight * np.maximum(part(x), -1e4)
        total += np.exp(log_likelihood).sum(axis=1)
    return np.stack([ln_m, (np.cumsum(total) - total / 2) / total.sum()])


def test_a_shared_break_counts_by_area_as_in_a_dense_grid_of_scipy_laws() -> None:
    evidence = Evidence.of([2.0, 2.4, 1.7, 2.9], [0.2, 0.65, 1.0, 0.0], [0, 0, 0, 0])
    ln_m, below = _dense(evidence)
    expected = np.exp(np.interp((0.5, 0.025, 0.975), below, ln_m))
    assert posterior_of(evidence).median(0.5, 0.025, 0.975) == pytest.approx(expected, rel=0.01)


@pytest.mark.parametrize("spread", [0.08, 0.35, 0.9])
def test_many_readings_give_what_one_by_one_would_give(spread: float) -> None:
    rng = np.random.default_rng(7)
    mpa = np.exp(rng.normal(0.9, spread, 300))
    evidence = Evidence.of(mpa, (rng.random(300) < 0.4).astype(float), np.zeros(300))
    ln_m, below = _dense(evidence)
    expected = np.exp(np.interp((0.5, 0.025, 0.975), below, ln_m))
    assert posterior_of(evidence).median(0.5, 0.025, 0.975) == pytest.approx(expected, rel=0.003)


readings = st.lists(
    st.tuples(st.floats(0.3, 8), st.sampled_from((0.0, 0.2, 0.5, 1.0))), min_size=3, max_size=9
).filter(lambda found: sum(share for _, share in found) >= 0.5)


@given(readings)
def test_the_order_of_readings_does_not_matter(found: list[tuple[float, float]]) -> None:
    def of(pairs: list[tuple[float, float]]) -> Evidence:
        return Evidence.of((x for x, _ in pairs), (w for _, w in pairs), [0] * len(pairs))

    forward, backward = (posterior_of(of(pairs)) for pairs in (found, found[::-1]))
    assert forward.median(0.5, 0.025) == pytest.approx(backward.median(0.5, 0.025), rel=1e-9)


@given(readings)
def test_quantiles_rise_and_the_low_fractile_lies_below_the_median(
    found: list[tuple[float, float]],
) -> None:
    posterior = posterior_of(
        Evidence.of((x for x, _ in found), (w for _, w in found), [0] * len(found))
    )
    low, middle, high = posterior.median(0.025, 0.5, 0.975)
    assert low < middle < high
    assert posterior.fractile(0.05, 0.5)[0] < middle
    assert posterior.fractile(0.5, 0.5)[0] == pytest.approx(middle, rel=0.002)


def test_a_bound_where_none_broke_has_no_model_or_little() -> None:
    three = lower_bound(np.array([1.8, 2.2, 2.6]), 0.95)
    assert three.share_above_lowest == pytest.approx(0.3684, abs=5e-5)
    assert three.sign_confidence == pytest.approx(0.875)
    assert three.sign_mpa is None
    assert three.envelope_mpa == pytest.approx(1.853, rel=0.001)
    five = lower_bound(np.array([2.1, 2.6, 1.8, 3.0, 2.4]), 0.95)
    assert five.share_above_lowest == pytest.approx(0.5493, abs=5e-5)
    assert five.sign_mpa == pytest.approx(1.8)
    assert five.envelope_mpa == pytest.approx(2.5706, rel=0.001)


@given(st.lists(st.floats(0.1, 20), min_size=1, max_size=15))
def test_no_lower_bound_lies_above_the_highest_reading(held: list[float]) -> None:
    bound = lower_bound(np.array(held), 0.95)
    assert bound.envelope_mpa <= max(held)
    assert bound.sign_mpa is None or bound.sign_mpa in held


def test_an_upper_bound_needs_five_that_came_away() -> None:
    assert upper_bound(np.array([0.2, 0.2, 0.2, 0.2]), 0.95) is None
    assert upper_bound(np.array([0.2, 0.2, 0.2, 0.2, 0.4]), 0.95) == pytest.approx(0.4)


@pytest.mark.parametrize(
    ("share", "confidence", "pulls"),
    [(0.9, 0.9, 22), (0.9, 0.95, 29), (0.95, 0.95, 59), (0.99, 0.95, 299), (0.95, 0.99, 90)],
)
def test_the_success_run_agrees_with_the_textbook(
    share: float, confidence: float, pulls: int
) -> None:
    """Success-run theorem (closed form, numbers from memory)."""
    assert pulls_needed_to_show(share, confidence) == pulls
