"""Appendices on evidence: photo log, custody, methods, instruments, journal, certification."""

from datetime import UTC, datetime

from workbench.records import CustodyEntry, Document, Instrument, Photo, When
from workbench.report.blocks import (
    Block,
    Column,
    Heading,
    Paragraph,
    Row,
    Section,
    Signature,
    Table,
    Voice,
    headed,
)
from workbench.report.draft import Draft, plain
from workbench.report.exhibiting import plates_of
from workbench.report.refs import in_order
from workbench.report.sections.references import tests_used
from workbench.report.sections.rules import rule_blocks
from workbench.report.sections.survey import shown_in_text
from workbench.report.tabling import said_once
from workbench.report.text import text
from workbench.report.wording import short_moment
from workbench.trade.names import spoken

DIGEST_SHORT = 16
"""Digits of a digest in the photo log; the certification sheet has all."""


def photo_log(draft: Draft) -> Section:
    """Return the photo log, and the plates that the text does not show."""
    photos = sorted(draft.dossier.all(Photo), key=lambda p: in_order(p.ref or p.file))
    if not photos:
        return _empty("photo_log", "Photo log", "No photograph is recorded.")
    digests = {one.name: one.sha256 for one in draft.results.originals}
    columns = headed("Ref", "Taken", "At", "Towards", "What", "Original", "SHA-256, first digits")
    rows = tuple(
        Row(
            (
                one.ref or "–",
                short_moment(one.taken),
                one.at or "–",
                one.direction or "–",
                one.caption or "no caption",
                one.file,
                digests.get(one.file, "")[:DIGEST_SHORT] or "not held",
            ),
            (one.source,),
        )
        for one in photos
    )
    shown = shown_in_text(draft)
    others = [one for one in photos if one.ref not in shown]
    blocks: list[Block] = [
        plain(
            "The originals are kept unchanged since import; what the report shows are copies "
            "without their metadata, scaled for print. Times are those recorded with the "
            "photograph. A length may be taken from a photograph only where a scale lies in the "
            "plane shown."
        ),
        Table("photo log", "Photographs in the order of their refs", columns, rows),
    ]
    if others:
        blocks += [Heading(2, "Further photographs", "further plates"), plates_of(draft, others)]
    return Section("photo_log", "Photo log", tuple(blocks), appendix=True, short=False)


def custody(draft: Draft) -> Section:
    """Return the chain of custody in full."""
    entries = draft.dossier.all(CustodyEntry)
    if not entries:
        return _empty("custody", "Chain of custody", "No custody entry is recorded.")
    columns = headed(
        "Sample", "When", "What", "From", "To", "Place", "Seal", "Condition", "Carrier, note"
    )
    rows = tuple(_custody_row(one) for one in entries)
    head = next((h for h in draft.results.heads if "custody" in h.name.lower()), None)
    ledger = (
        (f"The custody ledger has {head.count} entries; the hash of the last is {head.digest}.")
        if head
        else ""
    )
    blocks: list[Block] = [
        plain(
            "One entry for each time a sample was collected, sealed, moved, opened, tested or "
            f"stored. Times are as recorded, in the zone of the case. {ledger}".strip()
        ),
        said_once(Table("custody", "Chain of custody", columns, rows, turns=True)),
    ]
    return Section("custody", "Chain of custody", tuple(blocks), appendix=True, short=False)


def _custody_row(one: CustodyEntry) -> Row:
    state = f", {spoken(one.seal_condition.value)}" if one.seal_condition else ""
    seal = f"{one.seal}{state}" if one.seal else (state.lstrip(", ") or "–")
    note = "; ".join(filter(None, (one.carrier, one.note))) or "–"
    return Row(
        (
            one.sample,
            short_moment(one.when),
            spoken(one.event.value),
            one.giver or "–",
            one.receiver or "–",
            one.place or "not recorded",
            seal,
            one.condition or "not recorded",
            note,
        ),
        (one.source,),
    )


