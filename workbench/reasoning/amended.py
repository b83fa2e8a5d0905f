"""The knowledge of one case: the program's, with what its investigator added or changed."""

from collections.abc import Iterable
from dataclasses import replace

from workbench.reasoning.knowledge import Cause, Knowledge, Observation, Prediction, Side, Stage
from workbench.reasoning.results import KnowledgeChange
from workbench.records import AddedCause, AddedObservation, Area, Dossier, WeightChange
from workbench.records.codes import Condition


def amended(knowledge: Knowledge, dossier: Dossier) -> Knowledge:
    """Return the knowledge as it holds on the substrates of the case, with its own changes."""
    observations = {one.key: one for one in knowledge.observations}
    for asked in filter(_usable, dossier.all(AddedObservation)):
        observations[asked.observation] = _observation(asked)
    substrates = _substrates(dossier)
    causes = {one.id: one.as_on(substrates) for one in knowledge.causes}
    for added in dossier.all(AddedCause):
        causes[added.cause] = _cause(added, causes.get(added.cause))
    for change in dossier.all(WeightChange):
        if change.cause in causes:
            causes[change.cause] = _changed(causes[change.cause], change)
    return replace(
        knowledge, causes=tuple(causes.values()), observations=tuple(observations.values())
    )


def _substrates(dossier: Dossier) -> frozenset[str]:
    """Return the substrates of the failing areas."""
    return frozenset(
        coat.material
        for area in dossier.all(Area)
        if area.condition is Condition.FAILING
        for coat in dossier.system_of(area)
        if coat.order == 0
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


def changes_of(dossier: Dossier, knowledge: Knowledge) -> tuple[KnowledgeChange, ...]:
    """Return what the case changes in the knowledge, in words, to be printed.

    Args:
        dossier: All records.
        knowledge: The program's knowledge, unchanged.
    """
    return (
        *(_weight_changed(one, dossier, knowledge) for one in dossier.all(WeightChange)),
        *(_cause_changed(one, knowledge) for one in dossier.all(AddedCause)),
        *(_observation_added(one) for one in filter(_usable, dossier.all(AddedObservation))),
    )


def _weight_changed(one: WeightChange, dossier: Dossier, knowledge: Knowledge) -> KnowledgeChange:
    changed = amended(knowledge, dossier)
    cause, observation = changed.cause.get(one.cause), changed.observation.get(one.observation)
    values = [value.strip() for value in one.values.split(";") if value.strip()]
    told = [observation.says.get(v, v) if observation else v for v in values]
    finding = " or ".join(told).replace("_", " ")
    title = cause.title if cause else one.cause
    present = knowledge.cause.get(one.cause)
    was = [p for p in (present.of(one.observation) if present else ()) if {*p.values} & {*values}]
    before = "; ".join(f"{p.direction}, weight {p.weight}" for p in was) or "it says nothing of it"
    return KnowledgeChange(
        what=f"for “{title}”, the finding “{finding}” is {one.direction}, weight {one.weight}",
        before=before, reason=one.reason, by=one.by, source=one.source,
    )  # fmt: skip


def _cause_changed(one: AddedCause, knowledge: Knowledge) -> KnowledgeChange:
    present = knowledge.cause.get(one.cause)
    what, before = (
        (f"the cause “{present.title}” is told as “{one.name}”: {one.mechanism}", present.mechanism)
        if present
        else (f"cause added: “{one.name}”. {one.mechanism}", "it has no such cause")
    )
    return KnowledgeChange(
        what=what, before=before, reason=one.reason, by=one.by, source=one.source
    )  # fmt: skip


def _observation_added(one: AddedObservation) -> KnowledgeChange:
    return KnowledgeChange(
        what=f"observation added: {one.question}", before="it has no such observation",
        reason=one.reason, by=one.by, source=one.source,
    )  # fmt: skip
