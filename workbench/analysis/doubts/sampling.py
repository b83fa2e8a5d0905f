"""Doubts about readings taken together: too few of them, or not of one kind."""

from collections import Counter
from collections.abc import Iterable
from statistics import median

from workbench.analysis.doubts.ground import Ground, grouped
from workbench.analysis.doubts.results import Doubt, Rule
from workbench.records import Dossier, Measurement, PullOff
from workbench.records.codes import Condition
from workbench.trade.basis import PRACTICE
from workbench.trade.names import quantity_name
from workbench.trade.showing import STRESS_RATE
from workbench.trade.units import convert

_CONTRASTED = frozenset(
    {"ph_face", "moisture", "rh_in_slab", "emission", "chloride", "salts", "water_drop",
     "amine_swab"}
)  # fmt: skip
"""Quantities that say little of a failure unless they are read where nothing fails too."""


def doubts_of_sampling(ground: Ground) -> Iterable[Doubt]:
    """Return the doubts about how many readings there are, and whether they go together."""
    yield from _too_few(ground)
    for condition in Condition:
        pulls = [pull for pull in _untouched(ground) if _condition(ground, pull) is condition]
        yield from _pooled_methods(ground, pulls)
        yield from _pooled_rates(ground, pulls)
    yield from _no_contrast(ground.dossier)


def _untouched(ground: Ground) -> list[PullOff]:
    """Return the pull-offs on the film as it was found, all coats on."""
    on_film = (one for one in ground.pulls if ground.dossier.treatment_of(one) is None)
    return [one for one in on_film if _all_coats_on(ground, one)]


def _all_coats_on(ground: Ground, pull: PullOff) -> bool:
    last = max((coat.order for coat in ground.coats(pull)), default=None)
    return pull.on is None or pull.on == last


def _condition(ground: Ground, pull: PullOff) -> Condition:
    area = ground.area(pull)
    return area.condition if area else Condition.UNKNOWN


def _too_few(ground: Ground) -> Iterable[Doubt]:
    placed = [(area, pull) for pull in _untouched(ground) if (area := ground.area(pull))]
    for (ref, code), pairs in grouped(placed, lambda pair: (pair[0].ref, pair[1].method)).items():
        method, valid = ground.method(code), sum(_counts(ground, pull) for _, pull in pairs)
        if method and valid < method.tests.least:
            words = f"{ref}: {valid} valid of {len(pairs)} by {code}, which asks for"
            said = f"{words} {method.tests.words}"
            yield Doubt.about(pairs[0][0], Rule.TOO_FEW, said, method.tests.basis)


def _counts(ground: Ground, pull: PullOff) -> bool:
    """Return whether a pull-off counts as a valid test of its area."""
    glue = pull.breaks.glue if pull.breaks else 0
    has_stress = ground.stresses[pull.id].mpa is not None
    return has_stress and glue <= ground.settings.glue_limit_percent


def _pooled_methods(ground: Ground, pulls: list[PullOff]) -> Iterable[Doubt]:
    """Doubt the fewer of two kinds of reading whose methods load at different rates."""
    kinds = _by_rate(ground, pulls)
    if len(kinds) < 2:
        return
    usual = max(kinds, key=lambda kind: len(kinds[kind]))
    most = kinds.pop(usual)
    for others in kinds.values():
        for pull in others:
            words = f"{pull.method} beside {len(most)} by {most[0].method}, loaded at other rates"
            yield Doubt.about(pull, Rule.POOLED_METHODS, words, PRACTICE)


def _by_rate(ground: Ground, pulls: list[PullOff]) -> dict[float | None, list[PullOff]]:
    """Return pull-offs by the highest rate of stress, in MPa/s, that their methods permit."""
    return grouped(pulls, lambda pull: _top_rate(ground, pull))


def _top_rate(ground: Ground, pull: PullOff) -> float | None:
    asked = ground.condition(pull.method, "rate")
    return convert(asked.most, asked.unit, "MPa/s") if asked and asked.most is not None else None


def _pooled_rates(ground: Ground, pulls: list[PullOff]) -> Iterable[Doubt]:
    """Doubt a reading whose rate is far from the others by methods of the same rate."""
    for alike in _by_rate(ground, pulls).values():
        rates = {pull.id: ground.stresses[pull.id].rate_mpa_s for pull in alike}
        known = [rate for rate in rates.values() if rate]
        middle = median(known) if known else 0.0
        for pull in alike:
            rate = rates[pull.id]
            if rate and max(rate / middle, middle / rate) > ground.settings.rate_ratio:
                said, other = (ground.showing.value(STRESS_RATE, one) for one in (rate, middle))
                words = f"{said}; the others about {other}"
                yield Doubt.about(pull, Rule.POOLED_RATES, words, PRACTICE)


def _no_contrast(dossier: Dossier) -> Iterable[Doubt]:
    read = [one for one in dossier.all(Measurement) if one.quantity in _CONTRASTED]
    seen = Counter((one.quantity, dossier.condition_at(one.location)) for one in read)
    for one in read:
        failing = dossier.condition_at(one.location) is Condition.FAILING
        others = seen[one.quantity, Condition.NON_FAILING] + seen[one.quantity, Condition.CONTROL]
        if failing and not others:
            words = f"{quantity_name(one.quantity)} is read in no non-failing or control area"
            yield Doubt.about(one, Rule.NO_CONTRAST, words, PRACTICE)
