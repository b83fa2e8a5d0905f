"""What reports and expert reports are asked for, one line at a time; see requirements.toml."""

import hashlib
import zipfile
from pathlib import Path

import pytest
from bottling_hall import bottling_hall, computed
from builders import dossier, make
from report_made import Made, setup

from workbench.records import (
    Area,
    CaseEntry,
    Document,
    EditedText,
    Edition,
    Exhibit,
    Grade,
    LabResult,
    Limit,
    Location,
    Measurement,
    Opinion,
    Party,
    Photo,
    PhotoMark,
    PullOff,
    Record,
    Sample,
    Source,
)
from workbench.report.blocks import Paragraph, Section, Table
from workbench.report.checks import open_points
from workbench.report.document import Binding
from workbench.report.draft import Draft
from workbench.report.exhibits import register
from workbench.report.given import Original, Results
from workbench.report.marked import _measured
from workbench.report.profiles import open_items, profile
from workbench.report.text import plain, text
from workbench.report.writing import imprint_of, sections_of, write_report
from workbench.trade.showing import System


def drafting(*records: Record, results: Results | None = None, **said: object) -> Draft:
    return Draft(dossier(*records), results or Results(), setup(**said))


def points(*records: Record) -> list[str]:
    draft = drafting(*records)
    return [str(point) for point in open_points(draft, sections_of(draft))]


def section(sections: tuple[Section, ...], key: str) -> Section:
    (found,) = [one for one in sections if one.key == key]
    return found


def table(one: Section, key: str) -> Table:
    (found,) = [b for b in one.blocks if isinstance(b, Table) and b.key == key]
    return found


def cells(one: Table) -> list[str]:
    return [plain(cell) for row in one.rows for cell in row.cells]


def said(one: Section) -> str:
    return "\n".join(plain(b.text) for b in one.blocks if isinstance(b, Paragraph))


# -- technical reports


@pytest.mark.parametrize("missing", ["title", "reference", "client"])
def test_a_gap_on_the_front_hinders_the_issue(missing: str) -> None:
    entries = [make(CaseEntry, key=key, value="x") for key in ("title", "reference", "client")]
    person = make(Party, name="A", role="investigator", contact="12 High Street")
    whole = drafting(*entries, person)
    assert not [p for p in open_points(whole, sections_of(whole)) if p.hinders]
    gap = drafting(*(one for one in entries if one.key != missing), person)
    (point,) = [p for p in open_points(gap, sections_of(gap)) if p.hinders]
    assert point.place == missing


def test_a_result_without_a_method_is_an_open_point() -> None:
    result = make(LabResult, ref="R9", method="not_stated", deviation="none")
    assert any("R9: its method is not stated" in p for p in points(make(Sample), result))


def test_every_reading_stands_in_the_appendix_with_its_date(report: Made) -> None:
    pulls = table(section(report.sections, "readings"), "pull-offs")
    refs = {plain(row.cells[0]) for row in pulls.rows}
    assert refs == {one.ref for one in bottling_hall().all(PullOff)}
    at = [column.heading for column in pulls.columns].index("Date")
    assert all("2024" in plain(row.cells[at]) for row in pulls.rows)


def test_the_cover_says_that_it_is_not_to_be_copied_in_part() -> None:
    assert "not to be reproduced except in full" in " ".join(imprint_of(drafting()).remarks)


def test_what_others_supplied_is_marked_and_the_limits_say_what_that_means() -> None:
    limit = make(Limit, quantity="pull_off", minimum="1.5 MPa", source_text="DOC-1")
    sections = sections_of(drafting(limit, make(Area)))
    assert table(section(sections, "system"), "limits").caption.endswith("†")
    assert "marked †, were taken as they stand" in said(section(sections, "limits"))


def test_an_opinion_among_facts_is_an_open_point() -> None:
    words = "In my opinion the floor was wet."
    edit = EditedText(paragraph="report survey: added 1", text=words, by="A")
    moved = EditedText(paragraph="report opinions: added 1", text=f"Opinion: {words}", by="A")
    assert any("“In my opinion” is an opinion among facts" in p for p in points(make(Area), edit))
    assert not any("among facts" in p for p in points(make(Area), moved))


def test_every_rejected_cause_has_its_reason(report: Made) -> None:
    reasoning = computed().reasoning
    assert reasoning is not None
    rejected = table(section(report.sections, "reasoning"), "rejected")
    gone = [c for c in reasoning.candidates if c.grade in (Grade.NOT_SUPPORTED, Grade.EXCLUDED)]
    assert len(rejected.rows) == len(gone) > 10
    assert all(len(plain(row.cells[-1])) > 10 for row in rejected.rows)


def _limited(*more: Record) -> Table:
    limit = make(Limit, quantity="hardness", minimum="75", source_text="DOC-3 clause 2")
    result = make(Measurement, ref="M1", quantity="hardness", value="70", method="f-hardness")
    return table(section(sections_of(drafting(limit, result, *more)), "field_tests"), "conformity")


