"""Thresholds of the reasoning: each asked, with its source, shared once, and with an effect."""

import re
from dataclasses import fields
from pathlib import Path

import pytest
from builders import dossier, make

import workbench.reasoning
from workbench.reasoning import Settings, choices_of
from workbench.reasoning.settings import SHARED, thresholds
from workbench.records import CaseEntry
from workbench.trade.basis import Status


def test_every_threshold_says_what_it_asks_and_where_it_comes_from() -> None:
    held = thresholds(Settings())
    assert {one.name for one in held} | SHARED.keys() == {one.name for one in fields(Settings)}
    for one in held:
        assert one.asks
        assert one.basis.source or one.basis.status is not Status.READ


def test_no_choice_is_listed_twice() -> None:
    keys = [one.key for one in choices_of(dossier())]
    assert len(keys) == len(set(keys))
    names = [one.name for one in choices_of(dossier())]
    assert len(names) == len(set(names))


def test_no_threshold_is_without_effect() -> None:
    rooms = Path(workbench.reasoning.__file__).parent.rglob("*.py")
    code = "\n".join(path.read_text("utf-8") for path in rooms if path.name != "settings.py")
    unread = [one.name for one in fields(Settings) if not re.search(rf"\.{one.name}\b", code)]
    assert unread == []


@pytest.mark.parametrize(
    ("key", "value", "name", "holds"),
    [
        ("setting dew_margin_k", "5", "dew_margin_k", 5.0),
        ("setting glue_limit_percent", "25", "glue_share", 25.0),
        ("setting mix_tolerance_percent", "10", "mix_deviation", 0.1),
    ],
)
def test_what_field_tests_and_reasoning_share_is_chosen_once_for_both(
    key: str, value: str, name: str, holds: float
) -> None:
    settings = Settings.of(dossier(make(CaseEntry, key=key, value=value)))
    assert getattr(settings, name) == pytest.approx(holds)
