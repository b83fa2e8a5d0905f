"""The package: what is served or archived, in a bag that a stranger can verify (RFC 8493).

Drafts, comments and privileged notes are never in it. A bag shows that nothing changed since it
was packed; against somebody who changes files and reckons the checksums anew only its own head,
kept elsewhere, helps (RFC 8493, 5.4).
"""

import csv
import io
from collections.abc import Callable, Iterator
from dataclasses import dataclass, fields
from datetime import UTC, datetime
from enum import StrEnum
from pathlib import Path

from workbench import __version__
from workbench.desk.case import Case
from workbench.desk.exhibiting import write_exhibit_book
from workbench.desk.issuing import latest_issued
from workbench.records import (
    FIELD_BOOK,
    Assumption,
    Credential,
    Document,
    Edition,
    EditionState,
    Exhibit,
    Instruction,
    InstructionKind,
    KnownError,
    Opinion,
    Party,
    Photo,
    Quantity,
    Record,
    Statement,
    fields_of,
)
from workbench.records.codes import Role

Step = Callable[[int, int], None]


class Purpose(StrEnum):
    """What a package is for."""

    SERVE = "serve"
    ARCHIVE = "archive"


_PRINTED: tuple[type[Record], ...] = (
    *FIELD_BOOK,
    Instruction,
    Assumption,
    Opinion,
    Exhibit,
    Statement,
    Credential,
    Edition,
)
"""Record types of a package; working notes such as edits are not among them."""


@dataclass(frozen=True, slots=True)
class Packed:
    """What was packed.

    Attributes:
        folder: The bag.
        files: How many files are in it.
        left_out: What a person may look for and why it is not there, in sentences.
    """

    folder: Path
    files: int
    left_out: tuple[str, ...]


def pack(
    case: Case,
    folder: Path,
    purpose: Purpose = Purpose.SERVE,
    step: Step = lambda _done, _whole: None,
) -> Packed:
    """Write what is to be served or archived as a bag.

    Args:
        case: The case.
        folder: The bag; it must not be there yet, and appears whole or not at all.
        purpose: For service pictures lose their metadata and get neutral names; an archive holds
            every original as it was received.
        step: Told how many files are in, of how many; may raise to stop.

    Raises:
        KnownError: Nothing was issued yet, or the bag cannot be written there.
    """
    from workbench.exchange.bag import write_bag

    if not folder.parent.is_dir():
        raise KnownError(f"{folder.parent}: there is no such folder")
    edition = latest_issued(case.dossier)
    if edition is None:
        raise KnownError("no report was issued yet; a package holds issued reports, never drafts")
    left_out: list[str] = []
    payload = dict(_payload(case, purpose, folder, left_out))
    names = write_bag(folder, payload, _info(case, edition, purpose), step)
    return Packed(folder, len(names), tuple(left_out))


def _payload(
    case: Case, purpose: Purpose, folder: Path, left_out: list[str]
) -> Iterator[tuple[str, Path | bytes]]:
    yield "READ-ME-FIRST.txt", _read_me(case, purpose).encode()
    yield from _issued(case, purpose)
    if purpose is Purpose.SERVE:
        yield from _exhibit_book(case, folder)
        yield from _served(case, left_out)
    else:
        for one in case.originals:
            path = case.original(one.name)
            if path and not one.name.startswith("issued/"):
                yield f"originals/{one.name}", path
    for kind in _PRINTED:
        records = case.dossier.all(kind, withdrawn=True)
        if held := [record for record in records if not _privileged(record)]:
            yield f"records/{kind.sheet or kind.noun}.csv", _table(kind, held)
    yield "journal.csv", _journal(case)


def _privileged(record: Record) -> bool:
    return isinstance(record, Instruction) and record.kind is InstructionKind.PRIVILEGED


def _issued(case: Case, purpose: Purpose) -> Iterator[tuple[str, Path]]:
    issued = [e for e in case.dossier.all(Edition) if e.state is EditionState.ISSUED]
    for edition in issued if purpose is Purpose.ARCHIVE else issued[-1:]:
        for name in filter(None, (edition.file, edition.pdf)):
            path = case.original(name)
            if path:
                yield f"report/{Path(name).name}", path


def _exhibit_book(case: Case, folder: Path) -> Iterator[tuple[str, bytes]]:
    import tempfile

    if not case.dossier.all(Exhibit):
        return
    with tempfile.TemporaryDirectory(dir=folder.parent) as made:
        document, pdf = write_exhibit_book(case, Path(made))
        for path in filter(None, (document, pdf)):
            yield f"exhibits/{path.name}", path.read_bytes()


