"""Small cases as they are entered in a field book, each with the cause its records show."""

from collections.abc import Callable

from builders import make

from workbench.records import (
    Area,
    AreaEvent,
    Coat,
    Dossier,
    LabResult,
    Limit,
    Location,
    Measurement,
    PullOff,
    Rating,
    Record,
    Sample,
    SurveyEntry,
    Thickness,
)

SMALL_CASES: dict[str, Callable[[], Dossier]] = {}


def _case(cause: str) -> Callable[[Callable[[], list[Record]]], Callable[[], list[Record]]]:
    def keep(build: Callable[[], list[Record]]) -> Callable[[], list[Record]]:
        SMALL_CASES[cause] = lambda: Dossier(build())
        return build

    return keep


def system(*layers: str, dft: str = "") -> list[Record]:
    """Return the layers of a system, the substrate first."""
    said = {"dft_nominal": dft} if dft else {}
    return [
        make(Coat, system="S", order=at, material=one, **(said if at else {}))
        for at, one in enumerate(layers)
    ]


def areas(features: str = "", **conditions: str) -> list[Record]:
    """Return areas by name, each with a condition, and a spot `NAME.1` to `NAME.3` in each."""
    held: list[Record] = []
    for name, condition in conditions.items():
        said = {"features": features} if features else {}
        held.append(
            make(Area, ref=name, name=f"Area {name}", condition=condition.replace("_", "-"),
                 system="S", **said)
        )  # fmt: skip
        held += [make(Location, ref=f"{name}.{at}", area=name) for at in (1, 2, 3)]
    return held


def pulls(area: str, breaks: str, *readings: float, **said: str) -> list[Record]:
    """Return pull-offs in an area with one break."""
    return [
        make(PullOff, ref=f"P-{area}-{at}", location=f"{area}.{at}", fixture="20 mm", shape="round",
             reading=f"{value} MPa", breaks=breaks, method=said.get("method", "ISO 4624"))
        for at, value in enumerate(readings, start=1)
    ]  # fmt: skip


def measured(area: str, quantity: str, method: str, *values: str, **said: str) -> list[Record]:
    """Return measurements of one quantity in an area."""
    return [
        make(Measurement, ref=f"M-{area}-{quantity}-{at}", location=f"{area}.{at}", method=method,
             quantity=quantity, value=value, **said)
        for at, value in enumerate(values, start=1)
    ]  # fmt: skip


def seen(area: str, **forms: str) -> list[Record]:
    """Return survey entries: each form or sign with the share, "yes" or "0"."""
    held: list[Record] = []
    for form, extent in forms.items():
        said = {} if extent == "yes" else {"extent": f"{extent} %"}
        held.append(make(SurveyEntry, ref=f"V-{area}-{form}", at=area, form=form, **said))
    return held


def told(area: str, condition: str, **results: str) -> list[Record]:
    """Return a film sample of an area with laboratory results; `__` stands for a colon."""
    sample = f"S-{area}"
    purpose = condition.replace("_", "-")
    held: list[Record] = [make(Sample, ref=sample, kind="film", at=f"{area}.1", purpose=purpose)]
    for quantity, value in results.items():
        name = quantity.replace("__", ":")
        method = "l-dsc" if name.startswith(("tg", "exotherm")) else "l-ftir"
        held.append(make(LabResult, ref=f"R-{area}-{name}", sample=sample, method=method,
                         quantity=name, value=value))  # fmt: skip
    return held


def event(area: str, kind: str, start: str, **said: str) -> Record:
    """Return an event in the life of an area."""
    return make(AreaEvent, area=area, event=kind, start=start, **said)


def thick(area: str, *readings: str) -> list[Record]:
    """Return spots of the whole film."""
    return [
        make(Thickness, ref=f"T-{area}-{at}", location=f"{area}.{at}", layer="total",
             readings=value, unit="um")
        for at, value in enumerate(readings, start=1)
    ]  # fmt: skip


def required(quantity: str, **bounds: str) -> Record:
    """Return a requirement for the system."""
    return make(Limit, quantity=quantity, applies_to="S", source_text="data sheet", **bounds)


