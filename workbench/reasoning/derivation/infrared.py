"""What infrared and surface analysis say of the failed face and of the film."""

from collections import Counter

from workbench.reasoning.derivation.appearance import lab_says
from workbench.reasoning.derivation.controls import (
    ABSENT,
    PRESENT,
    at_plane,
    control_of,
    without_control,
)
from workbench.reasoning.derivation.readings import words_say
from workbench.reasoning.derivation.said import (
    NO,
    YES,
    by_number,
    either,
    found,
    named,
    silent,
    sources_of,
)
from workbench.reasoning.results import Finding
from workbench.reasoning.scene import Scene
from workbench.records import LabResult

_FOREIGN = (
    "amine_carbamate", "silicone", "hydrocarbon_oil_wax", "carboxylate_soap",
    "phthalate_plasticiser", "bituminous", "curing_compound_resin", "carbonate_or_cement",
)  # fmt: skip


def ftir_extra_band_on_back_face(scene: Scene) -> Finding:
    """Return whether the failed face shows bands that bulk and control lack; needs a control."""
    own = at_plane(scene.failing.lab("ftir_extra_bands"))
    controls = [
        *at_plane(scene.sound.lab("ftir_extra_bands")),
        *at_plane(scene.control.lab("ftir_extra_bands")),
    ]
    compared = [row for row in own if control_of(scene, row)]
    result = words_say(
        scene.failing, own, "extra infrared bands on the failed face", PRESENT, ABSENT
    )
    if not result.known:
        return result
    if result.value == YES and not compared:
        found_ = [row for row in own if row.value.word in PRESENT]
        return without_control(scene, found_, "a pattern of extra infrared bands")
    in_control = [row for row in controls if row.value.word in PRESENT]
    if result.value == YES and controls and len(in_control) == len(controls):
        words = "the extra bands are on the control as well"
        return found(NO, words, (*result.sources, *sources_of(controls)), n=result.n)
    return result


def ftir_contaminant_identity(scene: Scene) -> Finding:
    """Return what the extra material on the failed face is; none where all were looked for."""
    rows = at_plane(scene.lab("foreign", "foreign:"))
    counted: Counter[str] = Counter()
    for row in rows:
        name = row.quantity.partition(":")[2]
        if name in _FOREIGN and row.value.word in PRESENT and not _in_control(scene, row):
            counted[name] += 1
    absent = [row for row in rows if row.value.word in ABSENT]
    open_ = [row for row in rows if row.value.word == "undetermined"]
    if counted:
        top, most = counted.most_common(1)[0]
        chosen = [r for r in rows if r.quantity == f"foreign:{top}" and r.value.word in PRESENT]
        words = f"{top.replace('_', ' ')} is identified on the failed face in {_samples(most)}"
        return found(top, words, sources_of(chosen), n=most, quality=by_number(most, full=2))
    general = [row for row in absent if row.quantity == "foreign"]
    if general and not open_:
        words = f"no foreign matter is identified on the failed face in {_samples(len(general))}"
        return found("none_found", words, sources_of(general), n=len(general),
                     quality=by_number(len(general), full=2))  # fmt: skip
    if open_:
        return silent(
            "foreign matter on the failed face could not be identified", sources_of(open_)
        )
    return silent("foreign matter on the failed face was not looked for as a whole",
                  sources_of(absent) or scene.sources)  # fmt: skip


def _samples(number: int) -> str:
    return "one sample" if number == 1 else f"{number} samples"


def _in_control(scene: Scene, row: LabResult) -> bool:
    control = scene.dossier.find(LabResult, row.control) if row.control else None
    if control is None and row.control:
        rows = scene.dossier.all(LabResult)
        control = next(
            (r for r in rows if r.sample == row.control and r.quantity == row.quantity), None
        )
    return control is not None and control.value.word in PRESENT


def ester_hydrolysis_signs(scene: Scene) -> Finding:
    """Return whether the binder is hydrolysed at the face concerned."""
    return lab_says(scene, scene.lab("ester_hydrolysis"), "hydrolysis of the binder")


def uv_oxidation_at_surface(scene: Scene) -> Finding:
    """Return whether an oxidised skin is on the face concerned."""
    return lab_says(scene, scene.lab("ftir_oxidation"), "an oxidised skin")


def zinc_salts_at_interface(scene: Scene) -> Finding:
    """Return whether zinc soaps or salts lie at the interface, directly or by their phases."""
    direct = lab_says(scene, scene.lab("zinc_salts"), "zinc soaps or salts at the interface")
    phases = [row for row in scene.lab("xrd:") if "zinc" in row.quantity.lower()]
    return either(direct, lab_says(scene, phases, "zinc corrosion products by diffraction"))


def plasticiser_detected_in_film(scene: Scene) -> Finding:
    """Return whether foreign plasticiser or bitumen oil is in the film."""
    return lab_says(scene, scene.lab("plasticiser"), "foreign plasticiser or oil in the film")


def ftir_matches_reference(scene: Scene) -> Finding:
    """Return whether the film matches the reference of the product."""
    return lab_says(scene, scene.lab("ftir_match"), "a match with the reference product")


def surface_analysis_silicone(scene: Scene) -> Finding:
    """Return whether surface analysis finds organosilicon on the failed face."""
    rows = [row for row in scene.lab("foreign:silicone") if row.method in ("l-xps", "l-tofsims")]
    return lab_says(scene, rows, "organosilicon by surface analysis")


RULES = named(
    ftir_extra_band_on_back_face,
    ftir_contaminant_identity,
    ester_hydrolysis_signs,
    uv_oxidation_at_surface,
    zinc_salts_at_interface,
    plasticiser_detected_in_film,
    ftir_matches_reference,
    surface_analysis_silicone,
)
