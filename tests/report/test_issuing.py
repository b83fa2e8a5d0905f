"""Editions: what was checked is what is issued, and what was issued never changes."""

import zipfile
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import docx
import pytest
from builders import make

from workbench.desk.acts import Add, Change, TakeIn
from workbench.desk.acts.act import ActRefusedError
from workbench.desk.case import Case
from workbench.desk.checklist import checklist, leave_open, state_item
from workbench.desk.issuing import NotIssuableError, amendments_since, edited_outside
from workbench.desk.reporting import (
    Wish,
    Written,
    authorise_report,
    check_report,
    draft_of,
    issue_report,
    of_the_report,
    write_report,
)
from workbench.records import (
    Area,
    CaseEntry,
    CustodyEntry,
    DoubtAnswer,
    EditedText,
    Edition,
    Instrument,
    KnownError,
    LabResult,
    Location,
    Opinion,
    Party,
    PullOff,
    Quantity,
    Record,
    Sample,
    When,
)
from workbench.report.numbers import numbers_of
from workbench.report.writing import sections_of

PULL = make(PullOff, ref="P-1", reading="2.0 MPa", breaks="A 100", date="2024-11-12")
RECORDS: tuple[Record, ...] = (
    make(CaseEntry, key="reference", value="BH-1"),
    make(CaseEntry, key="title", value="A floor"),
    make(CaseEntry, key="client", value="The owner"),
    make(Party, name="R. Tennick", role="investigator", contact="12 High Street"),
    make(Area),
    make(Location),
    PULL,
)
AUTHOR, CHECKER = "R. Tennick", "J. Abara"


