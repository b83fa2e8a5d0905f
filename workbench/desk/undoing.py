"""Which acts can be taken back: rebuilt from the journal, so that it outlives the program."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from workbench.casefile import Doing, FieldChange, JournalEntry, RecordChange, plain, record_of
from workbench.desk.acts.act import UNDONE
from workbench.records import BY_NOUN, Dossier, Record


@dataclass(frozen=True, slots=True)
class Undoing:
    """The acts that can be undone, the last one last, and those that can be done again."""

    done: tuple[JournalEntry, ...] = ()
    undone: tuple[JournalEntry, ...] = ()

    def after(self, entry: JournalEntry) -> "Undoing":
        """Return what can be undone after one more journal entry."""
        if entry.final:
            return Undoing()
        if entry.doing is Doing.UNDO:
            return Undoing(self.done[:-1], (*self.undone, *self.done[-1:]))
        if entry.doing is Doing.REDO:
            return Undoing((*self.done, *self.undone[-1:]), self.undone[:-1])
        if not entry.changes:
            return self
        return Undoing((*self.done, entry))

    @classmethod
    def of(cls, journal: Iterable[JournalEntry]) -> "Undoing":
        """Return what can be undone after a whole journal."""
        undoing = cls()
        for entry in journal:
            undoing = undoing.after(entry)
        return undoing


def undoing_changes(entry: JournalEntry, dossier: Dossier) -> tuple[RecordChange, ...]:
    """Return the changes that take back what an entry did; what it added is withdrawn."""
    return tuple(_back(change, dossier) for change in reversed(entry.changes))


def redoing_changes(entry: JournalEntry, dossier: Dossier) -> tuple[RecordChange, ...]:
    """Return the changes that do again what an entry did."""
    return tuple(_again(change, dossier) for change in entry.changes)


def _back(change: FieldChange, dossier: Dossier) -> RecordChange:
    held = _held(change, dossier)
    if change.before is None:
        return RecordChange(held, replace(held, withdrawn=UNDONE))
    return RecordChange(held, record_of(type(held), plain(held) | dict(change.before)))


def _again(change: FieldChange, dossier: Dossier) -> RecordChange:
    held = _held(change, dossier)
    again = {"withdrawn": ""} | dict(change.after) if change.before is None else change.after
    return RecordChange(held, record_of(type(held), {**plain(held), **again}))


def _held(change: FieldChange, dossier: Dossier) -> Record:
    held = dossier.with_id(BY_NOUN[change.noun], change.id)
    if held is None:
        raise LookupError(f"the journal names a {change.noun} that is not in the case")
    return held
