"""The intervals hold what was promised of them: in the table kept, and in a small simulation."""

import csv
from pathlib import Path

import numpy as np
import pytest

from workbench.analysis.strength.evidence import Evidence
from workbench.analysis.strength.posterior import posterior_of

TABLE = Path(__file__).parents[2] / "benchmarks" / "coverage.csv"


def _cells() -> list[dict[str, str]]:
    with TABLE.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_the_table_kept_is_whole_and_keeps_the_promise() -> None:
    cells = _cells()
    assert len(cells) == 48
    assert {int(cell["data_sets"]) for cell in cells} == {2000}
    coverage = [float(cell["coverage"]) for cell in cells]
    assert 0.94 < np.mean(coverage) < 0.97
    assert min(coverage) >= 0.91


@pytest.mark.parametrize("pulls", ["5", "8", "12"])
@pytest.mark.parametrize("bounds", ["0.2000", "0.5000", "0.8000"])
def test_the_bias_is_small_from_five_pulls_on(pulls: str, bounds: str) -> None:
    row = [
        float(cell["bias"]) for cell in _cells()
        if (cell["pulls"], cell["bounds"]) == (pulls, bounds)
    ]  # fmt: skip
    assert len(row) == 4
    assert abs(np.mean(row)) < 0.07


def test_a_small_simulation_agrees_with_the_table() -> None:
    rng = np.random.default_rng(12)
    own, others = np.exp(rng.normal(np.log(3), 0.3, (2, 150, 8)))
    held = 0
    for x, y in zip(own, others, strict=True):
        evidence = Evidence.of(np.minimum(x, y), (x < y).astype(float), np.zeros(8))
        low, high = posterior_of(evidence).median(0.025, 0.975)
        held += low <= 3 <= high
    assert 0.89 <= held / 150 <= 1.0
