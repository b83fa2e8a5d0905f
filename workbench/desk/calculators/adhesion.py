"""Calculators of adhesion: stress of a pull-off, bond, tension of concrete."""

from collections.abc import Iterable

from workbench.desk.calculators.frame import Calculator, Found, Given, Input
from workbench.records.codes import FixtureShape
from workbench.trade.basis import Basis, Status
from workbench.trade.bond_acceptance import EN_1504_2, Bond, FloorBond, accept_bond, overlay_class
from workbench.trade.concrete_strength import TensionRule, share_of_expected, tension_mpa
from workbench.trade.pull_off import area_mm2, force_n, rate_mpa_s, rescaled, seconds_to, stress_mpa
from workbench.trade.showing import (
    FORCE,
    PERCENT,
    PLAIN,
    SECONDS,
    SIZE,
    STRESS,
    STRESS_RATE,
)

_FLOOR = {FloorBond.STANDARD: EN_1504_2["rigid, traffic"], FloorBond.SECOND_HAND: Bond(1.5, 1.0)}


def _stress(given: Given) -> Iterable[Found]:
    shape = FixtureShape(given.word("shape"))
    size = given["fixture"]
    face = area_mm2(size, shape)
    if (force := given.get("force")) is not None:
        mpa = stress_mpa(force, face)
    elif (reading := given.get("reading")) is not None:
        mpa = rescaled(reading, given.get("calibrated_for") or size, size)
    else:
        raise ValueError("force or reading is missing; give one of them")
    yield Found(name="stress", label="stress", kind=STRESS, value=mpa)
    yield Found(name="force", label="force", kind=FORCE, value=force_n(mpa, face))
    if (seconds := given.get("seconds")) is not None:
        rate = rate_mpa_s(mpa, seconds)
        yield Found(name="rate", label="rate of stress", kind=STRESS_RATE, value=rate)
    if (asked := given.get("rate")) is not None:
        yield Found(name="time", label="time at the rate asked for", kind=SECONDS,
                    value=seconds_to(mpa, asked))  # fmt: skip


STRESS_OF_PULL = Calculator(
    name="stress",
    title="Stress of a pull-off",
    inputs=(
        Input(name="fixture", label="size of the fixture", kind=SIZE, required=True,
              hint="diameter, or side of a square one"),
        Input(name="shape", label="shape", words=tuple(FixtureShape), default="round"),
        Input(name="force", label="force", kind=FORCE, hint="or the reading as stress"),
        Input(name="reading", label="stress shown", kind=STRESS),
        Input(name="calibrated_for", label="gauge calibrated for", kind=SIZE),
        Input(name="seconds", label="time to the break", kind=SECONDS),
        Input(name="rate", label="rate asked for", kind=STRESS_RATE, hint="tells the time to take"),
    ),
    formula="σ = F / A, A = π d² / 4; of a gauge calibrated for d₀: σ = reading · (d₀ / d)²; "
    "time = σ / rate",
    bases=(
        Basis("AS 1012.24:2015", Status.READ),
        Basis("ASTM D4541, D7234, C1583, ISO 4624, EN 1542", Status.MEMORY),
    ),
    compute=_stress,
    caution="The stress of the weakest plane only; no structural opinion.",
)  # fmt: skip


def _bond(given: Given) -> Iterable[Found]:
    row = given.word("of")
    required = EN_1504_2[row] if row else _FLOOR[given.settings.floor_bond]
    mean = given.get("mean")
    single = given.get("single")
    asked = Bond(
        required.mean if mean is None else mean, required.single if single is None else single
    )
    results = {f"result {at}": mpa for at, mpa in enumerate(given.several["results"], 1)}
    found = accept_bond(results, asked, int(given["needed"]))
    if found.mean is not None:
        yield Found(
            name="mean", label=f"mean of {len(found.valid)}", kind=STRESS, value=found.mean,
            apart_from=asked.mean,
        )  # fmt: skip
        yield Found(name="class", label="as an overlay", words=overlay_class(found.mean))
    yield Found(name="verdict", label="mean and smallest single", words=str(found.verdict))
    if found.failed:
        yield Found(name="failed", label="below the single limit", words=", ".join(found.failed))


BOND = Calculator(
    name="bond",
    title="Bond: mean and smallest single",
    inputs=(
        Input(name="results", label="valid results", kind=STRESS, required=True, many=True,
              hint="1.6; 1.4; 1.7"),
        Input(name="of", label="system (EN 1504-2)", words=tuple(EN_1504_2),
              hint="blank: a rigid floor under traffic, as the settings choose"),
        Input(name="mean", label="mean asked for", kind=STRESS, hint="blank: of the system"),
        Input(name="single", label="single asked for", kind=STRESS),
        Input(name="needed", label="results asked for", kind=PLAIN, default="3"),
    ),
    formula="mean ≥ mean asked for, and every result ≥ single asked for",
    bases=(Basis("EN 1504-2", Status.MEMORY), Basis("AS 1012.24:2015", Status.READ)),
    compute=_bond,
    caution="A break in the glue is no valid result. No structural opinion.",
)  # fmt: skip


def _tension(given: Given) -> Iterable[Found]:
    rule = TensionRule(given.word("rule"))
    compressive = given["compressive"]
    expected = tension_mpa(compressive, rule)
    yield Found(name="tension", label="tension that goes with it", kind=STRESS, value=expected)
    if (broke := given.get("break")) is not None:
        share = 100 * share_of_expected(broke, compressive, rule)
        yield Found(name="share", label="the break, of that", kind=PERCENT, value=share)
        words = "plausible" if 50 <= share <= 150 else "deserves a second look"
        yield Found(name="plausible", label="between 50 and 150 %", words=words)


TENSION = Calculator(
    name="tension",
    title="Tension of concrete against its compressive strength",
    inputs=(
        Input(name="compressive", label="compressive strength", kind=STRESS, required=True),
        Input(name="break", label="break in the substrate", kind=STRESS),
        Input(name="rule", label="rule", words=tuple(TensionRule), setting="tension_rule"),
    ),
    formula="4 √f'c (direct), 6.7 √f'c (splitting), 7.5 √f'c (rupture) in psi; 0.3 fck^(2/3) MPa",
    bases=(
        Basis("rule of thumb for direct tension", Status.MEMORY),
        Basis("materials textbook; ACI 318", Status.READ),
        Basis("EN 1992-1-1", Status.MEMORY),
    ),
    compute=_tension,
    caution="An estimate to notice a suspicious reading by; no structural opinion.",
)

CALCULATORS = (STRESS_OF_PULL, BOND, TENSION)
