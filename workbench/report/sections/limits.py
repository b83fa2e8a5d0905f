"""Limits and assumptions: what the report does not say, and what it took as given."""

from collections.abc import Iterator

from workbench.analysis.strength.by_plane import NOT_STRUCTURAL
from workbench.records import Discrepancy, Document, Effect, Source
from workbench.records.codes import Condition, DocumentStatus
from workbench.report.blocks import Block, Heading, Paragraph, Section, Voice
from workbench.report.draft import Draft, fact, plain
from workbench.report.sections.person import assumption_blocks
from workbench.report.standing import about, standing
from workbench.report.text import text
from workbench.report.wording import counted, listed, sentence
from workbench.trade.names import spoken


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
        *_standing(draft),
        *_missing(draft),
        *_unknown(draft),
        *_remarks(draft),
    ]
    return Section("limits", "Limits and assumptions", tuple(blocks))


def _standing(draft: Draft) -> list[Block]:
    """Return what is broken of the custody and doubted of the readings, open or answered."""
    said = [*_broken(draft), *_discrepancies(draft), *_answered(draft)]
    if not said:
        return []
    items = [Paragraph(text(words), Voice.ITEM, of) for words, of in said]
    return [
        Heading(2, "Custody and doubts", "standing"),
        plain(
            "What is wrong with the custody of a sample, or makes a reading doubtful, limits every "
            "conclusion that rests on it. It stands so:"
        ),
        *items,
    ]


def _broken(draft: Draft) -> Iterator[tuple[str, tuple[Source, ...]]]:
    for one in standing(draft):
        reason = one.reason
        by = f" ({reason.by})" if reason and reason.by else ""
        open_ = f"Left open{by}: {sentence(reason.words)}" if reason else "It stands open."
        of = (*one.sources, reason.source) if reason else one.sources
        yield f"{sentence(one.words)} {open_}", of


def _discrepancies(draft: Draft) -> Iterator[tuple[str, tuple[Source, ...]]]:
    for one in draft.dossier.all(Discrepancy):
        decided = f"; decided: {spoken(one.decision.value)}" if one.decision else ""
        told = f"Answered: {one.answer.rstrip('.')}{decided}." if one.answer else "Not answered."
        what = f"Discrepancy {one.ref}, {', '.join(one.samples)}: {one.words}"
        yield f"{sentence(what)} {told}", (one.source,)


def _answered(draft: Draft) -> Iterator[tuple[str, tuple[Source, ...]]]:
    """Yield the doubts that were answered, those together that were answered alike."""
    alike: dict[tuple[str, str, str, str], list[Source]] = {}
    for one in draft.results.doubts:
        if one.answer and one.effect is not Effect.NONE:
            key = (str(one.rule), str(one.answer.effect), one.answer.reason, one.answer.by)
            alike.setdefault(key, []).append(one.source)
    for (rule, effect, reason, by), held in alike.items():
        of = tuple(dict.fromkeys(held))
        used = "used as it is" if effect == Effect.NONE else effect
        words = f"{rule}, {about(of)}: answered by {by}, {used}: {reason}"
        yield sentence(words), of


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
