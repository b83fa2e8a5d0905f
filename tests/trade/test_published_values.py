"""Every formula against 168 values: what each says, where it stands, and how it is known."""

import json
import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from workbench.trade import (
    concrete_moisture,
    concrete_strength,
    curing,
    dew_point,
    gravimetry,
    holidays,
    mixing,
    pull_off,
    salts,
    spreading,
    thickness,
)
from workbench.trade.concrete_moisture import Drying, EmissionRule
from workbench.trade.concrete_strength import TensionRule
from workbench.trade.dew_point import WetBulb
from workbench.trade.holidays import HolidayRule
from workbench.trade.salts import SaltFactor
from workbench.trade.units import convert, convert_difference

VALUES = json.loads((Path(__file__).parent / "published_values.json").read_text())
Given = dict[str, Any]
_UNDER_DOME = concrete_moisture.emission_area_ft2()


def _stress(given: Given) -> float:
    if "d_in" in given:
        force, size = convert(given["F_lbf"], "lbf", "N"), convert(given["d_in"], "in", "mm")
    else:
        force, size = given["F_N"], given["d_mm"]
    return pull_off.stress_mpa(force, pull_off.area_mm2(size))


def _force(given: Given) -> float:
    if "d_in" in given:
        face = pull_off.area_mm2(convert(given["d_in"], "in", "mm"))
        force = pull_off.force_n(convert(given["stress_psi"], "psi", "MPa"), face)
        return convert(force, "N", "lbf")
    return pull_off.force_n(given["stress_MPa"], pull_off.area_mm2(given["d_mm"]))


def _wet_bulb(method: WetBulb) -> Callable[[Given], list[float]]:
    def both(given: Given) -> list[float]:
        state = (given["T_C"], given["Tw_C"], given["P_hPa"] * 100, method)
        dew = dew_point.dew_point_of_wet_bulb_c(*state)
        return [dew, dew_point.humidity_of_wet_bulb_percent(*state)]

    return both


def _emission(rule: EmissionRule) -> Callable[[Given], float]:
    return lambda given: concrete_moisture.emission_us(given["g"], given["h"], rule)


def _salts(given: Given) -> float:
    return salts.salts_mg_m2(given["L2"], given["L1"], given["V_mL"])


def _salt_factor(factor: SaltFactor) -> Callable[[Given], float]:
    return lambda given: salts.salt_factor(given["V_mL"], given["A_mm2"], factor)


def _holiday(rule: HolidayRule) -> Callable[[Given], float]:
    return lambda given: holidays.holiday_voltage_v(given["T_mil"], rule)


def _holiday_of_1_mm(rule: HolidayRule) -> Callable[[Given], float]:
    """Return the voltage of 1 mm: the factor for the root of millimetres."""
    return lambda _: holidays.holiday_voltage_v(convert(1, "mm", "mil"), rule)


def _ft2_per_gallon(dry_mil: float, solids: float) -> float:
    rate = spreading.spreading_m2_per_l(convert(dry_mil, "mil", "um"), solids)
    return convert(rate, "m2/L", "ft2/gal")


def _concrete_psi(rule: TensionRule) -> Callable[[Given], float]:
    def tension(given: Given) -> float:
        compressive = convert(given["fc_psi"], "psi", "MPa")
        return convert(concrete_strength.tension_mpa(compressive, rule), "MPa", "psi")

    return tension


def _spots(levels: dict[int, thickness.Level], level: int) -> Callable[[Given], list[float | None]]:
    return lambda given: list(thickness.spot_range(given["min"], given["max"], levels[level]))


