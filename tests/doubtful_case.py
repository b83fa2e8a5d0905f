"""A hand-made case whose readings give each kind of doubt exactly once; invented."""

from builders import make

from workbench.analysis.doubts import Rule
from workbench.records import (
    Application,
    Area,
    Coat,
    Dossier,
    Instrument,
    LabResult,
    Location,
    Measurement,
    PullOff,
    Rating,
    Record,
    Sample,
    SurveyEntry,
    Thickness,
    Weather,
)

_SOUND = {
    "fixture": "50 mm", "shape": "round", "cure": "48", "seconds": "15", "reading": "2.0 MPa",
    "breaks": "B 100", "cut_round": "yes", "date": "2024-05-06", "method": "ASTM D7234",
}  # fmt: skip
_UNTIMED = {name: said for name, said in _SOUND.items() if name != "seconds"}
_STEEL = {**_SOUND, "fixture": "20 mm", "method": "ASTM D4541", "seconds": "5", "reading": "4 MPa"}

PLACES: tuple[Record, ...] = (
    make(Coat, system="floor", order=0, material="concrete", dft_nominal="150 mm"),
    make(Coat, system="floor", order=1, material="epoxy", dft_nominal="300 um"),
    make(Coat, system="floor", order=2, material="polyurethane_aliphatic", dft_nominal="60 um"),
    make(Coat, system="deck", order=0, material="concrete"),
    make(Coat, system="deck", order=1, material="epoxy", dft_nominal="2 mm"),
    make(Coat, system="tank", order=0, material="carbon_steel"),
    make(Coat, system="tank", order=1, material="epoxy", dft_nominal="250 um"),
    make(Area, ref="A1", condition="failing", system="floor"),
    make(Area, ref="A2", condition="non-failing", system="floor"),
    make(Area, ref="A3", condition="control", system="deck"),
    make(Area, ref="A4", condition="repaired", system="tank"),
    make(
        Area,
        ref="A5",
        condition="unknown",
        system="tank",
        size="40 m2",
        outline="0 0; 4 0; 4 3; 0 3",
    ),
    make(Application, area="A5", coat=1, start="2024-06-01"),
    make(Location, ref="L1", area="A1"),
    make(Location, ref="L2", area="A2"),
    make(Location, ref="L2wet", area="A2"),
    make(Location, ref="L3", area="A3"),
    make(Location, ref="L4", area="A4"),
    make(Location, ref="L5", area="A5", x="4.2 m", y="1 m"),
    make(Location, ref="L5off", area="A5", x="1 m", y="4 m"),
    make(Instrument, ref="I1", kind="pull-off tester", calibrated="2023-04-01", due="2024-04-01"),
)

PULLS: dict[str, dict[str, str]] = {
    "P-calibration": {**_SOUND, "location": "L1", "instrument": "I1"},
    "P-fast": {**_SOUND, "location": "L1", "seconds": "5"},
    "P-glue": {**_SOUND, "location": "L1", "breaks": "-/Y 60; B 40"},
    "P-cure": {**_SOUND, "location": "L1", "cure": "20"},
    "P-rescaled": {**_SOUND, "location": "L1", "calibrated_for": "20 mm", "reading": "12.5 MPa"},
    "P-size": {**_SOUND, "location": "L2", "fixture": "75 mm"},
    "P-unread": {**_SOUND, "location": "L2", "reading": "2.0"},
    "P-open": {**_SOUND, "location": "L2", "breaks": "B 90; ? 10"},
    "P-wet": {**_SOUND, "location": "L2wet"},
    "P-sound": {**_SOUND, "location": "L2"},
    "P-again": {**_SOUND, "location": "L2"},
    "P-psi": {**_UNTIMED, "location": "L2", "reading": "2.1 psi"},
    "P-core-1": {**_SOUND, "location": "L3", "method": "EN 1542", "seconds": "40"},
    "P-core-2": {**_SOUND, "location": "L3", "method": "EN 1542", "seconds": "40",
                 "reading": "2.02 MPa"},
    "P-core-3": {**_SOUND, "location": "L3", "method": "EN 1542", "seconds": "40",
                 "reading": "2.03 MPa"},
    "P-core-4": {**_SOUND, "location": "L3", "method": "EN 1542", "seconds": "40",
                 "reading": "2.04 MPa"},
    "P-slow": {**_SOUND, "location": "L3", "method": "EN 1542", "seconds": "80"},
    "P-uncut": {**_SOUND, "location": "L3", "cut_round": "no"},
    "P-steel-1": {**_STEEL, "location": "L4"},
    "P-steel-2": {**_STEEL, "location": "L4", "reading": "4.2 MPa"},
    "P-steel-3": {**_STEEL, "location": "L4", "reading": "4.3 MPa"},
    "P-crawl": {**_STEEL, "location": "L4", "seconds": "30"},
    "P-long": {**_STEEL, "location": "L4", "method": "ISO 4624", "seconds": "95",
               "treatment": "washed"},
}  # fmt: skip

