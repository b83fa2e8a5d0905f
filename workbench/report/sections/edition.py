"""What the edition says of itself: what changed since the one before, who answers for it."""

from workbench.report.blocks import Block, Row, Section, Signature, Table, headed
from workbench.report.draft import Draft, plain
from workbench.report.given import State
from workbench.report.wording import counted, day


def amendments(draft: Draft) -> Section | None:
    """Return what differs from the edition that this one replaces; None for a first edition."""
    setup = draft.setup
    if not setup.replaces:
        return None
    told = setup.amendments
    blocks: list[Block] = [
        plain(
            f"This edition replaces {setup.replaces}, which stays on record as it was issued. "
            f"{counted(len(told), 'thing').capitalize()} in the records behind it "
            f"{'has' if len(told) == 1 else 'have'} changed since; numbers and drafted sentences "
            "that rest on them follow, and the text may have been edited besides. Sections and "
            "tables keep their numbers where none was added or left out."
        )
    ]
    if told:
        columns = headed("Where", "Before", "Now", "Why")
        rows = tuple(
            Row((one.where, one.old or "–", one.new or "–", one.why or "no reason written"))
            for one in told
        )
        caption = f"What changed since {setup.replaces}"
        blocks.append(Table("amendments", caption, columns, rows, numbered=False))
    blocks += _moved(draft)
    return Section("amendments", "Amendments", tuple(blocks), numbered=False)


def _moved(draft: Draft) -> list[Block]:
    """Return which strengths, grades and leading causes are not what they were."""
    found, before = draft.setup.moved, draft.setup.replaces
    if found is None:
        return []
    if not found:
        return [plain(f"No strength, grade or leading cause differs from those of {before}.")]
    rows = tuple(Row((one.where, one.old or "none", one.new or "none")) for one in found)
    caption = f"Strengths, grades and leading causes that differ from those of {before}"
    columns = headed("What", f"From the records of {before}", "Now")
    return [Table("amendments moved", caption, columns, rows, numbered=False)]


def signature(draft: Draft) -> Section:
    """Return who wrote, checked and authorised the edition, with the lines to sign."""
    setup = draft.setup
    issued = setup.state is State.ISSUED
    said = [
        f"Author: {draft.author or 'not recorded'}.",
        f"Checked by: {setup.checked_by or 'not yet checked'}.",
        f"Authorised by: {setup.authorised_by or 'not yet authorised'}.",
        f"Date of issue: {day(setup.moment)}; unsigned until signed below." if issued else _NOT,
    ]
    over = [" ".join(said)]
    heads = draft.results.heads
    if heads:
        told = "; ".join(
            f"{one.name}, {counted(one.count, 'entry', 'entries')}, {one.digest}" for one in heads
        )
        over.append(
            "Last entry of each chain of records when this edition was written, by its number and "
            f"hash, so that a later change can be found: {told}."
        )
    return Section("signature", "Signature", (Signature(draft.author, "Author", tuple(over)),))


_NOT = "Not issued."
