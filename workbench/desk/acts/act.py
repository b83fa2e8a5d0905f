"""What an act is: a wish of a person, which says what it would do to a dossier."""

from collections.abc import Iterable
from dataclasses import dataclass, fields
from typing import Protocol

from workbench.casefile import FieldChange, FileToKeep
from workbench.records import UNDONE, Dossier, KnownError, Record


class ActRefusedError(KnownError):
    """The act would leave the case in a state that says something false or ambiguous."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """What an act will do, all of it or nothing.

    Attributes:
        what: The act as a sentence without its full stop: "added pull-off P-12".
        changes: What it does to records, field by field.
        keep: Files to be kept as originals.
        final: Whether it may not be undone; then neither may anything before it.
    """

    what: str
    changes: tuple[FieldChange, ...] = ()
    keep: tuple[FileToKeep, ...] = ()
    final: bool = False


class Act(Protocol):
    """Something a person does to a case."""

    @property
    def why(self) -> str:
        """The reason given; empty where none is needed."""
        ...

    def plan(self, dossier: Dossier) -> Plan:
        """Return what the act does to the case as it stands.

        Raises:
            ActRefusedError: It cannot be done; the text says why.
        """
        ...


def adding(records: Iterable[Record], dossier: Dossier) -> tuple[FieldChange, ...]:
    """Return the changes that add `records`.

    Raises:
        ActRefusedError: One has a fault, or a label that is taken.
    """
    seen: set[tuple[str, str]] = set()
    changes = []
    for record in records:
        refuse_faults(record)
        _refuse_taken(record, dossier, seen)
        changes.append(FieldChange.adding(record))
    return tuple(changes)


def changing(records: Iterable[Record], dossier: Dossier) -> tuple[FieldChange, ...]:
    """Return the changes that put `records` in the place of those with their identifiers.

    Raises:
        ActRefusedError: One has a fault, is not there, is of the ledger, or takes a label.
    """
    seen: set[tuple[str, str]] = set()
    changes = []
    for record in records:
        before = dossier.with_id(type(record), record.id)
        if before is None:
            raise ActRefusedError(f"{named(record)} is not in the case; add it")
        if type(record).ledger:
            raise ActRefusedError(
                f"{named(record)} stands in the custody ledger and is not changed; "
                "add an entry that corrects it"
            )
        refuse_faults(record)
        if record.label != before.label or (before.withdrawn and not record.withdrawn):
            _refuse_taken(record, dossier, seen)
        if record != before:
            changes.append(FieldChange.between(before, record))
    return tuple(changes)


def named(record: Record) -> str:
    """Return type and label of a record, as in a sentence: "pull-off P-12"."""
    title = type(record).title
    return f"{title[:1].lower()}{title[1:]} {record.label}".strip()


def counted(records: Iterable[Record]) -> str:
    """Return records in words: "pull-off P-12", "3 pull-offs and 2 areas"."""
    held = list(records)
    if len(held) == 1:
        return named(held[0])
    numbers: dict[type[Record], int] = {}
    for one in held:
        numbers[type(one)] = numbers.get(type(one), 0) + 1
    *most, last = (kind.counted(number) for kind, number in numbers.items())
    return f"{', '.join(most)} and {last}" if most else last


def refuse_faults(record: Record) -> None:
    """Refuse a record that is wrong in itself.

    Raises:
        ActRefusedError: It has a fault; the text says which.
    """
    for fault in record.faults():
        raise ActRefusedError(f"{named(record)}: {fault.wrong}; {fault.right}")


def refuse_by_hand(records: Iterable[Record], dossier: Dossier) -> None:
    """Refuse what nobody writes by hand, except in the fields that are left open.

    Raises:
        ActRefusedError: A record is of a type that comes about otherwise; the text says how.
    """
    for record in records:
        kind = type(record)
        before = dossier.with_id(kind, record.id)
        fixed = (one.name for one in fields(kind) if one.name not in kind.left_open)
        if kind.comes_about and (
            before is None or any(getattr(before, one) != getattr(record, one) for one in fixed)
        ):
            raise ActRefusedError(f"{named(record)} is not written by hand. {kind.comes_about}")


def _refuse_taken(record: Record, dossier: Dossier, seen: set[tuple[str, str]]) -> None:
    kind = type(record)
    repeatable = kind.repeats and not getattr(record, "ref", "")
    if not record.label or kind.ledger or repeatable:
        return
    holder = dossier.find(kind, record.label)
    taken = holder and holder.id != record.id and holder.withdrawn != UNDONE
    if taken and holder and holder.withdrawn:
        raise ActRefusedError(
            f"{named(record)} was withdrawn ({holder.withdrawn}) and keeps its name; "
            "bring it back, or use another name"
        )
    if taken or (kind.noun, record.label) in seen:
        raise ActRefusedError(f"there is a {named(record)} already; use another name")
    seen.add((kind.noun, record.label))
