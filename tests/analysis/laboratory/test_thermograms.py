"""Peaks, two heats, rules and checks of a case, on curves whose truth is known."""

import numpy as np
import pytest
from builders import dossier, make

from workbench.analysis.laboratory.checks import checks_of
from workbench.analysis.laboratory.estimates import estimates_of
from workbench.analysis.laboratory.peaks import ReadPeak, cure_degrees, read_peak
from workbench.analysis.laboratory.thermograms import (
    ReadTransition,
    Thermogram,
    construct,
    two_heats,
)
from workbench.records import LabResult, PeakReading, TgEstimate, TransitionReading

CELSIUS = np.arange(0.0, 200.0, 0.25)


def curve(area_j_g: float, *, words: str = "exo up; 10 K/min", unit: str = "W/g") -> Thermogram:
    """Return a curve with an exotherm of known energy at 100 degC, heated at 10 K/min."""
    height = area_j_g * (10 / 60) / (12 * np.sqrt(np.pi))
    flow = -0.2 - 0.0005 * CELSIUS + height * np.exp(-(((CELSIUS - 100) / 12) ** 2))
    flow = flow if "exo up" in words else -flow
    flow = flow * (8.0 if unit == "mW" else 1.0)
    return Thermogram(
        file="a.csv", part=f"heat flow {unit}", celsius=CELSIUS, flow=flow, notes=(words,),
        sample="S-1", ordinate=f"heat flow {unit}",
    )  # fmt: skip


def reading(ref: str = "PK-1", **more: object) -> PeakReading:
    said = {"peak": "residual cure", "first": "50 degC", "last": "150 degC", "by": "Ann"} | more
    return make(PeakReading, ref=ref, file="a.csv", part="", sample="S-1", **said)


@pytest.mark.parametrize("words", ["exo up; 10 K/min", "exotherm down; 10 K/min"])
def test_an_exotherm_is_one_whichever_way_the_file_has_it(words: str) -> None:
    found = read_peak(reading(), curve(40.0, words=words))
    assert found.energy_j_g == pytest.approx(40, rel=0.005)
    assert found.exothermic is True


def test_a_power_is_divided_by_the_mass_and_wants_it() -> None:
    found = read_peak(reading(mass="8 mg"), curve(40.0, unit="mW"))
    assert found.energy_j_g == pytest.approx(40, rel=0.005)
    with pytest.raises(ValueError, match="mass of the specimen"):
        read_peak(reading(), curve(40.0, unit="mW"))


def test_a_direction_that_nobody_said_decides_nothing() -> None:
    found = read_peak(reading(rate="10 K/min"), curve(40.0, words="heat flow"))
    assert found.exothermic is None
    with pytest.raises(ValueError, match="heating rate is not known"):
        read_peak(reading(), curve(40.0, words="exo up"))
    said = read_peak(reading(rate="10 K/min", exotherm_up="no"), curve(40.0, words="heat flow"))
    assert said.exothermic is True


def of(left: float, whole: float) -> tuple[ReadPeak, ReadPeak]:
    fresh = reading("PK-2", peak="fresh mixture")
    return (
        read_peak(reading(against="PK-2"), curve(left)), read_peak(fresh, curve(whole)),
    )  # fmt: skip


def test_the_degree_of_cure_is_one_less_the_share_left_over() -> None:
    (found,), problems = cure_degrees(of(20, 80))
    assert problems == ()
    assert found.degree == pytest.approx(0.75, abs=0.005)
    assert found.words == "75 %"


@pytest.mark.parametrize("left", [0.5, -0.5])
def test_where_nothing_is_left_that_the_method_shows_the_degree_of_cure_is_a_lower_bound(
    left: float,
) -> None:
    (found,), problems = cure_degrees(of(left, 80))
    assert problems == ()
    assert found.at_least
    assert found.degree == pytest.approx(1 - 1 / 80, abs=0.002)
    assert found.words == "at least 98 %"


