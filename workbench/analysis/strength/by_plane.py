"""The strength of every plane in every condition, from the pull-offs of a case."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from workbench.analysis.strength.bounds import lower_bound, upper_bound
from workbench.analysis.strength.curve import curve_of
from workbench.analysis.strength.evidence import Said
from workbench.analysis.strength.likelihood import second_opinion
from workbench.analysis.strength.posterior import Posterior, posterior_of
from workbench.analysis.strength.readings import Sorted, read_pulls
from workbench.analysis.strength.results import (
    Film,
    Group,
    Interval,
    Method,
    Naive,
    Pull,
    StrengthResult,
    StrengthSettings,
)
from workbench.records import Coat, Dossier, Plane
from workbench.records.codes import Condition

_MOST_CAME_AWAY = 0.7
"""Share of came-aways from which an estimate would be the prior's, not the data's."""
_WIDE_SPREAD = 0.6
"""Spread above which intervals of few pulls cover less than they say (simulated)."""

INDEPENDENCE = (
    "Each estimate assumes that the planes of one pull fail independently of each other. If "
    "spots that are strong in one plane are strong in all, the values are too high; no pull-off "
    "can show it."
)
PRIOR = (
    "A prior on the scatter of strength enters each estimate (standard deviation of ln strength "
    "about 0.30, within a factor of about 4); it matters most where few pulls broke in the plane."
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
    chosen = settings or StrengthSettings()
    found = read_pulls(dossier, chosen)
    studies = tuple(_studies(dossier, found.pulls, chosen))
    groups = tuple(study.group for study in studies)
    return StrengthResult(
        groups=tuple(group for group in groups if group.film.untouched),
        trials=tuple(group for group in groups if not group.film.untouched),
        pulls=found.pulls,
        left_out=found.left_out,
        remarks=_remarks(found),
        settings=chosen,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Study:
    """One group with what it rests on: its evidence, and the posterior where there is one."""

    group: Group
    said: Said
    posterior: Posterior | None = None


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
            yield _study(blank, Said.of(by_kind[kind], plane), settings)


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


def _study(blank: Group, said: Said, settings: StrengthSettings) -> Study:
    evidence = said.evidence
    came_away = int((evidence.came_away > 0).sum())
    broke = int((evidence.broke > 0).sum())
    counted = replace(
        blank,
        n=len(said.pulls),
        broke_here=broke,
        at_least=len(said.pulls) - broke - came_away,
        at_most=came_away,
        weight=evidence.weight,
        curve=curve_of(evidence, settings.confidence),
        remarks=_glue_remark(said, settings),
        sources=said.sources,
    )
    if counted.n < settings.fewest_pulls:
        return Study(group=_too_few(counted, settings), said=said)
    if not broke and not came_away:
        return Study(group=_held(counted, said, settings), said=said)
    if came_away >= _MOST_CAME_AWAY * counted.n:
        return Study(group=_came_away(counted, said, settings), said=said)
    return _estimated(counted, said, settings)


def _glue_remark(said: Said, settings: StrengthSettings) -> tuple[str, ...]:
    mostly = sum(pull.glue > settings.glue_repeat for pull in said.pulls)
    if not mostly:
        return ()
    limit = f"{settings.glue_repeat:.0%}"
    return (f"{mostly} of {len(said.pulls)} pulls broke more than {limit} in the glue: repeat.",)


def _too_few(group: Group, settings: StrengthSettings) -> Group:
    needed = f"{settings.fewest_pulls} are needed for a number."
    if group.n == 0:
        return replace(group, remarks=(f"No pull says anything of this plane; {needed}",))
    pulls = "1 pull says" if group.n == 1 else f"{group.n} pulls say"
    return replace(group, remarks=(*group.remarks, f"{pulls} something of this plane; {needed}"))


def _held(group: Group, said: Said, settings: StrengthSettings) -> Group:
    bound = lower_bound(said.evidence.held_mpa, settings.confidence)
    return replace(
        group,
        method=Method.LOWER_BOUND,
        low_mpa=bound.envelope_mpa,
        at_least_mpa=bound.envelope_mpa,
        lower_bound=bound,
        remarks=(*group.remarks, "Nothing broke here: a lower bound, no estimate, no upper limit."),
    )


def _came_away(group: Group, said: Said, settings: StrengthSettings) -> Group:
    evidence = said.evidence
    if group.at_most == group.n:
        bound = upper_bound(evidence.mpa, settings.confidence)
    else:
        (bound,) = posterior_of(evidence).median(settings.confidence)
    words = f"{group.at_most} of {group.n} came away before load: an upper bound, no estimate."
    return replace(
        group, method=Method.UPPER_BOUND, high_mpa=bound, remarks=(*group.remarks, words)
    )


def _estimated(group: Group, said: Said, settings: StrengthSettings) -> Study:
    evidence = said.evidence
    posterior = posterior_of(evidence)
    tail = (1 - settings.confidence) / 2
    median, low, high, at_least = posterior.median(0.5, tail, 1 - tail, 2 * tail)
    of_low = posterior.fractile(settings.low_fractile, 0.5, tail, 1 - tail)
    (spread,) = posterior.spread(0.5)
    estimated = replace(
        group,
        method=Method.ESTIMATE,
        median_mpa=median,
        low_mpa=low,
        high_mpa=high,
        at_least_mpa=at_least,
        fractile=Interval(mpa=of_low[0], low_mpa=of_low[1], high_mpa=of_low[2]),
        second=second_opinion(evidence, settings.confidence),
        spread=spread,
        weibull_weight=posterior.weibull_weight,
        tentative=group.weight < 2 or median > float(evidence.mpa.max()),
    )
    checked = replace(estimated, disagree=_disagree(estimated))
    remarks = (*checked.remarks, *_estimate_remarks(checked, float(evidence.mpa.max())))
    return Study(group=replace(checked, remarks=remarks), said=said, posterior=posterior)


def _disagree(group: Group) -> bool:
    """Return whether the medians of model and curve lie outside each other's interval."""
    curve, median = group.curve, group.median_mpa
    if curve is None or curve.median_mpa is None or median is None:
        return False
    outside_model = not (group.low_mpa or 0) <= curve.median_mpa <= (group.high_mpa or 0)
    below = curve.low_mpa is not None and median < curve.low_mpa
    above = curve.high_mpa is not None and median > curve.high_mpa
    return outside_model or below or above


def _estimate_remarks(group: Group, highest_mpa: float) -> Iterable[str]:
    if group.weight < 2:
        yield "Fewer than two whole breaks here: the value rests on the model."
    if (group.median_mpa or 0) > highest_mpa:
        yield "The median lies above the highest reading: it is extrapolated."
    if (group.spread or 0) > _WIDE_SPREAD:
        yield "The readings scatter widely: with few pulls the interval may be too short."
    if group.disagree:
        yield "The estimate and the curve without a model disagree: look at the readings."


def _remarks(found: Sorted) -> tuple[str, ...]:
    apart = sum(not pull.film.untouched for pull in found.pulls)
    said = [INDEPENDENCE, PRIOR, SPOTS, NOT_STRUCTURAL]
    if apart:
        said.append(f"{apart} pulls on stripped coats or trial patches are shown apart.")
    if found.left_out:
        said.append(f"{len(found.left_out)} pulls are left out, each with its reason.")
    return tuple(said)
