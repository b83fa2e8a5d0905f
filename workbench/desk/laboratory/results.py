"""What comes of an evaluation, as records that say where they come from: one act for each."""

import re
from dataclasses import replace
from math import dist

from workbench.analysis.laboratory.micrographs import (
    ReadSection,
    in_shares,
    read_section,
    seam_points,
)
from workbench.analysis.laboratory.peaks import ReadPeak
from workbench.analysis.laboratory.spectra import Against, LabSpectrum
from workbench.analysis.laboratory.standing import family_of
from workbench.analysis.laboratory.thermograms import ReadTransition
from workbench.analysis.sections import Seam
from workbench.analysis.sections.profile import Point
from workbench.desk.acts import Add
from workbench.records import (
    Assignment,
    Dossier,
    Face,
    Heat,
    LabResult,
    Location,
    Outcome,
    PeakOf,
    Points,
    Quantity,
    Readings,
    Record,
    Sample,
    SectionReading,
    Thickness,
    When,
)
from workbench.records.codes import ThicknessMethod, YesNo

_COVERAGE = "2"


def next_ref(dossier: Dossier, kind: type[Record], prefix: str, after: int = 0) -> str:
    """Return the next free ref of a type: the highest number there is with `prefix`, and one."""
    pattern = re.compile(rf"{re.escape(prefix)}(\d+)")
    found = [
        match[1]
        for one in dossier.all(kind, withdrawn=True)
        if (match := pattern.fullmatch(str(getattr(one, "ref", ""))))
    ]
    digits = max((len(one) for one in found), default=1)
    return f"{prefix}{max(map(int, found), default=0) + 1 + after:0{digits}d}"


def transition_act(dossier: Dossier, read: ReadTransition, *, control: str = "") -> Add:
    """Return the act that records a construction and the result that comes of it."""
    reading = read.reading
    rate = f", {reading.rate}" if reading.rate else ""
    result = LabResult(
        ref=next_ref(dossier, LabResult, _prefix(dossier)),
        sample=reading.sample,
        face=reading.face,
        method="l-dsc",
        quantity="tg_first" if reading.heat is Heat.FIRST else "tg_second",
        value=Outcome(Quantity(f"{read.celsius:.1f}", "degC")),
        control=control,
        analyst=reading.by,
        date=reading.date,
        file=reading.file,
        note=f"{reading.definition}{rate}; construction {reading.source}",
        origin=f"computed from {reading.source}",
    )
    why = f"glass transition by {reading.definition} on {reading.file}"
    return Add((reading, result), why)


def peak_act(dossier: Dossier, read: ReadPeak, *, cured: float | None, control: str = "") -> Add:
    """Return the act that records a bounded peak and, of residual cure, the result of it.

    A peak below what the method shows, or one that takes heat up, is no exotherm: the result says
    "none", and its note says how much there was.

    Args:
        dossier: The case.
        read: The peak.
        cured: Degree of cure against the fresh mixture, 0 to 1; None where it is not known.
        control: Ref of the control.
    """
    reading = read.reading
    why = f"peak of {reading.peak} on {reading.file}"
    if reading.peak is not PeakOf.RESIDUAL_CURE or not reading.sample or read.exothermic is None:
        return Add((reading,), why)
    there = read.exothermic and read.shows
    value = Outcome(Quantity(f"{read.energy_j_g:.1f}", "J/g")) if there else Outcome(word="none")
    degree = "" if cured is None else f"degree of cure {100 * cured:.0f} %; "
    result = LabResult(
        ref=next_ref(dossier, LabResult, _prefix(dossier)),
        sample=reading.sample,
        face=reading.face,
        method="l-dsc",
        quantity="exotherm",
        value=value,
        control=control,
        analyst=reading.by,
        date=reading.date,
        file=reading.file,
        note=f"{degree}{read.energy_j_g:.1f} J/g, {read.words}; construction {reading.source}",
        origin=f"computed from {reading.source}",
    )
    return Add((reading, result), why)


def _prefix(dossier: Dossier) -> str:
    """Return how the refs of the case's results begin: "R-", "LR"."""
    for one in dossier.all(LabResult):
        if match := re.fullmatch(r"(.*?)\d+", one.ref):
            return match[1]
    return "LR-"


def section_reading(
    seams: tuple[Seam, ...], line: tuple[Point, Point], size: tuple[int, int], base: SectionReading
) -> SectionReading:
    """Return `base` with seams found on parallel profiles across `line`, both in pixels."""
    points = seam_points(seams, line, base.apart.value)
    flat = tuple(point for row in points for point in row)
    return replace(
        base,
        line=in_shares(line, size),
        profiles=len(seams[0].at_px),
        seams=in_shares(flat, size),
    )


