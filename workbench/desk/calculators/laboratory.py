"""Calculators of the laboratory: weighings, ions, calibration lines, glass transitions, colour."""

from collections.abc import Iterable

from workbench.desk.calculators.frame import Calculator, Found, Given, Input
from workbench.trade.basis import PRACTICE, Basis, Status
from workbench.trade.gravimetry import pigment_percent, volatile_percent
from workbench.trade.salts import ion_ug_cm2
from workbench.trade.showing import PERCENT, PLAIN, SALTS, TEMPERATURE, Kind

_ANY = float("inf")
GRAMS = Kind("g", "g", ((_ANY, 0.0001, 0.0001),))
MILLILITRES = Kind("mL", "mL", ((_ANY, 0.1, 0.1),))
CONCENTRATION = Kind("mg/L", "mg/L", ((_ANY, 0.01, 0.01),))
ENERGY = Kind("J/g", "J/g", ((_ANY, 0.1, 0.1),))
CENTIMETRES2 = Kind("cm2", "in2", ((_ANY, 0.1, 0.1),))


def _volatile(given: Given) -> Iterable[Found]:
    value = volatile_percent(given["specimen"], given["dish"], given["dried"])
    yield Found(name="volatile", label="volatile matter", kind=PERCENT, value=value)
    yield Found(name="solids", label="not volatile", kind=PERCENT, value=100 - value)


VOLATILE = Calculator(
    name="volatile",
    title="Volatile matter by weighing",
    inputs=(
        Input(name="specimen", label="specimen", kind=GRAMS, required=True),
        Input(name="dish", label="empty dish", kind=GRAMS, required=True),
        Input(name="dried", label="dish with residue", kind=GRAMS, required=True),
    ),
    formula="V = 100 − 100 (dried − dish) / specimen; 60 min at 110 °C",
    bases=(Basis("ASTM D2369: temperature and time", Status.READ),
           Basis("ASTM D2369: formula", Status.MEMORY)),
    compute=_volatile,
    caution="Solvents flash in an oven: small specimens, a ventilated oven, local rules.",
)  # fmt: skip


def _pigment(given: Given) -> Iterable[Found]:
    value = pigment_percent(given["specimen"], given["pigment"])
    yield Found(name="pigment", label="pigment", kind=PERCENT, value=value)


PIGMENT = Calculator(
    name="pigment",
    title="Pigment by weighing",
    inputs=(
        Input(name="specimen", label="specimen", kind=GRAMS, required=True),
        Input(name="pigment", label="pigment left", kind=GRAMS, required=True),
    ),
    formula="P = 100 pigment / specimen",
    bases=(Basis("ASTM D2371", Status.MEMORY),),
    compute=_pigment,
)


def _ions(given: Given) -> Iterable[Found]:
    blank = given.get("blank") or 0.0
    net = given["concentration"] - blank
    density = ion_ug_cm2(net, given["volume"], given["area"])
    yield Found(name="salts", label="on the surface", kind=SALTS, value=10 * density,
                quantity="salts")  # fmt: skip


IONS = Calculator(
    name="ions",
    title="Ions on a surface, from the extract",
    inputs=(
        Input(name="concentration", label="in the extract", kind=CONCENTRATION, required=True),
        Input(name="volume", label="extract", kind=MILLILITRES, required=True),
        Input(name="area", label="area extracted", kind=CENTIMETRES2, required=True),
        Input(name="blank", label="in the blank", kind=CONCENTRATION),
    ),
    formula="µg/cm² = (c − blank)(mg/L) · V(mL) / A(cm²); 1 µg/cm² is 10 mg/m²",
    bases=(PRACTICE,),
    compute=_ions,
    caution="Only what dissolved; salt found after the failure may have come in later.",
)


def _calibration(given: Given) -> Iterable[Found]:
    from workbench.analysis.calibration import calibrate, read_off

    line = calibrate(given.several["standards"], given.several["signals"])
    read = read_off(line, given.several["unknown"])
    yield Found(name="value", label="read off", kind=PLAIN, value=read.value)
    yield Found(name="low", label="interval from", kind=PLAIN, value=read.low)
    yield Found(name="high", label="interval to", kind=PLAIN, value=read.high)
    yield Found(name="r2", label="r² of the line", kind=PLAIN, value=line.r2)
    if read.outside:
        yield Found(
            name="outside", label="range", words="outside the standards: the line is not known here"
        )


CALIBRATION = Calculator(
    name="calibration",
    title="Mix ratio or share from a calibration line",
    inputs=(
        Input(name="standards", label="standards", kind=PLAIN, many=True, required=True,
              hint="mixes made, ; between"),
        Input(name="signals", label="their signals", kind=PLAIN, many=True, required=True,
              hint="band ratios, ; between"),
        Input(name="unknown", label="signals of the unknown", kind=PLAIN, many=True, required=True),
    ),
    formula=(
        "x = (y − a) / b; ± t(n − 2) s/|b| √(1/m + 1/n + (x − x̄)² / Σ(x − x̄)²), 95 %"
    ),
    bases=(Basis("Miller and Miller, Statistics and Chemometrics", Status.MEMORY),),
    compute=_calibration,
    caution="Standards of the same batch, made and measured as the unknown was.",
)  # fmt: skip


def _fox(given: Given) -> Iterable[Found]:
    from workbench.analysis.thermal.mixing import fox

    shares = tuple(part / 100 for part in given.several["shares"])
    value = fox(shares, given.several["transitions"])
    yield Found(name="tg", label="glass transition", kind=TEMPERATURE, value=value)