def test_without_a_rule_results_stand_beside_their_limit_and_none_passes_or_fails() -> None:
    made = _limited()
    assert made.columns[-1].heading == "Results"
    assert cells(made) == ["hardness", "at least 75", "DOC-3 clause 2", "1 result, 70 [M1]"]


def test_with_a_rule_the_table_has_results_clause_verdict_and_rule() -> None:
    made = _limited(make(CaseEntry, key="setting decision_rule", value="simple"))
    assert cells(made)[2:] == ["DOC-3 clause 2", "1 result, 70 [M1]", "fail: 1 of 1 results"]
    assert [str(one) for one in made.rows[0].sources][1:] == ["measurement M1"]


def test_a_guard_band_without_an_uncertainty_says_that_none_is_recorded() -> None:
    made = _limited(make(CaseEntry, key="setting decision_rule", value="guard band"))
    assert cells(made)[-1] == "not decided: 1 of 1 results; no uncertainty is recorded"


def test_a_laboratory_result_stands_with_its_conditions_and_its_uncertainty() -> None:
    result = make(
        LabResult, ref="R1", sample="S-1", quantity="tg_first", value="52 degC",
        uncertainty="2 K", coverage_factor=2, condition="as_received", method="l-dsc",
    )  # fmt: skip
    made = table(section(sections_of(drafting(result)), "readings"), "laboratory results")
    assert "± 2 °C, k = 2" in cells(made)
    assert any("as received" in cell for cell in cells(made))
    told = drafting(result, system=System.US)
    made = table(section(sections_of(told), "readings"), "laboratory results")
    assert {"125.6 °F", "± 3.6 °F, k = 2"} <= set(cells(made))


def test_a_test_on_site_and_one_in_a_laboratory_each_name_their_place() -> None:
    held = drafting(
        make(Area, ref="A1", name="Bay 1"),
        make(Location, ref="L1", area="A1"),
        make(Measurement, ref="M1", location="L1"),
        make(LabResult, ref="R1", sample="S-1", laboratory="North Works laboratory"),
    )
    readings = section(sections_of(held), "readings")
    assert "North Works laboratory" in cells(table(readings, "laboratory results"))
    assert any("L1" in cell for cell in cells(table(readings, "measurements")))


def test_how_the_places_of_the_field_tests_were_chosen_is_told() -> None:
    held = drafting(
        make(Location, ref="L1", chosen="at random"),
        make(Location, ref="L2", chosen="at random"),
        make(Location, ref="L3"),
        make(Location, ref="L4", chosen="never tested"),
        *(make(PullOff, ref=f"P{at}", location=f"L{at}") for at in (1, 2, 3)),
    )
    told = said(section(sections_of(held), "field_tests"))
    assert (
        "The three places of the field tests were chosen as follows: two at random and of one it "
        "is not recorded."
    ) in told
    assert "never tested" not in told
    bare = drafting(make(Location, ref="L1"), make(PullOff, ref="P1", location="L1"))
    assert "is not recorded" in said(section(sections_of(bare), "field_tests"))


def test_the_rules_that_decided_are_printed_with_their_sources_and_what_was_chosen(
    report: Made,
) -> None:
    held = table(section(report.sections, "methods"), "rules")
    assert len(held.rows) > 5
    assert all(plain(row.cells[-1]) for row in held.rows)
    chosen = make(CaseEntry, key="setting glue_limit_percent", value="25")
    pull = make(PullOff, ref="P1")
    held = table(section(sections_of(drafting(chosen, pull)), "methods"), "rules")
    (row,) = held.rows
    assert [plain(cell) for cell in row.cells[1:3]] == ["25 %", "50 %"]
    assert [str(one) for one in row.sources] == ["case_entry setting glue_limit_percent"]


def test_a_cause_retained_says_what_it_is_known_from(report: Made) -> None:
    rows = table(section(report.sections, "references"), "works").rows
    told = " ".join(plain(cell) for row in rows for cell in row.cells)
    assert "Maximum recoat interval exceeded" in told
    assert "MIL-HDBK-1110" in told
    assert all(
        plain(row.cells[-1]).endswith(("(read in extract or abstract)", "(from memory)"))
        for row in rows
    )


# -- testimony


def test_a_document_never_cited_is_still_listed_as_considered() -> None:
    documents = [
        make(Document, ref="DOC-1", name="Cited", status="received"),
        make(Document, ref="DOC-2", name="Never cited", status="received"),
    ]
    limit = make(Limit, quantity="pull_off", minimum="1.5 MPa", source_text="DOC-1 clause 6")
    sections = sections_of(drafting(*documents, limit))
    rows = table(section(sections, "documents"), "documents").rows
    uses = {plain(row.cells[0]): plain(row.cells[-1]) for row in rows}
    assert uses == {"DOC-1": "relied on", "DOC-2": "considered"}


def left(name: str, *records: Record) -> set[str]:
    return {item.key for item in open_items(drafting(*records), profile(name))}


def test_the_item_of_a_signed_copy_is_open_until_one_is_kept() -> None:
    unsigned = make(Edition, ref="R1")
    signed = make(Edition, ref="R1", signed="issued/R1-signed.pdf")
    assert "signed" in left("us-federal", unsigned)
    assert "signed" not in left("us-federal", signed)


