"""The control of a laboratory result, and the face it was read on."""

from collections.abc import Sequence

from workbench.reasoning.derivation.appearance import lab_says
from workbench.reasoning.derivation.said import (
    Rule,
)
from workbench.reasoning.results import Finding
from workbench.reasoning.scene import Scene
from workbench.records import LabResult, Sample
from workbench.records.codes import Purpose

PRESENT = ("present", "positive", "yes", "few", "continuous", "patchy")

ABSENT = ("none", "negative", "no")


def control_of(scene: Scene, row: LabResult) -> LabResult | None:
    """Return the result on the control of `row`: as named, else the same on the sound side."""
    named_ = scene.dossier.find(LabResult, row.control) if row.control else None
    if named_:
        return named_
    same = [one for one in scene.dossier.all(LabResult) if one.quantity == row.quantity]
    by_sample = [one for one in same if row.control and one.sample == row.control]
    others = [one for one in (*by_sample, *_controls(scene, same)) if one.ref != row.ref]
    alike = [one for one in others if one.condition == row.condition]
    return next(iter(alike or others), None)


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
