"""Files as they were received: stored under their SHA-256, never changed, never replaced."""

import contextlib
import io
import os
import re
import unicodedata
import uuid
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO

from sqlalchemy import Connection, func, insert, select

from workbench.casefile.converting import CellError
from workbench.casefile.journal import Kept
from workbench.casefile.tables import ORIGINAL
from workbench.custody.digests import copy_with_digest

_INCOMING = ".incoming-"
_DIGEST = re.compile("[0-9a-f]{64}")


@dataclass(frozen=True, slots=True)
class FileToKeep:
    """A file to be kept as an original.

    Attributes:
        name: The name that records use, with `/` between folders: "photos/p01.jpg".
        source: Where it lies, or its bytes.
    """

    name: str
    source: Path | bytes

    @property
    def size(self) -> int:
        """How many bytes it has now."""
        return self.source.stat().st_size if isinstance(self.source, Path) else len(self.source)


def name_of(name: str) -> str:
    """Return the name under which a file is entered and found: composed, with `/` between."""
    return unicodedata.normalize("NFC", name.replace("\\", "/"))


def path_of(folder: Path, digest: str) -> Path:
    """Return where the file with the digest lies below the case folder."""
    return folder / "originals" / digest[:2] / digest


def store(folder: Path, file: FileToKeep, told: Callable[[int], None] | None) -> tuple[Kept, bool]:
    """Copy a file into the case, hashing it in the same pass.

    Returns:
        What is kept, and whether it is new; bytes that are there already are left alone.
    """
    root = folder / "originals"
    root.mkdir(exist_ok=True)
    incoming = root / f"{_INCOMING}{uuid.uuid4().hex}"
    try:
        with _open(file.source) as source, incoming.open("xb") as target:
            digest = copy_with_digest(source, target, told)
            size = target.tell()
            target.flush()
            os.fsync(target.fileno())
        place = path_of(folder, digest)
        fresh = not place.exists()
        if fresh:
            place.parent.mkdir(exist_ok=True)
            incoming.replace(place)
            place.chmod(0o444)
            _settle(place.parent)
    finally:
        incoming.unlink(missing_ok=True)
    return Kept(name_of(file.name), digest, size), fresh


def discard(paths: Iterable[Path]) -> None:
    """Take away files that were stored for an act that did not come about."""
    for path in paths:
        with contextlib.suppress(FileNotFoundError):
            path.chmod(0o644)
            path.unlink()


def sweep(folder: Path) -> None:
    """Take away what a copy that was cut short left behind; it never became an original."""
    for left in (folder / "originals").glob(f"{_INCOMING}*"):
        left.unlink(missing_ok=True)


def enter(connection: Connection, kept: tuple[Kept, ...], kept_at: str) -> None:
    """Write down under which names the files are kept."""
    last = connection.execute(select(func.max(ORIGINAL.c.position))).scalar() or 0
    rows = [
        {"position": last + at, "name": one.name, "digest": one.digest, "size": one.size,
         "kept_at": kept_at}
        for at, one in enumerate(kept, 1)
    ]  # fmt: skip
    if rows:
        connection.execute(insert(ORIGINAL), rows)


def entered(connection: Connection) -> tuple[Kept, ...]:
    """Return every file that was ever kept, in order; the last one of a name counts.

    Raises:
        CellError: What stands there cannot be a name, a digest and a size.
    """
    columns = (ORIGINAL.c.name, ORIGINAL.c.digest, ORIGINAL.c.size)
    rows = connection.execute(select(*columns).order_by(ORIGINAL.c.position))
    return tuple(_kept(*row) for row in rows)


def _kept(name: object, digest: object, size: object) -> Kept:
    if not (isinstance(name, str) and isinstance(digest, str) and isinstance(size, int)):
        raise CellError(f"original.size or original.name cannot be what they are of “{name}”")
    if not _DIGEST.fullmatch(digest):
        raise CellError(f"original.digest cannot be “{digest}”")
    return Kept(name, digest, size)


def _open(source: Path | bytes) -> BinaryIO:
    return source.open("rb") if isinstance(source, Path) else io.BytesIO(source)


def _settle(folder: Path) -> None:
    """Have the disk hold the new name before a journal line relies on it."""
    if os.name == "posix":
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
