"""What the author states: instructions, assumptions, credentials, and what a profile asks for."""

from workbench.records import (
    Assumption,
    Credential,
    CredentialKind,
    Instruction,
    InstructionKind,
)
from workbench.report.blocks import (
    Block,
    Column,
    Heading,
    Paragraph,
    Row,
    Section,
    Table,
    Voice,
    headed,
)
from workbench.report.draft import Draft, plain
from workbench.report.profiles import (
    Item,
    Profile,
    credentials_of,
    left_open,
    profile,
    settled,
    statement,
)
from workbench.report.text import See, Value, text
from workbench.report.wording import sentence, short_moment
from workbench.trade.names import spoken

_TITLES = {
    CredentialKind.QUALIFICATION: "Qualifications",
    CredentialKind.EXPERIENCE: "Experience",
    CredentialKind.PUBLICATION: "Publications",
    CredentialKind.TESTIMONY: "Testimony",
}


def instruction_blocks(draft: Draft) -> list[Block]:
    """Return the instructions received, written and oral; what is privileged stays out."""
    held = [
        one for one in draft.dossier.all(Instruction) if one.kind is not InstructionKind.PRIVILEGED
    ]
    if not held:
        return []
    heads = ("Ref", "Date", "From", "How", "What it is", "Substance")
    columns = headed(*heads)
    rows = tuple(
        Row(
            (
                one.ref,
                short_moment(one.date),
                one.sender,
                spoken(one.form.value),
                spoken(one.kind.value),
                one.substance,
            ),
            (one.source,),
        )
        for one in held
    )
    caption = "Instructions and facts received, written and oral"
    return [
        Heading(2, "Instructions received", "instructions"),
        Table("instructions", caption, columns, rows),
    ]


def assumption_blocks(draft: Draft) -> list[Block]:
    """Return what was taken as given, and by whom it was asked."""
    held = draft.dossier.all(Assumption)
    if not held:
        return []
    heads = ("Ref", "Assumption", "Given by", "If it is wrong")
    columns = headed(*heads)
    rows = tuple(
        Row((one.ref, one.words, one.given_by, one.effect or "not said"), (one.source,))
        for one in held
    )
    caption = "Assumptions, and who asked that they be made"
    return [
        Heading(2, "Assumptions", "assumptions"),
        Table("assumptions", caption, columns, rows),
    ]


def author(draft: Draft) -> Section | None:
    """Return the author's record and what the profile asks for; None where there is nothing."""
    wanted = profile(draft.setup.profile) if draft.setup.profile else None
    blocks: list[Block] = []
    for kind in CredentialKind:
        blocks += _credentials(draft, kind, wanted)
    for item in wanted.items if wanted else ():
        blocks += _stated(draft, item)
    if wanted:
        blocks += _without(draft, wanted)
    if not blocks:
        return None
    return Section("author", "The author", tuple(blocks))


def _credentials(draft: Draft, kind: CredentialKind, wanted: Profile | None) -> list[Block]:
    items = wanted.items if wanted else ()
    years = max((i.years for i in items if i.credential == kind.value), default=0)
    held = credentials_of(draft, kind, years)
    if not held:
        return []
    span = f" of the {years} years before this report" if years else ""
    several = len({one.person for one in draft.dossier.all(Credential)}) > 1
    lines = [Paragraph(_line(one, named=several), Voice.ITEM, (one.source,)) for one in held]
    return [Heading(2, f"{_TITLES[kind]}{span}", f"credentials {kind.value}"), *lines]


def _line(one: Credential, *, named: bool) -> tuple[Value, ...]:
    """Return a line of a record; whose it is where the case holds those of several persons."""
    who = f"{one.person}, " if named else ""
    when = f"{short_moment(one.date)}: " if one.date else ""
    return (Value("", f"{who}{when}{one.words}", (one.source,)),)


def _stated(draft: Draft, item: Item) -> list[Block]:
    if item.kind == "locked":
        said = [plain(item.text)] if settled(draft, item) else []
        return [Heading(2, item.heading, f"statement {item.key}"), *said] if said else []
    held = statement(draft, item.key)
    if held is None:
        return []
    stated = Paragraph(text(Value("", sentence(held.words), (held.source,))), Voice.FACT)
    return [Heading(2, item.key[0].upper() + item.key[1:], f"statement {item.key}"), stated]


def _without(draft: Draft, wanted: Profile) -> list[Block]:
    """Return the items that the report does without, each with the reason written for it."""
    reasons = [(item, one) for item in wanted.items if (one := left_open(draft, item))]
    if not reasons:
        return []
    rows = tuple(
        Row((item.asks, item.source, sentence(one.words), one.by or "not recorded"), (one.source,))
        for item, one in reasons
    )
    columns = tuple(
        map(Column, ("Asked for", "By", "Why this report does without it", "Written by"))
    )
    return [
        Heading(2, "What this report does without", "without"),
        plain(See("table without"), f" has what “{wanted.title}” asks for and is left open."),
        Table("without", "Items left open, and why", columns, rows),
    ]
