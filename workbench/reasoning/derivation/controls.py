"""The control of a laboratory result, and the face it was read on."""

from collections.abc import Sequence

from workbench.reasoning.derivation.appearance import lab_says
from workbench.reasoning.derivation.said import Rule, silent, sources_of
from workbench.reasoning.results import Finding
from workbench.reasoning.scene import Scene
from workbench.records import LabResult, Sample
from workbench.records.codes import Purpose, Qualifier

PRESENT = ("present", "positive", "yes", "few", "continuous", "patchy")

ABSENT = ("none", "negative", "no")


def control_of(scene: Scene, row: LabResult) -> LabResult | None:
    """Return the result of the same quantity on the control of `row`; None where there is none.

    The control is the result or sample that `row` names; only where it names none, one on the
    sound side, a control area or a reference stands for it.
    """
    same = [
        one for one in scene.dossier.all(LabResult)
        if one.quantity == row.quantity and one.ref != row.ref
    ]  # fmt: skip
    if row.control:
        others = [one for one in same if row.control in (one.ref, one.sample)]
    else:
        others = _controls(scene, same)
    alike = [one for one in others if one.condition == row.condition]
    return next(iter(alike or others), None)


def more_than_control(scene: Scene, row: LabResult) -> bool | None:
    """Return whether what a result found in words is lacking in its control; None where open."""
    if row.value.word in ABSENT:
        return False
    control = control_of(scene, row)
    if row.value.word not in PRESENT or control is None:
        return None
    if control.value.word in PRESENT:
        return False
    clean = control.value.word in ABSENT or control.qualifier is Qualifier.BELOW
    return True if clean or control.value.value == 0 else None


def without_control(scene: Scene, rows: Sequence[LabResult], what: str) -> Finding:
    """Return that something was found, but that nothing tells whether the control holds it too."""
    lacking = [row for row in rows if control_of(scene, row) is None]
    named_ = sorted({row.control for row in lacking if row.control})
    if named_:
        why = f"{' and '.join(named_)}, named as control, has no result of it"
    elif lacking:
        why = "no control was read for it"
    else:
        why = "the control does not say whether it holds less"
    words = f"{what} was found in {scene.ground}, but {why}: more than the control is not shown"
    return silent(words, sources_of(rows))


def _controls(scene: Scene, rows: Sequence[LabResult]) -> list[LabResult]:
    sound = [row for row in rows if scene.sound.shows(row)]
    control = [row for row in rows if scene.control.shows(row)]
    reference = [
        row
        for row in rows
        if (sample := scene.dossier.find(Sample, row.sample))
        and sample.purpose in (Purpose.REFERENCE, Purpose.TEST_PANEL)
    ]
    return [*sound, *control, *reference]


def at_plane(rows: Sequence[LabResult]) -> list[LabResult]:
    """Return results on an opened face, or where the face is not said; bulk and outer are not."""
    return [
        row for row in rows if row.face is None or row.face.plane is not None
        or row.face.part == "substrate"
    ]  # fmt: skip


def quantity(key: str, name: str, what: str) -> Rule:
    """Return the rule for a key that one laboratory quantity says in words."""

    def rule(scene: Scene) -> Finding:
        return lab_says(scene, scene.lab(name), what)

    rule.__name__ = key
    rule.__doc__ = f"Return whether the laboratory found {what}."
    return rule
