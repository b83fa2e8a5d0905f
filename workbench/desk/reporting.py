"""Writing the report of a case: what is computed, how this edition is made, where it goes."""

import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from workbench.desk.headlines import with_moved
from workbench.desk.issuing import (
    NotIssuableError,
    amendments_since,
    authorised,
    checked,
    edited_outside,
    in_hand,
    journal_told,
    keep_issued,
    latest_issued,
    next_number,
    put_out,
    ready,
)
from workbench.desk.putting_aside import put_aside
from workbench.records import Edition, EditionState, KnownError, When

if TYPE_CHECKING:
    from collections.abc import Callable

    from workbench.desk.case import Case
    from workbench.desk.questions.open_points import OpenPoint
    from workbench.records import Dossier
    from workbench.report.checks import Point
    from workbench.report.draft import Draft
    from workbench.report.given import Results, Setup
    from workbench.report.profiles import Item
    from workbench.trade.showing import Showing

    Step = Callable[[int, int], None]

E = TypeVar("E", bound=StrEnum)

NO_PDF = (
    "No PDF was made: LibreOffice is not on this machine. The contents have no page numbers yet; "
    "Word fills them in when it opens the document and is told to update its fields."
)
WORD_ASKS = (
    "When Word opens the document it asks whether to update its fields; answer yes, so that the "
    "page numbers are those of your printer and fonts."
)


@dataclass(frozen=True, slots=True)
class Wish:
    """What a person wants of a report.

    Attributes:
        out: File or folder; None for the current folder.
        form: "full" or "short"; empty for that of the edition in hand, else full.
        units: "SI", "US" or "both"; empty for those of the edition in hand, else of the case.
        paper: "A4" or "Letter"; empty for that of the units.
        pdf: Whether a PDF is wanted beside the document, where the machine can make one.
        author: Who wrote it; empty for the first investigator of the case.
        profile: Which checklist it is held against; empty for that of the edition in hand.
        template: A firm's Word file with its paper, letterhead and styles.
        styles: A TOML file that maps our styles to the firm's.
    """

    out: Path | None = None
    form: str = ""
    units: str = ""
    paper: str = ""
    pdf: bool = True
    author: str = ""
    profile: str = ""
    template: Path | None = None
    styles: Path | None = None


@dataclass(frozen=True, slots=True)
class Written:
    """What was written.

    Attributes:
        document: The Word document.
        pdf: The PDF; None where none was made.
        pages: How many pages it has; 0 where nobody counted.
        state: How far the edition has come.
        remarks: What a person should know, as sentences.
    """

    document: Path
    pdf: Path | None
    pages: int
    state: str
    remarks: tuple[str, ...]


def write_report(case: "Case", wish: Wish, step: "Step" = lambda _done, _whole: None) -> Written:
    """Write the report of a case as it stands: a draft, or an edition checked or authorised.

    Args:
        case: The case.
        wish: What is wanted.
        step: Told how far it is; may raise to stop, which leaves nothing behind.

    Raises:
        KnownError: It cannot be written there.
    """
    draft = draft_of(case, wish)
    path = place_of(wish, f"{draft.setup.number}-{draft.setup.state.value}.docx")
    with _beside(path) as folder:
        half = folder / path.name
        pages, pdf, remark = _bind(draft, half, wish, step)
        aside = put_aside(path)
        half.replace(path)
        kept = pdf.replace(path.with_suffix(".pdf")) if pdf else None
    told = (*aside, remark, *remarks(case, draft))
    return Written(path, kept, pages, draft.setup.state.value, told)


@contextmanager
def _beside(path: Path) -> Iterator[Path]:
    """Give a folder on the disk of `path` that is gone afterwards, whatever happened."""
    with tempfile.TemporaryDirectory(prefix=".report-", dir=path.parent) as folder:
        yield Path(folder)