def _served(case: Case, left_out: list[str]) -> Iterator[tuple[str, Path | bytes]]:
    """Yield documents as they were received, and pictures without what they would tell."""
    from workbench.report.pictures import PictureError, prepare_photo

    for photo in case.dossier.all(Photo):
        path = case.original(photo.file)
        if path is None:
            left_out.append(f"{photo.ref}: {photo.file} is not among the originals")
            continue
        try:
            prepared = prepare_photo(path, longest=10_000)
        except PictureError as wrong:
            left_out.append(f"{photo.ref}: {wrong}")
        else:
            yield f"photographs/{photo.ref or 'photo'}.{prepared.ending}", prepared.blob
    for document in case.dossier.all(Document):
        path = case.original(document.file) if document.file else None
        if path:
            yield f"documents/{document.ref}{Path(document.file).suffix}", path
        elif document.file:
            left_out.append(f"{document.ref}: {document.file} is not among the originals")


def _table(kind: type[Record], records: list[Record]) -> bytes:
    headings = {info.name: info.column.heading for info in fields_of(kind)}
    names = [one.name for one in fields(kind) if one.name in headings]
    out = io.StringIO()
    writer = csv.writer(out, quoting=csv.QUOTE_ALL, lineterminator="\n")
    writer.writerow([*(headings[name] for name in names), "withdrawn"])
    for one in records:
        cells = [getattr(one, name) for name in names]
        writer.writerow([*(_cell(cell) for cell in cells), one.withdrawn])
    return out.getvalue().encode()


def _cell(value: object) -> str:
    """Return a cell that no spreadsheet runs as a formula; a number stays a number."""
    said = "" if value is None else str(value)
    if said[:1] in ("=", "+", "-", "@", "\t", "\r") and not isinstance(value, Quantity | int):
        return f"'{said}"
    return said


def _journal(case: Case) -> bytes:
    out = io.StringIO()
    writer = csv.writer(out, quoting=csv.QUOTE_ALL, lineterminator="\n")
    writer.writerow(["number", "recorded at", "who", "what", "why", "hash"])
    secret = {one.id for one in case.dossier.all(Instruction, withdrawn=True) if _privileged(one)}
    for entry in case.journal():
        hidden = any(change.id in secret for change in entry.changes)
        said = ("an entry on a privileged note", "") if hidden else (entry.what, entry.why)
        row = [entry.seq, entry.recorded_at, entry.who, *map(_cell, said), entry.hash]
        writer.writerow(row)
    return out.getvalue().encode()


def _info(case: Case, edition: Edition, purpose: Purpose) -> list[tuple[str, str]]:
    practice = [p for p in case.dossier.all(Party) if p.role is Role.INVESTIGATOR]
    heads = case.heads
    return [
        ("Source-Organization", practice[0].name if practice else "not recorded"),
        ("Contact-Name", edition.author or case.author),
        ("External-Identifier", case.dossier.entry("reference") or "no reference"),
        ("External-Description", f"Report {edition.ref}, packed to {purpose.value}"),
        ("Bagging-Date", f"{datetime.now(UTC):%Y-%m-%d}"),
        ("Bag-Software-Agent", f"Coating-failure workbench {__version__}"),
        ("Journal-Head", str(heads.journal)),
        ("Custody-Ledger-Head", str(heads.ledger)),
    ]


def _read_me(case: Case, purpose: Purpose) -> str:
    title = case.dossier.entry("title") or "a case"
    pictures = (
        "Photographs are copies without their metadata, under neutral names; the originals are "
        "kept with the case."
        if purpose is Purpose.SERVE
        else "Originals are here as they were received."
    )
    return "\n".join(
        (
            f"This package holds the report and what belongs to it: {title}.",
            "",
            "To see that it is complete and unchanged since it was packed, open a terminal in the",
            "folder that holds bagit.txt and run one of:",
            "",
            "    sha256sum -c manifest-sha256.txt",
            "    sha512sum -c manifest-sha512.txt",
            "",
            "Each file should be followed by OK. Any program for BagIt (RFC 8493) does the same.",
            "",
            "What this shows, and what not: the files are those that were packed. It does not show",
            "who made them or when, and somebody who changes a file and writes new checksums is",
            "not found this way. For that, compare the heads in bag-info.txt with those printed",
            "in the report and kept elsewhere.",
            "",
            pictures,
            "",
        )
    )
