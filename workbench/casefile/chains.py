"""The two chained tables: entries are read and appended, and nothing else."""

from collections.abc import Iterable, Mapping
from dataclasses import asdict

from sqlalchemy import Connection, Table, func, insert, select

from workbench.custody.chain import BEFORE_THE_FIRST, Head, Link, link


def links_of(connection: Connection, table: Table) -> tuple[Link, ...]:
    """Return all entries of a chain, in their order."""
    rows = connection.execute(select(table).order_by(table.c.seq))
    return tuple(_link(tuple(row)) for row in rows)


def last_of(connection: Connection, table: Table) -> Link | None:
    """Return the last entry of a chain, or None where it is empty."""
    row = connection.execute(select(table).order_by(table.c.seq.desc()).limit(1)).first()
    return _link(tuple(row)) if row else None


def head_in(connection: Connection, table: Table) -> Head:
    """Return the head of a chain without reading all of it."""
    last = connection.execute(select(table.c.hash).order_by(table.c.seq.desc()).limit(1)).scalar()
    count = connection.execute(select(func.count()).select_from(table)).scalar_one()
    return Head(last or BEFORE_THE_FIRST, count)


def append(
    connection: Connection, table: Table, recorded_at: str, bodies: Iterable[Mapping[str, object]]
) -> tuple[Link, ...]:
    """Append one entry per body, and return them."""
    before, added = last_of(connection, table), []
    for body in bodies:
        before = link(before, recorded_at, body)
        added.append(before)
    if added:
        connection.execute(insert(table), [asdict(one) for one in added])
    return tuple(added)


def _link(row: tuple[object, ...]) -> Link:
    seq, *texts = row
    recorded_at, body, prev, own = (str(text) for text in texts)
    return Link(seq if isinstance(seq, int) else 0, recorded_at, body, prev, own)
