"""`workbench causes CASE`: what the records lead to, in words and as JSON."""

import json
from pathlib import Path

import pytest
from small_cases import SMALL_CASES
from tools.books import SAMPLE_CASES, read

from workbench.cli.main import main
from workbench.desk.acts import Add
from workbench.desk.case import Case
from workbench.records import Dossier


def kept(folder: Path, dossier: Dossier) -> Path:
    with Case.create(folder, author="A. Tester") as made:
        made.do(Add(dossier.everything()))
    return folder


@pytest.fixture(scope="module")
def filiform(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("cases") / "frames.case"
    return kept(folder, SMALL_CASES["aluminium-pretreatment-filiform"]())


@pytest.fixture(scope="module")
def quay(tmp_path_factory: pytest.TempPathFactory) -> Path:
    dossier, _ = read(SAMPLE_CASES / "quayside-steel")
    return kept(tmp_path_factory.mktemp("cases") / "quay.case", dossier)


def test_the_json_has_the_members_that_are_promised(
    filiform: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["causes", str(filiform), "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["inconclusive"] is False
    assert set(found) >= {"causes", "next_tests", "inconclusive"}
    for one in found["causes"]:
        assert set(one) >= {"id", "rank", "grade", "excluded_by", "for", "against", "unread"}
        assert all({"key", "value", "sources"} <= set(cell) for cell in one["for"])
    first = found["causes"][0]
    assert (first["id"], first["rank"]) == ("aluminium-pretreatment-filiform", 1)
    assert all(cell["sources"] for cell in first["for"])
    assert first["grade"] in {"established", "probable", "possible"}


def test_the_words_say_what_leads_what_is_excluded_and_what_to_read_next(
    filiform: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["causes", str(filiform)]) == 0
    told = capsys.readouterr().out
    assert "The evidence leads to" in told
    assert "Excluded, awaiting confirmation" in told
    assert "What would settle it" in told
    assert "This ." not in told


def test_an_inconclusive_case_needs_attention(
    quay: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["causes", str(quay), "--json"]) == 1
    found = json.loads(capsys.readouterr().out)
    assert found["inconclusive"] is True
    assert [one["rank"] for one in found["causes"][:3]] == [1, 1, 1]
    assert found["next_tests"][0]["test"] == "f-trial-patch"


def test_a_missing_case_is_one_sentence_and_exit_2(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["causes", str(tmp_path / "none.case")]) == 2
    assert capsys.readouterr().err.count("\n") == 1
