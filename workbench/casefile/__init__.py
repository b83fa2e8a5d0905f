"""Where a case is kept: a folder with records, journal, custody ledger and originals."""

from workbench.casefile.case_file import CaseFile, Heads, Held, Step, now
from workbench.casefile.journal import (
    Doing,
    FieldChange,
    JournalEntry,
    Kept,
    LedgerLine,
    records_after,
)
from workbench.casefile.opening import FORMAT, Opened, create, open_case
from workbench.casefile.originals import FileToKeep, discard, name_of, path_of
from workbench.casefile.troubles import (
    CaseDamagedError,
    CaseFileError,
    CaseLockedError,
    CaseMovedError,
    CaseTooNewError,
    NotACaseError,
    ReadOnlyError,
)

__all__ = [
    "FORMAT",
    "CaseDamagedError",
    "CaseFile",
    "CaseFileError",
    "CaseLockedError",
    "CaseMovedError",
    "CaseTooNewError",
    "Doing",
    "FieldChange",
    "FileToKeep",
    "Heads",
    "Held",
    "JournalEntry",
    "Kept",
    "LedgerLine",
    "NotACaseError",
    "Opened",
    "ReadOnlyError",
    "Step",
    "create",
    "discard",
    "name_of",
    "now",
    "open_case",
    "path_of",
    "records_after",
]
