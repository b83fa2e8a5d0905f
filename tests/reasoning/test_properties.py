"""What holds for any records: built, shuffled, emptied, thinned out or with nothing new."""

import random
from collections import defaultdict
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from anything import KIND, records
from builders import make
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from raised import raised_against_evidence
from small_cases import SMALL_CASES
from tools.books import SAMPLE_CASES, read

from workbench.reasoning import Cause, Reasoning, load_knowledge, reason
from workbench.reasoning.results import Graded
from workbench.records import (
    Answer,
    Application,
    Area,
    AreaEvent,
    Coat,
    Direction,
    Dossier,
    Grade,
    LabResult,
    Measurement,
    PullOff,
    Rating,
    Record,
    Sample,
    SurveyEntry,
    Thickness,
    Weight,
)

KNOWLEDGE = load_knowledge()
DEVELOPMENT = Path(__file__).parent.parent / "development_cases"
BOOKS = {
    **{name: DEVELOPMENT / name for name in ("girders", "basement-wall", "fermentation-hall")},
    **{name: SAMPLE_CASES / name for name in ("balcony-balustrades", "quayside-steel")},
}
COMPANIONS = {"no-abrading-between-coats": "recoat-window-exceeded"}


def built(cause: Cause) -> Dossier:
    """Return a case that answers as a cause predicts, the weightiest prediction of a key first."""
    wanted: dict[str, str] = {}
    for direction in (Direction.EXPECTED, Direction.LIKELY):
        for weight in Weight:
            for one in cause.predictions:
                if one.direction is direction and one.weight is weight:
                    wanted.setdefault(one.key, one.values[0])
    base = cause.substrates[0] if cause.substrates[0] != "any" else "carbon_steel"
    film = (*cause.only_with, *(c for c in cause.chemistries if c != "any"), "epoxy")[0]
    layers = [base, film, film]
    return Dossier([
        *(make(Coat, system="S", order=at, material=one) for at, one in enumerate(layers)),
        make(Area, ref="F", name="F", condition="failing", system="S"),
        make(Area, ref="N", name="N", condition="non-failing", system="S"),
        *(make(Answer, observation=key, value=value, by="built", reason="built")
          for key, value in wanted.items()),
    ])  # fmt: skip


@pytest.mark.parametrize("cause", KNOWLEDGE.causes, ids=lambda one: one.id)
def test_a_case_built_from_what_a_cause_predicts_puts_it_first(cause: Cause) -> None:
    held = reason(built(cause))
    own = held.candidate(cause.id)
    assert own
    assert own.rank == 1
    assert not own.excluded_by
    companion = COMPANIONS.get(cause.id, cause.id)
    assert held.candidates[0].cause in (cause.id, companion)


@cache
def book(name: str) -> Dossier:
    return read(BOOKS[name])[0]


_PLACED: dict[type[Record], tuple[str, ...]] = {
    PullOff: ("location",), Rating: ("location",), Thickness: ("location",),
    Measurement: ("location", "value"), Sample: ("at",), SurveyEntry: ("at",),
    LabResult: ("sample", "value"), AreaEvent: ("area",), Application: ("area",),
    Area: ("condition",), Answer: ("value",),
}  # fmt: skip


def shuffled(dossier: Dossier, seed: int) -> Dossier:
    """Return the records with places, conditions and values dealt out afresh."""
    deal = random.Random(seed)
    by_kind: dict[type[Record], list[Record]] = defaultdict(list)
    for record in dossier.everything():
        by_kind[type(record)].append(record)
    held: list[Record] = []
    for kind, rows in by_kind.items():
        dealt: list[Any] = rows
        for name in _PLACED.get(kind, ()):
            values = [getattr(one, name) for one in dealt]
            deal.shuffle(values)
            dealt = [replace(one, **{name: v}) for one, v in zip(dealt, values, strict=True)]
        held += dealt
    return Dossier(held)


@pytest.mark.parametrize("name", BOOKS)
@pytest.mark.parametrize("seed", [1, 2, 3])
def test_nothing_is_established_on_shuffled_records(name: str, seed: int) -> None:
    held = reason(shuffled(book(name), seed))
    assert [one.cause for one in held.candidates if one.grade is Grade.ESTABLISHED] == []


@pytest.mark.parametrize("name", BOOKS)
def test_nothing_is_established_on_an_emptied_book(name: str) -> None:
    bare = (Coat, Area)
    held = reason(Dossier([one for one in book(name).everything() if isinstance(one, bare)]))
    grades = {one.grade for one in held.candidates}
    assert not grades & {Grade.ESTABLISHED, Grade.PROBABLE}


@pytest.mark.parametrize("name", BOOKS)
def test_unknown_answers_change_nothing(name: str) -> None:
    before = reason(book(name))
    silent = [
        make(Answer, observation=one.key, value="unknown", by="A. Reed")
        for one in before.findings
        if not one.known
    ]
    after = reason(book(name).with_records(silent))
    assert _standing(after) == _standing(before)
    assert after.verdict == before.verdict


def _standing(held: Reasoning) -> list[tuple[str, int, Graded, float]]:
    return [(one.cause, one.rank, one.grade, round(one.points, 6)) for one in held.candidates]


@pytest.mark.parametrize("name", ["basement-wall", "balcony-balustrades"])
@pytest.mark.parametrize("part", [0, 1])
def test_removing_a_record_never_raises_a_grade_against_the_evidence(name: str, part: int) -> None:
    before = reason(book(name))
    every = list(book(name).everything())
    for gone in every[part * 7 :: max(len(every) // 8, 1)]:
        after = reason(Dossier([one for one in every if one is not gone]))
        assert raised_against_evidence(before, after) == [], gone


@pytest.mark.parametrize("cause", SMALL_CASES)
def test_the_same_records_in_another_order_give_the_same_reasoning(cause: str) -> None:
    dossier = SMALL_CASES[cause]()
    turned = Dossier(reversed(list(dossier.everything())))
    assert _standing(reason(turned)) == _standing(reason(dossier))


@given(st.lists(KIND.flatmap(records), max_size=12))
@settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
def test_any_records_are_reasoned_without_falling_over(some: list[Record]) -> None:
    held = reason(Dossier(some))
    assert held.verdict
    assert len(held.findings) >= len(KNOWLEDGE.observations)
