"""The tables of a case file, derived from the record types: there is no second declaration."""

from typing import Any, Final

from sqlalchemy import Column, Integer, MetaData, Table, Text, UniqueConstraint

from workbench.records import KINDS, FieldInfo, Record, fields_of

METADATA: Final = MetaData(
    naming_convention={
        "pk": "pk_%(table_name)s",
        "uq": "uq_%(table_name)s_%(column_0_name)s",
        "ix": "ix_%(table_name)s_%(column_0_name)s",
        "fk": "fk_%(table_name)s_%(column_0_name)s",
    }
)


def _column(info: FieldInfo) -> Column[Any]:
    blank_is_null = not info.required and info.type is not str
    return Column(info.name, Integer if info.type is int else Text, nullable=blank_is_null)


def _record_table(kind: type[Record]) -> Table:
    return Table(
        kind.noun,
        METADATA,
        Column("position", Integer, primary_key=True, autoincrement=False),
        Column("id", Text, nullable=False),
        Column("origin", Text, nullable=False),
        Column("withdrawn", Text, nullable=False),
        *(_column(info) for info in fields_of(kind)),
        UniqueConstraint("id"),
    )


def _chain_table(name: str) -> Table:
    return Table(
        name,
        METADATA,
        Column("seq", Integer, primary_key=True, autoincrement=False),
        Column("recorded_at", Text, nullable=False),
        Column("body", Text, nullable=False),
        Column("prev", Text, nullable=False),
        Column("hash", Text, nullable=False),
    )


RECORDS: Final = {kind: _record_table(kind) for kind in KINDS if not kind.ledger}
"""One table per record type, named by its noun; `position` counts from 1 and never changes."""

JOURNAL: Final = _chain_table("journal")
"""Every act, chained; see `workbench.custody.chain` for the byte form."""

LEDGER: Final = _chain_table("custody_ledger")
"""The entries of custody, chained; their only place."""

ORIGINAL: Final = Table(
    "original",
    METADATA,
    Column("position", Integer, primary_key=True, autoincrement=False),
    Column("name", Text, nullable=False),
    Column("digest", Text, nullable=False),
    Column("size", Integer, nullable=False),
    Column("kept_at", Text, nullable=False),
)
"""The name that records use for each file kept under originals/; the last of a name counts."""
