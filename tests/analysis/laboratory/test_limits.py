"""What methods can and cannot tell: each method used by the knowledge has its words."""

import pytest
from bottling_hall import bottling_hall

from workbench.analysis.laboratory.elements import study_elements
from workbench.analysis.laboratory.limits import all_limits, limits_for, limits_of
from workbench.analysis.laboratory.standing import condition_of_sample
from workbench.records import LabResult
from workbench.records.codes import Condition
from workbench.trade.register import register


def test_every_method_of_the_limits_is_one_of_the_register() -> None:
    assert {one.id for one in all_limits()} <= set(register())


def test_every_method_tells_both_what_it_can_and_what_it_cannot() -> None:
    for one in all_limits():
        assert one.can, one.id
        assert one.cannot, one.id
        assert one.status, one.id


@pytest.mark.parametrize(
    ("method", "words"),
    [("l-ftir", "escapes"), ("l-dsc", "cured when it was loaded"), ("l-sem-eds", "overlap")],
)
def test_what_is_most_often_misread_is_said(method: str, words: str) -> None:
    found = limits_of(method)
    assert found is not None
    assert words in " ".join(found.cannot)


def test_methods_used_are_told_once_each_in_one_order() -> None:
    methods = [one.method for one in bottling_hall().all(LabResult)]
    told = [one.id for one in limits_for(methods)]
    assert len(told) == len(set(told))
    assert [one.id for one in limits_for(reversed(methods))] == told


def test_elements_are_held_against_the_control_with_bounds_where_not_detected() -> None:
    study = study_elements(bottling_hall())
    said = {(one.face.sample, one.element): (one.ratio, one.bound) for one in study.ratios}
    assert said["S-01", "Cl"] == (None, "")
    for place, expected, bound in ((("S-02", "Na"), 0.5, "<"), (("S-03", "Si"), 2.2 / 2.1, "=")):
        assert said[place][0] == pytest.approx(expected)
        assert said[place][1] == bound


def test_a_part_stands_for_what_its_parent_stands_for() -> None:
    case = bottling_hall()
    assert condition_of_sample(case, "S-06/1") is Condition.FAILING
    assert condition_of_sample(case, "S-10/1") is Condition.CONTROL
    assert condition_of_sample(case, "S-11") is Condition.UNKNOWN
    assert condition_of_sample(case, "nowhere") is Condition.UNKNOWN
