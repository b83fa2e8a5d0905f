"""Custody by command: who holds what, papers, labels, and two places."""

import json
from pathlib import Path

import pytest
from builders import make

from workbench.cli.main import main
from workbench.desk.acts import Add
from workbench.desk.case import Case
from workbench.records import CaseEntry, CustodyEntry, Party, Sample


def entry(when: str, event: str, giver: str, receiver: str) -> CustodyEntry:
    return make(
        CustodyEntry, sample="S-01", when=when, event=event, giver=giver, receiver=receiver,
        note="entered from the paper form",
    )  # fmt: skip


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    with Case.create(tmp_path / "a.case", author="Ann") as case:
        case.do(
            Add(
                (
                    make(CaseEntry, key="reference", value="CF-7"),
                    make(Party, name="Lab", role="laboratory"),
                    make(Sample, ref="S-01"),
                    entry("2026-03-01 09:00", "collected", "", "Ann"),
                    entry("2026-03-02 09:00", "handed_over", "Ann", "Lab"),
                )
            )
        )
    return tmp_path / "a.case"


def test_custody_in_order_exits_with_nothing_found(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["custody", str(folder), "--json"]) == 0
    said = json.loads(capsys.readouterr().out)
    assert said["samples"][0]["holder"] == "Lab"
    assert said["breaches"] == []
    assert said["ledger"].endswith(":2")


def test_a_case_without_samples_claims_nothing(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    Case.create(tmp_path / "new.case", author="Ann").close()
    assert main(["custody", str(tmp_path / "new.case")]) == 0
    said = capsys.readouterr().out
    assert "No sample is recorded." in said
    assert "holds" not in said


def test_a_broken_chain_exits_with_findings_and_names_them(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with Case.open(folder) as case:
        case.do(Add((entry("2026-03-03 09:00", "handed_over", "Zed", "Ann"),)))
    assert main(["custody", str(folder)]) == 1
    assert "BROKEN  S-01: Zed gives it, Lab holds it" in capsys.readouterr().out


def test_verify_names_a_broken_chain_of_custody(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["verify", str(folder)]) == 0
    with Case.open(folder) as case:
        case.do(Add((entry("2026-03-03 09:00", "handed_over", "Zed", "Ann"),)))
    capsys.readouterr()
    assert main(["verify", str(folder)]) == 1
    assert "CUSTODY  S-01: Zed gives it, Lab holds it" in capsys.readouterr().out


def test_form_and_labels_are_written(folder: Path, tmp_path: Path) -> None:
    form, labels = tmp_path / "form.docx", tmp_path / "labels.pdf"
    assert main(["custody", str(folder), "--form", str(form), "--labels", str(labels)]) == 0
    assert form.read_bytes().startswith(b"PK")
    assert labels.read_bytes().startswith(b"%PDF")


def test_a_form_is_never_written_over_another_file(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    form = tmp_path / "form.docx"
    form.write_bytes(b"signed by both")
    assert main(["custody", str(folder), "--form", str(form)]) == 2
    assert "form.docx is there already; choose another name" in capsys.readouterr().err
    assert form.read_bytes() == b"signed by both"


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["--labels", "x.pdf", "--stock", "none"], "no label stock"),
        (["--form", "x.docx", "--sample", "S-9"], "no sample S-9"),
        (["--labels", "x.pdf", "--first-place", "99"], "places 1 to 21"),
        (["--labels", "x.txt"], "x.txt: end its name in .pdf"),
        (["--form", "x.pdf"], "x.pdf: end its name in .docx"),
    ],
)
def test_what_cannot_be_printed_is_refused_in_one_sentence(
    folder: Path, words: list[str], told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["custody", str(folder), *words]) == 2
    assert told in capsys.readouterr().err
    assert not Path(words[1]).exists()


def test_out_in_a_bag_and_joined_there(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    bag, there = tmp_path / "bag", tmp_path / "lab.case"
    assert main(["hand-over", str(folder), str(bag), "--to", "Lab"]) == 0
    assert main(["new", str(there)]) == 0
    assert main(["join", str(there), str(bag), "--json"]) == 0
    shown = capsys.readouterr().out
    assert '"S-01 · 2026-03-01 09:00 · collected"' in shown
    with Case.open(there) as case:
        assert case.dossier.all(Sample) == ()
    assert main(["join", str(there), str(bag), "--yes"]) == 0
    with Case.open(there) as case:
        assert len(case.dossier.all(CustodyEntry)) == 2
    assert main(["join", str(there), str(tmp_path), "--yes"]) == 2


def test_the_receiving_desk_needs_a_screen(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["receive", str(folder)]) == 2
    assert "needs a screen" in capsys.readouterr().err
    asked: list[tuple[Path | None, str]] = []

    def window(case: Path | None, page: str) -> int:
        asked.append((case, page))
        return 0

    assert main(["receive", str(folder)], window=window) == 0
    assert asked == [(folder, "receiving")]
