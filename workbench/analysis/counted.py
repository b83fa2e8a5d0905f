"""Which readings count, after what persons decided of the doubts about them."""

from collections.abc import Mapping
from dataclasses import replace

from workbench.records import (
    Breaks,
    Dossier,
    DoubtAnswer,
    Effect,
    LabResult,
    Measurement,
    PullOff,
    Record,
    Source,
)
from workbench.records.codes import Qualifier

_ALL_GLUE = Breaks.read("Y 100")
"""Of such a break every plane of the coating is known to hold at least so much, and no more."""


def decided(dossier: Dossier) -> Mapping[Source, DoubtAnswer]:
    """Return the severest answer to the doubts about each record, where it has an effect."""
    order = list(Effect)
    held: dict[Source, DoubtAnswer] = {}
    for answer in dossier.all(DoubtAnswer):
        before = held.get(answer.record)
        if answer.effect is Effect.NONE:
            continue
        if before is None or order.index(answer.effect) > order.index(before.effect):
            held[answer.record] = answer
    return held


def counted(dossier: Dossier) -> Dossier:
    """Return the records as they count for every estimate, comparison and finding.

    What a person set aside is withdrawn, with the reason; what was decided to be a lower bound
    is one. A doubt that nobody has answered changes nothing.
    """
    answers = decided(dossier)
    changed = (
        _as_decided(record, answer)
        for source, answer in answers.items()
        if (record := dossier.resolve(source)) and not record.withdrawn
    )
    return dossier.with_records(changed) if answers else dossier


def _as_decided(record: Record, answer: DoubtAnswer) -> Record:
    if answer.effect is Effect.SET_ASIDE:
        return replace(record, withdrawn=f"set aside by {answer.by}: {answer.reason}")
    if isinstance(record, PullOff):
        return replace(record, breaks=_ALL_GLUE)
    if isinstance(record, Measurement | LabResult):
        return replace(record, qualifier=Qualifier.ABOVE)
    return record
