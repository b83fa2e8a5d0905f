"""The receiving desk: two stages, what must be said, what is raised, one act."""

from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from builders import make

from workbench.custody.rules import breaches
from workbench.custody.story import story_of
from workbench.desk.acts import ActRefusedError, Add, Receive
from workbench.desk.case import Case
from workbench.desk.receiving import (
    DeliveryMode,
    ItemCheck,
    OuterCondition,
    OutsideCheck,
    Papers,
    Reception,
    ScanKind,
    announced,
    read_scan,
    received_records,
)
from workbench.records import (
    CaseEntry,
    CustodyEntry,
    Discrepancy,
    Dossier,
    Party,
    Photo,
    Record,
    Sample,
    SampleCare,
    Shipment,
)
from workbench.records.codes import CustodyEvent, DiscrepancyKind, SealCondition, YesNo

AT = datetime(2026, 3, 3, 9, 0, tzinfo=UTC)
OUTSIDE = OutsideCheck(
    mode=DeliveryMode.CARRIER, by="Van", number="551-208", condition=OuterCondition.SOUND,
    papers=Papers.COMPLETE, seal="77", seal_condition=SealCondition.INTACT, containers=1,
)  # fmt: skip
ITEM = ItemCheck(
    sample="S-01", label_legible=YesNo.YES, label_agrees=YesNo.YES, container_whole=YesNo.YES,
    leaking=YesNo.NO, seal="11", seal_condition=SealCondition.INTACT, condition="dry",
    place="Cabinet 3",
)  # fmt: skip


def on_its_way(*refs: str) -> list[Record]:
    records: list[Record] = [
        make(CaseEntry, key="reference", value="CF-7"),
        make(Party, name="Ann", role="investigator"),
        make(Party, name="Lab", role="laboratory"),
        make(Shipment, ref="C1", samples="; ".join(refs), sent="2026-03-02 08:00", carrier="Van",
             number="551-208", seal="77", containers_sent=1),
    ]  # fmt: skip
    for number, ref in enumerate(refs, 11):
        said = {"sample": ref, "seal": str(number)}
        records += [
            make(Sample, ref=ref),
            make(CustodyEntry, **said, when="2026-03-01 09:00", event="collected", receiver="Ann"),
            make(CustodyEntry, **said, when="2026-03-01 09:05", event="sealed", giver="Ann",
                 receiver="Ann"),
            make(CustodyEntry, **said, when="2026-03-02 08:00", event="dispatched", giver="Ann",
                 receiver="Van", carrier="Van"),
        ]  # fmt: skip
    return records


def held() -> Dossier:
    return Dossier(on_its_way("S-01", "S-02"))


def finished(item: ItemCheck = ITEM, outside: OutsideCheck = OUTSIDE) -> list[Record]:
    reception = Reception(outside).with_item(item)
    return list(received_records(held(), reception, receiver="Lab", at=AT))


def kinds(records: list[Record]) -> list[DiscrepancyKind]:
    return [one.kind for one in records if isinstance(one, Discrepancy)]


def test_what_was_sent_is_announced() -> None:
    assert [story.sample.ref for story in announced(held())] == ["S-01", "S-02"]


def test_items_cannot_be_looked_at_before_the_outside_is_done() -> None:
    with pytest.raises(ValueError, match="outside first: how it came"):
        Reception().with_item(ITEM)
    half = replace(OUTSIDE, number="")
    with pytest.raises(ValueError, match="consignment number"):
        Reception(half).with_item(ITEM)
    by_hand = replace(half, mode=DeliveryMode.PERSON)
    assert Reception(by_hand).with_item(ITEM).item("S-01") == ITEM


def test_an_item_scanned_again_keeps_its_place() -> None:
    other = replace(ITEM, sample="S-02")
    twice = Reception(OUTSIDE).with_item(ITEM).with_item(other)
    again = twice.with_item(replace(ITEM, condition="damp"))
    assert [one.sample for one in again.items] == ["S-01", "S-02"]
    assert again.items[0].condition == "damp"


@pytest.mark.parametrize(
    ("field", "blank"),
    [
        ("label_legible", None), ("label_agrees", None), ("container_whole", None),
        ("leaking", None), ("seal_condition", None), ("condition", ""), ("place", ""),
    ],
)  # fmt: skip
def test_a_receipt_without_a_required_word_is_not_finished(field: str, blank: Any) -> None:
    item = replace(ITEM, **{field: blank})
    with pytest.raises(ValueError, match="still to be said: S-01"):
        finished(item)


def test_a_receipt_in_order_leaves_an_unbroken_chain_and_no_discrepancy() -> None:
    records = finished()
    assert kinds(records) == []
    after = Dossier([*held().everything(), *records])
    told = [one for one in breaches(after, now=AT) if one.sample == "S-01"]
    assert told == []
    (sample,) = (one for one in after.all(Sample) if one.ref == "S-01")
    now = story_of(after, sample).now
    assert now is not None
    assert (now.holder, now.place, now.in_laboratory) == ("Lab", "Cabinet 3", True)


