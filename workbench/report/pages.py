"""Page numbers and PDF by LibreOffice, where the machine has it.

The numbers are read from the named destinations of a PDF that LibreOffice made of the document,
one for each heading and caption, and put into the entries of contents and lists.
"""

import os
import re
import shutil
import subprocess
import tempfile
import zipfile
from collections.abc import Callable, Mapping
from pathlib import Path

from workbench.records import KnownError
from workbench.report.contents import NOT_COUNTED

_LONGEST_S = 600
_YES = '{"type":"boolean","value":"true"}'
_TAGGED = f'"UseTaggedPDF":{_YES}'
_WITH_PLACES = f'pdf:writer_pdf_Export:{{{_TAGGED},"ExportBookmarksToPDFDestination":{_YES}}}'
_FOR_READERS = f'pdf:writer_pdf_Export:{{{_TAGGED},"ExportBookmarks":{_YES}}}'


class NoOfficeError(KnownError):
    """LibreOffice is not there, or did not do what it was asked."""


def office() -> Path | None:
    """Return the LibreOffice of this machine, or None."""
    for name in ("soffice", "libreoffice"):
        if found := shutil.which(name):
            return Path(found)
    usual = (
        Path("/Applications/LibreOffice.app/Contents/MacOS/soffice"),
        Path(os.environ.get("PROGRAMFILES", "C:/Program Files"), "LibreOffice/program/soffice.exe"),
    )
    return next((path for path in usual if path.is_file()), None)


def write_pdf(document: Path, pdf: Path) -> None:
    """Write a Word document as PDF.

    Raises:
        NoOfficeError: LibreOffice is missing or failed.
    """
    with tempfile.TemporaryDirectory() as folder:
        made = _rendered(document, _FOR_READERS, Path(folder))
        pdf.parent.mkdir(parents=True, exist_ok=True)
        shutil.move(made, pdf)


def number_pages(document: Path) -> int:
    """Put page numbers into the contents and lists of a document; return how many pages it has.

    Raises:
        NoOfficeError: LibreOffice is missing or failed; the document is as it was.
    """
    with tempfile.TemporaryDirectory() as folder:
        made = _rendered(document, _WITH_PLACES, Path(folder))
        pages, whole = places_in(made.read_bytes())
    fill(document, pages, whole)
    return whole


def places_in(pdf: bytes) -> tuple[dict[str, int], int]:
    """Return the page of each named destination of a PDF by LibreOffice, and the number of pages.

    Raises:
        NoOfficeError: The PDF is not laid out as LibreOffice does it.
    """
    kids, at = _KIDS.search(pdf), _PLACES_AT.search(pdf)
    start = pdf.find(b"\n%s 0 obj" % at[1]) if at else -1
    if not kids or start < 0:
        raise NoOfficeError("LibreOffice made a PDF whose pages cannot be counted")
    order = {name: number for number, name in enumerate(_OBJECT.findall(kids[1]), 1)}
    said = _PLACE.findall(pdf[start : pdf.index(b"endobj", start)])
    return {name.decode(): order[page] for name, page in said if page in order}, len(order)


_KIDS = re.compile(rb"/Type/Pages.*?/Kids\[(.*?)\]", re.DOTALL)
_PLACES_AT = re.compile(rb"/Dests (\d+) 0 R")
_OBJECT = re.compile(rb"(\d+) 0 R")
_PLACE = re.compile(rb"/(\w+)\[(\d+) 0 R/XYZ")
_UNKNOWN = f'<w:t xml:space="preserve">{NOT_COUNTED}</w:t>'
_REFERENCE = re.compile(rf"( PAGEREF (\w+) .*?){re.escape(_UNKNOWN)}", re.DOTALL)
_COUNT = re.compile(rf"( NUMPAGES .*?){re.escape(_UNKNOWN)}", re.DOTALL)


def fill(document: Path, pages: Mapping[str, int], whole: int) -> None:
    """Put counted pages in the place of those not counted, in the text and in the footers."""
    half = document.with_name(f"{document.name}.part")
    try:
        with zipfile.ZipFile(document) as source, zipfile.ZipFile(half, "w") as target:
            for entry in source.infolist():
                blob = source.read(entry)
                if entry.filename == "word/document.xml":
                    blob = _REFERENCE.sub(lambda m: _put(m[1], pages[m[2]]), blob.decode()).encode()
                elif entry.filename.startswith("word/footer"):
                    blob = _COUNT.sub(lambda m: _put(m[1], whole), blob.decode()).encode()
                target.writestr(entry, blob)
        half.replace(document)
    finally:
        half.unlink(missing_ok=True)


def _put(before: str, number: int) -> str:
    return f'{before}<w:t xml:space="preserve">{number}</w:t>'


def _rendered(document: Path, kind: str, folder: Path) -> Path:
    """Return a PDF that holds every cell of every table of the document.

    LibreOffice 7.4 may lose the rows that follow a page break where rows are kept whole and a
    figure after the table is kept with its caption. The cells are counted; where some are lost
    the rows may be split instead.
    """
    made = _convert(document, kind, folder)
    if cells_lost(document, made):
        loose = folder / f"loose-{document.name}"
        _copy(document, loose, lambda xml: xml.replace("<w:cantSplit/>", ""))
        made = _convert(loose, kind, folder)
        if lost := cells_lost(document, made):
            raise NoOfficeError(f"LibreOffice loses {lost} cells of tables in {document.name}")
    return made


def cells_lost(document: Path, pdf: Path) -> int:
    """Return how many cells of the document's tables a tagged PDF of it does not have."""
    with zipfile.ZipFile(document) as package:
        held = package.read("word/document.xml").count(b"<w:tc>")
    return held - len(_CELL.findall(pdf.read_bytes()))


_CELL = re.compile(rb"/S\s*/T[DH]\b")


def _copy(document: Path, target: Path, change: Callable[[str], str]) -> None:
    with zipfile.ZipFile(document) as source, zipfile.ZipFile(target, "w") as changed:
        for entry in source.infolist():
            blob = source.read(entry)
            if entry.filename == "word/document.xml":
                blob = change(blob.decode()).encode()
            changed.writestr(entry, blob)


def _convert(document: Path, kind: str, folder: Path) -> Path:
    program = office()
    if program is None:
        raise NoOfficeError("LibreOffice is not on this machine")
    profile = (folder / "profile").as_uri()
    command = [
        str(program), f"-env:UserInstallation={profile}", "--headless", "--norestore",
        "--convert-to", kind, "--outdir", str(folder), str(document),
    ]  # fmt: skip
    try:
        # the program is the LibreOffice found above, the rest our own words and a file's path
        subprocess.run(  # noqa: S603
            command, check=True, capture_output=True, timeout=_LONGEST_S
        )
    except (OSError, subprocess.SubprocessError) as wrong:
        raise NoOfficeError(f"LibreOffice could not convert {document.name}") from wrong
    made = folder / f"{document.stem}.pdf"
    if not made.exists():
        raise NoOfficeError(f"LibreOffice made no PDF of {document.name}")
    return made
