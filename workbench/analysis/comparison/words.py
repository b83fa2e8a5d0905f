"""Comparisons in words for a person: who is compared, the effect, and what chance may do."""

import re
from collections.abc import Callable, Iterator

from workbench.analysis.comparison.results import Comparison, Effect, Side
from workbench.records import plain_unit
from workbench.trade.showing import (
    DIFFERENCE,
    PLAIN,
    TEMPERATURE,
    Bound,
    Kind,
    Showing,
    kind_of,
)
from workbench.trade.units import convert, convert_difference


def chance(p: float | None) -> str:
    """Return a p value as text; a dash where there is none."""
    if p is None:
        return "–"
    return "< 0.001" if p < 0.001 else f"{p:.2g}"


def sides(one: Comparison) -> str:
    """Return who is compared: "failing, non-failing"."""
    return f"{one.one.name}, {one.other.name}"


def effect(one: Comparison, showing: Showing) -> str:
    """Return the effect with its interval; "–" where the data give none."""
    shift = one.effect is Effect.SHIFT
    kind, move = _kind(one.unit if shift else "", difference=True)
    ends = (one.value, one.low, one.high)
    value, low, high = (None if end is None else move(end) for end in ends)
    if value is not None:
        return showing.value(kind, value, low=low, high=high)
    if high is not None:
        return showing.value(kind, high, bound=Bound.AT_MOST)
    return showing.value(kind, low, bound=Bound.AT_LEAST) if low is not None else "–"


_NAMES = {"ratio of medians": "ratio", "difference (Hodges-Lehmann)": "difference",
          "dominance (Cliff's delta)": "dominance"}  # fmt: skip


def in_brief(one: Comparison, showing: Showing) -> tuple[str, str]:
    """Return the effect with its name, and what may be said of chance, for a table."""
    found, name = effect(one, showing), str(one.effect)
    named = found if found == "–" else f"{_NAMES.get(name, name)} {found}"
    verdict = re.sub(r" after correction for \d+ comparisons", "", one.verdict)
    return named, verdict.partition(":")[0]


def told(one: Comparison, showing: Showing) -> Iterator[str]:
    """Yield all that is said of a comparison, sentence by sentence."""
    yield f"{_side(one.one, one, showing)}; {_side(one.other, one, showing)}."
    found = effect(one, showing)
    if found != "–":
        percent = f"{100 * one.confidence:.0f} %"
        ends = one.low is not None or one.high is not None
        yield f"{str(one.effect).capitalize()}: {found}{f', {percent} interval' if ends else ''}."
    if one.p is not None:
        within = f", exchanged only within {', '.join(one.strata)}" if one.strata else ""
        yield f"{one.test[:1].upper()}{one.test[1:]}{within}: p {chance(one.p)}."
        if one.looks > 1:
            yield f"Corrected for {one.looks} comparisons (Holm): p {chance(one.p_corrected)}."
    if one.p_areas is not None:
        yield f"With whole areas as the units: p {chance(one.p_areas)}."
    if one.p_logrank is not None:
        yield f"Log-rank test of censored readings: p {chance(one.p_logrank)}."
    yield f"{one.verdict[:1].upper()}{one.verdict[1:]}."


def _side(side: Side, one: Comparison, showing: Showing) -> str:
    said = f"{side.name}: {side.n} readings in {side.areas} areas"
    if side.middle is None:
        return said
    kind, move = _kind(one.unit, difference=False)
    return f"{said}, median {showing.value(kind, move(side.middle))}"


def _as_it_is(value: float) -> float:
    return value


def _kind(unit: str, *, difference: bool) -> tuple[Kind, Callable[[float], float]]:
    """Return what a unit measures, and how a value is brought into the SI unit of that."""
    plain = plain_unit(unit)
    kind = kind_of(plain)
    if kind is None:
        return Kind(unit, unit, PLAIN.steps), _as_it_is
    if difference and kind is TEMPERATURE:
        return DIFFERENCE, lambda value: convert_difference(value, plain, DIFFERENCE.si)
    return kind, lambda value: convert(value, plain, kind.si)
