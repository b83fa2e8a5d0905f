"""Moisture, salts, spreading, mixing, curing, holidays, concrete, bond: what each rule holds to."""

import math
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.trade.bond_acceptance import (
    EN_1504_2,
    Bond,
    Verdict,
    accept_bond,
    overlay_class,
)
from workbench.trade.concrete_moisture import EmissionRule, emission_us, moisture_tests_needed
from workbench.trade.concrete_strength import TensionRule, share_of_expected, tension_mpa
from workbench.trade.curing import Rests, TimeAt, tempered
from workbench.trade.holidays import HolidayRule, holiday_voltage_v
from workbench.trade.mixing import (
    MixRatio,
    equivalent_weight_of_blend,
    hardener_phr,
    hydroxyl_weight,
    isocyanate_weight,
    stoichiometric_index,
    volume_ratio,
)
from workbench.trade.salts import (
    SaltFactor,
    chloride_at_most_ug_cm2,
    conductivity_at_25,
    ion_ug_cm2,
    salts_mg_m2,
)
from workbench.trade.spreading import dry_from_litres_um, dry_from_wet, litres_needed, wet_from_dry


def test_a_dish_that_is_not_deducted_lowers_the_rate_by_nine_percent() -> None:
    """3 g in 72 h: 4.95 and 4.54 lb/1000 ft²/24 h (READ)."""
    deducted = emission_us(3, 72)
    assert emission_us(3, 72, EmissionRule.DISH_NOT_DEDUCTED) / deducted == pytest.approx(
        0.915, abs=0.001
    )


@pytest.mark.parametrize(("gained", "hours"), [(1, 0), (-0.1, 72)])
def test_an_emission_that_cannot_be_is_refused(gained: float, hours: float) -> None:
    with pytest.raises(ValueError, match=r"exposure|weighings"):
        emission_us(gained, hours)


@given(st.floats(1, 1e6), st.floats(1, 1e6))
def test_a_larger_floor_never_needs_fewer_tests(one: float, other: float) -> None:
    small, large = sorted((one, other))
    assert 3 <= moisture_tests_needed(small) <= moisture_tests_needed(large)


def test_salts_deduct_the_blank() -> None:
    assert salts_mg_m2(25, 3, 3) == pytest.approx(26.4)
    with pytest.raises(ValueError, match="blank"):
        salts_mg_m2(3, 25, 3)
    with pytest.raises(ValueError, match="above 0"):
        salts_mg_m2(25, 3, 0)


def test_ions_of_an_extract_are_told_by_area() -> None:
    """2.0 mg/L in 25 mL from 25 cm² are 2.0 µg/cm² (worked by hand)."""
    assert ion_ug_cm2(2.0, 25, 25) == pytest.approx(2.0)
    with pytest.raises(ValueError, match="above 0"):
        ion_ug_cm2(2.0, 25, 0)
    with pytest.raises(ValueError, match="the blank holds more"):
        ion_ug_cm2(-0.1, 25, 25)


@pytest.mark.parametrize(
    ("cation", "charge", "chlorides"),
    [("K", 73.5, 1), ("Mg", 106.1, 2), ("Ca", 118.9, 2), ("Fe(II)", 108.0, 2), ("NH4", 73.5, 1)],
)
def test_other_chlorides_hold_less_chloride_for_what_they_conduct(
    cation: str, charge: float, chlorides: int
) -> None:
    """Limiting molar conductivities in S·cm²/mol at 25 °C: Cl 76.3, Na 50.1 (CRC, from memory)."""
    of_salt = chlorides * 35.453 / (charge + chlorides * 76.3)
    of_sodium = 35.453 / (50.1 + 76.3)
    assert of_salt < of_sodium, cation


def test_chloride_of_sodium_chloride_by_its_conductivity() -> None:
    """1 µS/cm at 25 °C is 1/126.4 mmol/L of NaCl: 3 mL from 1250 mm² hold 0.0673 µg/cm² of Cl."""
    per_us = 35.453 / 126.4 * 3 / 12.5
    found = chloride_at_most_ug_cm2(salts_mg_m2(1, 0, 3, factor=SaltFactor.SODIUM_CHLORIDE))
    assert found == pytest.approx(per_us, rel=0.01)


