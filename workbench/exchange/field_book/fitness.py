"""Whether a file is a workbook that can be opened without harm, judged before it is parsed.

The order: size, signature (not the extension), the parts of the ZIP with their sizes, a bounded
read of every part in which no part may declare a document type, then what the workbook carries.
"""

import re
import zipfile
import zlib
from dataclasses import dataclass, field
from pathlib import Path

MOST_BYTES = 60_000_000
"""Largest file that is opened."""
MOST_UNPACKED = 400_000_000
"""Largest sum of the parts, unpacked."""
MOST_PARTS = 5_000
MOST_RATIO = 200
"""Largest ratio of a part unpacked to packed, above `SMALL_PART`; honest sheets reach 50."""
SMALL_PART = 2_000_000
_CHUNK = 1 << 20
_ROW = re.compile(rb"<(?:\w+:)?row[ >]")
_FAR = re.compile(rb"[ ]r=[\"'][A-Z]{3}\d")
_HIDDEN = re.compile(rb"hidden=[\"'](1|true)")

_OLE = bytes.fromhex("d0cf11e0a1b11ae1")
_SAVE_AS = "save it as an Excel workbook (.xlsx)"


class UnfitError(Exception):
    """A file that is not opened, with what is wrong and what would be right."""

    def __init__(self, wrong: str, right: str) -> None:
        """Keep both halves of the sentence."""
        super().__init__(f"{wrong}; {right}")
        self.wrong = wrong
        self.right = right


@dataclass
class Contents:
    """What a workbook was seen to carry, before it is parsed.

    Attributes:
        rows: Number of rows in all sheets together, for showing progress.
        merged: Whether a sheet merges cells.
        hidden: Whether a sheet hides rows or columns.
        far: Whether a sheet has cells to the right of column ZZ.
        extras: What is in the file and is not taken in, in words.
    """

    rows: int = 0
    merged: bool = False
    hidden: bool = False
    far: bool = False
    extras: list[str] = field(default_factory=list)


_EXTRAS = (
    (r"xl/(threaded)?comments?.*\.xml", "comments on cells"),
    (r"xl/media/.*", "pictures pasted onto sheets"),
    (r"xl/charts/.*", "charts"),
    (r"xl/externalLinks/.*\.xml", "links to other files, which are not followed"),
    (r"xl/(embeddings|activeX|ctrlProps)/.*", "embedded objects, which are not opened"),
    (r"xl/pivot(Tables|Cache)/.*", "pivot tables"),
)  # fmt: skip


def look_over(path: Path) -> Contents:
    """Return what the workbook at `path` carries.

    Raises:
        UnfitError: The file is not a workbook, is damaged, or would do harm.
        OSError: The file cannot be read at all.
    """
    size = path.stat().st_size
    if size == 0:
        raise UnfitError("the file is empty", "save the field book again and take that")
    if size > MOST_BYTES:
        most = f"{MOST_BYTES // 1_000_000} MB is most; keep pictures beside the book"
        raise UnfitError(f"the file has {size / 1e6:.0f} MB", most)
    _check_signature(path)
    try:
        with zipfile.ZipFile(path) as archive:
            _check_parts(archive.infolist())
            return _read_parts(archive)
    except (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, ValueError) as damage:
        raise UnfitError(
            "the file is damaged or was cut off", "copy it again from where it was saved"
        ) from damage


def _check_signature(path: Path) -> None:
    with path.open("rb") as file:
        head = file.read(8)
        if head == _OLE:
            raise _old_or_locked(head + file.read(_CHUNK))
    if not head.startswith(b"PK"):
        raise UnfitError(
            "the file is not a workbook, whatever its name says", f"open it, then {_SAVE_AS}"
        )


def _old_or_locked(head: bytes) -> UnfitError:
    if "EncryptedPackage".encode("utf-16-le") in head:
        return UnfitError("the workbook is protected by a password", "save it without a password")
    old = "the file is of the old binary kind (.xls or .doc)"
    return UnfitError(old, f"open it, then {_SAVE_AS}")


