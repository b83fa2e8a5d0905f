"""What the report says: facts with their records, planes in words, nothing claimed too much."""

import re
from collections.abc import Iterator
from dataclasses import replace
from functools import cache

import pytest
from bottling_hall import bottling_hall, computed
from builders import dossier, make
from report_made import Made, setup

from workbench.analysis.strength import strength_by_plane
from workbench.records import (
    TO_BE_WRITTEN,
    Area,
    CaseEntry,
    Coat,
    Document,
    Dossier,
    LabResult,
    Limit,
    Location,
    Opinion,
    Party,
    PullOff,
    Sample,
    Thickness,
    fields_of,
)
from workbench.report.blocks import Figure, Heading, Paragraph, Section, Table, Voice
from workbench.report.checks import open_points
from workbench.report.draft import Draft
from workbench.report.given import Form, Results
from workbench.report.text import See, Value, plain, sources_of
from workbench.report.wording import typeset
from workbench.report.writing import sections_of
from workbench.trade.showing import Showing, System


def drafted(
    records: Dossier, results: Results | None = None, **said: object
) -> tuple[Section, ...]:
    return sections_of(Draft(records, results or Results(), setup(**said)))


def words(sections: tuple[Section, ...]) -> Iterator[str]:
    for section in sections:
        for block in section.blocks:
            if isinstance(block, Paragraph):
                yield plain(block.text)
            if isinstance(block, Table):
                yield from (plain(cell) for row in block.rows for cell in row.cells)
                yield plain(block.note)
            if isinstance(block, Table | Figure):
                yield block.caption


TYPED = ("note", "kind", "source_text", "value", "name")


@cache
def verbatim() -> re.Pattern[str]:
    """Return what a person typed as words; the report repeats it and does not change it."""
    typed = {
        text
        for one in bottling_hall().everything()
        for name in TYPED
        if isinstance(text := getattr(one, name, None), str) and len(text) > 5
    }
    return re.compile("|".join(re.escape(text) for text in sorted(typed, key=len, reverse=True)))


def own_words(sections: tuple[Section, ...]) -> list[str]:
    """Return the words that the report adds to what was typed."""
    return [verbatim().sub("", text) for text in words(sections)]


def points(records: Dossier) -> list[str]:
    draft = Draft(records, Results(), setup())
    return [str(point) for point in open_points(draft, sections_of(draft))]


def test_all_sections_stand_in_their_order(report: Made) -> None:
    assert [section.key for section in report.sections] == [
        "summary", "questions", "background", "documents", "system", "survey", "field_tests",
        "samples", "laboratory", "reasoning", "opinions", "repair", "limits", "references",
        "signature",
        "readings", "photo_log", "custody", "methods", "instruments", "journal", "certification",
    ]  # fmt: skip


def test_every_statement_and_every_row_names_its_records(report: Made) -> None:
    draft = Draft(bottling_hall(), computed(), setup())
    untraced = [p for p in open_points(draft, report.sections) if "no source" in p.wrong
                or "names no record" in p.wrong]  # fmt: skip
    assert untraced == []


def test_every_source_in_the_report_is_a_record(report: Made) -> None:
    held = bottling_hall()
    for section in report.sections:
        for block in section.blocks:
            sources = list(getattr(block, "sources", ()))
            if isinstance(block, Table):
                sources += [source for row in block.rows for source in row.sources]
            missing = [source for source in sources if held.resolve(source) is None]
            assert missing == []


def test_a_plane_never_stands_as_letters_alone(report: Made) -> None:
    alone = re.compile(r"(?<![\w/-])[A-D]/[B-D](?!,|\)|\w)")
    assert [text for text in own_words(report.sections) if alone.search(text)] == []


def test_the_report_claims_no_conformity_and_no_certainty(report: Made) -> None:
    said = " ".join(words(report.sections))
    assert not re.search(r"compl(y|ies) with|conforms to|tamper-?proof|certainly|proves", said)


def test_opinions_stand_in_their_section_only(report: Made) -> None:
    for section in report.sections:
        voices = {b.voice for b in section.blocks if isinstance(b, Paragraph)}
        assert Voice.OPINION not in voices or section.key in ("opinions", "summary")


