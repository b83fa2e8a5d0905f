"""Two places on one case: out in a bag, work there, back in a bag, joined or refused."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest
from builders import make

from workbench.custody.rules import breaches
from workbench.desk.acts import ActRefusedError, Add, FileToKeep, Keep
from workbench.desk.case import Case
from workbench.desk.handing_over import give, join, read_hand_over
from workbench.records import (
    Area,
    CaseEntry,
    CustodyEntry,
    HandOver,
    KnownError,
    LabResult,
    Location,
    Party,
    Photo,
    Record,
    Sample,
)

AT = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)


def entry(when: str, event: str, giver: str, receiver: str, ref: str = "S-01") -> CustodyEntry:
    return make(CustodyEntry, sample=ref, when=when, event=event, giver=giver, receiver=receiver)


def basis() -> list[Record]:
    return [
        make(CaseEntry, key="reference", value="CF-7"),
        make(CaseEntry, key="question 1", value="Who is to blame?"),
        make(Party, name="Lab", role="laboratory"),
        make(Area, ref="hall", name="Hall"),
        make(Area, ref="bay", name="Bay", within="hall"),
        make(Area, ref="yard", name="Yard"),
        make(Location, ref="L1", area="bay"),
        make(Sample, ref="S-01", at="L1"),
        make(Sample, ref="S-02", at="yard"),
        make(Photo, file="photos/s.jpg", at="S-01"),
        entry("2026-03-01 09:00", "collected", "", "Ann"),
        entry("2026-03-01 10:00", "collected", "", "Ann", "S-02"),
        entry("2026-03-02 07:00", "dispatched", "Ann", "Van"),
    ]


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Case]:
    with Case.create(tmp_path / "desk.case", author="Ann") as case:
        case.do(Add(tuple(basis())))
        case.do(Keep((FileToKeep("photos/s.jpg", b"picture"),)))
        yield case


@pytest.fixture
def laboratory(tmp_path: Path, desk: Case) -> Iterator[Case]:
    give(desk, tmp_path / "out", party="Lab", refs=["S-01"], at=AT)
    with Case.create(tmp_path / "lab.case", author="Lab") as case:
        join(case, read_hand_over(case, tmp_path / "out"), at=AT)
        yield case


def work(laboratory: Case) -> None:
    laboratory.do(
        Add(
            (
                entry("2026-03-03 09:00", "received", "Van", "Lab"),
                entry("2026-03-04 09:00", "tested", "Lab", "Lab"),
                make(Sample, ref="S-01/1", parent="S-01", kind="section"),
                entry("2026-03-04 10:00", "collected", "", "Lab", "S-01/1"),
                make(LabResult, ref="LR-1", sample="S-01"),
            )
        )
    )


def test_what_travels_is_the_sample_with_its_place_and_ledger_and_no_question(
    laboratory: Case,
) -> None:
    there = laboratory.dossier
    assert [one.ref for one in there.all(Sample)] == ["S-01"]
    assert {one.ref for one in there.all(Area)} == {"bay", "hall"}
    assert there.entry("question 1") == ""
    assert [one.event.value for one in there.all(CustodyEntry)] == ["collected", "dispatched"]
    assert laboratory.original("photos/s.jpg") is not None


def test_both_sides_record_the_hand_over_with_the_head_of_the_ledger(
    desk: Case, laboratory: Case
) -> None:
    (went,) = desk.dossier.all(HandOver)
    (came,) = laboratory.dossier.all(HandOver)
    assert (went.ref, went.direction.value, went.party) == ("H-01", "out", "Lab")
    assert came.direction.value == "in"
    assert came.their_ledger == went.our_ledger == str(desk.heads.ledger)


def test_what_was_done_there_comes_back_in_one_act(
    desk: Case, laboratory: Case, tmp_path: Path
) -> None:
    work(laboratory)
    give(laboratory, tmp_path / "back", party="Ann", at=AT)
    found = read_hand_over(desk, tmp_path / "back")
    assert len(found.theirs) == 3
    assert {one.label for one in found.added} == {"S-01/1", "LR-1"}
    assert found.contradictions == ()
    join(desk, found, at=AT)
    assert [one.label for one in desk.dossier.all(LabResult)] == ["LR-1"]
    assert not [one for one in breaches(desk.dossier) if one.grave and one.sample == "S-01"]
    assert desk.journal()[-1].what.startswith("joined the hand-over of Lab")
    assert desk.verify().unchanged
    with pytest.raises(ActRefusedError, match="nothing new"):
        join(desk, read_hand_over(desk, tmp_path / "back"), at=AT)


def test_what_contradicts_is_refused_and_named(
    desk: Case, laboratory: Case, tmp_path: Path
) -> None:
    work(laboratory)
    give(laboratory, tmp_path / "back", party="Ann", at=AT)
    desk.do(Add((entry("2026-03-02 18:00", "returned", "Van", "Ann"),)))
    found = read_hand_over(desk, tmp_path / "back")
    assert len(found.ours) == 1
    assert found.contradictions
    before = len(desk.journal())
    with pytest.raises(ActRefusedError, match="contradicts"):
        join(desk, found, at=AT)
    assert len(desk.journal()) == before


def test_a_record_changed_on_both_sides_is_shown_and_ours_stays(
    desk: Case, laboratory: Case, tmp_path: Path
) -> None:
    work(laboratory)
    give(laboratory, tmp_path / "back", party="Ann", at=AT)
    from workbench.desk.acts import Change

    (sample, _) = desk.dossier.all(Sample)
    desk.do(Change(replace(sample, note="cut at the edge")))
    found = read_hand_over(desk, tmp_path / "back")
    assert [ours.label for ours, _ in found.differing] == ["S-01"]
    join(desk, found, at=AT)
    assert desk.dossier.all(Sample)[0].note == "cut at the edge"


def test_a_changed_bag_a_broken_ledger_and_another_case_are_refused(
    desk: Case, tmp_path: Path
) -> None:
    give(desk, tmp_path / "out", party="Lab", at=AT)
    with Case.create(tmp_path / "other.case", author="Lab") as other:
        other.do(Add((make(CaseEntry, key="reference", value="CF-8"),)))
        with pytest.raises(KnownError, match="case CF-7"):
            read_hand_over(other, tmp_path / "out")
        ledger = tmp_path / "out" / "data" / "ledger.jsonl"
        ledger.write_bytes(ledger.read_bytes().replace(b"Van", b"Vin"))
        with pytest.raises(KnownError, match="changed or is not complete"):
            read_hand_over(other, tmp_path / "out")


def test_a_hand_over_to_nobody_or_of_nothing_is_refused(desk: Case, tmp_path: Path) -> None:
    with pytest.raises(KnownError, match="who gets"):
        give(desk, tmp_path / "out", party=" ", at=AT)
    with pytest.raises(KnownError, match="no sample"):
        give(desk, tmp_path / "out", party="Lab", refs=["S-99"], at=AT)
    assert not (tmp_path / "out").exists()
