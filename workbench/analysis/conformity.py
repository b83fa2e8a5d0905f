"""Results against the limits of the case: a pass or a fail only by a decision rule.

A statement names the results, the clause and the rule. Without a rule the values are shown alone.

References:
    A statement of conformity needs a documented decision rule, and names results, specification
    and rule: ISO/IEC 17025, 7.8.6 (READ). Guard bands: ILAC-G8, ISO/IEC Guide 98-4 (from memory).
"""

from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum

from workbench.analysis.counted import decided
from workbench.analysis.doubts import doubts_of, effects_of
from workbench.analysis.limits import holds_at
from workbench.analysis.measured import difference, measured
from workbench.records import (
    Area,
    Dossier,
    Effect,
    LabResult,
    Limit,
    Measurement,
    PullOff,
    Readings,
    Source,
    Thickness,
)
from workbench.records.codes import Qualifier
from workbench.trade.bond_acceptance import Bond, Verdict, accept_bond
from workbench.trade.methods import method
from workbench.trade.pull_off import stress_of
from workbench.trade.settings import DecisionRule, Settings, settings_of
from workbench.trade.showing import STRESS, Showing, kind_of
from workbench.trade.units import UnitError, convert

RULES_IN_WORDS = {
    DecisionRule.NOT_CHOSEN: (
        "No decision rule is chosen for this case, so nothing is said to pass or to fail: whether "
        "a result near a limit meets it depends on the rule."
    ),
    DecisionRule.SIMPLE: (
        "Decision rule chosen for this case: simple acceptance. A result inside its limit passes, "
        "one outside fails; near the limit either may be false with a chance up to one half."
    ),
    DecisionRule.GUARD_BAND: (
        "Decision rule chosen for this case: guard band. A result passes, or fails, only where it "
        "is further from the limit than its expanded uncertainty; without one it is not decided."
    ),
    DecisionRule.AS_SPECIFIED: (
        "Decision rule chosen for this case: that of the method. Pull-offs are judged by the mean "
        "of each area with enough valid tests; what has no rule of its own, each by itself."
    ),
}
"""What each rule does to a result beside its limit; the risk of simple acceptance from memory
(ILAC-G8)."""
_ELSEWHERE = frozenset({"cure_to_service", "thinner_percent", "expected_life"})
"""Limits on the work and on time, which the check of the application answers."""


class Conformity(StrEnum):
    """What may be said of results against a limit."""

    FAIL = "fail"
    UNDECIDED = "not decided"
    VALUE_ONLY = "value only"
    MET = "pass"


@dataclass(frozen=True, slots=True, kw_only=True)
class Result:
    """One result beside the limit.

    Attributes:
        source: The record.
        area: Ref of the area; empty where it has none.
        value: The value, in the unit of the limit; None where it is none.
        at_least: Whether the true value is at least `value`.
        at_most: Whether the true value is at most `value`.
        singles: Lowest and highest of the readings behind a mean; None where it is none.
        uncertainty: Expanded uncertainty in the same unit; None where none is given.
        why_not: Why the result does not count; empty where it does.
        in_doubt: By which rule a careful reader doubts it, while nobody has answered.
        verdict: What the rule says of it.
    """

    source: Source
    area: str
    value: float | None
    at_least: bool = False
    at_most: bool = False
    singles: tuple[float, float] | None = None
    uncertainty: float | None = None
    why_not: str = ""
    in_doubt: str = ""
    verdict: Conformity = Conformity.VALUE_ONLY


