"""What a person decides of a doubt holds in every estimate, comparison and finding."""

import pytest
from builders import dossier, make

from workbench.analysis.comparison.measured import measured_in
from workbench.analysis.conformity import Conformity, statements_of
from workbench.analysis.counted import counted
from workbench.analysis.strength import strength_by_plane
from workbench.reasoning import reason
from workbench.records import (
    Area,
    CaseEntry,
    Coat,
    Dossier,
    DoubtAnswer,
    Limit,
    Location,
    Measurement,
    PullOff,
    Record,
)

PLACE = make(Area, ref="A1", condition="failing", system="S")
SPOT = make(Location, ref="L1", area="A1")
RULE = "instrument out of calibration"


def answered(ref: str, effect: str) -> DoubtAnswer:
    return make(
        DoubtAnswer, about=f"pull_off {ref}", rule=RULE, effect=effect, reason="the gauge was off",
        by="A. Reed",
    )  # fmt: skip


def case(*more: Record) -> Dossier:
    readings = {"P1": "1.0 MPa", "P2": "1.1 MPa", "P3": "1.2 MPa", "P4": "5.0 MPa"}
    return dossier(
        PLACE,
        make(Coat, system="S", order=0, material="concrete"),
        make(Coat, system="S", order=1, material="epoxy"),
        SPOT,
        make(Limit, quantity="pull_off", minimum="1.5 MPa", source_text="DOC-1"),
        make(CaseEntry, key="setting decision_rule", value="simple"),
        *(
            make(PullOff, ref=ref, location="L1", method="ISO 4624", reading=reading,
                 fixture="20 mm", breaks="A/B 100")
            for ref, reading in readings.items()
        ),
        *more,
    )  # fmt: skip


def test_without_an_answer_nothing_changes() -> None:
    held = case(answered("P4", "none"))
    assert counted(held) is held
    assert {pull.source.label for pull in strength_by_plane(held).pulls} == {"P1", "P2", "P3", "P4"}


def test_a_reading_set_aside_is_in_no_estimate_and_is_listed_with_the_reason() -> None:
    before, after = strength_by_plane(case()), strength_by_plane(case(answered("P4", "set aside")))
    assert {pull.source.label for pull in after.pulls} == {"P1", "P2", "P3"}
    (left,) = after.left_out
    assert left.source.label == "P4"
    assert "set aside by A. Reed: the gauge was off" in left.wrong
    first, second = (one.groups[1] for one in (before, after))
    assert (first.n, second.n) == (4, 3)


def test_a_reading_that_is_a_lower_bound_breaks_in_no_plane() -> None:
    groups = strength_by_plane(case(answered("P4", "lower bound"))).groups
    plane = next(one for one in groups if str(one.plane) == "A/B")
    assert (plane.n, plane.broke_here, plane.at_least) == (4, 3, 1)


def test_limits_set_the_reading_aside_with_the_reason_and_name_what_waits() -> None:
    (found,) = statements_of(case(answered("P4", "set aside")))
    assert [one.source.label for one in found.counted] == ["P1", "P2", "P3"]
    assert found.verdict is Conformity.FAIL
    (aside,) = [one for one in found.results if one.source.label == "P4"]
    assert aside.why_not == "set aside, as was answered to a doubt"


@pytest.mark.parametrize(("effect", "number"), [("set aside", 3), ("none", 4)])
def test_findings_rest_on_what_counts(effect: str, number: int) -> None:
    held = reason(case(answered("P4", effect)))
    told = next(one for one in held.findings if one.key == "break_plane_dominant_failing")
    assert len([one for one in told.sources if one.noun == "pull_off"]) == number


def test_comparisons_rest_on_what_counts() -> None:
    readings = [
        make(Measurement, ref=ref, location="L1", quantity="hardness", value=value)
        for ref, value in (("M1", "70"), ("M2", "80"))
    ]
    aside = make(
        DoubtAnswer, about="measurement M2", rule=RULE, effect="set aside", reason="why", by="A"
    )
    before, after = (measured_in(dossier(PLACE, SPOT, *readings, *m)) for m in ((), (aside,)))
    assert [len(one.readings) for one in (*before, *after)] == [2, 1]
