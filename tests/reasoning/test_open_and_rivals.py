"""What is open is not unsupported, and a rival is serious only for what points to it."""

from dataclasses import replace

import pytest
from builders import make
from small_cases import SMALL_CASES, areas, pulls, system
from tools.books import SAMPLE_CASES, read

from workbench.reasoning import Bearing, Reasoning, Ungraded, load_knowledge, reason
from workbench.reasoning.prose.telling import numbers
from workbench.records import (
    AddedCause,
    AddedObservation,
    Answer,
    CauseDecision,
    Direction,
    Dossier,
    Grade,
    LabResult,
    Measurement,
    Record,
    Sample,
    SurveyEntry,
    Weight,
    WeightChange,
)
from workbench.report.sections.judgement import by_the_investigator
from workbench.trade.showing import Showing, System

STEEL = [*system("carbon_steel", "epoxy", "epoxy"), *areas(F="failing", N="non-failing")]
BETWEEN = [*pulls("F", "B/C 100", 0.8, 1.0, 1.2), *pulls("N", "C 100", 6.0, 6.4, 7.1)]


def found(*records: Record) -> Reasoning:
    return reason(Dossier([*STEEL, *records]))


def test_without_a_failing_area_nothing_is_graded_and_nothing_asked() -> None:
    sound = [*system("carbon_steel", "epoxy"), *areas(N="non-failing")]
    held = reason(Dossier([*sound, *pulls("N", "B 100", 6.0, 6.4, 7.1)]))
    assert (*held.leaders, *held.next_tests, *held.questions) == ()
    assert {one.grade for one in held.candidates} == {Ungraded.NOT_EXAMINED}


def test_a_plane_alone_leaves_the_candidates_open_rather_than_possible() -> None:
    held = found(*BETWEEN)
    grades = {one.cause: one.grade for one in held.candidates}
    assert grades["amine-blush-bloom"] is Ungraded.NOT_EXAMINED
    assert grades["soluble-salts-on-steel"] is Grade.EXCLUDED
    assert held.leaders == ()
    assert "has not been read" in held.verdict


def test_what_was_looked_for_and_not_found_is_not_supported() -> None:
    swab = [
        make(Measurement, ref=f"W{at}", location=f"F.{at}", method="f-amine-swab",
             quantity="amine_swab", value="negative")
        for at in (1, 2, 3)
    ]  # fmt: skip
    one = found(*BETWEEN, *swab).candidate("amine-blush-bloom")
    assert one
    assert one.grade is Grade.NOT_SUPPORTED
    assert "amine" in one.because[0]


def test_a_cause_not_examined_has_no_paragraph_and_an_opinion_of_it_needs_a_reason() -> None:
    held = found(*BETWEEN)
    assert held.paragraphs_of("amine-blush-bloom") == ()
    signed = CauseDecision(cause="amine-blush-bloom", grade=Grade.POSSIBLE, by="A. Reed")
    one = found(*BETWEEN, signed).candidate("amine-blush-bloom")
    assert one
    assert one.needs_reason


def test_a_sign_at_one_place_of_many_says_nothing_either_way() -> None:
    once = make(SurveyEntry, ref="V1", at="F", form="rust_on_steel", count=1, looked_at=14)
    often = make(SurveyEntry, ref="V1", at="F", form="rust_on_steel", count=9, looked_at=14)
    assert not found(once).finding("rust_on_exposed_steel").known
    assert found(often).finding("rust_on_exposed_steel").value == "yes"


def test_one_reading_of_hardness_on_either_side_tells_no_step() -> None:
    hard = [
        make(Measurement, ref=f"H{spot}", location=spot, method="f-hardness", quantity="hardness",
             value=value)
        for spot, value in (("F.1", "71"), ("N.1", "74"))
    ]  # fmt: skip
    assert not found(*hard).finding("hardness_varies_by_patch").known


PANEL = make(Sample, ref="T", kind="panel", purpose="test_panel")


@pytest.mark.parametrize(("result", "bearing"), [
    ("yes", Bearing.SUPPORTS), ("no", Bearing.CONTRADICTS),
])  # fmt: skip
def test_a_panel_speaks_for_the_cause_it_was_made_for_alone(result: str, bearing: Bearing) -> None:
    panel = make(LabResult, ref="R1", sample="T", method="l-panels", value=result,
                 quantity="reproduction:recoat-window-exceeded")  # fmt: skip
    held = found(*BETWEEN, PANEL, panel)
    cells = {
        one.cause: c.bearing
        for one in held.candidates
        for c in (*one.supporting, *one.opposing)
        if c.key == "lab_reproduction_of_failure"
    }
    assert cells == {"recoat-window-exceeded": bearing}
    assert "recoat window exceeded" in held.finding("lab_reproduction_of_failure").words


