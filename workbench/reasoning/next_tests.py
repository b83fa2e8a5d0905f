"""What would settle it: tests, papers and questions in the order of what they would separate."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from workbench.reasoning.derivation import RULES
from workbench.reasoning.foresight import Effect, contenders, effects, expected_change, parted
from workbench.reasoning.grading import Weighed
from workbench.reasoning.knowledge import Observation, Stage
from workbench.reasoning.ranking import Standing
from workbench.reasoning.results import Finding, NextTest, OutcomeMeaning, Question
from workbench.reasoning.weighing import Scales
from workbench.records.codes import Quality, Substrate

_METAL = frozenset({
    Substrate.CARBON_STEEL, Substrate.STAINLESS_STEEL, Substrate.GALVANISED_STEEL,
    Substrate.ALUMINIUM, Substrate.METAL_CLADDING, Substrate.ZINC_METAL_SPRAY,
})  # fmt: skip
_MINERAL = frozenset({Substrate.CONCRETE, Substrate.MASONRY_RENDER, Substrate.PLASTER_GYPSUM})
_ONLY_ON: Mapping[str, frozenset[str]] = {
    **dict.fromkeys(
        ("f-pulloff-metal", "f-dft-magnetic", "f-profile-metal", "f-salts", "f-ut"), _METAL
    ),
    **dict.fromkeys(
        ("f-pulloff-concrete", "f-profile-concrete", "f-tension-substrate", "f-rh-probe",
         "f-carbide", "f-mver", "f-water-drop", "l-petro", "l-chloride", "f-rebound"), _MINERAL
    ),
    "f-mill-scale": frozenset({Substrate.CARBON_STEEL}),
    "f-chromate": frozenset({Substrate.GALVANISED_STEEL}),
    "f-wood-mc": frozenset({Substrate.WOOD}),
    "f-etch-weight": frozenset({Substrate.ALUMINIUM}),
    "l-filiform": frozenset({Substrate.ALUMINIUM}),
}  # fmt: skip
_SHOWN = 12
_DELAY = ("hours", "days", "weeks")
_COST = ("low", "medium", "high")


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


def next_tests(
    standing: Standing, findings: Mapping[str, Finding], scales: Scales
) -> tuple[NextTest, ...]:
    """Return the tests and papers not yet read, the one that would separate most first."""
    left, held = open_observations(standing, findings, scales)
    substrates = frozenset(standing.substrates)
    by_test: dict[str, list[Open]] = {}
    for one in held:
        for test in one.observation.tests:
            if _suits(test, substrates) and test in scales.knowledge.tests:
                by_test.setdefault(test, []).append(one)
    made = [_test(name, some, left, scales) for name, some in by_test.items()]
    made += _papers(held, left, scales)
    return tuple(sorted(made, key=_order))[:_SHOWN]


def _order(one: NextTest) -> tuple[float, int, int, str]:
    delay = _DELAY.index(one.delay) if one.delay in _DELAY else 0
    cost = _COST.index(one.cost) if one.cost in _COST else 0
    return (-round(one.change, 2), cost, delay, one.test)


def _suits(test: str, substrates: frozenset[str]) -> bool:
    wanted = _ONLY_ON.get(test)
    return wanted is None or not substrates or bool(wanted & substrates)


def _sum_by_group(some: Iterable[Open]) -> float:
    """Return the change of several readings together; within a group only the largest counts."""
    best: dict[str, float] = {}
    for one in some:
        group = one.observation.group
        if group == "experiment":
            group = one.observation.key
        best[group] = max(best.get(group, 0.0), one.change)
    return sum(best.values())


def _test(name: str, opened: list[Open], left: tuple[Weighed, ...], scales: Scales) -> NextTest:
    test = scales.knowledge.tests[name]
    some = sorted(opened, key=lambda one: -one.change)
    looks = [
        (one.cause.title, held.look_for)
        for one in left
        for held in one.cause.tests
        if held.test == name
    ]
    return NextTest(
        test=name, name=test.name, standard=test.standard, setting=test.setting, cost=test.cost,
        delay=test.delay, destructive=test.destructive, caution=test.note,
        keys=tuple(one.observation.key for one in some),
        parts=_parts(some), change=_sum_by_group(some),
        outcomes=tuple(m for one in some[:3] for m in meanings(one, left)),
        look_for=tuple(looks),
    )  # fmt: skip


def _parts(some: Iterable[Open]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(name for one in some for name in parted(one.effects)))


def _papers(held: Iterable[Open], left: tuple[Weighed, ...], scales: Scales) -> list[NextTest]:
    by_kind: dict[str, list[Open]] = {}
    for one in held:
        for kind in one.observation.documents[:1]:
            by_kind.setdefault(kind, []).append(one)
    made = []
    for kind, opened in by_kind.items():
        some = sorted(opened, key=lambda one: -one.change)
        made.append(
            NextTest(
                test=f"record:{kind}", name=f"Recover or ask for: {kind.replace('_', ' ')}",
                setting="desk", cost="low", delay="days", destructive="no",
                keys=tuple(one.observation.key for one in some), parts=_parts(some),
                change=_sum_by_group(some) * scales.settings.paper_share,
                outcomes=tuple(m for one in some[:2] for m in meanings(one, left)),
            )
        )  # fmt: skip
    return made


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


def questions(
    standing: Standing, findings: Mapping[str, Finding], scales: Scales
) -> tuple[Question, ...]:
    """Return what only a person can answer, the most telling first."""
    _, held = open_observations(standing, findings, scales)
    asked = [
        one for one in held
        if one.observation.key not in RULES and not findings[one.observation.key].known
    ]  # fmt: skip
    asked += [one for one in held if _blank_background(one, findings) and one not in asked]
    asked.sort(key=lambda one: -one.change)
    return tuple(
        Question(
            key=one.observation.key, text=one.observation.question,
            values=one.observation.values, change=one.change, parts=parted(one.effects),
        )
        for one in asked
    )  # fmt: skip


def _blank_background(one: Open, findings: Mapping[str, Finding]) -> bool:
    observation = one.observation
    return observation.stage is Stage.BACKGROUND and not findings[observation.key].known
