"""Observations not yet read, what each would do, and what its outcomes would mean."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from workbench.reasoning.foresight import Effect, contenders, effects, expected_change, parted
from workbench.reasoning.knowledge import Observation
from workbench.reasoning.ranking import Standing
from workbench.reasoning.results import Finding, OutcomeMeaning
from workbench.reasoning.weighed import Weighed
from workbench.reasoning.weighing import Scales
from workbench.records.codes import Quality


@dataclass(frozen=True, slots=True)
class Open:
    """An observation not yet read, or read from poor records only, with what it would do."""

    observation: Observation
    effects: tuple[Effect, ...]
    change: float


def open_observations(
    standing: Standing, findings: Mapping[str, Finding], scales: Scales
) -> tuple[tuple[Weighed, ...], tuple[Open, ...]]:
    """Return the candidates left, and what could still part them."""
    left = contenders(standing, scales)
    held = []
    for one in scales.knowledge.observations:
        finding = findings[one.key]
        if not one.in_matrix or (finding.known and finding.quality is not Quality.POOR):
            continue
        told = effects(one, left, scales)
        change = expected_change(told, left)
        if change > 0:
            held.append(Open(one, told, change))
    return left, tuple(held)


def sum_by_group(some: Iterable[Open]) -> float:
    """Return the change of several readings together, each further one at half of the last.

    Within a group only the largest counts, and what the first have told apart the others need
    not: a look at everything is no better than the two or three readings that tell most.
    """
    best: dict[str, float] = {}
    for one in some:
        group = one.observation.group
        if group == "experiment":
            group = one.observation.key
        best[group] = max(best.get(group, 0.0), one.change)
    ordered = sorted(best.values(), reverse=True)
    return sum(change / 2.0**at for at, change in enumerate(ordered))


def parts_of(some: Iterable[Open]) -> tuple[str, ...]:
    """Return the candidates that some observations together would move apart."""
    return tuple(dict.fromkeys(name for one in some for name in parted(one.effects)))


def meanings(one: Open, left: tuple[Weighed, ...]) -> tuple[OutcomeMeaning, ...]:
    """Return what each outcome of an observation would mean for the candidates left."""
    titles = {c.cause.id: c.cause.title for c in left}
    points = {c.cause.id: c.points for c in left}
    made = []
    for effect in one.effects:
        up = [name for name, delta in effect.deltas.items() if delta >= 0.5]
        down = [
            name for name, delta in effect.deltas.items()
            if delta <= -0.5 and name not in effect.barred
        ]  # fmt: skip
        if not (up or down or effect.barred):
            continue
        leader = max(points, key=lambda name: points[name] + effect.deltas[name])
        said = one.observation.says.get(effect.value) or effect.value.replace("_", " ")
        made.append(
            OutcomeMeaning(
                key=one.observation.key, value=effect.value, words=f"{said}.",
                strengthens=tuple(titles[name] for name in up),
                weakens=tuple(titles[name] for name in down),
                excludes=tuple(titles[name] for name in effect.barred),
                leader_after=titles[leader],
            )
        )  # fmt: skip
    return tuple(made)
