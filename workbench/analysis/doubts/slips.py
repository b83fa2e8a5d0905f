"""Doubts about slips of the pen: a place off its area, a date too early, a unit mistaken."""

from collections.abc import Iterable
from dataclasses import replace
from statistics import median

from workbench.analysis.doubts.ground import Ground, grouped, mean_um
from workbench.analysis.doubts.results import Doubt, Rule
from workbench.analysis.measured import measured
from workbench.records import (
    Application,
    Area,
    Effect,
    LabResult,
    Location,
    PullOff,
    Rating,
    Sample,
    Thickness,
    When,
)
from workbench.records.bounds import is_before
from workbench.trade.basis import PRACTICE
from workbench.trade.showing import AREA, STRESS

_OFF_M = 0.5
"""How far off its outline a place may be measured."""
_EXCHANGED = "outside the area as written, inside it with x and y exchanged"
_SIZES_AGREE = 0.05
_FAR = 10
"""A film so many times thicker or thinner than specified is in another unit, mostly."""
_MOST_MPA = 60.0
"""No glue of the trade holds more."""
_ODD_UNIT = 20
"""A reading in a unit of its own, so many times off the others, is in theirs, mostly."""


def doubts_of_slips(ground: Ground) -> Iterable[Doubt]:
    """Return the doubts about what was mistaken when it was written down."""
    for rule in (_outside, _sizes, _before_coat, _before_sample, _film_far, _stress_far, _twice):
        yield from rule(ground)


def _outside(ground: Ground) -> Iterable[Doubt]:
    for place in ground.dossier.all(Location):
        area = ground.areas.get(place.ref)
        x, y = measured(place.x, "m", "m"), measured(place.y, "m", "m")
        if area is None or area.outline is None or x is None or y is None:
            continue
        if (off := area.outline.distance_m(x, y)) <= _OFF_M:
            continue
        words = f"x {x:g} m, y {y:g} m is {off:.1f} m outside {area.ref}"
        doubt = Doubt.about(place, Rule.OUTSIDE_AREA, words, PRACTICE)
        if area.outline.distance_m(y, x) == 0:
            exchanged = f"{words}; with x and y exchanged it is inside"
            doubt = replace(doubt, words=exchanged, shared=_EXCHANGED)
        yield doubt


def _sizes(ground: Ground) -> Iterable[Doubt]:
    for area in ground.dossier.all(Area):
        stated = measured(area.size, "m2", "m2") if area.outline else None
        drawn = area.outline.area_m2 if area.outline else 0.0
        if stated is not None and abs(drawn - stated) > _SIZES_AGREE * stated:
            said, other = (ground.showing.value(AREA, one) for one in (stated, drawn))
            words = f"{area.ref}: {said} stated, {other} drawn"
            yield Doubt.about(area, Rule.SIZES_DIFFER, words, PRACTICE)


def _before_coat(ground: Ground) -> Iterable[Doubt]:
    """Doubt a test of the film that is dated before the first coat under it was laid."""
    laid: dict[str, list[When]] = {}
    for row in ground.dossier.all(Application):
        if row.coat > 0 and (start := row.start):
            for ref in row.area:
                laid.setdefault(ref, []).append(start)
    tests: tuple[PullOff | Rating | Thickness, ...] = (
        *ground.pulls, *ground.dossier.all(Rating), *ground.dossier.all(Thickness),
    )  # fmt: skip
    for test in tests:
        area = ground.area(test)
        starts = laid.get(area.ref, []) if area and not _old_coats(ground, test) else []
        bare = not isinstance(test, Thickness) and test.on == 0
        if test.date and starts and not bare and all(is_before(test.date, at) for at in starts):
            first = min(starts, key=lambda at: at.start(ground.dossier.zone))
            words = f"dated {test.date}; the first coat there was laid {first}"
            yield Doubt.about(test, Rule.BEFORE_COAT, words, PRACTICE)


def _old_coats(ground: Ground, test: PullOff | Rating | Thickness) -> bool:
    return any(coat.existing for coat in ground.coats(test) if coat.order > 0)


def _before_sample(ground: Ground) -> Iterable[Doubt]:
    for result in ground.dossier.all(LabResult):
        sample = ground.dossier.find(Sample, result.sample)
        if sample and sample.taken and result.date and is_before(result.date, sample.taken):
            words = f"dated {result.date}; {sample.ref} was taken {sample.taken}"
            yield Doubt.about(result, Rule.BEFORE_SAMPLE, words, PRACTICE)


def _film_far(ground: Ground) -> Iterable[Doubt]:
    for reading in ground.dossier.all(Thickness):
        um, meant = mean_um(reading), _meant_um(ground, reading)
        if um is None or not meant or meant / _FAR < um < meant * _FAR:
            continue
        said, asked = (ground.showing.thickness(one) for one in (um, meant))
        words = f"{said} read, {asked} specified; look at the unit"
        yield Doubt.about(reading, Rule.FILM_FAR, words, PRACTICE)


def _meant_um(ground: Ground, reading: Thickness) -> float | None:
    """Return the nominal thickness of the layer read, or of all; None where it is not said."""
    if reading.order is None:
        return ground.specified_um(reading)
    coat = next((one for one in ground.coats(reading) if one.order == reading.order), None)
    return measured(coat.dft_nominal, "um") if coat and coat.order > 0 else None


def _stress_far(ground: Ground) -> Iterable[Doubt]:
    """Doubt a stress that no glue holds, and one in a unit of its own far from the others."""
    show = ground.showing
    known = [(one, mpa) for one in ground.pulls if (mpa := ground.stresses[one.id].mpa)]
    units = grouped(known, lambda pair: pair[0].reading.unit if pair[0].reading else "")
    usual = max(units, key=lambda unit: len(units[unit]), default="")
    middle = median(mpa for _, mpa in units[usual]) if usual else 0.0
    for pull, mpa in known:
        if mpa > _MOST_MPA:
            said, most = (show.value(STRESS, one) for one in (mpa, _MOST_MPA))
            words = f"{said}; no glue holds more than {most}"
            yield Doubt.about(pull, Rule.STRESS_FAR, words, PRACTICE, Effect.SET_ASIDE)
        elif pull.reading and pull.reading.unit != usual and _apart(mpa, middle):
            words = f"{pull.reading}, {show.value(STRESS, mpa)}; the others, in {usual}, are about"
            words = f"{words} {show.value(STRESS, middle)}; look at the unit"
            yield Doubt.about(pull, Rule.STRESS_FAR, words, PRACTICE)


def _apart(mpa: float, middle: float) -> bool:
    return middle > 0 and max(mpa / middle, middle / mpa) > _ODD_UNIT


def _twice(ground: Ground) -> Iterable[Doubt]:
    """Doubt a pull-off that says in everything what another of the same place says."""
    said = [one for one in ground.pulls if one.reading and one.breaks]
    alike = grouped(said, lambda one: replace(one, ref="", id="", origin=""))
    for first, *others in alike.values():
        for pull in others:
            words = f"in all but its ref it is {first.ref}"
            yield Doubt.about(pull, Rule.TWICE, words, PRACTICE)