def moved_seam(reading: SectionReading, seam: int, by_px: float, size: tuple[int, int]) -> Points:
    """Return the seams with one moved along the line by `by_px` pixels, as a person sets it."""
    (x0, y0), (x1, y1) = ((x * size[0], y * size[1]) for x, y in reading.line.points)
    length = dist((x0, y0), (x1, y1))
    step = (by_px * (x1 - x0) / length, by_px * (y1 - y0) / length)
    first, last = seam * reading.profiles, (seam + 1) * reading.profiles
    moved = tuple(
        (x * size[0] + step[0], y * size[1] + step[1]) if first <= n < last
        else (x * size[0], y * size[1])
        for n, (x, y) in enumerate(reading.seams.points)
    )  # fmt: skip
    return in_shares(moved, size)


def section_act(dossier: Dossier, reading: SectionReading, size: tuple[int, int]) -> Add:
    """Return the act that records a section and the thickness of each layer that comes of it.

    Each layer becomes a result with its expanded uncertainty (k = 2) and, where the place of the
    sample is known, a thickness with one reading for each profile.

    Raises:
        ValueError: Seams cross, or the scale has no length.
    """
    read = read_section(reading, size)
    place = _place(dossier, reading.sample)
    results = _layer_results(dossier, read)
    records: list[Record] = [reading, *results]
    if place:
        records += _thicknesses(dossier, read, place)
    return Add(tuple(records), f"layers of {reading.sample} read on {reading.file}")


def _place(dossier: Dossier, sample: str) -> str:
    for name in family_of(dossier, sample):
        held = dossier.find(Sample, name)
        if held and held.at and dossier.find(Location, held.at):
            return held.at
    return ""


def _layer_results(dossier: Dossier, read: ReadSection) -> list[LabResult]:
    prefix, reading = _prefix(dossier), read.reading
    return [
        LabResult(
            ref=next_ref(dossier, LabResult, prefix, after),
            sample=reading.sample,
            face=Face("section"),
            method="l-section",
            quantity=f"layer_thickness:{order}",
            value=Outcome(Quantity(f"{layer.mean_um:.1f}", "um")),
            uncertainty=Quantity(f"{2 * layer.uncertainty_um:.1f}", "um"),
            coverage_factor=Quantity(_COVERAGE),
            analyst=reading.confirmed_by,
            date=reading.confirmed,
            file=reading.file,
            note=f"{reading.profiles} profiles, {layer.least_um:.1f} to {layer.greatest_um:.1f} um;"
            f" construction {reading.source}",
            origin=f"computed from {reading.source}",
        )
        for after, (order, layer) in enumerate(read.layers.items())
    ]


def _thicknesses(dossier: Dossier, read: ReadSection, place: str) -> list[Thickness]:
    reading = read.reading
    return [
        Thickness(
            ref=next_ref(dossier, Thickness, f"{reading.ref}-", after),
            location=place,
            method=ThicknessMethod.SECTION,
            layer=str(order),
            readings=Readings(tuple(Quantity(f"{um:.1f}") for um in each)),
            unit="um",
            date=reading.confirmed,
            operator=reading.confirmed_by,
            note=f"section of {reading.sample}; construction {reading.source}",
            origin=f"computed from {reading.source}",
        )
        for after, (order, each) in enumerate(read.profiles.items())
    ]


def assignment_act(
    dossier: Dossier, of: LabSpectrum, *, said: dict[str, str], by: str, date: When | None
) -> Add:
    """Return the act that records what an analyst holds a spectrum to be.

    Args:
        dossier: The case.
        of: The spectrum.
        said: candidate, bands, reason, against: as written.
        by: Who holds it.
        date: When.
    """
    record = Assignment(
        ref=next_ref(dossier, Assignment, "AS-"),
        file=of.file,
        part=of.part,
        candidate=said.get("candidate", ""),
        bands=said.get("bands", ""),
        reason=said.get("reason", ""),
        against=said.get("against", ""),
        by=by,
        date=date,
    )
    return Add((record,), f"{record.candidate} assigned on {of.file}")


def comparison_act(
    dossier: Dossier, of: LabSpectrum, held: Against, *, extra: YesNo, by: str, date: When | None
) -> Add:
    """Return the act that records whether a person sees bands more than in a known spectrum.

    The score and the bands left over stand in its note; whether they are bands is the person's
    word.
    """
    at = "; ".join(f"{peak.position:.0f}" for peak in held.more) or "none"
    result = LabResult(
        ref=next_ref(dossier, LabResult, _prefix(dossier)),
        sample=of.sample,
        face=Face.read(of.face) if of.face else None,
        method="l-ftir",
        quantity="ftir_extra_bands",
        value=Outcome(word="present" if extra is YesNo.YES else "none"),
        control=held.known.sample,
        analyst=by,
        date=date,
        file=of.file,
        note=f"mean-centred r2 {held.match.score:.4f} over {held.match.low:.0f} to "
        f"{held.match.high:.0f} 1/cm against {held.known.file}; left over: {at}",
        origin=f"computed from {of.file} and {held.known.file}",
    )
    return Add((result,), f"{of.file} held against {held.known.file}")
