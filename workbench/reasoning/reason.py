"""From records to causes, in one function."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from workbench.analysis.counted import counted
from workbench.reasoning.amended import amended, changes_of
from workbench.reasoning.derivation import derive
from workbench.reasoning.derivation.aliases import aliases
from workbench.reasoning.knowledge import Knowledge
from workbench.reasoning.loading import load_knowledge
from workbench.reasoning.next_tests import next_tests, questions
from workbench.reasoning.places import divisions
from workbench.reasoning.prose import paragraphs
from workbench.reasoning.prose.rejected import rejections
from workbench.reasoning.prose.verdict import NOTHING_FAILS, verdict_of
from workbench.reasoning.ranking import Standing, applying, candidates, stand, substrates_of
from workbench.reasoning.residue import against, lists_open, unexplained
from workbench.reasoning.results import Alias, Candidate, Finding, Place, Reasoning
from workbench.reasoning.robustness import fragilities
from workbench.reasoning.scene import Scene
from workbench.reasoning.settings import Settings
from workbench.reasoning.weighing import Scales
from workbench.records import Area, CauseDecision, Dossier, ExclusionDecision, Grade
from workbench.trade.showing import Showing, System


@dataclass(frozen=True)
class Assessment:
    """Findings of a case, or of one place of it, and where the causes stand on them."""

    scene: Scene
    scales: Scales
    findings: Mapping[str, Finding]

    @cached_property
    def aliases(self) -> tuple[Alias, ...]:
        """Circumstances that the records cannot part."""
        return aliases(self.scene, self.findings)

    @cached_property
    def standing(self) -> Standing:
        """Where the causes stand."""
        causes = applying(self.scene, self.scales.knowledge)
        substrates = substrates_of(self.scene)
        return stand(causes, self.weighed, self.scales, self.aliases, substrates)

    @property
    def weighed(self) -> Mapping[str, Finding]:
        """What is weighed: nothing, where no area is recorded as failing."""
        if self.scene.areas:
            return self.findings
        return {key: Finding(key=key) for key in self.findings}


def reason(
    dossier: Dossier,
    knowledge: Knowledge | None = None,
    settings: Settings | None = None,
    showing: Showing | None = None,
) -> Reasoning:
    """Return what follows from the records of a case.

    Args:
        dossier: All records.
        knowledge: Causes and observations; the program's where none is given. The changes that
            the case records are applied to it.
        settings: The thresholds; those of the case where none are given.
        showing: The units in which numbers are told; those of the case where none are given.
    """
    dossier = counted(dossier)
    program = knowledge or load_knowledge()
    scales = Scales(
        amended(program, dossier),
        settings or Settings.of(dossier),
        _exclusions(dossier),
        showing or Showing(System.of(dossier.entry("units"))),
    )
    whole = assess(dossier, scales)
    places = _places(dossier, scales, whole)
    return replace(_told(dossier, whole, places), changes=changes_of(dossier, program))


def assess(
    dossier: Dossier, scales: Scales, within: Callable[[str], bool] = lambda _: True
) -> Assessment:
    """Return the findings and the standing of the causes for a case, or for one place of it."""
    scene = Scene(dossier, scales.settings, within=within, showing=scales.showing)
    return Assessment(scene, scales, derive(scene, scales.knowledge))


def _exclusions(dossier: Dossier) -> dict[tuple[str, str], ExclusionDecision]:
    return {(one.cause, one.observation): one for one in dossier.all(ExclusionDecision)}


def _decisions(dossier: Dossier, place: str) -> dict[str, CauseDecision]:
    return {one.cause: one for one in dossier.all(CauseDecision) if one.place == place}


def _places(dossier: Dossier, scales: Scales, whole: Assessment) -> tuple[Place, ...]:
    """Return the division that stands with the firmest support, if one does."""
    best: tuple[float, tuple[Place, ...]] = (0.0, ())
    for parts in divisions(whole.scene):
        told = [(part, assess(dossier, scales, part.within)) for part in parts]
        if not _stands([held.standing for _, held in told]):
            continue
        support = min(held.standing.field[held.standing.leaders[0]].points for _, held in told)
        if support > best[0]:
            made = tuple(
                Place(
                    name=part.name, areas=part.areas, leaders=held.standing.leaders,
                    reasoning=_told(dossier, held, (), part.name),
                )
                for part, held in told
            )  # fmt: skip
            best = (support, made)
    return best[1]


def _stands(parts: list[Standing]) -> bool:
    """Return whether each part leads clearly and firmly to a cause, and the causes differ."""
    if any(part.inconclusive for part in parts):
        return False
    leaders = [part.leaders[0] for part in parts]
    if len(set(leaders)) < len(leaders):
        return False
    firm = Grade.PROBABLE.firmness
    return all(
        part.proposals[part.leaders[0]].grade.firmness >= firm
        and not any(_acts_too(other, part.leaders[0]) for other in parts if other is not part)
        for part in parts
    )


def _acts_too(part: Standing, name: str) -> bool:
    """Return whether the leader of another part stands as firmly here."""
    held = part.proposals.get(name)
    return held is not None and held.grade.firmness >= Grade.PROBABLE.firmness


def _told(
    dossier: Dossier, held: Assessment, places: tuple[Place, ...], place: str = ""
) -> Reasoning:
    standing, scales, fails = held.standing, held.scales, bool(held.scene.areas)
    made = candidates(standing, scales, _decisions(dossier, place))
    leaders = standing.leaders
    if places:
        leaders = tuple(name for one in places for name in one.leaders)
        own = {one.leaders[0]: one.reasoning.candidate(one.leaders[0]) for one in places}
        lead = [replace(c, rank=1, joint=False) for name in leaders if (c := own[name])]
        made = (*lead, *_after([_where_it_fares_best(one, places) for one in made], leaders))
    result = Reasoning(
        findings=tuple(held.findings.values()),
        candidates=made,
        leaders=leaders,
        inconclusive=fails and not places and standing.inconclusive,
        verdict=verdict_of(standing, places) if fails else NOTHING_FAILS,
        places=places,
        next_tests=next_tests(standing, held.findings, scales, dossier) if fails else (),
        questions=questions(standing, held.findings, scales) if fails else (),
        fragilities=fragilities(standing, held.findings, scales, held.aliases),
        unexplained=unexplained(made, leaders, scales, dossier),
        against=against(made, leaders, scales, dossier),
        aliases=held.aliases,
        answered=tuple(f for f in held.findings.values() if f.override),
        basis=held.scene.sources or tuple(one.source for one in dossier.all(Area)),
    )
    result = replace(result, lists_open=lists_open(result, dossier))
    result = replace(result, paragraphs=paragraphs(result, scales, dossier))
    return replace(result, rejections=rejections(result, scales, dossier))


def _where_it_fares_best(one: Candidate, places: Iterable[Place]) -> Candidate:
    """Return a candidate as it stands in the place where it is held most firmly."""
    held = [found for place in places if (found := place.reasoning.candidate(one.cause))]
    return max(held, key=lambda found: (found.grade.firmness, found.points), default=one)


def _after(made: Sequence[Candidate], leaders: Sequence[str]) -> list[Candidate]:
    rest = sorted(
        (one for one in made if one.cause not in leaders),
        key=lambda one: -min(one.grade.firmness, Grade.POSSIBLE.firmness),
    )
    return [
        replace(one, rank=len(leaders) + at, joint=False) for at, one in enumerate(rest, start=1)
    ]
