"""The files that a book names: found beside it, inside its folder, and fit to be looked at."""

import warnings
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from PIL import Image, UnidentifiedImageError

from workbench.exchange.field_book.rows import Entry
from workbench.exchange.field_book.words import near
from workbench.records import Photo, Problem, SitePlan

Kept = Callable[[str], Path | None]
MOST_PIXELS = 250_000_000
"""Pictures with more pixels are kept and not opened."""
_TYPES = {
    ".jpg": "JPEG", ".jpeg": "JPEG", ".png": "PNG", ".tif": "TIFF", ".tiff": "TIFF",
    ".webp": "WEBP", ".gif": "GIF", ".bmp": "BMP",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class NamedFile:
    """A file that came with a book.

    Attributes:
        name: The name that records use, with `/` between folders: "photos/p01.jpg".
        path: Where it lies.
        is_book: Whether it is the book, or one of its tables, itself.
    """

    name: str
    path: Path
    is_book: bool = False


def nothing_kept(name: str) -> Path | None:  # noqa: ARG001 - a case that keeps no file
    """Return None: no file is kept under the name."""
    return None


def named_files(
    entries: Iterable[Entry], folder: Path, kept: Kept, told: Callable[[], None]
) -> tuple[list[NamedFile], list[Problem]]:
    """Return the files that `entries` name and what is wrong with them; none of it hinders.

    Args:
        entries: The rows.
        folder: The folder of the book; nothing outside of it is taken.
        kept: Gives the file that the case keeps under a name already, or None.
        told: Called after each file, to show progress; may raise to stop.
    """
    first: dict[str, Entry] = {}
    for entry in entries:
        for name in _files_of(entry):
            first.setdefault(name, entry)
    files, problems = [], []
    for name, entry in first.items():
        path = _inside(folder, name)
        if path is None or not path.is_file():
            if kept(name):
                continue
            problems.append(_not_there(entry, name, folder, outside=path is None))
        else:
            files.append(NamedFile(name, path))
            must_be_picture = isinstance(entry.record, Photo | SitePlan)
            for wrong, right in _looked_at(path, must_be_picture=must_be_picture):
                problems.append(entry.problem(_field_of(entry), wrong, right, hinders=False))
        told()
    return files, problems


def count_files(entries: Iterable[Entry]) -> int:
    """Return how many different files `entries` name."""
    return len({name for entry in entries for name in _files_of(entry)})


def _files_of(entry: Entry) -> tuple[str, ...]:
    """Return the files that a row names: its own, or those attached."""
    record = entry.record
    several = getattr(record, "files", ())
    name = str(getattr(record, "file", ""))
    return (name, *several) if name else tuple(several)


def _field_of(entry: Entry) -> str:
    return "file" if hasattr(entry.record, "file") else "attachments"


def _inside(folder: Path, name: str) -> Path | None:
    """Return where a file lies, or None where the name leads out of the folder of the book."""
    parts = PurePosixPath(name)
    if parts.is_absolute() or ".." in parts.parts or ":" in name or "\0" in name:
        return None
    try:
        path = (folder / parts).resolve()
        return path if path.is_relative_to(folder.resolve()) else None
    except (OSError, RuntimeError, ValueError):
        return None


def _not_there(entry: Entry, name: str, folder: Path, *, outside: bool) -> Problem:
    if outside:
        wrong = f"“{name}” does not lie beside the book; recorded without its file"
        return entry.problem(
            _field_of(entry), wrong, "copy it into the folder of the book", hinders=False
        )
    beside = folder / PurePosixPath(name).parent
    names = [one.name for one in beside.iterdir()] if beside.is_dir() else []
    meant = near(PurePosixPath(name).name, names, cutoff=0.8)
    right = f"there is a file {meant}" if meant else "put it there and take the book in again"
    wrong = f"there is no file “{name}” beside the book; recorded without its file"
    return entry.problem(_field_of(entry), wrong, right, hinders=False)


def _looked_at(path: Path, *, must_be_picture: bool) -> Iterator[tuple[str, str]]:
    """Return what is wrong with a file, picture or other."""
    if path.stat().st_size == 0:
        yield f"{path.name} is empty", "copy it again from where it was made"
        return
    expected = _TYPES.get(path.suffix.lower())
    if not (expected or must_be_picture):
        return
    try:
        yield from _picture_faults(path, expected)
    except UnidentifiedImageError:
        yield f"{path.name} is no picture that can be shown", "it is kept as it is"
    except (OSError, ValueError, SyntaxError, EOFError, MemoryError, Image.DecompressionBombError):
        yield f"{path.name} is damaged or was cut off", "it is kept as it is; copy it again"


def _picture_faults(path: Path, expected: str | None) -> Iterator[tuple[str, str]]:
    with warnings.catch_warnings(action="ignore"), Image.open(path) as picture:
        pixels = picture.width * picture.height
        if pixels > MOST_PIXELS:
            yield f"{path.name} has {pixels / 1e6:.0f} million pixels", "it is kept, not shown"
            return
        if expected and picture.format not in {expected, "MPO"}:
            yield f"{path.name} is a {picture.format} by its content", "it is kept as it is"
        picture.draft("RGB", (picture.width // 8, picture.height // 8))
        picture.load()
