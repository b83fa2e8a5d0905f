"""Calculators of the mix: the ratio used against the one asked for, and against the chemistry."""

from collections.abc import Iterable
from enum import StrEnum

from workbench.desk.calculators.frame import Calculator, Found, Given, Input
from workbench.trade.basis import PRACTICE, Basis, Status
from workbench.trade.mixing import (
    MixRatio,
    equivalent_weight_of_blend,
    hardener_phr,
    hydroxyl_weight,
    isocyanate_weight,
    stoichiometric_index,
    volume_ratio,
)
from workbench.trade.showing import DENSITY, MASS, PERCENT, PLAIN


class RatioBy(StrEnum):
    """What the parts of a specified ratio are."""

    MASS = "mass"
    VOLUME = "volume"


def _asked_ratio(given: Given, text: str) -> MixRatio:
    ratio = MixRatio.read(text)
    if RatioBy(given.word("ratio_by")) is RatioBy.MASS:
        return ratio
    if not given.all_of(*_DENSITIES):
        raise ValueError("a ratio by volume needs base_density and hardener_density too")
    return ratio.by_mass(given["base_density"], given["hardener_density"])


def _equivalents(given: Given) -> tuple[float, float] | None:
    """Return the equivalent weights of base, its filler in it, and hardener; None without them."""
    amine, isocyanate = given.any_of("eew", "ahew"), given.any_of("hydroxyl", "nco")
    if not (amine or isocyanate):
        return None
    if amine and isocyanate:
        raise ValueError("give eew with ahew, or hydroxyl with nco: others do not react as a pair")
    if amine:
        base, hardener = given["eew"], given["ahew"]
    else:
        base, hardener = hydroxyl_weight(given["hydroxyl"]), isocyanate_weight(given["nco"])
    filler = given["filler"]
    if not 0 <= filler < 100:
        raise ValueError(f"filler of {filler:g} %; it is 0 or more and below 100 %")
    return equivalent_weight_of_blend(((100 - filler, base), (filler, None))), hardener


def _mix(given: Given) -> Iterable[Found]:
    base, hardener = given["base"], given["hardener"]
    if text := given.word("ratio"):
        index = _asked_ratio(given, text).hardener_index(base, hardener)
        yield Found(name="of_ratio", label=f"hardener, of what {text} asks for", kind=PERCENT,
                    value=100 * index, quantity="mix_ratio_relative")  # fmt: skip
        allowed = given.settings.mix_tolerance_percent
        words = "within" if abs(100 * index - 100) <= allowed else "outside"
        yield Found(name="within", label=f"within {allowed:g} %", words=words)
    if equivalents := _equivalents(given):
        of_base, of_hardener = equivalents
        index = stoichiometric_index(base, of_base, hardener, of_hardener)
        yield Found(name="index", label="stoichiometric index, 1 is balanced", kind=PLAIN,
                    value=index)  # fmt: skip
        phr = hardener_phr(of_hardener, of_base)
        yield Found(name="phr", label="hardener for 100 of base, by mass", kind=PLAIN, value=phr)
        if given.all_of(*_DENSITIES):
            by_volume = volume_ratio(phr, given["base_density"], given["hardener_density"])
            yield Found(name="by_volume", label="hardener for 1 of base, by volume", kind=PLAIN,
                        value=by_volume)  # fmt: skip


_DENSITIES = ("base_density", "hardener_density")
MIX = Calculator(
    name="mix",
    title="Mix ratio and stoichiometric index",
    inputs=(
        Input(name="base", label="base", kind=MASS, required=True, hint="by weight"),
        Input(name="hardener", label="hardener", kind=MASS, required=True, hint="by weight"),
        Input(name="ratio", label="ratio asked for", hint="base to hardener, as 3:1"),
        Input(name="ratio_by", label="the ratio is by", words=tuple(RatioBy),
              default=RatioBy.MASS),
        Input(name="base_density", label="density of the base", kind=DENSITY,
              hint="for a ratio by volume"),
        Input(name="hardener_density", label="density of the hardener", kind=DENSITY),
        Input(name="eew", label="epoxide equivalent weight, g/eq", kind=PLAIN),
        Input(name="ahew", label="amine hydrogen equivalent weight, g/eq", kind=PLAIN),
        Input(name="hydroxyl", label="or hydroxyl number, mg KOH/g", kind=PLAIN),
        Input(name="nco", label="with NCO of the hardener", kind=PERCENT),
        Input(name="filler", label="pigment and filler in the base, by mass", kind=PERCENT,
              default="0", hint="0 where the weight is of the base as supplied"),
    ),
    formula="of ratio = (B/A) / (b/a), volumes times densities; index = (B/EWB) / (A/EWA); "
    "EW of NCO = 4200/%, of hydroxyl = 56100/number, of a filled base = EW / (1 − filler)",
    bases=(
        Basis("two guides to epoxy calculations", Status.READ),
        Basis("equivalents of isocyanate and hydroxyl", Status.MEMORY),
        PRACTICE,
    ),
    compute=_mix,
    caution="Water, alcohols and amines take isocyanate too: an index near 1 is no proof of cure.",
)  # fmt: skip

CALCULATORS = (MIX,)
