"""The journal told again from its first entry: what tables, ledger and name list must hold."""

from collections.abc import Iterable
from dataclasses import dataclass, field

from workbench.casefile.converting import SHAPES, Plain
from workbench.casefile.journal import FieldChange, JournalEntry
from workbench.custody.chain import byte_form
from workbench.records import BY_NOUN


@dataclass(slots=True)
class Rebuilt:
    """What a journal leads to.

    Attributes:
        rows: For each noun and identifier, in the order of adding, the values of the fields.
        ledger: Time and byte form of each custody entry.
        originals: Name, digest, size and time of each file kept.
    """

    rows: dict[str, dict[str, dict[str, Plain]]] = field(default_factory=dict)
    ledger: list[tuple[str, str]] = field(default_factory=list)
    originals: list[tuple[str, str, int, str]] = field(default_factory=list)


def replay(entries: Iterable[JournalEntry]) -> Rebuilt:
    """Return what the entries lead to, from an empty case.

    Raises:
        ValueError: An entry speaks of a record that no entry before it added.
    """
    rebuilt = Rebuilt()
    for entry in entries:
        for change in entry.changes:
            _apply(rebuilt, change, entry.recorded_at)
        for kept in entry.kept:
            rebuilt.originals.append((kept.name, kept.digest, kept.size, entry.recorded_at))
    return rebuilt


def _apply(rebuilt: Rebuilt, change: FieldChange, recorded_at: str) -> None:
    kind = BY_NOUN.get(change.noun)
    if kind is None:
        raise ValueError(f"“{change.noun}” is no type of record")
    if kind.ledger:
        body = byte_form({"noun": change.noun, "record": change.after})
        rebuilt.ledger.append((recorded_at, body))
    else:
        rows = rebuilt.rows.setdefault(change.noun, {})
        if (change.id in rows) is (change.before is None):
            raise ValueError(f"{change.noun} {change.id} is added twice, or changed unadded")
        was = rows.get(change.id, SHAPES[kind].blanks)
        rows[change.id] = {**was, **change.after}
