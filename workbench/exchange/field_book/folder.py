"""The sheets of a field book that comes as a folder of CSV files, or as pasted rows."""

import csv
import re
from collections.abc import Iterator, Mapping
from io import StringIO
from pathlib import Path
from typing import Self

from workbench.exchange.field_book.cells import Cell, CellKind, Row
from workbench.exchange.field_book.fitness import MOST_BYTES, UnfitError
from workbench.records import Problem

_DELIMITERS = {",": "comma", ";": "semicolon", "\t": "tab"}
_RIGHT = "save it again as CSV in UTF-8"


class CsvFolder:
    """A folder of CSV files, named like the sheets of the field book."""

    def __init__(self, name: str, files: Mapping[str, Path]) -> None:
        """Read `files`, by the names of their sheets."""
        self.name = name
        self._problems: list[Problem] = []
        self._texts = {sheet: self._text(path) for sheet, path in files.items()}
        self.whole = sum(text.count("\n") + 1 for text in self._texts.values())

    @classmethod
    def at(cls, path: Path) -> Self:
        """Return the folder at `path`.

        Raises:
            UnfitError: There is no CSV file in it.
        """
        files = sorted(one for one in path.iterdir() if one.suffix.lower() == ".csv")
        if not files:
            books = [one.name for one in path.iterdir() if one.suffix.lower() == ".xlsx"]
            right = f"take {books[0]} itself" if books else "name CSV files like the sheets"
            raise UnfitError("the folder has no CSV file", right)
        return cls(path.name, {one.stem: one for one in files})

    def close(self) -> None:
        """Let go of the files; they are read whole when the folder is opened."""

    def sheets(self) -> tuple[str, ...]:
        """Return the names of the files without their ending."""
        return tuple(self._texts)

    def rows(self, sheet: str) -> Iterator[Row]:
        """Return the rows of `sheet` that are not empty.

        Raises:
            UnfitError: The file cannot be taken apart into cells.
        """
        text = self._texts[sheet]
        return csv_rows(text, delimiter_of(text), f"{sheet}.csv")

    def told(self) -> Iterator[Problem]:
        """Return how the files were read."""
        yield from self._problems
        for name, text in self._texts.items():
            if (delimiter := delimiter_of(text)) != ",":
                wrong = f"its cells are parted by a {_DELIMITERS[delimiter]}"
                yield Problem(f"{name}.csv", "", wrong, "it is read so", hinders=False)

    def _text(self, path: Path) -> str:
        """Return what a file says; one that cannot be read is a problem of its own."""
        try:
            text, told = decoded(path.read_bytes())
        except UnfitError as unfit:
            self._problems.append(Problem(path.name, "", unfit.wrong, unfit.right))
            return ""
        if told:
            right = "check signs such as µ and °"
            self._problems.append(Problem(path.name, "", told, right, hinders=False))
        return text


def decoded(raw: bytes) -> tuple[str, str]:
    """Return the text of a file, and what is to be told of its encoding.

    Raises:
        UnfitError: It is no text, or too long a one.
    """
    if len(raw) > MOST_BYTES:
        raise UnfitError(f"more than {MOST_BYTES // 1_000_000} MB", "part the file in two")
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        try:
            return raw.decode("utf-16"), "the file is in UTF-16"
        except UnicodeDecodeError as wrong:
            raise UnfitError("the file is damaged UTF-16", _RIGHT) from wrong
    if b"\0" in raw:
        raise UnfitError("the file is not a text, whatever its name says", _RIGHT)
    try:
        return raw.decode("utf-8-sig"), ""
    except UnicodeDecodeError:
        pass
    try:
        return raw.decode("cp1252"), "the file is not UTF-8; it is read as Western European"
    except UnicodeDecodeError as wrong:
        raise UnfitError("the file is neither UTF-8 nor Western European", _RIGHT) from wrong


def delimiter_of(text: str) -> str:
    """Return what parts the cells: the sign that the header row has most of."""
    header = re.sub(r'"[^"]*"', "", next((line for line in text.splitlines() if line.strip()), ""))
    return max(_DELIMITERS, key=lambda sign: (header.count(sign), sign == ","))


def csv_rows(text: str, delimiter: str, place: str) -> Iterator[Row]:
    """Return the rows of a CSV text that are not empty, numbered as a spreadsheet shows them.

    Raises:
        UnfitError: A quotation is not closed, or a cell is longer than any may be.
    """
    source = csv.reader(StringIO(text, newline=""), delimiter=delimiter, strict=True)
    number = 0
    while True:
        try:
            said = next(source)
        except StopIteration:
            return
        except csv.Error as wrong:
            where = f"{place} cannot be taken apart near line {source.line_num} ({wrong})"
            raise UnfitError(where, "close every quotation mark, double those in a text") from wrong
        number += 1
        cells = {at: _cell(words) for at, words in enumerate(said) if words.strip()}
        if cells:
            yield Row(number, cells)


def _cell(words: str) -> Cell:
    formula = words.lstrip().startswith("=")
    return Cell(words, CellKind.FORMULA if formula else CellKind.TEXT)