def test_the_four_questions_of_rule_702_are_asked() -> None:
    keys = {item.source[:20]: item.key for item in profile("us-federal").items if "702" in item.key}
    assert sorted(keys) == [f"Fed. R. Evid. 702({letter})" for letter in "abcd"]


def test_the_item_of_who_tested_is_open_while_an_operator_is_missing() -> None:
    nobody = make(Measurement, ref="M1")
    somebody = make(Measurement, ref="M1", operator="R. Tennick")
    assert "who tested" in left("england-wales", nobody)
    assert "who tested" not in left("england-wales", somebody)


def test_the_summary_repeats_the_opinions_as_they_are() -> None:
    question = make(CaseEntry, key="question 1", value="Why?")
    opinion = make(Opinion, ref="O1", question="1", opinion="the wait was too long", by="A",
                   grade="probable", basis="pull_off P1", signed="2026-02-01")  # fmt: skip
    sections = sections_of(drafting(question, opinion, make(Area), make(Location), make(PullOff)))
    assert "The wait was too long (probable)." in said(section(sections, "summary"))
    assert "The wait was too long. Grade: probable." in said(section(sections, "opinions"))


def test_the_certification_sheet_has_the_digests_that_sha256_gives(tmp_path: Path) -> None:
    path = tmp_path / "p.jpg"
    path.write_bytes(b"bytes of a photograph")
    digest = hashlib.sha256(path.read_bytes()).hexdigest()
    results = Results(originals=(Original("photos/p.jpg", digest, path.stat().st_size),))
    sheet = section(sections_of(drafting(make(Area), results=results)), "certification")
    assert digest in cells(table(sheet, "originals"))
    assert "The program certifies nothing" in said(sheet)
    assert "other objections to its use stay open" in said(sheet)


# -- exhibits


def test_the_photo_log_has_every_photograph_in_order_with_its_digest() -> None:
    photos = [make(Photo, ref=f"PH-{n}", file=f"p{n}.jpg", caption="x") for n in (10, 2, 1)]
    results = Results(originals=(Original("p2.jpg", "ab" * 32, 3),))
    log = table(section(sections_of(drafting(*photos, results=results)), "photo_log"), "photo log")
    assert [plain(row.cells[0]) for row in log.rows] == ["PH-1", "PH-2", "PH-10"]
    assert [plain(row.cells[-1]) for row in log.rows] == ["not held", "ab" * 8, "not held"]


def test_the_register_lists_every_exhibit_with_its_state() -> None:
    kept = make(
        Exhibit, ref="EX-1", order=1, kind="substantive", of="photo PH-1", status="admitted"
    )
    gone = make(Exhibit, ref="EX-2", order=2, kind="summary", of="table x", withdrawn="superseded")
    draft = drafting(kept, gone, make(Photo, ref="PH-1", file="p.jpg", caption="The edge"))
    rows = [[plain(cell) for cell in row.cells] for row in register(draft, ()).rows]
    assert [row[:3] for row in rows] == [["EX-1", "The edge", "substantive"],
                                         ["EX-2", "table x", "summary"]]  # fmt: skip
    assert rows[0][6] == "admitted"
    assert rows[1][6].startswith("withdrawn: superseded")


def test_a_dimension_without_a_scale_has_no_length() -> None:
    mark = make(PhotoMark, ref="1", photo="PH-1", shape="dimension", points="0 0; 0.5 0")
    ends = ((0.0, 0.0), (100.0, 0.0))
    assert _measured(mark, ends, None) == "(no scale)"
    assert _measured(mark, ends, (0.5, "mm")) == "≈ 50 mm"


# -- the Word file


def document(path: Path, name: str = "word/document.xml") -> str:
    with zipfile.ZipFile(path) as package:
        return package.read(name).decode()


def test_contents_without_counted_pages_have_no_numbers(tmp_path: Path) -> None:
    out = tmp_path / "out.docx"
    write_report(dossier(make(Area)), out, setup=setup(), binding=Binding(numbered=False))
    assert "PAGEREF" not in document(out)
    assert 'TOC \\o "1-2" \\h \\z \\u \\n' in document(out)


@pytest.mark.parametrize("asked", [True, False])
def test_word_is_asked_to_update_its_fields_only_where_that_is_wanted(
    tmp_path: Path, *, asked: bool
) -> None:
    out = tmp_path / "out.docx"
    write_report(dossier(make(Area)), out, setup=setup(), binding=Binding(ask_word=asked))
    assert ("updateFields" in document(out, "word/settings.xml")) is asked


def test_what_rests_on_a_record_that_is_gone_is_told_before_the_report_is_sent() -> None:
    gone = make(PullOff, ref="P1", withdrawn="entered twice")
    draft = Draft(dossier(make(Area), gone), Results(), setup())
    behind = (gone.source, Source("pull_off", "P9"))
    words = Paragraph(text("It gave way."), sources=behind, name="n")
    told = [one.wrong for one in open_points(draft, [Section("x", "X", (words,))])]
    assert "it rests on P1, which was withdrawn" in told
    assert "it rests on P9, which is not in the case" in told
