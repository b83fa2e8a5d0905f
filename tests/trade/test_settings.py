"""Choices where sources disagree: shown with their sources, kept in the case."""

import re
from pathlib import Path

import pytest
from builders import dossier, make

import workbench
from workbench.records import CaseEntry
from workbench.resources import resource
from workbench.trade.basis import Status
from workbench.trade.dew_point import WetBulb
from workbench.trade.methods import bounds_problems, methods
from workbench.trade.settings import (
    DecisionRule,
    Settings,
    choices,
    settings_of,
    settings_problems,
)
from workbench.trade.showing import Showing, System

SOURCES_DISAGREE = [
    "slab_wait_h", "emission_rule", "sheet_test_h", "wedge_rule", "salt_factor", "holiday_rule",
    "glue_limit_percent", "floor_bond", "dew_margin_k", "wet_bulb", "profile_edition",
    "tension_rule", "emission_air_max_c", "tape_dwell_s",
]  # fmt: skip


def test_every_setting_has_a_question_and_no_question_is_idle() -> None:
    named = {one.name for one in choices(Settings())}
    said = resource("settings.toml").read_text("utf-8")
    assert set(re.findall(r"^\[(\w+)\]", said, re.MULTILINE)) == named


@pytest.mark.parametrize("name", SOURCES_DISAGREE)
def test_where_sources_disagree_the_other_source_is_shown(name: str) -> None:
    choice = next(one for one in choices(Settings()) if one.name == name)
    assert choice.others
    assert all(other.basis.source for other in choice.others)


def test_what_is_read_names_its_source() -> None:
    assert all(c.basis.source for c in choices(Settings()) if c.basis.status is Status.READ)


def test_the_word_of_another_source_can_be_chosen() -> None:
    for choice in choices(Settings()):
        for other in choice.others:
            entry = make(CaseEntry, key=choice.key, value=other.value)
            found = getattr(settings_of(dossier(entry)), choice.name)
            assert str(found) in {other.value, f"{other.value}.0"}
            assert found != choice.default


def test_a_case_keeps_its_own_choices() -> None:
    held = dossier(
        make(CaseEntry, key="setting dew_margin_k", value="2.78"),
        make(CaseEntry, key="setting wet_bulb", value="thermodynamic wet bulb"),
        make(CaseEntry, key="setting decision_rule", value="simple"),
    )
    found = settings_of(held)
    assert found.dew_margin_k == 2.78
    assert found.wet_bulb is WetBulb.THERMODYNAMIC
    assert found.decision_rule is DecisionRule.SIMPLE
    assert settings_problems(held) == ()


@pytest.mark.parametrize(
    ("key", "value", "right"),
    [
        ("setting dew_margin_k", "three", "a number"),
        ("setting dew_margin_k", "-3", "a number"),
        ("setting dew_margin_k", "nan", "a number"),
        ("setting spot_level_metal", "2.5", "a whole number"),
        ("setting decision_rule", "maybe", "guard band"),
        ("setting dew_margin", "3", "dew_margin_k"),
    ],
)
def test_a_choice_that_cannot_be_is_told_and_the_default_holds(
    key: str, value: str, right: str
) -> None:
    held = dossier(make(CaseEntry, key=key, value=value))
    assert settings_of(held) == Settings()
    (problem,) = settings_problems(held)
    assert right in problem.right


def test_a_margin_of_temperatures_is_shown_as_a_difference_in_either_units() -> None:
    margin = next(one for one in choices(Settings()) if one.name == "dew_margin_k")
    assert margin.words(margin.value, Showing()) == "3 °C"
    assert margin.words(margin.value, Showing(System.US)) == "5.4 °F"


def test_no_setting_is_without_effect() -> None:
    """Each is read by a room, is the default of an input, or chooses what a method asks for."""
    rooms = Path(workbench.__file__).parent.rglob("*.py")
    code = "\n".join(path.read_text("utf-8") for path in rooms)
    data = "\n".join(path.read_text("utf-8") for path in resource("methods").glob("*.toml"))
    named = set(re.findall(r"(?:settings\.|chosen\.|setting=\")(\w+)", code))
    named |= set(re.findall(r"(?:setting|least_from|most_from) = \"(\w+)", data))
    assert [one.name for one in choices(Settings()) if one.name not in named] == []


def test_a_case_may_have_a_bound_of_its_own_in_the_place_of_a_methods() -> None:
    held = dossier(make(CaseEntry, key="method ASTM D7234 rate most", value="0.3"))
    settings = settings_of(held)
    rate = methods()["ASTM D7234"].condition("rate", settings)
    assert rate
    assert rate.most == 0.3
    assert str(rate.basis) == "chosen for this case (common practice, no source)"
    assert (settings_problems(held), bounds_problems(settings)) == ((), ())


def test_a_bound_that_is_none_is_told() -> None:
    wrong = dossier(make(CaseEntry, key="method ASTM D7234 rate most", value="fast"))
    (problem,) = settings_problems(wrong)
    assert problem.right == "a number, without its unit"
    unknown = settings_of(dossier(make(CaseEntry, key="method ASTM D7234 speed", value="3")))
    (told,) = bounds_problems(unknown)
    assert told.cell == "method ASTM D7234 speed"
