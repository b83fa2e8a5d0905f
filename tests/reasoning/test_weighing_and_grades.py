"""How findings bear on causes, and which grade the rules give."""

import re
from dataclasses import replace

import pytest
from builders import make
from small_cases import SMALL_CASES, areas, pulls, seen, system

from workbench.reasoning import Bearing, Finding, Settings, load_knowledge, reason
from workbench.reasoning.evidence import contrasts, direct_evidence
from workbench.reasoning.weighed import Weighed
from workbench.reasoning.weighing import POINTS, Scales, cell, weigh
from workbench.records import (
    Answer,
    CauseDecision,
    Dossier,
    ExclusionDecision,
    Grade,
    Record,
    Source,
    Weight,
)
from workbench.records.codes import Quality

KNOWLEDGE = load_knowledge()
SCALES = Scales(KNOWLEDGE, Settings(), {})
RECOAT = KNOWLEDGE.cause["recoat-window-exceeded"]
PLANE = "break_plane_dominant_failing"


def finding(key: str, value: str, **said: object) -> Finding:
    held = Finding(key=key, value=value, n=6, quality=Quality.GOOD, sources=(Source("area", "A"),))
    return replace(held, **said)  # type: ignore[arg-type]


def bears(key: str, value: str, **said: object) -> tuple[Bearing, float]:
    held = cell(RECOAT, KNOWLEDGE.observation[key], finding(key, value, **said), SCALES)
    return held.bearing, held.points


def test_unknown_bears_on_nothing() -> None:
    assert bears("recoat_interval_exceeded", "unknown") == (Bearing.NOT_READ, 0)


def test_what_a_cause_says_nothing_of_is_silent() -> None:
    assert bears("tyre_pattern_match", "yes") == (Bearing.SILENT, 0)


def test_an_expected_value_supports_and_a_decisive_one_most() -> None:
    bearing, points = bears("recoat_interval_exceeded", "yes")
    assert bearing is Bearing.SUPPORTS
    assert points == POINTS[Weight.DECISIVE]


def test_poor_records_count_a_step_less() -> None:
    good = bears("recoat_interval_exceeded", "yes")[1]
    poor = bears("recoat_interval_exceeded", "yes", quality=Quality.POOR)[1]
    assert 0 < poor < good


def test_an_excluding_reading_waits_for_a_person() -> None:
    assert bears(PLANE, "SUB_COH")[0] is Bearing.WOULD_EXCLUDE


@pytest.mark.parametrize("weak", [{"quality": Quality.POOR}, {"n": 2}])
def test_too_little_to_exclude_is_evidence_against(weak: dict[str, object]) -> None:
    bearing, points = bears(PLANE, "SUB_COH", **weak)
    assert bearing is Bearing.CONTRADICTS
    assert points < 0


def test_nothing_is_excluded_while_a_fifth_is_as_the_cause_would_have_it() -> None:
    shares = (("SUB_COH", 0.78), ("INTERCOAT", 0.22))
    assert bears(PLANE, "SUB_COH", shares=shares)[0] is Bearing.CONTRADICTS
    shares = (("SUB_COH", 0.9), ("INTERCOAT", 0.1))
    assert bears(PLANE, "SUB_COH", shares=shares)[0] is Bearing.WOULD_EXCLUDE


@pytest.mark.parametrize(
    ("confirmed", "bearing"), [("yes", Bearing.EXCLUDES), ("no", Bearing.CONTRADICTS)]
)
def test_a_person_confirms_an_exclusion_or_declines_it(confirmed: str, bearing: Bearing) -> None:
    decision = make(
        ExclusionDecision, cause=RECOAT.id, observation=PLANE, confirmed=confirmed,
        reason="looked at", by="A. Reed",
    )  # fmt: skip
    scales = replace(SCALES, decisions={(RECOAT.id, PLANE): decision})
    held = cell(RECOAT, KNOWLEDGE.observation[PLANE], finding(PLANE, "SUB_COH"), scales)
    assert held.bearing is bearing


def test_a_missed_expectation_counts_against_a_step_lower() -> None:
    held = cell(
        KNOWLEDGE.cause["osmotic-blistering"],
        KNOWLEDGE.observation["failure_form_dominant"],
        finding("failure_form_dominant", "wear"),
        SCALES,
    )
    assert held.points < 0
    assert held.missed or held.bearing is Bearing.WOULD_EXCLUDE


def test_one_fact_seen_three_ways_counts_once() -> None:
    groups = [keys for keys in KNOWLEDGE.groups.values() if len(keys) > 1]
    for cause in KNOWLEDGE.causes:
        best = {p.key: finding(p.key, p.values[0]) for p in reversed(cause.predictions)}
        known = {o.key: best.get(o.key, Finding(key=o.key)) for o in KNOWLEDGE.observations}
        counted = [c for c in weigh(cause, known, SCALES) if c.counted]
        for keys in groups:
            assert sum(c.key in keys and c.points > 0 for c in counted) <= 1
            assert sum(c.key in keys and c.points < 0 for c in counted) <= 1


def test_what_is_the_same_where_it_holds_tells_a_background() -> None:
    alike = bears("smooth_glossy_exposed_face", "yes", sound="yes")
    apart = bears("smooth_glossy_exposed_face", "yes", sound="no")
    assert 0 < alike[1] < apart[1]


