"""What a record refuses of itself, whatever the rest of the case says."""

import pytest
from builders import make

from workbench.records import (
    Coat,
    Limit,
    PullOff,
    Record,
    Sample,
    SitePlan,
    SurveyEntry,
    Thickness,
)

PLAN = {"file": "plan.png", "x0": "1", "y0": "1", "x1": "9", "y1": "1", "length": "20 m"}
LIMIT = {"quantity": "moisture", "source_text": "data sheet"}


@pytest.mark.parametrize(
    ("record", "field"),
    [
        (make(Coat, order=-1), "order"),
        (make(Coat, order=0, material="epoxy"), "material"),
        (make(Coat, order=2, material="concrete"), "material"),
        (make(Limit, **LIMIT), "minimum"),
        (make(SitePlan, **PLAN | {"x1": "1"}), "x1"),
        (make(SitePlan, **PLAN | {"length": "0 m"}), "length"),
        (make(SurveyEntry, extent="101 %"), "extent"),
        (make(SurveyEntry, count=-1), "count"),
        (make(SurveyEntry, count=3, looked_at=2), "count"),
        (make(PullOff, reading="-1 MPa"), "reading"),
        (make(PullOff, fixture="0 mm"), "fixture"),
        (make(PullOff, breaks="B 60; Y 37"), "breaks"),
        (make(Thickness, layer="top"), "layer"),
        (make(Thickness, readings="-2; 100"), "readings"),
        (make(Thickness, readings="mean -5; n 3"), "readings"),
        (make(Sample, parent="S1"), "parent"),
        (make(Sample, amount="-1 g"), "amount"),
    ],
)
def test_a_record_names_the_field_that_is_at_fault(record: Record, field: str) -> None:
    assert [fault.field for fault in record.faults()] == [field]


@pytest.mark.parametrize(
    "record",
    [
        make(Coat, order=0, material="concrete"),
        make(Coat, order=1, material="bituminous"),
        make(Limit, **LIMIT, maximum="4 %"),
        make(SitePlan, **PLAN),
        make(SurveyEntry, extent="0 %"),
        make(SurveyEntry, count=2, looked_at=2),
        make(PullOff, reading="0 MPa", fixture="20 mm", breaks="B 60; ? 40"),
        make(Thickness, layer="2"),
        make(Sample, amount="0 g"),
    ],
)
def test_a_record_in_order_has_no_faults(record: Record) -> None:
    assert record.faults() == ()


def test_zero_says_looked_for_and_not_found_and_a_blank_says_seen() -> None:
    assert make(SurveyEntry).seen
    assert make(SurveyEntry, count=1).seen
    assert not make(SurveyEntry, extent="0 %").seen
    assert not make(SurveyEntry, count=0).seen


def test_a_thickness_names_the_order_of_its_coat() -> None:
    assert make(Thickness, layer="2").order == 2
    assert make(Thickness, layer="total").order is None


def test_a_number_of_records_is_said_in_words() -> None:
    assert PullOff.counted(1) == "1 pull-off"
    assert PullOff.counted(3) == "3 pull-offs"
    assert Thickness.counted(2) == "2 thickness records"
