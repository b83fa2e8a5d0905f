"""The package: what is served or archived, in a bag that a stranger can verify (RFC 8493).

Drafts, comments and privileged notes are never in it. What is served are the records that the
report rests on, as they were when it was issued; an archive holds all of them as they are. A bag
shows that nothing changed since it was packed; against somebody who changes files and reckons the
checksums anew only its own head, kept elsewhere, helps (RFC 8493, 5.4).
"""

import csv
import io
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, fields, replace
from datetime import UTC, datetime
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Self

from workbench import __version__
from workbench.casefile.journal import JournalEntry
from workbench.desk.case import Case
from workbench.desk.exhibiting import write_exhibit_book
from workbench.desk.issuing import (
    amendments_since,
    as_issued,
    journal_as_issued,
    journal_told,
    latest_issued,
)
from workbench.records import (
    BOOK,
    Assumption,
    Credential,
    Document,
    Dossier,
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

if TYPE_CHECKING:
    from workbench.report.given import Amendment

Step = Callable[[int, int], None]
_NAMED = 5


class Purpose(StrEnum):
    """What a package is for."""

    SERVE = "serve"
    ARCHIVE = "archive"


_PRINTED: tuple[type[Record], ...] = (
    *BOOK,
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
    made = _Contents.of(case, edition, purpose)
    payload = dict(made.payload(folder))
    names = write_bag(folder, payload, made.info(), step)
    return Packed(folder, len(names), tuple(made.left_out))


@dataclass(frozen=True, slots=True)
class _Contents:
    """What goes into a bag: the case, and what of it is printed."""

    case: Case
    edition: Edition
    purpose: Purpose
    records: Dossier
    journal: tuple[JournalEntry, ...]
    left_out: list[str]
    names: dict[str, str] = field(default_factory=dict)

    @classmethod
    def of(cls, case: Case, edition: Edition, purpose: Purpose) -> Self:
        """Return what of a case is packed for a purpose."""
        if purpose is Purpose.ARCHIVE:
            return cls(case, edition, purpose, case.dossier, case.journal(), [])
        news = amendments_since(case, edition)
        journal = journal_as_issued(case, edition)
        return cls(case, edition, purpose, as_issued(case, edition), journal, _news(edition, news))

    def payload(self, folder: Path) -> Iterator[tuple[str, Path | bytes]]:
        """Yield the files of the bag with their names in it."""
        yield "READ-ME-FIRST.txt", _read_me(self).encode()
        yield from _issued(self.case, self.purpose)
        if self.purpose is Purpose.SERVE:
            yield from _exhibit_book(self, folder)
            yield from _served(self)
        else:
            for one in self.case.originals:
                path = self.case.original(one.name)
                if path and not one.name.startswith("issued/"):
                    yield f"originals/{one.name}", path
        for kind in _PRINTED:
            records = self.records.all(kind, withdrawn=True)
            if held := [record for record in records if not _privileged(record)]:
                neutral = [self._neutral(record) for record in held]
                yield f"records/{kind.sheet or kind.noun}.csv", _table(kind, neutral)
        yield "journal.csv", _journal(self)

    def _neutral(self, record: Record) -> Record:
        """Return a photograph under the name that its copy has in the package."""
        named = self.names.get(record.file) if isinstance(record, Photo) else None
        return replace(record, file=named) if isinstance(record, Photo) and named else record

    def info(self) -> list[tuple[str, str]]:
        """Return what the bag says of itself, with the heads of what is in it."""
        served = self.purpose is Purpose.SERVE
        parties = self.records.all(Party)
        practice = [one.name for one in parties if one.role is Role.INVESTIGATOR]
        heads, last = self.case.heads, self.journal[-1]
        return [
            ("Source-Organization", practice[0] if practice else "not recorded"),
            ("Contact-Name", self.edition.author or self.case.author),
            ("External-Identifier", self.records.entry("reference") or "no reference"),
            ("External-Description", f"Report {self.edition.ref}, packed to {self.purpose.value}"),
            ("Bagging-Date", f"{datetime.now(UTC):%Y-%m-%d}"),
            ("Bag-Software-Agent", f"Coating-failure workbench {__version__}"),
            ("Journal-Head", f"{last.hash}:{last.seq}"),
            ("Custody-Ledger-Head", self.edition.ledger_head if served else str(heads.ledger)),
        ]


def _news(edition: Edition, news: "tuple[Amendment, ...]") -> list[str]:
    """Return what a person should know of changes that the package leaves out."""
    others = (one for one in news if one.source is None or one.source.noun != Exhibit.noun)
    where = dict.fromkeys(one.where for one in others)
    if not where:
        return []
    named = "; ".join(list(where)[:_NAMED])
    more = f" and {len(where) - _NAMED} more" if len(where) > _NAMED else ""
    told = f"what was changed since {edition.ref} was issued ({named}{more})"
    return [f"{told}; issue the next edition to serve that"]


def _privileged(record: Record) -> bool:
    return isinstance(record, Instruction) and record.kind is InstructionKind.PRIVILEGED


def _issued(case: Case, purpose: Purpose) -> Iterator[tuple[str, Path]]:
    issued = [e for e in case.dossier.all(Edition) if e.state is EditionState.ISSUED]
    for edition in issued if purpose is Purpose.ARCHIVE else issued[-1:]:
        for name in filter(None, (edition.file, edition.pdf)):
            path = case.original(name)
            if path:
                yield f"report/{Path(name).name}", path


def _exhibit_book(made: _Contents, folder: Path) -> Iterator[tuple[str, bytes]]:
    import tempfile

    if not made.records.all(Exhibit):
        return
    with tempfile.TemporaryDirectory(dir=folder.parent) as scratch:
        document, pdf = write_exhibit_book(made.case, Path(scratch), records=made.records)
        for path in filter(None, (document, pdf)):
            yield f"exhibits/{path.name}", path.read_bytes()


def _served(made: _Contents) -> Iterator[tuple[str, Path | bytes]]:
    """Yield documents as they were received, and pictures without what they would tell."""
    from workbench.exchange.bag import safe_name
    from workbench.report.pictures import PictureError, prepare_photo

    for photo in made.records.all(Photo):
        path = made.case.original(photo.file)
        if path is None:
            made.left_out.append(f"{photo.ref}: {photo.file} is not among the originals")
            continue
        try:
            prepared = prepare_photo(path, longest=10_000)
        except PictureError as wrong:
            made.left_out.append(f"{photo.ref}: {wrong}")
        else:
            asked = f"photographs/{photo.ref or 'photo'}.{prepared.ending}"
            made.names[photo.file] = safe_name(
                asked, {name.casefold() for name in made.names.values()}
            )
            yield made.names[photo.file], prepared.blob
    for document in made.records.all(Document):
        path = made.case.original(document.file) if document.file else None
        if path:
            yield f"documents/{document.ref}{Path(document.file).suffix}", path
        elif document.file:
            made.left_out.append(f"{document.ref}: {document.file} is not among the originals")


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


def _journal(made: _Contents) -> bytes:
    out = io.StringIO()
    writer = csv.writer(out, quoting=csv.QUOTE_ALL, lineterminator="\n")
    writer.writerow(["number", "recorded at", "who", "what", "why", "hash"])
    for entry, *said in journal_told(made.case, made.journal):
        row = [entry.seq, entry.recorded_at, entry.who, *map(_cell, said), entry.hash]
        writer.writerow(row)
    return out.getvalue().encode()


def _read_me(made: _Contents) -> str:
    title = made.records.entry("title") or "a case"
    served = made.purpose is Purpose.SERVE
    records = (
        f"Records and journal are those that {made.edition.ref} rests on, as they were when it "
        "was issued."
        if served
        else "Records and journal are those of the day it was packed."
    )
    pictures = (
        "Photographs are copies without their metadata, under neutral names; the originals are "
        "kept with the case."
        if served
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
            records,
            pictures,
            "",
        )
    )
