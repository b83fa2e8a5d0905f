"""What keeps a case from being finished, each point with its place and what would close it."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from typing import TYPE_CHECKING

from workbench.records import (
    Area,
    CaseEntry,
    CustodyEntry,
    Discrepancy,
    Document,
    Dossier,
    Effect,
    LabResult,
    Opinion,
    Photo,
    PullOff,
    Record,
    Sample,
    SitePlan,
    Source,
)
from workbench.records.codes import Chapter, Condition, DocumentStatus, Purpose

if TYPE_CHECKING:
    from workbench.analysis.doubts import Doubt

_COMPARED = {Condition.NON_FAILING, Condition.CONTROL}
_LABELS = 6
"""Records that are named; of more, how many of which."""
_NAMED = 6
"""Files that are named; the rest are counted."""
_NOT_FROM_SITE = {Purpose.REFERENCE, Purpose.BLANK, Purpose.TEST_PANEL}

Kept = Callable[[str], object]
"""Gives the original that records call by a name, or None."""


class Sort(StrEnum):
    """What kind of point it is, the ones that weigh most first."""

    CUSTODY = "custody"
    DOUBT = "doubt"
    QUESTION = "question"
    STATEMENT = "statement"
    MISSING = "missing"
    DOCUMENT = "document"


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenPoint:
    """One open point.

    Attributes:
        sort: What kind of point it is.
        chapter: The chapter where it is closed.
        words: What is open.
        remedy: What would close it.
        sources: The records it concerns; none where it is the case.
        grave: Whether the evidence itself is touched.
        rule: The rule of a doubt, under which it is answered; empty for other points.
    """

    sort: Sort
    chapter: Chapter
    words: str
    remedy: str
    sources: tuple[Source, ...] = ()
    grave: bool = False
    rule: str = ""

    @property
    def about(self) -> str:
        """What it concerns in a few words: "P-12", "P-01 to P-60", "14 of P-01 to P-60"."""
        labels = [source.label for source in self.sources]
        if len(labels) <= _LABELS:
            return ", ".join(labels)
        return f"{len(labels)} of {labels[0]} to {labels[-1]}"


def open_points(
    dossier: Dossier, kept: Kept = lambda _name: True, now: datetime | None = None
) -> tuple[OpenPoint, ...]:
    """Return every open point of a case, those that weigh most first.

    Args:
        dossier: The case.
        kept: Gives the original of a name; without it, files are taken to be there.
        now: The present; None leaves out what is overdue.
    """
    found = (
        *_breaches(dossier, now),
        *_discrepancies(dossier),
        *_doubts(dossier),
        *_questions(dossier),
        *_statements(dossier),
        *_choices(dossier),
        *_unsaid(dossier),
        *_contrasts(dossier),
        *_trials_alone(dossier),
        *_unsealed(dossier),
        *_files(dossier, kept),
        *_photographs(dossier),
        *_documents(dossier),
    )
    order = list(Sort)
    return tuple(sorted(found, key=lambda one: (not one.grave, order.index(one.sort))))


def _about(record: Record, sort: Sort, words: str, remedy: str) -> OpenPoint:
    return OpenPoint(
        sort=sort, chapter=record.chapter, words=words, remedy=remedy, sources=(record.source,)
    )


def _breaches(dossier: Dossier, now: datetime | None) -> Iterator[OpenPoint]:
    from workbench.custody.rules import breaches

    for one in breaches(dossier, now=now):
        yield OpenPoint(
            sort=Sort.CUSTODY,
            chapter=Chapter.SAMPLES,
            words=one.words,
            remedy=one.remedy,
            sources=(Source(Sample.noun, one.sample),),
            grave=one.grave,
        )


def _discrepancies(dossier: Dossier) -> Iterator[OpenPoint]:
    """Return the discrepancies that nobody has decided, and how far each has come."""
    for one in dossier.all(Discrepancy):
        if not one.open:
            continue
        when = f" on {one.asked_when}" if one.asked_when else ""
        told, remedy = "nobody is recorded as asked", "ask, and enter whom and when"
        if one.answer:
            told, remedy = "answered, and not decided", "enter what was decided"
        elif one.asked or when:
            told = f"{one.asked or 'somebody'} was asked{when}, no answer is recorded"
            remedy = "remind, or enter the answer and what was decided"
        words = f"discrepancy {one.ref}, {one.words}: {told}"
        yield _about(one, Sort.CUSTODY, words, remedy)


def _doubts(dossier: Dossier) -> Iterator[OpenPoint]:
    """Return the doubts that nobody has answered, the same doubt of many records once."""
    from workbench.analysis.doubts import doubts_of

    alike: dict[tuple[str, str], list[Doubt]] = {}
    for one in doubts_of(dossier):
        if one.is_open:
            alike.setdefault((str(one.rule), one.shared or one.words), []).append(one)
    for (rule, shared), doubts in alike.items():
        record = dossier.resolve(doubts[0].source)
        named = f"{', '.join(one.source.label for one in doubts)}: {shared}"
        words = named if doubts[0].shared and len(doubts) > 1 else doubts[0].words
        yield OpenPoint(
            sort=Sort.DOUBT,
            chapter=_chapter_of(doubts[0], record),
            words=words,
            remedy=f"{_way_out(doubts[0])}, or answer it with a reason",
            sources=tuple(one.source for one in doubts),
            grave=doubts[0].effect is not Effect.NONE,
            rule=rule,
        )


def _way_out(doubt: "Doubt") -> str:
    from workbench.analysis.doubts import SLIPS

    return "correct it" if doubt.rule in SLIPS else "test again"


def _chapter_of(doubt: "Doubt", record: Record | None) -> Chapter:
    """Return where a doubt is answered; too few tests in an area are made up by tests."""
    from workbench.analysis.doubts import Rule

    if record is None or doubt.rule is Rule.TOO_FEW:
        return Chapter.FIELD_TESTS
    return record.chapter


def _questions(dossier: Dossier) -> Iterator[OpenPoint]:
    held = dossier.all(Opinion)
    if not dossier.questions:
        yield OpenPoint(
            sort=Sort.QUESTION, chapter=Chapter.BACKGROUND, words="no question is put",
            remedy="write the questions of the instruction under case entries, as “question 1”",
        )  # fmt: skip
    for at, question in enumerate(dossier.questions, 1):
        if not any(one.answers(at, question) for one in held):
            yield OpenPoint(
                sort=Sort.QUESTION,
                chapter=Chapter.CAUSES,
                words=f"question {at} has no opinion yet: {question}",
                remedy="write an opinion that answers it, or say that it cannot be answered",
            )


def _statements(dossier: Dossier) -> Iterator[OpenPoint]:
    from workbench.reasoning.wording import certainty_flags, party_flags

    for one in dossier.all(Opinion):
        for flag in (*certainty_flags(one.opinion), *party_flags(one.opinion, dossier)):
            words = f"opinion {one.ref} says “{flag.words}”: {flag.why}"
            yield _about(one, Sort.STATEMENT, words, "say it otherwise")
        if not one.basis.strip():
            yield _about(
                one, Sort.STATEMENT, f"opinion {one.ref} names nothing that it rests on",
                "name the records it rests on",
            )  # fmt: skip
        if not one.signed:
            yield _about(
                one, Sort.STATEMENT, f"opinion {one.ref} is drafted and unsigned",
                "read it, make it your own words, sign it; unsigned it is not issued",
            )  # fmt: skip


def _choices(dossier: Dossier) -> Iterator[OpenPoint]:
    """Return the case entries that mean to choose a rule or a threshold, and do not."""
    from workbench.reasoning import choice_problems

    for one in choice_problems(dossier):
        yield OpenPoint(
            sort=Sort.STATEMENT,
            chapter=Chapter.BACKGROUND,
            words=f"the case entry “{one.cell}” has no effect: {one.wrong}",
            remedy=f"give {one.right}",
            sources=(Source(CaseEntry.noun, one.cell),),
        )


def _unsaid(dossier: Dossier) -> Iterator[OpenPoint]:
    """Return what should be said and is not: conditions, controls, places, keys of the case."""
    for key in ("reference", "title", "time zone"):
        if not dossier.entry(key):
            yield OpenPoint(
                sort=Sort.MISSING, chapter=Chapter.BACKGROUND, words=f"the case has no {key}",
                remedy=f"write it under case entries, as “{key}”",
            )  # fmt: skip
    for area in dossier.all(Area):
        if area.condition is Condition.UNKNOWN:
            yield _about(
                area, Sort.MISSING, f"the condition of area {area.ref} is unknown",
                "look, and say whether it fails",
            )  # fmt: skip
    for sample in _from_site(dossier):
        if not sample.at:
            yield _about(
                sample, Sort.MISSING, f"sample {sample.ref} says neither place nor parent",
                "say where it was taken",
            )  # fmt: skip


def _from_site(dossier: Dossier) -> Iterator[Sample]:
    """Yield the samples taken from the object itself, without those made of them."""
    for sample in dossier.all(Sample):
        if sample.purpose not in _NOT_FROM_SITE and not sample.parent:
            yield sample


def _trials_alone(dossier: Dossier) -> Iterator[OpenPoint]:
    """Return that no pull-off is on the film as it stands, where there are any."""
    pulls = dossier.all(PullOff)
    if pulls and all(dossier.treatment_of(one) for one in pulls):
        yield _lacking_film(pulls)


def _lacking_film(pulls: Sequence[PullOff]) -> OpenPoint:
    return OpenPoint(
        sort=Sort.MISSING, chapter=Chapter.FIELD_TESTS,
        words="every pull-off has a treatment and counts as a trial patch, so no strength of the "
        "film as it stands is computed",
        remedy="blank the treatment where nothing was done, or pull the film as it stands",
        sources=tuple(one.source for one in pulls), grave=True,
    )  # fmt: skip


def _contrasts(dossier: Dossier) -> Iterator[OpenPoint]:
    """Return what has nothing sound beside it to be compared with."""
    areas = [area.condition for area in dossier.all(Area)]
    if Condition.FAILING in areas and not _COMPARED & set(areas):
        yield OpenPoint(
            sort=Sort.MISSING, chapter=Chapter.BACKGROUND,
            words="no non-failing or control area is recorded to compare the failing with",
            remedy="record one that holds, or a control, and test it in the same way",
        )  # fmt: skip
    taken = {
        str(sample.purpose or dossier.condition_at(sample.at)) for sample in _from_site(dossier)
    }
    if Condition.FAILING in taken and not _COMPARED & taken:
        yield OpenPoint(
            sort=Sort.MISSING, chapter=Chapter.SAMPLES,
            words="no sample was taken of coating that holds, nor as a control",
            remedy="take one, or say in the report that the laboratory had nothing to compare with",
        )  # fmt: skip


def _unsealed(dossier: Dossier) -> Iterator[OpenPoint]:
    """Return the samples from site on which no seal was ever recorded."""
    sealed = {one.sample for one in dossier.all(CustodyEntry) if one.seal}
    for sample in _from_site(dossier):
        said = sample.ref in sealed or "seal" in sample.note.lower()
        if not sample.seal and not said:
            yield _about(
                sample, Sort.CUSTODY, f"no seal is recorded on sample {sample.ref}",
                "seal it and write the number of the seal, or say in its note why there is none",
            )  # fmt: skip


def _files(dossier: Dossier, kept: Kept) -> Iterator[OpenPoint]:
    """Return the files that records name and the case has not, those of one type at once."""
    for kind in (Photo, Document, LabResult, SitePlan):
        files = {one: str(getattr(one, "file", "")) for one in dossier.all(kind)}
        gone = [one for one, name in files.items() if name and kept(name) is None]
        named = tuple(dict.fromkeys(files[one] for one in gone))
        words = f"the {_files_named(named)} not in the case"
        yield from _lacking(gone, words, "take in what is missing, or correct the name")


def _photographs(dossier: Dossier) -> Iterator[OpenPoint]:
    """Return the photographs that lack a place, and those that lack only a caption."""
    unplaced = [one for one in dossier.all(Photo) if not one.at]
    unsaid = [one for one in dossier.all(Photo) if one.at and not one.caption]
    for lack, photos in (("place", unplaced), ("caption", unsaid)):
        words, remedy = f"{len(photos)} photographs have no {lack}", f"give each its {lack}"
        if len(photos) == 1:
            words = f"photograph {photos[0].ref or photos[0].file} has no {lack}"
            remedy = f"give it its {lack}"
        yield from _lacking(photos, words, remedy)


def _lacking(records: Sequence[Record], words: str, remedy: str) -> Iterator[OpenPoint]:
    """Return one point for all records that lack the same; none where no record does."""
    if records:
        yield OpenPoint(
            sort=Sort.MISSING, chapter=records[0].chapter, words=words, remedy=remedy,
            sources=tuple(one.source for one in records),
        )  # fmt: skip


def _files_named(names: Sequence[str]) -> str:
    if len(names) == 1:
        return f"file {names[0]} is"
    more = f" and {len(names) - _NAMED} more" if len(names) > _NAMED else ""
    return f"files {', '.join(names[:_NAMED])}{more} are"


def _documents(dossier: Dossier) -> Iterator[OpenPoint]:
    for one in dossier.all(Document):
        if one.status is DocumentStatus.REQUESTED:
            yield _about(
                one, Sort.DOCUMENT, f"document {one.ref}, {one.name}, was asked for and not sent",
                "remind, or record that it was refused, lost or never existed",
            )  # fmt: skip
