"""The receipt: what came, in what state, who gave and who took it, for both to sign."""

from collections.abc import Sequence

from workbench.custody.story import story_of
from workbench.records import CustodyEntry, Discrepancy, Dossier, Sample
from workbench.records.codes import CustodyEvent
from workbench.report.blocks import (
    Block,
    Column,
    Paragraph,
    Row,
    Section,
    Signature,
    Table,
    Voice,
    headed,
)
from workbench.report.text import text
from workbench.report.wording import counted, moment, short_moment
from workbench.trade.names import spoken

_SIGNING = "Signing confirms the items and their state, not what they are or what they show."


def receipt_section(
    dossier: Dossier, samples: Sequence[Sample], receiver: str, vouching: Block
) -> Section:
    """Return the one section of a receipt."""
    entries = {one.ref: _receipt(dossier, one) for one in samples}
    givers = dict.fromkeys(entry.giver for entry in entries.values() if entry and entry.giver)
    opening = Paragraph(
        text(
            f"{counted(len(samples), 'item').capitalize()} received from "
            f"{', '.join(givers) or 'a giver not recorded'} by {receiver}, in the state below."
        )
    )
    blocks: list[Block] = [opening, _items(samples, entries)]
    doubts = _doubts(dossier, samples)
    if doubts:
        blocks.append(_doubt_table(doubts))
    blocks += [
        Paragraph(
            text(_SIGNING),
            voice=Voice.PLAIN,
        ),
        *(Signature(name, "gave the items") for name in givers),
        Signature(receiver, "received the items"),
        vouching,
    ]
    return Section("receipt", "Receipt", tuple(blocks))


def _receipt(dossier: Dossier, sample: Sample) -> CustodyEntry | None:
    """Return the last entry of receipt of a sample."""
    moments = story_of(dossier, sample).moments
    found = [one.entry for one in moments if one.entry.event is CustodyEvent.RECEIVED]
    return found[-1] if found else None


def _items(samples: Sequence[Sample], entries: dict[str, CustodyEntry | None]) -> Table:
    columns = (
        Column("Item"), Column("What"), Column("Received"), Column("Seal, state"),
        Column("Condition"), Column("Note"),
    )  # fmt: skip
    rows = []
    for sample in samples:
        entry = entries[sample.ref]
        if entry is None:
            rows.append(Row((sample.ref, spoken(sample.kind.value), "no entry", "–", "–", "–"), ()))
            continue
        state = spoken(entry.seal_condition.value) if entry.seal_condition else ""
        rows.append(
            Row(
                (
                    sample.ref,
                    spoken(sample.kind.value),
                    short_moment(entry.when),
                    ", ".join(filter(None, (entry.seal, state))) or "–",
                    entry.condition or "–",
                    entry.note or "–",
                ),
                (entry.source,),
            )
        )
    return Table("received", "Items received", columns, tuple(rows))


def _doubts(dossier: Dossier, samples: Sequence[Sample]) -> list[Discrepancy]:
    refs = {one.ref for one in samples}
    return [one for one in dossier.all(Discrepancy) if refs & set(one.samples)]


def _asked(one: Discrepancy) -> str:
    """Return how far an answer is: whom one asked and when, or that nobody was asked."""
    if not (one.asked or one.asked_when):
        return "not yet answered; nobody is recorded as asked"
    when = f" on {moment(one.asked_when)}" if one.asked_when else ""
    return f"not yet answered; {one.asked or 'somebody'} was asked{when}"


def _doubt_table(doubts: Sequence[Discrepancy]) -> Table:
    columns = headed("Ref", "Items", "What does not agree", "Answer")
    rows = tuple(
        Row((one.ref, str(one.samples), one.words, one.answer or _asked(one)), (one.source,))
        for one in doubts
    )  # fmt: skip
    return Table("doubts", "What does not agree", columns, rows)
