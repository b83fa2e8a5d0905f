"""`report`: what a person states under an item of the checklist, and what is left open."""

from pathlib import Path

import pytest
from builders import make

from workbench.cli.main import main
from workbench.desk.acts import Add
from workbench.desk.case import Case
from workbench.records import CaseEntry, Edition, Statement

Captured = pytest.CaptureFixture[str]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    made = tmp_path / "a.case"
    with Case.create(made, author="Ann") as case:
        case.do(Add((make(CaseEntry, key="reference", value="CF-7"),)))
    return made


def test_items_are_stated_and_left_open_with_a_reason(
    folder: Path, tmp_path: Path, capsys: Captured
) -> None:
    told = ["--state", "compensation=Nothing is paid.", "--without", "exhibits=None is offered."]
    wish = ["--profile", "us-federal", "--no-pdf", "--out", str(tmp_path), "--by", "Ann"]
    assert main(["report", str(folder), *wish, *told]) == 0
    said = capsys.readouterr().out
    assert "exhibits (Fed. R. Civ. P. 26(a)(2)(B)(iii)), left open for a written reason" in said
    assert "testimony (Fed. R. Civ. P. 26(a)(2)(B)(v)), hinders the issue" in said
    assert "compensation (" not in said
    with Case.open(folder) as case:
        assert {(one.key, one.by) for one in case.dossier.all(Statement)} == {
            ("compensation", "Ann"), ("without exhibits", "Ann"),
        }  # fmt: skip


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["--out", "report.txt"], "end its name in .docx, or name a folder that is there"),
        (["--out", "no/folder/report.docx"], "there is no such folder"),
        (["--styles", "styles.toml"], "give that too"),
    ],
)
def test_what_cannot_be_written_enters_no_check(
    folder: Path, words: list[str], told: str, capsys: Captured
) -> None:
    assert main(["report", str(folder), "--check", "--by", "Ann", *words]) == 2
    assert told in capsys.readouterr().err
    with Case.open(folder) as case:
        assert not case.dossier.all(Edition)


def test_an_item_without_a_reason_is_refused(folder: Path, capsys: Captured) -> None:
    words = ["--profile", "general", "--without", "title="]
    assert main(["report", str(folder), *words]) == 2
    assert "write what is to stand in the report for “title”" in capsys.readouterr().err
