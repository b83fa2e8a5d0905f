"""What the laboratory found, as plain values for a command."""

from collections.abc import Iterable
from dataclasses import asdict

from workbench.analysis.laboratory.asked import answers_to
from workbench.analysis.laboratory.found import Laboratory
from workbench.analysis.laboratory.limits import limits_for
from workbench.records import Dossier, LabRequest, LabResult, Source

Members = dict[str, object]


def members_of(dossier: Dossier, found: Laboratory) -> dict[str, list[Members]]:
    """Return every part of what was found, each a list of plain values with their sources."""
    return {
        "requests": [_request(dossier, one) for one in dossier.all(LabRequest)],
        **_of_curves(found),
        **_of_pictures(found),
        "warnings": [
            {"words": words}
            for words in dict.fromkeys(
                (*found.elements.warnings, *found.elements.mistakable,
                 *(w for one in found.xrays for w in one.warnings))
            )
        ],
        "limits": [
            {"method": one.id, "title": one.title, "can": list(one.can),
             "cannot": list(one.cannot), "least": one.detection, "known_from": one.status}
            for one in limits_for(result.method for result in dossier.all(LabResult))
        ],
        "problems": [{"words": words} for words in found.problems],
    }  # fmt: skip


def _request(dossier: Dossier, one: LabRequest) -> Members:
    names = (
        "ref", "sample", "question", "method", "edition", "conditions", "control", "blank",
        "laboratory", "analyst", "supervision", "deviation",
    )  # fmt: skip
    own = None if one.own is None else one.own == "yes"
    return {
        **{name: getattr(one, name) for name in names}, "own": own,
        "attachments": list(one.files),
        "answered_by": [answer.ref for answer in answers_to(dossier, one)],
    }  # fmt: skip


def _of_curves(found: Laboratory) -> dict[str, list[Members]]:
    degrees = {one.residual.reading.ref: one for one in found.cures}
    return {
        "spectra": [
            {
                "sample": one.of.sample, "face": one.of.face, "file": one.of.file,
                "stands_for": one.of.condition.value, "role": one.of.role.value,
                "bands": [round(peak.position, 1) for peak in one.peaks],
                "centres": [round(peak.centre, 1) for peak in one.peaks],
                "candidates": [fit.chemistry.title for fit in one.candidates],
                "technique": one.of.technique, "together": one.together,
                "against": [
                    {"known": held.known.name, "r2": held.match.score, "size": held.scale,
                     "more": [round(peak.position, 1) for peak in held.more],
                     "less": [round(peak.position, 1) for peak in held.less]}
                    for held in one.against
                ],
                "notes": list(one.of.spectrum.notes), "sources": _refs(one.of.sources),
            }
            for one in found.spectra
        ],
        "transitions": [
            {
                "ref": one.reading.ref, "curve": one.thermogram.name,
                "definition": one.reading.definition.value, "celsius": one.celsius,
                "every_definition": {k.value: v for k, v in one.transition.celsius.items()},
                "overshoot": one.transition.overshoot, "doubt": one.doubt,
                "sources": _refs((one.reading.source, *one.thermogram.sources)),
            }
            for one in found.transitions
        ],
        "heats": [
            {
                "sample": one.first.reading.sample, "first_c": one.first.celsius,
                "second_c": one.second.celsius, "rise_k": one.rise_k, "words": one.words,
                "sources": _refs((one.first.reading.source, one.second.reading.source)),
            }
            for one in found.heats
        ],
        "peaks": [
            {
                "ref": one.reading.ref, "curve": one.thermogram.name or one.thermogram.file,
                "of": one.reading.peak.value, "j_g": one.energy_j_g, "exothermic": one.exothermic,
                "onset_c": one.event.onset_c, "top_c": one.event.top_c, "words": one.words,
                "degree_of_cure": cure.degree if (cure := degrees.get(one.reading.ref)) else None,
                "degree_of_cure_at_least": cure.at_least if cure else None,
                "sources": _refs((one.reading.source,)),
            }
            for one in found.peaks
        ],
        "estimates": [
            {
                "ref": one.record.ref, "sample": one.record.sample, "rule": one.record.rule.value,
                "degree_of_cure": one.value if one.is_cure else None,
                "celsius": None if one.is_cure else one.value,
                "read_c": [at for at, _ in one.read], "basis": one.record.basis,
            }
            for one in found.estimates
        ],
    }  # fmt: skip


def _of_pictures(found: Laboratory) -> dict[str, list[Members]]:
    return {
        "sections": [
            {
                "ref": one.reading.ref, "sample": one.reading.sample, "file": one.reading.file,
                "um_per_px": one.scale.um_per_px, "tilt_deg": one.section.tilt_deg,
                "cut_deg": one.section.mount_deg,
                "layers": [
                    {"layer": "gap" if order is None else order, "least_um": layer.least_um,
                     "mean_um": layer.mean_um, "greatest_um": layer.greatest_um,
                     "u_um_k2": 2 * layer.uncertainty_um}
                    for order, layer in zip(one.reading.orders, one.section.layers, strict=True)
                ],
                "confirmed_by": one.reading.confirmed_by,
            }
            for one in found.sections
        ],
        "elements": [
            {
                "face": one.name, "stands_for": one.condition.value, "percent": one.shares,
                "below": one.below, "summed_as": one.basis,
                "sum": one.closure.total_percent if one.closure else None,
                "may_be_scaled": one.closure_words, "sources": _refs(one.sources),
            }
            for one in found.elements.faces
        ],
        "ratios": [
            {"element": one.element, "face": one.face.name, "control": one.control.name,
             "ratio": one.ratio, "bound": one.bound, "sources": _refs(one.sources)}
            for one in found.elements.ratios
        ],
        "xrays": [
            {
                "face": one.of.name, "file": one.of.file, "listed": list(one.listed),
                "peaks": [asdict(peak) for peak in one.peaks], "notes": list(one.of.notes),
            }
            for one in found.xrays
        ],
        "colours": [
            {
                "ref": one.reading.ref, "at": one.reading.at, "against": one.against.ref,
                "de00": one.de00, "de76": one.de76, "gloss_percent": one.gloss_percent,
                "indicative": one.indicative, "doubts": list(one.doubts),
            }
            for one in found.colours
        ],
        "checks": [
            {
                "what": one.what, "unit": one.unit, "should": one.should, "found": one.found,
                "tolerance": one.tolerance, "within": one.within, "basis": one.basis,
            }
            for one in found.checks
        ],
    }  # fmt: skip


def _refs(sources: Iterable[Source]) -> list[str]:
    return [str(source) for source in sources]
