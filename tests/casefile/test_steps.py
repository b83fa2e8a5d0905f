"""The steps: they end at the derived tables, and a full case goes through them whole."""

import re
import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.operations import Operations
from alembic.runtime.migration import MigrationContext
from builders import make
from cases import counts, full_case, turn_back
from sqlalchemy import Engine, inspect
from sqlalchemy.dialects import postgresql
from sqlalchemy.schema import CreateTable

from workbench.casefile import FORMAT, create, open_case, sqlite
from workbench.casefile.sqlite import APPLICATION_ID, changing_tables, memory_engine
from workbench.casefile.steps import STEPS, bring_up
from workbench.casefile.tables import METADATA
from workbench.desk.acts import Add, Change
from workbench.desk.case import Case
from workbench.records import Area, PullOff


@pytest.fixture
def engine() -> Iterator[Engine]:
    made = memory_engine()
    yield made
    made.dispose()


def test_the_steps_end_at_the_tables_that_the_records_give(engine: Engine) -> None:
    with changing_tables(engine) as connection:
        bring_up(connection, 0)
        assert compare_metadata(MigrationContext.configure(connection), METADATA) == []


def test_the_number_of_a_step_is_that_of_the_format_it_leads_to() -> None:
    numbers = [int(step.__name__.rpartition(".")[2].split("_")[1]) for step in STEPS]
    assert numbers == list(range(1, FORMAT + 1))


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


@pytest.fixture(scope="module")
def full(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("cases") / "full.case"
    full_case(folder)
    return folder


@pytest.fixture
def folder(full: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(full, tmp_path / "old.case"))


@pytest.mark.parametrize("number", range(1, FORMAT))
def test_a_full_case_of_an_older_format_keeps_every_row(folder: Path, number: int) -> None:
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
def test_an_older_file_is_copied_before_it_is_changed(folder: Path, number: int) -> None:
    rows = turn_back(folder, number)
    open_case(folder, "Ben").file.close()
    copy = folder / "copy.case"
    copy.mkdir()
    (folder / f"case.format-{number}.sqlite").rename(copy / "case.sqlite")
    assert counts(copy) == rows


@pytest.mark.parametrize("number", range(1, FORMAT))
def test_a_reader_of_an_older_format_leaves_the_file_alone(folder: Path, number: int) -> None:
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


def test_a_step_that_fails_on_a_case_leaves_the_case_and_lets_go_of_it(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    rows = turn_back(folder, FORMAT - 1)

    def fail(op: Operations) -> None:
        op.execute("UPDATE area SET note = 'half'")
        raise RuntimeError("no")

    with monkeypatch.context() as patched:
        patched.setattr(STEPS[-1], "upgrade", fail)
        with pytest.raises(RuntimeError, match="no"):
            open_case(folder, "Ben")
    assert counts(folder) == rows
    with Case.open(folder, author="Ben") as case:
        assert not case.read_only
        assert "half" not in {area.note for area in case.dossier.all(Area)}


def test_the_tables_can_be_made_by_another_database_too() -> None:
    for table in METADATA.sorted_tables:
        made = str(CreateTable(table).compile(dialect=postgresql.dialect()))  # type: ignore[no-untyped-call]
        assert table.name in made


def test_only_one_file_of_the_room_speaks_the_language_of_one_database() -> None:
    room = Path(sqlite.__file__).parent
    own = re.compile(r"PRAGMA|sqlite_schema|TRIGGER|GLOB|rowid|exec_driver_sql")
    speaking = {path.name for path in room.rglob("*.py") if own.search(path.read_text("utf-8"))}
    assert speaking == {"sqlite.py"}


def test_a_case_of_the_first_format_is_unchanged_since_it_was_recorded(tmp_path: Path) -> None:
    folder = tmp_path / "old.case"
    with Case.create(folder, author="Ann") as case:
        case.do(Add((make(Area), make(PullOff, ref="P1"), make(PullOff, ref="P2"))))
        case.do(Change(replace(case.dossier.all(PullOff)[0], note="wet")))
        before = case.dossier.everything()
    turn_back(folder, 1)
    with Case.open(folder, author="Ben") as case:
        assert case.dossier.everything() == before
        found = case.verify()
        assert found.unchanged, found.findings
        assert not case.undo_list
        case.do(Add((make(PullOff, ref="P3"),)))
        assert case.verify().unchanged
