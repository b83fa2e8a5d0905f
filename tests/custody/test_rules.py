"""Custody rules: a story in order has no breach, and each breach is told with what to do."""

from datetime import UTC, datetime

import pytest
from builders import make

from workbench.custody.amounts import balance_of
from workbench.custody.rules import breaches
from workbench.custody.story import story_of
from workbench.records import (
    CustodyEntry,
    DestructiveStep,
    Discrepancy,
    Dossier,
    LabResult,
    Party,
    Record,
    Sample,
    SampleCare,
    Shipment,
)
from workbench.records.codes import CustodyState

NOW = datetime(2026, 6, 1, tzinfo=UTC)
PARTIES = (
    make(Party, name="Ann", role="investigator"),
    make(Party, name="Van", role="carrier"),
    make(Party, name="Lab", role="laboratory"),
)
IN_ORDER = (
    "03-01 09:00 collected - Ann",
    "03-01 09:05 sealed Ann Ann 11",
    "03-02 08:00 dispatched Ann Van 11",
    "03-03 09:00 received Van Lab 11",
    "03-04 09:00 opened Lab Bo 11",
    "03-04 10:00 tested Bo Bo",
    "03-04 11:00 sealed Bo Bo 12",
    "03-04 12:00 stored Bo Lab 12",
)


def entries(*lines: str, sample: str = "S1") -> list[Record]:
    found: list[Record] = []
    for line in lines:
        day, time, event, giver, receiver, *seal = line.split()
        found.append(
            make(
                CustodyEntry, sample=sample, when=f"2026-{day} {time}", event=event,
                giver=giver.strip("-"), receiver=receiver.strip("-"), seal=" ".join(seal),
                place="there", condition="dry", seal_condition="intact",
            )
        )  # fmt: skip
    return found


def a_case(*lines: str, more: tuple[Record, ...] = (), **sample: str) -> Dossier:
    return Dossier([make(Sample, ref="S1", **sample), *PARTIES, *entries(*lines), *more])


def rules(held: Dossier) -> list[str]:
    return [breach.rule for breach in breaches(held, now=NOW)]


def without(index: int) -> tuple[str, ...]:
    return IN_ORDER[:index] + IN_ORDER[index + 1 :]


def swapped(index: int, line: str) -> tuple[str, ...]:
    return (*IN_ORDER[:index], line, *IN_ORDER[index + 1 :])


def test_a_story_in_order_has_no_breach() -> None:
    assert breaches(a_case(*IN_ORDER), now=NOW) == ()


def test_a_sample_nobody_wrote_about_is_told() -> None:
    assert rules(a_case()) == ["somebody holds it"]


@pytest.mark.parametrize(
    ("lines", "rule"),
    [
        (without(0), "it begins with collection or receipt"),
        (without(2), "the giver holds it"),
        (without(4), "a seal is broken before work"),
        (swapped(4, "03-04 09:00 opened Lab Bo 99"), "opening names the seal broken"),
        (swapped(3, "03-03 09:00 received Van Lab 10"), "the seal received is the seal sent"),
        (swapped(2, "03-02 08:00 handed_over Ann Ann 11"), "giver and receiver differ"),
        (swapped(2, "03-02 08:00 handed_over Ann - 11"), "a transfer has two parties"),
        ((*IN_ORDER, "03-05 09:00 disposed Lab -", "03-06 09:00 stored Lab Lab"),
         "nothing follows the end"),
        ((*IN_ORDER, "07-01 09:00 stored Lab Lab 12"), "no entry lies in the future"),
        ((*IN_ORDER[:2], "03-02 09:00 opened Ann Ann 11", "03-02 10:00 tested Ann Ann"),
         "tested only while a laboratory holds it"),
    ],
)  # fmt: skip
def test_each_breach_is_told_by_its_rule(lines: tuple[str, ...], rule: str) -> None:
    told = breaches(a_case(*lines), now=NOW)
    assert rule in [one.rule for one in told]
    found = next(one for one in told if one.rule == rule)
    assert found.sources
    assert found.words
    assert found.remedy


@pytest.mark.parametrize(
    ("taken", "told"),
    [
        ("2026-03-01 08:50", []),
        ("2026-03", []),
        ("2026-02-27 09:00", ["it was collected when it was taken"]),
        ("2026-03-05", ["it was collected when it was taken"]),
    ],
)
def test_collection_is_on_the_day_the_sample_was_taken(taken: str, told: list[str]) -> None:
    assert rules(a_case(*IN_ORDER, taken=taken)) == told


@pytest.mark.parametrize(
    ("seal", "told"),
    [("7", []), ("", []), ("9", ["it bears the seal it was given"])],
)
def test_the_seal_of_the_sample_is_that_of_its_collection(seal: str, told: list[str]) -> None:
    lines = ("03-01 09:00 collected - Ann 7", *IN_ORDER[1:])
    assert rules(a_case(*lines, seal=seal)) == told