def _bind(draft: "Draft", path: Path, wish: Wish, step: "Step") -> tuple[int, Path | None, str]:
    """Write the document and, where LibreOffice is, its page numbers and PDF."""
    from workbench.report.document import Binding
    from workbench.report.pages import NoOfficeError, number_pages, office, write_pdf
    from workbench.report.writing import write_draft

    renders = office() is not None
    binding = Binding(sheet=draft.setup.sheet, template=wish.template, styles=wish.styles)
    write_draft(draft, path, replace(binding, numbered=renders), step)
    if not renders:
        return 0, None, NO_PDF
    try:
        pages = number_pages(path)
        pdf = path.with_suffix(".pdf") if wish.pdf else None
        if pdf:
            write_pdf(path, pdf)
    except NoOfficeError as wrong:
        write_draft(draft, path, binding, step)
        return 0, None, f"{wrong}. {NO_PDF.partition('. ')[2]}"
    return pages, pdf, WORD_ASKS


def draft_of(
    case: "Case", wish: Wish, state: EditionState | None = None, records: "Dossier | None" = None
) -> "Draft":
    """Return what the report would be written from now, in the state that still holds.

    Other `records`, such as those of an edition issued before, take the place of the case's own.
    """
    from workbench.report.content import content_digest
    from workbench.report.draft import Draft
    from workbench.report.given import State
    from workbench.report.writing import sections_of
    from workbench.trade.showing import Showing

    held = in_hand(case.dossier)
    setup = setup_of(case, wish, held)
    results = results_of(case, Showing(setup.system), records)
    draft = Draft(records or case.dossier, results, setup, case.original)
    if records is None:
        draft = with_moved(case, draft, computed)
    if held is None or content_digest(sections_of(draft)) != held.content:
        return draft
    reached = State((state or held.state).value)
    return replace(draft, setup=replace(_signed(setup, held), state=reached))


def _signed(setup: "Setup", edition: Edition) -> "Setup":
    from workbench.report.wording import moment

    looked = " (self-checked)" if edition.checked_by == edition.author else ""
    own = " (self-authorised)" if edition.authorised_by == edition.author else ""
    authorised_on = f"{edition.authorised_by}{own}, {moment(edition.authorised_on)}"
    return replace(
        setup,
        checked_by=f"{edition.checked_by}{looked}, {moment(edition.checked_on)}",
        authorised_by=authorised_on if edition.authorised_by else "",
    )


def remarks(case: "Case", draft: "Draft") -> tuple[str, ...]:
    """Return what a person should know about editions: lapsed checks, news since an issue."""
    said = list(edited_outside(case))
    if draft.setup.profile:
        said.append(_open_items(draft))
    held = in_hand(case.dossier)
    if held and draft.setup.state.value == EditionState.DRAFT.value:
        said.append(
            f"{held.checked_by} checked {held.ref}; the report has changed since and is a draft "
            "again."
        )
    if news := _news(case):
        said.append(f"{news} This edition lists them.")
    return tuple(said)


def _news(case: "Case") -> str:
    """Return the question that new records after an issue raise; empty where there are none."""
    issued = latest_issued(case.dossier)
    news = amendments_since(case, issued) if issued else ()
    if not issued or not news:
        return ""
    count = f"{len(news)} changes" if len(news) > 1 else "one change"
    return f"Supplement needed? The records have {count} since {issued.ref} was issued."


def _open_items(draft: "Draft") -> str:
    from workbench.report.profiles import open_items, profile

    wanted = profile(draft.setup.profile)
    left = open_items(draft, wanted)
    named = "; ".join(f"{item.key} ({item.source}){_how_open(draft, item)}" for item in left)
    return (
        f"Checklist “{wanted.title}” of {wanted.dated}: {len(left)} of {len(wanted.items)} items "
        f"open{f': {named}' if named else ''}. It is no legal advice."
    )


def _how_open(draft: "Draft", item: "Item") -> str:
    from workbench.report.profiles import left_open

    if left_open(draft, item):
        return ", left open for a written reason"
    return ", hinders the issue" if item.hinders else ""


# -- states


def check_report(case: "Case", wish: Wish, by: str) -> Edition:
    """Enter that `by` has checked the report as it would be written now."""
    draft = draft_of(case, wish)
    setup = draft.setup
    edition = Edition(
        ref=setup.number,
        form=setup.form.value,
        units=setup.system.value,
        author=setup.author,
        replaces=setup.replaces,
        profile=setup.profile,
    )
    return checked(case, edition, _content(draft), _named(by))


def authorise_report(case: "Case", by: str) -> Edition:
    """Enter that `by` authorises the report that was checked.

    Raises:
        NotIssuableError: It is not checked, or has changed since.
    """
    return authorised(case, _content(draft_of(case, Wish())), _named(by))


