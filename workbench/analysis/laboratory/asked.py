"""Which results answer which request, and what the request says of how they were found."""

from workbench.records import Dossier, LabRequest, LabResult
from workbench.records.codes import YesNo


def answers_to(dossier: Dossier, request: LabRequest) -> tuple[LabResult, ...]:
    """Return the results that name a request or, where none does, those it plainly asked for."""
    held = dossier.all(LabResult)
    named = tuple(one for one in held if one.request == request.ref)
    return named or tuple(
        one
        for one in held
        if not one.request and (one.sample, one.method) == (request.sample, request.method)
    )


def request_for(dossier: Dossier, result: LabResult) -> LabRequest | None:
    """Return the request that a result answers; None where there is none."""
    for one in dossier.all(LabRequest):
        if result.request == one.ref:
            return one
        same = (one.sample, one.method) == (result.sample, result.method)
        if same and not result.request:
            return one
    return None


def from_outside(dossier: Dossier, result: LabResult) -> bool:
    """Return whether a result came from an outside laboratory: one is named and is not our own."""
    asked = request_for(dossier, result)
    return bool(result.laboratory) and not (asked and asked.own is YesNo.YES)
