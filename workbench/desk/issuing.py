"""The states of a report: checked, authorised, issued; and what changed after an issue.

Checked and authorised hold for what was read: when a record behind the report changes, they
lapse. An issued edition is kept byte by byte among the originals, where `verify` guards it.
"""

import shutil
import tempfile
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from workbench.desk.acts import FileToKeep
from workbench.desk.acts.act import Plan, adding, changing
from workbench.desk.case import Case
from workbench.records import (
    BY_NOUN,
    Dossier,
    EditedText,
    Edition,
    EditionState,
    Exhibit,
    Instruction,
    InstructionKind,
    KnownError,
    Opinion,
    Record,
    When,
    fields_of,
)

if TYPE_CHECKING:
    from workbench.casefile.converting import Plain
    from workbench.casefile.journal import JournalEntry
    from workbench.report.checks import Point
    from workbench.report.given import Amendment

Step = Callable[[int, int], None]

ISSUED_FOLDER = "issued"


class NotIssuableError(KnownError):
    """The report cannot be checked, authorised or issued as it stands; the text says why."""


@dataclass(frozen=True, slots=True)
class Enter:
    """An edition entered or moved on to its next state."""

    edition: Edition
    what: str
    keep: tuple[FileToKeep, ...] = ()
    why: str = ""

    def plan(self, dossier: Dossier) -> Plan:
        """Return what the act does; an issue may not be undone."""
        held = dossier.with_id(Edition, self.edition.id)
        changes = changing((self.edition,), dossier) if held else adding((self.edition,), dossier)
        return Plan(what=self.what, changes=changes, keep=self.keep, final=bool(self.keep))


def latest_issued(dossier: Dossier) -> Edition | None:
    """Return the edition that was issued last."""
    return next((e for e in reversed(dossier.all(Edition)) if e.state is EditionState.ISSUED), None)


def in_hand(dossier: Dossier) -> Edition | None:
    """Return the edition that is checked or authorised and not yet issued."""
    return next(
        (e for e in reversed(dossier.all(Edition)) if e.state is not EditionState.ISSUED), None
    )


def next_number(dossier: Dossier) -> str:
    """Return the number of the next edition: the case's reference with R1, R2 …."""
    issued = [e for e in dossier.all(Edition, withdrawn=True) if e.state is EditionState.ISSUED]
    return f"{dossier.entry('reference') or 'report'}-R{len(issued) + 1}"


def checked(case: Case, edition: Edition, content: str, by: str) -> Edition:
    """Enter that `by` has checked an edition whose content has that digest."""
    held = in_hand(case.dossier)
    moved = replace(
        edition,
        id=held.id if held else edition.id,
        checked_by=by,
        checked_on=_now(case),
        authorised_by="",
        authorised_on=None,
        content=content,
    )
    case.do(Enter(moved, f"checked report {moved.ref}"))
    return moved


def authorised(case: Case, content: str, by: str) -> Edition:
    """Enter that `by` authorises the edition in hand.

    Raises:
        NotIssuableError: It is not checked, or has changed since.
    """
    held = in_hand(case.dossier)
    if held is None or not held.checked_by:
        raise NotIssuableError("the report is not checked yet; have it checked first")
    _refuse_unsigned(case.dossier)
    _refuse_changed(held, content)
    moved = replace(held, authorised_by=by, authorised_on=_now(case))
    case.do(Enter(moved, f"authorised report {moved.ref}"))
    return moved


def ready(case: Case, content: str, points: "tuple[Point, ...]") -> Edition:
    """Return the edition in hand, which may be issued.

    Raises:
        NotIssuableError: It is not authorised, has changed since, or points hinder it.
    """
    held = in_hand(case.dossier)
    if held is None or held.state is not EditionState.AUTHORISED:
        raise NotIssuableError("the report is not authorised yet; have it checked and authorised")
    _refuse_changed(held, content)
    hindering = [str(point) for point in points if point.hinders]
    if hindering:
        raise NotIssuableError(
            f"{len(hindering)} open points hinder the issue: " + " | ".join(hindering)
        )
    return held


def _refuse_changed(edition: Edition, content: str) -> None:
    if edition.content != content:
        raise NotIssuableError(
            f"the report has changed since {edition.checked_by} checked it; have it checked again"
        )


def _refuse_unsigned(dossier: Dossier) -> None:
    """Refuse opinions that nobody has made theirs; a draft from the records is none."""
    left = [one for one in dossier.all(Opinion) if not (one.signed and one.written)]
    if left:
        told = ", ".join(
            f"{one.ref} ({'unsigned' if one.written else 'not written to the end'})" for one in left
        )
        raise NotIssuableError(
            f"the report has opinions that nobody has signed: {told}; read each, make it your own "
            "words and enter when it was signed"
        )


def keep_issued(case: Case, edition: Edition, document: Path, pdf: Path | None) -> Edition:
    """Keep the bytes of an issued edition, with their digests, and enter the issue."""
    from workbench.custody.digests import digest_of

    heads = case.heads
    moved = replace(
        edition,
        file=f"{ISSUED_FOLDER}/{edition.ref}.docx",
        sha256=digest_of(document),
        pdf=f"{ISSUED_FOLDER}/{edition.ref}.pdf" if pdf else "",
        pdf_sha256=digest_of(pdf) if pdf else "",
        journal_head=str(heads.journal),
        ledger_head=str(heads.ledger),
    )
    files = [FileToKeep(moved.file, document)] + ([FileToKeep(moved.pdf, pdf)] if pdf else [])
    case.do(Enter(moved, f"issued report {moved.ref}", tuple(files)))
    put_out(case, moved)
    return moved