def issue_report(case: "Case", wish: Wish, step: "Step" = lambda _done, _whole: None) -> Written:
    """Issue the report: its bytes are kept and never change.

    Where nothing has changed since the last issue, the bytes issued then are given again.

    Raises:
        NotIssuableError: It is not authorised, has changed since, or open points hinder it.
    """
    last = latest_issued(case.dossier)
    if last and not amendments_since(case, last) and in_hand(case.dossier) is None:
        return _again(case, last, wish)
    draft = draft_of(case, Wish(author=wish.author, paper=wish.paper), EditionState.ISSUED)
    edition = ready(case, _content(draft), points_of(draft))
    moment = datetime.now(UTC).astimezone(case.dossier.zone)
    draft = replace(draft, setup=replace(draft.setup, moment=moment))
    standing = len(points_of(draft))
    with tempfile.TemporaryDirectory() as folder:
        half = Path(folder) / f"{edition.ref}.docx"
        pages, pdf, remark = _bind(draft, half, wish, step)
        issued = replace(edition, issued_on=When(moment.isoformat(" ", "minutes")))
        kept = keep_issued(case, issued, half, pdf)
    told = [remark]
    if standing:
        told.append(f"{standing} open points stood when it was issued; “check” lists them.")
    written = _again(case, kept, wish)
    return replace(written, pages=pages, remarks=(*written.remarks, *told))


def _again(case: "Case", edition: Edition, wish: Wish) -> Written:
    """Give the bytes that were issued."""
    document, *pdf = put_out(case, edition)
    aside: tuple[str, ...] = ()
    if wish.out:
        path = place_of(wish, document.name)
        aside = put_aside(path)
        for source, target in ((document, path), *((one, path.with_suffix(".pdf")) for one in pdf)):
            target.unlink(missing_ok=True)
            target.write_bytes(source.read_bytes())
        document, pdf = path, [path.with_suffix(".pdf")] if pdf else []
    told = f"These are the bytes issued as {edition.ref}; SHA-256 {edition.sha256}."
    return Written(document, pdf[0] if pdf else None, 0, EditionState.ISSUED.value, (*aside, told))


def _named(by: str) -> str:
    if not by.strip():
        raise NotIssuableError("say by name who does it")
    return by.strip()


def _content(draft: "Draft") -> str:
    from workbench.report.content import content_digest
    from workbench.report.writing import sections_of

    return content_digest(sections_of(draft))


# -- what it is written from


def open_points(case: "Case") -> "tuple[Point, ...]":
    """Return what should be settled before the report is sent."""
    return points_of(draft_of(case, Wish()))


_TOLD_BY_THE_CASE = frozenset(("opinions", "evidence"))
"""Sections whose points are open points of the case already."""


def of_the_report(case: "Case") -> "tuple[OpenPoint, ...]":
    """Return the open points of the report as those of the case; its opinions have their own."""
    from workbench.desk.questions.open_points import OpenPoint, Sort
    from workbench.records.codes import Chapter

    found = [
        OpenPoint(
            sort=Sort.STATEMENT,
            chapter=Chapter.REPORT,
            words=f"{', '.join(filter(None, (one.section, one.place)))}: {one.wrong}".lstrip(": "),
            remedy=one.right,
        )
        for one in open_points(case)
        if one.section not in _TOLD_BY_THE_CASE
    ]
    if news := _news(case).rstrip("."):
        remedy = "issue an edition that lists it, or say in the report why none is needed"
        point = OpenPoint(sort=Sort.QUESTION, chapter=Chapter.REPORT, words=news, remedy=remedy)
        found.insert(0, point)
    return tuple(found)


def every_open_point(case: "Case") -> "tuple[OpenPoint, ...]":
    """Return every open point of a case and of its report: the one list that is told anywhere."""
    from workbench.desk.questions import open_points as of_the_case

    found = of_the_case.open_points(case.dossier, case.original, datetime.now(UTC))
    return (*found, *of_the_report(case))


def points_of(draft: "Draft") -> "tuple[Point, ...]":
    """Return what should be settled before a draft is sent."""
    from workbench.report.checks import open_points as found
    from workbench.report.writing import sections_of

    return found(draft, sections_of(draft))


