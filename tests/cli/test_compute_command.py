"""`workbench compute`: results in words and as JSON, refusals in one sentence."""

import json
from pathlib import Path

import pytest
from builders import make

from workbench.cli.main import main
from workbench.desk.acts import Add
from workbench.desk.case import Case
from workbench.records import CaseEntry


def test_a_result_is_said_with_formula_and_source(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["compute", "dew-point", "air=16", "humidity=71", "surface=13"]) == 0
    said = capsys.readouterr().out
    assert "10.8 °C" in said
    assert "less than asked for" in said
    assert "Formula: " in said
    assert "Source: ASHRAE Fundamentals 2017" in said


def test_json_has_every_result_with_its_unit(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["compute", "salts", "extract=25", "blank=3", "volume=3", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["calculator"] == "salts"
    first = found["results"][0]
    assert (first["name"], first["unit"], first["shown"]) == ("salts", "mg/m2", "26.4 mg/m²")
    assert first["value"] == pytest.approx(26.4)
    assert found["sources"]


def test_units_may_be_chosen(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["compute", "stress", "fixture=2", "force=1000", "--units", "us"]) == 0
    assert "320 psi" in capsys.readouterr().out


def test_without_a_name_all_calculators_are_listed(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["compute"]) == 0
    said = capsys.readouterr().out
    assert "dew-point" in said
    assert "Moisture emission rate" in said


@pytest.mark.parametrize(
    ("words", "wrong"),
    [
        (["sun-dial"], "there is no calculator “sun-dial”"),
        (["dew-point", "21"], "“21” is no input; write name=value"),
        (["dew-point", "air=cold", "humidity=50"], "“cold” is not a number"),
        (["dew-point", "air=1", "humidity=50", "--units", "cgs"], "“cgs” are no units"),
    ],
)
def test_what_cannot_be_computed_is_refused_in_one_sentence(
    words: list[str], wrong: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["compute", *words]) == 2
    told = capsys.readouterr().err
    assert wrong in told
    assert told.count("\n") == 1


def test_the_choices_of_a_case_hold(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = tmp_path / "floor.case"
    with Case.create(folder, author="A. Tester") as case:
        chosen = make(CaseEntry, key="setting emission_rule", value="dish not deducted")
        case.do(Add((chosen, make(CaseEntry, key="units", value="US"))))
    words = ["compute", "emission", "gained=3", "hours=72", "--case", str(folder)]
    assert main(words) == 0
    assert "4.54 lb/(1000 ft²·24 h)" in capsys.readouterr().out