def test_a_cold_extract_conducts_less() -> None:
    """20 µS/cm at 15 °C are 25.0 at 25 °C (25.4 with the coefficient of sodium chloride)."""
    assert conductivity_at_25(20, 15) == pytest.approx(25)
    assert conductivity_at_25(20, 15, 0.0214) == pytest.approx(25.4, abs=0.05)


@given(st.floats(10, 1000), st.floats(0.05, 1), st.floats(0, 0.5))
def test_wet_and_dry_film_are_each_other_undone(dry: float, solids: float, thinner: float) -> None:
    assert dry_from_wet(wet_from_dry(dry, solids, thinner), solids, thinner) == pytest.approx(dry)


@given(st.floats(1, 5000), st.floats(10, 2000), st.floats(0.1, 1), st.floats(0, 0.9))
def test_consumption_and_film_are_each_other_undone(
    area: float, film: float, solids: float, loss: float
) -> None:
    litres = litres_needed(area, film, solids, loss)
    assert dry_from_litres_um(litres, area, solids, loss) == pytest.approx(film)


def test_volume_solids_in_percent_are_refused_where_a_share_is_meant() -> None:
    with pytest.raises(ValueError, match=r"write 65 % as 0\.65"):
        dry_from_wet(200, 65)


@pytest.mark.parametrize(("text", "base"), [("3:1", 3), ("100 : 28.5", 100), ("4 to 1", 4)])
def test_a_mix_ratio_is_read_as_written(text: str, base: float) -> None:
    assert MixRatio.read(text).base == base


@pytest.mark.parametrize("text", ["", "3", "3:0", "A:B", "-3:1"])
def test_a_text_that_is_no_ratio_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="is not a mix ratio"):
        MixRatio.read(text)


def test_the_hardener_used_over_the_hardener_asked_for() -> None:
    assert MixRatio(3, 1).hardener_index(30, 10) == pytest.approx(1)
    assert MixRatio(3, 1).hardener_index(30, 9) == pytest.approx(0.9)


def test_isocyanate_and_hydroxyl_equivalents() -> None:
    """31.5 % NCO is 133 g/eq, hydroxyl number 56.1 is 1000 g/eq (constants from memory)."""
    assert isocyanate_weight(31.5) == pytest.approx(133.3, abs=0.1)
    assert hydroxyl_weight(56.1) == pytest.approx(1000)


def test_the_isocyanate_of_hexamethylene_is_half_its_molar_mass() -> None:
    """C8H12N2O2, 168.19 g/mol, two NCO of 42.017: 49.96 % and 84.1 g/eq (atomic weights)."""
    assert isocyanate_weight(100 * 2 * 42.017 / 168.19) == pytest.approx(84.1, abs=0.1)


def test_a_ratio_by_volume_becomes_one_by_mass_and_back() -> None:
    by_mass = MixRatio(3, 1).by_mass(1.4, 1.0)
    assert by_mass.base / by_mass.hardener == pytest.approx(4.2)
    phr = 100 * by_mass.hardener / by_mass.base
    assert volume_ratio(phr, 1.4, 1.0) == pytest.approx(1 / 3)


@pytest.mark.parametrize(
    ("act", "words"),
    [
        (lambda: isocyanate_weight(0), "of NCO"),
        (lambda: isocyanate_weight(60), "at most 50 %"),
        (lambda: hydroxyl_weight(-5), "a hydroxyl number of -5"),
        (lambda: hardener_phr(0, 190), "an equivalent weight of 0"),
        (lambda: stoichiometric_index(0, 190, 1, 95), "an amount of base of 0"),
        (lambda: volume_ratio(50, 1.1, 0), "a density of 0"),
        (lambda: equivalent_weight_of_blend([(10, None)]), "no part of the blend reacts"),
        (lambda: equivalent_weight_of_blend([(110, 190), (-10, None)]), "less than nothing"),
    ],
)
def test_a_mix_that_cannot_be_is_refused(act: Callable[[], float], words: str) -> None:
    with pytest.raises(ValueError, match=words):
        act()


SHEET = (TimeAt(10, 48), TimeAt(20, 24), TimeAt(30, 12))


def test_the_data_sheet_wins_where_it_has_the_temperature() -> None:
    found = tempered(SHEET, 20)
    assert found
    assert (found.hours, found.rests) == (24, Rests.TABLE)


