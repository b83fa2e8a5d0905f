"""What a case folder turns out to be is told in words that say what to do."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest
from builders import make
from filelock import FileLock

from workbench.casefile import (
    FORMAT,
    CaseDamagedError,
    CaseFileError,
    CaseLockedError,
    CaseTooNewError,
    NotACaseError,
    ReadOnlyError,
    create,
    open_case,
)
from workbench.casefile.sqlite import journal_beside, look_at
from workbench.desk.acts import Add
from workbench.desk.case import Case
from workbench.records import PullOff


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    made = tmp_path / "mill-lane.case"
    with Case.create(made, author="Ann") as case:
        case.do(Add(tuple(make(PullOff, ref=f"P{number}") for number in range(300))))
    return made


def test_a_new_case_has_its_rooms(folder: Path) -> None:
    assert {one.name for one in folder.iterdir() if one.is_dir()} == {
        "originals", "issued", "cache",
    }  # fmt: skip


def test_a_case_is_not_made_where_something_is(folder: Path, tmp_path: Path) -> None:
    file = tmp_path / "notes.case"
    file.write_text("mine")
    for taken in (folder, file):
        with pytest.raises(CaseFileError, match="choose another name"):
            create(taken, "Ann")
    assert file.read_text() == "mine"


def test_a_case_is_made_in_an_empty_folder_that_is_there(tmp_path: Path) -> None:
    (tmp_path / "a.case").mkdir()
    with Case.create(tmp_path / "a.case") as case:
        assert case.dossier.everything() == ()


@pytest.mark.parametrize("was_there", [True, False])
def test_a_case_that_cannot_be_made_leaves_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, *, was_there: bool
) -> None:
    made = tmp_path / "b.case"
    if was_there:
        made.mkdir()

    def fail(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("workbench.casefile.opening.bring_up", fail)
    with pytest.raises(CaseFileError, match="the disk is full"):
        create(made, "Ann")
    assert made.exists() is was_there
    assert [one for one in tmp_path.rglob("*") if one != made] == []


def test_a_case_is_opened_by_its_folder_or_by_its_file(folder: Path) -> None:
    for path in (folder, folder / "case.sqlite"):
        with Case.open(path) as case:
            assert len(case.dossier.all(PullOff)) == 300


def test_the_head_is_read_before_sqlite_touches_the_file(folder: Path) -> None:
    head = look_at(folder / "case.sqlite")
    assert (head.is_database, head.is_case, head.format, head.missing_bytes) == (
        True, True, FORMAT, 0,
    )  # fmt: skip


def test_a_folder_without_a_case_is_told_as_that(tmp_path: Path) -> None:
    for path in (tmp_path, tmp_path / "nowhere.case"):
        with pytest.raises(NotACaseError, match=r"no case folder.*choose the folder"):
            open_case(path, "Ann")


def test_a_database_of_another_program_is_told_as_that_and_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "case.sqlite"
    with closing(sqlite3.connect(path)) as file:
        file.execute("CREATE TABLE stamps (price)")
    before = path.read_bytes()
    with pytest.raises(NotACaseError, match="another program"):
        open_case(tmp_path, "Ann")
    assert path.read_bytes() == before
    assert [one.name for one in tmp_path.iterdir()] == ["case.sqlite"]


@pytest.mark.parametrize("content", [b"", b"SQLite", b"PK\x03\x04" + b"\0" * 200, b"\xff" * 4096])
def test_a_file_that_is_no_database_is_told_as_damaged(tmp_path: Path, content: bytes) -> None:
    (tmp_path / "case.sqlite").write_bytes(content)
    with pytest.raises(CaseDamagedError, match="backup"):
        open_case(tmp_path, "Ann")


def test_a_newer_format_is_refused_with_both_numbers_and_left_alone(folder: Path) -> None:
    path = folder / "case.sqlite"
    with closing(sqlite3.connect(path)) as file:
        file.execute(f"PRAGMA user_version = {FORMAT + 1}")
    before = path.read_bytes()
    with pytest.raises(CaseTooNewError, match=rf"format {FORMAT + 1}.* up to {FORMAT}.*install"):
        open_case(folder, "Ann")
    assert path.read_bytes() == before


@pytest.mark.parametrize("keep", [0.3, 0.7, 0.99])
def test_a_file_that_was_cut_short_is_told_with_what_is_gone(folder: Path, keep: float) -> None:
    path = folder / "case.sqlite"
    size = path.stat().st_size
    with path.open("r+b") as file:
        file.truncate(int(size * keep))
    with pytest.raises(
        CaseDamagedError, match=rf"{size - int(size * keep)} bytes are gone.*backup"
    ):
        open_case(folder, "Ann")


def test_pages_that_are_overwritten_are_told_as_damage(folder: Path) -> None:
    path = folder / "case.sqlite"
    with path.open("r+b") as file:
        file.seek(4096)
        file.write(b"\xa5" * (path.stat().st_size - 4096))
    with pytest.raises(CaseDamagedError, match="backup"), Case.open(folder):
        pass


def test_a_cell_that_no_record_can_have_is_named(folder: Path) -> None:
    with closing(sqlite3.connect(folder / "case.sqlite")) as file:
        file.execute("UPDATE pull_off SET method = 'ISO 1' WHERE ref = 'P7'")
        file.commit()
    with pytest.raises(CaseDamagedError, match=r"pull_off.method cannot be “ISO 1”; run"):
        Case.open(folder)


@pytest.fixture
def held(folder: Path) -> Iterator[Path]:
    with closing(sqlite3.connect(folder / "case.sqlite", isolation_level=None)) as other:
        other.execute("BEGIN EXCLUSIVE")
        yield folder


def test_a_file_held_by_another_program_is_told_as_that(
    held: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("workbench.casefile.sqlite._WAIT_S", 0.05)
    with pytest.raises(CaseLockedError, match=r"another program; close that one"):
        Case.open(held)


def test_the_second_opener_reads_and_is_told_who_writes(folder: Path) -> None:
    with Case.open(folder, author="Ann") as writer, Case.open(folder, author="Ben") as reader:
        assert not writer.read_only
        assert reader.read_only
        assert "Ann on " in reader.read_only_because
        with pytest.raises(ReadOnlyError, match=r"Ann on .* has it open for writing"):
            reader.do(Add((make(PullOff, ref="P900"),)))
        writer.do(Add((make(PullOff, ref="P901"),)))
        assert reader.dossier.find(PullOff, "P901") is None
        with Case.open(folder, author="Ben") as again:
            assert again.dossier.find(PullOff, "P901") is not None
    with Case.open(folder, author="Ben") as later:
        assert not later.read_only


def test_a_lock_that_fails_to_be_taken_after_all_is_let_go(folder: Path) -> None:
    path = folder / "case.sqlite"
    with closing(sqlite3.connect(path)) as file:
        file.execute("DROP TABLE pull_off")
    with pytest.raises(CaseDamagedError, match="no such table: pull_off"):
        Case.open(folder)
    FileLock(folder / "case.lock", timeout=0).acquire().lock.release()


def test_a_folder_that_cannot_be_written_is_opened_for_reading(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(FileLock, "acquire", refuse)
    with Case.open(folder) as case:
        assert case.read_only
        assert case.read_only_because == (
            "nothing can be written into its folder (Permission denied)"
        )
        assert len(case.dossier.all(PullOff)) == 300


def cut_short(folder: Path, copy: Path) -> None:
    """Copy the case as it lies on disk in the middle of an act."""
    with closing(sqlite3.connect(folder / "case.sqlite", isolation_level=None)) as file:
        file.execute("PRAGMA cache_size = 1")
        file.execute("PRAGMA cache_spill = 1")
        file.execute("BEGIN IMMEDIATE")
        file.execute("UPDATE pull_off SET note = 'half an act' || hex(randomblob(300))")
        copy.mkdir()
        for name in ("case.sqlite", "case.sqlite-journal"):
            (copy / name).write_bytes((folder / name).read_bytes())
        (copy / "originals").mkdir()
        file.execute("ROLLBACK")


@pytest.mark.parametrize("read_only", [True, False])
def test_an_act_that_was_cut_short_is_put_back_by_whoever_opens(
    folder: Path, tmp_path: Path, *, read_only: bool
) -> None:
    copy = tmp_path / "copy.case"
    cut_short(folder, copy)
    assert journal_beside(copy / "case.sqlite")
    assert b"half an act" in (copy / "case.sqlite").read_bytes()
    with Case.open(copy, read_only=read_only) as case:
        assert {one.note for one in case.dossier.all(PullOff)} == {""}


def test_a_reader_writes_nothing(folder: Path) -> None:
    before = {one.name: one.stat().st_mtime_ns for one in folder.iterdir()}
    with Case.open(folder, read_only=True) as case:
        assert case.read_only_because == "it was opened for reading"
    assert {one.name: one.stat().st_mtime_ns for one in folder.iterdir()} == before
