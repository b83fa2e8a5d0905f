"""One case on the desk: what it holds now, what is done to it, who wants to know."""

import getpass
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from threading import RLock
from types import TracebackType
from typing import Self

from workbench.casefile import (
    CaseFile,
    Doing,
    FieldChange,
    Heads,
    JournalEntry,
    Kept,
    LedgerLine,
    Opened,
    ReadOnlyError,
    Step,
    create,
    discard,
    name_of,
    now,
    open_case,
    path_of,
    records_after,
)
from workbench.custody.chain import Head
from workbench.custody.verification import Verification
from workbench.desk.acts.act import Act, ActRefusedError, Plan
from workbench.desk.undoing import Undoing
from workbench.records import UNDONE, Dossier, Source

__all__ = [
    "Case",
    "Doing",
    "FieldChange",
    "Heads",
    "HistoryLine",
    "JournalEntry",
    "Kept",
    "LedgerLine",
    "Step",
    "Watcher",
    "user_name",
    "verify_case",
]

Watcher = Callable[[frozenset[str]], None]
"""Told the nouns of the records that changed; "original" where files were kept."""


@dataclass(frozen=True, slots=True)
class HistoryLine:
    """One act that touched a record, and what it did to it."""

    entry: JournalEntry
    change: FieldChange


