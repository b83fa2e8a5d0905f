"""The causes and observations of the program hold together."""

import re
from collections import Counter
from collections.abc import Iterator

import pytest

from workbench.reasoning import Cause, Knowledge, Observation, Side, load_knowledge
from workbench.reasoning.derivation import RULES
from workbench.records import Direction, Weight
from workbench.records.codes import Substrate

KNOWLEDGE = load_knowledge()
CAUSES = pytest.mark.parametrize("cause", KNOWLEDGE.causes, ids=lambda one: one.id)
OBSERVATIONS = pytest.mark.parametrize(
    "observation", KNOWLEDGE.observations, ids=lambda one: one.key
)
SUBSTRATES = {*Substrate, "any"}
GENERATED = re.compile(
    r"usual with this cause|needed by this cause|does not discriminate|Key is short"
    r"|compatible with this cause|cannot stand with this cause|Same reason\b|as above",
    re.IGNORECASE,
)


def _sentences(cause: Cause) -> Iterator[str]:
    yield from (cause.title, cause.mechanism, cause.remedy, cause.caveat, cause.upstream_question)
    yield from (cause.failing_shows, cause.sound_shows, cause.examined_note)
    yield from (words for one in cause.predictions for words in (one.expect, one.why))
    yield from (one.tell_apart for one in cause.lookalikes)


def test_there_are_75_causes_and_every_name_is_used_once() -> None:
    assert len(KNOWLEDGE.causes) == 75
    assert len(KNOWLEDGE.cause) == len(KNOWLEDGE.causes)
    assert len(KNOWLEDGE.observation) == len(KNOWLEDGE.observations)


@CAUSES
def test_a_cause_predicts_enough_and_can_be_ruled_out(cause: Cause) -> None:
    strong = (Weight.DECISIVE, Weight.STRONG)
    expected = [p for p in cause.predictions if p.direction is Direction.EXPECTED]
    assert len(cause.predictions) >= 6
    assert cause.rules_out
    assert any(p.weight in strong for p in expected)


@CAUSES
def test_a_cause_says_something_of_sound_areas(cause: Cause) -> None:
    sides = {KNOWLEDGE.observation[p.key].side for p in cause.predictions}
    assert sides & {Side.NONFAILING, Side.CONTRAST}


@CAUSES
def test_a_cause_predicts_only_values_that_an_observation_can_take(cause: Cause) -> None:
    for prediction in cause.predictions:
        observation = KNOWLEDGE.observation[prediction.key]
        assert observation.in_matrix
        assert set(prediction.values) <= set(observation.values), prediction.key


@CAUSES
def test_on_any_one_substrate_a_cause_says_one_thing_of_a_value(cause: Cause) -> None:
    named = [one.substrates for one in cause.predictions] + [one.substrates for one in cause.on]
    assert {one for some in named for one in some} <= set(cause.substrates)
    for substrate in cause.substrates:
        seen: Counter[tuple[str, str]] = Counter()
        for prediction in cause.as_on({substrate}).predictions:
            seen.update((prediction.key, value) for value in prediction.values)
        assert [pair for pair, times in seen.items() if times > 1] == []


@CAUSES
def test_a_cause_refers_to_causes_tests_and_sources_that_exist(cause: Cause) -> None:
    others = {one.cause for one in cause.lookalikes}
    others |= {*cause.upstream, *cause.combined_with, *cause.companions}
    assert others <= set(KNOWLEDGE.cause) - {cause.id}
    assert cause.tests
    assert {one.test for one in cause.tests} <= set(KNOWLEDGE.tests)
    assert cause.sources
    assert {one.source for one in cause.sources} <= set(KNOWLEDGE.works)
    assert all(one.status for one in cause.sources)


@CAUSES
def test_a_cause_says_what_it_is_known_from_and_how_far_that_was_read(cause: Cause) -> None:
    known = KNOWLEDGE.known_from(cause)
    assert len(known) == len(cause.sources) > 0
    for words, cited in zip(known, cause.sources, strict=True):
        assert KNOWLEDGE.works[cited.source].citation in words
        assert words.endswith(("(read in extract or abstract)", "(from memory)"))


@CAUSES
def test_a_cause_acts_on_substrates_that_areas_can_have(cause: Cause) -> None:
    assert cause.substrates
    assert set(cause.substrates) <= SUBSTRATES


@CAUSES
def test_a_cause_is_told_in_words_an_investigator_would_sign(cause: Cause) -> None:
    assert cause.mechanism
    assert cause.remedy
    for words in _sentences(cause):
        assert not GENERATED.search(words), words
        assert "_" not in words, words


@CAUSES
def test_every_prediction_that_counts_says_why(cause: Cause) -> None:
    for prediction in cause.predictions:
        tells = KNOWLEDGE.observation[prediction.key].tells
        said = prediction.why or all(tells.get(value) for value in prediction.values)
        assert said, prediction.key


@OBSERVATIONS
def test_every_value_of_an_observation_is_said_and_told(observation: Observation) -> None:
    assert observation.question.endswith("?")
    if observation.in_matrix:
        assert set(observation.says) == set(observation.tells) == set(observation.values)
        assert all((*observation.says.values(), *observation.tells.values()))


@OBSERVATIONS
def test_an_observation_is_read_by_tests_of_the_register(observation: Observation) -> None:
    assert set(observation.tests) <= set(KNOWLEDGE.tests)


def test_every_rule_answers_an_observation() -> None:
    assert set(RULES) <= set(KNOWLEDGE.observation)


def test_records_can_answer_every_core_observation_but_those_only_a_person_knows() -> None:
    asked = {one.key for one in KNOWLEDGE.observations if one.core and one.key not in RULES}
    assert asked <= {
        one.key for one in KNOWLEDGE.observations if one.stage.value in ("background", "survey")
    }


@pytest.mark.parametrize(
    "key",
    ["conversion_layer_deficient", "sd_value_above_limit", "disbond_radius_high",
     "etch_removal_low", "wet_adhesion_poor"],
)  # fmt: skip
def test_the_keys_that_field_books_asked_for_are_there(key: str) -> None:
    assert key in RULES
    assert any(cause.of(key) for cause in KNOWLEDGE.causes)


def test_osmotic_blistering_acts_on_steel_as_well_as_on_concrete() -> None:
    assert {"carbon_steel", "concrete"} <= set(KNOWLEDGE.cause["osmotic-blistering"].substrates)


def test_the_knowledge_is_the_same_each_time_and_cannot_be_changed() -> None:
    assert load_knowledge() is KNOWLEDGE
    assert isinstance(KNOWLEDGE, Knowledge)
    with pytest.raises(AttributeError):
        KNOWLEDGE.causes[0].title = "other"  # type: ignore[misc]