def test_every_number_in_a_sentence_about_strength_is_live(report: Made) -> None:
    (reasoning,) = [s for s in report.sections if s.key == "reasoning"]
    values = [piece.name for block in reasoning.blocks if isinstance(block, Paragraph)
              for piece in block.text if isinstance(piece, Value)]  # fmt: skip
    assert "strength failing C/D: in words" in values
    assert "strength non-failing C/D: in words" in values


def test_an_exclusion_that_nobody_has_confirmed_is_told_as_such(report: Made) -> None:
    (reasoning,) = [s for s in report.sections if s.key == "reasoning"]
    said = list(words((reasoning,)))
    assert "excluded\u00a0§" in said
    assert any("§ No person has confirmed this exclusion yet." in one for one in said)
    assert "excluded" not in said
    assert any("that no person has yet confirmed as excluded" in one for one in said)


def test_a_bound_is_said_in_words_and_never_as_what_every_pull_held(report: Made) -> None:
    (reasoning,) = [s for s in report.sections if s.key == "reasoning"]
    said = " ".join(words((reasoning,)))
    assert "the median there is at least 3.1 MPa" in said
    assert "the median of each is at least 0.97 MPa" in said
    assert "≥" not in said
    assert "each held" not in said


def test_every_table_and_figure_of_the_text_is_led_to_by_a_sentence(report: Made) -> None:
    cited = {
        piece.key
        for section in report.sections
        for block in section.blocks
        if isinstance(block, Paragraph)
        for piece in block.text
        if isinstance(piece, See)
    }
    shown = {
        f"{'table' if isinstance(block, Table) else 'figure'} {block.key}"
        for section in report.sections
        for block in section.blocks
        if isinstance(block, Figure) or (isinstance(block, Table) and not section.appendix)
    }
    assert shown
    assert shown - cited == set()


def test_no_heading_stands_below_one_that_is_not_there(report: Made) -> None:
    for section in report.sections:
        level = 1
        for block in section.blocks:
            if isinstance(block, Heading):
                assert block.level <= level + 1, block.words
                level = block.level


_MACHINE = re.compile(r"\b[a-z]+_[a-z_]+\b|\b[A-Z]/[A-Z]@|[a-z]=[a-z]|\bdeg[CF]\b|\d [cm]?m2\b")


def test_no_code_of_the_field_book_stands_among_the_words(report: Made) -> None:
    sections = tuple(one for one in report.sections if one.key != "journal")
    found = {code for said in words(sections) for code in _MACHINE.findall(typeset(said))}
    assert found == set()


def test_the_same_records_are_told_in_us_units_and_in_both() -> None:
    """What a gauge said stays in the unit of the gauge; what follows from it does not."""
    read = {Showing().entered(p.reading) for p in bottling_hall().all(PullOff) if p.reading}
    us = " ".join(said for said in own_words(told(System.US)) if said not in read)
    both = " ".join(own_words(told(System.BOTH)))
    assert "psi" in us
    assert re.findall(r".{40}\d\s(?:MPa|µm|°C)", us) == []
    assert re.search(r"MPa \(\d+ psi\)", both)


def told(system: System) -> tuple[Section, ...]:
    """Return all sections but the reasoning, whose sentences come in SI from their own room."""
    sections = drafted(bottling_hall(), computed(system), system=system)
    return tuple(section for section in sections if section.key != "reasoning")


def test_the_short_form_lists_what_it_leaves_out_and_refers_to_it_in_words() -> None:
    short = drafted(bottling_hall(), computed(), form=Form.SHORT)
    full = drafted(bottling_hall(), computed())
    left = {s.title for s in full} - {s.title for s in short}
    said = list(words(short))
    assert left
    (told,) = [one for one in said if one.startswith("This is the short form.")]
    assert all(title[1:] in told for title in left)
    assert any("of the full report" in text for text in said)
    draft = Draft(bottling_hall(), computed(), setup(form=Form.SHORT))
    assert [p for p in open_points(draft, short) if "leads nowhere" in p.wrong] == []


