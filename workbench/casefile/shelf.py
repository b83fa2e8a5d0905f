"""Records on their shelves: one table per type, read whole, written in one transaction."""

from collections.abc import Callable, Hashable, Iterable, Iterator, Sequence
from typing import Any, TypeVar

from sqlalchemy import Connection, Table, bindparam, func, insert, select, update

from workbench.casefile.chains import append, links_of
from workbench.casefile.converting import SHAPES, records_of
from workbench.casefile.journal import FieldChange, LedgerLine, ledger_body
from workbench.casefile.tables import LEDGER, RECORDS
from workbench.casefile.troubles import CaseMovedError
from workbench.records import BY_NOUN, Record

G = TypeVar("G", bound=Hashable)

_BATCH = 1000


def rows_of(connection: Connection, kind: type[Record]) -> Sequence[Sequence[Any]]:
    """Return the rows of a type as tuples, in the order of their positions."""
    table = RECORDS[kind]
    columns = [table.c[name] for name in SHAPES[kind].names]
    return connection.execute(select(*columns).order_by(table.c.position)).all()


def all_records(connection: Connection) -> Iterator[Record]:
    """Yield every record of the case, type by type."""
    for kind in RECORDS:
        yield from records_of(kind, rows_of(connection, kind))
    for link in links_of(connection, LEDGER):
        yield LedgerLine.read(link).record


def write(
    connection: Connection,
    changes: Sequence[FieldChange],
    recorded_at: str,
    told: Callable[[int], None],
) -> None:
    """Write what an act does to records; `told` hears how many were written."""
    for noun, some in _grouped(changes, lambda change: change.noun).items():
        kind = BY_NOUN[noun]
        if kind.ledger:
            append(connection, LEDGER, recorded_at, (ledger_body(one) for one in some))
            told(len(some))
            continue
        _insert(connection, kind, [one for one in some if one.before is None], told)
        changed = [one for one in some if one.before is not None]
        for fields, alike in _grouped(changed, lambda change: tuple(change.after)).items():
            _update(connection, RECORDS[kind], fields, alike, told)


def _insert(
    connection: Connection,
    kind: type[Record],
    added: Sequence[FieldChange],
    told: Callable[[int], None],
) -> None:
    table, blanks = RECORDS[kind], SHAPES[kind].blanks
    last = connection.execute(select(func.max(table.c.position))).scalar() or 0
    for batch in _batches(added):
        rows = [{"position": last + at, **blanks, **one.after} for at, one in enumerate(batch, 1)]
        connection.execute(insert(table), rows)
        last += len(batch)
        told(len(batch))


def _update(
    connection: Connection,
    table: Table,
    fields: Sequence[str],
    changed: Sequence[FieldChange],
    told: Callable[[int], None],
) -> None:
    values: dict[str, Any] = {name: bindparam(f"new_{name}") for name in fields}
    statement = update(table).where(table.c.id == bindparam("which")).values(values)
    for batch in _batches(changed):
        rows = [
            {"which": one.id, **{f"new_{name}": value for name, value in one.after.items()}}
            for one in batch
        ]
        if connection.execute(statement, rows).rowcount != len(batch):
            raise CaseMovedError(f"case.sqlite: a {table.name} that the act changes is not there")
        told(len(batch))


def _grouped(
    changes: Iterable[FieldChange], by: Callable[[FieldChange], G]
) -> dict[G, list[FieldChange]]:
    groups: dict[G, list[FieldChange]] = {}
    for change in changes:
        groups.setdefault(by(change), []).append(change)
    return groups


def _batches(changes: Sequence[FieldChange]) -> Iterator[Sequence[FieldChange]]:
    return (changes[at : at + _BATCH] for at in range(0, len(changes), _BATCH))
