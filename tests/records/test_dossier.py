"""What a dossier answers by itself: where, which layer, which record."""

from datetime import UTC
from zoneinfo import ZoneInfo

from builders import dossier, make

from workbench.records import (
    Area,
    CaseEntry,
    Coat,
    Dossier,
    Location,
    Plane,
    PullOff,
    Sample,
    Source,
    SurveyEntry,
)
from workbench.records.codes import Condition


def test_withdrawn_records_count_only_when_asked_for() -> None:
    held = dossier(make(PullOff, ref="P1"), make(PullOff, ref="P2", withdrawn="read twice"))
    assert [one.ref for one in held.all(PullOff)] == ["P1"]
    assert len(held.all(PullOff, withdrawn=True)) == 2
    assert held.find(PullOff, "P2") is not None


def test_a_source_leads_back_to_its_record() -> None:
    pull = make(PullOff, ref="P 7")
    held = dossier(pull)
    assert Source.read(str(pull.source)) == pull.source
    assert held.resolve(pull.source) is pull
    assert held.resolve(Source("pull_off", "P8")) is None
    assert held.resolve(Source("ghost", "P8")) is None


def test_a_changed_record_takes_the_place_of_the_one_with_its_id() -> None:
    first = make(Area, ref="A1", name="Bay")
    second = make(Area, ref="A1", name="Bay 1", id=first.id)
    held = dossier(first).with_records([second])
    assert [one.name for one in held.all(Area)] == ["Bay 1"]


def test_a_sub_sample_lies_where_its_parent_was_taken() -> None:
    held = dossier(
        make(Area, ref="A1", condition="failing"),
        make(Location, ref="L1", area="A1"),
        make(Sample, ref="S1", at="L1"),
        make(Sample, ref="S1-a", parent="S1"),
        make(Sample, ref="S9"),
    )
    assert held.condition_at("S1-a") is Condition.FAILING
    assert held.condition_at("S9") is Condition.UNKNOWN
    assert held.condition_at("nowhere") is Condition.UNKNOWN


def test_records_are_placed_by_location_area_or_themselves() -> None:
    area = make(Area, ref="A1")
    held = dossier(area, make(Location, ref="L1", area="A1"))
    assert held.area_of(make(PullOff, location="L1")) is area
    assert held.area_of(make(SurveyEntry, at="A1")) is area
    assert held.area_of(area) is area
    assert held.area_of(make(CaseEntry, key="title")) is None


def test_an_area_without_a_system_takes_that_of_the_area_around_it() -> None:
    held = dossier(
        make(Coat, system="S", order=2),
        make(Coat, system="S", order=0, material="concrete"),
        make(Coat, system="T", order=0, material="wood"),
        make(Area, ref="hall", system="S"),
        make(Area, ref="bay", within="hall"),
        make(Area, ref="yard"),
        make(Area, ref="own", within="own"),
    )
    assert [coat.order for coat in held.system_of(held.area("bay"))] == [0, 2]
    assert held.system_of(held.area("yard")) == ()
    assert held.system_of(held.area("own")) == ()
    assert dossier(make(Coat, system="S")).system_of(None) != ()


def test_planes_are_named_by_the_layers_they_lie_between() -> None:
    system = (
        make(Coat, order=0, material="concrete"),
        make(Coat, order=1, product="Primer P"),
        make(Coat, order=2, material="polyurethane_aliphatic"),
    )
    held = Dossier()
    named = [held.plane_name(Plane(code), system) for code in ("A", "A/B", "B/C", "C/D", "-/Y")]
    assert named == [
        "A, within concrete",
        "A/B, concrete to Primer P",
        "B/C, Primer P to aliphatic polyurethane",
        "C/D, aliphatic polyurethane to coat 3",
        "-/Y, last coat to glue",
    ]
    assert held.plane_name(Plane("A/B")) == "A/B, substrate to coat 1"


def test_questions_stand_in_their_order_past_nine() -> None:
    held = dossier(
        *(make(CaseEntry, key=f"question {n}", value=f"q{n}") for n in (10, 2, 1)),
        make(CaseEntry, key="question 3"),
    )
    assert held.questions == ("q1", "q2", "q10")


def test_the_zone_of_the_case_is_utc_until_one_is_named() -> None:
    assert dossier().zone is UTC
    assert dossier(make(CaseEntry, key="time zone", value="Nowhere/Land")).zone is UTC
    said = dossier(make(CaseEntry, key="time zone", value="Europe/Berlin"))
    assert said.zone == ZoneInfo("Europe/Berlin")
    assert said.entry("client") == ""


def test_of_two_records_with_one_label_the_one_that_counts_is_found() -> None:
    gone, counts = make(PullOff, ref="P1", withdrawn="undone"), make(PullOff, ref="P1")
    for order in ((gone, counts), (counts, gone)):
        assert dossier(*order).find(PullOff, "P1") is counts
        assert dossier(gone).with_records([counts]).find(PullOff, "P1") is counts


def test_of_two_withdrawn_records_the_one_that_a_person_withdrew_is_found() -> None:
    undone, void = make(PullOff, withdrawn="undone"), make(PullOff, withdrawn="void")
    for order in ((undone, void), (void, undone)):
        assert dossier(*order).find(PullOff, "P1") is void
