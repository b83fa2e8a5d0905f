"""Calculators of concrete and surfaces: emission rate, probe depth, salts."""

from collections.abc import Iterable

from workbench.desk.calculators.frame import Calculator, Found, Given, Input
from workbench.trade.basis import PRACTICE, Basis, Status
from workbench.trade.concrete_moisture import (
    Drying,
    EmissionRule,
    emission_area_ft2,
    emission_us,
    moisture_tests_needed,
    probe_depth,
)
from workbench.trade.salts import (
    PATCH_MM2,
    SaltFactor,
    chloride_at_most_ug_cm2,
    conductivity_at_25,
    salt_factor,
    salts_mg_m2,
)
from workbench.trade.showing import (
    AREA,
    CONDUCTIVITY,
    COUNT,
    EMISSION,
    HOURS,
    PLAIN,
    SALTS,
    SIZE,
    TEMPERATURE,
    Kind,
)
from workbench.trade.units import convert

GRAMS = Kind("g", "g", ((float("inf"), 0.01, 0.01),))
MILLILITRES = Kind("mL", "mL", ((float("inf"), 0.1, 0.1),))
UNDER_DOME = Kind("cm2", "in2", ((float("inf"), 0.1, 0.01),))
PATCH = Kind("mm2", "in2", ((float("inf"), 1, 0.01),))


def _emission(given: Given) -> Iterable[Found]:
    rule = EmissionRule(given.word("rule"))
    rate = convert(emission_us(given["gained"], given["hours"], rule), "lb/1000ft2/24h", "g/m2/24h")
    yield Found(name="emission", label="moisture emission rate", kind=EMISSION, value=rate,
                quantity="emission")  # fmt: skip
    area = convert(emission_area_ft2(rule), "ft2", "cm2")
    yield Found(name="area", label="area it is taken to come from", kind=UNDER_DOME, value=area)
    inside = 60 <= given["hours"] <= 72
    words = "60 to 72 h, as asked for" if inside else "outside 60 to 72 h: not a valid test"
    yield Found(name="exposure", label="exposure", words=words)


EMISSION_RATE = Calculator(
    name="emission",
    title="Moisture emission rate by calcium chloride",
    inputs=(
        Input(name="gained", label="gained by the salt", kind=GRAMS, required=True),
        Input(name="hours", label="exposure", kind=HOURS, required=True),
        Input(name="rule", label="area", words=tuple(EmissionRule), setting="emission_rule"),
    ),
    formula="52.91 · Δm(g) / (A(ft²) · t(h)) in lb/1000 ft²/24 h; A = (70 − 5.94)/144 ft²",
    bases=(
        Basis("ASTM F1869", Status.MEMORY),
        Basis("page on ASTM F1869-16a: its constants and example", Status.READ),
    ),
    compute=_emission,
    caution="The top 20 mm of the slab on that day; not what a sealed slab will do.",
)


def _probe(given: Given) -> Iterable[Found]:
    depth = probe_depth(given["slab"], Drying(given.word("drying")))
    yield Found(name="depth", label="depth of the probe", kind=SIZE, value=depth)
    if (area := given.get("area")) is not None:
        number = moisture_tests_needed(convert(area, "m2", "ft2"))
        yield Found(name="tests", label="tests needed", kind=COUNT, value=float(number))


PROBE = Calculator(
    name="probe-depth",
    title="Depth and number of in-situ humidity probes",
    inputs=(
        Input(name="slab", label="thickness of the slab", kind=SIZE, required=True),
        Input(name="drying", label="dries from", words=tuple(Drying), setting="slab_drying"),
        Input(name="area", label="area of the floor", kind=AREA),
    ),
    formula="40 % of the thickness where one side dries, 20 % where two do; 3 tests for the first "
    "1000 ft² and 1 for each further 1000 ft² or part",
    bases=(Basis("guide to ASTM F2170-09", Status.READ),),
    compute=_probe,
)


def _salts(given: Given) -> Iterable[Found]:
    celsius, rise = given["temperature"], given.settings.salt_per_kelvin
    extract = conductivity_at_25(given["extract"], celsius, rise)
    blank = conductivity_at_25(given["blank"], celsius, rise)
    volume, area, factor = given["volume"], given["area"], SaltFactor(given.word("factor"))
    density = salts_mg_m2(extract, blank, volume, area, factor)
    yield Found(name="salts", label="soluble salts", kind=SALTS, value=density, quantity="salts")
    yield Found(name="factor", label="mg/m² for each µS/cm", kind=PLAIN,
                value=salt_factor(volume, area, factor))  # fmt: skip
    chlorides = salts_mg_m2(extract, blank, volume, area, SaltFactor.SODIUM_CHLORIDE)
    yield Found(name="chloride", label="chloride in them, at most", kind=SALTS,
                value=10 * chloride_at_most_ug_cm2(chlorides))  # fmt: skip
    words = "5 µS/cm or less, as asked for" if blank <= 5 else "above 5 µS/cm: not reagent water"
    yield Found(name="water", label="water", words=words)


SALT_DENSITY = Calculator(
    name="salts",
    title="Soluble salts from conductivity",
    inputs=(
        Input(name="extract", label="conductivity of the extract", kind=CONDUCTIVITY,
              required=True),
        Input(name="blank", label="conductivity of the water before", kind=CONDUCTIVITY,
              required=True),
        Input(name="volume", label="volume of water", kind=MILLILITRES, required=True),
        Input(name="area", label="area extracted", kind=PATCH, default=f"{PATCH_MM2:g} mm2"),
        Input(name="temperature", label="temperature of the water", kind=TEMPERATURE,
              default="25 degC"),
        Input(name="factor", label="conductivity stands for", words=tuple(SaltFactor),
              setting="salt_factor"),
    ),
    formula="ρ = 500 · V(mL) / A(mm²) · (γ − γ₀) mg/m² per µS/cm; γ(25 °C) = γ / (1 + α (T − 25)); "
    "chloride at most 0.607 of what would be sodium chloride",
    bases=(
        Basis("ISO 8502-9, factors in a procedure", Status.READ),
        Basis("ISO 8502-9, constant; molar conductivities of handbooks", Status.MEMORY),
        PRACTICE,
    ),
    compute=_salts,
    caution="All salts together: they may show that a limit for chloride is kept, never that it "
    "is exceeded.",
)  # fmt: skip
CALCULATORS = (EMISSION_RATE, PROBE, SALT_DENSITY)
