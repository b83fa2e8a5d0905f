"""The custody form: what each item is, and a line for every hand-over, past and to come."""

from collections.abc import Sequence

from workbench.custody.story import stories
from workbench.records import CustodyEntry, Dossier, Sample, SampleCare
from workbench.records.codes import CustodyEvent, YesNo
from workbench.report.blocks import Block, Column, Row, Section, Table, headed
from workbench.report.wording import short_moment
from workbench.trade.names import spoken

_BLANK_LINES = 5
_MOVES = frozenset(
    {
        CustodyEvent.COLLECTED,
        CustodyEvent.HANDED_OVER,
        CustodyEvent.DISPATCHED,
        CustodyEvent.RECEIVED,
        CustodyEvent.RETURNED,
        CustodyEvent.DISPOSED,
        CustodyEvent.USED_UP,
    }
)
_NOT_KNOWN = "not recorded"


def form_sections(
    dossier: Dossier, samples: Sequence[Sample], vouching: Block
) -> tuple[Section, ...]:
    """Return the two sections of the form: the items, and the hand-overs."""
    items = Section("items", "Items", (_items(dossier, samples), _care(dossier, samples)))
    moves = Section("moves", "Hand-overs", (vouching, _moves(dossier, samples), _to_come()))
    return items, moves


def _items(dossier: Dossier, samples: Sequence[Sample]) -> Table:
    columns = (
        Column("Item"), Column("What"), Column("From"), Column("Collected by, when"),
        Column("Container"), Column("Seal"), Column("Amount"), Column("Part of"),
    )  # fmt: skip
    rows = tuple(
        Row(
            (
                one.ref,
                ", ".join(filter(None, (spoken(one.kind.value), str(one.purpose or "")))),
                _place(dossier, one),
                f"{one.taken_by or _NOT_KNOWN}, {short_moment(one.taken)}",
                one.container or _NOT_KNOWN,
                one.seal or "none recorded",
                str(one.amount) if one.amount else _NOT_KNOWN,
                one.parent or "–",
            ),
            (one.source,),
        )
        for one in samples
    )
    return Table("items", "Items on this form", columns, rows, wide=True)


def _place(dossier: Dossier, sample: Sample) -> str:
    area = dossier.area_at(sample.at) if sample.at else None
    named = f"{sample.at}, {area.name}" if area and area.ref != sample.at else sample.at
    return named or _NOT_KNOWN


def _care(dossier: Dossier, samples: Sequence[Sample]) -> Table:
    columns = headed("Item", "Hazards", "Store", "Handle", "Hold", "Keep until")
    rows = []
    for sample in samples:
        care = dossier.find(SampleCare, sample.ref)
        if care is None or care.withdrawn:
            blank = (_NOT_KNOWN, _NOT_KNOWN, _NOT_KNOWN, "none", _NOT_KNOWN)
            rows.append(Row((sample.ref, *blank), ()))
            continue
        hold = care.hold_reason if care.hold is YesNo.YES else "none"
        until = short_moment(care.keep_until) if care.keep_until else _NOT_KNOWN
        said = (care.hazards, care.storage, care.handling)
        words = (word or _NOT_KNOWN for word in said)
        rows.append(Row((sample.ref, *words, hold, until), (care.source,)))
    return Table("care", "Hazards and care", columns, tuple(rows), wide=True)


def _moves(dossier: Dossier, samples: Sequence[Sample]) -> Table:
    refs = {one.ref for one in samples}
    told = [
        moment_.entry
        for story in stories(dossier)
        if story.sample.ref in refs
        for moment_ in story.moments
        if moment_.entry.event in _MOVES
    ]
    told.sort(key=lambda entry: (entry.sample, entry.when.start(dossier.zone)))
    columns = (
        Column("Item"), Column("When"), Column("What"), Column("Given by"), Column("Received by"),
        Column("Seal, state"), Column("Condition"), Column("Carrier, note"),
    )  # fmt: skip
    rows = tuple(_move(entry) for entry in told)
    return Table("moves", "Hand-overs as recorded", columns, rows, wide=True)


def _move(entry: CustodyEntry) -> Row:
    state = spoken(entry.seal_condition.value) if entry.seal_condition else ""
    return Row(
        (
            entry.sample,
            short_moment(entry.when),
            spoken(entry.event.value),
            entry.giver or "–",
            entry.receiver or "–",
            ", ".join(filter(None, (entry.seal, state))) or "–",
            entry.condition or _NOT_KNOWN,
            "; ".join(filter(None, (entry.carrier, entry.note))) or "–",
        ),
        (entry.source,),
    )


def _to_come() -> Table:
    columns = (
        Column("Date, time, zone"), Column("Items"), Column("Given by, signature"),
        Column("Received by, signature"), Column("Reason"), Column("Seal, state"),
        Column("Carrier, number"),
    )  # fmt: skip
    blank = tuple(Row(("\u00a0\n\u00a0",) + ("",) * 6) for _ in range(_BLANK_LINES))
    note = (
        "Both parties sign with date and time. A correction is a new line; the old one is struck "
        "through once, stays legible, and is initialled and dated."
    )
    return Table("to-come", "Hand-overs to come", columns, blank, note=note, wide=True)