FOX = Calculator(
    name="fox",
    title="Glass transition of a mixture",
    inputs=(
        Input(name="shares", label="shares by mass", kind=PERCENT, many=True, required=True),
        Input(name="transitions", label="glass transition of each", kind=TEMPERATURE, many=True,
              required=True),
    ),
    formula="1/Tg = Σ w/Tg, in kelvin",
    bases=(Basis("Fox, Bull. Am. Phys. Soc. 1 (1956) 123", Status.READ),),
    compute=_fox,
    caution="For one phase only; where resin and solvent separate it does not hold.",
)  # fmt: skip


def _cure(given: Given) -> Iterable[Found]:
    from workbench.analysis.thermal.mixing import conversion_from_tg, dibenedetto

    ends = {
        "uncured_c": given["uncured"], "cured_c": given["cured"], "interaction": given["lambda"],
    }  # fmt: skip
    if given.any_of("cure") == given.any_of("tg"):
        raise ValueError("give either cure or tg; the other one is found")
    if (cure := given.get("cure")) is not None:
        yield Found(name="tg", label="glass transition", kind=TEMPERATURE,
                    value=dibenedetto(cure / 100, **ends))  # fmt: skip
    else:
        value = 100 * conversion_from_tg(given["tg"], **ends)
        yield Found(name="cure", label="degree of cure", kind=PERCENT, value=value)


CURE = Calculator(
    name="cure-tg",
    title="Cure and glass transition",
    inputs=(
        Input(name="uncured", label="Tg uncured", kind=TEMPERATURE, required=True),
        Input(name="cured", label="Tg fully cured", kind=TEMPERATURE, required=True),
        Input(name="lambda", label="lambda, fitted, 0 to 1", kind=PLAIN, required=True),
        Input(name="cure", label="degree of cure", kind=PERCENT),
        Input(name="tg", label="Tg read", kind=TEMPERATURE),
    ),
    formula="(Tg − Tg0)/(Tg1 − Tg0) = λα/(1 − (1 − λ)α)",
    bases=(Basis("DiBenedetto, J. Polym. Sci. B 25 (1987) 1949: parameters", Status.READ),),
    compute=_cure,
    caution="The three parameters are fitted to one material; water and solvent lower Tg as well.",
)


def _exotherm(given: Given) -> Iterable[Found]:
    from workbench.analysis.thermal.events import conversion_from_exotherm

    value = 100 * conversion_from_exotherm(given["residual"], given["fresh"])
    yield Found(name="cure", label="degree of cure", kind=PERCENT, value=value)


EXOTHERM = Calculator(
    name="exotherm",
    title="Degree of cure from the exotherm left",
    inputs=(
        Input(name="residual", label="exotherm left", kind=ENERGY, required=True),
        Input(name="fresh", label="that of the fresh mixture", kind=ENERGY, required=True),
    ),
    formula="α = 1 − residual / fresh",
    bases=(PRACTICE,),
    compute=_exotherm,
    caution="The state today: later warmth may have finished the cure.",
)


def _gloss(given: Given) -> Iterable[Found]:
    from workbench.analysis.colour import gloss_retention_percent

    value = gloss_retention_percent(given["before"], given["after"])
    yield Found(name="gloss_retention", label="gloss kept", kind=PERCENT, value=value,
                quantity="gloss_retention")  # fmt: skip


GLOSS = Calculator(
    name="gloss",
    title="Gloss kept",
    inputs=(
        Input(name="before", label="before", kind=PLAIN, required=True),
        Input(name="after", label="after", kind=PLAIN, required=True),
    ),
    formula="100 after / before, both at the same angle",
    bases=(Basis("ASTM D523", Status.MEMORY),),
    compute=_gloss,
    caution="Only at one angle, and with the same instrument.",
)


def _colour(given: Given) -> Iterable[Found]:
    from workbench.analysis.colour import Lab, delta_e_76, delta_e_2000

    colours = []
    for name in ("before", "after"):
        if len(given.several[name]) != 3:
            raise ValueError(f"{name}: three numbers, L*; a*; b*")
        colours.append(Lab(*given.several[name]))
    one, other = colours
    yield Found(name="colour_de", label="ΔE00", kind=PLAIN, value=delta_e_2000(one, other),
                quantity="colour_de")  # fmt: skip
    yield Found(name="de76", label="ΔE*ab", kind=PLAIN, value=delta_e_76(one, other))


COLOUR = Calculator(
    name="colour",
    title="Colour difference from instrument readings",
    inputs=(
        Input(name="before", label="before", kind=PLAIN, many=True, required=True,
              hint="L*; a*; b*"),
        Input(name="after", label="after", kind=PLAIN, many=True, required=True,
              hint="L*; a*; b*"),
    ),
    formula="CIEDE2000, all weights 1; ΔE*ab = √(ΔL² + Δa² + Δb²)",
    bases=(Basis("ISO/CIE 11664-6; Sharma, Wu and Dalal 2005", Status.READ),),
    compute=_colour,
    caution="Not from photographs: colour in a picture is indicative only.",
)  # fmt: skip

CALCULATORS = (
    VOLATILE, PIGMENT, IONS, CALIBRATION, FOX, CURE, EXOTHERM, COLOUR, GLOSS,
)  # fmt: skip