@_case("osmotic-blistering")
def tank_lining() -> list[Record]:
    """Blisters on a lined tank, over salts left under the lining."""
    fluid: list[Record] = [
        make(Sample, ref="FL", kind="fluid", at="F.1", purpose="failing"),
        make(Sample, ref="W", kind="water", purpose="control"),
    ]
    for sample, values in (("FL", ("4800 mg/L", "9.4 mS/cm")), ("W", ("20 mg/L", "0.4 mS/cm"))):
        for quantity, value in zip(("fluid_ion:Cl", "fluid_conductivity"), values, strict=True):
            said = {"control": "W"} if sample == "FL" else {}
            ref = f"R-{sample}-{quantity}"
            fluid.append(make(LabResult, ref=ref, sample=sample, method="l-fluid",
                              quantity=quantity, value=value, **said))  # fmt: skip
    return [
        *system("carbon_steel", "epoxy", "epoxy"),
        *areas("immersed; confined", F="failing", N="non_failing"),
        *seen("F", blistering="40", blister_opened="yes", rust_on_steel="5"),
        make(SurveyEntry, ref="V-c", at="F", form="blister_contents=clear_water", plane="A/B"),
        *seen("N", blistering="0"),
        *pulls("F", "A/B 100", 2.1, 1.8, 2.4),
        *pulls("N", "B/C 10; Y 90", 14.0, 13.1, 15.0),
        *measured("F", "salts", "f-salts", "95 mg/m2", "110 mg/m2", "88 mg/m2", plane="A/B"),
        *measured("N", "salts", "f-salts", "41 mg/m2", "38 mg/m2", "45 mg/m2", plane="A/B"),
        required("salts", maximum="20 mg/m2"),
        *fluid,
        event("F", "immersed", "2021-03"), event("N", "immersed", "2021-03"),
        event("F", "first_seen", "2021-11"),
    ]  # fmt: skip


@_case("moisture-vapour-transmission")
def screed() -> list[Record]:
    """An epoxy floor that lifts on a damp slab without a barrier."""
    return [
        *system("concrete", "epoxy", "epoxy"),
        *areas("indoor; below_grade; traffic", F="failing", N="non_failing"),
        *seen("F", blistering="30", blister_opened="yes", damp="yes"),
        make(SurveyEntry, ref="V-c", at="F", form="blister_contents=clear_water", plane="A/B"),
        make(SurveyEntry, ref="V-b", at="F", form="back_face=none", plane="A/B"),
        *seen("N", blistering="0"),
        *pulls("F", "A/B 100", 0.6, 0.5, 0.7, method="ASTM D7234"),
        *pulls("N", "A 100", 2.4, 2.8, 2.6, method="ASTM D7234"),
        *measured("F", "rh_in_slab", "f-rh-probe", "93 %", "95 %", "94 %"),
        *measured("N", "rh_in_slab", "f-rh-probe", "74 %", "71 %", "73 %"),
        *measured("F", "ph_face", "f-ph", "12.4 pH", "12.2 pH", "12.5 pH"),
        required("rh_in_slab", maximum="80 %"),
        event("F", "cast", "2020-01"), event("F", "in_service", "2020-06"),
        event("F", "first_seen", "2021-01"),
        *told("F", "failing", ftir_match="yes", ftir_extra_bands="none"),
    ]  # fmt: skip