def test_one_transfer_left_out_makes_exactly_one_gap() -> None:
    held = a_case(*without(2))
    sample = held.all(Sample)[0]
    gaps = [span for span in story_of(held, sample).spans() if span.gap]
    assert len(gaps) == 1
    assert gaps[0].start == datetime(2026, 3, 1, 9, 5, tzinfo=UTC)
    assert gaps[0].end == datetime(2026, 3, 3, 9, 0, tzinfo=UTC)


def test_a_corrected_entry_stays_legible_and_moves_nothing() -> None:
    wrong = entries("03-02 07:00 handed_over Ann Zed")[0]
    right = make(
        CustodyEntry, sample="S1", when="2026-03-02 07:30", event="stored", giver="Ann",
        receiver="Ann", corrects=wrong.id,
    )  # fmt: skip
    held = a_case(*IN_ORDER, more=(wrong, right))
    assert breaches(held, now=NOW) == ()
    story = story_of(held, held.all(Sample)[0])
    assert [old.id for old, _ in story.corrected] == [wrong.id]


def test_a_correction_of_nothing_is_told() -> None:
    stray = make(
        CustodyEntry, sample="S1", when="2026-03-05", event="stored", giver="Lab", receiver="Lab",
        corrects="nowhere",
    )  # fmt: skip
    assert "a correction points at its entry" in rules(a_case(*IN_ORDER, more=(stray,)))


def test_states_of_custody_follow_from_the_entries() -> None:
    held = a_case(*IN_ORDER)
    states = [moment.state for moment in story_of(held, held.all(Sample)[0]).moments]
    assert states[:3] == [
        CustodyState.IN_POSSESSION, CustodyState.SEALED, CustodyState.IN_TRANSIT,
    ]  # fmt: skip
    assert states[5] is CustodyState.IN_POSSESSION
    assert states[-1] is CustodyState.SECURED


def test_parts_and_use_beyond_the_whole_are_told() -> None:
    part = make(Sample, ref="S1/1", parent="S1", amount="12 g")
    more = (part, *entries("03-04 10:30 collected - Bo", sample="S1/1"))
    assert "parts and use do not exceed the whole" in rules(
        a_case(*IN_ORDER, more=more, amount="10 g")
    )
    assert rules(a_case(*IN_ORDER, more=more, amount="12 g")) == []


def test_a_part_of_itself_or_of_nothing_is_told() -> None:
    assert "a part has one whole" in rules(a_case(*IN_ORDER, parent="S9"))
    round_about = make(Sample, ref="S2", parent="S1")
    assert "a part has one whole" in rules(a_case(*IN_ORDER, parent="S2", more=(round_about,)))


def test_cutting_without_leave_is_told_and_a_reason_settles_it() -> None:
    lines = (*IN_ORDER[:5], "03-04 10:00 split Bo Bo")
    told = breaches(a_case(*lines), now=NOW)
    assert [one.rule for one in told] == ["leave is had before cutting"]
    assert not told[0].grave
    reason = make(DestructiveStep, sample="S1", step="cut", override="agreed on site by all")
    assert rules(a_case(*lines, more=(reason,))) == []


def test_work_while_a_discrepancy_is_open_is_told_until_the_client_answers() -> None:
    said = {"ref": "D1", "samples": "S1", "kind": "label_differs", "found": "2026-03-03 09:10"}
    asked = make(Discrepancy, **said, words="label says S2")
    rule = "no work while a discrepancy is open"
    assert rule in rules(a_case(*IN_ORDER, more=(asked,)))
    answered = make(
        Discrepancy, **said, words="label says S2", answer="it is S1, go on", decision="go_on",
        answered_when="2026-03-03 15:00",
    )  # fmt: skip
    assert rules(a_case(*IN_ORDER, more=(answered,))) == []


def test_what_is_under_hold_is_not_disposed_of() -> None:
    hold = make(SampleCare, sample="S1", hold="yes", hold_reason="letter of 2026-03-01")
    lines = (*IN_ORDER, "03-09 09:00 disposed Lab -")
    assert rules(a_case(*lines, more=(hold,))) == ["nothing under hold is disposed of"]
    assert rules(a_case(*lines)) == []


def test_what_was_to_be_kept_is_not_disposed_of_before_its_day() -> None:
    care = make(SampleCare, sample="S1", keep_until="2026-05-01")
    early = (*IN_ORDER, "03-09 09:00 disposed Lab -")
    assert rules(a_case(*early, more=(care,))) == ["nothing is disposed of before its time"]
    late = (*IN_ORDER, "05-02 09:00 disposed Lab -")
    assert rules(a_case(*late, more=(care,))) == []


def test_what_was_to_be_kept_until_a_day_that_is_past_is_asked_about() -> None:
    care = make(SampleCare, sample="S1", keep_until="2026-05-01")
    (told,) = breaches(a_case(*IN_ORDER, more=(care,)), now=NOW)
    assert (told.rule, told.grave) == ("what may go is asked about", False)
    assert "kept until 2026-05-01, which is past" in told.words
    assert breaches(a_case(*IN_ORDER, more=(care,))) == ()
    longer = make(SampleCare, sample="S1", keep_until="2026-06-01")
    held = make(SampleCare, sample="S1", keep_until="2026-05-01", hold="yes", hold_reason="letter")
    for other in (longer, held):
        assert rules(a_case(*IN_ORDER, more=(other,))) == []


