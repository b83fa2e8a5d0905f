"""Which acts can be taken back: rebuilt from the journal, so that it outlives the program."""

from collections.abc import Iterable
from dataclasses import dataclass

from workbench.casefile import Doing, JournalEntry


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
