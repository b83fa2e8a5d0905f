"""An open case on disk: what it holds is read at once, each act is written at once."""

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from pathlib import Path

from sqlalchemy import Connection, Engine

from workbench.casefile import originals
from workbench.casefile.chains import append, head_in, last_of, links_of
from workbench.casefile.converting import CellError
from workbench.casefile.journal import JournalEntry, Kept, LedgerLine
from workbench.casefile.locking import WriterLock
from workbench.casefile.shelf import all_records, write
from workbench.casefile.sqlite import writing
from workbench.casefile.tables import JOURNAL, LEDGER
from workbench.casefile.troubles import CaseDamagedError, CaseMovedError, telling
from workbench.casefile.verifying import Verifying
from workbench.custody.chain import BEFORE_THE_FIRST, Head
from workbench.custody.verification import Verification
from workbench.records import Record

FILE_NAME = "case.sqlite"

Step = Callable[[int, int], None]
"""Told how much of long work is done, and how much there is; may raise to stop it."""


@dataclass(frozen=True, slots=True)
class Heads:
    """The heads of both chains, to be printed wherever the case is spoken of."""

    journal: Head
    ledger: Head


@dataclass(frozen=True, slots=True)
class Held:
    """All that a case file holds at one moment."""

    records: tuple[Record, ...]
    originals: tuple[Kept, ...]
    heads: Heads


class CaseFile:
    """The files of one case, open for reading or, with the lock, for writing."""

    def __init__(self, folder: Path, engine: Engine, lock: WriterLock | None) -> None:
        """Take over what the opening made ready."""
        self.folder = folder
        self._path = folder / FILE_NAME
        self._engine = engine
        self._lock = lock

    def load(self) -> Held:
        """Return everything, as it stood at one moment.

        Raises:
            CaseFileError: It cannot be read; the text says why.
        """
        with self._reading() as connection:
            heads = Heads(head_in(connection, JOURNAL), head_in(connection, LEDGER))
            return Held(tuple(all_records(connection)), originals.entered(connection), heads)

    def journal(self) -> tuple[JournalEntry, ...]:
        """Return every entry of the journal."""
        with self._reading() as connection:
            return tuple(JournalEntry.read(one) for one in links_of(connection, JOURNAL))

    def ledger(self) -> tuple[LedgerLine, ...]:
        """Return every entry of the custody ledger."""
        with self._reading() as connection:
            return tuple(LedgerLine.read(one) for one in links_of(connection, LEDGER))

    def verify(self, heads: Sequence[Head], step: Step | None) -> Verification:
        """Return whether the case is as it was recorded.

        Args:
            heads: Heads of its chains that were printed or sent elsewhere.
            step: Told how many bytes of the originals are read.
        """
        return Verifying(self.folder, self._engine, step).check(heads, now())

    def store(
        self, files: tuple[originals.FileToKeep, ...], told: Callable[[int], None]
    ) -> tuple[tuple[Kept, ...], tuple[Path, ...]]:
        """Copy files into the case; no act names them yet.

        Returns:
            What is kept, and the files that were not there before.

        Raises:
            CaseFileError: One of them cannot be read or written; none is left behind.
        """
        kept, fresh = [], []
        try:
            for file in files:
                with telling(self.folder / "originals"):
                    one, is_new = originals.store(self.folder, file, told)
                kept.append(one)
                if is_new:
                    fresh.append(originals.path_of(self.folder, one.digest))
        except BaseException:
            originals.discard(fresh)
            raise
        return tuple(kept), tuple(fresh)

    def record(
        self,
        entry: JournalEntry,
        after: Head,
        told: Callable[[int], None],
    ) -> tuple[JournalEntry, Heads]:
        """Write an act: all of it, or nothing.

        Args:
            entry: The journal line, not yet numbered, with all that is to be written.
            after: Head of the journal that it follows.
            told: Hears how many records were written.

        Raises:
            CaseMovedError: The journal has another head: something else wrote to the case.
            CaseFileError: It cannot be written; the text says why.
        """
        with telling(self._path), writing(self._engine) as connection:
            last = last_of(connection, JOURNAL)
            if (last.hash if last else BEFORE_THE_FIRST) != after.hash:
                raise CaseMovedError(
                    f"{self._path}: something else wrote to the case meanwhile; close it and open "
                    "it again, nothing of this act was kept"
                )
            write(connection, entry.changes, entry.recorded_at, told)
            originals.enter(connection, entry.kept, entry.recorded_at)
            (link,) = append(connection, JOURNAL, entry.recorded_at, [entry.body()])
            heads = Heads(Head(link.hash, link.seq), head_in(connection, LEDGER))
        return replace(entry, seq=link.seq, hash=link.hash), heads

    @contextmanager
    def _reading(self) -> Iterator[Connection]:
        with telling(self._path), self._engine.connect() as connection:
            try:
                yield connection
            except (CellError, ValueError) as wrong:
                raise CaseDamagedError(
                    f"{self._path}: {wrong}; run “workbench verify” to see what was changed"
                ) from wrong

    def close(self) -> None:
        """Let go of the file and of the lock."""
        self._engine.dispose()
        if self._lock:
            self._lock.release()


def now() -> str:
    """Return the time by the clock of this computer, in UTC, to the millisecond."""
    return datetime.now(UTC).isoformat(timespec="milliseconds")
