"""Taking in a book: what is new, what changed, and the files that came with it, in one act."""

from dataclasses import dataclass

from workbench.casefile import FileToKeep
from workbench.desk.acts.act import ActRefusedError, Plan, adding, changing, counted, refuse_by_hand
from workbench.desk.acts.keep import files_in_words, refuse_missing
from workbench.records import Dossier, Edition, EditionState, Record


def issued_ref(dossier: Dossier) -> str:
    """Return the number of the report issued last; empty where none was issued."""
    issued = [one.ref for one in dossier.all(Edition) if one.state is EditionState.ISSUED]
    return issued[-1] if issued else ""


@dataclass(frozen=True, slots=True)
class TakeIn:
    """The contents of a book, or of another source of many records.

    Attributes:
        source: What was read: "bottling-hall.xlsx".
        added: Records that are new to the case.
        changed: Records that take the place of those with their identifiers.
        files: Files to be kept as originals.
        why: The reason given.
    """

    source: str
    added: tuple[Record, ...] = ()
    changed: tuple[Record, ...] = ()
    files: tuple[FileToKeep, ...] = ()
    why: str = ""

    def plan(self, dossier: Dossier) -> Plan:
        """Return what the act does.

        Raises:
            ActRefusedError: There is nothing to take in, or a record cannot be taken.
        """
        if self.changed and not self.why.strip() and (ref := issued_ref(dossier)):
            raise ActRefusedError(
                f"{self.source} changes {counted(self.changed)} behind {ref}, which is issued; say "
                "why, since the next edition prints it"
            )
        parts = [counted(self.added)] if self.added else []
        parts += [f"changes to {counted(self.changed)}"] if self.changed else []
        parts += [files_in_words(self.files)] if self.files else []
        if not parts:
            raise ActRefusedError(f"{self.source}: there is nothing new in it")
        refuse_by_hand((*self.added, *self.changed), dossier)
        refuse_missing(self.files)
        changed = changing(self.changed, dossier)
        return Plan(
            what=f"took in {self.source}: {'; '.join(parts)}",
            changes=(*adding(self.added, dossier), *changed),
            keep=self.files,
            final=any(type(one).ledger for one in self.added),
        )
