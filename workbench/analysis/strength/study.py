"""One plane in one condition: estimate, bound, or too few pulls for either."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from workbench.analysis.strength.bounds import envelope, lower_bound, upper_bound
from workbench.analysis.strength.curve import curve_of
from workbench.analysis.strength.evidence import Evidence, Said
from workbench.analysis.strength.likelihood import second_opinion
from workbench.analysis.strength.posterior import Posterior, posterior_of
from workbench.analysis.strength.results import Group, Interval, Method, StrengthSettings

_MOST_CAME_AWAY = 0.7
"""Share of came-aways from which an estimate would be the prior's, not the data's."""
_WIDE_SPREAD = 0.6
"""Spread above which intervals of few pulls cover less than they say (simulated)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Study:
    """One group with what it rests on: its evidence, and the posterior where there is one."""

    group: Group
    said: Said
    posterior: Posterior | None = None


def study(blank: Group, said: Said, settings: StrengthSettings) -> Study:
    """Return `blank` filled in with what the pulls say of its plane."""
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
        remarks=_remarks_of_pulls(said, settings),
        sources=said.sources,
    )
    if counted.n < settings.fewest_pulls:
        return Study(group=_too_few(counted, settings), said=said)
    if not broke and not came_away:
        return Study(group=_held(counted, said, settings), said=said)
    if came_away >= _MOST_CAME_AWAY * counted.n:
        return Study(group=_came_away(counted, said, settings), said=said)
    if not came_away and evidence.weight < settings.least_broken:
        return Study(group=_hardly_broke(counted, said, settings), said=said)
    return _estimated(counted, said, settings)


def _remarks_of_pulls(said: Said, settings: StrengthSettings) -> tuple[str, ...]:
    remarks = []
    if mostly := sum(pull.glue > settings.glue_repeat for pull in said.pulls):
        share = f"more than {settings.glue_repeat:.0%} in the glue"
        remarks.append(f"{mostly} of {len(said.pulls)} pulls broke {share}: repeat.")
    if len(methods := sorted({pull.method for pull in said.pulls})) > 1:
        remarks.append(f"Pulled to {' and '.join(methods)}, which differ in rate and fixture.")
    return tuple(remarks)


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


def _hardly_broke(group: Group, said: Said, settings: StrengthSettings) -> Group:
    """Return the lower of two bounds: as if nothing had broken here, and as if enough had."""
    _, _, _, bound = ends_of_median(posterior_of(said.evidence), said.evidence, settings.confidence)
    least = f"less than {settings.least_broken:g} of a face"
    words = f"In all pulls together {least} broke here: a lower bound, no estimate."
    return replace(
        group,
        method=Method.LOWER_BOUND,
        low_mpa=bound,
        at_least_mpa=bound,
        remarks=(*group.remarks, words),
    )


def ends_of_median(
    posterior: Posterior, evidence: Evidence, confidence: float
) -> tuple[float, float, float, float]:
    """Return median, lower and upper end of its interval, and one-sided lower limit, in MPa.

    No lower end is above the bound that the same readings would give had nothing broken here: a
    break never raises what is told, and no lower end lies above the highest reading.
    """
    tail = (1 - confidence) / 2
    median, low, high, at_least = posterior.median(0.5, tail, 1 - tail, 2 * tail)
    had_none_broken = envelope(evidence.mpa, confidence)
    return median, min(low, had_none_broken), high, min(at_least, had_none_broken)


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
    median, low, high, at_least = ends_of_median(posterior, evidence, settings.confidence)
    of_low = posterior.fractile(settings.low_fractile, 0.5, tail, 1 - tail)
    (spread,) = posterior.spread(0.5)
    highest = float(evidence.mpa.max())
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
        tentative=group.weight < 2 or median > highest,
        beyond_readings=median > highest,
    )
    checked = replace(estimated, disagree=_disagree(estimated))
    remarks = (*checked.remarks, *_estimate_remarks(checked))
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


def _estimate_remarks(group: Group) -> Iterable[str]:
    if group.weight < 2:
        yield "Fewer than two whole breaks here: the value rests on the model."
    if group.beyond_readings:
        yield "The median lies above the highest reading: it is extrapolated."
    if (group.spread or 0) > _WIDE_SPREAD:
        yield "The readings scatter widely: with few pulls the interval may be too short."
    if group.disagree:
        yield "The estimate and the curve without a model disagree: look at the readings."
