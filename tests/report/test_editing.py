"""The investigator's words survive new data, their numbers follow it, and they say when stale."""

from dataclasses import replace

from builders import dossier, make
from report_made import setup

from workbench.records import Area, Dossier, EditedText, Location, PullOff, Quantity
from workbench.report.blocks import Paragraph, Section, Voice
from workbench.report.checks import open_points
from workbench.report.draft import Draft
from workbench.report.editing import new_edit
from workbench.report.given import Results
from workbench.report.text import plain
from workbench.report.writing import sections_of

PULL = make(PullOff, ref="P1", reading="2.0 MPa", breaks="A 100", date="2024-11-12")
CASE = dossier(make(Area), make(Location), PULL)
NAME = "field tests: pull-offs"


def drafting(case: Dossier) -> Draft:
    return Draft(case, Results(), setup())


def paragraph(sections: tuple[Section, ...], name: str) -> Paragraph:
    (found,) = [
        b for s in sections for b in s.blocks if isinstance(b, Paragraph) and b.name == name
    ]
    return found


def edited(words: str) -> EditedText:
    draft = drafting(CASE)
    return new_edit(draft, paragraph(sections_of(draft), NAME), words, "R. Tennick")


def after(edit: EditedText, *more: PullOff) -> Paragraph:
    return paragraph(sections_of(drafting(CASE.with_records([edit, *more]))), NAME)


def test_an_edit_takes_the_place_of_the_draft_and_is_not_stale_while_nothing_changes() -> None:
    shown = after(edited("One pull gave {pull_off P1: stress}."))
    assert plain(shown.text) == "One pull gave 2.0 MPa."
    assert (shown.stale, shown.edited_by) == ("", "R. Tennick")


def test_a_number_in_an_edit_follows_its_record_and_the_paragraph_is_stale() -> None:
    changed = replace(PULL, reading=Quantity.read("1.1 MPa"))
    shown = after(edited("One pull gave {pull_off P1: stress}."), changed)
    assert plain(shown.text) == "One pull gave 1.1 MPa."
    assert "have changed since R. Tennick wrote it" in shown.stale


def test_new_data_that_changes_the_draft_makes_an_edit_stale_and_shows_the_draft() -> None:
    shown = after(edited("There was one pull."), make(PullOff, ref="P2"))
    assert plain(shown.text) == "There was one pull."
    assert "drafted anew it would read: “Two pull-offs were made" in shown.stale


def test_a_stale_paragraph_hinders_the_issue() -> None:
    case = CASE.with_records([edited("There was one pull."), make(PullOff, ref="P2")])
    draft = drafting(case)
    stale = [p for p in open_points(draft, sections_of(draft)) if p.place == NAME]
    assert [p.hinders for p in stale] == [True]


def test_an_added_paragraph_stands_at_the_end_of_its_section_in_its_own_voice() -> None:
    edit = EditedText(paragraph="report survey: added 1", text="Inference: it was wet.", by="A")
    sections = sections_of(drafting(CASE.with_records([edit])))
    (survey,) = [s for s in sections if s.key == "survey"]
    last = survey.blocks[-1]
    assert isinstance(last, Paragraph)
    assert (plain(last.text), last.voice) == ("it was wet.", Voice.INFERENCE)


def test_words_with_braces_of_their_own_are_kept() -> None:
    shown = after(edited("See {{drawing}} A."))
    assert plain(shown.text) == "See {drawing} A."
