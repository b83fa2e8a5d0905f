"""The strength of every plane in every condition, from the pull-offs of a case."""

from collections.abc import Iterable
from dataclasses import dataclass

from workbench.analysis.counted import counted
from workbench.analysis.strength.compared import compare
from workbench.analysis.strength.evidence import Said
from workbench.analysis.strength.readings import Sorted, read_pulls
from workbench.analysis.strength.results import (
    Film,
    Group,
    Method,
    Naive,
    Pull,
    StrengthResult,
    StrengthSettings,
)
from workbench.analysis.strength.study import Study, study
from workbench.records import Coat, Dossier, Plane
from workbench.records.codes import Condition

INDEPENDENCE = (
    "Each estimate assumes that the planes of one pull fail independently of each other. If "
    "spots that are strong in one plane are strong in all, the values are too high; no pull-off "
    "can show it."
)
PRIOR = (
    "A prior on the scatter of strength enters each estimate (standard deviation of ln strength "
    "about 0.30, within a factor of about 4); it matters most where few pulls broke in the plane."
)
HELD = (
    "Where nothing broke in a plane, the bound (≥) is a lower bound of its median for any Weibull "
    "law with a shape from 2 to 8; it may lie above most readings, but not above the highest. "
    "Where some broke, no lower end is above what the same readings would give had none broken."
)
SPOTS = "Pulls are taken as independent spots; neighbours that share a cause tell less than that."
NOT_STRUCTURAL = "A strength of a coating is no opinion on the structure under it."


def strength_by_plane(dossier: Dossier, settings: StrengthSettings | None = None) -> StrengthResult:
    """Return what the pull-offs of a case say of the strength of each plane.

    A pull tells the strength of its weakest plane; for every other plane it is a lower bound, and
    a coating that came away before load gives an upper bound. Stripped coats and trial patches
    are kept apart from the untouched film.

    References:
        Notation of the planes: ISO 4624 (from memory).
    """
    chosen = settings or StrengthSettings.of(dossier)
    dossier = counted(dossier)
    found = read_pulls(dossier, chosen)
    studies = tuple(_studies(dossier, found.pulls, chosen))
    groups = tuple(one.group for one in studies)
    return StrengthResult(
        groups=tuple(group for group in groups if group.film.untouched),
        trials=tuple(group for group in groups if not group.film.untouched),
        comparisons=compare(studies, chosen),
        pulls=found.pulls,
        left_out=found.left_out,
        remarks=_remarks(found, groups),
        settings=chosen,
    )


@dataclass(frozen=True, slots=True)
class _Kind:
    """What pulls of one group have in common."""

    condition: Condition
    system: str
    film: Film

    @property
    def rank(self) -> tuple[int, str, str]:
        return (tuple(Condition).index(self.condition), self.system, str(self.film))


def _studies(
    dossier: Dossier, pulls: tuple[Pull, ...], settings: StrengthSettings
) -> Iterable[Study]:
    by_kind: dict[_Kind, list[Pull]] = {}
    for pull in pulls:
        kind = _Kind(pull.condition, pull.system, pull.film)
        by_kind.setdefault(kind, []).append(pull)
    named = {plane for pull in pulls for plane, _ in pull.shares if not plane.in_glue}
    for kind in sorted(by_kind, key=lambda one: one.rank):
        coats = dossier.system(kind.system)
        naive = _naive(by_kind[kind], settings)
        for plane in _planes(coats, kind.film, named):
            blank = Group(
                condition=kind.condition,
                system=kind.system,
                plane=plane,
                plane_name=dossier.plane_name(plane, coats),
                film=kind.film,
                n=0,
                broke_here=0,
                at_least=0,
                at_most=0,
                weight=0.0,
                method=Method.TOO_FEW,
                confidence=settings.confidence,
                naive=naive,
            )
            yield study(blank, Said.of(by_kind[kind], plane), settings)


def _planes(coats: tuple[Coat, ...], film: Film, named: set[Plane]) -> list[Plane]:
    """Return the planes under the fixture from the substrate up; those named where none are set."""
    top = max((coat.order for coat in coats), default=None)
    if film.on is not None:
        top = film.on
    if top is None:
        return sorted(named, key=lambda plane: plane.height)
    inside = [Plane.within(order) for order in range(top + 1)]
    between = [Plane.above(order) for order in range(top)]
    return sorted(inside + between, key=lambda plane: plane.height)


def _naive(pulls: list[Pull], settings: StrengthSettings) -> Naive:
    every = [pull.mpa for pull in pulls]
    without = [pull.mpa for pull in pulls if pull.glue <= settings.glue_repeat]
    return Naive(
        mean_mpa=sum(every) / len(every) if every else None,
        mean_without_glue_mpa=sum(without) / len(without) if without else None,
        n=len(every),
        n_without_glue=len(without),
    )


def _remarks(found: Sorted, groups: tuple[Group, ...]) -> tuple[str, ...]:
    apart = sum(not pull.film.untouched for pull in found.pulls)
    bounds = [HELD] if any(one.method is Method.LOWER_BOUND for one in groups) else []
    said = [INDEPENDENCE, PRIOR, *bounds, SPOTS, NOT_STRUCTURAL]
    if apart:
        said.append(f"Shown apart: {_pulls(apart)} on stripped coats or trial patches.")
    if found.left_out:
        said.append(f"Left out: {_pulls(len(found.left_out))}; the reason is told.")
    return tuple(said)


def _pulls(number: int) -> str:
    return "1 pull" if number == 1 else f"{number} pulls"
