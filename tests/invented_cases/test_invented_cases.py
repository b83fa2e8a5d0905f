"""Field books made up after the reasoning, each with a truth that was written before it was read.

They are kept as a practitioner keeps them: not all sheets filled, some noise, an innocent anomaly,
a laboratory in part. `NAME.toml` says what an expert would say of `NAME.book`:

- `leaders`: the causes that lead; `joint`: those that may be named firmly beside them;
- `fallen`: candidates that must be excluded or not supported;
- `next_tests`: of which one at least must be among the first five;
- `grades`: those that the rules may give the leaders.
"""

import re
import tomllib
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from raised import raised_against_evidence
from tools.books import read
from tools.sentences import unsupported

from workbench.reasoning import Reasoning, Ungraded, reason
from workbench.records import Dossier, Grade

HERE = Path(__file__).parent
CASES = sorted(path.stem for path in HERE.glob("*.book"))
FIRM = {Grade.ESTABLISHED, Grade.PROBABLE}
FALLEN = {Grade.EXCLUDED, Grade.NOT_SUPPORTED}
_FIRST = 5


@cache
def truth(name: str) -> dict[str, Any]:
    return tomllib.loads((HERE / f"{name}.toml").read_text(encoding="utf-8"))


@cache
def book(name: str) -> Dossier:
    dossier, wrong = read(HERE / f"{name}.book")
    assert wrong == []
    return dossier


@cache
def found(name: str) -> Reasoning:
    return reason(book(name))


@pytest.mark.parametrize("name", CASES)
def test_the_leaders_are_those_of_the_truth(name: str) -> None:
    said = truth(name)
    assert set(said["leaders"]) <= set(found(name).leaders)
    assert set(found(name).leaders) <= {*said["leaders"], *said["joint"]}
    assert found(name).inconclusive is said["inconclusive"]
    assert len(found(name).places) == said.get("places", 0)


@pytest.mark.parametrize("name", CASES)
def test_the_leaders_are_graded_as_an_expert_would(name: str) -> None:
    grades = {
        str(one.grade) for one in found(name).candidates if one.cause in truth(name)["leaders"]
    }
    assert grades <= set(truth(name)["grades"])


@pytest.mark.parametrize("name", CASES)
def test_nothing_is_graded_firmly_that_the_truth_does_not_name(name: str) -> None:
    firm = {one.cause for one in found(name).candidates if one.grade in FIRM}
    assert firm <= {*truth(name)["leaders"], *truth(name)["joint"]}


@pytest.mark.parametrize("name", CASES)
def test_what_the_truth_closes_has_fallen(name: str) -> None:
    grades = {one.cause: one.grade for one in found(name).candidates}
    assert {
        c: grades[c] for c in truth(name)["fallen"] if grades.get(c, Grade.EXCLUDED) not in FALLEN
    } == {}


@pytest.mark.parametrize("name", CASES)
def test_what_the_truth_names_is_not_excluded(name: str) -> None:
    barred = {one.cause for one in found(name).candidates if one.excluded_by}
    assert not barred & {*truth(name)["leaders"], *truth(name)["joint"]} or found(name).places


@pytest.mark.parametrize("name", CASES)
def test_the_test_that_an_expert_would_ask_for_is_among_the_first(name: str) -> None:
    wanted = set(truth(name)["next_tests"])
    assert not wanted or wanted & {one.test for one in found(name).next_tests[:_FIRST]}


@pytest.mark.parametrize("name", CASES)
def test_every_sentence_rests_on_records_of_the_case(name: str) -> None:
    assert unsupported(found(name), book(name)) == ()


def test_where_nothing_fails_no_cause_is_sought() -> None:
    held = found("sound-gates")
    assert held.verdict == "No area is recorded as failing, so no cause is sought."
    assert {one.grade for one in held.candidates} == {Ungraded.NOT_EXAMINED}
    assert held.next_tests == ()


def test_thin_records_leave_the_candidates_open_rather_than_unsupported() -> None:
    grades = [one.grade for one in found("garage-wall").candidates]
    assert grades.count(Ungraded.NOT_EXAMINED) > len(grades) / 2
    assert Grade.POSSIBLE not in grades


_SLIPS = re.compile(
    r"\b1 samples\b|about 0 days|(?:looks sound|In controls),[^.]*where it fails"
    r"|are told apart; it does|does not know the day"
)


@pytest.mark.parametrize("name", CASES)
def test_the_prose_agrees_in_number_and_tells_each_side_of_itself(name: str) -> None:
    told = [said.text for one in found(name).paragraphs for said in one.sentences]
    assert told
    assert [text for text in told if _SLIPS.search(text)] == []


@pytest.mark.parametrize("name", CASES)
def test_removing_a_record_never_raises_a_grade_against_the_evidence(name: str) -> None:
    every = list(book(name).everything())
    for gone in every[5 :: max(len(every) // 3, 1)]:
        after = reason(Dossier([one for one in every if one is not gone]))
        assert raised_against_evidence(found(name), after) == [], gone