def test_an_empty_case_still_has_every_section() -> None:
    sections = drafted(dossier())
    assert all(section.blocks for section in sections)
    assert "No field test is recorded." in list(words(sections))


def test_an_unknown_time_of_sampling_is_told_as_not_known() -> None:
    said = drafted(dossier(make(Sample, ref="S-1", kind="film")))
    (samples,) = [s for s in said if s.key == "samples"]
    (table,) = [b for b in samples.blocks if isinstance(b, Table)]
    assert "not known" in plain(table.rows[0].cells[4])


def test_digits_stay_as_they_were_recorded() -> None:
    result = make(LabResult, value="50.0 degC", quantity="tg_first", deviation="none")
    said = " ".join(words(drafted(dossier(make(Sample), result))))
    assert "50.0 °C" in said


def test_a_result_of_an_outside_laboratory_is_marked_and_one_of_our_own_is_not() -> None:
    outside = make(LabResult, ref="R1", laboratory="Elsewhere", deviation="none")
    own = make(LabResult, ref="R2", quantity="voids", value="few", deviation="none")
    sections = drafted(dossier(make(Sample), outside, own))
    marks = {
        piece.shown: piece.outside
        for section in sections
        for block in section.blocks
        if isinstance(block, Table) and block.key == "laboratory results"
        for row in block.rows
        for cell in row.cells
        if not isinstance(cell, str)
        for piece in cell
        if isinstance(piece, Value)
    }
    assert marks == {"yes": "outside", "few": ""}


def test_documents_never_received_are_named_among_the_limits() -> None:
    said = drafted(dossier(make(Document, ref="D1", name="Pour cards", status="lost")))
    (limits,) = [s for s in said if s.key == "limits"]
    assert any(
        "Pour cards (D1)" in plain(b.text) for b in limits.blocks if isinstance(b, Paragraph)
    )


def test_results_relate_only_to_the_items_tested(report: Made) -> None:
    assert any(
        "relate only to the places and items tested" in text for text in words(report.sections)
    )


QUESTION = make(CaseEntry, key="question 1", value="Why did it part?")
OPINION = make(Opinion, ref="O1", question="1", opinion="it parted at the primer", by="A. N. Other",
               grade="probable", basis="pull_off P1", against="none found", limits="none",
               range_of_opinion="no range known", signed="2026-02-01")  # fmt: skip


def test_an_opinion_answers_its_question_and_shows_what_it_rests_on() -> None:
    case = dossier(QUESTION, OPINION, make(Area), make(Location), make(PullOff))
    said = list(words(drafted(case)))
    assert any(
        text.startswith("In my opinion: It parted at the primer. Grade: probable.") for text in said
    )
    assert "Evidence against. None found." in said
    assert not [p for p in points(case) if p.startswith("opinions")]


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ({"basis": ""}, "nothing is said of its basis"),
        ({"basis": "pull_off P9"}, "its basis “pull_off P9” is no record"),
        ({"against": ""}, "nothing is said of its evidence against"),
        ({"limits": ""}, "nothing is said of its limits"),
        ({"range_of_opinion": ""}, "nothing is said of its range of opinion"),
        ({"signed": None}, "it is drafted and unsigned"),
        ({"signed": None, "opinion": f"{TO_BE_WRITTEN} why."}, "it is not written to the end"),
        ({"question": "7"}, "it answers no question that was put"),
        ({"opinion": "this proves neglect"}, "“proves” claims more than a method can give"),
    ],
)
def test_a_gap_in_an_opinion_is_an_open_point(change: dict[str, str], told: str) -> None:
    whole = {info.name: getattr(OPINION, info.name) for info in fields_of(Opinion)}
    opinion = Opinion(**(whole | change))
    case = dossier(QUESTION, opinion, make(Area), make(Location), make(PullOff))
    assert any(told in point for point in points(case))


def test_a_draft_that_nobody_signed_is_told_as_one_wherever_it_stands() -> None:
    unsigned = replace(OPINION, signed=None)
    said = list(words(drafted(dossier(QUESTION, unsigned, make(Area), make(Location)))))
    assert len([text for text in said if text.startswith("Drafted, unsigned: It parted")]) == 2
    assert not any("In my opinion" in text for text in said)


