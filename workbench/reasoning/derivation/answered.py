"""The investigator's answers: they give what no record can, or override what records give."""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from workbench.reasoning.knowledge import Observation, Side
from workbench.reasoning.results import UNKNOWN, Finding, Override
from workbench.reasoning.scene import Ground, Scene
from workbench.records import Answer
from workbench.records.codes import Condition, Quality

_GROUND = {
    Condition.FAILING: Ground.FAILING,
    Condition.NON_FAILING: Ground.SOUND,
    Condition.CONTROL: Ground.CONTROL,
}


def answered(scene: Scene, observation: Observation, derived: Finding) -> Finding:
    """Return the finding with the investigator's answers in its place, where there are any.

    An answer for an area speaks for the side and the place of that area; one without an area for
    the case. An answer without a reason does not override what the records give: it fills a
    silence.
    """
    own = Ground.SOUND if observation.side is Side.NONFAILING else Ground.FAILING
    answers = _answers(scene, observation)
    here = [one for one in answers if _ground(scene, one, own) is own]
    held = _settled(observation, derived, here) if here else derived
    if observation.side is not Side.FAILING:
        return held
    for ground, side in ((Ground.SOUND, "sound"), (Ground.CONTROL, "control")):
        there = [one for one in answers if _ground(scene, one, own) is ground]
        if there and (value := _agreed(there)):
            sources = dict.fromkeys((*held.sources, *(one.source for one in there)))
            held = replace(held, sources=tuple(sources))
            held = replace(held, sound=value) if side == "sound" else replace(held, control=value)
    return held


def _answers(scene: Scene, observation: Observation) -> list[Answer]:
    """Return the answers to an observation, the last for each area, with values it can take."""
    held = {
        one.area: one
        for one in scene.dossier.all(Answer)
        if one.observation == observation.key and one.value in (*observation.values, UNKNOWN)
    }
    return [one for one in held.values() if _in_place(scene, one)]


def _in_place(scene: Scene, one: Answer) -> bool:
    area = scene.dossier.area_at(one.area) if one.area else None
    failing = area is not None and area.condition is Condition.FAILING
    return not failing or scene.within(one.area)


def _ground(scene: Scene, one: Answer, own: Ground) -> Ground | None:
    if not one.area:
        return own
    area = scene.dossier.area_at(one.area)
    return _GROUND.get(area.condition) if area and area.condition else own


def _agreed(answers: Iterable[Answer]) -> str:
    values = {one.value for one in answers}
    return values.pop() if len(values) == 1 else ""


def _settled(observation: Observation, derived: Finding, answers: Sequence[Answer]) -> Finding:
    special = [one for one in answers if one.area] or answers
    value = _agreed(special)
    if not value:
        said = ", ".join(f"{one.area}: {one.value.replace('_', ' ')}" for one in special)
        return _beside(derived, special, f"the answers for its areas differ ({said})")
    answer = special[-1]
    if derived.known and derived.value == value:
        return replace(derived, sources=tuple(dict.fromkeys((*derived.sources, answer.source))))
    if derived.known and not answer.reason:
        return _beside(derived, special, f"{_who(answer)} answers otherwise and gives no reason")
    return _given(observation, derived, special)


def _beside(derived: Finding, answers: Iterable[Answer], words: str) -> Finding:
    """Return what the records give, with answers told that do not change it."""
    sources = dict.fromkeys((*derived.sources, *(one.source for one in answers)))
    told = f"{derived.words}; {words}" if derived.known else words
    return replace(derived, words=told, sources=tuple(sources))


def _who(answer: Answer) -> str:
    return answer.by or "the investigator"


def _given(observation: Observation, derived: Finding, answers: Sequence[Answer]) -> Finding:
    answer = answers[-1]
    says = observation.says.get(answer.value) or answer.value.replace("_", " ")
    by = f"answered by {_who(answer)}"
    words = f"{says} ({by}: {answer.reason})" if answer.reason else f"{says} ({by})"
    override = None
    if derived.known:
        override = Override(derived=derived.value, by=answer.by, reason=answer.reason)
        records = observation.says.get(derived.value) or derived.value.replace("_", " ")
        words = f"{words}; by the records alone: {records[:1].lower()}{records[1:]}"
    sources = dict.fromkeys((*(one.source for one in answers), *derived.sources))
    return replace(
        derived,
        value=answer.value,
        n=max(derived.n, len(answers)),
        method="answer",
        quality=answer.quality or Quality.FAIR,
        sources=tuple(sources),
        words=words,
        override=override,
        shares=(),
    )
