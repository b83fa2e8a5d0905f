"""The reasoning finds in each book what its truth says."""

import tomllib
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from tools.books import SAMPLE_CASES, read

from workbench.reasoning.reason import reason
from workbench.reasoning.results import Reasoning
from workbench.records import Grade

HERE = Path(__file__).parent
TRUTHS = {
    **{path.parent.name: path for path in HERE.glob("*/truth.toml")},
    **{path.stem: path for path in (HERE / "truths").glob("*.toml")},
}
FIRM = {Grade.ESTABLISHED, Grade.PROBABLE}


def truth(name: str) -> dict[str, Any]:
    return tomllib.loads(TRUTHS[name].read_text(encoding="utf-8"))


@cache
def found(name: str) -> Reasoning:
    folder = HERE / name if (HERE / name / "case.csv").exists() else SAMPLE_CASES / name
    dossier, wrong = read(folder)
    assert wrong == []
    return reason(dossier)


@pytest.mark.parametrize("name", TRUTHS)
def test_the_leaders_are_those_of_the_truth(name: str) -> None:
    leaders = truth(name)["leaders"]
    assert {c.cause for c in found(name).candidates[: len(leaders)]} == set(leaders)


@pytest.mark.parametrize("name", TRUTHS)
def test_a_case_is_inconclusive_only_where_its_truth_says_so(name: str) -> None:
    assert found(name).inconclusive is truth(name)["inconclusive"]


@pytest.mark.parametrize("name", TRUTHS)
def test_nothing_is_graded_firmly_that_the_truth_does_not_name(name: str) -> None:
    said = truth(name)
    firm = {c.cause for c in found(name).candidates if c.grade in FIRM}
    assert firm <= {*said["leaders"], *said["joint"], *said["contributory"]}
    assert bool(firm) is not said["inconclusive"]


@pytest.mark.parametrize("name", TRUTHS)
def test_what_the_truth_closes_is_no_serious_rival(name: str) -> None:
    lead = found(name).candidates[0].points
    closed = set(truth(name)["closed"])
    rivals = {c.cause: c.points for c in found(name).candidates if c.cause in closed}
    assert all(points < lead / 2 for points in rivals.values()), rivals


def test_every_finding_of_the_bottling_hall_comes_out_of_its_records() -> None:
    said = truth("bottling-hall-floor")["observations"]
    values = {f.key: f.value for f in found("bottling-hall-floor").findings}
    assert len(said) > 50
    assert {key: values[key] for key in said} == said