def test_results_without_a_deviation_are_counted_apart_from_those_that_do_not_say() -> None:
    said = ("none", "none", "")
    results = (make(LabResult, ref=f"R{at}", deviation=one) for at, one in enumerate(said, 1))
    told = list(words(drafted(dossier(make(Sample), *results))))
    assert (
        "For two results of three it is recorded that there was no deviation from the method."
        in told
    )
    assert any(
        one.startswith("For one result nothing is recorded about deviations") for one in told
    )


def test_a_question_without_an_opinion_is_an_open_point() -> None:
    assert any("no opinion answers it" in point for point in points(dossier(QUESTION)))


def test_a_blank_deviation_hinders_and_none_does_not() -> None:
    blank, none = (
        make(LabResult, ref=ref, deviation=said) for ref, said in (("R1", ""), ("R2", "none"))
    )
    told = [p for p in points(dossier(make(Sample), blank, none)) if "deviations" in p]
    assert len(told) == 1
    assert "R1" in told[0]


def test_a_practice_without_an_address_hinders() -> None:
    nobody = points(dossier(make(Party, name="A", role="investigator")))
    somebody = points(dossier(make(Party, name="A", role="investigator", contact="12 High St")))
    assert any("name and address" in point for point in nobody)
    assert not any("name and address" in point for point in somebody)


PULLS = (make(PullOff, ref="P-1", reading="0.9 MPa", breaks="A/B 100"),)


def test_a_stress_that_is_the_reading_keeps_its_digits() -> None:
    draft = Draft(dossier(make(Area), make(Location), *PULLS), Results(), setup())
    assert draft.values.stress(PULLS[0]) == "0.9 MPa"


def test_an_area_whose_name_ends_with_its_ref_is_named_once() -> None:
    areas = (make(Area, ref="T4", name="Piece T4"), make(Area, ref="B", name="Block B, balcony 9"))
    draft = Draft(dossier(*areas), Results(), setup())
    assert draft.named(areas) == "Piece T4 and Block B, balcony 9 (B)"


def test_the_specified_thickness_is_a_limit_a_range_or_a_nominal_value() -> None:
    coat = make(Coat, system="S", order=1, dft_nominal="60 um")
    area, place = make(Area, ref="A1", system="S"), make(Location, ref="L1", area="A1")
    limit = make(Limit, quantity="dft_total", minimum="120 um", source_text="contract")
    spots = [
        make(Thickness, ref=ref, location="L1", layer=layer, readings=read, unit="um")
        for ref, layer, read in (("T-1", "1", "58; 74"), ("T-2", "total", "130"))
    ]
    held = dossier(area, place, coat, limit, *spots)
    table = next(
        block
        for section in drafted(held)
        for block in section.blocks
        if isinstance(block, Table) and block.key == "thickness by layer"
    )
    assert {plain(row.cells[-1]) for row in table.rows} == {"nominal 60", "at least 120"}


def test_no_code_of_the_field_book_stands_in_the_report(report: Made) -> None:
    code = re.compile(r"\b[a-z]+_[a-z_]+\b|\bREAD\b|[A-Z]/[A-Z]@[A-Z]|recoat-window-exceeded")
    found = {word for text in own_words(report.sections) for word in code.findall(text)}
    assert found == set()


@pytest.mark.parametrize("form", Form)
def test_the_summary_says_what_the_grade_means_and_that_it_is_provisional(form: Form) -> None:
    (summary,) = [s for s in drafted(bottling_hall(), computed(), form=form) if s.key == "summary"]
    said = " ".join(words((summary,)))
    assert "“established” means: direct evidence, a contrast with sound coating" in said
    assert "no person has yet confirmed as excluded" in said


def test_what_a_method_can_and_cannot_tell_is_said_once(report: Made) -> None:
    said = [text for text in words(report.sections) if "Chlorides have no infrared bands" in text]
    assert len(said) == 1