class Case:
    """A case that is open; the only way to change it is an act."""

    def __init__(self, opened: Opened, author: str) -> None:
        """Take over an opened case; use `create` or `open`."""
        self._file: CaseFile = opened.file
        self._author = author
        self._why_read_only = opened.read_only_because
        self._watchers: list[Watcher] = []
        self._one_at_a_time = RLock()
        self._entries: list[JournalEntry] | None = None
        self._undoing: Undoing | None = None
        try:
            self._load()
        except BaseException:
            self.close()
            raise

    @classmethod
    def create(cls, folder: Path, *, author: str = "") -> Self:
        """Return a new empty case in `folder`, which must not exist yet or be empty.

        Raises:
            CaseFileError: It cannot be made there.
        """
        name = author or user_name()
        return cls(create(folder, name), name)

    @classmethod
    def open(cls, folder: Path, *, author: str = "", read_only: bool = False) -> Self:
        """Return the case in `folder`; it is read-only where another one writes to it.

        Raises:
            CaseFileError: It cannot be opened; the text says why and what to do.
        """
        name = author or user_name()
        return cls(open_case(folder, name, read_only=read_only), name)

    # -- what it holds

    @property
    def folder(self) -> Path:
        """The folder of the case."""
        return self._file.folder

    @property
    def author(self) -> str:
        """The name under which acts are recorded: a claim, no proof."""
        return self._author

    @property
    def dossier(self) -> Dossier:
        """All records as they are now."""
        return self._dossier

    @property
    def read_only(self) -> bool:
        """Whether nothing can be done to it."""
        return bool(self._why_read_only)

    @property
    def read_only_because(self) -> str:
        """Why nothing can be done to it; empty where acts are possible."""
        return self._why_read_only

    @property
    def heads(self) -> Heads:
        """Heads of journal and custody ledger, to be printed on whatever leaves the house."""
        return self._heads

    def original(self, name: str) -> Path | None:
        """Return the file that records call `name`, or None where none is kept."""
        kept = self._originals.get(name_of(name))
        return path_of(self.folder, kept.digest) if kept else None

    @property
    def originals(self) -> tuple[Kept, ...]:
        """The originals by name; of a name that was kept twice, the last."""
        return tuple(self._originals.values())

    def journal(self) -> tuple[JournalEntry, ...]:
        """Return everything that was ever done, the first act first."""
        if self._entries is None:
            self._entries = list(self._file.journal()[: self._heads.journal.count])
        return tuple(self._entries)

    def ledger(self) -> tuple[LedgerLine, ...]:
        """Return the custody ledger, each entry with the time it was recorded."""
        return self._file.ledger()

    def history(self, source: Source) -> tuple[HistoryLine, ...]:
        """Return every act that touched the record that `source` names, the first one first."""
        record = self.dossier.resolve(source)
        return tuple(
            HistoryLine(entry, change)
            for entry in (self.journal() if record else ())
            for change in entry.changes
            if record and (change.noun, change.id) == (record.noun, record.id)
        )

    def verify(self, step: Step | None = None, heads: Sequence[Head] = ()) -> Verification:
        """Return whether the case is as it was recorded, and what that cannot tell.

        Args:
            step: Told how many bytes of the originals are read; may raise to stop.
            heads: Heads of its chains that were printed or sent elsewhere.
        """
        return self._file.verify(heads, step)

    # -- what is done to it

    def do(self, act: Act, step: Step | None = None) -> JournalEntry:
        """Do an act: all of it, with its journal line, or nothing.

        Args:
            act: What to do.
            step: Told how far it is; may raise to stop, which leaves nothing behind.

        Returns:
            The line that the journal has of it.

        Raises:
            ActRefusedError: It cannot be done to the case as it stands.
            ReadOnlyError: The case was opened for reading.
            CaseFileError: It cannot be written.
        """
        with self._one_at_a_time:
            self._refuse_read_only()
            plan = act.plan(self.dossier)
            return self._carry_out(plan, Doing.DO, None, act.why, step)

    def undo(self) -> JournalEntry:
        """Take back the last act that can be taken back, by a new act.

        Raises:
            ActRefusedError: There is none.
        """
        with self._one_at_a_time:
            self._refuse_read_only()
            if not self._stack.done:
                raise ActRefusedError("there is nothing to undo")
            entry = self._stack.done[-1]
            changes = tuple(change.undone(UNDONE) for change in reversed(entry.changes))
            plan = Plan(what=f"undid: {entry.what}", changes=changes)
            return self._carry_out(plan, Doing.UNDO, entry.seq, "", None)

    def redo(self) -> JournalEntry:
        """Do again what was undone last, by a new act.

        Raises:
            ActRefusedError: Nothing was undone, or something was done since.
        """
        with self._one_at_a_time:
            self._refuse_read_only()
            if not self._stack.undone:
                raise ActRefusedError("there is nothing to do again")
            entry = self._stack.undone[-1]
            changes = tuple(change.redone(UNDONE) for change in entry.changes)
            plan = Plan(what=f"did again: {entry.what}", changes=changes)
            return self._carry_out(plan, Doing.REDO, entry.seq, "", None)

    @property
    def undo_list(self) -> tuple[str, ...]:
        """What can be undone, as sentences, the last act first."""
        return tuple(_sentence(entry) for entry in reversed(self._stack.done))

    @property
    def redo_list(self) -> tuple[str, ...]:
        """What can be done again, as sentences, the next one first."""
        return tuple(_sentence(entry) for entry in reversed(self._stack.undone))

    # -- who wants to know

    def watch(self, watcher: Watcher) -> Callable[[], None]:
        """Have `watcher` told after every act; call what is returned to end that."""
        self._watchers.append(watcher)

        def unwatch() -> None:
            if watcher in self._watchers:
                self._watchers.remove(watcher)

        return unwatch

    def close(self) -> None:
        """Let go of the files; what was done is on disk already."""
        self._file.close()

    def __enter__(self) -> Self:
        """Return the case itself."""
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        wrong: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """Close it."""
        self.close()

    # -- how

    @property
    def _stack(self) -> Undoing:
        if self._undoing is None:
            self._undoing = Undoing.of(self.journal())
        return self._undoing

    def _load(self) -> None:
        held = self._file.load()
        self._dossier = Dossier(held.records)
        self._originals = {one.name: one for one in held.originals}
        self._heads = held.heads

    def _refuse_read_only(self) -> None:
        if self._why_read_only:
            raise ReadOnlyError(f"{self.folder} is open for reading only: {self._why_read_only}")

    def _carry_out(
        self, plan: Plan, doing: Doing, of: int | None, why: str, step: Step | None
    ) -> JournalEntry:
        stack, told = self._stack, _counting(plan, step)
        kept, fresh = self._file.store(plan.keep, told)
        entry = JournalEntry(
            recorded_at=now(),
            doing=doing,
            of=of,
            who=self._author,
            what=plan.what,
            why=why,
            final=plan.final,
            changes=plan.changes,
            kept=kept,
        )
        try:
            after = records_after(entry.changes, self._dossier, entry.recorded_at)
            entry, heads = self._file.record(entry, self._heads.journal, told)
        except BaseException:
            discard(fresh)
            raise
        self._heads, self._undoing = heads, stack.after(entry)
        if self._entries is not None:
            self._entries.append(entry)
        self._dossier = self._dossier.with_records(after)
        self._originals |= {one.name: one for one in kept}
        self._tell(_nouns(entry))
        return entry

    def _tell(self, nouns: frozenset[str]) -> None:
        for watcher in tuple(self._watchers):
            watcher(nouns)


def verify_case(folder: Path, heads: Sequence[Head] = (), step: Step | None = None) -> Verification:
    """Return whether the case in `folder` is as it was recorded, even where it cannot be shown.

    Raises:
        CaseFileError: There is no case, or it cannot be read at all.
    """
    file = open_case(folder, user_name(), read_only=True).file
    try:
        return file.verify(heads, step)
    finally:
        file.close()


def user_name() -> str:
    """Return the name that this computer has for its user."""
    try:
        return getpass.getuser()
    except (KeyError, OSError):
        return "unknown"


def _nouns(entry: JournalEntry) -> frozenset[str]:
    return frozenset(change.noun for change in entry.changes) | (
        {"original"} if entry.kept else set()
    )


def _sentence(entry: JournalEntry) -> str:
    return f"{entry.what[:1].upper()}{entry.what[1:]}"


def _counting(plan: Plan, step: Step | None) -> Callable[[int], None]:
    whole = len(plan.changes) + sum(file.size for file in plan.keep)
    done = 0

    def told(more: int) -> None:
        nonlocal done
        done += more
        if step:
            step(done, whole)

    return told