@_case("aluminium-pretreatment-filiform")
def window_frames() -> list[Record]:
    """Threads under the powder of window frames whose conversion layer is missing."""
    return [
        *system("aluminium", "powder"),
        *areas("outdoor; marine", F="failing", N="non_failing"),
        *(make(Location, ref=f"F.{at}", area="F", features="edge") for at in (4, 5, 6)),
        *(make(SurveyEntry, ref=f"V-F.{at}", at=f"F.{at}", form="rust_undercutting",
               plane="A/B", extent="25 %") for at in (4, 5, 6)),
        *seen("F", rust_undercutting="5", glossy_face="0"),
        *seen("N", rust_undercutting="0"),
        *(make(Rating, ref=f"RT-F-{at}", location=f"F.{at}", method="ISO 2409 boiled", rating="4",
               plane="A/B") for at in (1, 2, 3)),
        *(make(Rating, ref=f"RT-N-{at}", location=f"N.{at}", method="ISO 2409 boiled", rating="0")
          for at in (1, 2, 3)),
        *told("F", "failing", conversion_layer="none", ftir_match="yes", ftir_extra_bands="none"),
        *told("N", "non_failing", conversion_layer="yes", ftir_match="yes"),
        *measured("F", "etch_removal", "f-etch-weight", "0.4 g/m2"),
        required("etch_removal", minimum="2 g/m2"),
        event("F", "in_service", "2018-05"), event("F", "first_seen", "2020-06"),
    ]  # fmt: skip


@_case("powder-undercure")
def powder_panels() -> list[Record]:
    """Powder on heavy sections that never reached the temperature of the oven."""
    return [
        *system("carbon_steel", "powder"),
        *areas("outdoor", F="failing", N="non_failing"),
        *seen("F", delamination="30", gouges="yes"),
        *seen("N", delamination="0"),
        *(make(Rating, ref=f"RT-F-{at}", location=f"F.{at}", method="ISO 2409", rating="5")
          for at in (1, 2, 3)),
        *(make(Rating, ref=f"RT-N-{at}", location=f"N.{at}", method="ISO 2409", rating="0")
          for at in (1, 2, 3)),
        *measured("F", "solvent_rub", "f-solvent-rub", "12", "15", "10"),
        *measured("N", "solvent_rub", "f-solvent-rub", "100", "100", "100"),
        required("solvent_rub", minimum="50"),
        *told("F", "failing", tg_first="48 degC", tg_second="66 degC", exotherm="22 J/g",
              ftir_match="yes"),
        *told("N", "non_failing", tg_first="67 degC", tg_second="67 degC", exotherm="none"),
        required("tg_first", minimum="62 degC"),
    ]  # fmt: skip


@_case("curing-compound-residue")
def slab_with_wax() -> list[Record]:
    """A floor that peels where a wax was sprayed on the young slab."""
    held = [
        *system("concrete", "epoxy", "epoxy"),
        *areas("indoor; traffic", F="failing", N="non_failing"),
        *seen("F", peeling_sheets="60"),
        *seen("N", peeling_sheets="0"),
        make(SurveyEntry, ref="V-b", at="F", form="back_face=none", plane="A/B"),
        *pulls("F", "A/B 100", 0.4, 0.5, 0.3, method="ASTM D7234"),
        *pulls("N", "A 100", 2.7, 2.4, 2.9, method="ASTM D7234"),
        *measured("F", "water_drop", "f-water-drop", "900 s", "1100 s", "850 s"),
        *measured("N", "water_drop", "f-water-drop", "20 s", "30 s", "15 s"),
        *told(
            "F",
            "failing",
            ftir_match="yes",
            ftir_extra_bands="yes",
            foreign__curing_compound_resin="yes",
        ),
        *told("N", "non_failing", ftir_match="yes", ftir_extra_bands="none"),
    ]
    return [_with_curing(one) for one in held]


def _with_curing(record: Record) -> Record:
    if not isinstance(record, Area):
        return record
    agent = "wax" if record.ref == "F" else "none"
    return make(Area, ref=record.ref, name=record.name, condition=str(record.condition), system="S",
                features=f"indoor; traffic; curing={agent}")  # fmt: skip


@_case("oil-grease-on-steel")
def oily_steel() -> list[Record]:
    """Sheets that come off bright steel with oil on both faces."""
    return [
        *system("carbon_steel", "epoxy"),
        *areas("indoor", F="failing", N="non_failing"),
        *seen("F", peeling_sheets="35", greasy_face="yes", bright_steel="yes"),
        *seen("N", peeling_sheets="0", greasy_face="0"),
        *pulls("F", "A/B 100", 0.9, 1.1, 0.8),
        *pulls("N", "B 100", 11.0, 12.2, 10.4),
        *told("F", "failing", ftir_match="yes", ftir_extra_bands="yes",
              foreign__hydrocarbon_oil_wax="yes"),
        *told("N", "non_failing", ftir_match="yes", ftir_extra_bands="none"),
        *measured("F", "profile_rz", "f-profile-metal", "72 um", "68 um", "75 um"),
        required("profile_rz", minimum="50 um", maximum="100 um"),
    ]  # fmt: skip


