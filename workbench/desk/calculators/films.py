"""Calculators of the film: spreading, thickness acceptance, wedge cut, holiday voltage."""

from collections.abc import Iterable
from enum import StrEnum

from workbench.desk.calculators.frame import Calculator, Found, Given, Input
from workbench.trade.basis import Basis, Status
from workbench.trade.holidays import LOW_VOLTAGE_LIMIT_MIL, HolidayRule, holiday_voltage_v
from workbench.trade.showing import (
    AREA,
    COUNT,
    PERCENT,
    PLAIN,
    SPREADING,
    THICKNESS,
    VOLTAGE,
    VOLUME,
)
from workbench.trade.spreading import (
    dry_from_litres_um,
    dry_from_wet,
    litres_needed,
    spreading_m2_per_l,
    wet_from_dry,
)
from workbench.trade.thickness import (
    PA2_LEVELS,
    PA9_LEVELS,
    Acceptance,
    WedgeRule,
    accept_iso_19840,
    accept_ninety_ten,
    accept_spots,
    areas_to_measure,
    readings_needed_iso,
    wedge_depth,
)
from workbench.trade.units import convert


def _spreading(given: Given) -> Iterable[Found]:
    for name, least in (("solids", 1), ("thinner", -1), ("loss", -1)):
        if not least < given[name] < 100 + (name != "loss"):
            raise ValueError(f"{name} of {given[name]:g} %; give a percentage, as 65 for 65 %")
    solids, thinner, loss = (given[name] / 100 for name in ("solids", "thinner", "loss"))
    dry, wet, area = given.get("dry"), given.get("wet"), given.get("area")
    if dry is None and wet is not None:
        dry = dry_from_wet(wet, solids, thinner)
        yield Found(name="dry", label="dry film", kind=THICKNESS, value=dry)
    elif dry is not None:
        wet = wet_from_dry(dry, solids, thinner)
        yield Found(name="wet", label="wet film", kind=THICKNESS, value=wet)
    if dry is not None:
        rate = spreading_m2_per_l(dry, solids)
        yield Found(name="rate", label="theoretical spreading rate", kind=SPREADING, value=rate)
    if dry is not None and area is not None:
        litres = litres_needed(area, dry, solids, loss)
        yield Found(name="litres", label="paint needed, unthinned", kind=VOLUME, value=litres)
    used = given.get("used")
    if used is not None and area is not None:
        left = dry_from_litres_um(used, area, solids, loss)
        yield Found(name="left", label="dry film that the paint used leaves", kind=THICKNESS,
                    value=left)  # fmt: skip


SPREADING_RATE = Calculator(
    name="spreading",
    title="Wet film, dry film, spreading rate and consumption",
    inputs=(
        Input(name="solids", label="volume solids", kind=PERCENT, required=True),
        Input(name="dry", label="dry film", kind=THICKNESS, hint="or the wet film"),
        Input(name="wet", label="wet film", kind=THICKNESS),
        Input(name="thinner", label="thinner added, of the paint", kind=PERCENT, default="0"),
        Input(name="area", label="area", kind=AREA),
        Input(name="loss", label="lost on the way", kind=PERCENT, default="0"),
        Input(name="used", label="paint used, unthinned", kind=VOLUME),
    ),
    formula="dry = wet · VS / (1 + t); m²/L = 1000 · VS / dry(µm); ft²/gal = 1604 · VS / dry(mil)",
    bases=(
        Basis("two estimating guides", Status.READ),
        Basis("MIL-HDBK-1110", Status.READ),
    ),
    compute=_spreading,
    caution="Theoretical: a profile, waste and overlaps take more.",
)


class Rule(StrEnum):
    """The rules by which thickness is accepted."""

    PA2 = "SSPC-PA 2"
    PA9 = "SSPC-PA 9"
    ISO = "ISO 19840"
    NINETY_TEN = "90/10"


def _accepted(given: Given) -> Acceptance:
    spots = {f"{at}": um for at, um in enumerate(given.several["readings"], 1)}
    rule, least, most = Rule(given.word("rule")), given["least"], given.get("most")
    if rule is Rule.ISO:
        return accept_iso_19840(spots, least, most, given["correction"])
    if rule is Rule.NINETY_TEN:
        return accept_ninety_ten(spots, least)
    if most is None:
        raise ValueError(f"most is missing; {rule} needs the most specified too")
    levels = PA2_LEVELS if rule is Rule.PA2 else PA9_LEVELS
    chosen = given.settings
    usual = chosen.spot_level_metal if rule is Rule.PA2 else chosen.spot_level_concrete
    level = int(given.get("level") or usual)
    if level not in levels:
        raise ValueError(f"{rule} has no level {level}; it has {', '.join(map(str, levels))}")
    return accept_spots(spots, least, most, levels[level], f"{rule}, level {level}")


