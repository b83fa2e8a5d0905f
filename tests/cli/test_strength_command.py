"""`workbench strength CASE`: the groups and comparisons, in words and as JSON."""

import json
from pathlib import Path

import pytest
from bottling_hall import bottling_hall

from workbench.cli.main import main
from workbench.desk.acts import Add
from workbench.desk.case import Case

GROUP_KEYS = {
    "condition", "plane", "n", "broke_here", "at_least", "at_most", "median_mpa", "low_mpa",
    "high_mpa", "confidence", "method", "sources",
}  # fmt: skip


@pytest.fixture(scope="module")
def case(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("cases") / "floor.case"
    with Case.create(folder, author="A. Tester") as made:
        made.do(Add(bottling_hall().everything()))
    return folder


def test_the_json_has_every_group_with_its_sources(
    case: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["strength", str(case), "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert set(found) >= {"groups", "comparisons", "left_out"}
    assert all(set(group) >= GROUP_KEYS for group in found["groups"])
    (weak,) = [
        group for group in found["groups"]
        if (group["condition"], group["plane"]) == ("failing", "C/D")
    ]  # fmt: skip
    assert weak["method"] == "estimate"
    assert 0.4 < weak["low_mpa"] < weak["median_mpa"] < weak["high_mpa"] < 0.9
    assert weak["n"] == weak["broke_here"] + weak["at_least"] + weak["at_most"]
    assert len(weak["sources"]) == weak["n"]


def test_what_was_left_out_is_told_with_its_reason(
    case: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    main(["strength", str(case), "--json"])
    found = json.loads(capsys.readouterr().out)
    assert [one["source"] for one in found["left_out"]] == ["P-32"]
    assert found["left_out"][0]["wrong"] == "no reading is recorded"


def test_comparisons_give_effect_then_interval_then_p(
    case: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    main(["strength", str(case), "--json"])
    comparisons = json.loads(capsys.readouterr().out)["comparisons"]
    assert any(one["quantity"].startswith("strength of C/D") for one in comparisons)
    assert any(one["quantity"] == "rating by ASTM D6677" for one in comparisons)
    for one in comparisons:
        names = list(one)
        assert names.index("value") < names.index("low") < names.index("p")


def test_in_words_no_letter_stands_alone(case: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["strength", str(case)]) == 0
    said = capsys.readouterr().out
    assert "C/D, Body SF to Seal AP" in said
    assert "18 of 18 parted here, 3 of them before load" in said
    assert "Left out: 1 pull" in said
    assert "usual means, the strength of no plane: " in said
    assert "failing against non-failing: ratio of medians at most 0.2" in said


def test_a_folder_that_is_no_case_is_refused_in_one_sentence(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["strength", str(tmp_path)]) == 2
    assert len(capsys.readouterr().err.strip().splitlines()) == 1


def test_a_case_without_pulls_says_so_and_nothing_else(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    Case.create(tmp_path / "new.case", author="A. Tester").close()
    assert main(["strength", str(tmp_path / "new.case")]) == 0
    assert capsys.readouterr().out.strip() == "No pull-off is recorded."


def test_places_for_further_pulls_are_drawn_into_a_new_field_book(
    case: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    from workbench.exchange.field_book.reading import read_book
    from workbench.records import Location

    book = tmp_path / "more.xlsx"
    words = ["strength", str(case), "--more", "B2=4", "--more", "B6=2", "--book", str(book)]
    assert main(words) == 0
    assert "6 places to pull at" in capsys.readouterr().out
    places = [one for one in read_book(book).records if isinstance(one, Location)]
    assert [place.area for place in places] == ["B2"] * 4 + ["B6"] * 2
    assert all(place.chosen.startswith("at random within") for place in places)


@pytest.mark.parametrize(
    ("more", "said"),
    [("B2", "“B2” is not an area and a number"), ("B9=3", "area “B9” is not in the case")],
)
def test_a_plan_that_cannot_be_drawn_is_refused(
    case: Path, tmp_path: Path, more: str, said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    book = tmp_path / "more.xlsx"
    assert main(["strength", str(case), "--more", more, "--book", str(book)]) == 2
    assert said in capsys.readouterr().err
    assert not book.exists()