@dataclass(frozen=True, slots=True, kw_only=True)
class Statement:
    """What may be said of all results against one limit.

    Attributes:
        limit: The limit.
        quantity: What is limited.
        unit: Unit of the limit, and of the values beside it; empty for a bare number.
        clause: Where the limit stands.
        asked: What is asked for, in words.
        rule: The decision rule.
        verdict: What the rule says of all of them.
        why: Why, in words; empty where there is no rule.
        results: Every result, with those that do not count.
    """

    limit: Source
    quantity: str
    unit: str
    clause: str
    asked: str
    rule: DecisionRule
    verdict: Conformity
    why: str
    results: tuple[Result, ...]

    @property
    def failed(self) -> tuple[Result, ...]:
        """The results that fail by themselves."""
        return tuple(one for one in self.results if one.verdict is Conformity.FAIL)

    @property
    def counted(self) -> tuple[Result, ...]:
        """The results that count and are a number."""
        return tuple(one for one in self.results if one.value is not None and not one.why_not)

    def spread(self, showing: Showing) -> str:
        """Return how many results there are and from where to where they lie, in words."""
        held = self.counted
        aside = len(self.results) - len(held)
        if not held:
            return f"none that counts; {aside} set aside"
        least, most = sum(one.at_least for one in held), sum(one.at_most for one in held)
        number = "1 result" if len(held) == 1 else f"{len(held)} results"
        parts = [f"{number}, {self._from_to(showing)}"]
        parts += self._of_singles(showing)
        parts += [f"{least} of them “at least”"] if least else []
        parts += [f"{most} “at most”"] if most else []
        doubts = Counter(one.in_doubt for one in held if one.in_doubt)
        parts += [f"{number} in doubt, {rule}" for rule, number in doubts.items()]
        parts += [f"{aside} more do not count"] if aside else []
        return "; ".join(parts)

    def _of_singles(self, showing: Showing) -> list[str]:
        """Return what means of spots hide: the span of the readings behind them."""
        pairs = [one.singles for one in self.counted if one.singles]
        if not pairs:
            return []
        low, high = min(low for low, _ in pairs), max(high for _, high in pairs)
        return [f"means of spots, with single readings of {showing.span(low, high, self.unit)}"]

    def _from_to(self, showing: Showing) -> str:
        values = [one.value for one in self.counted if one.value is not None]
        low, high = min(values), max(values)
        if kind_of(self.unit) is not STRESS or low == high:
            return showing.span(low, high, self.unit)
        return " to ".join(showing.stress(convert(v, self.unit, "MPa")) for v in (low, high))

    @property
    def said(self) -> str:
        """What may be said, with its reason: "fail: 3 of 12 results"."""
        return f"{self.verdict}: {self.why}" if self.why else str(self.verdict)


def statements_of(
    dossier: Dossier, settings: Settings | None = None, *, showing: Showing | None = None
) -> tuple[Statement, ...]:
    """Return a statement for every limit of the case that has results.

    Args:
        dossier: The case.
        settings: Choices, the decision rule among them; those of the case where none are given.
        showing: Units of the words; SI where none is given.
    """
    chosen, show = settings or settings_of(dossier), showing or Showing()
    doubts = doubts_of(dossier, chosen)
    answers = {source: one.effect for source, one in decided(dossier).items()}
    effects = {**effects_of(doubts), **answers}
    open_rules = {one.source: str(one.rule) for one in doubts if one.waits}
    found = []
    for limit in dossier.all(Limit):
        if limit.quantity in _ELSEWHERE:
            continue
        results = tuple(
            replace(one, in_doubt=open_rules.get(one.source, ""))
            for one in _results(dossier, limit, chosen, effects)
        )
        if results:
            found.append(_statement(limit, results, chosen.decision_rule, show))
    return tuple(found)


def without_results(dossier: Dossier, found: Iterable[Statement]) -> tuple[Limit, ...]:
    """Return the limits of a case that no statement is about.

    Nothing was measured beside them, or they limit the work, which the check of the application
    answers.
    """
    stated = {one.limit for one in found}
    return tuple(one for one in dossier.all(Limit) if one.source not in stated)


def _statement(
    limit: Limit, results: tuple[Result, ...], rule: DecisionRule, showing: Showing
) -> Statement:
    judged = tuple(_judged(one, limit, rule) for one in results)
    verdict, why = _RULES[rule](limit, judged)
    return Statement(
        limit=limit.source,
        quantity=limit.quantity,
        unit=_unit(limit),
        clause=limit.source_text,
        asked=asked_of(limit, showing),
        rule=rule,
        verdict=verdict,
        why=why,
        results=judged,
    )


