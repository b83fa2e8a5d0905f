"""The road of a case from its field book to its report, by the command line alone."""

import csv
import re
import shutil
from pathlib import Path
from typing import Any

import pytest
from docx import Document
from tools.books import SAMPLE_CASES
from tools.terminal import Answer, Terminal

CASE = "bottling-hall-floor.case"
BOOK = SAMPLE_CASES / "bottling-hall-floor"


@pytest.fixture(scope="module")
def terminal(tmp_path_factory: pytest.TempPathFactory) -> Terminal:
    """A terminal in a folder where the sample case has been made."""
    there = Terminal(tmp_path_factory.mktemp("road"))
    made = there.run("example", "bottling-hall-floor")
    assert made.code == 0, made.told
    return there


@pytest.fixture(scope="module")
def issued(terminal: Terminal) -> Answer:
    return terminal.run("report", CASE, "--no-pdf")


def strength(terminal: Terminal, case: str = CASE) -> dict[tuple[str, str], dict[str, Any]]:
    answer = terminal.run("strength", case, "--json")
    assert answer.code == 0, answer.told
    return {(g["condition"], g["plane"]): g for g in answer.json["groups"]}


def copied_book(folder: Path) -> Path:
    return Path(shutil.copytree(BOOK, folder / "book"))


def changed(book: Path, sheet: str, line: int, heading: str, value: str) -> None:
    path = book / f"{sheet}.csv"
    with path.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    rows[line][heading] = value
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, rows[0].keys())
        writer.writeheader()
        writer.writerows(rows)


def test_the_example_is_a_folder_with_a_case_in_it(terminal: Terminal) -> None:
    folder = terminal.folder / CASE
    assert (folder / "case.sqlite").is_file()
    kept = [p for p in (folder / "originals").rglob("*") if p.is_file()]
    assert len(kept) >= 25  # 24 pictures and the plan


def test_a_second_example_does_not_overwrite_the_first(terminal: Terminal) -> None:
    before = (terminal.folder / CASE / "case.sqlite").read_bytes()
    again = terminal.run("example", "bottling-hall-floor")
    assert again.code == 2
    assert CASE in again.told
    assert (terminal.folder / CASE / "case.sqlite").read_bytes() == before


def test_strength_names_the_weak_plane_and_its_sources(terminal: Terminal) -> None:
    groups = strength(terminal)
    weak, sound = groups["failing", "C/D"], groups["non-failing", "C/D"]
    assert (weak["n"], weak["broke_here"], weak["at_most"]) == (18, 15, 3)
    assert 0.4 < weak["median_mpa"] < 0.8 < sound["low_mpa"]
    assert "P-01" in weak["sources"]
    assert sound["broke_here"] == 0


def test_a_case_is_unchanged_right_after_it_is_made(terminal: Terminal) -> None:
    answer = terminal.run("verify", CASE, "--json")
    assert answer.code == 0
    assert answer.json["unchanged"] is True


def test_check_tells_the_open_points(terminal: Terminal) -> None:
    answer = terminal.run("check", CASE)
    assert answer.code == 1
    for ref in ("P-32", "P-39", "S-06", "DOC-18"):
        assert ref in answer.said


def test_the_cause_leads_with_sources_and_its_rivals_are_closed(terminal: Terminal) -> None:
    answer = terminal.run("causes", CASE, "--json")
    assert answer.code == 0, answer.told
    causes = {one["id"]: one for one in answer.json["causes"]}
    assert answer.json["inconclusive"] is False
    lead = causes["recoat-window-exceeded"]
    assert (lead["rank"], lead["grade"]) == (1, "established")
    assert all(one["sources"] for one in lead["for"])
    for rival in ("moisture-vapour-transmission", "condensation-dew-point"):
        assert causes[rival]["excluded_by"]


def test_custody_says_who_holds_each_sample(terminal: Terminal) -> None:
    answer = terminal.run("custody", CASE, "--json")
    held = {one["sample"]: one["holder"] for one in answer.json["samples"]}
    assert len(held) == 19
    assert held["S-12"] == "R. Tennick"
    assert held["S-01"] == "Quillmoor Laboratory"


@pytest.mark.parametrize("name", ["balcony-balustrades", "quayside-steel"])
def test_the_other_examples_go_the_same_road(name: str, tmp_path: Path) -> None:
    there = Terminal(tmp_path)
    assert there.run("example", name).code == 0
    case = f"{name}.case"
    causes = there.run("causes", case, "--json")
    assert causes.json["inconclusive"] is (name == "quayside-steel")
    assert causes.code == (1 if name == "quayside-steel" else 0)
    assert there.run("report", case, "--no-pdf").code == 0
    assert there.run("verify", case).code == 0