def test_shipments_are_checked_for_count_order_seal_and_arrival() -> None:
    sent = {"ref": "C1", "samples": "S1", "sent": "2026-03-02 08:00", "carrier": "Van"}
    whole = {**sent, "number": "551", "seal": "77"}
    assert rules(a_case(*IN_ORDER, more=(make(Shipment, **whole),))) == []
    for said, rule in (
        (sent, "a shipment names carrier, number and seal"),
        (whole | {"expected": "2026-03-05"}, "what is sent arrives"),
        (whole | {"received": "2026-03-01 08:00"}, "sent before received"),
    ):
        assert rule in rules(a_case(*IN_ORDER, more=(make(Shipment, **said),)))
    short = make(Shipment, **whole, containers_sent=5, containers_received=4)
    assert "as many come as were sent" in rules(a_case(*IN_ORDER, more=(short,)))


def test_a_broken_seal_wants_a_discrepancy() -> None:
    found = make(
        CustodyEntry, sample="S1", when="2026-03-05 09:00", event="stored", giver="Lab",
        receiver="Lab", seal="12", seal_condition="broken",
    )  # fmt: skip
    rule = "a seal that is not as sent is a discrepancy"
    assert rule in rules(a_case(*IN_ORDER, more=(found,)))
    raised = entries("03-05 09:10 discrepancy Lab Lab")
    assert rules(a_case(*IN_ORDER, more=(found, *raised))) == []


def test_a_receipt_that_does_not_say_how_it_came_is_told() -> None:
    bare = make(
        CustodyEntry, sample="S1", when="2026-03-03 09:00", event="received", giver="Van",
        receiver="Lab", seal="11",
    )  # fmt: skip
    told = breaches(a_case(*without(3), more=(bare,)), now=NOW)
    assert [(one.rule, one.grave) for one in told] == [("a receipt says how it came", False)]
    assert "condition, state of the seal, place" in told[0].words


def test_a_number_left_out_is_told_and_a_void_sample_keeps_its_number() -> None:
    others = (make(Sample, ref="S3"), *entries("03-01 09:00 collected - Ann", sample="S3"))
    assert rules(a_case(*IN_ORDER, more=others)) == ["numbers run on without a gap"]
    void = make(Sample, ref="S2", withdrawn="bag torn before it was filled")
    assert rules(a_case(*IN_ORDER, more=(*others, void))) == []


def test_what_is_left_of_a_sample_is_told_with_what_cannot_be_counted() -> None:
    part = make(Sample, ref="S1/1", parent="S1", amount="4 g")
    used = make(
        CustodyEntry, sample="S1", when="2026-03-04 10:30", event="tested", giver="Bo",
        receiver="Bo", amount="2 g",
    )  # fmt: skip
    other = make(Sample, ref="S1/2", parent="S1", amount="3 cm2")
    held = a_case(*IN_ORDER, more=(part, used, other), amount="10 g")
    balance = balance_of(held, story_of(held, held.all(Sample)[0]))
    assert balance is not None
    assert (balance.parts, balance.used, balance.left) == (4, 2, 4)
    assert [str(one) for one in balance.apart] == ["3 cm2"]


def test_a_late_entry_is_marked_and_counts() -> None:
    late = make(
        CustodyEntry, sample="S1", when="2026-03-05 09:00", event="stored", giver="Lab",
        receiver="Lab", recorded_at="2026-03-09T09:00:00+00:00",
    )  # fmt: skip
    told = breaches(a_case(*IN_ORDER, more=(late,)), now=NOW)
    assert [(one.rule, one.grave) for one in told] == [("entries are made when it happens", False)]


SENT = ("03-01 09:00 collected - Ann", "03-02 08:00 dispatched Ann Van")


def _unreceived(held: Dossier, now: datetime | None = None) -> list[str]:
    return [one.words for one in breaches(held, now=now) if one.rule == "what is sent is received"]


def test_what_was_sent_and_never_received_is_told_once_it_is_late() -> None:
    assert not _unreceived(a_case(*SENT), datetime(2026, 3, 10, tzinfo=UTC))
    late = _unreceived(a_case(*SENT), NOW)
    assert late == ["“dispatched 2026-03-02 08:00” and never received"]
    assert not _unreceived(a_case(*SENT, "03-03 09:00 received Van Lab"), NOW)


def test_a_result_on_a_sample_that_was_never_received_is_told_at_once() -> None:
    result = make(LabResult, ref="R-9", sample="S1", date="2026-03-05")
    (told,) = _unreceived(a_case(*SENT, more=(result,)))
    assert told.endswith("never received, yet there are results of it: R-9 of 2026-03-05")
    before = make(LabResult, ref="R-9", sample="S1", date="2026-03-01")
    assert not _unreceived(a_case(*SENT, more=(before,)))
    known = make(Shipment, ref="X", samples="S1", received="2026-03-04")
    assert not _unreceived(a_case(*SENT, more=(known, result)), NOW)
