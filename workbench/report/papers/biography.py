"""The story of one sample: how, where and by whom collected; who held it; what was done to it."""

from workbench.custody.amounts import balance_of
from workbench.custody.story import Span, Story, story_of
from workbench.records import CustodyEntry, Dossier, LabResult, Sample, When
from workbench.records.codes import CustodyEvent
from workbench.report.blocks import Block, Heading, Paragraph, Row, Section, Table, headed
from workbench.report.text import text
from workbench.report.wording import moment, short_moment
from workbench.trade.names import quantity_name, spoken

_DONE = frozenset(
    {CustodyEvent.OPENED, CustodyEvent.SPLIT, CustodyEvent.TESTED, CustodyEvent.SEALED}
)


def biography(dossier: Dossier, sample: Sample) -> Section:
    """Return the story of a sample; a gap in it is printed as a gap."""
    story = story_of(dossier, sample)
    blocks: list[Block] = [
        Paragraph(text(_collected(dossier, sample)), sources=(sample.source,)),
        *_amounts(dossier, story),
        Heading(2, "Who held it"),
        _holders(story),
        Heading(2, "What was done to it"),
        *_processing(dossier, story),
    ]
    if story.corrected:
        blocks += [Heading(2, "Entries put right"), _corrections(story)]
    return Section(f"story {sample.ref}", f"Sample {sample.ref}", tuple(blocks))


def _collected(dossier: Dossier, sample: Sample) -> str:
    area = dossier.area_at(sample.at) if sample.at else None
    place = f"{sample.at}, {area.name}" if area and area.ref != sample.at else sample.at
    whole = f" It is a part of {sample.parent}." if sample.parent else ""
    note = f" {sample.note[:1].upper()}{sample.note[1:]}." if sample.note else ""
    return (
        f"{spoken(sample.kind.value).capitalize()}, collected {moment(sample.taken)} by "
        f"{sample.taken_by or 'a person not recorded'}, from {place or 'a place not recorded'}, "
        f"in {sample.container or 'a container not recorded'}.{whole}{note}"
    )


def _amounts(dossier: Dossier, story: Story) -> tuple[Block, ...]:
    balance = balance_of(dossier, story)
    if balance is None:
        return ()
    unit = balance.whole.unit
    words = (
        f"Of {balance.whole}, {balance.parts:g} {unit} went into parts and {balance.used:g} {unit} "
        f"was used; {balance.left:g} {unit} is left by the record."
    )
    if balance.apart:
        words += f" Not counted with it: {', '.join(str(one) for one in balance.apart)}."
    return (Paragraph(text(words), sources=balance.sources),)


def _holders(story: Story) -> Table:
    columns = headed("From", "Until", "Holder", "Custody", "Place")
    rows = tuple(_holder(span) for span in story.spans())
    return Table(f"holders {story.sample.ref}", f"Holders of {story.sample.ref}", columns, rows)


def _holder(span: Span) -> Row:
    start = short_moment(When(f"{span.start:%Y-%m-%d %H:%M}"))
    until = short_moment(When(f"{span.end:%Y-%m-%d %H:%M}")) if span.end else "now"
    if span.gap:
        return Row((start, until, "GAP: nobody is known to have held it", "–", "–"))
    return Row((start, until, span.holder, str(span.state or "–"), span.place or "not recorded"))


def _processing(dossier: Dossier, story: Story) -> tuple[Block, ...]:
    done = [one.entry for one in story.moments if one.entry.event in _DONE]
    results = [one for one in dossier.all(LabResult) if one.sample == story.sample.ref]
    if not done and not results:
        return (Paragraph(text("Nothing is recorded.")),)
    columns = headed("When", "What", "By", "Note")
    rows = [
        Row(
            (short_moment(one.when), spoken(one.event.value), one.receiver or one.giver or "–",
             "; ".join(filter(None, (one.seal and f"seal {one.seal}", one.note))) or "–"),
            (one.source,),
        )
        for one in done
    ]  # fmt: skip
    rows += [
        Row(
            (short_moment(one.date), quantity_name(one.quantity),
             one.analyst or one.laboratory or "–", f"result {one.ref}"),
            (one.source,),
        )
        for one in results
    ]  # fmt: skip
    caption = f"What was done to {story.sample.ref}"
    return (Table(f"done {story.sample.ref}", caption, columns, tuple(rows)),)


def _corrections(story: Story) -> Table:
    columns = headed("Entry put right", "By the entry", "Recorded")
    rows = tuple(
        Row((_told(old), _told(new), new.recorded_at or "not yet"), (old.source, new.source))
        for old, new in story.corrected
    )
    caption = f"Entries of {story.sample.ref} put right; they count no more and stay legible"
    return Table(f"righted {story.sample.ref}", caption, columns, rows)


def _told(entry: CustodyEntry) -> str:
    parties = f"{entry.giver or '–'} to {entry.receiver or '–'}"
    return f"{spoken(entry.event.value)} {short_moment(entry.when)}, {parties}"
