"""Giving samples and their records to another place."""

import json
from collections.abc import Callable, Iterable, Sequence
from datetime import datetime
from pathlib import Path

from workbench.desk.acts import Add
from workbench.desk.case import Case
from workbench.desk.custody_papers import chosen
from workbench.desk.handing_over.parcel import FORMAT, ledger_text, links_from, records_text
from workbench.exchange.bag import write_bag
from workbench.records import (
    Area,
    CaseEntry,
    Coat,
    DestructiveStep,
    Discrepancy,
    Dossier,
    HandOver,
    KnownError,
    LabResult,
    Location,
    Party,
    Photo,
    Record,
    Refs,
    Sample,
    SampleCare,
    Shipment,
    When,
)
from workbench.records.codes import Direction

Step = Callable[[int, int], None]
_GENERAL = frozenset({"reference", "title", "site", "object", "time zone", "units"})
"""What is said of the case as a whole that goes along; never the questions put."""


def give(
    case: Case,
    folder: Path,
    *,
    party: str,
    refs: Sequence[str] = (),
    at: datetime,
    step: Step = lambda _done, _whole: None,
) -> HandOver:
    """Write a hand-over into the bag `folder`, record that it went out, and return that record.

    Args:
        case: The case; it keeps the head of its ledger at this moment.
        folder: The bag; it must not be there yet.
        party: Who gets it.
        refs: Samples; all where none is named.
        at: When, aware.
        step: Told after each file; may raise to stop.

    Raises:
        KnownError: There is no such sample, or the bag cannot be written.
    """
    if not party.strip():
        raise KnownError("say who gets the hand-over")
    dossier = case.dossier
    samples = _with_parts(dossier, chosen(dossier, refs))
    records = tuple(travelling(dossier, samples))
    links = links_from(case.ledger())
    about = {
        "format": FORMAT, "sender": case.author, "case": dossier.entry("reference"),
        "sent": at.isoformat(timespec="seconds"), "samples": [one.ref for one in samples],
    }  # fmt: skip
    payload: dict[str, Path | bytes] = {
        "hand-over.json": json.dumps(about, ensure_ascii=False, indent=1).encode("utf-8"),
        "records.jsonl": records_text(records),
        "ledger.jsonl": ledger_text(links),
    }
    payload |= {f"originals/{name}": path for name, path in _files(case, records)}
    head = str(case.heads.ledger)
    info = (
        ("Source-Organization", case.author),
        ("External-Identifier", dossier.entry("reference") or "case without reference"),
        ("External-Description", f"Hand-over of {len(samples)} samples to {party}"),
        ("Bagging-Date", at.date().isoformat()),
        ("Custody-Ledger-Head", head),
    )
    write_bag(folder, payload, info, step)
    return _record(case, party, samples, at, head)


def _record(case: Case, party: str, samples: Sequence[Sample], at: datetime, head: str) -> HandOver:
    number = len(case.dossier.all(HandOver, withdrawn=True)) + 1
    went = HandOver(
        ref=f"H-{number:02}",
        direction=Direction.OUT,
        party=party,
        when=When(at.isoformat(" ", "seconds")),
        samples=Refs(tuple(one.ref for one in samples)),
        our_ledger=head,
    )
    case.do(Add((went,)))
    return went


def _with_parts(dossier: Dossier, samples: Iterable[Sample]) -> tuple[Sample, ...]:
    """Return samples with all that was made from them."""
    taken = {one.ref for one in samples}
    grown = True
    while grown:
        parts = {one.ref for one in dossier.all(Sample) if one.parent in taken} - taken
        grown = bool(parts)
        taken |= parts
    return tuple(one for one in dossier.all(Sample) if one.ref in taken)


def travelling(dossier: Dossier, samples: Sequence[Sample]) -> Iterable[Record]:
    """Yield the records that go with samples: what they are, where they come from, how kept."""
    refs = {one.ref for one in samples}
    yield from (one for one in dossier.all(CaseEntry) if one.key in _GENERAL)
    yield from dossier.all(Party)
    yield from dossier.all(Coat)
    places = {one.at for one in samples if one.at}
    locations = [one for one in dossier.all(Location) if one.ref in places]
    areas = places | {one.area for one in locations}
    yield from _with_surroundings(dossier, areas)
    yield from locations
    yield from samples
    yield from (one for one in dossier.all(SampleCare) if one.sample in refs)
    yield from (one for one in dossier.all(DestructiveStep) if one.sample in refs)
    yield from (one for one in dossier.all(LabResult) if one.sample in refs)
    yield from (one for one in dossier.all(Discrepancy) if refs & set(one.samples))
    yield from (one for one in dossier.all(Shipment) if refs & set(one.samples))
    yield from (one for one in dossier.all(Photo) if one.at in refs)


def _with_surroundings(dossier: Dossier, refs: set[str]) -> Iterable[Area]:
    wanted = set(refs)
    for _ in dossier.all(Area):
        wanted |= {one.within for one in dossier.all(Area) if one.ref in wanted and one.within}
    yield from (one for one in dossier.all(Area) if one.ref in wanted)


def _files(case: Case, records: Iterable[Record]) -> Iterable[tuple[str, Path]]:
    names = (one.file for one in records if isinstance(one, Photo | LabResult) and one.file)
    for name in dict.fromkeys(names):
        path = case.original(name)
        if path is not None:
            yield name, path