def test_a_panel_of_which_the_circumstance_is_not_said_speaks_for_no_cause() -> None:
    panel = make(LabResult, ref="R1", sample="T", method="l-panels", value="yes",
                 quantity="reproduction")  # fmt: skip
    held = found(*BETWEEN, PANEL, panel)
    assert not [
        one.cause for one in held.candidates for c in (*one.supporting, *one.opposing)
        if c.key == "lab_reproduction_of_failure"
    ]  # fmt: skip


def test_findings_are_told_in_the_units_asked_for_and_an_edit_stays_fresh_in_all_of_them() -> None:
    dossier = Dossier([*STEEL, *BETWEEN])
    told = {unit: reason(dossier, showing=Showing(unit)) for unit in System}
    words = {unit: one.finding("pull_off_low_failing").words for unit, one in told.items()}
    assert "1.0 MPa" in words[System.SI]
    assert "psi" not in words[System.SI]
    assert "150 psi" in words[System.US]
    assert "1.0 MPa (150 psi)" in words[System.BOTH]
    digests = {tuple(p.digest for p in one.paragraphs) for one in told.values()}
    assert len(digests) == 1


def test_numbers_of_findings_are_told_as_ranges() -> None:
    assert numbers([3, 1, 5, 6, 7, 9]) == "1, 3, 5 to 7 and 9"
    assert numbers([1, 2]) == "1 and 2"


def test_rejected_causes_have_reasons_of_their_own() -> None:
    held = reason(read(SAMPLE_CASES / "quayside-steel")[0])
    said = [one.text for group in held.rejections for one in group.sentences[1:]]
    assert len(said) > 15
    assert len(set(said)) == len(said)
    fallen = (Grade.NOT_SUPPORTED, Grade.EXCLUDED)
    for one in (one for one in held.candidates if one.grade in fallen):
        assert any(f"“{one.title}”" in text for text in said) or held.paragraphs_of(one.cause)


def test_a_finding_told_in_full_is_told_in_short_afterwards() -> None:
    held = reason(read(SAMPLE_CASES / "quayside-steel")[0])
    words = held.finding("failing_follows_application_day").words
    told = [p for p in held.paragraphs if words[1:] in p.text and p.heading == "What was found"]
    assert len(told) == 1


def test_what_the_investigator_changed_is_printed_with_its_reason() -> None:
    changes = [
        WeightChange(cause="amine-blush-bloom", observation="runs_sags_present", values="yes",
                     direction=Direction.LIKELY, weight=Weight.WEAK,
                     reason="seen before", by="A. Reed"),
        AddedCause(cause="sea-mist", name="Sea mist on the coat", mechanism="It settles at night",
                   reason="local", by="A. Reed"),
        AddedObservation(observation="mist_seen", question="Was mist seen?", values="yes; no",
                         stage="background", side="site", reason="local", by="A. Reed"),
        CauseDecision(cause="amine-blush-bloom", grade=Grade.POSSIBLE, by="A. Reed",
                      reason="the face smelt of it"),
        *BETWEEN,
        Answer(observation="pull_off_low_failing", value="no", by="A. Reed", reason="read wrongly"),
    ]  # fmt: skip
    blocks = by_the_investigator(found(*changes))
    (table,) = [one for one in blocks if hasattr(one, "rows")]
    cells = " | ".join(str(cell) for row in table.rows for cell in row.cells)
    for reason_ in ("seen before", "local", "the face smelt of it", "read wrongly"):
        assert reason_ in cells
    assert "“Amine blush on an epoxy that was overcoated”: possible" in cells
    assert "not examined; the grade is firmer" in cells
    assert "it says nothing of it" in cells
    assert "runs_sags" not in cells


def test_planes_and_forms_that_a_cause_names_speak_for_it_and_never_against() -> None:
    knowledge = load_knowledge()
    implied = [p for cause in knowledge.causes for p in cause.predictions if p.implied]
    assert implied
    bare = tuple(
        replace(cause, predictions=tuple(p for p in cause.predictions if not p.implied))
        for cause in knowledge.causes
    )
    sheets = make(SurveyEntry, ref="V1", at="F", form="wear", extent="30 %")
    dossier = Dossier([*STEEL, *BETWEEN, sheets])
    less = reason(dossier, replace(knowledge, causes=bare))
    more = reason(dossier, knowledge)
    for one in more.candidates:
        before = less.candidate(one.cause)
        assert before
        assert one.points >= before.points


def test_a_cause_that_may_lie_behind_the_leading_process_is_no_rival_of_it() -> None:
    lined = SMALL_CASES["osmotic-blistering"]().everything()
    held = reason(Dossier([one for one in lined if getattr(one, "quantity", "") != "salts"]))
    assert held.leaders == ("osmotic-blistering",)
    salts = held.candidate("soluble-salts-on-steel")
    assert salts
    assert salts.behind == ("Osmotic blistering",)
