"""Taking in what another place did: both chains checked, contradictions refused."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from workbench.casefile import FileToKeep
from workbench.custody.breach import Breach
from workbench.custody.rules import breaches
from workbench.desk.acts.act import ActRefusedError, Plan, adding
from workbench.desk.acts.keep import refuse_missing
from workbench.desk.case import Case
from workbench.desk.handing_over.parcel import Parcel, parcel_in
from workbench.exchange.bag import read_bag
from workbench.records import CustodyEntry, Dossier, HandOver, Record, Refs, When, fields_of
from workbench.records.codes import Direction

Step = Callable[[int, int], None]


@dataclass(frozen=True, slots=True)
class Joining:
    """What joining a hand-over would do.

    Attributes:
        parcel: What came.
        theirs: Custody entries made there that are not in this case.
        ours: Custody entries of these samples made here that they did not have.
        added: Records made there.
        same: How many records are the same on both sides.
        differing: Records that differ, ours beside theirs; ours stays.
        contradictions: Breaches of custody that would arise; with any the joining is refused.
        files: Originals that came and are not kept here yet.
    """

    parcel: Parcel
    theirs: tuple[CustodyEntry, ...]
    ours: tuple[CustodyEntry, ...]
    added: tuple[Record, ...]
    same: int
    differing: tuple[tuple[Record, Record], ...]
    contradictions: tuple[Breach, ...]
    files: tuple[FileToKeep, ...]


def read_hand_over(case: Case, folder: Path, step: Step = lambda _done, _whole: None) -> Joining:
    """Return what joining the hand-over in `folder` would do to `case`; nothing is changed.

    Args:
        case: The case.
        folder: The bag that came.
        step: Told after each file; may raise to stop.

    Raises:
        KnownError: It is no bag, was changed, holds no hand-over, or belongs to another case.
    """
    return joining_of(case, parcel_in(read_bag(folder, step)))


def joining_of(case: Case, parcel: Parcel) -> Joining:
    """Return what joining a hand-over would do to a case.

    Raises:
        ActRefusedError: It belongs to another case.
    """
    dossier = case.dossier
    reference = dossier.entry("reference")
    if reference and parcel.case and reference != parcel.case:
        right = (
            f"join it to the case of reference {parcel.case}, or to a new one with that reference"
        )
        raise ActRefusedError(
            f"the hand-over is of case {parcel.case}, this one is {reference}; {right}"
        )
    known = {one.id for one in dossier.everything(withdrawn=True)}
    about = set(parcel.samples) | {one.label for one in parcel.records if one.noun == "sample"}
    theirs = tuple(one for one in parcel.entries if one.id not in known and one.sample in about)
    sent = {one.id for one in parcel.entries}
    ours = tuple(
        one for one in dossier.all(CustodyEntry) if one.sample in about and one.id not in sent
    )
    added, same, differing = _sorted(dossier, parcel)
    return Joining(
        parcel, theirs, ours, added, same, differing,
        _contradictions(dossier, (*added, *theirs)), _files(case, parcel),
    )  # fmt: skip


def _sorted(
    dossier: Dossier, parcel: Parcel
) -> tuple[tuple[Record, ...], int, tuple[tuple[Record, Record], ...]]:
    added: list[Record] = []
    differing: list[tuple[Record, Record]] = []
    same = 0
    for record in parcel.records:
        held = dossier.with_id(type(record), record.id) or dossier.find(type(record), record.label)
        if held is None:
            added.append(record)
        elif _said(held) == _said(record):
            same += 1
        else:
            differing.append((held, record))
    return tuple(added), same, tuple(differing)


def _said(record: Record) -> tuple[object, ...]:
    return tuple(getattr(record, info.name) for info in fields_of(type(record)))


def _contradictions(dossier: Dossier, fresh: tuple[Record, ...]) -> tuple[Breach, ...]:
    before = {(one.rule, one.sample, one.words) for one in breaches(dossier)}
    after = breaches(dossier.with_records(fresh))
    return tuple(
        one for one in after if one.grave and (one.rule, one.sample, one.words) not in before
    )


def _files(case: Case, parcel: Parcel) -> tuple[FileToKeep, ...]:
    return tuple(
        FileToKeep(name, path)
        for name, path in parcel.files.items()
        if (held := case.original(name)) is None or held.read_bytes() != path.read_bytes()
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Join:
    """A hand-over joined to the case. What stands in the custody ledger may not be undone.

    Attributes:
        joining: What was read.
        at: When, aware.
        our_ledger: Head of our ledger before.
        why: The reason given.
    """

    joining: Joining
    at: datetime
    our_ledger: str
    why: str = ""

    def plan(self, dossier: Dossier) -> Plan:
        """Return what the act does.

        Raises:
            ActRefusedError: It contradicts what is here, or brings nothing new.
        """
        found = self.joining
        if found.contradictions:
            raise ActRefusedError(f"it contradicts this case: {found.contradictions[0]}")
        if not (found.theirs or found.added or found.files):
            raise ActRefusedError("there is nothing new in the hand-over")
        refuse_missing(found.files)
        came = f"hand-over of {found.parcel.sender}, sent {found.parcel.sent}"
        fresh = tuple(replace(one, origin=one.origin or came) for one in found.added)
        entries = tuple(replace(one, origin=one.origin or came) for one in found.theirs)
        changes = adding((*fresh, *entries, self._record(dossier)), dossier)
        what = (
            f"joined the hand-over of {found.parcel.sender}: "
            f"{CustodyEntry.counted(len(entries))}, {len(fresh)} other records"
        )
        return Plan(what=what, changes=changes, keep=found.files, final=True)

    def _record(self, dossier: Dossier) -> HandOver:
        parcel = self.joining.parcel
        number = len(dossier.all(HandOver, withdrawn=True)) + 1
        return HandOver(
            ref=f"H-{number:02}",
            direction=Direction.IN,
            party=parcel.sender,
            when=When(self.at.isoformat(" ", "seconds")),
            samples=Refs(parcel.samples),
            our_ledger=self.our_ledger,
            their_ledger=str(parcel.head),
        )


def join(case: Case, joining: Joining, *, at: datetime, why: str = "") -> None:
    """Join a hand-over to `case` in one act.

    Raises:
        ActRefusedError: It contradicts the case, or brings nothing new.
    """
    case.do(Join(joining=joining, at=at, our_ledger=str(case.heads.ledger), why=why))
