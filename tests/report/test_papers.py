"""Custody papers: form, receipt and the story of a sample, read back from the Word file."""

from datetime import UTC, datetime
from pathlib import Path

import docx
import pytest
from builders import make

from workbench.records import (
    CaseEntry,
    CustodyEntry,
    Discrepancy,
    Dossier,
    Party,
    Record,
    Sample,
    SampleCare,
)
from workbench.report.papers import CustodyHeads, write_custody_form, write_receipt

HEADS = CustodyHeads(7, "ab" * 32)
AT = datetime(2026, 3, 9, 12, 0, tzinfo=UTC)


def entry(when: str, event: str, giver: str, receiver: str, **more: str) -> CustodyEntry:
    return make(
        CustodyEntry, sample="S-01", when=when, event=event, giver=giver, receiver=receiver, **more
    )


def a_case(*more: Record) -> Dossier:
    return Dossier(
        [
            make(CaseEntry, key="reference", value="CF-7"),
            make(Party, name="Ann", role="investigator", contact="12 Quay"),
            make(Sample, ref="S-01", taken="2026-03-01 09:00", taken_by="Ann", seal="11"),
            make(SampleCare, sample="S-01", hazards="lead", hold="yes", hold_reason="letter 4"),
            entry("2026-03-01 09:00", "collected", "", "Ann"),
            entry("2026-03-03 09:00", "received", "Van", "Lab", seal="11", condition="dry"),
            *more,
        ]
    )


def words(path: Path) -> str:
    document = docx.Document(str(path))
    cells = [cell.text for table in document.tables for row in table.rows for cell in row.cells]
    return "\n".join([*(p.text for p in document.paragraphs), *cells])


@pytest.fixture
def form(tmp_path: Path) -> str:
    wrong = entry("2026-03-04 08:00", "handed_over", "Lab", "Zed")
    right = entry("2026-03-04 08:30", "stored", "Lab", "Lab", corrects=wrong.id)
    held = a_case(wrong, right)
    path = tmp_path / "form.docx"
    write_custody_form(held, path, samples=held.all(Sample), heads=HEADS, at=AT)
    return words(path)


def test_the_form_prints_a_gap_as_a_gap(form: str) -> None:
    assert "GAP: nobody is known to have held it" in form


def test_the_form_says_hazard_hold_seal_and_collector(form: str) -> None:
    for said in ("lead", "letter 4", "11", "Ann", "12 Quay", "CF-7"):
        assert said in form


def test_the_form_carries_the_head_of_the_ledger(form: str) -> None:
    assert HEADS.digest in form
    assert "7 entries" in form


def test_a_corrected_entry_stays_legible_on_the_form(form: str) -> None:
    assert "Entries put right" in form
    assert "Lab to Zed" in form


def test_the_form_has_lines_for_hand_overs_to_come(form: str) -> None:
    assert "Given by, signature" in form
    assert "Received by, signature" in form


def test_the_receipt_names_items_state_parties_and_what_does_not_agree(tmp_path: Path) -> None:
    doubt = make(
        Discrepancy, ref="D-01", samples="S-01", kind="damaged", found="2026-03-03 09:10",
        words="the container is damaged",
    )  # fmt: skip
    asked = make(
        Discrepancy, ref="D-02", samples="S-01", kind="other", found="2026-03-03 09:10",
        words="no list came with it", asked="Ann", asked_when="2026-03-04",
    )  # fmt: skip
    held = a_case(doubt, asked)
    path = tmp_path / "receipt.docx"
    write_receipt(held, path, samples=held.all(Sample), receiver="Lab", heads=HEADS, at=AT)
    said = words(path)
    for part in (
        "One item received from Van by Lab",
        "dry",
        "D-01",
        "not yet answered; nobody is recorded as asked",
        "not yet answered; Ann was asked on 4 March 2026",
        HEADS.digest,
        "gave the items",
        "received the items",
    ):
        assert part in said, part