def test_a_time_between_coats_stands_in_one_table_only(report: Made) -> None:
    tables = {b.key: b for s in report.sections for b in s.blocks if isinstance(b, Table)}
    assert len(tables["intervals"].rows) == 18
    others = [plain(cell) for row in tables["deviations"].rows for cell in row.cells]
    assert not any("interval to the next coat" in one for one in others)


def test_trials_of_failing_and_of_sound_areas_stand_in_rows_of_their_own(report: Made) -> None:
    tables = {b.key: b for s in report.sections for b in s.blocks if isinstance(b, Table)}
    for row in tables["trials"].rows:
        told = int(plain(row.cells[3]).rpartition(" of ")[2])
        assert told <= int(plain(row.cells[2])) == len(row.sources)


def test_comparisons_say_how_many_and_what_chance_may_do(report: Made) -> None:
    tables = {b.key: b for s in report.sections for b in s.blocks if isinstance(b, Table)}
    rows = [[plain(cell) for cell in row.cells] for row in tables["comparisons"].rows]
    (parting,) = [r for r in rows if "C/D" in r[0] and r[1] == "failing against non-failing"]
    assert parting[2:] == ["18 and 17", "ratio ≤ 0.250", "< 0.001", "unlikely"]
    (controls,) = [r for r in rows if "C/D" in r[0] and r[1] == "failing against control"]
    assert controls[-1] == "unlikely among readings, possible among areas"


def test_each_finding_on_a_retained_cause_stands_with_its_own_records(report: Made) -> None:
    (reasoning,) = [s for s in report.sections if s.key == "reasoning"]
    items = [b for b in reasoning.blocks if isinstance(b, Paragraph) and b.voice is Voice.ITEM
             and plain(b.text).startswith("(")]  # fmt: skip
    assert len(items) > 15
    assert all(sources_of(one.text) for one in items)


def test_the_usual_remedy_of_a_cause_that_is_held_is_drafted_to_be_edited(report: Made) -> None:
    (repair,) = [s for s in report.sections if s.key == "repair"]
    usual = {b.name: plain(b.text) for b in repair.blocks if isinstance(b, Paragraph) and b.name}
    assert "abrade, patch test and recoat" in usual["repair: usual recoat-window-exceeded"]


def test_a_share_below_the_whole_never_reads_as_the_whole(report: Made) -> None:
    said = " ".join(words(report.sections))
    assert "18 pull-offs parted 99 % of the face at C/D" in said
    assert "34 knife tests and openings parted 100 % of the face at C/D" in said


def test_a_wait_and_its_limit_are_told_in_one_unit(report: Made) -> None:
    said = " ".join(words(report.sections))
    assert "Body SF to Seal AP 139 h, maximum 59 h" in said


def test_a_case_in_which_nothing_fails_recommends_nothing() -> None:
    (repair,) = (one for one in drafted(dossier()) if one.key == "repair")
    assert [plain(block.text) for block in repair.blocks if isinstance(block, Paragraph)] == [
        "No area is recorded as failing, so nothing is recommended."
    ]


def test_what_is_sound_within_a_failing_area_is_left_to_tests() -> None:
    areas = (
        make(Area, ref="A1", condition="failing"),
        make(Area, ref="E12", condition="control", within="A1", name="Etch-primed"),
    )
    pulls = [
        make(PullOff, ref=f"P-{n}", reading="1 MPa", fixture="20 mm", breaks="A/B 100")
        for n in range(3)
    ]
    held = dossier(*areas, make(Coat), make(Location, area="A1"), *pulls)
    strength = strength_by_plane(held)
    (repair,) = (one for one in drafted(held, Results(strength=strength)) if one.key == "repair")
    told = " ".join(plain(one.text) for one in repair.blocks if isinstance(one, Paragraph))
    assert "Whether it stays on Etch-primed (E12), within them, is to be decided by tests." in told


def test_no_mixture_is_suspected_in_the_noise_of_like_spectra(report: Made) -> None:
    tables = {b.key: b for s in report.sections for b in s.blocks if isinstance(b, Table)}
    for row in tables["spectra compared"].rows:
        alike, may_mean = plain(row.cells[2]), plain(row.cells[5])
        assert alike != "> 0.999" or "mixture" not in may_mean