def test_every_item_gets_its_own_entries_with_the_zone_of_the_clock() -> None:
    entries = [one for one in finished() if isinstance(one, CustodyEntry)]
    assert [one.event for one in entries] == [CustodyEvent.RECEIVED, CustodyEvent.STORED]
    assert str(entries[0].when) == "2026-03-03 09:00:00+00:00"
    assert entries[0].note == "551-208"


@pytest.mark.parametrize(
    ("item", "kind"),
    [
        (replace(ITEM, label_agrees=YesNo.NO), DiscrepancyKind.LABEL_DIFFERS),
        (replace(ITEM, label_legible=YesNo.NO), DiscrepancyKind.LABEL_DIFFERS),
        (replace(ITEM, container_whole=YesNo.NO), DiscrepancyKind.DAMAGED),
        (replace(ITEM, leaking=YesNo.YES), DiscrepancyKind.LEAKING),
        (replace(ITEM, seal_condition=SealCondition.BROKEN), DiscrepancyKind.SEAL_BROKEN),
        (replace(ITEM, seal="99"), DiscrepancyKind.SEAL_NUMBER_DIFFERS),
        (replace(ITEM, seal=""), DiscrepancyKind.SEAL_ABSENT),
        (replace(ITEM, sample="S-09"), DiscrepancyKind.NOT_ANNOUNCED),
    ],
)
def test_what_does_not_agree_raises_a_discrepancy(item: ItemCheck, kind: DiscrepancyKind) -> None:
    assert kinds(finished(item)) == [kind]


@pytest.mark.parametrize(
    ("outside", "kind"),
    [
        (replace(OUTSIDE, papers=Papers.MISSING), DiscrepancyKind.PAPERS_MISSING),
        (replace(OUTSIDE, papers=Papers.INCOMPLETE), DiscrepancyKind.PAPERS_INCOMPLETE),
        (replace(OUTSIDE, condition=OuterCondition.WET), DiscrepancyKind.DAMAGED),
        (replace(OUTSIDE, seal_condition=SealCondition.BROKEN), DiscrepancyKind.SEAL_BROKEN),
        (replace(OUTSIDE, containers=2), DiscrepancyKind.COUNT_DIFFERS),
    ],
)
def test_what_is_wrong_outside_is_raised_too(outside: OutsideCheck, kind: DiscrepancyKind) -> None:
    assert kinds(finished(outside=outside)) == [kind]


def test_discrepancies_are_numbered_without_a_gap() -> None:
    item = replace(ITEM, leaking=YesNo.YES, label_agrees=YesNo.NO)
    refs = [one.ref for one in finished(item) if isinstance(one, Discrepancy)]
    assert refs == ["D-01", "D-02"]


def test_hazards_and_photographs_become_records() -> None:
    records = finished(replace(ITEM, hazards="lead", photo="photos/s01.jpg"))
    assert [one.hazards for one in records if isinstance(one, SampleCare)] == ["lead"]
    assert [one.at for one in records if isinstance(one, Photo)] == ["S-01"]


def test_the_act_receives_all_or_nothing_and_may_not_be_undone(tmp_path: Path) -> None:
    with Case.create(tmp_path / "a.case", author="Bo") as case:
        case.do(Add(tuple(on_its_way("S-01", "S-02"))))
        unfinished = Reception(OUTSIDE).with_item(replace(ITEM, place=""))
        with pytest.raises(ActRefusedError, match="place of storage"):
            case.do(Receive(reception=unfinished, receiver="Lab", at=AT))
        assert len(case.dossier.all(CustodyEntry)) == 6
        entry = case.do(
            Receive(reception=Reception(OUTSIDE).with_item(ITEM), receiver="Lab", at=AT)
        )
        assert entry.what == "received S-01"
        assert [one.received is not None for one in case.dossier.all(Shipment)] == [True]
        with pytest.raises(ActRefusedError):
            case.undo()


@pytest.mark.parametrize(
    ("text", "kind", "refs"),
    [
        ("S01", ScanKind.SAMPLE, ("S-01",)),
        ("s01\r", ScanKind.SAMPLE, ("S-01",)),
        ("CF7S02", ScanKind.SAMPLE, ("S-02",)),
        ("4006381333931", ScanKind.OTHER_CASE, ()),
        ("XYZ", ScanKind.UNKNOWN, ()),
        (" \r\n", ScanKind.NOTHING, ()),
    ],
)
def test_a_scan_is_told_apart(text: str, kind: ScanKind, refs: tuple[str, ...]) -> None:
    found = read_scan(held(), text)
    assert (found.kind, found.refs) == (kind, refs)
    assert found.words


def test_codes_that_look_alike_and_void_samples_are_told() -> None:
    void = make(Sample, ref="S-03", withdrawn="number skipped by mistake")
    more = Dossier([*on_its_way("S-01", "S-0/1"), void])
    assert read_scan(more, "S01").kind is ScanKind.SEVERAL
    assert "void" in read_scan(more, "S03").words
