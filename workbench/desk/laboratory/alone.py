"""A file of curves by itself, outside any case: what it holds, and what can be told of it."""

from collections.abc import Sequence
from pathlib import Path

import numpy as np

from workbench.analysis.laboratory.spectra import corrected
from workbench.analysis.spectra.bands import candidates
from workbench.analysis.spectra.peaks import pick
from workbench.analysis.spectra.wavenumber import check_wavenumbers
from workbench.analysis.thermal.glass_transition import glass_transition
from workbench.analysis.thermal.proposal import propose_parts
from workbench.analysis.thermal.segments import exotherm_up, rate_k_min
from workbench.analysis.xray import label_peaks, mistakable, overlaps
from workbench.desk.laboratory.files import FileCurve, curves_in
from workbench.records import CurveKind, KnownError

Members = dict[str, object]


def file_members(path: Path, elements: Sequence[str] = ()) -> dict[str, list[Members]]:
    """Return the curves of a file and its problems, as plain values.

    Args:
        path: The file.
        elements: Symbols with which peaks of X-rays are labelled.

    Raises:
        KnownError: The file cannot be read.
    """
    try:
        read = curves_in(path, path.name)
    except OSError as wrong:
        raise KnownError(f"{path}: {wrong.strerror or wrong}") from wrong
    said = " ".join(read.preamble)
    return {
        "curves": [_curve(one, said, elements) for one in read.curves],
        "problems": [{"words": str(one), "hinders": one.hinders} for one in read.problems],
    }


def _curve(one: FileCurve, said: str, elements: Sequence[str]) -> Members:
    x, y = one.curve.x, one.curve.y
    members: Members = {
        "part": one.part, "kind": one.kind.value, "points": len(x), "from": float(x[0]),
        "to": float(x[-1]), "ordinate": one.curve.ordinate.value, "least": float(np.min(y)),
        "greatest": float(np.max(y)), "notes": list(one.curve.notes),
    }  # fmt: skip
    if one.kind is CurveKind.INFRARED:
        return members | _infrared(one)
    if one.kind is CurveKind.THERMOGRAM:
        return members | _thermogram(one, f"{said} {one.part} {one.ordinate}")
    if one.kind is CurveKind.ELEMENTS:
        return members | _xray(one, elements)
    return members


def _infrared(one: FileCurve) -> Members:
    level = corrected(one.curve)
    if len(level.x) < 3:
        return {"bands": [], "centres": [], "candidates": [], "polystyrene": []}
    peaks = pick(level)
    fits = candidates(peaks, low=float(level.x[0]), high=float(level.x[-1]))
    check = check_wavenumbers(one.curve)
    return {
        "bands": [round(peak.position, 1) for peak in peaks],
        "centres": [round(peak.centre, 1) for peak in peaks],
        "candidates": [fit.chemistry.title for fit in fits],
        "polystyrene": [
            {"should": band.nominal, "found": band.found, "within": band.within}
            for band in check.bands
            if band.found is not None
        ],
    }


def _thermogram(one: FileCurve, words: str) -> Members:
    members: Members = {
        "heating": one.heating, "exotherm_up": exotherm_up(words), "rate_k_min": rate_k_min(words),
    }  # fmt: skip
    try:
        before, after = propose_parts(one.curve.x, one.curve.y)
        found = glass_transition(one.curve.x, one.curve.y, before=before, after=after)
    except ValueError as wrong:
        return members | {"proposed": None, "why": str(wrong)}
    return members | {
        "proposed": {name.value: round(at, 2) for name, at in found.celsius.items()},
        "before": list(before),
        "after": list(after),
        "overshoot": round(found.overshoot, 3),
    }


def _xray(one: FileCurve, elements: Sequence[str]) -> Members:
    peaks = label_peaks(one.curve, elements)
    return {
        "peaks": [
            {"kev": round(peak.kev, 3), "counts": peak.counts, "label": peak.label,
             "doubt": peak.doubt}
            for peak in peaks
        ],
        "warnings": [*overlaps(elements), *mistakable(elements)],
    }  # fmt: skip
