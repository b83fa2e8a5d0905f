"""`workbench rules` and `workbench limits`: what holds, where from, and what it decides."""

import json
from pathlib import Path

import pytest
from builders import make

from workbench.cli.main import main
from workbench.desk.acts import Add
from workbench.desk.case import Case
from workbench.records import Area, Limit, Location, Measurement

Said = pytest.CaptureFixture[str]


@pytest.fixture
def case(tmp_path: Path) -> str:
    records = [
        make(Area, ref="A1", condition="failing"),
        make(Location, ref="L1", area="A1"),
        make(Limit, quantity="soluble_salts", maximum="50 mg/m2", source_text="DOC-1 clause 4"),
        make(
            Measurement, ref="M1", location="L1", quantity="soluble_salts", value="6 ug/cm2",
            method="f-salts",
        ),
    ]  # fmt: skip
    with Case.create(tmp_path / "one.case", author="Ann") as made:
        made.do(Add(tuple(records)))
    return str(tmp_path / "one.case")


def test_nothing_fails_until_a_rule_is_chosen_and_then_the_limit_says_why(
    case: str, capsys: Said
) -> None:
    assert main(["limits", case]) == 0
    told = capsys.readouterr().out
    assert "at most 50 mg/m²" in told
    assert "DOC-1 clause 4" in told
    assert "1 result, 60 mg/m²" in told
    assert "No decision rule is chosen" in told
    choice = ["--choose", "decision_rule=simple", "--why", "as agreed", "--by", "Ann"]
    assert main(["rules", case, *choice]) == 0
    assert "1 chosen otherwise" in capsys.readouterr().out
    assert main(["limits", case, "--json"]) == 1
    (found,) = json.loads(capsys.readouterr().out)["limits"]
    assert (found["verdict"], found["rule"], found["clause"]) == (
        "fail",
        "simple",
        "DOC-1 clause 4",
    )
    assert [one["source"] for one in found["results"]] == ["measurement M1"]


def test_every_rule_is_listed_with_its_source_and_those_chosen_are_marked(
    case: str, capsys: Said
) -> None:
    assert main(["rules", case, "--json"]) == 0
    held = json.loads(capsys.readouterr().out)["rules"]
    assert all(one["asks"] and one["source"] for one in held)
    assert main(["rules", case, "--choose", "tie=3", "--why", "closer", "--by", "Ann"]) == 0
    lines = capsys.readouterr().out.splitlines()
    (marked,) = [line for line in lines if line.startswith("*")]
    assert len([line for line in lines if line[2:].partition(":")[0].isidentifier()]) == 1
    assert "tie:" in marked
    assert "usual 2 points" in marked
    assert main(["rules", case, "--usual", "tie", "--why", "no", "--by", "Ann"]) == 0
    assert not [line for line in capsys.readouterr().out.splitlines() if line.startswith("*")]


def test_rules_are_listed_in_groups_by_what_they_decide(case: str, capsys: Said) -> None:
    assert main(["rules", case]) == 0
    lines = capsys.readouterr().out.splitlines()
    at = [lines.index(title) for title in ("Field tests:", "Reasoning:")]
    named = [lines.index(next(one for one in lines if one[2:].startswith(f"{name}:")))
             for name in ("decision_rule", "tie")]  # fmt: skip
    assert at[0] < named[0] < at[1] < named[1]


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["--choose", "tie=abc", "--why", "x"], "a number"),
        (["--choose", "tie=3"], "printed"),
        (["--usual", "tie", "--why", "x"], "usual rule holds"),
        (["--choose", "tie=3", "--usual", "tie"], "not both"),
    ],
)
def test_what_cannot_be_chosen_is_one_sentence_and_exit_2(
    case: str, words: list[str], told: str, capsys: Said
) -> None:
    assert main(["rules", case, *words]) == 2
    assert told in capsys.readouterr().err