def test_between_two_rows_the_time_lies_between_them() -> None:
    found = tempered(SHEET, 15)
    assert found
    assert found.hours == pytest.approx(24 * math.sqrt(2))
    assert found.rests is Rests.BETWEEN


def test_beyond_the_sheet_the_rule_of_thumb_is_marked_as_one() -> None:
    found = tempered(SHEET, 40)
    assert found
    assert found.hours == pytest.approx(6)
    assert found.rests is Rests.RULE
    cold = tempered(SHEET, 0)
    assert cold
    assert cold.hours == pytest.approx(96)


def test_a_sheet_without_temperature_stands_as_it_is() -> None:
    found = tempered([TimeAt(None, 16)], 5)
    assert found
    assert (found.hours, found.rests) == (16, Rests.UNTEMPERED)


def test_nothing_to_go_by_gives_nothing() -> None:
    assert tempered([], 20) is None
    assert tempered([], None) is None


def test_without_a_temperature_the_longest_and_the_shortest_time_stand_side_by_side() -> None:
    found = tempered(SHEET, None)
    assert found
    assert found.other
    assert (found.hours, found.other.hours, found.rests) == (48, 12, Rests.NOT_RECORDED)


def test_no_limit_at_one_temperature_says_nothing_of_another() -> None:
    assert tempered([TimeAt(10, 48), TimeAt(30, math.inf)], 20) is None
    endless = tempered([TimeAt(10, math.inf), TimeAt(30, math.inf)], 20)
    assert endless
    assert endless.hours == math.inf


@given(st.floats(-10, 50), st.floats(-10, 50))
def test_warmer_is_never_slower(one: float, other: float) -> None:
    cold, warm = sorted((one, other))
    slow, fast = tempered(SHEET, cold), tempered(SHEET, warm)
    assert slow
    assert fast
    assert slow.hours >= fast.hours - 1e-9


def test_holiday_voltages_differ_by_rule() -> None:
    """At 40 mil 3320 V, just above it 8004 V: the formula jumps (from memory)."""
    assert holiday_voltage_v(40) == pytest.approx(3320, abs=1)
    assert holiday_voltage_v(41) == pytest.approx(8004, abs=1)
    assert holiday_voltage_v(20, HolidayRule.PER_MIL) == 2000
    with pytest.raises(ValueError, match="no test voltage"):
        holiday_voltage_v(0)


@pytest.mark.parametrize(("fck", "fctm"), [(20, 2.21), (25, 2.56), (30, 2.90), (40, 3.51)])
def test_mean_axial_tension_of_eurocode(fck: float, fctm: float) -> None:
    """EN 1992-1-1, table 3.1 (from memory)."""
    assert tension_mpa(fck, TensionRule.EUROPEAN) == pytest.approx(fctm, abs=0.005)


def test_a_break_far_below_the_tension_expected_is_seen() -> None:
    assert share_of_expected(0.5, 30) < 0.5
    assert 0.5 < share_of_expected(1.8, 30) < 1.5


def test_bond_needs_mean_and_single_and_enough_results() -> None:
    """Worked by hand: 1.6, 1.4, 1.7 pass; 0.9 fails; two valid results are incomplete."""
    required = Bond(1.5, 1.0)
    passing = accept_bond({"a": 1.6, "b": 1.4, "c": 1.7}, required)
    assert passing.verdict is Verdict.PASSED
    assert passing.mean == pytest.approx(1.567, abs=1e-3)
    failing = accept_bond({"a": 2.4, "b": 1.9, "c": 0.9}, required)
    assert (failing.verdict, failing.failed) == (Verdict.FAILED, ("c",))
    glue = accept_bond({"a": 1.4, "b": 1.6, "c": None}, required)
    assert (glue.verdict, glue.valid) == (Verdict.INCOMPLETE, ("a", "b"))


def test_bond_classes_and_rows_are_those_recalled() -> None:
    assert EN_1504_2["rigid, traffic"] == Bond(2.0, 1.0)
    assert [overlay_class(mpa) for mpa in (2.2, 1.8, 1.5, 0.9, 0.3)] == [
        "excellent", "very good", "good", "fair", "poor",
    ]  # fmt: skip
