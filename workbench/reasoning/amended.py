"""The knowledge of one case: the program's, with what its investigator added or changed."""

from collections.abc import Iterable
from dataclasses import replace

from workbench.reasoning.knowledge import Cause, Knowledge, Observation, Prediction, Side, Stage
from workbench.reasoning.results import KnowledgeChange
from workbench.records import AddedCause, AddedObservation, Dossier, WeightChange


def amended(knowledge: Knowledge, dossier: Dossier) -> Knowledge:
    """Return the knowledge with the changes that the case records, each with a reason."""
    observations = {one.key: one for one in knowledge.observations}
    for asked in filter(_usable, dossier.all(AddedObservation)):
        observations[asked.observation] = _observation(asked)
    causes = {one.id: one for one in knowledge.causes}
    for added in dossier.all(AddedCause):
        causes[added.cause] = _cause(added, causes.get(added.cause))
    for change in dossier.all(WeightChange):
        if change.cause in causes:
            causes[change.cause] = _changed(causes[change.cause], change)
    return replace(
        knowledge, causes=tuple(causes.values()), observations=tuple(observations.values())
    )


def _usable(added: AddedObservation) -> bool:
    """Return whether an added observation says when and where it is made,."""
    return added.stage in list(Stage) and added.side in list(Side) and bool(added.observation)


def _observation(added: AddedObservation) -> Observation:
    values = tuple(value.strip() for value in added.values.split(";") if value.strip())
    return Observation(
        key=added.observation,
        stage=Stage(added.stage),
        side=Side(added.side),
        question=added.question,
        values=values,
        core=True,
        group=f"added: {added.observation}",
        says={value: f"{added.question} {value}" for value in values},
    )


def _cause(added: AddedCause, present: Cause | None) -> Cause:
    if present:
        return replace(present, title=added.name, mechanism=added.mechanism)
    return Cause(
        id=added.cause, title=added.name, group="added", mechanism=added.mechanism,
        substrates=("any",), predictions=(),
    )  # fmt: skip


def _changed(cause: Cause, change: WeightChange) -> Cause:
    values = tuple(value.strip() for value in change.values.split(";") if value.strip())
    kept = _without(cause.predictions, change.observation, values)
    new = Prediction(
        key=change.observation, values=values, direction=change.direction, weight=change.weight,
        why=change.reason,
    )  # fmt: skip
    return replace(cause, predictions=(*kept, new))


def _without(
    predictions: Iterable[Prediction], key: str, values: tuple[str, ...]
) -> list[Prediction]:
    held = []
    for one in predictions:
        left = tuple(v for v in one.values if one.key != key or v not in values)
        if left:
            held.append(replace(one, values=left))
    return held


def changes_of(dossier: Dossier) -> tuple[KnowledgeChange, ...]:
    """Return what the case changes in the knowledge, in words, to be printed."""
    held = [
        KnowledgeChange(
            what=f"{one.cause}: {one.observation} {one.values} is {one.direction}, {one.weight}",
            reason=one.reason, by=one.by, source=one.source,
        )
        for one in dossier.all(WeightChange)
    ]  # fmt: skip
    held += [
        KnowledgeChange(what=f"cause added: {one.name}", reason=one.reason, by=one.by,
                        source=one.source)
        for one in dossier.all(AddedCause)
    ]  # fmt: skip
    held += [
        KnowledgeChange(what=f"observation added: {one.question}", reason=one.reason, by=one.by,
                        source=one.source)
        for one in filter(_usable, dossier.all(AddedObservation))
    ]  # fmt: skip
    return tuple(held)