@_case("insufficient-film-thickness")
def thin_film() -> list[Record]:
    """Rust through a film far below its thickness."""
    return [
        *system("carbon_steel", "epoxy", "polyurethane_aliphatic", dft="120 um"),
        *areas("outdoor; marine", F="failing", N="non_failing"),
        *seen("F", rust_spots="20"), *seen("N", rust_spots="0"),
        required("dft_total", minimum="200 um", maximum="480 um"),
        *thick("F", "95", "110", "88"), *thick("N", "250", "240", "262"),
        *pulls("F", "B 100", 9.0, 10.0, 11.0), *pulls("N", "B 100", 9.5, 10.2, 11.3),
        *measured("F", "profile_rz", "f-profile-metal", "58 um", "62 um", "60 um"),
        required("profile_rz", minimum="50 um", maximum="85 um"),
        event("F", "in_service", "2019-01"), event("N", "in_service", "2019-01"),
        event("F", "first_seen", "2020-09"),
        *(make(Rating, ref=f"RT-F-{at}", location=f"F.{at}", method="ISO 4628-3", rating="4")
          for at in (1, 2, 3)),
    ]  # fmt: skip


@_case("hot-tyre-pickup")
def parking_deck() -> list[Record]:
    """Paint that comes off with the tyres in the bays, not in the lanes between."""
    return [
        *system("concrete", "acrylic_waterborne"),
        make(Area, ref="F", name="Bays", condition="failing", system="S",
             features="indoor; traffic; hot_tyres"),
        make(Area, ref="N", name="Edges", condition="non-failing", system="S",
             features="indoor; traffic; hot_tyres=no"),
        *(make(Location, ref=f"{a}.{i}", area=a) for a in "FN" for i in (1, 2, 3)),
        *seen("F", peeling_sheets="20", tyre_marks="yes"),
        *seen("N", peeling_sheets="0", tyre_marks="0"),
        *pulls("F", "A/B 100", 0.7, 0.8, 0.6, method="ASTM D7234"),
        *pulls("N", "A 100", 2.0, 2.2, 1.9, method="ASTM D7234"),
        make(SurveyEntry, ref="V-b", at="F", form="back_face=none", plane="A/B"),
        *told("F", "failing", ftir_match="yes", plasticiser="yes", ftir_extra_bands="none"),
        *told("N", "non_failing", ftir_match="yes", plasticiser="none"),
        event("F", "in_service", "2022-05"), event("F", "first_seen", "2022-07"),
    ]  # fmt: skip


@_case("old-coating-weak-or-chalked")
def overcoated() -> list[Record]:
    """A new finish that carries off the chalk of the old one."""
    return [
        make(Coat, system="S", order=0, material="carbon_steel"),
        make(Coat, system="S", order=1, material="alkyd", existing="yes"),
        make(Coat, system="S", order=2, material="polyurethane_aliphatic"),
        *areas("outdoor; sunlit", F="failing", N="non_failing"),
        *seen("F", delamination="45", chalk_on_face="yes"),
        *seen("N", delamination="0", chalk_on_face="0"),
        *pulls("F", "B 100", 0.8, 0.9, 0.7), *pulls("N", "B/C 20; Y 80", 6.0, 6.4, 5.8),
        make(SurveyEntry, ref="V-b", at="F", form="back_face=old_coating", plane="B"),
        *(make(Rating, ref=f"RT-F-{at}", location=f"F.{at}", method="ISO 4628-6", rating="4",
               plane="B") for at in (1, 2, 3)),
        *told("F", "failing", ftir_extra_bands="none", ftir_oxidation="yes"),
    ]  # fmt: skip
