"""The investigator's answers: they give what no record can, or override what records give."""

from dataclasses import replace

from workbench.reasoning.knowledge import Observation
from workbench.reasoning.results import UNKNOWN, Finding, Override
from workbench.records import Answer, Dossier
from workbench.records.codes import Quality


def answered(dossier: Dossier, observation: Observation, derived: Finding) -> Finding:
    """Return the finding with the investigator's answer in its place, where there is one.

    An answer without a reason does not override what the records give; it fills a silence.
    """
    answers = [one for one in dossier.all(Answer) if one.observation == observation.key]
    valid = [one for one in answers if one.value in (*observation.values, UNKNOWN)]
    if not valid:
        return derived
    answer = valid[-1]
    if derived.known and derived.value == answer.value:
        return replace(derived, sources=(*derived.sources, answer.source))
    if derived.known and not answer.reason:
        return derived
    return _given(derived, answer)


def _given(derived: Finding, answer: Answer) -> Finding:
    said = f"answered by {answer.by or 'the investigator'}"
    words = f"{said}: {answer.reason}" if answer.reason else said
    override = Override(derived=derived.value, by=answer.by, reason=answer.reason)
    return replace(
        derived,
        value=answer.value,
        n=max(derived.n, 1),
        method="answer",
        quality=answer.quality or Quality.FAIR,
        sources=(answer.source, *derived.sources),
        words=words,
        override=override if derived.known else None,
        shares=(),
    )