OTHERS: tuple[Record, ...] = (
    make(SurveyEntry, ref="V-damp", at="L2wet", form="damp"),
    make(Thickness, ref="T-gauge", location="L1", method="magnetic", readings="350; 360; 340"),
    make(Thickness, ref="T-few", location="L1", method="ultrasonic", readings="350; 360"),
    make(Rating, ref="R-film", location="L1", method="ASTM D3359 B", rating="4"),
    make(Rating, ref="R-scale", location="L1", method="ASTM D6677", rating="7"),
    make(Measurement, ref="M-contrast", location="L1", quantity="ph_face", value="11 pH"),
    make(Measurement, ref="M-air", location="L2", method="f-mver", quantity="emission",
         value="4.5 lb/1000ft2/24h", date="2024-05-08"),
    make(Measurement, ref="M-depth", location="L2", method="f-rh-probe", quantity="rh_in_slab",
         value="82 %", depth="30 mm"),
    make(Weather, time="2024-05-08 10:00", area="A2", air="21 degC", humidity="72 %"),
    make(Thickness, ref="T-early", location="L5", method="section", readings="250; 251; 249",
         date="2024-05-06"),
    make(Thickness, ref="T-far", location="L5", method="section", readings="250; 251; 249",
         unit="mil"),
    make(Sample, ref="S1", at="L1", kind="film", taken="2024-05-06 10:00"),
    make(LabResult, ref="X-control", sample="S1", quantity="foreign:silicone", value="present"),
    make(LabResult, ref="X-deviation", sample="S1", quantity="tg_first", value="48 degC",
         method="l-dsc", control="S1", deviation="specimen below 5 mg"),
    make(LabResult, ref="X-early", sample="S1", quantity="tg_first", value="48 degC",
         method="l-dsc", date="2024-05-05"),
)  # fmt: skip

EXPECTED: dict[Rule, str] = {
    Rule.CALIBRATION: "pull_off P-calibration",
    Rule.TOO_FAST: "pull_off P-fast",
    Rule.TOO_SLOW: "pull_off P-slow",
    Rule.TOO_LONG: "pull_off P-long",
    Rule.GLUE_SHARE: "pull_off P-glue",
    Rule.NOT_CUT_ROUND: "pull_off P-uncut",
    Rule.GLUE_CURE: "pull_off P-cure",
    Rule.RESCALED: "pull_off P-rescaled",
    Rule.FIXTURE_SIZE: "pull_off P-size",
    Rule.NO_STRESS: "pull_off P-unread",
    Rule.NO_BREAK: "pull_off P-open",
    Rule.TOO_FEW: "area A3",
    Rule.POOLED_METHODS: "pull_off P-uncut",
    Rule.POOLED_RATES: "pull_off P-crawl",
    Rule.SURFACE_WET: "pull_off P-wet",
    Rule.MOISTURE_AIR: "measurement M-air",
    Rule.MOISTURE_DEPTH: "measurement M-depth",
    Rule.NO_CONTROL: "lab_result X-control",
    Rule.NO_CONTRAST: "measurement M-contrast",
    Rule.DEVIATION: "lab_result X-deviation",
    Rule.GAUGE: "thickness T-gauge",
    Rule.FEW_READINGS: "thickness T-few",
    Rule.FILM_RANGE: "rating R-film",
    Rule.OFF_SCALE: "rating R-scale",
    Rule.OUTSIDE_AREA: "location L5off",
    Rule.SIZES_DIFFER: "area A5",
    Rule.BEFORE_COAT: "thickness T-early",
    Rule.BEFORE_SAMPLE: "lab_result X-early",
    Rule.FILM_FAR: "thickness T-far",
    Rule.STRESS_FAR: "pull_off P-psi",
    Rule.TWICE: "pull_off P-again",
}


def doubtful_case() -> Dossier:
    """Return the case."""
    pulls = [make(PullOff, ref=ref, **said) for ref, said in PULLS.items()]
    return Dossier([*PLACES, *pulls, *OTHERS])
