"""The strength of every plane in every condition."""

from typing import Any

import numpy as np
import pytest
from builders import dossier, make
from hypothesis import given, settings
from hypothesis import strategies as st

from workbench.analysis.strength import (
    Method,
    StrengthResult,
    StrengthSettings,
    strength_by_plane,
)
from workbench.analysis.strength.bounds import lower_bound
from workbench.analysis.strength.evidence import Evidence
from workbench.analysis.strength.posterior import posterior_of
from workbench.analysis.strength.study import ends_of_median
from workbench.analysis.strength.words import bound_words
from workbench.records import Area, Coat, Location, Plane, PullOff, Record
from workbench.records.codes import Condition
from workbench.trade.showing import Showing

FAILING, SOUND = Condition.FAILING, Condition.NON_FAILING
STACK = (
    make(Coat, order=0, material="concrete", product="Slab"),
    make(Coat, order=1, product="Primer"),
    make(Coat, order=2, product="Finish"),
)
PLACES = (
    make(Area, ref="A1", condition="failing", system="S"),
    make(Area, ref="A2", condition="non-failing", system="S"),
    make(Location, ref="A1", area="A1"),
    make(Location, ref="A2", area="A2"),
)


def pulls(location: str, *read: tuple[str, str], **said: Any) -> list[Record]:
    return [
        make(
            PullOff, ref=f"{location}-{at}{said.get('treatment', '')}", location=location,
            fixture="20 mm", breaks=breaks,
            **(({"came_away": "yes"} if mpa == "" else {"reading": f"{mpa} MPa"}) | said),
        )
        for at, (mpa, breaks) in enumerate(read)
    ]  # fmt: skip


def strength(*records: list[Record], **settings: Any) -> StrengthResult:
    every = (record for group in records for record in group)
    return strength_by_plane(dossier(*PLACES, *STACK, *every), StrengthSettings(**settings))


def test_every_plane_of_the_stack_has_a_group_and_no_letter_stands_alone() -> None:
    found = strength(pulls("A1", *[("2.1", "B/C 100")] * 3))
    assert [str(group.plane) for group in found.groups] == ["A", "A/B", "B", "B/C", "C"]
    assert found.groups[3].plane_name == "B/C, Primer to Finish"


def test_a_golden_case_comes_out_of_records_as_it_went_in() -> None:
    read = (("2.1", "B/C 100"), ("2.6", "A 100"), ("1.8", "B/C 100"), ("3.0", "Y 100"),
            ("2.4", "B/C 100"))  # fmt: skip
    group = strength(pulls("A1", *read)).group(FAILING, Plane("B/C"))
    assert group is not None
    assert (group.n, group.broke_here, group.at_least, group.at_most) == (5, 3, 2, 0)
    assert group.method is Method.ESTIMATE
    found = (group.median_mpa, group.low_mpa, group.high_mpa, group.at_least_mpa)
    assert found == pytest.approx((2.6107, 1.8233, 4.4786, 1.966), rel=0.002)
    assert [source.label for source in group.sources] == [f"A1-{at}" for at in range(5)]


def test_a_glue_break_is_a_lower_bound() -> None:
    found = strength(pulls("A1", *[("2.0", "Y 100")] * 5)).group(FAILING, Plane("A/B"))
    assert found is not None
    assert found.method is Method.LOWER_BOUND
    assert found.median_mpa is None
    assert found.high_mpa is None
    assert found.lower_bound is not None
    assert found.lower_bound.sign_mpa == pytest.approx(2.0)
    assert found.low_mpa == pytest.approx(2.0, rel=0.2)
    assert "5 of 5 pulls broke more than 50% in the glue: repeat." in found.remarks


def test_what_holds_whatever_the_law_is_said_with_its_confidence() -> None:
    """Sign test and success run worked by hand: 1 − 0.5³ = 88 %, 0.05^(1/3) = 37 %, ^(1/5) 55 %."""
    read = [(mpa, "Y 100") for mpa in ("2.1", "2.6", "1.8", "3.0", "2.4")]
    three, five = (
        strength(pulls("A1", *some)).group(FAILING, Plane("A/B")) for some in (read[:3], read)
    )
    assert three
    assert five
    assert bound_words(three, Showing()) == (
        "Each of 3 pulls held at least 1.8 MPa. Whatever the law of strength, the median is at "
        "least 1.8 MPa with a confidence of 88 % only, and 37 % of spots or more are stronger than "
        "1.8 MPa (95 %)."
    )
    told = bound_words(five, Showing())
    assert "with 95 % confidence the median is at least 1.8 MPa, and 55 % of spots" in told


