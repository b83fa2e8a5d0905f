"""Taking in a field book: what it says, what that would change, and the act that does it."""

import shutil
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from workbench.desk.acts import FileToKeep, TakeIn
from workbench.desk.acts.take_in import issued_ref
from workbench.desk.case import Case
from workbench.records import Dossier, KnownError, Record

if TYPE_CHECKING:
    from workbench.exchange.field_book.comparing import Changes
    from workbench.exchange.field_book.reading import BookReading

Step = Callable[[int, int], None]


@dataclass(frozen=True, slots=True)
class Intake:
    """A book that was read for a case.

    Attributes:
        reading: What it says, and what is wrong with it.
        changes: What taking it in would do.
    """

    reading: "BookReading"
    changes: "Changes"

    @property
    def possible(self) -> bool:
        """Whether nothing hinders it and it would change something."""
        return not self.reading.hindrances and bool(self.changes)

    def asks_why(self, dossier: Dossier) -> bool:
        """Return whether it changes what a report was issued on, so that a reason is wanted."""
        return bool(self.changes.to_change) and bool(issued_ref(dossier))

    def act(self, why: str = "") -> TakeIn:
        """Return the act that takes the book in."""
        return TakeIn(
            source=self.reading.name,
            added=self.changes.to_add,
            changed=self.changes.to_change,
            files=tuple(FileToKeep(one.name, one.path) for one in self.changes.files),
            why=why,
        )


def read_for(case: Case, path: Path, step: Step | None = None) -> Intake:
    """Return what the field book at `path` says, and what it would change in `case`.

    Args:
        case: The case; it is not touched.
        path: A workbook or a folder of CSV files.
        step: Told how far the reading is; may raise to stop.
    """
    from workbench.exchange.field_book.comparing import compare
    from workbench.exchange.field_book.reading import read_book

    reading = read_book(path, case.dossier, step, case.original)
    return Intake(reading, compare(case.dossier, reading, case.original, step))


def pasted_for(case: Case, kind: type[Record], text: str) -> Intake:
    """Return what rows pasted from a spreadsheet say, and what they would change in `case`.

    Args:
        case: The case; it is not touched.
        kind: Type of the records.
        text: What was pasted.
    """
    from workbench.exchange.field_book.comparing import compare
    from workbench.exchange.field_book.pasted import read_pasted

    reading = read_pasted(kind, text, case.dossier)
    return Intake(reading, compare(case.dossier, reading, case.original))


def make_from_book(
    folder: Path, book: Path, *, author: str = "", why: str = "", step: Step | None = None
) -> Path:
    """Make a case in `folder` from a field book; where that fails, nothing is left of it.

    Args:
        folder: Where the case is made; it must not be there yet.
        book: A workbook or a folder of CSV files.
        author: The name under which it is recorded.
        why: The reason that the journal gives.
        step: Told how far it is; may raise to stop.

    Raises:
        KnownError: The case cannot be made, or something in the book hinders.
    """
    if folder.exists():
        raise KnownError(f"{folder} is there already; open it, or move it away first")
    try:
        with Case.create(folder, author=author) as case:
            intake = read_for(case, book, step)
            _refuse_hindered(intake)
            case.do(intake.act(why), step)
    except BaseException:
        shutil.rmtree(folder, ignore_errors=True)
        raise
    return folder


def _refuse_hindered(intake: Intake) -> None:
    if intake.reading.hindrances:
        raise KnownError(f"{intake.reading.name}: {intake.reading.hindrances[0]}")
