"""Elements on the failed face, pigment and filler."""

from collections import Counter
from collections.abc import Sequence

from workbench.reasoning.derivation.controls import (
    ABSENT,
    PRESENT,
    at_plane,
    control_of,
    more_than_control,
    without_control,
)
from workbench.reasoning.derivation.readings import beyond, span
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
from workbench.records.codes import Qualifier, Quality


def pigment_binder_anomaly(scene: Scene) -> Finding:
    """Return whether filler or density differs from the control or its limits."""
    rows = scene.lab("ash", "density")
    high, low = (
        beyond(scene, rows, "ash or density"),
        beyond(scene, rows, "ash or density", above=False),
    )
    if high.known or low.known:
        return either(high, low)
    own = [row for row in scene.lab("eds:") if _is_pigment(row)]
    compared = [
        (row.value.value / control.value.value, row, control)
        for row in (*rows, *own)
        if (control := control_of(scene, row)) and row.value.value and control.value.value
    ]
    if not compared:
        return silent("pigment or filler was not compared with a reference", scene.sources)
    odd = [one for one in compared if not 0.85 <= one[0] <= 1.15]
    value = YES if 2 * len(odd) > len(compared) else NO
    times = span([round(one[0], 2) for one in compared])
    words = f"ash, density or pigment metal against the control: {times} times"
    sources = sources_of(row for _, own, control in compared for row in (own, control))
    return found(value, words, sources, n=len(compared), quality=Quality.FAIR)


def _is_pigment(row: LabResult) -> bool:
    in_film = row.face is not None and row.face.part in ("bulk", "section")
    return in_film and row.quantity in ("eds:Zn", "eds:Ti", "eds:Ba")


_ELEMENTS: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("sodium_chloride", ("Cl",)),
    ("sulphur", ("S",)),
    ("potassium_sodium_alkali", ("K", "Na")),
    ("zinc", ("Zn",)),
    ("calcium", ("Ca",)),
    ("iron", ("Fe",)),
    ("silicon", ("Si",)),
)


def eds_elements_on_back_face(scene: Scene) -> Finding:
    """Return which element is enriched on the failed face against its control."""
    rows = at_plane(scene.lab("eds:"))
    enriched: Counter[str] = Counter()
    used: dict[str, list[LabResult]] = {}
    for row in rows:
        name = row.quantity.partition(":")[2]
        group = next((group for group, names in _ELEMENTS if name in names), None)
        if group and _enriched(scene, row):
            enriched[group] += 1
            used.setdefault(group, []).append(row)
    if enriched:
        group = max(enriched, key=lambda g: (enriched[g], _strength(used[g])))
        words = f"{group.replace('_', ' ')} is enriched on the failed face"
        return found(group, words, sources_of(used[group]), n=enriched[group],
                     quality=by_number(enriched[group], full=2))  # fmt: skip
    compared = [row for row in rows if row.value.word in ABSENT or control_of(scene, row)]
    if compared:
        words = "no foreign element is enriched on the failed face"
        return found("none_foreign", words, sources_of(compared), n=len(compared))
    if some := [row for row in rows if row.value.word in PRESENT]:
        return without_control(scene, some, "an element looked for on the failed face")
    return silent(
        "the elements of the failed face were not compared", sources_of(rows) or scene.sources
    )


def _enriched(scene: Scene, row: LabResult) -> bool:
    if row.value.word:
        return bool(more_than_control(scene, row))
    own = row.value.value
    if own is None or row.qualifier is Qualifier.BELOW:
        return False
    control = control_of(scene, row)
    if control is None:
        return False
    other = control.value.value if control.value.value is not None else 0.0
    settings = scene.settings
    return own >= settings.element_percent and own > settings.element_times_control * other


def _strength(rows: Sequence[LabResult]) -> float:
    return max(row.value.value or 0 for row in rows)


RULES = named(pigment_binder_anomaly, eds_elements_on_back_face)
