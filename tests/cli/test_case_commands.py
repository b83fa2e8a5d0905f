"""`new`, `verify` and `check`: what they say, and by which exit code."""

import json
import shutil
from pathlib import Path

import pytest
from builders import make

from workbench.cli.main import main
from workbench.desk.acts import Add, FileToKeep, Keep
from workbench.desk.case import Case
from workbench.records import PullOff

Captured = pytest.CaptureFixture[str]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    made = tmp_path / "a.case"
    with Case.create(made, author="Ann") as case:
        case.do(Add((make(PullOff, ref="P1"),)))
        case.do(Keep((FileToKeep("issued/R1.docx", b"as issued"),)))
    return made


def test_a_new_case_says_what_was_said_of_it(tmp_path: Path, capsys: Captured) -> None:
    path = tmp_path / "mill.case"
    words = ["--title", "Mill Lane", "--reference", "24-017", "--client", "Owner",
             "--site", "Hall 2", "--time-zone", "Europe/London", "--by", "Ann"]  # fmt: skip
    assert main(["new", str(path), *words]) == 0
    assert capsys.readouterr().out == f"{path} is made.\n"
    with Case.open(path) as case:
        said = [case.dossier.entry(key) for key in ("title", "reference", "client", "site")]
        assert said == ["Mill Lane", "24-017", "Owner", "Hall 2"]
        assert str(case.dossier.zone) == "Europe/London"
        assert case.journal()[0].who == "Ann"


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["mill"], "the name of a case ends in .case; try mill.case"),
        (["mill.case", "--time-zone", "Mars"], "“Mars” is no time zone"),
        (["a.case"], "choose another name"),
    ],
)
def test_a_case_that_cannot_be_made_so_is_refused(
    folder: Path, capsys: Captured, monkeypatch: pytest.MonkeyPatch, words: list[str], told: str
) -> None:
    monkeypatch.chdir(folder.parent)
    assert main(["new", *words]) == 2
    assert told in capsys.readouterr().err
    assert [one.name for one in folder.parent.iterdir()] == ["a.case"]


def test_an_unchanged_case_is_said_to_be_with_its_heads_and_limits(
    folder: Path, capsys: Captured
) -> None:
    assert main(["verify", str(folder)]) == 0
    said = capsys.readouterr().out
    assert "Unchanged since it was recorded: 2 journal entries; 0 custody ledger entries" in said
    with Case.open(folder) as case:
        assert f"Journal head {case.heads.journal}\n" in said
    assert "What this cannot tell:" in said
    assert "by the clock of this computer" in said


def test_a_changed_original_is_named_with_exit_code_1(folder: Path, capsys: Captured) -> None:
    with Case.open(folder) as case:
        path = case.original("issued/R1.docx")
    assert path is not None
    path.chmod(0o644)
    path.write_bytes(b"as edited")
    assert main(["verify", str(folder), "--json"]) == 1
    said = json.loads(capsys.readouterr().out)
    assert said["unchanged"] is False
    assert said["findings"][0]["where"] == "issued/R1.docx"
    assert main(["verify", str(folder)]) == 1
    assert "CHANGED  issued/R1.docx: the original has changed since" in capsys.readouterr().out


def test_a_report_that_was_edited_after_it_was_put_out_is_named(
    folder: Path, capsys: Captured
) -> None:
    (folder / "issued" / "R1.docx").write_bytes(b"as issued")
    assert main(["verify", str(folder)]) == 0
    (folder / "issued" / "R1.docx").write_bytes(b"as edited")
    assert main(["verify", str(folder)]) == 1
    assert "issued/R1.docx: was edited after it was put out" in capsys.readouterr().out


def test_a_head_printed_elsewhere_finds_what_was_cut_off(folder: Path, capsys: Captured) -> None:
    early = folder.parent / "early.case"
    shutil.copytree(folder, early)
    with Case.open(folder) as case:
        case.do(Add((make(PullOff, ref="P2"),)))
        head = str(case.heads.journal)
    assert main(["verify", str(early)]) == 0
    assert main(["verify", str(early), "--head", head]) == 1
    assert "contradicts this case" in capsys.readouterr().out
    assert main(["verify", str(folder), "--head", head]) == 0
    assert main(["verify", str(folder), "--head", "123"]) == 2
    assert "write HASH:COUNT" in capsys.readouterr().err


def test_the_outcome_of_a_check_is_written_down_when_asked(folder: Path) -> None:
    assert main(["verify", str(folder), "--record", "--by", "Ben"]) == 0
    with Case.open(folder) as case:
        last, undo_list = case.journal()[-1], case.undo_list
    assert last.who == "Ben"
    assert "unchanged since it was recorded (journal " in last.what
    assert undo_list == ("Added pull-off P1",)
    assert main(["verify", str(folder)]) == 0


def test_a_case_that_cannot_be_read_at_all_is_refused(tmp_path: Path, capsys: Captured) -> None:
    for command in ("verify", "check"):
        assert main([command, str(tmp_path)]) == 2
        assert "this is no case folder" in capsys.readouterr().err


def test_an_edited_cell_that_no_record_can_have_is_still_verified(
    folder: Path, capsys: Captured
) -> None:
    import sqlite3
    from contextlib import closing

    with closing(sqlite3.connect(folder / "case.sqlite")) as file:
        file.execute("UPDATE pull_off SET method = 'ISO 1'")
        file.commit()
    assert main(["verify", str(folder)]) == 1
    assert "method is “ISO 1”, the journal says “ASTM D4541”" in capsys.readouterr().out
    assert main(["check", str(folder)]) == 2
    assert "pull_off.method cannot be “ISO 1”; run" in capsys.readouterr().err


def test_many_findings_are_cut_short_before_a_person_and_whole_as_json(
    folder: Path, capsys: Captured
) -> None:
    import sqlite3
    from contextlib import closing

    with Case.open(folder) as case:
        case.do(Add(tuple(make(PullOff, ref=f"Q{number}") for number in range(60))))
    with closing(sqlite3.connect(folder / "case.sqlite")) as file:
        file.execute("UPDATE pull_off SET note = 'x'")
        file.commit()
    assert main(["verify", str(folder)]) == 1
    said = capsys.readouterr().out
    assert said.count("CHANGED") == 40
    assert "and 21 more; --json lists them all" in said
    assert main(["verify", str(folder), "--json"]) == 1
    assert len(json.loads(capsys.readouterr().out)["findings"]) == 61


def test_open_points_are_listed_with_exit_code_1(folder: Path, capsys: Captured) -> None:
    assert main(["check", str(folder)]) == 1
    said = capsys.readouterr().out
    assert "no question is put" in said
    assert said.splitlines()[-1].endswith(".")
    assert main(["check", str(folder), "--json"]) == 1
    points = json.loads(capsys.readouterr().out)["open_points"]
    assert {"sort", "chapter", "words", "remedy", "sources", "grave"} <= set(points[0])
