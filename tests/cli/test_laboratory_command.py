"""`workbench laboratory CASE|FILE`: what curves, pictures and tables show, in words and as JSON."""

import json
from pathlib import Path

import pytest

from workbench.cli.main import main
from workbench.desk.intake import make_from_book
from workbench.resources import sample_case

LAB = sample_case("bottling-hall-floor") / "lab"


@pytest.fixture(scope="module")
def case(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("cases") / "floor.case"
    return make_from_book(folder, sample_case("bottling-hall-floor"), author="A. Tester")


def test_the_sample_case_has_something_of_everything(
    case: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["laboratory", str(case), "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    empty = {name for name, rows in found.items() if not rows}
    assert empty == {"problems"}
    assert "V or Ba for Ti" in found["warnings"][0]["words"]
    assert [one["within"] for one in found["checks"]] == [True] * 10
    (second,) = [one for one in found["transitions"] if one["ref"] == "TG-2"]
    assert second["celsius"] == pytest.approx(63.0, abs=0.3)
    assert "transition_reading TG-2" in second["sources"]
    cures = {one["ref"]: one["degree_of_cure"] for one in found["peaks"]}
    assert cures["PK-1"] == cures["PK-2"] == pytest.approx(0.981, abs=5e-4)
    assert {one["degree_of_cure_at_least"] for one in found["peaks"]} == {True, None}
    assert next(one for one in found["colours"] if one["ref"] == "CR-4")["indicative"]


def test_in_words_each_part_has_its_title_and_what_it_cannot_tell(
    case: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["laboratory", str(case)]) == 0
    said = capsys.readouterr().out
    for words in ("Infrared spectra (6)", "First and second heat (2)", "Checks of the instruments",
                  "What it can and cannot tell", "cured when it was loaded"):  # fmt: skip
        assert words in said


def test_a_file_outside_a_case_is_read_and_its_peaks_labelled(
    capsys: pytest.CaptureFixture[str],
) -> None:
    path = LAB / "s-02-back-of-seal-coat.emsa"
    assert main(["laboratory", str(path), "--elements", "Ti,Ba", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert "Ti Kα / Ba Lα" in {peak["label"] for peak in found["curves"][0]["peaks"]}
    assert "cannot be told apart" in found["curves"][0]["warnings"][0]


def test_a_file_with_words_among_its_numbers_is_told_with_exit_1(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "bad.csv"
    path.write_text("T;Q\n20;1\n21;n/a\n", "utf-8")
    assert main(["laboratory", str(path)]) == 1
    assert "line 3" in capsys.readouterr().out
    assert main(["laboratory", str(tmp_path / "gone.csv")]) == 2


@pytest.mark.parametrize(
    ("name", "proposed"), [("s-04-dsc.csv", 63.0), ("polystyrene-dsc.csv", 107.4)]
)
def test_a_thermogram_outside_a_case_has_its_transition_proposed(
    name: str, proposed: float, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["laboratory", str(LAB / name), "--json"]) == 0
    curve = json.loads(capsys.readouterr().out)["curves"][0]
    assert curve["proposed"]["half step height"] == pytest.approx(proposed, abs=0.5)
    assert curve["exotherm_up"] is True
