"""Cases on disk for tests: full ones, and full ones of an older format."""

from dataclasses import dataclass
from pathlib import Path

from alembic.operations import Operations
from alembic.runtime.migration import MigrationContext
from anything import full
from sqlalchemy import MetaData, insert, select

from workbench.casefile.sqlite import changing_tables, engine_for, stamp
from workbench.casefile.steps import STEPS
from workbench.desk.acts import FieldChange, FileToKeep, Keep, Plan
from workbench.desk.case import Case
from workbench.records import KINDS, Dossier, Record


@dataclass(frozen=True, slots=True)
class Anyhow:
    """Records that are added whatever is wrong with them."""

    records: tuple[Record, ...]
    why: str = ""

    def plan(self, dossier: Dossier) -> Plan:  # noqa: ARG002 - all acts are planned alike
        return Plan(what="added", changes=tuple(FieldChange.adding(one) for one in self.records))


def full_case(folder: Path) -> dict[str, int]:
    """Make a case with three records of every type; return the rows of each table."""
    with Case.create(folder, author="Ann") as case:
        case.do(Anyhow(tuple(full(kind, number) for kind in KINDS for number in (1, 2, 3))))
        case.do(Keep((FileToKeep("photos/p1.jpg", b"not a picture"),)))
    return counts(folder)


def counts(folder: Path) -> dict[str, int]:
    """Return how many rows each table of a case has."""
    return {name: len(rows) for name, rows in _rows(folder / "case.sqlite").items()}


def turn_back(folder: Path, number: int) -> dict[str, int]:
    """Make the case one of an older format, as an older version would have left it."""
    path, older = folder / "case.sqlite", folder / "older"
    held = _rows(path)
    older.touch()
    engine = engine_for(older, writable=True)
    with changing_tables(engine) as connection:
        operations = Operations(MigrationContext.configure(connection))
        for step in STEPS[:number]:
            step.upgrade(operations)
        metadata = MetaData()
        metadata.reflect(connection)
        for table in metadata.sorted_tables:
            names = set(table.columns.keys())
            rows = [{name: row[name] for name in names} for row in held[table.name]]
            if rows:
                connection.execute(insert(table), rows)
        stamp(connection, number)
    engine.dispose()
    older.replace(path)
    return counts(folder)


def _rows(path: Path) -> dict[str, list[dict[str, object]]]:
    engine = engine_for(path, writable=False)
    metadata = MetaData()
    with engine.connect() as connection:
        metadata.reflect(connection)
        rows = {
            table.name: [dict(row) for row in connection.execute(select(table)).mappings()]
            for table in metadata.sorted_tables
        }
    engine.dispose()
    return rows
