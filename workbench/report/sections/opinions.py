"""Opinions: each answers a question put, with its grade, basis, limits and what speaks against."""

from workbench.records import Opinion, Source, read_sources
from workbench.report.blocks import Block, Heading, Paragraph, Section, Voice
from workbench.report.draft import Draft, plain
from workbench.report.text import See, Words, text
from workbench.report.wording import moment, sentence

_NOT_SAID = "not yet stated"
DRAFTED = "Drafted, unsigned: "
"""Stands before an opinion that nobody has made theirs."""


def opinions(draft: Draft) -> Section:
    """Return the section on opinions."""
    held = draft.dossier.all(Opinion)
    blocks: list[Block] = [
        plain(
            "Opinions rest on the facts and inferences of the sections before, on the items "
            "tested, and on what was known at the date of this report. They may change with new "
            "evidence; a change would be issued as a further document."
        ),
    ]
    questions = draft.dossier.questions
    for number, question in enumerate(questions, 1):
        blocks.append(Heading(2, f"Question {number}", f"question {number}"))
        blocks.append(plain(question))
        answers = [one for one in held if one.is_on(number, question)]
        blocks += [block for one in answers for block in _opinion(one)] or [
            plain("No opinion is recorded on this question.")
        ]
    loose = [one for one in held if not any(one.is_on(n, q) for n, q in enumerate(questions, 1))]
    if loose:
        blocks.append(Heading(2, "Further opinions", "further"))
        blocks += [block for one in loose for block in _opinion(one)]
    if not held and not questions:
        return Section("opinions", "Opinions", (plain("No opinion is recorded."),))
    if not held:
        blocks.append(plain("What the evidence indicates is in ", See("section reasoning"), "."))
    return Section("opinions", "Opinions", tuple(blocks))


def basis_of(opinion: Opinion) -> tuple[Source, ...]:
    """Return the records that an opinion names as its basis."""
    return read_sources(opinion.basis)


def _before(one: Opinion) -> str:
    return "In my opinion: " if one.signed else DRAFTED


def _opinion(one: Opinion) -> list[Block]:
    grade = f" Grade: {one.grade.value}." if one.grade else ""
    signed = f", {moment(one.signed)}" if one.signed else ""
    held = f" (Opinion {one.ref} of {one.by}{signed}.)"
    blocks: list[Block] = [
        Paragraph(
            text(Words(_before(one), strong=True), sentence(one.opinion), grade, held),
            Voice.OPINION,
            (*basis_of(one), one.source),
            name=f"opinions: {one.ref}",
        )
    ]
    for label, words in (
        ("Subject to", one.limits),
        ("Evidence against", one.against),
        ("Range of opinion", one.range_of_opinion),
    ):
        said = sentence(words) if words else f"{_NOT_SAID}."
        blocks.append(
            Paragraph(text(Words(f"{label}. ", strong=True), said), Voice.ITEM, (one.source,))
        )
    return blocks
