"""Limits and assumptions: what the report does not say, and what it took as given."""

from workbench.analysis.strength.by_plane import NOT_STRUCTURAL
from workbench.records import Document
from workbench.records.codes import Condition, DocumentStatus
from workbench.report.blocks import Block, Heading, Paragraph, Section, Voice
from workbench.report.draft import Draft, fact, plain
from workbench.report.sections.person import assumption_blocks
from workbench.report.text import text
from workbench.report.wording import counted, listed


def limits(draft: Draft) -> Section:
    """Return the section on limits and assumptions."""
    blocks: list[Block] = [
        plain(
            "Results relate only to the places and items tested. Between them the condition is "
            "inferred, not known."
        ),
        plain(
            "A strength in this report is the stress at which a coating came off a test fixture; "
            "it is no structural opinion."
        ),
        plain(
            "Facts supplied by others, marked †, were taken as they stand unless a reason to "
            "doubt them is given. Where they are wrong, conclusions that rest on them may fall."
        ),
        plain(
            "A standard is named because it describes a test. The report does not claim that the "
            "work, a product or the report itself meets any standard."
        ),
        *assumption_blocks(draft),
        *_missing(draft),
        *_unknown(draft),
        *_remarks(draft),
    ]
    return Section("limits", "Limits and assumptions", tuple(blocks))


def _missing(draft: Draft) -> list[Block]:
    missing = [d for d in draft.dossier.all(Document) if d.status is not DocumentStatus.RECEIVED]
    if not missing:
        return []
    names = listed([f"{one.name} ({one.ref})" for one in missing])
    return [
        fact(
            "limits: missing documents",
            f"{counted(len(missing), 'document').capitalize()} that "
            f"might bear on the matter could not be seen: {names}. "
            f"What {'it' if len(missing) == 1 else 'they'} would have said is unknown, and nothing "
            f"is concluded from {'its' if len(missing) == 1 else 'their'} absence.",
            of=missing,
        )
    ]


def _unknown(draft: Draft) -> list[Block]:
    unknown = draft.areas(Condition.UNKNOWN)
    if not unknown:
        return []
    names = listed([area.name for area in unknown])
    return [fact("limits: unknown areas", f"The condition of {names} is not known.", of=unknown)]


def _remarks(draft: Draft) -> list[Block]:
    result = draft.results.strength
    if result is None or not result.remarks:
        return []
    items = [
        Paragraph(text(words), Voice.ITEM) for words in result.remarks if words != NOT_STRUCTURAL
    ]
    return [Heading(2, "Assumptions of the strength estimates", "strength"), *items]
