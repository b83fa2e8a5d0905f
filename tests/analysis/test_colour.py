"""Colour differences against the published pairs."""

import csv
from pathlib import Path

import pytest

from workbench.analysis.colour import Lab, delta_e_76, delta_e_2000, gloss_retention_percent

TABLE = (Path(__file__).parent / "ciede2000_pairs.csv").read_text("utf-8")
PAIRS = [[float(cell) for cell in row] for row in csv.reader(TABLE.splitlines())]


@pytest.mark.parametrize("pair", PAIRS, ids=lambda pair: f"{pair[6]:.4f}")
def test_the_34_published_pairs_agree_to_four_decimals_both_ways(pair: list[float]) -> None:
    # Sharma, Wu and Dalal, Color Research and Application 30 (2005) 21, table 1
    one, other = Lab(*pair[:3]), Lab(*pair[3:6])
    assert delta_e_2000(one, other) == pytest.approx(pair[6], abs=5.1e-5)
    assert delta_e_2000(other, one) == pytest.approx(pair[6], abs=5.1e-5)


def test_all_pairs_of_the_table_are_there() -> None:
    assert len(PAIRS) == 34


def test_the_plain_difference_is_the_distance() -> None:
    assert delta_e_76(Lab(50, 3, 4), Lab(50, 0, 0)) == pytest.approx(5)


def test_gloss_retention_is_refused_without_a_first_reading() -> None:
    assert gloss_retention_percent(80, 20) == 25
    with pytest.raises(ValueError, match="before"):
        gloss_retention_percent(0, 20)