def methods(draft: Draft) -> Section:
    """Return what each test used can tell, and what to keep in mind."""
    rows = tests_used(draft)
    if not rows:
        return _empty("methods", "Methods", "No test is recorded.")
    columns = headed("Test", "Standards that describe it", "Known", "To keep in mind")
    note = (
        "“From memory”: number and content of the standard were not seen in print when this "
        "list was made; check the bought text before relying on it."
    )
    table = Table("methods", "Tests used", columns, rows, note)
    blocks = (table, *rule_blocks(draft))
    return Section("methods", "Methods", blocks, appendix=True, short=False)


def instruments(draft: Draft) -> Section:
    """Return the instruments and their calibration."""
    held = draft.dossier.all(Instrument)
    if not held:
        return _empty("instruments", "Instruments", "No instrument is recorded.")
    columns = headed("Ref", "Instrument", "Serial", "Calibrated", "Due", "Certificate")
    rows = tuple(
        Row(
            (
                one.ref,
                one.kind,
                one.serial or "not recorded",
                short_moment(one.calibrated),
                short_moment(one.due),
                one.certificate or "not recorded",
            ),
            (one.source,),
        )
        for one in held
    )
    table = Table("instruments", "Instruments and their calibration", columns, rows)
    return Section("instruments", "Instruments", (table,), appendix=True, short=False)


def journal(draft: Draft) -> Section:
    """Return an extract of the journal, and the heads of the chains."""
    blocks: list[Block] = [*_heads(draft), *_journal(draft)]
    if not blocks:
        return _empty("journal", "Journal extract", "No journal is held for this document.")
    return Section("journal", "Journal extract", tuple(blocks), appendix=True, short=False)


def _heads(draft: Draft) -> list[Block]:
    heads = draft.results.heads
    if not heads:
        return []
    columns = headed(
        "Chain of entries", "Entries", "Hash of the last entry (SHA-256)", numbers=("Entries",)
    )
    rows = tuple(Row((one.name, str(one.count), one.digest)) for one in heads)
    note = (
        "Each entry's hash covers the one before it. A change, removal or reordering of entries "
        "before these heads can be found by comparing with this page; it cannot be prevented, "
        "and times are those of the computer used."
    )
    caption = "Heads of journal and custody ledger when this edition was written"
    return [Table("heads", caption, columns, rows, note)]


def _journal(draft: Draft) -> list[Block]:
    lines = draft.results.journal
    if not lines:
        return []
    heads = ("When", "Who", "What", "Why")
    columns = (Column("No.", numeric=True), *(Column(head) for head in heads))
    rows = tuple(
        Row((str(one.number), _clock(one.when), one.who, one.what, one.why or "–")) for one in lines
    )
    return [Table("journal", "Journal of the case", columns, rows)]


def _clock(recorded: str) -> str:
    """Return a moment of the journal to the second, in UTC."""
    try:
        moment = datetime.fromisoformat(recorded).astimezone(UTC)
    except ValueError:
        return recorded
    return f"{short_moment(When.read(moment.date().isoformat()))} {moment:%H:%M:%S} UTC"


def certification(draft: Draft) -> Section:
    """Return the list of originals with their digests, for a person to certify."""
    originals = draft.results.originals
    blocks: list[Block] = [
        plain(
            "This sheet lists the files as received with their SHA-256, so that a qualified "
            "person may certify that copies agree with them. The program certifies nothing: "
            "the signature is that person's. Agreement of digests shows that bytes are "
            "unchanged since import; it does not show that a file is what it claims to be, and "
            "other objections to its use stay open."
        ),
    ]
    if originals:
        columns = headed("File", "Bytes", "SHA-256", numbers=("Bytes",))
        rows = tuple(
            Row((one.name, f"{one.size:,}".replace(",", " "), one.sha256)) for one in originals
        )
        blocks.append(Table("originals", "Files as received", columns, rows, wide=True))
    else:
        named = [d.file for d in draft.dossier.all(Document) if d.file]
        blocks.append(
            plain(
                "No original is held by the case"
                + (f"; records name {len(named)} files that were not taken in." if named else ".")
            )
        )
    blocks += [
        Paragraph(text("How copied, with which tool and version, by whom and when: "), Voice.PLAIN),
        Signature("", "Person certifying"),
    ]
    return Section(
        "certification", "Certification sheet", tuple(blocks), appendix=True, short=False
    )


def _empty(key: str, title: str, words: str) -> Section:
    return Section(key, title, (plain(words),), appendix=True, short=False)
