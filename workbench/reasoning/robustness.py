"""Which single finding, if wrong, would change the leading cause or its grade."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from workbench.reasoning.foresight import contenders
from workbench.reasoning.prose.telling import listed, lower, says
from workbench.reasoning.ranking import Standing, standing
from workbench.reasoning.results import Alias, Finding, Fragility, Graded, Ungraded
from workbench.reasoning.weighed import Weighed
from workbench.reasoning.weighing import Scales, cell, recounted


def fragilities(
    held: Standing, findings: Mapping[str, Finding], scales: Scales, aliases: Sequence[Alias]
) -> tuple[Fragility, ...]:
    """Return the findings without which other causes would lead, or the grade would change."""
    if not held.leaders:
        return ()
    found = []
    for key in _telling(held, findings, scales):
        changed = _without(held, key, scales, aliases)
        if told := _difference(held, changed, findings[key], scales):
            found.append(told)
    return tuple(sorted(found, key=lambda one: (one.leader_without == held.leaders, one.key)))


def _telling(held: Standing, findings: Mapping[str, Finding], scales: Scales) -> list[str]:
    """Return the keys that count for or against a candidate in play, or exclude a close one."""
    lead = held.field[held.leaders[0]].points
    near = {one.cause.id for one in contenders(held, scales)}
    keys: dict[str, None] = {}
    for name, one in held.field.items():
        for c in one.cells:
            counts = name in near and c.counted
            bars = one.barred and c.points <= -2 and _unbarred_points(one) > lead - _REACH
            if findings[c.key].known and (counts or (bars and c.points)):
                keys[c.key] = None
    return list(keys)


_REACH = 6.0


def _unbarred_points(one: Weighed) -> float:
    return sum(c.points for c in one.cells if c.counted and c.points > 0)


def _without(held: Standing, key: str, scales: Scales, aliases: Sequence[Alias]) -> Standing:
    silent = Finding(key=key)
    field = {name: _blanked(one, silent, scales) for name, one in held.field.items()}
    left = [alias for alias in aliases if key not in alias.keys]
    return replace(standing(field, scales, left), substrates=held.substrates)


def _blanked(one: Weighed, silent: Finding, scales: Scales) -> Weighed:
    at = next((at for at, c in enumerate(one.cells) if c.key == silent.key), None)
    if at is None or one.cells[at].points == 0:
        return one
    new = cell(one.cause, scales.knowledge.observation[silent.key], silent, scales)
    return Weighed(one.cause, recounted(one.cells, at, new, scales.knowledge))


def _difference(
    held: Standing, changed: Standing, finding: Finding, scales: Scales
) -> Fragility | None:
    first = held.leaders[0]
    grade = changed.proposals[first].grade if first in changed.proposals else None
    before = held.proposals[first].grade
    if set(changed.leaders) == set(held.leaders) and grade is before:
        return None
    return Fragility(
        key=finding.key, finding=finding, leader_without=changed.leaders,
        words=_words(held, changed, finding, scales, grade),
    )  # fmt: skip


def _words(
    held: Standing, changed: Standing, finding: Finding, scales: Scales, grade: Graded | None
) -> str:  # fmt: skip
    said = says(scales.knowledge.observation[finding.key], [finding.value])
    start = f"Without the finding that {lower(said)}"
    if set(changed.leaders) != set(held.leaders):
        return f"{start}, {_led(held, changed)}."
    same = "the same cause" if len(held.leaders) == 1 else "the same causes"
    graded = "without a grade" if isinstance(grade, Ungraded) else f"graded {grade}"
    return f"{start}, {same} would lead, {graded}."


def _led(held: Standing, changed: Standing) -> str:
    """Return how the lead would change: lost, gone to one alone, shared, or passed to another."""
    before, after = set(held.leaders), set(changed.leaders)
    if not after:
        return "no candidate would lead"
    if len(after) > _NAMED:
        return f"{len(after)} causes would lead together, with nothing to part them"
    titles = _titles(changed.leaders, changed)
    if after < before:
        return f"{titles} would lead alone" if len(after) == 1 else f"only {titles} would lead"
    if before < after:
        added = _titles((name for name in changed.leaders if name not in before), changed)
        return f"{added} would lead as well, and nothing would part the leaders"
    return f"{titles} would lead" if after & before else f"{titles} would lead instead"


_NAMED = 3
"""How many causes are named that would lead together; of more only the number is told."""


def _titles(names: Iterable[str], standing_: Standing) -> str:
    return listed([f"“{standing_.field[name].cause.title}”" for name in names])
