"""The size of what fails: patches of single mixes, small scattered spots."""

import re

from workbench.reasoning.derivation.said import NO, YES, found, named, silent
from workbench.reasoning.results import Finding
from workbench.reasoning.scene import Ground, Scene
from workbench.records import Source, SurveyEntry
from workbench.records.codes import FAILURE_FORMS, Quality

_NUMBER = r"\d+(?:\.\d+)?"


def failing_in_discrete_mix_patches(scene: Scene) -> Finding:
    """Return whether failing comes in patches of one size inside areas laid alike that are sound.

    Several patches of nearly one size, in an area of the same day and batch that holds, are what
    single mixes leave; patches of many sizes are not.
    """
    sized = [
        (sizes, row)
        for row in scene.failing.all(SurveyEntry)
        if row.form in FAILURE_FORMS
        and row.seen
        and (sizes := square_metres(row.size)) is not None
        and (row.count or 0) > 1
        and _inside_sound(scene, row)
    ]
    if not sized:
        return silent("no bounded patches with their sizes are recorded", scene.sources)
    low = min(sizes[0] for sizes, _ in sized)
    high = max(sizes[1] for sizes, _ in sized)
    count = sum(row.count or 0 for _, row in sized)
    value = YES if high <= scene.settings.even_patches * low else NO
    words = f"{count} patches of {low:g} to {high:g} m² lie inside areas laid alike that hold"
    return found(
        value, words, [s for _, row in sized for s in (row.source, *_around(scene, row))],
        n=count, quality=Quality.FAIR, settled_by=scene.settings.said("even_patches"),
    )  # fmt: skip


def _inside_sound(scene: Scene, row: SurveyEntry) -> bool:
    return bool(_around(scene, row))


def _around(scene: Scene, row: SurveyEntry) -> tuple[Source, ...]:
    area = scene.dossier.area_of(row)
    sound = {one.ref for one in scene.on(Ground.SOUND).areas}
    return tuple(one.source for one in scene.with_ancestors(area)[1:] if one.ref in sound)


def square_metres(text: str) -> tuple[float, float] | None:
    """Return the smallest and largest of sizes such as "4.3 to 5.6 m2 each"; None for others."""
    found_ = re.search(rf"({_NUMBER})(?:\s*(?:to|-|–)\s*({_NUMBER}))?\s*m[2²]", text)
    if not found_:
        return None
    low = float(found_[1])
    return low, float(found_[2] or low)


def failing_random_small_spots(scene: Scene) -> Finding:
    """Return whether failing is many small scattered spots: under 10 mm, many to the metre."""
    rows = [
        (size, row)
        for row in scene.failing.all(SurveyEntry)
        if row.form in FAILURE_FORMS and row.seen and (size := millimetres(row.size)) is not None
    ]
    if not rows:
        return silent("the size of the defects is not recorded in mm", scene.sources)
    small = [row for size, row in rows if size < scene.settings.small_spot_mm]
    value = YES if 2 * len(small) > len(rows) else NO
    middle = sorted(size for size, _ in rows)[len(rows) // 2]
    return found(
        value, f"the defects are about {middle:g} mm across", [row.source for _, row in rows],
        settled_by=scene.settings.said("small_spot_mm"), quality=Quality.FAIR,
    )  # fmt: skip


def millimetres(text: str) -> float | None:
    """Return the middle of a size such as "10 to 60 mm"; None where it is no length."""
    found_ = re.search(rf"({_NUMBER})(?:\s*(?:to|-|–)\s*({_NUMBER}))?\s*(mm|cm|m)\b(?![2²])", text)
    if not found_:
        return None
    low = float(found_[1])
    return (low + float(found_[2] or low)) / 2 * {"mm": 1, "cm": 10, "m": 1000}[found_[3]]


RULES = named(failing_in_discrete_mix_patches, failing_random_small_spots)