def test_an_unknown_example_is_told_with_those_there_are(tmp_path: Path) -> None:
    answer = Terminal(tmp_path).run("example", "swimming-pool")
    assert answer.code == 2
    assert "bottling-hall-floor" in answer.told


def test_the_report_opens_in_word_and_says_the_plane_in_words(
    terminal: Terminal, issued: Answer
) -> None:
    assert issued.code == 0, issued.told
    (path,) = [p for p in terminal.folder.rglob("*.docx") if not p.name.startswith("~")]
    document = Document(str(path))
    words = "\n".join(p.text for p in document.paragraphs)
    cells = "\n".join(c.text for t in document.tables for r in t.rows for c in r.cells)
    assert "invented" in words + cells
    assert re.search(r"C/D, \w+", words + cells)
    assert len(document.inline_shapes) >= 24
    assert "python-docx" not in document.core_properties.comments


def test_the_case_is_unchanged_after_its_report(terminal: Terminal, issued: Answer) -> None:
    assert issued.code == 0
    assert terminal.run("verify", CASE).code == 0


def test_the_same_book_again_changes_nothing(terminal: Terminal) -> None:
    before = terminal.run("verify", CASE, "--json").json["journal"]
    again = terminal.run("import", CASE, str(BOOK), "--yes")
    assert again.code == 0, again.told
    assert terminal.run("verify", CASE, "--json").json["journal"] == before


def test_a_changed_book_shows_the_difference_and_waits(terminal: Terminal, tmp_path: Path) -> None:
    book = copied_book(tmp_path)
    changed(book, "pull-off", 31, "reading", "0.9 MPa")
    shown = terminal.run("import", CASE, str(book), "--dry-run")
    assert "P-32" in shown.said
    assert "0.9" in shown.said
    assert strength(terminal)["failing", "C/D"]["n"] == 18


def test_a_changed_book_is_taken_in_when_it_is_said_so(tmp_path: Path) -> None:
    there = Terminal(tmp_path)
    assert there.run("new", "floor.case").code == 0
    assert there.run("import", "floor.case", str(BOOK), "--yes").code == 0
    book = copied_book(tmp_path)
    changed(book, "pull-off", 31, "reading", "0.9 MPa")
    taken = there.run("import", "floor.case", str(book), "--yes")
    assert taken.code == 0, taken.told
    assert strength(there, "floor.case")["failing", "C/D"]["n"] == 19
    assert there.run("verify", "floor.case").code == 0


def test_a_broken_book_is_told_and_leaves_the_case_untouched(tmp_path: Path) -> None:
    there = Terminal(tmp_path)
    assert there.run("new", "floor.case").code == 0
    before = there.run("verify", "floor.case", "--json").json["journal"]
    book = copied_book(tmp_path)
    changed(book, "pull-off", 1, "breaks", "C/D 92; D 5")
    changed(book, "ratings", 0, "location", "L999")
    answer = there.run("import", "floor.case", str(book), "--yes")
    assert answer.code in (1, 2)
    told = answer.said + answer.told
    assert "97" in told
    assert "L999" in told
    assert there.run("verify", "floor.case", "--json").json["journal"] == before


def test_one_flipped_bit_in_an_original_is_found(terminal: Terminal, tmp_path: Path) -> None:
    copy = tmp_path / "copy.case"
    shutil.copytree(terminal.folder / CASE, copy)
    original = max((p for p in (copy / "originals").rglob("*") if p.is_file()), key=_size)
    original.chmod(0o644)
    content = bytearray(original.read_bytes())
    content[len(content) // 2] ^= 1
    original.write_bytes(content)
    answer = terminal.run("verify", str(copy))
    assert answer.code == 1
    assert original.name[:12] in answer.said or "photos/" in answer.said


def _size(path: Path) -> int:
    return path.stat().st_size


def test_a_stranger_is_refused_in_one_sentence(terminal: Terminal, tmp_path: Path) -> None:
    stranger = tmp_path / "letter.case"
    stranger.mkdir()
    (stranger / "case.sqlite").write_text("Dear Sir", encoding="utf-8")
    answer = terminal.run("verify", str(stranger))
    assert answer.code in (1, 2)
    assert "Traceback" not in answer.told
