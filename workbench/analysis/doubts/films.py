"""Doubts about thickness readings and ratings: gauge, number of readings, range, scale."""

from collections.abc import Iterable

from workbench.analysis.doubts.ground import Ground, mean_um
from workbench.analysis.doubts.results import Doubt, Rule
from workbench.records import Effect, Rating, Thickness
from workbench.records.codes import ThicknessMethod
from workbench.trade.basis import Basis
from workbench.trade.methods import Condition, Method
from workbench.trade.units import convert

_STEEL_ONLY = frozenset({"carbon_steel", "galvanised_steel"})


def doubts_of_films(ground: Ground) -> Iterable[Doubt]:
    """Return the doubts about each thickness reading and each rating."""
    for reading in ground.dossier.all(Thickness):
        yield from _gauge(ground, reading)
        yield from _few_readings(ground, reading)
        yield from _range(ground, reading, reading.method, mean_um(reading))
    for rating in ground.dossier.all(Rating):
        yield from _scale(ground, rating)
        yield from _range(ground, rating, rating.method, ground.film_um(rating, rating.on))


def _gauge(ground: Ground, reading: Thickness) -> Iterable[Doubt]:
    """Doubt a magnetic reading on anything but steel, an eddy-current one on anything but metal."""
    if reading.method not in {ThicknessMethod.MAGNETIC, ThicknessMethod.EDDY_CURRENT}:
        return
    asked = ground.condition(reading.method, "substrate")
    below = next((c.material for c in ground.coats(reading) if c.order == 0), "")
    magnetic = reading.method is ThicknessMethod.MAGNETIC
    suits = _STEEL_ONLY if magnetic else frozenset(asked.values if asked else ())
    if asked and below and below not in suits:
        words = f"{reading.method.replace('_', ' ')} gauge over {below.replace('_', ' ')}"
        yield Doubt.about(reading, Rule.GAUGE, words, asked.basis, Effect.SET_ASIDE)


def _few_readings(ground: Ground, reading: Thickness) -> Iterable[Doubt]:
    asked = ground.condition(reading.method, "readings_per_spot")
    number = reading.readings.number
    if asked and asked.least is not None and number is not None and number < asked.least:
        words = f"{number} at the spot; {asked.least:g} make one"
        yield Doubt.about(reading, Rule.FEW_READINGS, words, asked.basis)


def _range(
    ground: Ground, reading: Thickness | Rating, code: str, film_um: float | None
) -> Iterable[Doubt]:
    asked = ground.condition(code, "film")
    if asked is None or film_um is None:
        return
    low, high = _bounds_um(asked)
    if low <= film_um <= high:
        return
    show = ground.showing
    beyond, word = (low, "from") if film_um < low else (high, "up to")
    said, bound = (
        show.thickness(one, apart_from=other)
        for one, other in ((film_um, beyond), (beyond, film_um))
    )
    words = f"film of {said}; {code.replace('_', ' ')} is for films {word} {bound}"
    yield Doubt.about(reading, Rule.FILM_RANGE, words, asked.basis)


def _bounds_um(asked: Condition) -> tuple[float, float]:
    low = convert(asked.least, asked.unit, "um") if asked.least is not None else 0.0
    high = convert(asked.most, asked.unit, "um") if asked.most is not None else float("inf")
    return low, high


def _scale(ground: Ground, rating: Rating) -> Iterable[Doubt]:
    method: Method | None = ground.method(rating.method)
    scale = method.scale if method else None
    if scale and rating.rating.value not in scale.values:
        words = f"{rating.rating.text} is no rating of {rating.method}, {scale.direction}"
        basis = Basis(scale.source, scale.status)
        yield Doubt.about(rating, Rule.OFF_SCALE, words, basis, Effect.SET_ASIDE)