def test_readings_that_came_away_pull_the_estimate_down_and_never_count_as_zero() -> None:
    read = [("0.6", "B/C 100"), ("0.9", "B/C 100"), ("0.5", "B/C 100"), ("1.4", "A 100")]
    away = [("", "B/C 100"), ("", "B/C 100")]
    found = strength(pulls("A1", *away, *read)).group(FAILING, Plane("B/C"))
    assert found is not None
    assert (found.n, found.broke_here, found.at_least, found.at_most) == (6, 3, 1, 2)
    assert found.median_mpa == pytest.approx(0.5739, rel=0.002)


def test_other_planes_are_not_held_down_by_what_came_away_elsewhere() -> None:
    found = strength(pulls("A1", *[("", "B/C 100")] * 3, *[("2.4", "A 100")] * 3))
    group = found.group(FAILING, Plane("A"))
    assert group is not None
    assert (group.n, group.broke_here, group.at_most) == (3, 3, 0)


def test_where_all_came_away_there_is_only_an_upper_bound() -> None:
    found = strength(pulls("A1", *[("", "B/C 100")] * 6)).group(FAILING, Plane("B/C"))
    assert found is not None
    assert found.method is Method.UPPER_BOUND
    assert (found.median_mpa, found.low_mpa, found.high_mpa) == (None, None, 0.2)


def test_too_few_pulls_say_so_instead_of_giving_a_number() -> None:
    found = strength(pulls("A1", ("2.0", "A 100"), ("2.2", "A 100"))).group(FAILING, Plane("A"))
    assert found is not None
    assert found.method is Method.TOO_FEW
    assert (found.median_mpa, found.low_mpa, found.high_mpa) == (None, None, None)
    assert "2 pulls say something of this plane; 3 are needed for a number." in found.remarks


def test_a_sliver_of_a_break_gives_a_bound_and_no_estimate_far_above_all_readings() -> None:
    read = [("2.2", "A 95; A/B 5"), ("2.5", "A 100"), ("2.4", "A 100"), ("2.6", "A 100")]
    found = strength(pulls("A1", *read)).group(FAILING, Plane("A/B"))
    none = strength(pulls("A1", *[(mpa, "A 100") for mpa, _ in read])).group(FAILING, Plane("A/B"))
    assert found is not None
    assert none is not None
    assert found.method is Method.LOWER_BOUND
    assert found.low_mpa is not None
    assert none.low_mpa is not None
    assert found.low_mpa <= none.low_mpa


@given(
    st.lists(st.floats(0.5, 20), min_size=3, max_size=12),
    st.floats(0.05, 1.0),
    st.integers(0, 11),
)
@settings(max_examples=40, deadline=None)
def test_a_break_never_raises_a_bound(readings: list[float], share: float, at: int) -> None:
    """As common sense has it: a break here tells less of strength than holding would."""
    broke = np.zeros(len(readings))
    broke[at % len(readings)] = share
    evidence = Evidence.of(readings, broke, np.zeros(len(readings)))
    _, low, _, at_least = ends_of_median(posterior_of(evidence), evidence, 0.95)
    had_held = lower_bound(np.asarray(readings), 0.95).envelope_mpa
    assert max(low, at_least) <= had_held * (1 + 1e-9)
    assert had_held <= max(readings)


def test_one_break_among_high_readings_tells_no_more_than_none() -> None:
    """Eight pulls, one of them broken by half here below the highest: once "≥" above them all."""
    mpa = ("13.1", "12.2", "10.6", "9.4", "12.7", "8.7", "11.2", "12.6")
    read = [(one, "A/B 60; Y 40" if one == "10.6" else "Y 100") for one in mpa]
    found = strength(pulls("A2", *read))
    some, none = (found.group(SOUND, Plane(plane)) for plane in ("A/B", "B"))
    assert some
    assert none
    assert some.extrapolated
    assert some.told_low_mpa
    assert none.told_low_mpa
    assert some.told_low_mpa <= none.told_low_mpa < 13.1


