"""What somebody edited is never written over: it is put aside under another name first."""

import re
import zipfile
from itertools import count
from pathlib import Path

_MOMENT = re.compile(rb"<dcterms:(created|modified)[^>]*>([^<]*)<")
_TOGETHER_S = 900
"""A PDF is made so soon after its document; one changed later has been marked up."""


def put_aside(document: Path) -> tuple[str, ...]:
    """Put aside a document and its PDF where others edited them, and say so.

    Args:
        document: The Word file that is to be written; its PDF has the same name.

    Returns:
        One sentence for each file that was put aside.
    """
    pdf = document.with_suffix(".pdf")
    marked_up = pdf.is_file() and not _made_with(pdf, document)
    edited = document.is_file() and not _as_written(document)
    return tuple(_move(path) for path, is_so in ((document, edited), (pdf, marked_up)) if is_so)


def _as_written(document: Path) -> bool:
    """Return whether a Word file was never saved after it was made."""
    try:
        with zipfile.ZipFile(document) as parts:
            moments = dict(_MOMENT.findall(parts.read("docProps/core.xml")))
    except (zipfile.BadZipFile, KeyError):
        return False
    return b"created" in moments and moments[b"created"] == moments.get(b"modified")


def _made_with(pdf: Path, document: Path) -> bool:
    """Return whether a PDF is as old as the document it was made from."""
    if not document.is_file():
        return False
    return abs(pdf.stat().st_mtime - document.stat().st_mtime) < _TOGETHER_S


def _move(path: Path) -> str:
    names = (path.with_name(f"{path.stem}-edited-{number}{path.suffix}") for number in count(1))
    free = next(name for name in names if not name.exists())
    path.rename(free)
    return f"{path.name} was edited outside the case; it is kept as {free.name}."
