"""Moran's I on the published example of 49 neighbourhoods."""

import json
from pathlib import Path

import numpy as np
import pytest

from workbench.analysis.pattern.space import moran

EXAMPLE = json.loads((Path(__file__).parent / "columbus.json").read_text("utf-8"))


def test_the_columbus_example_reproduces_to_its_printed_digits() -> None:
    # Anselin 1988, queen contiguity with rows summing to 1; values of R spdep moran.test (read)
    values = np.array(EXAMPLE["crime"], dtype=np.float64)
    weights = np.zeros((len(values), len(values)))
    for one, others in enumerate(EXAMPLE["neighbours"]):
        weights[one, others] = 1 / len(others)
    assert moran(values, weights) == pytest.approx(EXAMPLE["published"]["I"], abs=5e-8)