FORMULAS: tuple[tuple[str, Callable[[Given], Any]], ...] = (
    ("pull_stress_2in_1000lbf_MPa", _stress),
    ("pull_stress_2in_1000lbf", lambda g: convert(_stress(g), "MPa", "psi")),
    ("pull_stress", _stress),
    ("gauge_factor", lambda g: pull_off.rescaled(1, g["d_cal_mm"], g["d_used_mm"])),
    ("gauge_ex", lambda g: pull_off.rescaled(g["gauge_MPa"], g["d_cal_mm"], g["d_used_mm"])),
    ("force_", _force),
    ("time_d4541", lambda g: pull_off.seconds_to(g["stress"], g["rate"])),
    ("time_en1542", lambda g: pull_off.seconds_to(g["stress"], g["rate"])),
    ("time_", lambda g: pull_off.seconds_to(g["stress_psi"], g["rate_psi_s"])),
    ("pa2_areas", lambda g: thickness.areas_to_measure(g["area_ft2"])),
    ("pa2_readings", lambda g: 15 * thickness.areas_to_measure(g["area_ft2"])),
    ("pa2_l3", _spots(thickness.PA2_LEVELS, 3)),
    ("pa2_l4", _spots(thickness.PA2_LEVELS, 4)),
    ("pa9_l3", _spots(thickness.PA9_LEVELS, 3)),
    (
        "d4138_angle",
        lambda g: math.degrees(math.atan(thickness.wedge_depth(1, 1 / g["ratio"]))),
    ),
    ("coverage_const", lambda _: _ft2_per_gallon(1, 1)),
    ("coverage_metric", lambda g: spreading.spreading_m2_per_l(g["DFT_um"], g["VS"])),
    ("coverage_", lambda g: _ft2_per_gallon(g["DFT_mil"], g["VS"])),
    ("wft_unthinned", lambda g: spreading.wet_from_dry(g["DFT"], g["VS"])),
    ("wft_thinned", lambda g: spreading.wet_from_dry(g["DFT"], g["VS"], g["t"])),
    ("dft_thinned", lambda g: spreading.dry_from_wet(g["WFT"], g["VS"], g["t"])),
    (
        "gallons_needed",
        lambda g: convert(
            spreading.litres_needed(
                convert(g["area_ft2"], "ft2", "m2"),
                convert(g["DFT_mil"], "mil", "um"),
                g["VS"],
                g["loss"],
            ),
            "L",
            "gal",
        ),
    ),
    (
        "litres_needed",
        lambda g: spreading.litres_needed(g["area_m2"], g["DFT_um"], g["VS"], g["loss"]),
    ),
    (
        "dft_back",
        lambda g: convert(
            spreading.dry_from_litres_um(
                convert(g["gal"], "gal", "L"),
                convert(g["area_ft2"], "ft2", "m2"),
                g["VS"],
                g["loss"],
            ),
            "um",
            "mil",
        ),
    ),
    ("eew_mix", lambda g: mixing.equivalent_weight_of_blend(g["parts"])),
    ("phr_", lambda g: mixing.hardener_phr(g["AHEW"], g["EEW"])),
    (
        "stoich_index",
        lambda g: mixing.stoichiometric_index(g["mA"], g["EEW"], g["mB"], g["AHEW"]),
    ),
    ("vol_ratio", lambda g: mixing.volume_ratio(g["phr"], g["rhoA"], g["rhoB"])),
    (
        "dew_wb",
        lambda g: dew_point.dew_point_of_wet_bulb_c(g["T_C"], g["Tw_C"], g["P_hPa"] * 100),
    ),
    ("dew_", lambda g: dew_point.dew_point_c(g["T_C"], g["RH"])),
    ("pws_", lambda g: dew_point.saturation_pa(g["T_C"])),
    ("stdP_", lambda g: dew_point.pressure_at_pa(g["z_m"])),
    ("margin_5F", lambda _: convert_difference(5, "degF", "degC")),
    (
        "surfRH_",
        lambda g: dew_point.humidity_at_surface_percent(g["Td_C"] + 3, g["Td_C"]),
    ),
    ("mver_const", lambda _: _emission(EmissionRule.DISH_DEDUCTED)({"g": 1, "h": 1}) * _UNDER_DOME),
    ("mver_area", lambda _: concrete_moisture.emission_area_ft2()),
    ("mver_3g_72h_nodish", _emission(EmissionRule.DISH_NOT_DEDUCTED)),
    ("mver_3g_72h", _emission(EmissionRule.DISH_DEDUCTED)),
    ("mver_5g_72h_alt", _emission(EmissionRule.KIT)),
    ("mver_5g_72h", _emission(EmissionRule.DISH_DEDUCTED)),
    ("mver_si_", lambda g: convert(g["lb"], "lb/1000ft2/24h", "ug/s/m2")),
    ("mver_g_", lambda g: convert(g["lb"], "lb/1000ft2/24h", "g/m2/24h")),
    ("moist_tests", lambda g: concrete_moisture.moisture_tests_needed(g["area_ft2"])),
    ("f2170_depth_6in_oneside", lambda g: concrete_moisture.probe_depth(g["t_in"])),
    (
        "f2170_depth_150_twoside",
        lambda g: concrete_moisture.probe_depth(g["t_mm"], Drying.TWO_SIDES),
    ),
    ("bresle_factor", _salt_factor(SaltFactor.MIXED)),
    ("bresle_nacl", _salt_factor(SaltFactor.SODIUM_CHLORIDE)),
    ("bresle_ex", _salts),
    ("cl_from_nacl", lambda g: salts.chloride_at_most_ug_cm2(g["nacl_mg_m2"])),
    ("kappa25", lambda g: salts.conductivity_at_25(g["k"], g["T_C"], g["alpha"])),
    ("holiday525", _holiday(HolidayRule.TWO_RANGES)),
    ("holiday1250", _holiday(HolidayRule.ONE_CURVE)),
    (
        "holiday250um",
        lambda g: holidays.holiday_voltage_v(
            convert(g["T_um"], "um", "mil"), HolidayRule.ONE_CURVE
        ),
    ),
    ("holiday_M_mm_525", _holiday_of_1_mm(HolidayRule.TWO_RANGES)),
    ("holiday_M_mm_1250", _holiday_of_1_mm(HolidayRule.ONE_CURVE)),
    ("holiday100", _holiday(HolidayRule.PER_MIL)),
    ("d2369", lambda g: gravimetry.volatile_percent(g["S"], g["W1"], g["W2"])),
    ("ic_extract", lambda g: salts.ion_ug_cm2(g["mg_L"], g["V_mL"], g["A_cm2"])),
    ("fsp_", _concrete_psi(TensionRule.SPLITTING)),
    ("fr_", _concrete_psi(TensionRule.RUPTURE)),
    ("coef_67_SI", lambda _: concrete_strength.factor_si(6.7)),
    ("coef_75_SI", lambda _: concrete_strength.factor_si(7.5)),
    ("pot_", lambda g: curing.time_at(g["tref_h"], g["Tref_C"], g["T_C"])),
)


def _named(value: Given) -> str:
    return f"{value['id']}, {value['source']} ({value['status']})"


def _formula_of(name: str) -> Callable[[Given], Any]:
    if name.startswith("wb_"):
        return _wet_bulb(WetBulb.THERMODYNAMIC if name.endswith("ashrae") else WetBulb.PSYCHROMETER)
    return next(formula for prefix, formula in FORMULAS if name.startswith(prefix))


@pytest.mark.parametrize("value", VALUES, ids=_named)
def test_a_published_or_worked_value_is_met(value: Given) -> None:
    found = _formula_of(value["id"])(value["inputs"])
    assert found == pytest.approx(value["expected"], abs=value["tol"] or 1e-9, rel=0)


def test_all_values_are_there() -> None:
    assert len(VALUES) == len({value["id"] for value in VALUES}) == 168
