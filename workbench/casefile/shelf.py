"""Records on their shelves: one table per type, read whole, written in one transaction."""

from collections.abc import Callable, Iterator, Sequence
from typing import Any

from sqlalchemy import Connection, bindparam, func, insert, select, update

from workbench.casefile.chains import append, links_of
from workbench.casefile.converting import SHAPES, plain, records_of
from workbench.casefile.journal import LedgerLine, RecordChange, ledger_body
from workbench.casefile.tables import LEDGER, RECORDS
from workbench.records import Record

_BATCH = 1000


def rows_of(connection: Connection, kind: type[Record]) -> Sequence[Sequence[Any]]:
    """Return the rows of a type as tuples, in the order of their positions."""
    table = RECORDS[kind]
    columns = [table.c[name] for name in SHAPES[kind].names]
    found = connection.execute(select(*columns).order_by(table.c.position))
    return found.tuples().all()


def all_records(connection: Connection) -> Iterator[Record]:
    """Yield every record of the case, type by type."""
    for kind in RECORDS:
        yield from records_of(kind, rows_of(connection, kind))
    for link in links_of(connection, LEDGER):
        yield LedgerLine.read(link).record


def write(
    connection: Connection,
    changes: Sequence[RecordChange],
    recorded_at: str,
    told: Callable[[int], None],
) -> None:
    """Write what an act does to records; `told` hears how many were written."""
    by_kind: dict[type[Record], list[RecordChange]] = {}
    for change in changes:
        by_kind.setdefault(type(change.after), []).append(change)
    for kind, some in by_kind.items():
        if kind.ledger:
            append(connection, LEDGER, recorded_at, (ledger_body(one.after) for one in some))
            told(len(some))
        else:
            _insert(connection, kind, [one.after for one in some if one.before is None], told)
            _update(connection, kind, [one.after for one in some if one.before], told)


def _insert(
    connection: Connection, kind: type[Record], records: list[Record], told: Callable[[int], None]
) -> None:
    table = RECORDS[kind]
    last = connection.execute(select(func.max(table.c.position))).scalar() or 0
    for batch in _batches(records):
        rows = [{"position": last + at, **plain(one)} for at, one in enumerate(batch, 1)]
        connection.execute(insert(table), rows)
        last += len(batch)
        told(len(batch))


def _update(
    connection: Connection, kind: type[Record], records: list[Record], told: Callable[[int], None]
) -> None:
    table = RECORDS[kind]
    named: dict[str, Any] = {
        name: bindparam(f"new_{name}") for name in SHAPES[kind].names if name != "id"
    }
    changed = update(table).where(table.c.id == bindparam("new_id")).values(named)
    for batch in _batches(records):
        rows = [{f"new_{name}": value for name, value in plain(one).items()} for one in batch]
        connection.execute(changed, rows)
        told(len(batch))


def _batches(records: list[Record]) -> Iterator[list[Record]]:
    return (records[at : at + _BATCH] for at in range(0, len(records), _BATCH))
