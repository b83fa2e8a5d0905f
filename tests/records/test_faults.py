"""What a record refuses of itself, whatever the rest of the case says."""

import pytest
from builders import make

from workbench.records import (
    Application,
    AreaEvent,
    Coat,
    Instrument,
    LabResult,
    Limit,
    Measurement,
    PullOff,
    RecoatWindow,
    Record,
    Sample,
    SitePlan,
    SurveyEntry,
    Thickness,
    Weather,
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
        (make(SurveyEntry, looked_at=12), "count"),
        (make(PullOff, reading="-1 MPa"), "reading"),
        (make(PullOff, reading="1234.5 MPa"), "reading"),
        (make(RecoatWindow, product="P", min_interval="1e9 h"), "min_interval"),
        (make(PullOff, fixture="0 mm"), "fixture"),
        (make(PullOff, breaks="B 60; Y 37"), "breaks"),
        (make(PullOff, cut_round="positive"), "cut_round"),
        (make(Thickness, layer="top"), "layer"),
        (make(Thickness, readings="-2; 100"), "readings"),
        (make(Thickness, readings="mean -5; n 3"), "readings"),
        (make(Sample, parent="S1"), "parent"),
        (make(Sample, amount="-1 g"), "amount"),
        (make(Application, humidity="820 %"), "humidity"),
        (make(Application, air="540 degC"), "air"),
        (make(Application, air="540 degF"), "air"),
        (make(Application, surface="-80 degC"), "surface"),
        (make(Application, start="2025-04-02 14:00", end="2025-04-02 09:00"), "end"),
        (make(Application, start="2025-04-02", end="2025-04-01 17:00"), "end"),
        (make(Weather, time="2025-04-02", humidity="-1 %"), "humidity"),
        (make(Coat, volume_solids="620 %"), "volume_solids"),
        (make(Coat, apply_max="1000 degC"), "apply_max"),
        (make(RecoatWindow, product="P", at_temperature="820 degC"), "at_temperature"),
        (make(RecoatWindow, product="P", max_interval="-4 h"), "max_interval"),
        (make(AreaEvent, event="immersed", start="2025-06", end="2025-05"), "end"),
        (make(Instrument, ref="I", kind="tester", calibrated="2026-03", due="2025-03"), "due"),
        (make(Measurement, value="71 pH"), "value"),
        (make(LabResult, quantity="tg_first", value="5800 degC"), "value"),
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
        make(SurveyEntry, count=0, looked_at=12),
        make(SurveyEntry, extent="5 %", looked_at=12),
        make(PullOff, reading="0 MPa", fixture="20 mm", breaks="B 60; ? 40"),
        make(Thickness, layer="2"),
        make(Sample, amount="0 g"),
        make(Application, air="54 degF", surface="285 K", humidity="100 %", wet_bulb="9 degC"),
        make(Application, start="2025-04-02", end="2025-04-02"),
        make(Application, start="2025-04-02", end="2025-04-02 09:00"),
        make(Application, start="2025-04-02 14:00", end="2025-04-02 13:30+00:00"),
        make(RecoatWindow, product="P", at_temperature="-5 degC", max_interval="none"),
        make(Measurement, value="14 pH"),
        make(LabResult, quantity="tg_first", value="330 K"),
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
