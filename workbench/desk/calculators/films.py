"""Calculators of the film: spreading, mix, thickness acceptance, wedge cut, holiday voltage."""

from collections.abc import Iterable
from enum import StrEnum

from workbench.desk.calculators.frame import Calculator, Found, Given, Input
from workbench.trade.basis import PRACTICE, Basis, Status
from workbench.trade.holidays import LOW_VOLTAGE_LIMIT_MIL, HolidayRule, holiday_voltage_v
from workbench.trade.mixing import MixRatio, hardener_phr, stoichiometric_index
from workbench.trade.showing import (
    AREA,
    MASS,
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


def _mix(given: Given) -> Iterable[Found]:
    base, hardener = given["base"], given["hardener"]
    if ratio := given.word("ratio"):
        index = MixRatio.read(ratio).hardener_index(base, hardener)
        yield Found(name="of_ratio", label=f"hardener, of what {ratio} asks for", kind=PERCENT,
                    value=100 * index, quantity="mix_ratio_relative")  # fmt: skip
        allowed = given.settings.mix_tolerance_percent
        words = "within" if abs(100 * index - 100) <= allowed else "outside"
        yield Found(name="within", label=f"within {allowed:g} %", words=words)
    epoxide, hydrogen = given.get("eew"), given.get("ahew")
    if epoxide is not None and hydrogen is not None:
        index = stoichiometric_index(base, epoxide, hardener, hydrogen)
        yield Found(name="index", label="stoichiometric index, 1 is balanced", kind=PLAIN,
                    value=index)  # fmt: skip
        phr = hardener_phr(hydrogen, epoxide)
        yield Found(name="phr", label="hardener for 100 of resin", kind=PLAIN, value=phr)


MIX = Calculator(
    name="mix",
    title="Mix ratio and stoichiometric index",
    inputs=(
        Input(name="base", label="base", kind=MASS, required=True,
              hint="masses where the ratio is by weight"),
        Input(name="hardener", label="hardener", kind=MASS, required=True),
        Input(name="ratio", label="ratio by weight", hint="base to hardener, as 3:1"),
        Input(name="eew", label="epoxide equivalent weight, g/eq", kind=PLAIN),
        Input(name="ahew", label="amine hydrogen equivalent weight, g/eq", kind=PLAIN),
    ),
    formula="of ratio = (B/A) / (b/a); index = (B/AHEW) / (A/EEW); phr = 100 · AHEW / EEW",
    bases=(Basis("two guides to epoxy calculations", Status.READ), PRACTICE),
    compute=_mix,
    caution="Volumes need densities first.",
)  # fmt: skip


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
    yield Found(name="verdict", label=found.rule, words=words)
    for spot in found.failed:
        side = "below" if spot.below else "above"
        yield Found(name=f"spot_{spot.name}", label=f"spot {spot.name}, {side} its limit",
                    kind=THICKNESS, value=spot.value, apart_from=spot.limit)  # fmt: skip
    for at, reason in enumerate(found.reasons, 1):
        yield Found(name=f"reason_{at}", label="also", words=f"{reason} (in µm)")


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
    ),
    formula="PA 2 level 3: spots 80 to 120 %, PA 9 level 3: 75 to 125 %, means inside; ISO 19840: "
    "mean ≥ nominal, all ≥ 80 %, a fifth below; 90/10: nine tenths ≥ nominal, all ≥ 90 %",
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
CALCULATORS = (SPREADING_RATE, MIX, THICKNESS_ACCEPTANCE, WEDGE, HOLIDAY)
