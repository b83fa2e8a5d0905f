"""Everything that the laboratory's originals say: records tied to the originals they name."""

from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import TypeVar

from workbench.analysis.laboratory.checks import checks_of
from workbench.analysis.laboratory.colours import colour_changes
from workbench.analysis.laboratory.elements import study_elements
from workbench.analysis.laboratory.estimates import estimates_of
from workbench.analysis.laboratory.found import Laboratory
from workbench.analysis.laboratory.micrographs import ReadSection, read_section
from workbench.analysis.laboratory.peaks import ReadPeak, cure_degrees, read_peak
from workbench.analysis.laboratory.spectra import (
    LabSpectrum,
    SpectrumSettings,
    SpectrumStudy,
    study_spectrum,
)
from workbench.analysis.laboratory.standing import condition_of_sample
from workbench.analysis.laboratory.thermograms import (
    ReadTransition,
    Thermogram,
    construct,
    two_heats,
)
from workbench.analysis.laboratory.xrays import LabXray, XrayStudy, study_xray
from workbench.analysis.spectra.spectrum import Ordinate, told_by_data
from workbench.desk.laboratory.claims import Opened, claims
from workbench.desk.laboratory.files import Original
from workbench.desk.laboratory.pictures import size_of
from workbench.records import (
    CurveKind,
    Dossier,
    Heat,
    PeakReading,
    SectionReading,
    TransitionReading,
)

_Reading = TypeVar("_Reading", TransitionReading, PeakReading)
_Read = TypeVar("_Read")


def spectra_of(dossier: Dossier, opened: Opened) -> tuple[LabSpectrum, ...]:
    """Return the infrared spectra of a case."""
    found = []
    for claim in claims(dossier, CurveKind.INFRARED):
        for held in opened.curves_of(claim, CurveKind.INFRARED)[:1]:
            other = held.kind is CurveKind.OTHER
            spectrum = told_by_data(held.curve) if other else held.curve
            if claim.ordinate:
                spectrum = replace(spectrum, ordinate=Ordinate(claim.ordinate))
            found.append(
                LabSpectrum(
                    spectrum=spectrum, file=claim.file, part=held.part, sample=claim.sample,
                    face=claim.face, condition=condition_of_sample(dossier, claim.sample),
                    role=claim.role, technique=claim.technique, sources=claim.sources,
                )
            )  # fmt: skip
    return tuple(found)


def match_against_controls(
    spectra: tuple[LabSpectrum, ...], settings: SpectrumSettings | None = None
) -> tuple[SpectrumStudy, ...]:
    """Return every spectrum evaluated, each against the controls and references of the case."""
    known = tuple(one for one in spectra if one.known)
    return tuple(study_spectrum(one, known, settings) for one in spectra)


def thermograms_of(dossier: Dossier, opened: Opened) -> tuple[Thermogram, ...]:
    """Return the thermograms of a case, each column and each ramp one."""
    return tuple(
        Thermogram(
            file=claim.file, part=held.part, celsius=held.curve.x, flow=held.curve.y,
            notes=(*opened.said_in(claim.file), *held.curve.notes), sample=claim.sample,
            face=claim.face, condition=condition_of_sample(dossier, claim.sample),
            heat=_heat(held.part) if held.heating is not False else None,
            heating=held.heating is not False, ordinate=held.ordinate, sources=claim.sources,
        )
        for claim in claims(dossier, CurveKind.THERMOGRAM)
        for held in opened.curves_of(claim, CurveKind.THERMOGRAM)
    )  # fmt: skip


def _heat(heading: str) -> Heat | None:
    said = heading.lower()
    return next((heat for heat in Heat if heat.value in said), None)


def xrays_of(dossier: Dossier, opened: Opened) -> tuple[XrayStudy, ...]:
    """Return the X-ray spectra of a case, labelled with the elements reported of each face."""
    held_on = (
        LabXray(
            spectrum=held.curve, file=claim.file, part=held.part, sample=claim.sample,
            face=claim.face, condition=condition_of_sample(dossier, claim.sample),
            notes=(*opened.said_in(claim.file), *held.curve.notes), ordinate=held.ordinate,
            sources=claim.sources,
        )
        for claim in claims(dossier, CurveKind.ELEMENTS)
        for held in opened.curves_of(claim, CurveKind.ELEMENTS)
    )  # fmt: skip
    return tuple(study_xray(dossier, one) for one in held_on)


def transitions_of(
    dossier: Dossier, thermograms: tuple[Thermogram, ...]
) -> tuple[tuple[ReadTransition, ...], tuple[str, ...]]:
    """Return the glass transitions as they were constructed, and what could not be done again."""
    return _again(dossier.all(TransitionReading), thermograms, construct)


def peaks_of(
    dossier: Dossier, thermograms: tuple[Thermogram, ...]
) -> tuple[tuple[ReadPeak, ...], tuple[str, ...]]:
    """Return the peaks as they were bounded, and what could not be done again."""
    return _again(dossier.all(PeakReading), thermograms, read_peak)


def _again(
    readings: Iterable[_Reading],
    thermograms: tuple[Thermogram, ...],
    read: Callable[[_Reading, Thermogram], _Read],
) -> tuple[tuple[_Read, ...], tuple[str, ...]]:
    """Return what `read` makes of each reading on the curve it names."""
    found, problems = [], []
    for reading in readings:
        fits = [one for one in thermograms if one.file == reading.file]
        named = [one for one in fits if one.part == reading.part or not reading.part]
        if not named:
            there = ", ".join(f"“{one.part}”" for one in fits) or "no thermogram of the case"
            words = f"{reading.file} has no curve “{reading.part}”; it has {there}"
            problems.append(f"{reading.ref}: {words}")
            continue
        try:
            found.append(read(reading, named[0]))
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
    opened = Opened(original)
    spectra = match_against_controls(spectra_of(dossier, opened), settings)
    thermograms, xrays = thermograms_of(dossier, opened), xrays_of(dossier, opened)
    transitions, of_transitions = transitions_of(dossier, thermograms)
    peaks, of_peaks = peaks_of(dossier, thermograms)
    cures, of_cures = cure_degrees(peaks)
    sections, of_sections = sections_of(dossier, original)
    estimates, of_estimates = estimates_of(dossier)
    colours, of_colours = colour_changes(dossier)
    told = (of_transitions, of_peaks, of_cures, of_sections, of_estimates, of_colours)
    return Laboratory(
        spectra=spectra, thermograms=thermograms, transitions=transitions,
        heats=two_heats(transitions), peaks=peaks, cures=cures, estimates=estimates,
        checks=checks_of(spectra, transitions, peaks), sections=sections,
        elements=study_elements(dossier), xrays=xrays, colours=colours,
        problems=(*opened.problems, *(words for part in told for words in part)),
    )  # fmt: skip
