"""The reasoning in words: every sentence with its records, neutral, and stale when they change."""

import re
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from builders import make
from small_cases import SMALL_CASES
from tools.books import SAMPLE_CASES, read
from tools.sentences import unsupported

from workbench.reasoning import (
    Reasoning,
    Ungraded,
    certainty_flags,
    draft_opinions,
    load_knowledge,
    opinion_problems,
    party_flags,
    reason,
)
from workbench.reasoning.drafting import Matter, matter_of
from workbench.records import (
    TO_BE_WRITTEN,
    AddedCause,
    AddedObservation,
    Answer,
    CaseEntry,
    Dossier,
    EditedText,
    Grade,
    LabResult,
    Party,
    Record,
    WeightChange,
    When,
)

HERE = Path(__file__).parent.parent / "development_cases"
NAMES = [
    "girders", "basement-wall", "fermentation-hall", "cladding", "quayside-steel",
    "balcony-balustrades",
]  # fmt: skip


@cache
def case(name: str) -> tuple[Dossier, Reasoning]:
    folder = HERE / name if (HERE / name).exists() else SAMPLE_CASES / name
    dossier, _ = read(folder)
    return dossier, reason(dossier)


@pytest.mark.parametrize("name", NAMES)
def test_every_sentence_rests_on_records_of_the_case(name: str) -> None:
    dossier, held = case(name)
    assert held.paragraphs
    assert unsupported(held, dossier) == ()


@pytest.mark.parametrize("name", NAMES)
def test_retained_and_rejected_candidates_both_have_a_paragraph(name: str) -> None:
    _, held = case(name)
    told = {paragraph.cause for paragraph in held.paragraphs}
    graded = {one.cause for one in held.candidates if one.grade is not Ungraded.NOT_EXAMINED}
    assert graded <= told
    excluded = next(one for one in held.candidates if one.excluded_by)
    text = " ".join(paragraph.text for paragraph in held.paragraphs_of(excluded.cause))
    assert "awaits confirmation" in text


@pytest.mark.parametrize("name", NAMES)
def test_the_words_are_sentences_and_name_no_key_and_no_party(name: str) -> None:
    dossier, held = case(name)
    for paragraph in held.paragraphs:
        for said in paragraph.sentences:
            assert said.text[0].isupper() or not said.text[0].isalpha(), said.text
            assert said.text.endswith((".", "?")), said.text
            assert not re.search(r"\b[a-z]+_[a-z]+_[a-z]+\b", said.text), said.text
            assert ".." not in said.text.replace("…", ""), said.text
            blamed = [flag.words for flag in party_flags(said.text, Dossier())]
            assert blamed == [], said.text
    assert dossier.questions is not None


def _edit(held: Reasoning, name: str, digest: str | None = None) -> Record:
    paragraph = next(one for one in held.paragraphs if one.name == name)
    return make(
        EditedText, paragraph=name, text="In my words.", by="A. Reed",
        digest=paragraph.digest if digest is None else digest,
    )  # fmt: skip


def test_an_edited_paragraph_is_kept_until_the_findings_behind_it_change() -> None:
    dossier = SMALL_CASES["oil-grease-on-steel"]()
    held = reason(dossier)
    name = "oil-grease-on-steel: what was found"
    edited = dossier.with_records([_edit(held, name)])
    again = next(one for one in reason(edited).paragraphs if one.name == name)
    assert (again.text, again.edited_by, again.stale) == ("In my words.", "A. Reed", False)
    answer = make(
        Answer, observation="ftir_extra_band_on_back_face", value="no", by="B", reason="cleaned"
    )
    later = next(
        one for one in reason(edited.with_records([answer])).paragraphs if one.name == name
    )
    assert (later.text, later.stale) == ("In my words.", True)


@pytest.mark.parametrize(
    "text",
    [
        "This proves the cause.", "It was certainly wet.", "Without doubt the coat was old.",
        "We are 100 % sure.", "This is consistent with blush.", "The image is authentic.",
        "It is clearly rust.", "It was beyond reasonable doubt.", "The proof is in the log.",
    ],
)  # fmt: skip
def test_words_of_certainty_are_found_with_a_reason(text: str) -> None:
    flags = certainty_flags(text)
    assert flags
    for flag in flags:
        assert flag.why
        assert text[flag.start :].startswith(flag.words)


@pytest.mark.parametrize(
    "text",
    [
        "In failing areas 11 tests parted 100 % at A/B.",
        "The cause is established.",
        "The coat was probably laid late.",
        "The film is 40 um thin.",
    ],
)
def test_plain_words_are_left_alone(text: str) -> None:
    assert certainty_flags(text) == ()


def test_a_party_named_as_a_cause_and_words_of_fault_are_found() -> None:
    dossier = Dossier([make(Party, name="Holm Quay Coating", role="applicator")])
    found = [f.words for f in party_flags("Holm Quay Coating was negligent.", dossier)]
    assert found == ["Holm Quay Coating", "negligent"]
    assert party_flags("The interval was exceeded.", dossier) == ()


def _asked(name: str) -> tuple[Dossier, Reasoning]:
    dossier = SMALL_CASES[name]().with_records(
        [CaseEntry(key="question 1", value="Why does it peel?")]
    )
    return dossier, reason(dossier)


def test_an_opinion_is_drafted_for_each_question_with_its_basis_and_grade() -> None:
    dossier, held = _asked("curing-compound-residue")
    (draft,) = draft_opinions(held, dossier, by="A. Reed")
    assert draft.question == "Why does it peel?"
    assert draft.grade is held.candidates[0].grade
    assert draft.basis
    assert opinion_problems(draft, held, dossier) == ()
    assert draft_opinions(held, dossier.with_records([draft])) == ()


