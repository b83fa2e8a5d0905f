"""Glass transition on a curve whose answer is known, with and without ageing."""

import numpy as np
import pytest

from workbench.analysis.thermal.glass_transition import Definition, Floats, glass_transition

BEFORE, AFTER = (40.0, 85.0), (135.0, 170.0)


def a_curve(overshoot: float = 0.0, noise: float = 0.0) -> tuple[Floats, Floats]:
    """A logistic step of 0.35 at 105 degC, width 2 K, between slopes .0010 and .0015."""
    x = np.arange(40, 170.05, 0.1)
    step = 1 / (1 + np.exp(-(x - 105) / 2))
    y = 1 + 0.0010 * x + step * (0.35 + 0.0005 * (x - 105))
    y += overshoot * np.exp(-((x - 111) ** 2) / 32)
    return x, y + np.random.default_rng(1).normal(0, 1, len(x)) * noise


@pytest.mark.parametrize(
    ("overshoot", "onset", "half", "inflection", "equal", "end"),
    [  # computed for this curve on a fine grid: tangents, crossings and areas in closed form
        (0.00, 101.023, 105.000, 105.023, 105.000, 109.023),
        (0.08, 101.288, 104.510, 105.361, 102.704, 107.780),
        (0.20, 101.595, 103.990, 105.753, 99.247, 106.584),
    ],
)
def test_the_five_definitions_agree_with_the_curve_within_a_tenth_of_a_kelvin(
    overshoot: float, onset: float, half: float, inflection: float, equal: float, end: float
) -> None:
    found = glass_transition(*a_curve(overshoot), before=BEFORE, after=AFTER)
    said = [found.celsius[one] for one in Definition]
    assert said == pytest.approx([onset, half, inflection, equal, end], abs=0.1)
    assert found.step == pytest.approx(0.35, abs=0.002)


@pytest.mark.parametrize(
    ("overshoot", "printed"),
    [  # a table of another program; which straight parts it took was not said
        (0.00, (100.91, 105.00, 105.0, 105.1, 109.14)),
        (0.08, (101.18, 104.51, 105.4, 102.8, 107.84)),
        (0.20, (101.50, 103.99, 105.8, 99.4, 106.60)),
    ],
)
def test_another_program_finds_the_same_within_a_tenth_of_a_kelvin(
    overshoot: float, printed: tuple[float, ...]
) -> None:
    found = glass_transition(*a_curve(overshoot), before=BEFORE, after=(120.0, 170.0)).celsius
    assert [found[one] for one in Definition] == pytest.approx(printed, abs=0.1)


def test_noise_of_half_a_percent_of_the_step_moves_no_definition_by_half_a_kelvin() -> None:
    clean = glass_transition(*a_curve(), before=BEFORE, after=AFTER).celsius
    noisy = glass_transition(*a_curve(noise=0.002), before=BEFORE, after=AFTER).celsius
    assert max(abs(clean[one] - noisy[one]) for one in Definition) < 0.5


def test_the_direction_of_the_ordinate_does_not_matter() -> None:
    x, y = a_curve(0.08)
    up, down = (
        glass_transition(x, y, before=BEFORE, after=AFTER),
        glass_transition(x, -y, before=BEFORE, after=AFTER),
    )
    assert list(up.celsius.values()) == pytest.approx(list(down.celsius.values()))


def test_definitions_part_by_more_than_six_kelvin_on_an_aged_coating() -> None:
    found = glass_transition(*a_curve(0.20), before=BEFORE, after=AFTER)
    assert np.ptp(list(found.celsius.values())) > 6
    assert found.overshoot > 0.4


def test_a_curve_without_a_step_is_refused() -> None:
    x = np.linspace(0, 100, 200)
    with pytest.raises(ValueError, match="no step"):
        glass_transition(x, 1 + 0.001 * x, before=(0, 20), after=(80, 100))
    with pytest.raises(ValueError, match="fewer than 3 points"):
        glass_transition(x, np.where(x > 50, 1.0, 0.0), before=(-9, -5), after=(80, 100))
    with pytest.raises(ValueError, match="rises"):
        glass_transition(x[::-1], x, before=(0, 20), after=(80, 100))
