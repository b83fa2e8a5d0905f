"""Temperature programmes taken apart, and what files say of direction, rate and unit."""

import numpy as np
import pytest

from workbench.analysis.thermal.segments import exotherm_up, ramps_of, rate_k_min, watts_per_gram


def test_heat_cool_heat_is_two_heats_and_a_cooling_with_holds_between() -> None:
    jitter = np.random.default_rng(3).normal(0, 0.05, 40)
    celsius = np.concatenate([
        20 + jitter, np.linspace(20, 150, 260), np.linspace(150, -20, 300), -20 + jitter,
        np.linspace(-20, 160, 360),
    ])  # fmt: skip
    ramps = ramps_of(celsius)
    assert [one.name for one in ramps] == ["first heat", "first cooling", "second heat"]
    assert [one.heating for one in ramps] == [True, False, True]
    assert celsius[ramps[0].last - 1] == pytest.approx(150)


@pytest.mark.parametrize(("ends", "name"), [((0, 100), ""), ((100, 0), "first cooling")])
def test_one_ramp_is_one_curve(ends: tuple[float, float], name: str) -> None:
    (ramp,) = ramps_of(np.linspace(*ends, 200))
    assert ramp.name == name


@pytest.mark.parametrize(
    ("words", "up"),
    [
        ("heat flow in W/g, endotherm down", True), ("Heat Flow (W/g) exo up", True),
        ("^exo", True), ("DSC /(mW/mg) exo down", False), ("endothermic up", False),
        ("exotherm: down", False), ("heat flow W/g", None), ("exo up; endo up", None),
    ],
)  # fmt: skip
def test_the_direction_of_an_exotherm_is_what_the_file_says_or_not_known(
    words: str, up: bool | None
) -> None:
    assert exotherm_up(words) is up


@pytest.mark.parametrize(
    ("words", "rate"), [("10 K/min", 10), ("20 °C/min", 20), ("2,5 K/min", 2.5), ("10 mg", None)]
)
def test_the_rate_is_read_from_the_words_of_the_file(words: str, rate: float | None) -> None:
    assert rate_k_min(words) == rate


@pytest.mark.parametrize(
    ("words", "mass", "factor"),
    [("W/g", None, 1), ("DSC /(mW/mg)", None, 1), ("mW/g", None, 1e-3), ("HF mW", 10, 0.1),
     ("heat flow W", 10, 100), ("uW", 10, 1e-4)],
)  # fmt: skip
def test_a_power_needs_the_mass_of_the_specimen(
    words: str, mass: float | None, factor: float
) -> None:
    assert watts_per_gram(words, mass) == pytest.approx(factor)


def test_a_power_without_mass_and_a_unit_that_is_none_are_refused() -> None:
    with pytest.raises(ValueError, match="mass of the specimen is needed"):
        watts_per_gram("HF mW", None)
    with pytest.raises(ValueError, match="names no unit"):
        watts_per_gram("signal", 10)
