"""Documents considered, and those that were asked for and not received."""

from collections.abc import Sequence

from workbench.records import Document, Weather
from workbench.records.codes import DocumentKind, DocumentStatus, YesNo
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
            f"were asked for or came unasked; {_all_or(len(received), len(held))} received. ",
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
        return "all were"
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
    note = "† All documents were supplied by others. “Relied on”: records of this case cite it."
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
    """Return refs of documents that other records name as their source, or were read from."""
    documents = draft.dossier.all(Document)
    refs = {one.ref for one in documents}
    said = {
        word.strip(".,;:()")
        for record in draft.dossier.everything()
        if not isinstance(record, Document)
        for name in ("source_text", "note", "reason")
        for word in str(getattr(record, name, "")).split()
    }
    return refs & said | _weather(draft, documents)


def _weather(draft: Draft, documents: Sequence[Document]) -> set[str]:
    """Return the one weather record received, where the case has weather not read on site."""
    away = any(one.on_site is YesNo.NO for one in draft.dossier.all(Weather))
    held = {
        one.ref
        for one in documents
        if one.kind is DocumentKind.WEATHER_RECORD and one.status is DocumentStatus.RECEIVED
    }
    return held if away and len(held) == 1 else set()