def test_more_left_than_the_fresh_mixture_had_is_told() -> None:
    found, problems = cure_degrees(of(90, 80))
    assert found == ()
    assert "PK-1" in problems[0]


def step(celsius: float, *, heat: str, ref: str, way: int = -1) -> ReadTransition:
    flow = -0.2 + way * 0.1 / (1 + np.exp(-(CELSIUS - celsius) / 2))
    held = Thermogram(
        file="a.csv", part=heat, celsius=CELSIUS, flow=flow, notes=("exo up",), sample="S-1"
    )
    made = make(
        TransitionReading, ref=ref, file="a.csv", part=heat, sample="S-1", heat=heat,
        before_from="10 degC", before_to="40 degC", after_from="90 degC", after_to="120 degC",
        definition="half step height", by="Ann",
    )  # fmt: skip
    return construct(made, held)


@pytest.mark.parametrize(
    ("second", "words"), [(70.0, "cure that went on"), (61.0, "adds no cure"), (52.0, "ageing")]
)
def test_two_heats_of_one_specimen_are_told_together(second: float, words: str) -> None:
    (pair,) = two_heats(
        (step(60, heat="first", ref="TG-1"), step(second, heat="second", ref="TG-2"))
    )
    assert pair.rise_k == pytest.approx(second - 60, abs=0.1)
    assert words in pair.words


def test_a_step_towards_the_exotherm_is_doubted_as_a_glass_transition() -> None:
    assert step(60, heat="first", ref="TG-1").doubt == ""
    assert "exothermic direction" in step(60, heat="first", ref="TG-1", way=1).doubt


def test_indium_is_checked_by_onset_and_heat_of_fusion() -> None:
    celsius = np.arange(140.0, 175.0, 0.01)
    edge = np.clip(celsius - 156.6, 0, 1.7) * -2.2
    tail = -1.7 * 2.2 * np.exp(-np.clip(celsius - 158.3, 0, None) / 0.42)
    flow = -0.15 + np.where(celsius <= 158.3, edge, tail)
    held = Thermogram(
        file="a.csv", part="heat flow W/g", celsius=celsius, flow=flow,
        notes=("endo down; 10 K/min",), ordinate="heat flow W/g",
    )  # fmt: skip
    made = make(
        PeakReading, ref="PK-1", file="a.csv", sample="", peak="melting", first="150 degC",
        last="170 degC", check="indium", by="Ann",
    )  # fmt: skip
    onset, fusion = checks_of((), (), (read_peak(made, held),))
    assert onset.found == pytest.approx(156.6, abs=0.02)
    assert onset.within
    assert fusion.found == pytest.approx(28.4, abs=0.3)
    assert fusion.verdict == "within"


def test_rules_are_reckoned_beside_what_was_read() -> None:
    # READ: 50/50 of 373 K and 378 K gives 375.4 K; DiBenedetto: formula test with 75 % at 68 degC
    case = dossier(
        make(TgEstimate, ref="TE-1", sample="S-1", rule="Fox", shares="50; 50",
             transitions="99.85; 104.85", basis="a paper", by="Ann"),
        make(TgEstimate, ref="TE-2", sample="S-1", rule="DiBenedetto, cure from Tg",
             read="68 degC", uncured="-10 degC", cured="120 degC", interaction="0.5",
             basis="fitted", by="Ann"),
        make(TgEstimate, ref="TE-3", sample="S-1", rule="Fox", shares="50; 60",
             transitions="10; 20", basis="a slip", by="Ann"),
        make(LabResult, sample="S-1", quantity="tg_first", value="101 degC"),
    )  # fmt: skip
    (fox, cure), problems = estimates_of(case)
    assert fox.value + 273.15 == pytest.approx(375.4, abs=0.2)
    assert cure.value == pytest.approx(0.75, abs=1e-6)
    assert [at for at, _ in fox.read] == [101.0]
    assert problems[0].startswith("TE-3")
