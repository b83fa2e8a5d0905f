"""Places, next tests, robustness, what is left over, and the matrix, on the books in the tree."""

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from builders import make
from small_cases import SMALL_CASES
from tools.books import SAMPLE_CASES, read

from workbench.reasoning import Bearing, Reasoning, load_knowledge, matrix_of, reason
from workbench.reasoning.matrix import Filter
from workbench.records import Document, Dossier, Grade, ListStatement
from workbench.records.codes import DocumentStatus

HERE = Path(__file__).parent.parent / "development_cases"
KNOWLEDGE = load_knowledge()


def folder(name: str) -> Path:
    return HERE / name if (HERE / name).exists() else SAMPLE_CASES / name


@cache
def found(name: str) -> Reasoning:
    return reason(read(folder(name))[0])


QUAY = "quayside-steel"
BOARDS = "cladding"


def test_two_places_have_causes_of_their_own() -> None:
    places = found(BOARDS).places
    assert {one.leaders for one in places} == {
        ("water-ingress-behind-coating",), ("wood-weathered-before-priming",),
    }  # fmt: skip
    assert all(one.reasoning.paragraphs and one.areas for one in places)
    assert "Two places" in found(BOARDS).verdict
    assert not found(BOARDS).inconclusive


@pytest.mark.parametrize("name", ["girders", "basement-wall", "fermentation-hall"])
def test_a_case_with_one_cause_is_not_divided(name: str) -> None:
    assert found(name).places == ()
    assert len(found(name).leaders) == 1


def test_what_the_records_cannot_part_is_said_to_be_inconclusive() -> None:
    held = found(QUAY)
    assert held.inconclusive
    assert set(held.leaders) == {
        "condensation-dew-point", "recoat-window-exceeded", "amine-blush-bloom",
    }  # fmt: skip
    assert {one.rank for one in held.candidates if one.cause in held.leaders} == {1}
    assert {one.place for one in held.candidates[:3]} == {"1="}
    assert [one.rank for one in held.candidates] == sorted(one.rank for one in held.candidates)
    assert "cannot part them" in held.verdict
    assert held.aliases
    assert not [one for one in held.candidates if one.grade is Grade.ESTABLISHED]


def test_the_next_tests_would_part_what_is_left_the_most_telling_first() -> None:
    tests = found(QUAY).next_tests
    names = [one.test for one in tests]
    assert names[0] == "f-trial-patch"
    assert {"l-ftir", "l-panels"} <= set(names[:6])
    changes = [round(one.change, 2) for one in tests]
    assert changes == sorted(changes, reverse=True)
    for one in tests:
        assert one.keys
        assert one.cost in ("low", "medium", "high")
        assert one.outcomes


def test_each_outcome_says_what_it_would_do() -> None:
    patch = found(QUAY).next_tests[0]
    for outcome in patch.outcomes:
        assert outcome.strengthens or outcome.weakens or outcome.excludes
        assert outcome.words.endswith(".")


def test_a_test_that_needs_another_substrate_is_not_proposed() -> None:
    held = reason(SMALL_CASES["oil-grease-on-steel"]())
    on_concrete = {"f-pulloff-concrete", "f-rh-probe", "f-carbide", "l-petro", "f-water-drop"}
    assert not on_concrete & {one.test for one in held.next_tests}


def test_a_paper_that_is_lost_is_not_asked_for_again() -> None:
    dossier, _ = read(folder(QUAY))
    papers = {one.test: one for one in reason(dossier).next_tests if one.setting == "desk"}
    assert "requested" in papers["record:daily_log"].name
    gone = [
        replace(one, status=DocumentStatus.LOST)
        for one in dossier.all(Document)
        if one.kind == "daily_log"
    ]
    held = reason(dossier.with_records(gone))
    assert "record:daily_log" not in {one.test for one in held.next_tests}


def test_questions_are_put_in_the_order_of_what_they_would_settle() -> None:
    asked = found(QUAY).questions
    assert asked
    assert [one.change for one in asked] == sorted((q.change for q in asked), reverse=True)
    assert all(one.text.endswith("?") and one.values for one in asked)


@pytest.mark.parametrize("name", ["girders", "basement-wall", "fermentation-hall", QUAY, BOARDS])
def test_what_the_outcome_hangs_on_is_told(name: str) -> None:
    held = found(name)
    assert held.fragilities
    for one in held.fragilities:
        assert one.finding.known
        regraded = "would lead, graded " in one.words or "would lead, without a" in one.words
        assert regraded is (set(one.leader_without) == set(held.leaders))


def test_of_causes_that_would_lead_together_no_more_than_three_are_named() -> None:
    told = {len(one.leader_without): one.words for one in found(QUAY).fragilities}
    assert max(told) > 3
    for many, words in told.items():
        assert words.count("“") == (0 if many > 3 else many)
        assert (f"{many} causes would lead together" in words) is (many > 3)
    assert told[1].endswith("would lead alone.")


def test_a_list_is_not_empty_by_default() -> None:
    held = found("fermentation-hall")
    assert held.lists_open == ("unexplained",) or not held.lists_open
    empty = [name for name in ("unexplained", "against") if not getattr(held, name)]
    assert len(held.lists_open) == len(empty)


def test_a_person_closes_an_empty_list_over_their_name() -> None:
    dossier, _ = read(folder("fermentation-hall"))
    said = make(ListStatement, list_of="unexplained", statement="Nothing is left over.", by="A.R.")
    held = reason(dossier.with_records([said]))
    assert "unexplained" not in held.lists_open
    assert any(one.said_by == "A.R." for one in held.unexplained)


def test_what_speaks_against_the_leader_is_listed_with_its_records() -> None:
    dossier, _ = read(folder(QUAY))
    for one in found(QUAY).against:
        assert one.sources
        assert all(dossier.resolve(source) for source in one.sources)


def test_the_matrix_is_sorted_by_what_stands_and_signed() -> None:
    held = found("girders")
    matrix = matrix_of(held, KNOWLEDGE, Filter(most_causes=20, most_rows=60))
    assert [one.cause for one in matrix.candidates] == [c.cause for c in held.candidates[:20]]
    assert len(matrix.rows) <= 60
    assert all(len(row.cells) == len(matrix.candidates) for row in matrix.rows)
    signs = {cell.bearing.sign for row in matrix.rows for cell in row.cells}
    assert len({bearing.sign for bearing in Bearing}) == len(Bearing)
    assert len(signs) >= 4


@pytest.mark.parametrize(
    "wanted",
    [
        Filter(substrate="carbon_steel"), Filter(chemistry="epoxy"), Filter(form="blistering"),
        Filter(plane="INTERCOAT"), Filter(with_excluded=False), Filter(with_unread=False),
    ],
)  # fmt: skip
def test_the_matrix_is_narrowed_to_what_is_wanted(wanted: Filter) -> None:
    matrix = matrix_of(found("girders"), KNOWLEDGE, wanted)
    for one in matrix.candidates:
        cause = KNOWLEDGE.cause[one.cause]
        assert not wanted.form or wanted.form in cause.forms
        assert not wanted.plane or wanted.plane in [plane.kind.value for plane in cause.planes]
        assert wanted.with_excluded or not one.excluded_by
    assert wanted.with_unread or all(row.finding.known for row in matrix.rows)


def test_an_empty_dossier_has_an_empty_matrix() -> None:
    assert matrix_of(reason(Dossier()), KNOWLEDGE, Filter(with_unread=False)).rows == ()