def asked_of(limit: Limit, showing: Showing) -> str:
    """Return what a limit asks for, in words: "at least 1.5 MPa"."""
    least = f"at least {showing.quantity(limit.minimum)}" if limit.minimum else ""
    most = f"at most {showing.quantity(limit.maximum)}" if limit.maximum else ""
    return " and ".join(filter(None, (least, most)))


def _judged(result: Result, limit: Limit, rule: DecisionRule) -> Result:
    if rule is DecisionRule.NOT_CHOSEN or result.why_not:
        return result
    return replace(result, verdict=_of_one(result, limit, rule))


def _of_one(result: Result, limit: Limit, rule: DecisionRule) -> Conformity:
    """Return what a rule says of one result."""
    if result.value is None:
        return Conformity.VALUE_ONLY
    band = 0.0
    if rule is DecisionRule.GUARD_BAND:
        if result.uncertainty is None:
            return Conformity.UNDECIDED
        band = result.uncertainty
    sides = []
    if limit.minimum is not None:
        sides.append((result.value - limit.minimum.value, result.at_most, result.at_least))
    if limit.maximum is not None:
        sides.append((limit.maximum.value - result.value, result.at_least, result.at_most))
    return _worst(_of_side(*side, band) for side in sides)


def _of_side(room: float, may_be_worse: bool, may_be_better: bool, band: float) -> Conformity:
    """Return the verdict on one side of a limit, with so much room inside it."""
    if room >= band and not may_be_worse:
        return Conformity.MET
    if room < -band and not may_be_better:
        return Conformity.FAIL
    return Conformity.UNDECIDED


def _worst(verdicts: Iterable[Conformity]) -> Conformity:
    held = set(verdicts)
    return next(verdict for verdict in Conformity if verdict in held)


def _none(limit: Limit, results: tuple[Result, ...]) -> tuple[Conformity, str]:  # noqa: ARG001
    return Conformity.VALUE_ONLY, ""


def _each(limit: Limit, results: tuple[Result, ...]) -> tuple[Conformity, str]:  # noqa: ARG001
    """Every result is judged by itself, and the worst decides."""
    counted = [one for one in results if not one.why_not]
    if not counted:
        return Conformity.UNDECIDED, "no result counts"
    verdict = _worst(one.verdict for one in counted)
    number = sum(one.verdict is verdict for one in counted)
    lack = "; no uncertainty is recorded" if any(map(_lacks_uncertainty, counted)) else ""
    return verdict, f"{number} of {len(counted)} results{lack}"


def _lacks_uncertainty(one: Result) -> bool:
    """Return whether a result is undecided only since nobody says how uncertain it is."""
    bound = one.at_least or one.at_most or one.value is None
    return one.verdict is Conformity.UNDECIDED and one.uncertainty is None and not bound


def _specified(limit: Limit, results: tuple[Result, ...]) -> tuple[Conformity, str]:
    """The rule of the method: for pull-offs the mean of each area, with enough valid results."""
    if limit.quantity != "pull_off" or limit.minimum is None:
        return _each(limit, results)
    by_area: dict[str, list[Result]] = {}
    for one in results:
        by_area.setdefault(one.area, []).append(one)
    found = method(limit.method)
    needed = found.tests.least if found else 3
    said, verdicts = [], []
    for ref, held in by_area.items():
        valid = {str(one.source): one.value for one in held if not (one.why_not or one.at_least)}
        bond = accept_bond(valid, Bond(limit.minimum.value, 0.0), needed)
        verdict = _BOND[bond.verdict]
        if verdict is Conformity.MET and any(one.at_most for one in held):
            verdict = Conformity.UNDECIDED
        verdicts.append(verdict)
        mean = "no mean" if bond.mean is None else f"mean {bond.mean:.2f} {limit.minimum.unit}"
        said.append(f"{ref} {mean} of {len(bond.valid)}, {verdict}")
    return _worst(verdicts), f"{'; '.join(said)}; {needed} tests are asked for in each area"


