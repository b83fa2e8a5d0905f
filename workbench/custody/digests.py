"""SHA-256 of files: reckoned while they are copied, and again when they are checked."""

import hashlib
from collections.abc import Callable
from pathlib import Path
from typing import BinaryIO

CHUNK_BYTES = 1 << 20

Told = Callable[[int], None]
"""Told how many bytes went through; may raise to stop."""


def copy_with_digest(source: BinaryIO, target: BinaryIO, told: Told | None = None) -> str:
    """Return the SHA-256 of `source`, in hex, having written it to `target` in the same pass."""
    digest = hashlib.sha256()
    while chunk := source.read(CHUNK_BYTES):
        digest.update(chunk)
        target.write(chunk)
        if told:
            told(len(chunk))
    return digest.hexdigest()


def digest_of(path: Path, told: Told | None = None) -> str:
    """Return the SHA-256 of the file at `path`, in hex.

    Raises:
        OSError: The file cannot be read.
    """
    digest = hashlib.sha256()
    with path.open("rb") as source:
        while chunk := source.read(CHUNK_BYTES):
            digest.update(chunk)
            if told:
                told(len(chunk))
    return digest.hexdigest()
