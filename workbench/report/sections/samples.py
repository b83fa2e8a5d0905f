"""Samples: what was taken, what it stands for, in what state it came, and who held it."""

from workbench.custody.story import story_of
from workbench.custody.transit import on_the_way
from workbench.records import CustodyEntry, Sample
from workbench.records.codes import CustodyEvent, SealCondition
from workbench.report.blocks import Block, Heading, Paragraph, Row, Section, Table, Voice, headed
from workbench.report.draft import Draft, fact, plain
from workbench.report.figures import custody_figure
from workbench.report.tallies import stands_for
from workbench.report.text import See, text
from workbench.report.wording import counted, listed, short_moment
from workbench.trade.names import spoken

_SUB = "sub-sample"


def samples(draft: Draft) -> Section:
    """Return the section on samples and their custody."""
    held = draft.dossier.all(Sample)
    if not held:
        nothing = plain("No sample is recorded.")
        return Section("samples", "Samples", (nothing,), short=False)
    made = [one for one in held if one.parent]
    taken = [one for one in held if not one.parent]
    blocks: list[Block] = [
        fact(
            "samples: taken",
            f"{counted(len(taken), 'sample').capitalize()} "
            f"{'was' if len(taken) == 1 else 'were'} taken or received"
            f"{f', and {counted(len(made), _SUB)} made from them' if made else ''}. ",
            See("table samples"),
            " says what each stands for and in what state it came.",
            *_lost(draft, held),
        ),
        plain("Where a sample was taken by others, its results apply to it as received."),
        _items(draft, held),
        *_custody(draft),
    ]
    return Section("samples", "Samples", tuple(blocks), short=False)


def _lost(draft: Draft, held: tuple[Sample, ...]) -> list[str]:
    lost = [one.ref for one in held if on_the_way(story_of(draft.dossier, one))]
    were = "was" if len(lost) == 1 else "were"
    return [f" No receipt is recorded of {listed(lost)}, which {were} sent."] if lost else []


def _items(draft: Draft, held: tuple[Sample, ...]) -> Table:
    rows = tuple(_item(draft, one) for one in held)
    columns = headed(
        "Ref", "What", "From", "Stands for", "Taken, by", "Received", "Seal", "State on receipt"
    )
    return Table("samples", "Samples and their state on receipt", columns, rows)


def _item(draft: Draft, sample: Sample) -> Row:
    receipt = next(
        (
            e
            for e in draft.dossier.all(CustodyEntry)
            if e.sample == sample.ref and e.event is CustodyEvent.RECEIVED
        ),
        None,
    )
    seal = receipt.seal if receipt and receipt.seal else sample.seal
    state = receipt.seal_condition if receipt else None
    sealed = f"{seal or 'none'}{f', {spoken(state.value)}' if state else ''}"
    amount = f", {draft.show.quantity(sample.amount)}" if sample.amount else ""
    origin = f"part of {sample.parent}" if sample.parent else sample.at or "not recorded"
    taken = f"{short_moment(sample.taken)}, {sample.taken_by or 'by whom is not recorded'}"
    return Row(
        (
            sample.ref,
            f"{spoken(sample.kind.value)}{amount}",
            origin,
            stands_for(draft.dossier, sample),
            taken,
            _received(draft, sample, receipt),
            sealed,
            (receipt.condition if receipt else "") or sample.condition or "not recorded",
        ),
        (sample.source,),
    )


def _received(draft: Draft, sample: Sample, receipt: CustodyEntry | None) -> str:
    """Return when it was received, or that it was not after it was sent."""
    if sent := on_the_way(story_of(draft.dossier, sample)):
        return f"not received; sent {short_moment(sent.entry.when)}"
    if receipt:
        return short_moment(receipt.when)
    return "–" if sample.parent else "no receipt recorded"


def _custody(draft: Draft) -> list[Block]:
    entries = draft.dossier.all(CustodyEntry)
    if not entries:
        return [fact("samples: custody", "No custody record is held for these samples.")]
    blocks: list[Block] = [
        Heading(2, "Custody", "custody"),
        fact(
            "samples: custody",
            f"{counted(len(entries), 'custody entry', 'custody entries')} "
            "say who held each sample from its collection on: ",
            See("figure custody"),
            ". They stand in full in ",
            See("section custody"),
            ".",
        ),
    ]
    odd = [
        e
        for e in entries
        if e.event is CustodyEvent.DISCREPANCY
        or e.seal_condition
        in (SealCondition.BROKEN, SealCondition.NUMBER_DIFFERS, SealCondition.ABSENT)
    ]
    if odd:
        blocks.append(
            fact(
                "samples: discrepancies",
                "The following did not agree with the papers or the seal, and is told because it "
                "may bear on the results.",
                of=odd,
            )
        )
        blocks += [
            Paragraph(
                text(f"{one.sample}, {short_moment(one.when)}: {_odd(one)}."),
                Voice.ITEM,
                (one.source,),
            )
            for one in odd
        ]
    return [*blocks, *custody_figure(draft)]


def _odd(entry: CustodyEntry) -> str:
    seal = spoken(entry.seal_condition.value) if entry.seal_condition else ""
    said = [f"seal {seal}" if seal and seal != "intact" else "", entry.note]
    return "; ".join(filter(None, said)) or "discrepancy"
