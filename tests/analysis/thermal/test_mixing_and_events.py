"""Mixing rules, exotherms and the indium check."""

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.analysis.thermal.events import (
    INDIUM_FUSION_J_G,
    INDIUM_MELTING_C,
    conversion_from_exotherm,
    event,
)
from workbench.analysis.thermal.mixing import conversion_from_tg, dibenedetto, fox


def test_the_fox_rule_gives_the_published_example() -> None:
    # READ: 373 K and 378 K in equal parts give 375.4 K (documentation of a polymer library)
    kelvin = fox((0.5, 0.5), (373 - 273.15, 378 - 273.15)) + 273.15
    assert kelvin == pytest.approx(375.4, abs=0.1)


def test_the_fox_rule_lies_below_the_straight_mean() -> None:
    # computed: 70 % at 60 degC and 30 % at -10 degC give 35.38 degC, the straight mean 39.0
    assert fox((0.7, 0.3), (60, -10)) == pytest.approx(35.38, abs=0.005)


@pytest.mark.parametrize(
    ("conversion", "celsius"),
    [(0, -10), (0.25, 8.571), (0.5, 33.333), (0.75, 68.0), (0.9, 96.364), (1, 120)],
)
def test_dibenedetto_gives_the_values_of_its_formula(conversion: float, celsius: float) -> None:
    # a check of the formula by hand; no published table was found
    found = dibenedetto(conversion, uncured_c=-10, cured_c=120, interaction=0.5)
    assert found == pytest.approx(celsius, abs=5e-4)


@given(st.floats(0, 1), st.floats(0.1, 1))
def test_conversion_and_tg_are_each_others_inverse(conversion: float, interaction: float) -> None:
    celsius = dibenedetto(conversion, uncured_c=-20, cured_c=110, interaction=interaction)
    celsius = min(max(celsius, -20), 110)
    back = conversion_from_tg(celsius, uncured_c=-20, cured_c=110, interaction=interaction)
    assert back == pytest.approx(conversion, abs=1e-9)


def test_an_indium_peak_gives_its_melting_point_by_onset_and_its_heat_by_area() -> None:
    # a straight leading side from the melting point, an exponential tail; area scaled to the heat
    x = np.arange(140, 175, 0.01)
    rise = np.clip(x - INDIUM_MELTING_C, 0, 1.2)
    shape = np.where(x <= INDIUM_MELTING_C + 1.2, rise, 1.2 * np.exp(-(x - INDIUM_MELTING_C - 1.2)))
    flow = shape / np.trapezoid(shape, x) * INDIUM_FUSION_J_G * (10 / 60) + 0.3 + 0.001 * x
    found = event(x, flow, first=145, last=174)
    assert found.onset_c == pytest.approx(INDIUM_MELTING_C, abs=0.02)
    assert found.energy_j_g(10) == pytest.approx(INDIUM_FUSION_J_G, rel=1e-3)


def test_no_exotherm_left_is_full_cure() -> None:
    assert conversion_from_exotherm(0, 400) == 1
    assert conversion_from_exotherm(100, 400) == 0.75


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: fox((0.5, 0.4), (1, 2)),
        lambda: fox((0.5, 0.5), (1, -300)),
        lambda: dibenedetto(1.2, uncured_c=0, cured_c=1, interaction=0.5),
        lambda: dibenedetto(0.2, uncured_c=2, cured_c=1, interaction=0.5),
        lambda: conversion_from_tg(130, uncured_c=0, cured_c=120, interaction=0.5),
        lambda: conversion_from_exotherm(500, 400),
        lambda: event(np.arange(9.0), np.zeros(9), first=2, last=8),
        lambda: event(np.arange(9.0), np.zeros(9), first=2, last=3),
    ],
)
def test_what_cannot_be_computed_is_refused_with_words(wrong: Callable[[], object]) -> None:
    with pytest.raises(ValueError, match=" "):
        wrong()
