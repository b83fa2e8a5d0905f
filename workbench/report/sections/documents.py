"""Documents considered, and those that were asked for and not received."""

import re

from workbench.records import Document, Dossier, LabResult, Record, Sample, Weather
from workbench.records.codes import DocumentKind, DocumentStatus
from workbench.report.blocks import Block, Row, Section, Table, headed
from workbench.report.draft import Draft, fact, plain
from workbench.report.tabling import said_once
from workbench.report.tallies import grouped
from workbench.report.text import See
from workbench.report.wording import counted, number_word, short_moment
from workbench.trade.names import spoken

_OUTCOMES = {
    DocumentStatus.REQUESTED: "asked for, not come",
    DocumentStatus.REFUSED: "refused",
    DocumentStatus.NEVER_EXISTED: "never existed, according to the party asked",
    DocumentStatus.LOST: "lost",
}


def documents(draft: Draft) -> Section:
    """Return the section on documents."""
    held = draft.dossier.all(Document)
    if not held:
        nothing = plain("No document is recorded as asked for or received.")
        return Section("documents", "Documents considered", (nothing,), short=False)
    by_status = grouped(held, lambda one: one.status)
    received = by_status.get(DocumentStatus.RECEIVED, [])
    missing = [one for one in held if one.status is not DocumentStatus.RECEIVED]
    blocks: list[Block] = [
        fact(
            "documents: received",
            f"{counted(len(held), 'document or object', 'documents and objects').capitalize()} "
            f"{'was' if len(held) == 1 else 'were'} asked for or came unasked; "
            f"{_all_or(len(received), len(held))} received. ",
            See("table documents"),
            " lists all that was received, whether or not this report relies on it.",
        ),
        _table(draft, received),
    ]
    if missing:
        blocks += [
            fact(
                "documents: missing",
                f"{counted(len(missing), 'document or object', 'documents and objects')}"
                " asked for did not come: ".capitalize(),
                See("table missing documents"),
                ". What follows from that is in ",
                See("section limits"),
                ".",
                of=missing,
            ),
            _missing(missing),
        ]
    return Section("documents", "Documents considered", tuple(blocks), short=False)


def _all_or(count: int, whole: int) -> str:
    if count == whole:
        return "it was" if whole == 1 else "all were"
    return f"{number_word(count) if count else 'none'} {'was' if count == 1 else 'were'}"


def _table(draft: Draft, received: list[Document]) -> Table:
    cited = _cited(draft)
    rows = tuple(
        Row(
            (
                one.ref,
                one.name + (f"; {one.note}" if one.note else ""),
                one.sender or "not recorded",
                short_moment(one.dated),
                short_moment(one.received),
                "relied on" if one.ref in cited else "considered",
            ),
            (one.source,),
        )
        for one in received
    )
    columns = headed("Ref", "Document", "From", "Dated", "Received", "Use")
    note = (
        "† All documents were supplied by others. “Relied on”: records of this case cite it or "
        "were entered from it; “considered”: it was read, and no record rests on it."
    )
    return Table("documents", "Documents and objects received", columns, rows, note)


def _missing(missing: list[Document]) -> Table:
    rows = tuple(
        Row(
            (
                one.ref,
                one.name,
                spoken(one.kind.value) if one.kind else "",
                one.sender,
                _OUTCOMES[one.status],
                one.note,
            ),
            (one.source,),
        )
        for one in missing
    )
    columns = headed("Ref", "Asked for", "Kind", "Of", "Outcome", "Note")
    caption = "Documents asked for and not received"
    return said_once(Table("missing documents", caption, columns, rows))


def _cited(draft: Draft) -> set[str]:
    """Return refs of documents that records name, or that they were entered from."""
    refs = {one.ref for one in draft.dossier.all(Document)}
    said = {
        word.strip(".,;:()")
        for record in draft.dossier.everything()
        if not isinstance(record, Document)
        for name in ("source_text", "note", "reason")
        for word in str(getattr(record, name, "")).split()
    }
    return (refs & said) | _entered_from(draft)


def _entered_from(draft: Draft) -> set[str]:
    """Return refs of documents that are records or files of records themselves."""
    dossier = draft.dossier
    files = {name for one in dossier.everything() for name in _files(one)}
    results = {one.laboratory for one in dossier.all(LabResult)}
    samples = {one.ref for one in dossier.all(Sample)}
    return {
        one.ref
        for one in dossier.all(Document)
        if (one.file and one.file in files)
        or (one.kind is DocumentKind.LAB_REPORT and one.sender in results)
        or one in _weather_records(dossier)
        or samples & set(re.findall(r"[\w/-]+", one.note))
    }


def _weather_records(dossier: Dossier) -> tuple[Document, ...]:
    """Return the one weather record received, where the case has weather."""
    held = tuple(
        one
        for one in dossier.all(Document)
        if one.kind is DocumentKind.WEATHER_RECORD and one.status is DocumentStatus.RECEIVED
    )
    return held if dossier.all(Weather) and len(held) == 1 else ()


def _files(one: Record) -> tuple[str, ...]:
    """Return the originals that a record names, unless it is a document itself."""
    if isinstance(one, Document):
        return ()
    return (str(getattr(one, "file", "")), *map(str, getattr(one, "files", ())))