def _thickness(given: Given) -> Iterable[Found]:
    found = _accepted(given)
    yield Found(name="mean", label="mean", kind=THICKNESS, value=found.mean,
                apart_from=given["least"])  # fmt: skip
    yield Found(name="low", label="least for a spot", kind=THICKNESS, value=found.low)
    if found.high is not None:
        yield Found(name="high", label="most for a spot", kind=THICKNESS, value=found.high)
    words = "accepted" if found.passes else "not accepted"
    if (area := given.get("area")) is not None:
        needed, what = _needed(Rule(given.word("rule")), area)
        yield Found(name="needed", label=f"{what} needed", kind=COUNT, value=float(needed))
        count = len(given.several["readings"])
        if found.passes and count < needed:
            words = f"too few to accept: {count} of {needed}"
    yield Found(name="verdict", label=found.rule, words=words)
    for spot in found.failed:
        side = "below" if spot.below else "above"
        yield Found(name=f"spot_{spot.name}", label=f"spot {spot.name}, {side} its limit",
                    kind=THICKNESS, value=spot.value, apart_from=spot.limit)  # fmt: skip
    for at, reason in enumerate(found.reasons, 1):
        yield Found(name=f"reason_{at}", label="also", words=f"{reason} (in µm)")


def _needed(rule: Rule, area_m2: float) -> tuple[int, str]:
    """Return how many a rule asks for on so large an area, and of what."""
    if rule is Rule.PA2:
        return 5 * areas_to_measure(convert(area_m2, "m2", "ft2")), "spots of 3 readings"
    if rule is Rule.ISO:
        return readings_needed_iso(area_m2), "readings"
    raise ValueError(f"area: how many {rule} asks for is not known here; leave it blank")


THICKNESS_ACCEPTANCE = Calculator(
    name="thickness",
    title="Acceptance of thickness, every failing spot named",
    inputs=(
        Input(name="readings", label="spots, or single readings", kind=THICKNESS, required=True,
              many=True, hint="210; 195; 170, in their order"),
        Input(name="rule", label="rule", words=tuple(Rule), default=Rule.PA2),
        Input(name="least", label="least or nominal specified", kind=THICKNESS, required=True),
        Input(name="most", label="most specified", kind=THICKNESS),
        Input(name="level", label="restriction level", kind=PLAIN,
              hint="blank: as the settings choose"),
        Input(name="correction", label="deducted for the profile (ISO 19840)", kind=THICKNESS,
              default="0", hint="10, 25 or 40 µm"),
        Input(name="area", label="area inspected", kind=AREA, hint="tells how many are needed"),
    ),
    formula="PA 2 level 3: spots 80 to 120 %, PA 9 level 3: 75 to 125 %, means inside; ISO 19840: "
    "mean ≥ nominal, all ≥ 80 %, a fifth below; 90/10: nine tenths ≥ nominal, all ≥ 90 %. How "
    "many: PA 2 five spots in each 100 ft² up to 300, in three up to 1000, in one more for each "
    "further 1000; ISO 19840 by its table",
    bases=(
        Basis("SSPC-PA 2 and PA 9, trade texts", Status.READ),
        Basis("ISO 19840", Status.MEMORY),
        Basis("IMO PSPC, 90/10", Status.READ),
    ),
    compute=_thickness,
)  # fmt: skip


def _wedge(given: Given) -> Iterable[Found]:
    depth = wedge_depth(given["width"], given["tip"], WedgeRule(given.word("rule")))
    yield Found(name="depth", label="thickness", kind=THICKNESS, value=depth)


WEDGE = Calculator(
    name="wedge-cut",
    title="Thickness from the width of a wedge cut",
    inputs=(
        Input(name="width", label="width read", kind=THICKNESS, required=True),
        Input(name="tip", label="number of the tip", kind=PLAIN, required=True, hint="1, 2 or 10"),
        Input(name="rule", label="the width is", words=tuple(WedgeRule), setting="wedge_rule"),
    ),
    formula="depth = width · tan θ, θ = 45.0°, 26.6°, 5.7° for tips 1, 2, 10",
    bases=(
        Basis("ASTM D4138, geometry", Status.MEMORY),
        Basis("MIL-HDBK-1110 multiplies", Status.READ),
    ),
    compute=_wedge,
)


def _holiday(given: Given) -> Iterable[Found]:
    mil = convert(given["film"], "um", "mil")
    low = mil <= LOW_VOLTAGE_LIMIT_MIL
    words = "wet sponge, 67.5 V" if low else "spark"
    yield Found(name="way", label="up to 500 µm (20 mil) a wet sponge", words=words)
    volts = holiday_voltage_v(mil, HolidayRule(given.word("rule")))
    yield Found(name="voltage", label="spark voltage", kind=VOLTAGE, value=volts)


HOLIDAY = Calculator(
    name="holiday",
    title="Voltage of a holiday test",
    inputs=(
        Input(name="film", label="film", kind=THICKNESS, required=True),
        Input(name="rule", label="rule", words=tuple(HolidayRule), setting="holiday_rule"),
    ),
    formula="V = 525 √mil up to 40 mil, 1250 √mil above; or 1250 √mil; or 100 V for each mil",
    bases=(
        Basis("annex of ASTM D5162 and D4787", Status.MEMORY),
        Basis("SP0274, in a procedure; MIL-HDBK-1110", Status.READ),
    ),
    compute=_holiday,
    caution="SP0188 changed its voltages in 2024: the contract's edition goes first. A spark "
    "shocks and ignites vapour: earth the work, dry hands, no solvent about, nobody with a "
    "pacemaker near.",
)
CALCULATORS = (SPREADING_RATE, THICKNESS_ACCEPTANCE, WEDGE, HOLIDAY)
