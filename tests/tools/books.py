"""The books that lie in the tree, read as a case takes them in."""

from functools import cache
from pathlib import Path

from workbench.exchange.field_book.reading import BookReading, read_book
from workbench.records import Dossier

SAMPLE_CASES = Path(__file__).parents[2] / "sample_cases"


@cache
def reading_of(folder: Path) -> BookReading:
    """Return the book in `folder` as the reader gives it, each book read once."""
    return read_book(folder)


def read(folder: Path) -> tuple[Dossier, list[str]]:
    """Return the records of a book, and what would hinder taking it in."""
    reading = reading_of(folder)
    return Dossier(reading.records), [str(problem) for problem in reading.hindrances]