def test_stripped_coats_and_trial_patches_stay_apart() -> None:
    plain = pulls("A1", *[("0.5", "B/C 100")] * 4)
    trial = pulls("A1", *[("2.8", "A 100")] * 4, treatment="abraded")
    found = strength(plain, trial)
    assert found.groups == strength(plain).groups
    assert {str(group.film) for group in found.trials} == {"trial patch, abraded"}
    assert "Shown apart: 4 pulls on stripped coats or trial patches." in found.remarks


def test_the_two_usual_means_stand_beside_the_estimate() -> None:
    read = [("1.0", "B/C 100"), ("2.0", "A 100"), ("4.0", "Y 80; A 20")]
    (group, *_) = strength(pulls("A1", *read)).groups
    assert group.naive.mean_mpa == pytest.approx(7 / 3)
    assert group.naive.mean_without_glue_mpa == pytest.approx(1.5)
    assert (group.naive.n, group.naive.n_without_glue) == (3, 2)


def test_two_populations_in_one_group_are_warned_of() -> None:
    read = [(mpa, "B/C 100") for mpa in ("0.1", "0.1", "0.1", "0.1", "0.1", "0.1")]
    read += [(mpa, "B/C 100") for mpa in ("9", "9.1", "9.2", "9.3", "9.4", "9.5", "9.6")]
    found = strength(pulls("A1", *read)).group(FAILING, Plane("B/C"))
    assert found is not None
    assert found.disagree
    assert any("disagree" in remark for remark in found.remarks)


def test_the_settings_reach_the_numbers_and_are_printed_with_them() -> None:
    read = [("2.1", "A 100"), ("2.6", "A 100"), ("1.8", "A 100")]
    wide, narrow = (
        strength(pulls("A1", *read), confidence=level).groups[0] for level in (0.95, 0.80)
    )
    assert (wide.low_mpa or 0) < (narrow.low_mpa or 0)
    assert strength(pulls("A1", *read), confidence=0.8).settings.confidence == 0.8


def test_a_case_without_pull_offs_gives_no_groups() -> None:
    assert strength().groups == ()


def test_a_weak_plane_is_compared_with_its_bound_where_nothing_broke() -> None:
    weak = pulls("A1", *[(f"0.{at}", "B/C 100") for at in range(3, 9)])
    sound = pulls("A2", *[(f"2.{at}", "A 100") for at in range(3, 9)])
    found = strength(weak, sound)
    (one,) = [c for c in found.comparisons if c.quantity.startswith("strength of B/C")]
    assert (one.one.name, one.other.name) == ("failing", "non-failing")
    assert one.value is None
    assert one.high is not None
    assert one.high < 0.5
    assert one.p == pytest.approx(1 / 924, rel=1e-6)
    assert one.verdict == "described only: 2 areas, 6 needed to speak of chance"


def test_a_plane_whose_readings_stop_early_in_one_group_is_not_made_to_differ() -> None:
    """Exchanging whole readings would call the sound plane different: they stop at 0.8 MPa."""
    weak = pulls("A1", *[(f"0.{at}", "B/C 100") for at in range(3, 9)])
    sound = pulls("A2", *[(f"2.{at}", "A 100") for at in range(3, 9)])
    comparisons = {c.quantity: c for c in strength(weak, sound).comparisons}
    assert "strength of C, within Finish" not in comparisons
    of_a = comparisons["strength of A, within concrete"]
    assert of_a.p is None
    assert of_a.low is not None


def test_comparisons_are_stratified_by_day_where_both_groups_share_days() -> None:
    days = ("2024-05-01", "2024-05-02")
    read = [("1.0", "A 100"), ("1.2", "A 100"), ("1.1", "A 100")]
    records = [
        pulls(place, *[(str(float(mpa) + at + (place == "A2")), b) for mpa, b in read], date=day)
        for at, day in enumerate(days)
        for place in ("A1", "A2")
    ]
    renamed = [
        make(PullOff, ref=f"{group[0].source.label}-{at}-{n}", location=one.location,
             fixture="20 mm", reading=str(one.reading), breaks="A 100", date=str(one.date))
        for at, group in enumerate(records) for n, one in enumerate(group)
        if isinstance(one, PullOff)
    ]  # fmt: skip
    (one,) = strength(list(renamed)).comparisons
    assert one.strata == ("day",)
    assert one.p == pytest.approx(1 / 400, rel=1e-6)
