"""The steps: they end at the derived tables, and a full case goes through them whole."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.operations import Operations
from alembic.runtime.migration import MigrationContext
from cases import counts, full_case, turn_back
from sqlalchemy import Engine, inspect

from workbench.casefile import FORMAT, create, open_case
from workbench.casefile.sqlite import APPLICATION_ID, changing_tables, memory_engine
from workbench.casefile.steps import STEPS, bring_up
from workbench.casefile.tables import METADATA


@pytest.fixture
def engine() -> Iterator[Engine]:
    made = memory_engine()
    yield made
    made.dispose()


def test_the_steps_end_at_the_tables_that_the_records_give(engine: Engine) -> None:
    with changing_tables(engine) as connection:
        bring_up(connection, 0)
        assert compare_metadata(MigrationContext.configure(connection), METADATA) == []


def test_the_steps_are_numbered_in_their_order() -> None:
    numbers = [int(step.__name__.rpartition(".")[2].split("_")[1]) for step in STEPS]
    assert numbers == sorted(set(numbers))
    assert len(STEPS) == FORMAT


def test_every_step_says_what_it_brings() -> None:
    assert all(step.__doc__ for step in STEPS)


def test_a_step_that_fails_leaves_the_file_as_it_was(
    engine: Engine, monkeypatch: pytest.MonkeyPatch
) -> None:
    class Failing:
        @staticmethod
        def upgrade(op: Operations) -> None:
            op.execute("CREATE TABLE half (a)")
            raise RuntimeError("no")

    monkeypatch.setattr("workbench.casefile.steps.STEPS", (STEPS[0], Failing))
    with pytest.raises(RuntimeError, match="no"), changing_tables(engine) as connection:
        bring_up(connection, 0)
    assert inspect(engine).get_table_names() == []


def test_a_step_that_leaves_rows_without_what_they_refer_to_is_undone(engine: Engine) -> None:
    with changing_tables(engine) as connection:
        connection.exec_driver_sql("CREATE TABLE parent (id INTEGER PRIMARY KEY)")
        connection.exec_driver_sql("CREATE TABLE child (p REFERENCES parent(id) ON DELETE CASCADE)")
        connection.exec_driver_sql("INSERT INTO parent VALUES (1)")
        connection.exec_driver_sql("INSERT INTO child VALUES (1)")
    with pytest.raises(RuntimeError, match="refer to nothing"), changing_tables(engine) as doing:
        doing.exec_driver_sql("DELETE FROM parent")
    with engine.connect() as connection:
        assert connection.exec_driver_sql("SELECT count(*) FROM parent").scalar() == 1
        assert connection.exec_driver_sql("PRAGMA foreign_keys").scalar() == 1


def test_remaking_a_table_keeps_the_rows_that_refer_to_it(engine: Engine) -> None:
    with changing_tables(engine) as connection:
        connection.exec_driver_sql("CREATE TABLE parent (id INTEGER PRIMARY KEY, a TEXT)")
        connection.exec_driver_sql("CREATE TABLE child (p REFERENCES parent(id) ON DELETE CASCADE)")
        connection.exec_driver_sql("INSERT INTO parent VALUES (1, 'x')")
        connection.exec_driver_sql("INSERT INTO child VALUES (1)")
    with changing_tables(engine) as connection:
        operations = Operations(MigrationContext.configure(connection))
        with operations.batch_alter_table("parent", recreate="always") as batch:
            batch.drop_column("a")
    with engine.connect() as connection:
        assert connection.exec_driver_sql("SELECT count(*) FROM child").scalar() == 1


@pytest.mark.parametrize("number", range(1, FORMAT))
def test_a_full_case_of_an_older_format_keeps_every_row(tmp_path: Path, number: int) -> None:
    folder = tmp_path / "old.case"
    full_case(folder)
    rows = turn_back(folder, number)
    opened = open_case(folder, "Ben")
    held, entries = opened.file.load(), opened.file.journal()
    opened.file.close()
    after = counts(folder)
    assert {name: after[name] for name in rows} == rows | {"journal": rows["journal"] + 1}
    assert len(held.records) >= sum(rows.values()) - rows["journal"] - rows["original"]
    assert entries[-1].who == "Ben"
    assert entries[-1].what == f"brought the case file from format {number} to format {FORMAT}"


@pytest.mark.parametrize("number", range(1, FORMAT))
def test_an_older_file_is_copied_before_it_is_changed(tmp_path: Path, number: int) -> None:
    folder = tmp_path / "old.case"
    full_case(folder)
    rows = turn_back(folder, number)
    open_case(folder, "Ben").file.close()
    copy = tmp_path / "copy.case"
    copy.mkdir()
    (folder / f"case.format-{number}.sqlite").rename(copy / "case.sqlite")
    assert counts(copy) == rows


@pytest.mark.parametrize("number", range(1, FORMAT))
def test_a_reader_of_an_older_format_leaves_the_file_alone(tmp_path: Path, number: int) -> None:
    folder = tmp_path / "old.case"
    full_case(folder)
    turn_back(folder, number)
    before = (folder / "case.sqlite").read_bytes()
    opened = open_case(folder, "Ben", read_only=True)
    assert opened.file.load().records
    opened.file.close()
    assert (folder / "case.sqlite").read_bytes() == before


def test_a_new_case_is_of_the_newest_format(tmp_path: Path) -> None:
    create(tmp_path / "new.case", "Ann").file.close()
    with closing(sqlite3.connect(tmp_path / "new.case" / "case.sqlite")) as file:
        assert file.execute("PRAGMA user_version").fetchone() == (FORMAT,)
        assert file.execute("PRAGMA application_id").fetchone() == (APPLICATION_ID,)
