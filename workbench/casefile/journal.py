"""What a journal entry says: who did what when, why, and every record before and after."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Any, Self

from workbench import __version__
from workbench.casefile.converting import SHAPES, Plain, plain, record_of, records_of
from workbench.custody.chain import Link
from workbench.records import BY_NOUN, CustodyEntry, Dossier, Record


class Doing(StrEnum):
    """What kind of entry it is."""

    DO = "do"
    UNDO = "undo"
    REDO = "redo"
    FORMAT = "format"


@dataclass(frozen=True, slots=True)
class Kept:
    """An original as it is kept: the name that records use, its SHA-256 and size in bytes."""

    name: str
    digest: str
    size: int


@dataclass(frozen=True, slots=True)
class FieldChange:
    """What an act did to one record, field by field.

    Attributes:
        noun: Type of the record.
        id: Its identifier.
        before: The fields that changed, as they were; None where the record was added.
        after: The same fields as they became; of an added record, all that are not blank.
    """

    noun: str
    id: str
    before: Mapping[str, Plain] | None
    after: Mapping[str, Plain]

    @classmethod
    def adding(cls, record: Record) -> Self:
        """Return the change that adds `record`."""
        now, blanks = plain(record), SHAPES[type(record)].blanks
        said = {name: value for name, value in now.items() if value != blanks[name]}
        return cls(record.noun, record.id, None, said)

    @classmethod
    def between(cls, before: Record, after: Record) -> Self:
        """Return the fields in which two records of one identifier differ."""
        was, now = plain(before), plain(after)
        differ = [name for name in now if now[name] != was[name]]
        return cls(
            after.noun,
            after.id,
            {name: was[name] for name in differ},
            {name: now[name] for name in differ},
        )

    def undone(self, withdrawn: str) -> Self:
        """Return the change that takes this one back; what it added is withdrawn."""
        if self.before is not None:
            return replace(self, before=self.after, after=self.before)
        was = {"withdrawn": self.after.get("withdrawn", "")}
        return replace(self, before=was, after={"withdrawn": withdrawn})

    def redone(self, withdrawn: str) -> Self:
        """Return the change that does this one again after it was taken back."""
        if self.before is not None:
            return self
        again = {"withdrawn": self.after.get("withdrawn", "")}
        return replace(self, before={"withdrawn": withdrawn}, after=again)


@dataclass(frozen=True, slots=True, kw_only=True)
class JournalEntry:
    """One act, as the journal has it.

    Attributes:
        seq: Number of the entry, 0 before it is recorded.
        recorded_at: When this computer recorded it.
        doing: Whether it did something, undid or redid it, or changed the format of the file.
        of: Number of the entry that was undone or redone.
        who: The name given by the person; no proof of who it was.
        what: The act as a sentence without its full stop.
        why: The reason given.
        final: Whether it may not be undone, and neither may anything before it.
        changes: What it did to records.
        kept: The originals that came with it.
        program: Version of the program.
        hash: Hash of the entry.
    """

    seq: int = 0
    recorded_at: str
    doing: Doing = Doing.DO
    of: int | None = None
    who: str
    what: str
    why: str = ""
    final: bool = False
    changes: tuple[FieldChange, ...] = ()
    kept: tuple[Kept, ...] = ()
    program: str = __version__
    hash: str = ""

    def body(self) -> dict[str, object]:
        """Return what is chained."""
        return {
            "act": self.doing.value,
            "of": self.of,
            "who": self.who,
            "what": self.what,
            "why": self.why,
            "final": self.final,
            "program": self.program,
            "kept": [{"name": k.name, "digest": k.digest, "size": k.size} for k in self.kept],
            "changes": [
                {"noun": c.noun, "id": c.id, "before": c.before, "after": c.after}
                for c in self.changes
            ],
        }

    @classmethod
    def read(cls, link: Link) -> Self:
        """Return the entry that a link of the chain holds.

        Raises:
            ValueError: It holds no entry of a journal.
        """
        try:
            return cls._said(link, link.said())
        except (KeyError, TypeError, AttributeError) as wrong:
            raise ValueError(f"journal entry {link.seq} cannot be read: {wrong}") from wrong

    @classmethod
    def _said(cls, link: Link, said: Mapping[str, Any]) -> Self:
        return cls(
            seq=link.seq,
            recorded_at=link.recorded_at,
            doing=Doing(said["act"]),
            of=said["of"],
            who=said["who"],
            what=said["what"],
            why=said["why"],
            final=said["final"],
            program=said["program"],
            kept=tuple(Kept(**one) for one in said["kept"]),
            changes=tuple(FieldChange(**one) for one in said["changes"]),
            hash=link.hash,
        )


@dataclass(frozen=True, slots=True)
class LedgerLine:
    """One entry of the custody ledger: a record, and when this computer recorded it."""

    seq: int
    recorded_at: str
    record: Record
    hash: str

    @classmethod
    def read(cls, link: Link) -> Self:
        """Return the line that a link of the chain holds.

        Raises:
            ValueError: It holds no entry of a ledger.
        """
        try:
            said = link.said()
            record = record_of(BY_NOUN[said["noun"]], said["record"])
        except (KeyError, TypeError) as wrong:
            raise ValueError(f"ledger entry {link.seq} cannot be read: {wrong}") from wrong
        return cls(link.seq, link.recorded_at, _recorded(record, link.recorded_at), link.hash)


def ledger_body(change: FieldChange) -> dict[str, object]:
    """Return what is chained of a record that is added to the ledger."""
    return {"noun": change.noun, "record": change.after}


def records_after(
    changes: Iterable[FieldChange], dossier: Dossier, recorded_at: str
) -> list[Record]:
    """Return the records that the changes lead to, as the case file will give them back."""
    rows: dict[type[Record], list[list[Plain]]] = {}
    for change in changes:
        kind = BY_NOUN[change.noun]
        held = dossier.with_id(kind, change.id)
        whole = {**(plain(held) if held else SHAPES[kind].blanks), **change.after}
        rows.setdefault(kind, []).append([whole[name] for name in SHAPES[kind].names])
    return [
        _recorded(record, recorded_at)
        for kind, values in rows.items()
        for record in records_of(kind, values)
    ]


def _recorded(record: Record, recorded_at: str) -> Record:
    return replace(record, recorded_at=recorded_at) if isinstance(record, CustodyEntry) else record
