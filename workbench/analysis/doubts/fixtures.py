"""Doubts about how the fixture of a pull-off was set: size, cut, glue."""

from collections.abc import Iterable
from math import isclose

from workbench.analysis.doubts.ground import Ground
from workbench.analysis.doubts.results import Doubt, Rule
from workbench.analysis.measured import measured
from workbench.records import Effect, Limit, PullOff, Quantity
from workbench.records.codes import Chemistry
from workbench.trade.basis import PRACTICE, Basis, Status
from workbench.trade.methods import Condition
from workbench.trade.pull_off import rescaled
from workbench.trade.showing import HOURS, SIZE

_ELASTIC = frozenset({Chemistry.ELASTOMERIC_ACRYLIC, Chemistry.POLYASPARTIC_POLYUREA})
_SIZE_TOLERANCE = 0.01


def doubts_of_fixtures(ground: Ground) -> Iterable[Doubt]:
    """Return the doubts about how the fixture of each pull-off was set."""
    for pull in ground.pulls:
        for rule in (_cut, _cure, _rescaled, _size):
            yield from rule(ground, pull)


def _cut(ground: Ground, pull: PullOff) -> Iterable[Doubt]:
    always = ground.condition(pull.method, "cut_always")
    if always is not None:
        yield from _cut_into_substrate(ground, pull, always)
        return
    above = ground.condition(pull.method, "cut_above")
    if above is None or above.least is None or (pull.cut_round and pull.cut_round.word != "no"):
        return
    film, elastic = ground.film_um(pull, pull.on), _elastic(ground, pull)
    if not elastic and (film is None or film <= above.least):
        return
    what = f"elastic {elastic}" if elastic else f"film of {ground.showing.thickness(film or 0)}"
    if pull.cut_round:
        effect, said = Effect.SET_ASIDE, "not cut round"
    else:
        effect, said = Effect.NONE, "not recorded whether it was cut round"
    yield Doubt.about(pull, Rule.NOT_CUT_ROUND, f"{said}, {what}", above.basis, effect)


def _cut_into_substrate(ground: Ground, pull: PullOff, asked: Condition) -> Iterable[Doubt]:
    cut = pull.cut_round
    if cut and cut.word == "no":
        words = f"not cut round; {pull.method} asks for a core into the substrate"
        yield Doubt.about(pull, Rule.NOT_CUT_ROUND, words, asked.basis, Effect.SET_ASIDE)
    elif cut and cut.quantity and asked.least is not None:
        depth = measured(cut.quantity, "mm", "mm")
        if depth is not None and depth < asked.least:
            show = ground.showing
            said, least = show.quantity(cut.quantity, "mm"), show.value(SIZE, asked.least)
            words = f"cut {said} deep; {pull.method} asks for {least}"
            yield Doubt.about(pull, Rule.NOT_CUT_ROUND, words, asked.basis)


def _elastic(ground: Ground, pull: PullOff) -> str:
    coats = [coat for coat in ground.coats(pull) if pull.on is None or coat.order <= pull.on]
    return next((coat.product or coat.material for coat in coats if coat.material in _ELASTIC), "")


def _cure(ground: Ground, pull: PullOff) -> Iterable[Doubt]:
    cured = measured(pull.cure, "h", "h")
    if cured is None:
        return
    sheet = next(
        (
            limit
            for limit in ground.dossier.all(Limit)
            if limit.quantity == "glue_cure" and limit.applies_to in {"", pull.glue}
        ),
        None,
    )
    least, basis = ground.settings.glue_cure_h, PRACTICE
    if sheet and (told := measured(sheet.minimum, "h", "h")) is not None:
        least, basis = told, Basis(sheet.source_text, Status.READ)
    if cured < least:
        said = ground.showing.value(HOURS, cured, apart_from=least)
        limit = ground.showing.value(HOURS, least, apart_from=cured)
        yield Doubt.about(pull, Rule.GLUE_CURE, f"glue cured {said}; {limit} asked for", basis)


def _rescaled(ground: Ground, pull: PullOff) -> Iterable[Doubt]:
    used, calibrated = measured(pull.fixture, "mm"), measured(pull.calibrated_for, "mm")
    read = pull.reading is not None and ground.stresses[pull.id].mpa is not None
    if read and used and calibrated and not isclose(used, calibrated):
        size, other = _sizes(ground, pull.fixture, pull.calibrated_for)
        factor = rescaled(1, calibrated, used)
        words = f"gauge calibrated for {other}, used on {size}: reading taken times {factor:.3g}"
        yield Doubt.about(pull, Rule.RESCALED, words, Basis("equal force", Status.COMPUTED))


def _sizes(ground: Ground, *sizes: Quantity | None) -> list[str]:
    return [ground.showing.quantity(size) for size in sizes if size]


def _size(ground: Ground, pull: PullOff) -> Iterable[Doubt]:
    asked = ground.condition(pull.method, "fixture")
    size = measured(pull.fixture, "mm")
    if asked is None or size is None or asked.least is None or asked.most is None:
        return
    inside = asked.least * (1 - _SIZE_TOLERANCE) <= size <= asked.most * (1 + _SIZE_TOLERANCE)
    if not inside:
        (said,) = _sizes(ground, pull.fixture)
        words = f"fixture of {said}; usual for {pull.method}: {_range(ground, asked)}"
        yield Doubt.about(pull, Rule.FIXTURE_SIZE, words, asked.basis)


def _range(ground: Ground, asked: Condition) -> str:
    low, high = (ground.showing.value(SIZE, bound or 0) for bound in (asked.least, asked.most))
    return low if low == high else f"{low} to {high}"
