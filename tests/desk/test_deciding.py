"""Decisions on causes: what each needs, and that the later takes the place of the earlier."""

from datetime import UTC, datetime

import pytest
from builders import dossier

from workbench.desk.acts import Add, Change
from workbench.desk.deciding import Decisions, UndecidedError
from workbench.reasoning import Candidate, Paragraph, Sentence
from workbench.records import (
    Answer,
    CauseDecision,
    Direction,
    Dossier,
    EditedText,
    Grade,
    ListOf,
    ListStatement,
    Source,
    Weight,
    WeightChange,
    read_sources,
)

NOW = datetime(2026, 3, 4, 23, 30, tzinfo=UTC)
ONE = Candidate(cause="cold-cure", title="Cold", rank=1, grade=Grade.POSSIBLE,
                proposed=Grade.POSSIBLE)  # fmt: skip


def desk(held: Dossier | None = None) -> Decisions:
    return Decisions(held or dossier(), "Ann", NOW)


def test_a_grade_above_the_rules_needs_a_reason_and_one_below_does_not() -> None:
    with pytest.raises(UndecidedError, match="possible"):
        desk().grade(ONE, Grade.PROBABLE, None, " ")
    act = desk().grade(ONE, Grade.NOT_SUPPORTED, None, "")
    assert isinstance(act, Add)
    assert isinstance(made := act.records[0], CauseDecision)
    assert (made.grade, made.by, str(made.signed)) == (Grade.NOT_SUPPORTED, "Ann", "2026-03-04")


@pytest.mark.parametrize("reason", ["", "   "])
def test_answers_exclusions_and_weights_are_refused_without_a_reason(reason: str) -> None:
    bearing = (Direction.LIKELY, Weight.WEAK)
    with pytest.raises(UndecidedError):
        desk().answer("a_key", "yes", reason)
    with pytest.raises(UndecidedError):
        desk().exclusion("cold-cure", "a_key", reason, confirmed=True)
    with pytest.raises(UndecidedError):
        desk().weight("cold-cure", "a_key", ("yes",), bearing, reason)


def test_a_weight_without_a_value_is_refused() -> None:
    with pytest.raises(UndecidedError, match="values"):
        desk().weight("cold-cure", "a_key", (), (Direction.LIKELY, Weight.WEAK), "so")


def test_a_later_decision_takes_the_place_of_the_earlier() -> None:
    first = desk().answer("a_key", "yes", "seen")
    assert isinstance(first, Add)
    held = dossier(*first.records)
    second = desk(held).answer("a_key", "no", "looked again")
    assert isinstance(second, Change)
    assert isinstance(now := second.record, Answer)
    assert now.id == first.records[0].id
    assert (now.value, second.why) == ("no", "looked again")


def test_a_changed_weight_says_which_values_it_means() -> None:
    bearing = (Direction.UNLIKELY, Weight.STRONG)
    act = desk().weight("cold-cure", "a_key", ("yes", "no"), bearing, "so")
    assert isinstance(act, Add)
    assert isinstance(made := act.records[0], WeightChange)
    assert (made.values, made.direction, made.weight) == ("yes; no", *bearing)


def test_a_statement_and_an_edit_keep_the_records_they_rest_on() -> None:
    sources = (Source("pull_off", "P-1"), Source("application", "AP-1 · B6; C2 · 2"))
    stated = desk().statement(ListOf.UNEXPLAINED, "nothing is left over", sources)
    paragraph = Paragraph(
        name="cold-cure: what was found", heading="What was found", cause="cold-cure",
        sentences=(Sentence(text="It was cold.", sources=sources),), digest="abc",
    )  # fmt: skip
    written = desk().text(paragraph, "It was very cold.")
    assert isinstance(stated, Add)
    assert isinstance(written, Add)
    assert isinstance(said := stated.records[0], ListStatement)
    assert isinstance(edit := written.records[0], EditedText)
    assert read_sources(said.basis) == read_sources(edit.basis) == sources
    assert edit.digest == "abc"


def test_nothing_is_stated_or_written_in_no_words() -> None:
    paragraph = Paragraph(name="n", heading="h", cause="c", sentences=())
    with pytest.raises(UndecidedError):
        desk().statement(ListOf.UNEXPLAINED, " ")
    with pytest.raises(UndecidedError):
        desk().text(paragraph, "")
