"""What the curves of a case were measured on: records tied to the originals they name."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from workbench.analysis.laboratory.elements import study_elements
from workbench.analysis.laboratory.found import Laboratory
from workbench.analysis.laboratory.micrographs import ReadSection, read_section
from workbench.analysis.laboratory.spectra import (
    LabSpectrum,
    SpectrumSettings,
    SpectrumStudy,
    study_spectrum,
)
from workbench.analysis.laboratory.standing import condition_of_sample, family_of
from workbench.analysis.laboratory.thermograms import ReadTransition, Thermogram, construct
from workbench.analysis.spectra.spectrum import Ordinate, told_by_data
from workbench.desk.laboratory.files import FileCurves, Original, curves_in
from workbench.desk.laboratory.pictures import size_of
from workbench.records import (
    Curve,
    CurveKind,
    CurveRole,
    Dossier,
    Heat,
    LabResult,
    Sample,
    SectionReading,
    Source,
    TransitionReading,
)
from workbench.records.codes import Purpose

_METHODS = {CurveKind.INFRARED: "l-ftir", CurveKind.THERMOGRAM: "l-dsc"}
_ROLES = {Purpose.REFERENCE: CurveRole.REFERENCE, Purpose.BLANK: CurveRole.BLANK}


@dataclass(frozen=True, slots=True)
class _Claim:
    """That a file was measured on something."""

    file: str
    part: str
    sample: str
    face: str
    role: CurveRole
    ordinate: str
    sources: tuple[Source, ...]


def _claims(dossier: Dossier, kind: CurveKind) -> Iterator[_Claim]:
    """Return what curve records say, then what results say of files no curve record names."""
    named: set[str] = set()
    results = [one for one in dossier.all(LabResult) if one.file]
    for one in dossier.all(Curve):
        if one.kind is not kind:
            continue
        named.add(one.file)
        role = one.role or _role(dossier, one.sample)
        also = tuple(r.source for r in results if r.file == one.file and r.sample == one.sample)
        yield _Claim(
            one.file, one.part, one.sample, str(one.face or ""), role, one.ordinate or "",
            (one.source, *also),
        )  # fmt: skip
    by_file: dict[str, list[LabResult]] = {}
    for result in results:
        if result.method == _METHODS.get(kind) and result.file not in named:
            by_file.setdefault(result.file, []).append(result)
    for file, some in by_file.items():
        first = some[0]
        yield _Claim(
            file, "", first.sample, str(first.face or ""), _role(dossier, first.sample), "",
            tuple(one.source for one in some),
        )  # fmt: skip


def _role(dossier: Dossier, ref: str) -> CurveRole:
    for name in family_of(dossier, ref):
        sample = dossier.find(Sample, name)
        if sample and sample.purpose:
            return _ROLES.get(sample.purpose, CurveRole.SPECIMEN)
    return CurveRole.SPECIMEN


def _opened(
    file: str, original: Original, problems: list[str], opened: dict[str, FileCurves | None]
) -> FileCurves | None:
    """Return the curves of an original, read once."""
    if file not in opened:
        path = original(file)
        opened[file] = None
        if path is None:
            problems.append(f"{file}: not in the case; take it in, or correct its name")
        else:
            try:
                opened[file] = read = curves_in(path, file)
                problems += [str(problem) for problem in read.problems]
            except OSError as wrong:
                problems.append(f"{file}: {wrong.strerror or wrong}")
    return opened[file]


def spectra_of(
    dossier: Dossier, original: Original
) -> tuple[tuple[LabSpectrum, ...], tuple[str, ...]]:
    """Return the infrared spectra of a case, and what could not be read, as sentences."""
    problems: list[str] = []
    opened: dict[str, FileCurves | None] = {}
    found = []
    for claim in _claims(dossier, CurveKind.INFRARED):
        read = _opened(claim.file, original, problems, opened)
        held = read.called(claim.part, CurveKind.INFRARED) if read else None
        if held is None:
            if read:
                problems.append(f"{claim.file}: no spectrum {claim.part or 'in it'}")
            continue
        spectrum = told_by_data(held.curve) if held.kind is CurveKind.OTHER else held.curve
        if claim.ordinate:
            spectrum = replace(spectrum, ordinate=Ordinate(claim.ordinate))
        found.append(
            LabSpectrum(
                spectrum=spectrum, file=claim.file, part=held.part, sample=claim.sample,
                face=claim.face, condition=condition_of_sample(dossier, claim.sample),
                role=claim.role, sources=claim.sources,
            )
        )  # fmt: skip
    return tuple(found), tuple(problems)


def match_against_controls(
    spectra: tuple[LabSpectrum, ...], settings: SpectrumSettings | None = None
) -> tuple[SpectrumStudy, ...]:
    """Return every spectrum evaluated, each against the controls and references of the case."""
    known = tuple(one for one in spectra if one.known)
    return tuple(study_spectrum(one, known, settings) for one in spectra)


def thermograms_of(
    dossier: Dossier, original: Original
) -> tuple[tuple[Thermogram, ...], tuple[str, ...]]:
    """Return the thermograms of a case, each column one, and what could not be read."""
    problems: list[str] = []
    opened: dict[str, FileCurves | None] = {}
    found = []
    for claim in _claims(dossier, CurveKind.THERMOGRAM):
        read = _opened(claim.file, original, problems, opened)
        for held in read.curves if read else ():
            if held.kind not in (CurveKind.THERMOGRAM, CurveKind.OTHER):
                continue
            if claim.part and claim.part != held.part:
                continue
            found.append(
                Thermogram(
                    file=claim.file, part=held.part, celsius=held.curve.x, flow=held.curve.y,
                    notes=(*(read.preamble if read else ()), *held.curve.notes),
                    sample=claim.sample, face=claim.face,
                    condition=condition_of_sample(dossier, claim.sample),
                    heat=_heat(held.part), sources=claim.sources,
                )
            )  # fmt: skip
    return tuple(found), tuple(problems)


def _heat(heading: str) -> Heat | None:
    said = heading.lower()
    return next((heat for heat in Heat if heat.value in said), None)


def transitions_of(
    dossier: Dossier, thermograms: tuple[Thermogram, ...]
) -> tuple[tuple[ReadTransition, ...], tuple[str, ...]]:
    """Return the glass transitions as they were constructed, and what could not be done again."""
    found, problems = [], []
    for reading in dossier.all(TransitionReading):
        fits = (c for c in thermograms if (c.file, c.part) == (reading.file, reading.part))
        curve = next(fits, None)
        if curve is None:
            problems.append(f"{reading.ref}: {reading.file} has no curve “{reading.part}”")
            continue
        try:
            found.append(construct(reading, curve))
        except ValueError as wrong:
            problems.append(f"{reading.ref}: {wrong}")
    return tuple(found), tuple(problems)


def sections_of(
    dossier: Dossier, original: Original
) -> tuple[tuple[ReadSection, ...], tuple[str, ...]]:
    """Return the sections as they were confirmed, and what could not be done again."""
    found, problems = [], []
    for reading in dossier.all(SectionReading):
        path = original(reading.file)
        if path is None:
            problems.append(f"{reading.ref}: {reading.file} is not in the case")
            continue
        try:
            found.append(read_section(reading, size_of(path)))
        except (ValueError, OSError) as wrong:
            problems.append(f"{reading.ref}: {wrong}")
    return tuple(found), tuple(problems)


def laboratory_of(
    dossier: Dossier, original: Original, settings: SpectrumSettings | None = None
) -> Laboratory:
    """Return everything that the laboratory's originals and results say."""
    spectra, of_spectra = spectra_of(dossier, original)
    thermograms, of_thermograms = thermograms_of(dossier, original)
    transitions, of_transitions = transitions_of(dossier, thermograms)
    sections, of_sections = sections_of(dossier, original)
    return Laboratory(
        spectra=match_against_controls(spectra, settings),
        thermograms=thermograms,
        transitions=transitions,
        sections=sections,
        elements=study_elements(dossier),
        problems=(*of_spectra, *of_thermograms, *of_transitions, *of_sections),
    )