@pytest.fixture
def case(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Case:
    """Return a small case on a machine without LibreOffice."""
    monkeypatch.setattr("workbench.report.pages.office", lambda: None)
    monkeypatch.chdir(tmp_path)
    made = Case.create(tmp_path / "a.case", author=AUTHOR)
    made.do(Add(RECORDS))
    return made


def issued(case: Case) -> Written:
    check_report(case, Wish(), CHECKER)
    authorise_report(case, CHECKER)
    return issue_report(case, Wish())


def latest(case: Case) -> Edition:
    return case.dossier.all(Edition)[-1]


def text(path: Path) -> str:
    document = docx.Document(str(path))
    cells = (c.text for t in document.tables for row in t.rows for c in row.cells)
    return "\n".join((*(p.text for p in document.paragraphs), *cells))


def headers(path: Path) -> list[str]:
    with zipfile.ZipFile(path) as package:
        return [package.read(n).decode() for n in package.namelist() if n.startswith("word/header")]


def test_a_draft_is_marked_on_every_page_and_in_its_name(case: Case) -> None:
    written = write_report(case, Wish())
    assert written.document.name == "BH-1-R1-draft.docx"
    assert all("DRAFT" in header for header in headers(written.document))


def test_only_an_issued_report_loses_its_draft_marks(case: Case) -> None:
    check_report(case, Wish(), CHECKER)
    marked = write_report(case, Wish())
    assert marked.document.name == "BH-1-R1-checked.docx"
    assert all("DRAFT" in header for header in headers(marked.document))
    authorise_report(case, CHECKER)
    written = issue_report(case, Wish())
    assert written.document.name == "BH-1-R1.docx"
    assert not any("DRAFT" in header for header in headers(written.document))


def test_the_states_follow_each_other_and_none_is_left_out(case: Case) -> None:
    with pytest.raises(NotIssuableError, match="not checked yet"):
        authorise_report(case, CHECKER)
    with pytest.raises(NotIssuableError, match="not authorised yet"):
        issue_report(case, Wish())


@pytest.mark.parametrize(
    "moved_on", [authorise_report, lambda case, _by: issue_report(case, Wish())]
)
def test_a_changed_record_takes_the_check_back(
    case: Case, moved_on: Callable[[Case, str], object]
) -> None:
    check_report(case, Wish(), CHECKER)
    if moved_on is not authorise_report:
        authorise_report(case, CHECKER)
    case.do(Change(replace(PULL, reading=Quantity.read("1.1 MPa"))))
    with pytest.raises(NotIssuableError, match="has changed since"):
        moved_on(case, CHECKER)
    written = write_report(case, Wish())
    assert written.document.name == "BH-1-R1-draft.docx"
    assert any("is a draft again" in remark for remark in written.remarks)


def test_an_open_point_that_hinders_is_named_and_nothing_is_issued(case: Case) -> None:
    case.do(Add((make(Sample), make(LabResult, ref="R-7", deviation=""))))
    check_report(case, Wish(), CHECKER)
    authorise_report(case, CHECKER)
    with pytest.raises(NotIssuableError, match="R-7: nothing is said"):
        issue_report(case, Wish())
    assert not list((case.folder / "issued").iterdir())


def test_an_opinion_that_nobody_signed_is_neither_authorised_nor_issued(case: Case) -> None:
    case.do(Add((make(Opinion, ref="O-1", question="1", opinion="It parted at A/B.",
                      by=AUTHOR, basis="pull_off P-1"),)))  # fmt: skip
    check_report(case, Wish(), CHECKER)
    with pytest.raises(NotIssuableError, match=r"nobody has signed: O-1 \(unsigned\)"):
        authorise_report(case, CHECKER)
    (held,) = case.dossier.all(Opinion)
    case.do(Change(replace(held, signed=When("2024-12-01"))))
    assert "In my opinion: It parted" in text(issued(case).document)


def test_an_open_item_of_the_profile_hinders_until_its_reason_is_written_and_printed(
    case: Case,
) -> None:
    wish = Wish(profile="general")
    stands = {one.key: one for one in checklist(case, wish)}
    assert not stands["title"].open
    assert stands["questions"].hinders
    assert not stands["independence"].hinders
    check_report(case, wish, CHECKER)
    authorise_report(case, CHECKER)
    with pytest.raises(NotIssuableError, match=r"author, questions: .* nothing settles it"):
        issue_report(case, Wish())
    reason = "no question was put; the client asked for the readings"
    leave_open(case, wish, "questions", reason)
    state_item(case, wish, "independence", "There are no ties to any party.")
    left = {one.key: one.stands for one in checklist(case, wish)}
    assert left["questions"] == f"left open: {reason}"
    assert left["independence"] == "settled"
    check_report(case, wish, CHECKER)
    authorise_report(case, CHECKER)
    said = text(issue_report(case, Wish()).document)
    assert f"{reason.capitalize()}." in said
    assert "There are no ties to any party." in said


SENT = tuple(
    make(CustodyEntry, sample="S-1", event=event, when=when, receiver=to, giver=giver)
    for event, when, giver, to in (
        ("collected", "2024-11-12 09:00", "", AUTHOR),
        ("dispatched", "2024-11-13 09:00", AUTHOR, "Van"),
    )
)
OVERDUE = make(Instrument, ref="I-1", kind="adhesion tester", due="2024-01-01")


def test_broken_custody_and_doubted_evidence_hinder_until_a_reason_is_written_and_printed(
    case: Case,
) -> None:
    case.do(Add((make(Sample, ref="S-1", at="K1", taken="2024-11-12"), *SENT, OVERDUE)))
    case.do(Change(replace(PULL, instrument="I-1")))
    custody = "custody S-1: what is sent is received"
    doubt = "doubt P-1: instrument out of calibration"
    assert {one.key: one.hinders for one in checklist(case, Wish())} == {custody: True, doubt: True}
    check_report(case, Wish(), CHECKER)
    authorise_report(case, CHECKER)
    with pytest.raises(NotIssuableError, match=r"“custody S-1: .* “doubt P-1"):
        issue_report(case, Wish())
    leave_open(case, Wish(), custody, "the carrier is asked; nothing rests on it")
    leave_open(case, Wish(), doubt, "the tester read true afterwards")
    with pytest.raises(KnownError, match="of the evidence there stand open: custody S-1"):
        leave_open(case, Wish(), "custody S-2", "none")
    said = text(issued(case).document).replace("\xa0", " ")
    assert "not received; sent" in said
    assert "received. Left open (R. Tennick): The carrier is asked; nothing rests on it." in said
    assert "no estimate. Left open (R. Tennick): The tester read true afterwards." in said


def test_a_doubt_that_was_answered_hinders_no_more_and_is_printed_with_its_answer(
    case: Case,
) -> None:
    answer = make(
        DoubtAnswer, about="pull_off P-1", rule="instrument out of calibration", effect="none",
        reason="it was checked the day after", by=AUTHOR,
    )  # fmt: skip
    case.do(Add((OVERDUE, answer)))
    case.do(Change(replace(PULL, instrument="I-1")))
    said = text(issued(case).document).replace("\xa0", " ")
    assert "P-1: answered by R. Tennick, used as it is: it was checked the day after." in said


def test_a_locked_text_is_left_out_only_for_a_reason_that_is_printed(case: Case) -> None:
    wish = Wish(profile="england-wales")
    with pytest.raises(KnownError, match="locked"):
        state_item(case, wish, "declaration", "Words of my own.")
    with pytest.raises(KnownError, match="write what is to stand"):
        leave_open(case, wish, "declaration", "  ")
    leave_open(case, wish, "declaration", "the court has ordered another form")
    said = text(write_report(case, wish).document)
    assert "I understand my duty to the Court" not in said
    assert "The court has ordered another form." in said


def test_an_item_that_the_profile_does_not_have_is_refused_with_those_it_has(case: Case) -> None:
    with pytest.raises(KnownError, match="its items are: title, practice"):
        leave_open(case, Wish(profile="general"), "compensation", "none")
    with pytest.raises(KnownError, match="no profile is chosen"):
        state_item(case, Wish(), "title", "A floor")


def test_an_author_who_checks_or_authorises_himself_is_told_on_the_cover(case: Case) -> None:
    check_report(case, Wish(), AUTHOR)
    authorise_report(case, AUTHOR)
    said = text(issue_report(case, Wish()).document).replace("\xa0", " ")
    assert "R. Tennick (self-authorised)" in said
    assert "R. Tennick (self-checked)" in said


def test_a_check_by_another_is_not_marked_as_the_authors_own(case: Case) -> None:
    assert "self-" not in text(issued(case).document)


def test_issued_bytes_are_kept_with_their_digest_and_both_heads(case: Case) -> None:
    before = case.heads
    written = issued(case)
    edition = latest(case)
    kept = case.original(edition.file)
    assert kept is not None
    assert kept.read_bytes() == written.document.read_bytes()
    assert edition.sha256 in written.remarks[0]
    assert edition.journal_head.endswith(f":{before.journal.count + 2}")
    said = text(written.document)
    assert edition.journal_head.partition(":")[0] in said
    assert str(before.ledger.hash) in said


def test_a_report_issued_again_is_the_same_bytes(case: Case, tmp_path: Path) -> None:
    first = issued(case).document.read_bytes()
    again = issue_report(case, Wish(out=tmp_path / "copy.docx"))
    assert again.document.read_bytes() == first
    assert len(case.dossier.all(Edition)) == 1


def test_a_draft_edited_in_a_word_processor_is_put_aside_before_the_next_is_written(
    case: Case,
) -> None:
    draft = write_report(case, Wish()).document
    assert write_report(case, Wish()).document == draft
    edited = docx.Document(str(draft))
    edited.add_paragraph("My own words.")
    edited.core_properties.modified = datetime(2026, 1, 2, tzinfo=UTC)
    edited.save(str(draft))
    written = write_report(case, Wish())
    kept = draft.with_name(f"{draft.stem}-edited-1.docx")
    assert "My own words." in text(kept)
    assert "My own words." not in text(draft)
    assert f"it is kept as {kept.name}" in written.remarks[0]


def test_no_foreign_file_is_lost_when_an_issued_report_is_copied_over_it(
    case: Case, tmp_path: Path
) -> None:
    issued(case)
    place = tmp_path / "letter.docx"
    place.write_bytes(b"a letter of the firm")
    place.with_suffix(".pdf").write_bytes(b"its print")
    issue_report(case, Wish(out=place))
    assert (tmp_path / "letter-edited-1.docx").read_bytes() == b"a letter of the firm"
    assert zipfile.is_zipfile(place)


def test_a_change_after_the_issue_leaves_the_issued_bytes_alone(case: Case) -> None:
    written = issued(case)
    before = written.document.read_bytes()
    case.do(Change(replace(PULL, reading=Quantity.read("1.1 MPa")), why="misread"))
    write_report(case, Wish())
    kept = case.original(latest(case).file)
    assert kept is not None
    assert kept.read_bytes() == written.document.read_bytes() == before


def test_the_next_edition_lists_exactly_what_changed_and_names_the_one_it_replaces(
    case: Case,
) -> None:
    issued(case)
    case.do(Change(replace(PULL, reading=Quantity.read("1.1 MPa")), why="misread on site"))
    case.do(Add((make(PullOff, ref="P-2"),), why="made later"))
    found = [(a.where, a.old, a.new, a.why) for a in amendments_since(case, latest(case))]
    assert found == [
        ("Pull-off P-1: reading", "2.0 MPa", "1.1 MPa", "misread on site"),
        ("Pull-off P-2", "", "added", "made later"),
    ]
    written = write_report(case, Wish())
    assert written.document.name == "BH-1-R2-draft.docx"
    assert any(remark.startswith("Supplement needed?") for remark in written.remarks)
    said = text(written.document)
    assert "This edition replaces BH-1-R1" in said
    assert "misread on site" in said


def test_amendments_leave_the_numbers_of_sections_and_tables_as_they_were(case: Case) -> None:
    before = numbers_of(sections_of(draft_of(case, Wish()))).targets
    issued(case)
    case.do(Change(replace(PULL, note="seen again"), why="looked at again"))
    draft = draft_of(case, Wish())
    after = numbers_of(sections_of(draft)).targets
    assert {key: after[key].label for key in before} == {k: one.label for k, one in before.items()}
    assert after["section amendments"].number == ""
    assert draft.setup.moved == ()
    assert "No strength, grade or leading cause differs" in text(
        write_report(case, Wish()).document
    )


def test_a_strength_that_moved_is_told_with_what_it_was(case: Case) -> None:
    pulls = [
        make(PullOff, ref=f"P-{at}", fixture="20 mm", reading="2.0 MPa", breaks="A 100")
        for at in range(2, 6)
    ]
    case.do(Add(tuple(pulls)))
    issued(case)
    lower = tuple(replace(one, reading=Quantity.read("1.1 MPa")) for one in pulls)
    case.do(TakeIn(source="book4.xlsx", changed=lower, why="misread"))
    moved = draft_of(case, Wish()).setup.moved or ()
    (told,) = [one for one in moved if one.where.startswith("Median strength in failing areas")]
    assert told.old.startswith("2.0")
    assert told.new.startswith("1.1")
    said = text(write_report(case, Wish()).document)
    assert "Strengths, grades and leading causes that differ from those of BH-1-R1" in said


def test_a_book_that_changes_what_was_issued_is_taken_in_only_with_a_reason(case: Case) -> None:
    changed = replace(PULL, reading=Quantity.read("1.1 MPa"))
    issued(case)
    with pytest.raises(ActRefusedError, match=r"changes pull-off P-1 behind BH-1-R1.*say why"):
        case.do(TakeIn(source="book4.xlsx", changed=(changed,)))
    case.do(TakeIn(source="book4.xlsx", changed=(changed,), why="misread on site"))
    (told,) = amendments_since(case, latest(case))
    assert told.why == "misread on site"
    case.do(TakeIn(source="more.xlsx", added=(make(PullOff, ref="P-2"),)))


def test_news_after_an_issue_asks_whether_a_supplement_is_needed(case: Case) -> None:
    issued(case)
    assert not [one for one in of_the_report(case) if "Supplement" in one.words]
    case.do(Add((make(PullOff, ref="P-2"),), why="made later"))
    (asked,) = [one for one in of_the_report(case) if "Supplement" in one.words]
    assert asked.words == (
        f"Supplement needed? The records have one change since {latest(case).ref} was issued"
    )


def test_what_was_changed_and_changed_back_is_no_amendment(case: Case) -> None:
    issued(case)
    case.do(Change(replace(PULL, reading=Quantity.read("1.1 MPa"))))
    case.do(Change(PULL))
    case.do(Add((make(PullOff, ref="P-2"),)))
    case.undo()
    assert amendments_since(case, latest(case)) == ()


def test_an_edited_sentence_is_an_amendment_too(case: Case) -> None:
    issued(case)
    edit = EditedText(paragraph="report summary: matter", text="Shorter.", by=AUTHOR)
    case.do(Add((edit,)))
    (told,) = amendments_since(case, latest(case))
    assert told.where == "Edited paragraph report summary: matter"


def test_a_second_edition_is_issued_beside_the_first(case: Case) -> None:
    issued(case)
    case.do(Change(replace(PULL, reading=Quantity.read("1.1 MPa"))))
    issued(case)
    first, second = case.dossier.all(Edition)
    assert (second.ref, second.replaces) == ("BH-1-R2", "BH-1-R1")
    assert case.original(first.file) != case.original(second.file)
    names = sorted(path.name for path in (case.folder / "issued").iterdir())
    assert names == ["BH-1-R1.docx", "BH-1-R2.docx"]


def test_an_issue_cannot_be_undone(case: Case) -> None:
    issued(case)
    with pytest.raises(ActRefusedError):
        case.undo()


def test_an_issued_file_edited_outside_is_told(case: Case) -> None:
    path = issued(case).document
    assert edited_outside(case) == ()
    path.chmod(0o644)
    path.write_bytes(path.read_bytes() + b"x")
    assert "BH-1-R1.docx was edited outside the case" in edited_outside(case)[0]


def test_one_flipped_bit_in_an_issued_report_is_found(case: Case) -> None:
    issued(case)
    kept = case.original(latest(case).file)
    assert kept is not None
    assert case.verify().unchanged
    kept.chmod(0o644)
    blob = bytearray(kept.read_bytes())
    blob[100] ^= 1
    kept.write_bytes(blob)
    found = case.verify()
    assert not found.unchanged
    assert "issued/BH-1-R1.docx" in str(found.findings)


def test_the_date_of_issue_is_that_of_the_issue_and_not_of_the_copy(case: Case) -> None:
    issued(case)
    first = latest(case).issued_on
    issue_report(case, Wish())
    assert latest(case).issued_on == first


def test_a_person_without_a_name_checks_nothing(case: Case) -> None:
    with pytest.raises(NotIssuableError, match="say by name"):
        check_report(case, Wish(), " ")
