"""A case from its first page to its report on a real screen, with nothing but a keyboard.

What counts is what stands in the case afterwards, and what was seen on the screen on the way.
"""

import csv
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from docx import Document
from tools.books import SAMPLE_CASES
from tools.screen import Person, missing_programs, screen, until

from workbench.desk.case import Case
from workbench.records import Dossier, Photo, PhotoMark, PullOff

REFERENCE = "BH-2024-11"
"""How the book calls the case; the person called it otherwise, and the book corrects it."""
WATCHED = Path(__file__).parents[1] / "tools" / "watched_window.py"
WRONG = (
    ("pull-off", "P-01", "breaks", "C/D 90"),
    ("pull-off", "P-02", "location", "L999"),
    ("ratings", "K-01", "rating", "much"),
)


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """The sample's field book with three problems."""
    made = Path(shutil.copytree(SAMPLE_CASES / "bottling-hall-floor", tmp_path / "book"))
    for sheet, ref, heading, value in WRONG:
        change(made, sheet, ref, heading, value)
    return made


def change(book: Path, sheet: str, ref: str, heading: str, value: str) -> str:
    """Write into a cell of the book, as a person does in a spreadsheet; return what was there."""
    path = book / f"{sheet}.csv"
    with path.open(newline="", encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    before = ""
    for row in rows:
        if row["ref"] == ref:
            before, row[heading] = row[heading], value
    with path.open("w", newline="", encoding="utf-8") as file:
        writer = csv.DictWriter(file, list(rows[0]))
        writer.writeheader()
        writer.writerows(rows)
    return before


@pytest.fixture
def person(tmp_path: Path) -> Iterator[Person]:
    if missing := missing_programs():
        pytest.skip(f"not installed: {', '.join(missing)}")
    state, errors = tmp_path / "seen.json", tmp_path / "errors.txt"
    with screen() as surroundings, errors.open("w") as told:
        home = surroundings | {"HOME": str(tmp_path), "XDG_CONFIG_HOME": str(tmp_path / "config")}
        program = subprocess.Popen(
            [sys.executable, str(WATCHED), str(state)], env=home, stderr=told,
            cwd=Path(__file__).parents[2],
        )  # fmt: skip
        try:
            yield Person(surroundings, state)
        finally:
            program.terminate()
            program.wait(30)
    said = errors.read_text()
    assert "Traceback" not in said, said
    assert "Qt" not in said, said


def make_the_case(person: Person, folder: Path) -> None:
    person.face("Coating-failure workbench")
    person.tab_to("Reference")
    for text in ("CF-7", "Bottling hall", "Example Foods", "Hall 2"):
        person.write(text)
        person.press("Tab")
    person.press("Tab")
    person.tab_to("Your name")
    person.write("Ann")
    person.press("Tab", "space")
    person.face("Folder in which")
    person.press("ctrl+a")
    person.write(str(folder))
    person.press("Return")
    person.face("CF-7")
    person.waits(lambda seen: seen.get("case") == "CF-7")


def take_the_book_in(person: Person, book: Path) -> None:
    person.press("ctrl+k")
    person.write("folder of csv")
    person.press("Return")
    person.face("Folder of CSV")
    person.press("ctrl+a")
    person.write(str(book))
    person.press("Return")
    person.face("CF-7")
    person.waits(lambda seen: seen["page"] == "taking-in" and seen["idle"] and seen["problems"])
    assert len(person.sees["problems"]) == len(WRONG)
    right = {("P-01", "breaks"): "C/D 90; D 10", ("P-02", "location"): "L302",
             ("K-01", "rating"): "2"}  # fmt: skip
    for sheet, ref, heading, _ in WRONG:
        change(book, sheet, ref, heading, right[ref, heading])
    person.press("space")  # on "Read it again"
    person.waits(lambda seen: seen["idle"] and not seen["problems"])
    person.press("space")  # on "Take in"
    person.waits(lambda seen: seen["page"] != "taking-in")
    person.face(REFERENCE)


def add_a_pull_off(person: Person) -> None:
    person.press("ctrl+k")
    person.write("pull-off P-05")
    person.press("Return")
    person.waits(lambda seen: seen["page"] == "pull_off")
    person.press("Insert")
    person.tab_to("ref")
    for name, text in (
        ("ref", "P-90"), ("location", "L301"), ("date", "2024-12-06"), ("method", "ASTM D7234"),
        ("fixture", "50 mm"), ("reading", "0.7 MPa"), ("breaks", "C/D 80; D 20"),
    ):  # fmt: skip
        person.tab_to(name)
        person.write(text)
    person.press("Tab", "ctrl+Return")
    person.waits(lambda seen: "pull_off P-90" in " ".join(seen["lit"]) or "P-90" in seen["told"])


def mark_a_photograph(person: Person) -> None:
    person.press("ctrl+k")
    person.write("PH-03")
    person.press("Return")
    person.waits(lambda seen: seen["page"] == "photo")
    person.press("Return")
    person.waits(lambda seen: seen["focus"].startswith("Photograph with its marks"))
    person.press("r", "space", "shift+Right", "shift+Right", "space")


def link_the_photograph(person: Person) -> None:
    person.press("ctrl+k")
    person.write("PH-03")
    person.press("Return")
    person.tab_to("at")
    person.press("ctrl+a")
    person.write("L301")
    person.press("Tab")  # takes the name that is offered
    person.tab_to("direction")
    person.press("ctrl+Return")


def records(folder: Path) -> Dossier:
    with Case.open(folder, read_only=True) as case:
        return case.dossier


def test_a_case_is_worked_by_keyboard_alone(person: Person, book: Path, tmp_path: Path) -> None:
    folder = tmp_path / "CF-7.case"
    make_the_case(person, tmp_path)
    take_the_book_in(person, book)
    add_a_pull_off(person)
    added = records(folder).find(PullOff, "P-90")
    assert added
    assert str(added.breaks) == "C/D 80; D 20"
    assert added.location == "L301"
    mark_a_photograph(person)
    until(lambda: len(records(folder).all(PhotoMark)) == 1, "a mark", person)
    link_the_photograph(person)
    until(lambda: at_of_photograph(folder) == "L301", "a link", person)
    person.waits(lambda seen: "L301" in seen["plan"])
    person.press("ctrl+k")
    person.write("pull-off P-90")
    person.press("Return")
    person.waits(lambda seen: "L301" in seen["plan"] and "C/D" in seen["stack"])
    person.press("ctrl+z")
    until(lambda: at_of_photograph(folder) == "B3", "an undo", person)
    person.press("ctrl+shift+z")
    until(lambda: at_of_photograph(folder) == "L301", "a redo", person)
    out = tmp_path / "report.docx"
    person.press("ctrl+r")
    person.waits(lambda seen: seen["page"] == "report")
    person.press("space")
    person.face("The report")
    person.press("ctrl+a")
    person.write(str(out))
    person.press("Return")
    person.face(REFERENCE)
    until(out.is_file, "the report", person, 180)
    person.waits(lambda seen: str(out) in seen["report"], 120)
    assert "P-90" in "\n".join(
        cell.text for table in Document(str(out)).tables for row in table.rows for cell in row.cells
    )


def at_of_photograph(folder: Path) -> str:
    return next(one.at for one in records(folder).all(Photo) if one.ref == "PH-03")
