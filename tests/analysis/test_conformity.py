"""Conformity: a pass or a fail only by a rule, naming results, clause and rule."""

from typing import Any

import pytest
from builders import dossier, make

from workbench.analysis.conformity import (
    Conformity,
    Statement,
    statements_of,
    without_results,
)
from workbench.records import (
    Area,
    CaseEntry,
    Coat,
    DoubtAnswer,
    LabResult,
    Limit,
    Location,
    Measurement,
    PullOff,
    Record,
    Sample,
    Thickness,
)
from workbench.trade.settings import DecisionRule, Settings
from workbench.trade.showing import Showing, System

PLACE = (
    make(Area, ref="A1", system="S"),
    make(Location, ref="L1", area="A1"),
    make(Coat, system="S", order=0, material="concrete"),
    make(Coat, system="S", order=1, material="epoxy", product="Body"),
    make(Sample, ref="S1", at="L1"),
)


def _limit(**said: Any) -> Limit:
    return make(Limit, **{"quantity": "salts", "source_text": "clause 4.2", **said})


def _salts(value: str, ref: str = "M1", **said: Any) -> Measurement:
    return make(Measurement, ref=ref, quantity="salts", value=value, method="f-salts", **said)


def _state(rule: DecisionRule, *records: Record) -> Statement:
    (found,) = statements_of(dossier(*PLACE, *records), Settings(decision_rule=rule))
    return found


def test_without_a_rule_there_is_a_value_and_no_verdict() -> None:
    found = _state(DecisionRule.NOT_CHOSEN, _limit(maximum="50 mg/m2"), _salts("80 mg/m2"))
    assert found.verdict is Conformity.VALUE_ONLY
    assert [one.value for one in found.results] == [80]
    assert all(one.verdict is Conformity.VALUE_ONLY for one in found.results)


def test_a_statement_names_results_clause_and_rule() -> None:
    found = _state(DecisionRule.SIMPLE, _limit(maximum="50 mg/m2"), _salts("80 mg/m2"))
    assert found.verdict is Conformity.FAIL
    assert [str(one.source) for one in found.failed] == ["measurement M1"]
    assert (found.clause, found.rule, found.asked) == ("clause 4.2", "simple", "at most 50 mg/m²")
    assert found.why == "1 of 1 results"


def test_one_failing_result_decides() -> None:
    records = (_limit(maximum="50 mg/m2"), _salts("20 mg/m2"), _salts("60 mg/m2", "M2"))
    found = _state(DecisionRule.SIMPLE, *records)
    assert found.verdict is Conformity.FAIL
    assert found.why == "1 of 2 results"


@pytest.mark.parametrize(
    ("value", "verdict"), [("50 mg/m2", Conformity.MET), ("50.1 mg/m2", Conformity.FAIL)]
)
def test_simple_acceptance_takes_the_limit_itself(value: str, verdict: Conformity) -> None:
    assert _state(DecisionRule.SIMPLE, _limit(maximum="50 mg/m2"), _salts(value)).verdict is verdict


def test_units_are_converted_to_that_of_the_limit() -> None:
    found = _state(DecisionRule.SIMPLE, _limit(maximum="50 mg/m2"), _salts("6 ug/cm2"))
    assert found.results[0].value == 60
    assert found.verdict is Conformity.FAIL


@pytest.mark.parametrize(
    ("value", "qualifier", "verdict"),
    [
        ("60 mg/m2", "<", Conformity.UNDECIDED),
        ("40 mg/m2", "<", Conformity.MET),
        ("60 mg/m2", ">", Conformity.FAIL),
        ("40 mg/m2", ">", Conformity.UNDECIDED),
    ],
)
def test_a_bound_decides_only_on_its_own_side(
    value: str, qualifier: str, verdict: Conformity
) -> None:
    salts = _salts(value, qualifier=qualifier)
    assert _state(DecisionRule.SIMPLE, _limit(maximum="50 mg/m2"), salts).verdict is verdict


@pytest.mark.parametrize(
    ("value", "verdict"),
    [
        ("44 degC", Conformity.FAIL),
        ("49 degC", Conformity.UNDECIDED),
        ("51 degC", Conformity.UNDECIDED),
        ("53 degC", Conformity.MET),
    ],
)
def test_a_guard_band_leaves_what_lies_within_the_uncertainty(
    value: str, verdict: Conformity
) -> None:
    """Limit 50 °C, U 2 K: from 52 a pass, below 48 a fail (ILAC-G8, from memory)."""
    limit = _limit(quantity="tg_first", minimum="50 degC")
    result = make(LabResult, quantity="tg_first", value=value, uncertainty="2 K")
    assert _state(DecisionRule.GUARD_BAND, limit, result).verdict is verdict


def test_a_guard_band_without_an_uncertainty_decides_nothing() -> None:
    found = _state(DecisionRule.GUARD_BAND, _limit(maximum="50 mg/m2"), _salts("80 mg/m2"))
    assert found.verdict is Conformity.UNDECIDED


PULL: dict[str, Any] = {"method": "ASTM D7234", "fixture": "50 mm", "cut_round": "yes"}


def _pulls(*readings: tuple[str, str]) -> list[PullOff]:
    return [
        make(PullOff, ref=f"P{at}", reading=reading, breaks=breaks, **PULL)
        for at, (reading, breaks) in enumerate(readings, 1)
    ]


BOND = _limit(quantity="pull_off", method="ASTM D7234", minimum="1.5 MPa")