def results_of(
    case: "Case", showing: "Showing | None" = None, records: "Dossier | None" = None
) -> "Results":
    """Return what is computed from the records, and what the case file says of itself."""
    from workbench.report.given import Head, JournalLine, Original

    heads = case.heads
    return replace(
        computed(records or case.dossier, showing, case.original),
        originals=tuple(Original(one.name, one.digest, one.size) for one in case.originals),
        journal=tuple(
            JournalLine(one.seq, one.recorded_at, one.who, what, why)
            for one, what, why in journal_told(case, case.journal())
        ),
        heads=(
            Head("journal", heads.journal.count, heads.journal.hash),
            Head("custody ledger", heads.ledger.count, heads.ledger.hash),
        ),
    )


def computed(
    dossier: "Dossier",
    showing: "Showing | None" = None,
    original: "Callable[[str], Path | None] | None" = None,
) -> "Results":
    """Return what is computed from records and originals.

    Args:
        dossier: The records.
        showing: The units of the words.
        original: Gives the file of an original; None leaves the laboratory's originals unread.
    """
    from workbench.analysis.application import check_application
    from workbench.analysis.doubts import doubts_of
    from workbench.analysis.strength import strength_by_plane
    from workbench.desk.questions.comparing import beside
    from workbench.desk.questions.laboratory import laboratory
    from workbench.reasoning import reason
    from workbench.records import Application, Area, PullOff
    from workbench.report.given import Results

    strength = strength_by_plane(dossier) if dossier.all(PullOff) else None
    return Results(
        strength=strength,
        comparisons=beside(dossier, strength),
        doubts=doubts_of(dossier, showing=showing),
        application=(
            check_application(dossier, showing=showing) if dossier.all(Application) else None
        ),
        reasoning=reason(dossier, showing=showing) if dossier.all(Area) else None,
        laboratory=laboratory(dossier, original) if original else None,
    )


def setup_of(case: "Case", wish: Wish, held: Edition | None = None) -> "Setup":
    """Return how a draft is made.

    Raises:
        KnownError: A wish is not one of those there are.
    """
    from workbench.report.given import Form, Setup
    from workbench.report.wordml import A4, LETTER
    from workbench.trade.showing import System

    dossier = case.dossier
    said = wish.units or (held.units if held else "") or dossier.entry("units") or "SI"
    system = _one_of(System, said, "units")
    paper = wish.paper or ("Letter" if system is System.US else "A4")
    sheets = {"a4": A4, "letter": LETTER}
    if paper.lower() not in sheets:
        raise KnownError(f"“{paper}” is no paper of the report; write A4 or Letter")
    before = latest_issued(dossier)
    return Setup(
        number=held.ref if held else next_number(dossier),
        moment=datetime.now(UTC).astimezone(dossier.zone),
        form=_one_of(Form, wish.form or (held.form if held else "full"), "form"),
        system=system,
        sheet=sheets[paper.lower()],
        author=wish.author or (held.author if held else "") or _investigator(dossier),
        replaces=before.ref if before else "",
        amendments=amendments_since(case, before) if before else (),
        profile=_profile(wish.profile or (held.profile if held else "")),
    )


def _profile(name: str) -> str:
    from workbench.report.profiles import profile

    return profile(name).name if name else ""


def _investigator(dossier: "Dossier") -> str:
    from workbench.records import Party
    from workbench.records.codes import Role

    return next((p.name for p in dossier.all(Party) if p.role is Role.INVESTIGATOR), "")


def _one_of(words: type[E], said: str, what: str) -> E:
    for word in words:
        if str(word).lower() == said.lower():
            return word
    raise KnownError(f"“{said}” is no {what} of the report; write one of: {', '.join(words)}")


def place_of(wish: Wish, name: str) -> Path:
    """Return the file that is written.

    Raises:
        KnownError: There is no such folder, or the file has another ending.
    """
    out = wish.out or Path()
    safe = "".join(letter if letter.isalnum() or letter in "-_." else "-" for letter in name)
    path = out / safe if out.is_dir() else out
    if path.suffix.lower() != ".docx":
        right = "end its name in .docx, or name a folder that is there"
        raise KnownError(f"{path}: the report is a Word document; {right}")
    if not path.parent.is_dir():
        raise KnownError(f"{path.parent}: there is no such folder")
    return path
