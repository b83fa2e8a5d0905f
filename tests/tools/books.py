"""The books that lie in the tree, read as a case takes them in."""

import tempfile
from functools import cache
from pathlib import Path

from workbench.exchange.field_book.reading import BookReading, read_book
from workbench.records import Dossier

SAMPLE_CASES = Path(__file__).parents[2] / "sample_cases"


@cache
def reading_of(path: Path) -> BookReading:
    """Return the book in a folder, or in one file of several sheets, each book read once."""
    if path.is_dir():
        return read_book(path)
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(scratch) / path.stem
        unfold(path, folder)
        return read_book(folder)


def unfold(path: Path, folder: Path) -> None:
    """Write a book of one file, `[sheet]` above the rows of each, as a folder of tables."""
    folder.mkdir()
    for part in ("\n" + path.read_text(encoding="utf-8")).split("\n[")[1:]:
        sheet, _, rows = part.partition("]\n")
        (folder / f"{sheet}.csv").write_text(rows, encoding="utf-8")


def read(path: Path) -> tuple[Dossier, list[str]]:
    """Return the records of a book, and what would hinder taking it in."""
    reading = reading_of(path)
    return Dossier(reading.records), [str(problem) for problem in reading.hindrances]
