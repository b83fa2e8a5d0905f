"""A case folder made, or opened after asking the file what it is."""

import contextlib
import platform
import shutil
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import Connection, Engine

from workbench.casefile.case_file import FILE_NAME, CaseFile, now
from workbench.casefile.chains import append
from workbench.casefile.journal import Doing, JournalEntry
from workbench.casefile.locking import WriterLock
from workbench.casefile.originals import sweep
from workbench.casefile.sqlite import (
    changing_tables,
    copy_of,
    engine_for,
    look_at,
    memory_engine,
)
from workbench.casefile.steps import STEPS, bring_up
from workbench.casefile.tables import JOURNAL
from workbench.casefile.troubles import (
    RESTORE,
    CaseDamagedError,
    CaseFileError,
    CaseTooNewError,
    NotACaseError,
    telling,
)

FORMAT = len(STEPS)
_HALF = f"{FILE_NAME}.part"
_FOLDERS = ("originals", "issued", "cache")


@dataclass(frozen=True, slots=True)
class Opened:
    """An open case, and why it can only be read, where that is so."""

    file: CaseFile
    read_only_because: str


def create(folder: Path, author: str) -> Opened:
    """Make an empty case in `folder`, which must not exist yet or be empty, and open it.

    Raises:
        CaseFileError: There is something in the folder, or it cannot be written.
    """
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise CaseFileError(f"{folder}: there is something of that name; choose another name")
    was_there = folder.exists()
    try:
        with telling(folder):
            _make(folder)
    except BaseException:
        _take_away(folder, whole=not was_there)
        raise
    return open_case(folder, author)


def _make(folder: Path) -> None:
    for name in _FOLDERS:
        (folder / name).mkdir(parents=True)
    half = folder / _HALF
    half.touch()
    engine = engine_for(half, writable=True)
    try:
        with changing_tables(engine) as connection:
            bring_up(connection, 0)
    finally:
        engine.dispose()
    half.replace(folder / FILE_NAME)


def _take_away(folder: Path, *, whole: bool) -> None:
    for name in _FOLDERS:
        shutil.rmtree(folder / name, ignore_errors=True)
    with contextlib.suppress(OSError):
        (folder / _HALF).unlink(missing_ok=True)
        if whole:
            folder.rmdir()


def open_case(folder: Path, author: str, *, read_only: bool = False) -> Opened:
    """Open the case in `folder`, for writing where nobody else does.

    Raises:
        CaseFileError: It cannot be opened; the text says why and what to do.
    """
    folder = folder.parent if folder.name == FILE_NAME else folder
    have = format_of(folder)
    lock = WriterLock(folder, f"{author} on {platform.node() or 'this computer'}")
    why_not = "it was opened for reading" if read_only else lock.acquire()
    if why_not:
        return Opened(CaseFile(folder, _reading(folder, have), None), why_not)
    try:
        with telling(folder / FILE_NAME):
            sweep(folder)
            engine = engine_for(folder / FILE_NAME, writable=True)
            if have < FORMAT:
                _migrate(folder, engine, have, author)
    except BaseException:
        lock.release()
        raise
    return Opened(CaseFile(folder, engine, lock), "")


def format_of(folder: Path) -> int:
    """Return the format of the case in `folder`, having asked the file before SQLite does.

    Raises:
        NotACaseError: There is no case, or a stranger.
        CaseTooNewError: A newer version of the program wrote it.
        CaseDamagedError: The file is cut short.
    """
    path = folder / FILE_NAME
    if not path.is_file():
        raise NotACaseError(
            f"{folder}: this is no case folder, there is no {FILE_NAME} in it; choose the folder "
            "whose name ends in .case"
        )
    with telling(path):
        head = look_at(path)
    if not head.is_database:
        raise CaseDamagedError(f"{path}: this is not what the program wrote; {RESTORE}")
    if not head.is_case:
        raise NotACaseError(f"{path}: this is a database of another program, not a case")
    if head.format > FORMAT:
        raise CaseTooNewError(
            f"{path}: a newer version of the program wrote this case (format {head.format}; this "
            f"version reads up to {FORMAT}); install the newer version, nothing was changed"
        )
    if head.missing_bytes:
        raise CaseDamagedError(f"{path}: its last {head.missing_bytes} bytes are gone; {RESTORE}")
    return head.format


def _reading(folder: Path, have: int) -> Engine:
    path = folder / FILE_NAME
    with telling(path):
        if have == FORMAT:
            return engine_for(path, writable=False)
        engine = memory_engine(path)
        with changing_tables(engine) as connection:
            bring_up(connection, have)
        return engine


def _migrate(folder: Path, engine: Engine, have: int, author: str) -> None:
    path = folder / FILE_NAME
    copy_of(path, folder / f"case.format-{have}.sqlite")
    with changing_tables(engine) as connection:
        bring_up(connection, have)
        _write_down(connection, have, author)


def _write_down(connection: Connection, have: int, author: str) -> None:
    entry = JournalEntry(
        recorded_at=now(),
        doing=Doing.FORMAT,
        who=author,
        what=f"brought the case file from format {have} to format {FORMAT}",
        final=True,
    )
    append(connection, JOURNAL, entry.recorded_at, [entry.body()])
