"""Originals are kept byte for byte under their digest, and never replaced."""

import hashlib
import stat
from pathlib import Path

import pytest
from builders import make

from workbench.casefile import CaseFileError
from workbench.casefile.originals import FileToKeep
from workbench.desk.acts import ActRefusedError, Add, Keep, TakeIn
from workbench.desk.case import Case
from workbench.records import Cancelled, Photo

CONTENT = b"what the camera wrote"
DIGEST = hashlib.sha256(CONTENT).hexdigest()


@pytest.fixture
def case(tmp_path: Path) -> Case:
    return Case.create(tmp_path / "a.case", author="Ann")


def files_in(case: Case) -> list[str]:
    return sorted(one.name for one in (case.folder / "originals").rglob("*") if one.is_file())


def test_a_file_lies_under_its_digest_and_is_found_by_its_name(case: Case, tmp_path: Path) -> None:
    source = tmp_path / "p01.jpg"
    source.write_bytes(CONTENT)
    entry = case.do(Keep((FileToKeep("photos/p01.jpg", source),)))
    path = case.original("photos/p01.jpg")
    assert path == case.folder / "originals" / DIGEST[:2] / DIGEST
    assert path.read_bytes() == CONTENT
    assert not path.stat().st_mode & (stat.S_IWUSR | stat.S_IWGRP | stat.S_IWOTH)
    assert [(one.name, one.digest, one.size) for one in entry.kept] == [
        ("photos/p01.jpg", DIGEST, len(CONTENT))
    ]
    assert case.original("photos/p02.jpg") is None


def test_the_same_bytes_lie_there_once_under_both_names(case: Case) -> None:
    case.do(Keep((FileToKeep("a.jpg", CONTENT), FileToKeep("b.jpg", CONTENT))))
    assert files_in(case) == [DIGEST]
    assert case.original("a.jpg") == case.original("b.jpg")


def test_a_name_kept_twice_means_the_last_and_the_first_stays(case: Case) -> None:
    case.do(Keep((FileToKeep("a.jpg", CONTENT),)))
    case.do(Keep((FileToKeep("a.jpg", b"retouched"),)))
    path = case.original("a.jpg")
    assert path is not None
    assert path.read_bytes() == b"retouched"
    assert len(files_in(case)) == 2
    folder = case.folder
    case.close()
    with Case.open(folder) as again:
        assert again.original("a.jpg") == path


def test_names_are_found_however_the_letters_are_composed(case: Case) -> None:
    case.do(Keep((FileToKeep("cafe\u0301.jpg", CONTENT),)))
    assert case.original("café.jpg") is not None
    assert case.original("cafe\u0301.jpg") is not None


def test_a_missing_file_is_told_by_its_name(case: Case, tmp_path: Path) -> None:
    with pytest.raises(ActRefusedError, match=r"p9\.jpg: there is no file"):
        case.do(Keep((FileToKeep("p9.jpg", tmp_path / "p9.jpg"),)))
    with pytest.raises(ActRefusedError, match="there is no file"):
        case.do(Keep((FileToKeep("folder", tmp_path),)))


@pytest.mark.parametrize("stop_at", range(1, 5))
def test_an_act_that_is_stopped_leaves_no_file_and_no_line(case: Case, stop_at: int) -> None:
    case.do(Keep((FileToKeep("old.jpg", b"old"),)))
    before, lines = files_in(case), len(case.journal())
    steps = 0

    def step(done: int, whole: int) -> None:
        nonlocal steps
        steps += 1
        assert 0 < done <= whole
        if steps == stop_at:
            raise Cancelled

    files = tuple(FileToKeep(f"p{n}.jpg", f"{n}".encode()) for n in range(3))
    with pytest.raises(Cancelled):
        case.do(TakeIn("book", added=(make(Photo, file="p0.jpg"),), files=files), step)
    assert files_in(case) == before
    assert len(case.journal()) == lines
    assert case.dossier.everything() == ()
    assert case.original("p0.jpg") is None


def test_a_stopped_act_leaves_the_bytes_that_were_kept_before(case: Case) -> None:
    case.do(Keep((FileToKeep("old.jpg", CONTENT),)))

    def stop(_done: int, _whole: int) -> None:
        raise Cancelled

    with pytest.raises(Cancelled):
        case.do(Keep((FileToKeep("new.jpg", CONTENT),)), stop)
    assert files_in(case) == [DIGEST]


def test_what_a_copy_cut_short_left_is_swept_when_the_case_is_opened(case: Case) -> None:
    left = case.folder / "originals" / ".incoming-1"
    left.write_bytes(b"half")
    folder = case.folder
    case.close()
    with Case.open(folder, read_only=True):
        assert left.exists()
    with Case.open(folder):
        assert not left.exists()


def test_a_disk_that_cannot_be_written_is_told_in_words(
    case: Case, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object, **__: object) -> str:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("workbench.casefile.originals.copy_with_digest", full)
    with pytest.raises(CaseFileError, match="the disk is full; make room"):
        case.do(Keep((FileToKeep("a.jpg", CONTENT),)))
    assert files_in(case) == []
    monkeypatch.undo()
    case.do(Add((make(Photo, file="a.jpg"),)))