def put_out(case: Case, edition: Edition) -> tuple[Path, ...]:
    """Put the kept bytes of an edition into the folder of issued reports; return the files."""
    folder = case.folder / ISSUED_FOLDER
    folder.mkdir(exist_ok=True)
    made = []
    for name in filter(None, (edition.file, edition.pdf)):
        kept, target = case.original(name), folder / Path(name).name
        if kept is None:
            raise NotIssuableError(f"{name} is not among the originals of the case")
        if not target.exists():
            with tempfile.TemporaryDirectory(dir=folder) as half:
                copy = Path(shutil.copyfile(kept, Path(half) / target.name))
                copy.chmod(0o444)
                copy.replace(target)
        made.append(target)
    return tuple(made)


def edited_outside(case: Case) -> tuple[str, ...]:
    """Return what in the folder of issued reports differs from what was issued, in sentences."""
    from workbench.custody.digests import digest_of

    wrong = []
    for edition in case.dossier.all(Edition):
        for name, digest in ((edition.file, edition.sha256), (edition.pdf, edition.pdf_sha256)):
            path = case.folder / ISSUED_FOLDER / Path(name).name
            if name and path.is_file() and digest_of(path) != digest:
                wrong.append(
                    f"{path.name} was edited outside the case; the bytes issued are kept, and an "
                    "edit becomes a new edition"
                )
    return tuple(wrong)


def _now(case: Case) -> When:
    moment = datetime.now(UTC).astimezone(case.dossier.zone)
    return When(moment.isoformat(" ", "minutes"))


# -- what changed after an issue


_OF_THE_REPORT = frozenset(("edition",))


def amendments_since(case: Case, edition: Edition) -> "tuple[Amendment, ...]":
    """Return what changed in the records since an edition was issued, first to last.

    What was changed and changed back is no amendment.
    """
    touched = _touched(case, _entries_behind(edition))
    found = []
    for (noun, record_id), (before, whys) in touched.items():
        record = case.dossier.with_id(BY_NOUN[noun], record_id)
        if record is not None:
            found += _amended(record, before, "; ".join(dict.fromkeys(filter(None, whys))))
    return tuple(found)


def as_issued(case: Case, edition: Edition) -> Dossier:
    """Return the records as they were when an edition was issued.

    Exhibits are as they are now: they are listed and offered after a report, too. An edition
    that is only in hand is none of them.
    """
    from workbench.casefile.converting import plain, record_of

    touched = _touched(case, _entries_behind(edition))
    held: list[Record] = []
    for record in case.dossier.everything(withdrawn=True):
        if isinstance(record, Edition) and record.state is not EditionState.ISSUED:
            continue
        before, _ = touched.get((record.noun, record.id), (_AS_IT_IS, []))
        if before is _AS_IT_IS or isinstance(record, Exhibit):
            held.append(record)
        elif before is not None:
            held.append(record_of(type(record), {**plain(record), **before}))
    return Dossier(held)


def journal_as_issued(case: Case, edition: Edition) -> "tuple[JournalEntry, ...]":
    """Return the lines of the journal up to the issue of an edition, that line with them."""
    return case.journal()[: _entries_behind(edition) + 1]


def journal_told(
    case: Case, entries: "Iterable[JournalEntry]"
) -> "tuple[tuple[JournalEntry, str, str], ...]":
    """Return journal entries with what may be told of each, and why it was done.

    What was done to a privileged note and to the words of a draft is not told; the entry keeps
    its number and its hash, so that the chain can still be followed.
    """
    notes = case.dossier.all(Instruction, withdrawn=True)
    secret = {one.id for one in notes if one.kind is InstructionKind.PRIVILEGED}
    told = []
    for entry in entries:
        nouns = {change.noun for change in entry.changes}
        if any(change.id in secret for change in entry.changes):
            told.append((entry, "an entry on a privileged note", ""))
        elif nouns == {EditedText.noun}:
            told.append((entry, "an entry on the words of a draft", ""))
        else:
            told.append((entry, entry.what, entry.why))
    return tuple(told)


def _entries_behind(edition: Edition) -> int:
    return int(edition.journal_head.rpartition(":")[2] or 0)


Before = Mapping[str, "Plain"] | None
_AS_IT_IS: Before = {}


def _touched(case: Case, count: int) -> dict[tuple[str, str], tuple[Before, list[str]]]:
    """Return each record changed after entry `count`, as it was, and the reasons given."""
    touched: dict[tuple[str, str], tuple[Before, list[str]]] = {}
    for entry in case.journal()[count:]:
        for change in entry.changes:
            if change.noun in _OF_THE_REPORT:
                continue
            key = (change.noun, change.id)
            before, whys = touched.setdefault(key, (change.before, []))
            if before is not None and change.before:
                touched[key] = ({**change.before, **before}, whys)
            whys.append(entry.why or ("" if change.before else entry.what))
    return touched


def _amended(record: Record, before: Before, why: str) -> "list[Amendment]":
    from workbench.report.given import Amendment

    kind = type(record)
    name = f"{kind.title} {record.label}"
    if before is None:
        if record.withdrawn:
            return []
        return [Amendment(name, "", "added", why, record.source)]
    found = []
    headings = {info.name: info.column.heading for info in fields_of(kind)}
    for field, was in before.items():
        if field == "withdrawn":
            old, new = ("withdrawn", "in use") if was else ("in use", "withdrawn")
            if bool(was) != bool(record.withdrawn):
                found.append(Amendment(name, old, new, record.withdrawn or why, record.source))
        elif field in headings and _told(was) != _told(getattr(record, field)):
            old, new = _told(was), _told(getattr(record, field))
            where = f"{name}: {headings[field]}"
            found.append(Amendment(where, old, new, why, record.source))
    return found


def _told(value: object) -> str:
    return "" if value is None else str(value)
