"""All that is SQLite's own: the file head, connections, guards against change, copies.

Nothing else in the room says anything that only SQLite understands.
"""

import sqlite3
from collections.abc import Iterable, Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine, QueuePool, StaticPool, create_engine, event

APPLICATION_ID = int.from_bytes(b"CFWb", "big")
"""What a case file calls itself, in bytes 68 to 71; see sqlite.org/fileformat.html."""

_MAGIC = b"SQLite format 3\0"
_WAIT_S = 5.0


@dataclass(frozen=True, slots=True)
class FileHead:
    """What the first 100 bytes of a file say, read before SQLite touches it.

    Attributes:
        is_database: Whether it is an SQLite database at all.
        is_case: Whether it calls itself a case.
        format: Number of the case format.
        missing_bytes: How many bytes the file is short of what it says of itself.
    """

    is_database: bool
    is_case: bool
    format: int
    missing_bytes: int


def look_at(path: Path) -> FileHead:
    """Return what the head of the file at `path` says."""
    with path.open("rb") as file:
        head = file.read(100)
    if len(head) < 100 or not head.startswith(_MAGIC):
        return FileHead(is_database=False, is_case=False, format=0, missing_bytes=0)
    return FileHead(
        is_database=True,
        is_case=_number(head, 68) == APPLICATION_ID,
        format=_number(head, 60),
        missing_bytes=0 if journal_beside(path) else _missing(head, path.stat().st_size),
    )


def _missing(head: bytes, size: int) -> int:
    page = int.from_bytes(head[16:18], "big")
    told = _number(head, 28) * (1 << 16 if page == 1 else page)
    trusted = _number(head, 24) == _number(head, 92)
    return max(0, told - size) if trusted else 0


def _number(head: bytes, at: int) -> int:
    return int.from_bytes(head[at : at + 4], "big")


def journal_beside(path: Path) -> bool:
    """Return whether an act that was cut short left its rollback file beside `path`."""
    return path.with_name(f"{path.name}-journal").exists()


def engine_for(path: Path, *, writable: bool) -> Engine:
    """Return an engine on the file at `path`, which must exist.

    A reader still opens for writing where it may, because only so can SQLite put back an act
    that was cut short; `query_only` then keeps its hands off everything else.
    """
    mode = "rw" if writable or journal_beside(path) else "ro"
    address = f"{path.resolve().as_uri()}?mode={mode}"

    def connect() -> sqlite3.Connection:
        return sqlite3.connect(
            address, uri=True, timeout=_WAIT_S, isolation_level=None, check_same_thread=False
        )

    return _listened_to(create_engine("sqlite://", creator=connect, poolclass=QueuePool), writable)


def memory_engine(source: Path | None = None) -> Engine:
    """Return an engine on a database in memory: an empty one, or a copy of the file `source`."""
    held = sqlite3.connect(":memory:", isolation_level=None, check_same_thread=False)
    if source:
        address = f"{source.resolve().as_uri()}?mode=ro"
        with closing(sqlite3.connect(address, uri=True, timeout=_WAIT_S)) as file:
            file.backup(held)
    engine = create_engine("sqlite://", creator=lambda: held, poolclass=StaticPool)
    return _listened_to(engine, writable=True)


def _listened_to(engine: Engine, writable: bool) -> Engine:
    @event.listens_for(engine, "connect")
    def _prepare(connection: sqlite3.Connection, _record: object) -> None:
        connection.execute("PRAGMA foreign_keys = ON")
        connection.execute("PRAGMA synchronous = FULL")
        connection.execute("PRAGMA trusted_schema = OFF")
        connection.execute(f"PRAGMA query_only = {'OFF' if writable else 'ON'}")

    # the driver itself begins only before some statements, and never before DDL: cpython#54949
    @event.listens_for(engine, "begin")
    def _begin(connection: Connection) -> None:
        mode = connection.get_execution_options().get("begin", "DEFERRED")
        connection.exec_driver_sql(f"BEGIN {mode}")

    return engine


@contextmanager
def writing(engine: Engine) -> Iterator[Connection]:
    """Give a connection within one transaction that has the right to write from its start."""
    with engine.connect().execution_options(begin="IMMEDIATE") as connection, connection.begin():
        yield connection


@contextmanager
def changing_tables(engine: Engine) -> Iterator[Connection]:
    """Give a connection within one transaction that may make and remake tables.

    Foreign keys are off meanwhile, or a table that is remade takes with it the rows that refer
    to it; within a transaction SQLite ignores the switch.
    """
    with engine.connect().execution_options(begin="IMMEDIATE") as connection:
        driver: Any = connection.connection.driver_connection
        driver.execute("PRAGMA foreign_keys = OFF")
        try:
            with connection.begin():
                yield connection
                if lost := connection.exec_driver_sql("PRAGMA foreign_key_check").fetchall():
                    raise RuntimeError(f"the steps leave rows that refer to nothing: {lost[:3]}")
        finally:
            driver.execute("PRAGMA foreign_keys = ON")


def stamp(connection: Connection, number: int) -> None:
    """Write into the file that it is a case of format `number`; part of the transaction."""
    connection.exec_driver_sql(f"PRAGMA application_id = {APPLICATION_ID}")
    connection.exec_driver_sql(f"PRAGMA user_version = {number}")


def guard(connection: Connection, *, kept: Iterable[str], fixed: Iterable[str]) -> None:
    """Forbid deleting from the tables `kept`, and deleting and updating in the tables `fixed`."""
    for table in (*kept, *fixed):
        _forbid(connection, "DELETE", table)
    for table in fixed:
        _forbid(connection, "UPDATE", table)


def _forbid(connection: Connection, what: str, table: str) -> None:
    connection.exec_driver_sql(
        f'CREATE TRIGGER IF NOT EXISTS "{table}_no_{what.lower()}" BEFORE {what} ON "{table}" '
        f"BEGIN SELECT RAISE(ABORT, '{table}: entries are kept as they are'); END"
    )


def copy_of(path: Path, target: Path) -> None:
    """Write a sound copy of the database at `path`, even while it is in use, to `target`."""
    half = target.with_name(f"{target.name}.part")
    half.unlink(missing_ok=True)
    with (
        closing(sqlite3.connect(f"{path.resolve().as_uri()}?mode=rw", uri=True)) as source,
        closing(sqlite3.connect(half)) as copy,
    ):
        source.backup(copy)
    half.replace(target)


def page_troubles(connection: Connection) -> tuple[str, ...]:
    """Return what is wrong with the pages of the file; empty where nothing is."""
    told = [str(row[0]) for row in connection.exec_driver_sql("PRAGMA integrity_check(10)")]
    return () if told == ["ok"] else tuple(told)


def layout_of(connection: Connection) -> dict[str, str]:
    """Return what SQLite wrote down of every table, index and guard, by name."""
    said = "SELECT name, sql FROM sqlite_schema WHERE sql IS NOT NULL"
    return {str(name): str(sql) for name, sql in connection.exec_driver_sql(said)}