@pytest.mark.parametrize(
    ("sound", "control", "contrasted", "same"),
    [
        ("no", "", True, False),
        ("yes", "", False, True),
        ("yes", "no", True, False),
        ("no", "yes", False, False),
        ("unknown", "yes", False, True),
        ("MIXED", "", False, False),
        ("", "", False, False),
    ],
)
def test_controls_that_show_the_same_spoil_a_contrast(
    sound: str, control: str, *, contrasted: bool, same: bool
) -> None:
    held = finding("smooth_glossy_exposed_face", "yes", sound=sound, control=control)
    assert (held.contrasted, held.same_on_both_sides) == (contrasted, same)


def _weighed(**values: str) -> Weighed:
    said = {key: finding(key, value) for key, value in values.items()}
    known = {o.key: said.get(o.key, Finding(key=o.key)) for o in KNOWLEDGE.observations}
    return Weighed(RECOAT, weigh(RECOAT, known, SCALES))


def test_a_paper_alone_is_no_direct_evidence() -> None:
    assert direct_evidence(_weighed(recoat_interval_exceeded="yes"), SCALES) == ()


def test_a_paper_with_what_is_seen_at_the_plane_is_direct_evidence() -> None:
    held = _weighed(recoat_interval_exceeded="yes", smooth_glossy_exposed_face="yes")
    assert {c.key for c in direct_evidence(held, SCALES)} == {
        "recoat_interval_exceeded", "smooth_glossy_exposed_face",
    }  # fmt: skip


def test_a_difference_of_strength_alone_is_no_contrast() -> None:
    assert contrasts(_weighed(pull_off_low_failing="yes"), SCALES) == ()
    assert contrasts(_weighed(failing_follows_application_day="yes"), SCALES)


def answers(**said: str) -> list[Record]:
    return [
        make(Answer, observation=key, value=value, by="A. Reed", reason="seen on site")
        for key, value in said.items()
    ]


CASE = [*system("concrete", "epoxy", "epoxy"), *areas(F="failing", N="non_failing")]


def test_agreement_without_a_contrast_is_possible_at_most() -> None:
    held = reason(
        Dossier([*CASE, *answers(recoat_interval_exceeded="yes", smooth_glossy_exposed_face="yes")])
    )
    one = held.candidate(RECOAT.id)
    assert one
    assert one.proposed is Grade.POSSIBLE
    assert any("contrast" in words for words in one.because)


def test_a_cause_that_cannot_act_on_the_substrate_is_no_candidate() -> None:
    held = reason(Dossier(CASE))
    assert held.candidate("timber-decay") is None
    assert held.candidate(RECOAT.id)


def _decided(grade: str, reason_: str) -> Dossier:
    decision = make(CauseDecision, cause=RECOAT.id, grade=grade, reason=reason_, by="A. Reed")
    return Dossier([*CASE, *answers(recoat_interval_exceeded="yes"), decision])


def test_the_investigator_decides_and_a_firmer_grade_asks_for_a_reason() -> None:
    bare = reason(_decided("established", "")).candidate(RECOAT.id)
    given = reason(_decided("established", "I saw it laid")).candidate(RECOAT.id)
    assert bare
    assert given
    assert bare.grade is given.grade is Grade.ESTABLISHED
    assert bare.proposed is not Grade.ESTABLISHED
    assert (bare.needs_reason, given.needs_reason) == (True, False)
    assert given.decided_by == "A. Reed"


def test_a_weaker_grade_asks_for_none() -> None:
    held = reason(_decided("not supported", "")).candidate(RECOAT.id)
    assert held
    assert not held.needs_reason


@pytest.mark.parametrize("cause", SMALL_CASES)
def test_a_small_book_leads_to_what_its_records_show(cause: str) -> None:
    held = reason(SMALL_CASES[cause]())
    one = held.candidate(cause)
    assert one
    kin = {cause, *KNOWLEDGE.cause[cause].upstream} if one.is_process else {cause}
    assert held.candidates[0].cause in kin
    assert one.grade.firmness >= Grade.POSSIBLE.firmness
    assert not one.excluded_by


def test_a_root_cause_stands_before_the_process_it_leads_to() -> None:
    held = reason(SMALL_CASES["osmotic-blistering"]())
    assert [one.cause for one in held.candidates[:2]] == [
        "soluble-salts-on-steel", "osmotic-blistering",
    ]  # fmt: skip


def test_a_process_that_leads_alone_says_that_its_own_cause_is_open() -> None:
    case = [
        *system("carbon_steel", "epoxy", "epoxy"), *areas("immersed", F="failing", N="non_failing"),
        *seen("F", blistering="30"), *pulls("F", "A/B 100", 1.0, 1.2, 1.1),
        *answers(blister_contents="clear_water", blister_fluid_ionic_high="yes"),
    ]  # fmt: skip
    held = reason(Dossier(case))
    if held.leaders == ("osmotic-blistering",):
        assert "what led to it is not determined" in held.verdict
    assert held.candidate("osmotic-blistering")


def test_points_are_never_printed() -> None:
    held = reason(SMALL_CASES["curing-compound-residue"]())
    told = " ".join(paragraph.text for paragraph in held.paragraphs)
    assert not re.search(r"\d points?\b|probability|likelihood", told)
