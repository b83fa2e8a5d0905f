"""Choosing a rule or a threshold for a case: what it needs, and that it can be taken back."""

from pathlib import Path

import pytest
from builders import dossier, make

from workbench.desk.acts import Add, Change
from workbench.desk.case import Case
from workbench.desk.choosing import UnchosenError, choose, choose_usual, entry_of, named
from workbench.desk.questions.open_points import open_points
from workbench.reasoning import Settings
from workbench.records import CaseEntry
from workbench.trade.settings import DecisionRule, settings_of


def test_a_choice_is_kept_changed_taken_back_and_chosen_again(tmp_path: Path) -> None:
    with Case.create(tmp_path / "one.case", author="Ann") as case:
        for text, kind in (("simple", Add), ("guard band", Change)):
            rule = named(case.dossier, "decision_rule")
            act = choose(case.dossier, rule, text, "so the contract says")
            assert isinstance(act, kind)
            case.do(act)
            assert settings_of(case.dossier).decision_rule.value == text
        rule = named(case.dossier, "decision_rule")
        case.do(choose_usual(case.dossier, rule, "the contract was read again"))
        assert settings_of(case.dossier).decision_rule is DecisionRule.NOT_CHOSEN
        assert entry_of(case.dossier, rule) is None
        case.do(choose(case.dossier, rule, "guard band", "after all"))
        assert settings_of(case.dossier).decision_rule is DecisionRule.GUARD_BAND
        assert [one.why for one in case.journal()][-2:] == [
            "the contract was read again", "after all",
        ]  # fmt: skip


def test_a_threshold_of_the_reasoning_is_chosen_in_the_same_way() -> None:
    one = named(dossier(), "overprotection_v")
    act = choose(dossier(), one, "-1.1", "the standard of the owner")
    assert isinstance(act, Add)
    assert Settings.of(dossier(*act.records)).overprotection_v == -1.1


@pytest.mark.parametrize(
    ("name", "text", "why", "told"),
    [
        ("decision_rule", "maybe", "why", "guard band"),
        ("tie", "two", "why", "a number"),
        ("tie", "-2", "why", "a number"),
        ("tie", "inf", "why", "a number"),
        ("spot_level_metal", "2.5", "why", "a whole number"),
        ("tie", "3", " ", "printed"),
    ],
)
def test_what_cannot_be_chosen_is_refused_with_what_can(
    name: str, text: str, why: str, told: str
) -> None:
    with pytest.raises(UnchosenError, match=told):
        choose(dossier(), named(dossier(), name), text, why)


def test_a_name_that_is_none_is_met_with_those_near_it() -> None:
    with pytest.raises(UnchosenError, match="did you mean decision_rule"):
        named(dossier(), "decision_rul")


def test_the_usual_cannot_be_gone_back_to_where_it_holds() -> None:
    with pytest.raises(UnchosenError, match="usual rule holds"):
        choose_usual(dossier(), named(dossier(), "tie"), "why")


@pytest.mark.parametrize(
    ("key", "value", "remedy"),
    [
        ("threshold tie", "two", "a number"),
        ("threshold ties", "2", "one of"),
        ("setting decision_rule", "maybe", "guard band"),
        ("setting decision", "simple", "decision_rule"),
        ("method ASTM D7234 speed", "3", "method ASTM D7234 rate most"),
    ],
)
def test_an_entry_that_chooses_nothing_is_an_open_point(key: str, value: str, remedy: str) -> None:
    held = dossier(make(CaseEntry, key=key, value=value))
    (found,) = (one for one in open_points(held) if key in one.words)
    assert "has no effect" in found.words
    assert remedy in found.remedy
    assert str(found.sources[0]) == f"case_entry {key}"
