"""What can go wrong with a case on disk, each told in words that say what to do."""

import errno
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sqlalchemy.exc import DBAPIError

from workbench.records import KnownError


class CaseFileError(KnownError):
    """The case on disk cannot be read or written; the text says why and what to do."""


class NotACaseError(CaseFileError):
    """There is no case there, or it is something else."""


class CaseTooNewError(CaseFileError):
    """A newer version of the program wrote the case."""


class CaseLockedError(CaseFileError):
    """Another program holds the case."""


class CaseDamagedError(CaseFileError):
    """The case is cut short or holds what no version of the program wrote."""


class CaseMovedError(CaseFileError):
    """Something else wrote to the case since it was opened."""


class ReadOnlyError(CaseFileError):
    """The case was opened for reading."""


RESTORE = "put back a copy of the whole case folder from your backup"
_LOCKED = "it is held by another program; close that one and try again"
_FULL = "the disk is full; make room and do it again, nothing of this act was kept"
_UNREADABLE = f"it is damaged; {RESTORE}, or run “workbench verify” to see what is left"
_CANNOT_WRITE = "it may not be written; copy the case folder to where you may write, and open that"
_TROUBLES: dict[int, tuple[type[CaseFileError], str]] = {
    sqlite3.SQLITE_BUSY: (CaseLockedError, _LOCKED),
    sqlite3.SQLITE_LOCKED: (CaseLockedError, _LOCKED),
    sqlite3.SQLITE_FULL: (CaseFileError, _FULL),
    sqlite3.SQLITE_CORRUPT: (CaseDamagedError, _UNREADABLE),
    sqlite3.SQLITE_NOTADB: (CaseDamagedError, _UNREADABLE),
    sqlite3.SQLITE_READONLY: (CaseFileError, _CANNOT_WRITE),
    sqlite3.SQLITE_CANTOPEN: (CaseFileError, f"it cannot be opened; {_CANNOT_WRITE}"),
    sqlite3.SQLITE_PERM: (CaseFileError, _CANNOT_WRITE),
    sqlite3.SQLITE_IOERR: (
        CaseFileError, "the disk cannot be read or written; check it, and try again",
    ),
}  # fmt: skip

_ALTERED = ("no such table", "no such column", "Could not decode")


@contextmanager
def telling(path: Path) -> Iterator[None]:
    """Turn what SQLite and the disk say about `path` into words for a person.

    Raises:
        CaseFileError: The surroundings are to blame; errors of the program pass as they are.
    """
    try:
        yield
    except DBAPIError as wrong:
        raise (_in_words(wrong.orig, path) or wrong) from wrong
    except sqlite3.Error as wrong:
        raise (_in_words(wrong, path) or wrong) from wrong
    except UnicodeDecodeError as wrong:
        raise CaseDamagedError(f"{path}: {_UNREADABLE}") from wrong
    except OSError as wrong:
        words = _FULL if wrong.errno == errno.ENOSPC else wrong.strerror or wrong
        raise CaseFileError(f"{wrong.filename or path}: {words}") from wrong


def _in_words(wrong: BaseException | None, path: Path) -> CaseFileError | None:
    if any(words in str(wrong) for words in _ALTERED):
        return CaseDamagedError(f"{path}: {wrong}; {_UNREADABLE}")
    code = getattr(wrong, "sqlite_errorcode", 0) or 0
    kind, words = _TROUBLES.get(code & 0xFF, (None, ""))
    return kind(f"{path}: {words}") if kind else None