_BOND = {
    Verdict.PASSED: Conformity.MET,
    Verdict.FAILED: Conformity.FAIL,
    Verdict.INCOMPLETE: Conformity.UNDECIDED,
}
_RULES: Mapping[DecisionRule, Callable[[Limit, tuple[Result, ...]], tuple[Conformity, str]]] = {
    DecisionRule.NOT_CHOSEN: _none,
    DecisionRule.SIMPLE: _each,
    DecisionRule.GUARD_BAND: _each,
    DecisionRule.AS_SPECIFIED: _specified,
}


def _results(
    dossier: Dossier, limit: Limit, settings: Settings, effects: Mapping[Source, Effect]
) -> Iterable[Result]:
    unit = _unit(limit)
    if limit.quantity == "pull_off":
        yield from _pull_offs(dossier, limit, settings, effects)
    elif limit.quantity == "dft_total":
        yield from _totals(dossier, limit, unit, effects)
    records: list[Measurement | LabResult] = [*dossier.all(Measurement), *dossier.all(LabResult)]
    for record in records:
        area = dossier.area_of(record)
        same = record.quantity == limit.quantity and limit.method in {"", record.method}
        if same and holds_at(dossier, limit, area):
            yield _measured(record, area, unit, effects)


def _unit(limit: Limit) -> str:
    bound = limit.minimum or limit.maximum
    return bound.unit if bound else ""


def _pull_offs(
    dossier: Dossier, limit: Limit, settings: Settings, effects: Mapping[Source, Effect]
) -> Iterable[Result]:
    for pull in dossier.all(PullOff):
        area = dossier.area_of(pull)
        touched = dossier.treatment_of(pull) is not None or pull.on is not None
        if touched or limit.method not in {"", pull.method} or not holds_at(dossier, limit, area):
            continue
        stress = stress_of(pull, smallest_readable_mpa=settings.smallest_readable_mpa)
        effect = effects.get(pull.source, Effect.NONE)
        value = None if stress.mpa is None else convert(stress.mpa, "MPa", _unit(limit) or "MPa")
        yield Result(
            source=pull.source,
            area=area.ref if area else "",
            value=value,
            at_least=effect is Effect.LOWER_BOUND,
            at_most=stress.at_most,
            why_not=stress.why_not or _set_aside(effect),
        )


def _totals(
    dossier: Dossier, limit: Limit, unit: str, effects: Mapping[Source, Effect]
) -> Iterable[Result]:
    for record in dossier.all(Thickness):
        area = dossier.area_of(record)
        if record.order is None and holds_at(dossier, limit, area):
            effect = effects.get(record.source, Effect.NONE)
            value, singles, why = None, None, _set_aside(effect)
            read = record.readings
            try:
                value = convert(read.average, record.unit, unit or "um")
                singles = _singles(read, record.unit, unit or "um")
            except UnitError as wrong:
                why = str(wrong)
            yield Result(
                source=record.source, area=area.ref if area else "", value=value,
                singles=singles, why_not=why,
            )  # fmt: skip


def _singles(readings: Readings, unit: str, wanted: str) -> tuple[float, float] | None:
    """Return the lowest and the highest single reading of a spot; None where it has only one."""
    low, high = readings.smallest, readings.largest
    if low is None or high is None or low == high:
        return None
    return convert(low, unit, wanted), convert(high, unit, wanted)


def _measured(
    record: Measurement | LabResult,
    area: Area | None,
    unit: str,
    effects: Mapping[Source, Effect],
) -> Result:
    quantity = record.value.quantity
    value = measured(quantity, unit, unit) if quantity and unit else record.value.value
    why = _set_aside(effects.get(record.source, Effect.NONE))
    if value is None and not why:
        why = f"“{record.value}” is no number in {unit}" if unit else f"“{record.value}”"
    given = record.uncertainty if isinstance(record, LabResult) else None
    return Result(
        source=record.source,
        area=area.ref if area else "",
        value=value,
        at_least=record.qualifier is Qualifier.ABOVE,
        at_most=record.qualifier is Qualifier.BELOW,
        uncertainty=difference(given, unit, unit) if unit else None,
        why_not=why,
    )


def _set_aside(effect: Effect) -> str:
    return "set aside, as was answered to a doubt" if effect is Effect.SET_ASIDE else ""