def test_as_specified_takes_the_mean_of_each_area() -> None:
    pulls = _pulls(("1.6 MPa", "B 100"), ("1.4 MPa", "B 100"), ("1.7 MPa", "B 100"))
    found = _state(DecisionRule.AS_SPECIFIED, BOND, *pulls)
    assert found.verdict is Conformity.MET
    assert found.why == "A1 mean 1.57 MPa of 3, pass; 3 tests are asked for in each area"
    assert _state(DecisionRule.SIMPLE, BOND, *pulls).verdict is Conformity.FAIL


def test_glue_breaks_leave_too_few_for_a_mean() -> None:
    pulls = _pulls(("1.4 MPa", "B 100"), ("1.6 MPa", "B 100"), ("1.3 MPa", "Y 100"))
    found = _state(DecisionRule.AS_SPECIFIED, BOND, *pulls)
    assert found.verdict is Conformity.UNDECIDED
    assert "of 2, not decided; 3 tests are asked for" in found.why


def test_a_glue_break_above_the_limit_passes_by_itself() -> None:
    """At least 2 MPa is above 1.5 MPa, whatever the coating would have held."""
    found = _state(DecisionRule.SIMPLE, BOND, *_pulls(("2.0 MPa", "Y 100")))
    assert found.verdict is Conformity.MET
    below = _state(DecisionRule.SIMPLE, BOND, *_pulls(("1.0 MPa", "Y 100")))
    assert below.verdict is Conformity.UNDECIDED


def test_a_coating_that_came_away_fails() -> None:
    gone = make(PullOff, ref="P9", came_away="yes", breaks="B 100", **PULL)
    assert _state(DecisionRule.SIMPLE, BOND, gone).verdict is Conformity.FAIL


def test_a_reading_in_doubt_counts_until_a_person_sets_it_aside() -> None:
    uncut = make(PullOff, ref="P1", reading="0.5 MPa", breaks="B 100",
                 **{**PULL, "cut_round": "no"})  # fmt: skip
    thick = make(Thickness, method="ultrasonic", readings="900; 910; 920")
    waiting = _state(DecisionRule.SIMPLE, BOND, uncut, thick)
    assert waiting.results[0].in_doubt == "not cut round the fixture"
    assert str(waiting.verdict) == "fail"
    assert "1 in doubt, not cut round the fixture" in waiting.spread(Showing())
    answer = make(DoubtAnswer, about="pull_off P1", rule="not cut round the fixture",
                  effect="set aside", reason="the cut was forgotten", by="A. Reed")  # fmt: skip
    decided = _state(DecisionRule.SIMPLE, BOND, uncut, thick, answer)
    assert [one.why_not for one in decided.results][:1] == ["set aside, as was answered to a doubt"]
    assert decided.said.startswith("not decided")


def test_a_mean_of_a_spot_says_what_readings_lie_behind_it() -> None:
    limit = _limit(quantity="dft_total", minimum="450 um")
    spot = make(Thickness, layer="total", readings="430; 445; 470; 520; 418", unit="um")
    found = _state(DecisionRule.SIMPLE, limit, spot)
    assert found.results[0].singles == (418.0, 520.0)
    assert "means of spots, with single readings of 418 to 520 µm" in found.spread(Showing())


def test_a_limit_without_a_result_is_told() -> None:
    bare, held = _limit(quantity="thinner_percent", maximum="5 %"), _limit(maximum="50 mg/m2")
    records = dossier(*PLACE, bare, held, _salts("20 mg/m2"))
    assert without_results(records, statements_of(records)) == (bare,)


def test_a_trial_patch_never_counts() -> None:
    patch = make(PullOff, ref="P1", reading="0.5 MPa", breaks="B 100", treatment="abraded", **PULL)
    assert statements_of(dossier(*PLACE, BOND, patch)) == ()


@pytest.mark.parametrize(
    ("applies_to", "holds"),
    [("", True), ("A1", True), ("S", True), ("S:1", True), ("Body", True), ("A2", False)],
)
def test_a_limit_holds_where_it_says(applies_to: str, holds: bool) -> None:
    records = (_limit(maximum="50 mg/m2", applies_to=applies_to), _salts("80 mg/m2"))
    assert bool(statements_of(dossier(*PLACE, *records))) is holds


def test_a_limit_by_a_method_holds_for_no_other() -> None:
    records = (_limit(maximum="50 mg/m2", method="l-ic"), _salts("80 mg/m2"))
    assert statements_of(dossier(*PLACE, *records)) == ()


def test_conductivity_is_never_held_against_a_limit_of_chloride() -> None:
    records = (_limit(quantity="chloride", maximum="5 ug/cm2"), _salts("80 mg/m2"))
    assert statements_of(dossier(*PLACE, *records)) == ()


def test_a_word_is_no_number_and_says_so() -> None:
    found = _state(DecisionRule.SIMPLE, _limit(maximum="50 mg/m2"), _salts("present"))
    assert found.results[0].why_not == "“present” is no number in mg/m2"
    assert found.verdict is Conformity.UNDECIDED


def test_the_total_thickness_against_its_limit() -> None:
    limit = _limit(quantity="dft_total", minimum="16 mil")
    thin = make(Thickness, method="ultrasonic", readings="390; 395; 400")
    found = _state(DecisionRule.SIMPLE, limit, thin)
    assert found.results[0].value == pytest.approx(395 / 25.4)
    assert found.verdict is Conformity.FAIL


def test_the_rule_of_the_case_holds_and_the_words_are_in_its_units() -> None:
    rule = make(CaseEntry, key="setting decision_rule", value="simple")
    held = dossier(*PLACE, rule, _limit(maximum="50 mg/m2"), _salts("80 mg/m2"))
    (found,) = statements_of(held, showing=Showing(System.US))
    assert found.rule is DecisionRule.SIMPLE
    assert found.asked == "at most 5.0 µg/cm²"