def test_what_a_judge_would_ask_about_an_opinion_is_told() -> None:
    dossier, held = case("quayside-steel")
    draft, *_ = draft_opinions(held, dossier)
    bad = replace(
        draft, opinion="This proves it.", grade=Grade.ESTABLISHED, basis="pull_off P-none",
        limits="",
    )  # fmt: skip
    parts = {one.cell for one in opinion_problems(bad, held, dossier)}
    assert {"basis", "grade", "opinion"} <= parts
    assert opinion_problems(replace(draft, basis="", grade=None), held, dossier)


def test_a_cause_that_is_not_determined_has_no_grade() -> None:
    dossier, held = case("quayside-steel")
    draft, _ = draft_opinions(held, dossier)
    assert draft.opinion.startswith("The cause is not determined")
    assert draft.grade is None
    assert draft.limits


@pytest.mark.parametrize(
    ("clause", "matter"),
    [
        ("In which layer did the lining part", Matter.PLACE),
        ("Where does it come off", Matter.PLACE),
        ("Why did it part there", Matter.CAUSE),
        ("Did salts cause the blisters", Matter.CAUSE),
        ("what must be removed and proved before recoating", Matter.REPAIR),
        ("how far beyond the visible loss", Matter.EXTENT),
        ("is any party excluded", Matter.PERSONS),
        ("Who caused it", Matter.PERSONS),
        ("Was the recoat interval exceeded", None),
        ("Was the coat laid too late", None),
    ],
)
def test_what_a_question_is_on_is_known_by_its_words_or_not_at_all(
    clause: str, matter: Matter | None
) -> None:
    assert matter_of(clause) is matter


def test_each_draft_answers_the_question_put_and_leaves_the_rest_to_be_written() -> None:
    dossier, held = case("balcony-balustrades")
    dossier = dossier.with_records(
        [CaseEntry(key="question 3", value="Where does it part, and who is to blame?")]
    )
    cause, repair, place = draft_opinions(held, dossier)
    assert cause.opinion == held.verdict
    assert "usual to do this: strip" in repair.opinion
    assert held.finding("break_plane_dominant_failing").words in place.opinion
    assert held.verdict not in repair.opinion + place.opinion
    assert place.grade is repair.grade is None
    assert place.opinion.endswith(f"{TO_BE_WRITTEN} what can be said on “who is to blame”.")
    assert not place.answers(3, place.question)
    assert replace(place, signed=When("2026-02-01")).faults()
    assert cause.answers(1, cause.question)


CHANGES = [
    make(AddedObservation, observation="mist_seen", question="Was mist seen at night?",
         stage="background", side="site", reason="local", by="A. Reed"),
    make(AddedCause, cause="sea-mist", name="Sea mist settling on the coat",
         mechanism="Mist from the sea wets the coat.", reason="local", by="A. Reed"),
    make(WeightChange, cause="sea-mist", observation="mist_seen", values="yes",
         direction="expected", weight="decisive", reason="local", by="A. Reed"),
    make(Answer, observation="mist_seen", value="yes", by="A. Reed", reason="diary"),
]  # fmt: skip


def test_a_case_may_add_causes_and_observations_and_they_are_told_as_its_own() -> None:
    dossier = SMALL_CASES["oil-grease-on-steel"]().with_records(CHANGES)
    held = reason(dossier)
    one = held.candidate("sea-mist")
    assert one
    assert [c.key for c in one.supporting] == ["mist_seen"]
    assert len(held.changes) == 3
    assert all(change.reason and change.by for change in held.changes)
    assert unsupported(held, dossier) == ()


def test_an_added_observation_that_says_no_stage_is_not_used() -> None:
    odd = make(AddedObservation, observation="odd", question="Odd?", stage="someday", side="site",
               reason="local", by="A. Reed")  # fmt: skip
    held = reason(SMALL_CASES["oil-grease-on-steel"]().with_records([odd]))
    assert not held.finding("odd").known
    assert held.changes == ()


def test_a_changed_weight_holds_for_its_case_only() -> None:
    change = make(
        WeightChange, cause="oil-grease-on-steel", observation="greasy_or_sticky_lower_face",
        values="yes", direction="unlikely", weight="strong", reason="solvent film", by="A. Reed",
    )  # fmt: skip
    plain = SMALL_CASES["oil-grease-on-steel"]()
    changed = reason(plain.with_records([change])).candidate("oil-grease-on-steel")
    before = reason(plain).candidate("oil-grease-on-steel")
    assert changed
    assert before
    assert changed.points < before.points


def test_a_test_whose_results_exist_is_not_drafted_as_not_done() -> None:
    dossier, held = _asked("curing-compound-residue")
    nearest = held.next_tests[0]
    asked = replace(nearest, test="l-fluid", name="Blister fluid", keys=("blister_fluid_organics",))
    held = replace(held, next_tests=(asked,))
    (draft,) = draft_opinions(held, dossier)
    assert "not done: Blister fluid" in draft.limits
    read = make(LabResult, ref="R-3", sample="S-F", method="l-fluid", quantity="fluid_ph",
                value="7.2 pH")  # fmt: skip
    (draft,) = draft_opinions(held, dossier.with_records([read]))
    assert "not done" not in draft.limits
    question = load_knowledge().observation["blister_fluid_organics"].question
    assert f"done in part (R-3): Blister fluid; it leaves open: {question}" in draft.limits
