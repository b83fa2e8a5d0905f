"""Profiles: dated checklists with sources, texts that nobody edits, edges of years kept."""

from datetime import UTC, datetime

import pytest
from builders import dossier, make
from report_made import setup

from workbench.records import (
    Assumption,
    CaseEntry,
    Credential,
    Instruction,
    KnownError,
    Opinion,
    Record,
    Statement,
)
from workbench.report.blocks import Paragraph, Section, Table
from workbench.report.draft import Draft
from workbench.report.given import Results
from workbench.report.profiles import credentials_of, open_items, profile
from workbench.report.text import plain
from workbench.report.writing import imprint_of, sections_of
from workbench.resources import report_profile_names

ISSUED = datetime(2024, 12, 20, 10, 0, tzinfo=UTC)


def drafting(*records: Record, name: str = "", moment: datetime = ISSUED) -> Draft:
    return Draft(dossier(*records), Results(), setup(profile=name, moment=moment))


def section(draft: Draft, key: str) -> Section:
    (found,) = [one for one in sections_of(draft) if one.key == key]
    return found


def said(one: Section) -> str:
    paragraphs = [plain(b.text) for b in one.blocks if isinstance(b, Paragraph)]
    cells = [plain(c) for b in one.blocks if isinstance(b, Table) for r in b.rows for c in r.cells]
    return "\n".join(paragraphs + cells)


@pytest.mark.parametrize("name", report_profile_names())
def test_every_item_of_every_profile_has_a_source_and_says_how_it_is_known(name: str) -> None:
    held = profile(name)
    assert held.dated.year >= 2026
    assert held.rules_as_of
    assert all(item.source and item.status and item.asks for item in held.items)
    assert len({item.key for item in held.items}) == len(held.items)


def test_there_are_the_three_profiles() -> None:
    assert report_profile_names() == ("england-wales", "general", "us-federal")


def test_a_profile_that_does_not_exist_names_those_that_do() -> None:
    with pytest.raises(KnownError, match="england-wales, general, us-federal"):
        profile("mars")


def test_the_six_items_of_the_us_rule_are_all_asked_for() -> None:
    sources = " ".join(item.source for item in profile("us-federal").items)
    for roman in ("(i)", "(ii)", "(iii)", "(iv)", "(v)", "(vi)"):
        assert f"26(a)(2)(B){roman}" in sources


def test_the_statement_of_truth_has_the_sentence_on_contempt_and_stands_byte_for_byte() -> None:
    (truth,) = [i for i in profile("england-wales").items if i.key == "statement of truth"]
    assert "proceedings for contempt of court may be brought" in truth.text
    assert "1 October 2020" in truth.version
    assert truth.text in said(section(drafting(name="england-wales"), "author"))


def test_a_locked_text_cannot_be_edited() -> None:
    one = section(drafting(name="england-wales"), "author")
    assert [b.name for b in one.blocks if isinstance(b, Paragraph)] == [""] * 2


def test_a_report_for_the_court_is_addressed_to_it() -> None:
    facts = dict(imprint_of(drafting(name="england-wales")).facts)
    assert facts["Addressed to"] == "The Court"
    assert dict(imprint_of(drafting()).facts)["Addressed to"] == ""


@pytest.mark.parametrize(
    ("day", "kind", "years", "listed"),
    [
        ("2014-12-20", "publication", 10, True),
        ("2014-12-19", "publication", 10, False),
        ("2020-12-20", "testimony", 4, True),
        ("2020-12-19", "testimony", 4, False),
        ("2024-12-21", "testimony", 4, False),
    ],
)
def test_the_edge_of_the_years_is_a_day(day: str, kind: str, years: int, *, listed: bool) -> None:
    one = make(Credential, ref="C1", person="A", kind=kind, date=day, words="A paper")
    assert bool(credentials_of(drafting(one), one.kind, years)) is listed


def test_a_record_of_several_persons_says_whose_each_line_is() -> None:
    lines = [
        make(Credential, ref=f"C{n}", person=who, kind="publication", date="2020-05-01", words=what)
        for n, (who, what) in enumerate((("A. Moor", "A paper"), ("B. Lind", "A chapter")))
    ]
    assert "B. Lind, 1\xa0May\xa02020: A chapter" in said(section(drafting(*lines), "author"))
    assert "A. Moor" not in said(section(drafting(lines[0]), "author"))


def test_years_before_a_leap_day_end_on_the_last_of_february() -> None:
    one = make(Credential, ref="C1", person="A", kind="testimony", date="2021-02-28", words="B v C")
    leap = datetime(2024, 2, 29, tzinfo=UTC)
    assert credentials_of(drafting(one, moment=leap), one.kind, 3)


def test_an_item_is_open_until_the_records_or_a_statement_settle_it() -> None:
    wanted = profile("us-federal")
    before = {item.key for item in open_items(drafting(name="us-federal"), wanted)}
    fee = make(Statement, key="compensation", words="At the hourly rate of the practice.", by="A")
    after = {item.key for item in open_items(drafting(fee, name="us-federal"), wanted)}
    assert before - after == {"compensation"}
    assert "opinions" in after


def test_opinions_settle_their_item_when_each_question_is_answered_on_a_basis() -> None:
    question = make(CaseEntry, key="question 1", value="Why?")
    opinion = make(Opinion, ref="O1", question="1", opinion="x", by="A", basis="pull_off P1")
    bare = make(Opinion, ref="O1", question="1", opinion="x", by="A")
    wanted = profile("us-federal")

    def left(*records: Record) -> bool:
        return "opinions" in {item.key for item in open_items(drafting(*records), wanted)}

    assert left(question)
    assert left(question, bare)
    assert not left(question, opinion)


def test_an_oral_instruction_is_told_and_a_privileged_one_is_not() -> None:
    oral = make(Instruction, ref="I1", date="2024-11-04", sender="Counsel", form="call",
                kind="instruction", substance="Look at the wash line too.")  # fmt: skip
    secret = make(Instruction, ref="I2", date="2024-11-05", sender="Counsel", form="e_mail",
                  kind="privileged", substance="Our strategy.")  # fmt: skip
    told = said(section(drafting(oral, secret), "questions"))
    assert "Look at the wash line too." in told
    assert "Our strategy" not in told


def test_an_assumption_is_told_with_who_gave_it() -> None:
    one = make(Assumption, ref="A1", words="The slab is on a membrane.", given_by="counsel")
    told = said(section(drafting(one), "limits"))
    assert "The slab is on a membrane." in told
    assert "counsel" in told