def _check_parts(parts: list[zipfile.ZipInfo]) -> None:
    """Refuse what the directory of the ZIP already shows to be no workbook or a bomb."""
    names = {part.filename for part in parts}
    if any(part.flag_bits & 1 for part in parts):
        raise UnfitError("parts of the file are encrypted", "save it without a password")
    if len(parts) > MOST_PARTS or sum(part.file_size for part in parts) > MOST_UNPACKED:
        raise _bomb()
    if any(_swells(part.file_size, part.compress_size) for part in parts):
        raise _bomb()
    if "xl/workbook.xml" not in names:
        raise _another_kind(names)
    if any(name.startswith("xl/vbaProject") or "macrosheets/" in name for name in names):
        raise UnfitError("the workbook holds macros", "save it as .xlsx, without macros")


def _swells(unpacked: int, packed: int) -> bool:
    return unpacked > SMALL_PART and unpacked > MOST_RATIO * max(packed, 1)


def _bomb() -> UnfitError:
    wrong = "the file unpacks to far more than a field book holds"
    return UnfitError(wrong, "it is not opened; make the book anew")


def _another_kind(names: set[str]) -> UnfitError:
    kinds = {
        "word/document.xml": "a Word document",
        "ppt/presentation.xml": "a presentation",
        "content.xml": "an OpenDocument file",
        "xl/workbook.bin": "a binary workbook (.xlsb)",
    }
    what = next((word for name, word in kinds.items() if name in names), "a ZIP archive")
    return UnfitError(f"the file is {what}, not an Excel workbook", f"open it, then {_SAVE_AS}")


def _read_parts(archive: zipfile.ZipFile) -> Contents:
    """Read every part once, within bounds, and note what is in it."""
    seen = Contents()
    total = 0
    for part in archive.infolist():
        total += _read_part(archive, part, MOST_UNPACKED - total, seen)
    for pattern, words in _EXTRAS:
        if any(re.fullmatch(pattern, part.filename) for part in archive.infolist()):
            seen.extras.append(words)
    return seen


def _read_part(archive: zipfile.ZipFile, part: zipfile.ZipInfo, most: int, seen: Contents) -> int:
    """Return how many bytes a part really has, whatever the directory says."""
    is_sheet = part.filename.startswith("xl/worksheets/")
    is_picture = part.filename.startswith("xl/media/")
    read, tail = 0, b""
    with archive.open(part) as stream:
        while chunk := stream.read(_CHUNK):
            if not read:
                _check_start(part.filename, chunk)
            read += len(chunk)
            if read > most or _swells(read, part.compress_size):
                raise _bomb()
            if not is_picture:
                _check_chunk(tail + chunk)
            if is_sheet:
                _note_sheet(tail + chunk, len(tail), seen)
            tail = chunk[-64:]
    return read


def _check_start(name: str, chunk: bytes) -> None:
    """Refuse XML in another encoding than UTF-8, where a document type could hide."""
    if not name.endswith((".xml", ".rels")):
        return
    start = chunk.removeprefix(b"\xef\xbb\xbf").lstrip()
    declared = re.match(rb"<\?xml[^>]*encoding\s*=\s*[\"']([^\"']*)", start)
    foreign = declared and declared[1].lower() not in {b"utf-8", b"us-ascii"}
    if not start.startswith(b"<") or foreign:
        raise UnfitError(f"“{name}” in the file is not UTF-8", f"open it, then {_SAVE_AS}")
    if name == "xl/workbook.xml" and b"purl.oclc.org/ooxml" in chunk:
        raise UnfitError("the workbook is of the “strict” kind", f"open it, then {_SAVE_AS}")


def _check_chunk(data: bytes) -> None:
    if b"<!DOCTYPE" in data or b"<!ENTITY" in data:
        raise UnfitError(
            "the file declares its own entities, as no field book does",
            f"make the book anew and {_SAVE_AS}",
        )


def _note_sheet(data: bytes, already: int, seen: Contents) -> None:
    """Note what a stretch of a sheet holds, the bytes `already` seen before left out."""
    seen.rows += len(_ROW.findall(data)) - len(_ROW.findall(data[:already]))
    seen.merged = seen.merged or b"mergeCell " in data
    seen.hidden = seen.hidden or _HIDDEN.search(data) is not None
    seen.far = seen.far or _FAR.search(data) is not None
