"""What would settle it: tests, papers and questions in the order of what they would separate."""

from collections.abc import Mapping
from dataclasses import replace

from workbench.reasoning.derivation import RULES
from workbench.reasoning.foresight import Effect, expected_change, parted
from workbench.reasoning.knowledge import Stage
from workbench.reasoning.openings import Open, meanings, open_observations, parts_of, sum_by_group
from workbench.reasoning.papers import papers
from workbench.reasoning.ranking import Standing
from workbench.reasoning.results import Finding, NextTest, OutcomeMeaning, Question
from workbench.reasoning.weighed import Weighed
from workbench.reasoning.weighing import POINTS, Scales
from workbench.records import Dossier, Weight
from workbench.records.codes import Substrate
from workbench.trade.register import RegisteredTest

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
_REPRODUCES = 0.7
"""How plausible it is that panels show any of the circumstances at work."""
_STRONG = POINTS[Weight.STRONG]
_PANELS, _REPRODUCTION = "l-panels", "lab_reproduction_of_failure"
_DELAY = ("hours", "days", "weeks")
_COST = ("low", "medium", "high")


def next_tests(
    standing: Standing, findings: Mapping[str, Finding], scales: Scales, dossier: Dossier
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
    made += papers(held, left, scales, dossier)
    if len(standing.leaders) > 1 and _PANELS in scales.knowledge.tests:
        made = [one for one in made if one.test != _PANELS]
        made.append(_panels(scales.knowledge.tests[_PANELS], left))
    telling = [one for one in made if one.outcomes]
    return tuple(sorted(telling, key=_order))[:_SHOWN]


def _order(one: NextTest) -> tuple[float, int, int, str]:
    delay = _DELAY.index(one.delay) if one.delay in _DELAY else 0
    cost = _COST.index(one.cost) if one.cost in _COST else 0
    return (-round(one.change, 2), cost, delay, one.test)


def _suits(test: str, substrates: frozenset[str]) -> bool:
    wanted = _ONLY_ON.get(test)
    return wanted is None or not substrates or bool(wanted & substrates)


def _test(name: str, opened: list[Open], left: tuple[Weighed, ...], scales: Scales) -> NextTest:
    some = sorted(opened, key=lambda one: -one.change)
    looks = [
        (one.cause.title, held.look_for)
        for one in left
        for held in one.cause.tests
        if held.test == name
    ]
    return replace(
        _of_register(scales.knowledge.tests[name]),
        keys=tuple(one.observation.key for one in some),
        parts=parts_of(some), change=sum_by_group(some),
        outcomes=tuple(m for one in some[:3] for m in meanings(one, left)),
        look_for=tuple(looks),
    )  # fmt: skip


def _of_register(test: RegisteredTest) -> NextTest:
    return NextTest(
        test=test.id, name=test.name, standard=test.standard, setting=test.setting, cost=test.cost,
        delay=test.delay, destructive=test.destructive, caution=test.note,
    )  # fmt: skip


def _panels(test: RegisteredTest, left: tuple[Weighed, ...]) -> NextTest:
    """Return panels made with each circumstance alone, for candidates the records cannot part."""
    titles = {one.cause.id: one.cause.title for one in left}
    effects = [
        Effect(name, _REPRODUCES / len(left), {**dict.fromkeys(titles, 0.0), name: _STRONG}, ())
        for name in titles
    ]
    outcomes = tuple(
        OutcomeMeaning(
            key=_REPRODUCTION, value="yes", leader_after=title, strengthens=(title,),
            words=f"Panels made so that only “{title}” acts fail as the coating did.",
        )
        for title in titles.values()
    )  # fmt: skip
    none = OutcomeMeaning(
        key=_REPRODUCTION, value="no", weakens=tuple(titles.values()),
        words="No panel fails as the coating did.",
    )  # fmt: skip
    return replace(
        _of_register(test), keys=(_REPRODUCTION,), parts=tuple(titles),
        change=expected_change(effects, left), outcomes=(*outcomes, none),
        look_for=tuple((title, "Panels with and without this circumstance, all else alike")
                       for title in titles.values()),
    )  # fmt: skip


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
