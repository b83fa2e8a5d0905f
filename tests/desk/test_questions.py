"""What the window asks of the records: focus, layers, search, tables, site."""

import pytest
from builders import dossier, make
from hypothesis import given
from hypothesis import strategies as st

from workbench.analysis.strength import strength_by_plane
from workbench.analysis.strength.words import strength_words
from workbench.desk.questions.chapters import kinds_of, plural
from workbench.desk.questions.course import course_of
from workbench.desk.questions.focus import Focus, FocusIndex
from workbench.desk.questions.layers import layers_of
from workbench.desk.questions.open_points import open_points
from workbench.desk.questions.search import SearchIndex
from workbench.desk.questions.site import site_of
from workbench.desk.questions.tables import columns_of, natural, words
from workbench.records import (
    KINDS,
    Application,
    Area,
    AreaEvent,
    Coat,
    CustodyEntry,
    Discrepancy,
    Document,
    Location,
    Photo,
    Plane,
    PullOff,
    Rating,
    Record,
    Sample,
    SitePlan,
    Thickness,
    Weather,
)
from workbench.records.codes import Chapter, Condition
from workbench.trade.showing import Showing, System

SYSTEM = (
    make(Coat, order=0, material="concrete"), make(Coat, order=1),
    make(Coat, order=2, product="Seal"),
)  # fmt: skip
BAYS = (
    make(Area, ref="B1", name="Bay 1"),
    make(Area, ref="B2", name="Bay 2", condition="non-failing"),
    make(Area, ref="B1a", name="Strip", within="B1"),
    make(Location, ref="L1", area="B1"),
    make(Location, ref="L2", area="B2"),
    make(Location, ref="L3", area="B1a"),
)


def shown(focus: Focus, *records: object) -> list[str]:
    held = dossier(*SYSTEM, *BAYS, *records)  # type: ignore[arg-type]
    index = FocusIndex(held)
    return [one.label for one in records if index.takes(focus, one)]  # type: ignore[attr-defined,arg-type]


def test_a_place_takes_in_what_lies_in_it_and_in_what_lies_in_it() -> None:
    pulls = [make(PullOff, ref=f"P{n}", location=f"L{n}") for n in (1, 2, 3)]
    assert shown(Focus(frozenset({"B1"})), *pulls) == ["P1", "P3"]
    assert shown(Focus(frozenset({"B1a"})), *pulls) == ["P3"]
    assert shown(Focus(frozenset({"B1", "B2"})), *pulls) == ["P1", "P2", "P3"]


def test_a_sample_of_a_sample_lies_where_the_first_was_taken() -> None:
    taken = make(Sample, ref="S1", at="L2")
    part = make(Sample, ref="S1a", parent="S1")
    assert shown(Focus(frozenset({"B2"})), taken, part) == ["S1", "S1a"]
    assert shown(Focus(frozenset({"B1"})), taken, part) == []


def test_what_speaks_of_no_place_belongs_to_every_place() -> None:
    paper = make(Document, ref="D1", name="Specification", status="received")
    whole = make(Weather, time="2024-03-01 08:00")
    event = make(AreaEvent, event="in_service", start="2024-04-01")
    assert len(shown(Focus(frozenset({"B1"})), paper, whole, event)) == 3


def test_a_log_of_several_areas_belongs_to_each_of_them() -> None:
    row = make(Application, ref="AP", area="B1; B2", coat=1)
    assert shown(Focus(frozenset({"B2"})), row)
    assert not shown(Focus(frozenset({"B3"})), row)


def test_a_plane_takes_in_what_broke_there_and_the_layers_beside_it() -> None:
    records = (
        make(PullOff, ref="P1", breaks="B/C 90; C 10"),
        make(PullOff, ref="P2", breaks="A 100"),
        make(PullOff, ref="P3"),
        make(Rating, ref="R1", plane="B/C"),
        make(Thickness, ref="T2", layer="2"),
        make(Thickness, ref="T", layer="total"),
    )
    assert shown(Focus(plane=Plane("B/C")), *records) == ["P1", "R1", "T2"]


def test_a_share_of_nothing_is_no_break() -> None:
    assert not shown(Focus(plane=Plane("A")), make(PullOff, breaks="B/C 100; A 0"))


def test_the_focus_is_said_in_words() -> None:
    held = dossier(*SYSTEM, *BAYS)
    said = Focus(frozenset({"B1"}), Plane("B/C")).words(held)
    assert said == "B1 Bay 1 · B/C, epoxy to Seal"
    assert Focus().everything


def test_a_stack_has_its_planes_from_the_glue_down() -> None:
    stack = layers_of(dossier(*SYSTEM, *BAYS), "S", None, Showing())
    assert [line.plane.code for line in stack.lines] == ["Y", "C", "B/C", "B", "A/B", "A"]
    assert all("nothing is known" in line.line for line in stack.lines)


def test_the_plane_where_failing_pulls_broke_is_marked_and_said_in_one_line() -> None:
    pulls = [
        make(
            PullOff,
            ref=f"P{n}",
            location="L1",
            reading=f"0.{n} MPa",
            breaks="B/C 100",
            fixture="50 mm",
        )
        for n in range(4, 9)
    ]
    sound = [
        make(
            PullOff,
            ref=f"Q{n}",
            location="L2",
            reading=f"2.{n} MPa",
            breaks="A 100",
            fixture="50 mm",
        )
        for n in range(4, 9)
    ]
    held = dossier(*SYSTEM, *BAYS, *pulls, *sound)
    stack = layers_of(held, "S", strength_by_plane(held), Showing())
    worst = next(line for line in stack.lines if line.worst)
    assert worst.plane == Plane("B/C")
    assert worst.line.startswith("B/C, epoxy to Seal: parted here: failing 5 of 5, 0.6")
    assert "non-failing 0 of 5, ≥ 2." in worst.line
    assert len(worst.sources) == 10


@pytest.mark.parametrize("chapter", list(Chapter))
def test_every_record_type_stands_in_its_chapter_once(chapter: Chapter) -> None:
    there = kinds_of(chapter)
    assert set(there) == {kind for kind in KINDS if kind.chapter is chapter}
    assert len(there) == len(set(there))


@pytest.mark.parametrize(
    ("kind", "words_of_several"),
    [(PullOff, "Pull-offs"), (Thickness, "Thickness records"), (SitePlan, "Site plans")],
)
def test_several_records_are_called_so(kind: type, words_of_several: str) -> None:
    assert plural(kind) == words_of_several


def test_search_finds_what_is_called_so_before_what_only_says_it() -> None:
    held = dossier(
        make(PullOff, ref="P-1", note="as P-12"), make(PullOff, ref="P-12"),
        make(Document, ref="D", name="wash log", status="received"),
    )  # fmt: skip
    found = SearchIndex(held).search("p-12")
    assert [one.record.label for one in found] == ["P-12", "P-1"]
    assert found[1].said == "note: as P-12"
    assert SearchIndex(held).search("WASH")[0].record.label == "D"
    assert not SearchIndex(held).search("   ")


def test_search_finds_the_words_of_a_code_without_its_underscores() -> None:
    held = dossier(make(Coat, material="polyurethane_aliphatic"))
    assert SearchIndex(held).search("polyurethane aliphatic")


@given(st.lists(st.integers(0, 3000), unique=True))
def test_names_sort_by_their_numbers(numbers: list[int]) -> None:
    refs = sorted((f"P-{n}" for n in numbers), key=natural)
    assert refs == [f"P-{n}" for n in sorted(numbers)]
    assert sorted(["", "B", "a"], key=natural) == ["a", "B", ""]


def test_codes_are_shown_without_underscores_and_other_words_as_they_are() -> None:
    assert words("daily_log") == "daily log"
    assert words("A_1 of DOC_2") == "A_1 of DOC_2"
    assert words(None) == ""


def test_numbers_are_shown_in_the_units_chosen_and_keep_their_digits() -> None:
    held = dossier(make(Coat, dft_nominal="50.0 um"))

    def said(system: System) -> str:
        columns = columns_of(held, Coat, Showing(system))
        column = next(one for one in columns if one.heading == "dft nominal")
        return column.text(held.all(Coat)[0])

    assert said(System.SI) == "50.0 µm"
    assert said(System.US) == "2.0 mil"


def test_a_column_in_which_only_zeros_stand_is_not_blank() -> None:
    held = dossier(make(PullOff, ref="P1", on=0), make(PullOff, ref="P2", on=0))
    columns = {one.heading: one for one in columns_of(held, PullOff, Showing())}
    assert not columns["on"].is_blank(held.all(PullOff))
    assert columns["note"].is_blank(held.all(PullOff))


def test_a_spot_says_the_weakest_pull_and_where_it_broke() -> None:
    there = make(Location, ref="L9", area="B1", x="1 m", y="2 m")
    held = dossier(
        *SYSTEM, *BAYS, there,
        make(PullOff, ref="P1", location="L9", reading="2 MPa", breaks="A 100"),
        make(PullOff, ref="P2", location="L9", reading="0.4 MPa", breaks="B/C 80; C 20"),
        make(PullOff, ref="P3", location="L9", reading="0.1 MPa", breaks="A 100", on=0),
    )  # fmt: skip
    site = site_of(held)
    (spot,) = site.spots
    assert (spot.mpa, spot.plane) == (0.4, Plane("B/C"))  # a stripped coat is another film
    assert "L1" in site.unplaced


def test_the_strip_of_layers_says_the_strength_that_the_command_says() -> None:
    pulls = [
        make(PullOff, ref=f"P{n}", reading=text, breaks="A/B 80; B/C 20", fixture="50 mm")
        for n, text in enumerate(("7.7 MPa", "2.7 MPa", "2.9 MPa", "2.8 MPa", "3.8 MPa", "2.6 MPa"))
    ]
    held = dossier(*SYSTEM, *BAYS, *pulls)
    found = strength_by_plane(held)
    stack = layers_of(held, "S", found, Showing())
    for line in stack.lines:
        group = found.group(Condition.FAILING, line.plane)
        if group and line.known:
            assert line.known[0].spoken == strength_words(group, Showing())
    assert any("(" in line.known[0].spoken for line in stack.lines if line.known)
    assert [line.plane for line in stack.lines if line.worst] == [Plane("A/B")]


def test_places_with_x_and_y_exchanged_are_one_point_that_names_them_all() -> None:
    area = make(Area, ref="A9", outline="0 0; 12 0; 12 3; 0 3")
    exchanged = [make(Location, ref=f"L{n}", area="A9", x=f"{n} m", y="9 m") for n in (1, 2)]
    off = make(Location, ref="L3", area="A9", x="40 m", y="40 m")
    two = [one for one in open_points(dossier(area, *exchanged, off)) if "outside" in one.words]
    assert [one.about for one in two] == ["L1, L2", "L3"]
    assert two[0].words == "L1, L2: outside the area as written, inside it with x and y exchanged"
    (one,) = (p for p in open_points(dossier(area, exchanged[0])) if "outside" in p.words)
    assert one.words.endswith("with x and y exchanged it is inside")


def test_hundreds_of_photographs_without_a_place_are_one_point() -> None:
    photos = [make(Photo, ref=f"PH-{n}", file=f"photos/{n}.jpg", at="") for n in range(1, 301)]
    said = {one.words: one for one in open_points(dossier(*photos)) if "photograph" in one.words}
    assert list(said) == ["300 photographs have no place"]
    assert len(said["300 photographs have no place"].sources) == 300
    (single,) = (p for p in open_points(dossier(photos[0])) if "photograph" in p.words)
    assert (single.words, single.remedy) == ("photograph PH-1 has no place", "give it its place")


def test_files_that_are_gone_are_named_and_beyond_the_first_few_counted() -> None:
    photos = [make(Photo, ref=f"PH-{n}", file=f"{n}.jpg", at="A9") for n in range(1, 9)]
    points = open_points(dossier(*photos), kept=lambda _name: None)
    (gone,) = (one for one in points if "not in the case" in one.words)
    assert gone.words == (
        "the files 1.jpg, 2.jpg, 3.jpg, 4.jpg, 5.jpg, 6.jpg and 2 more are not in the case"
    )


def test_the_course_of_a_case_is_all_that_has_a_date_the_same_of_a_day_once() -> None:
    held = dossier(
        make(Document, ref="D1", name="Specification", status="received", dated="2019",
             received="2024-02-01"),
        make(PullOff, ref="P1", date="2024-01-05"), make(PullOff, ref="P2", date="2024-01-05"),
        make(AreaEvent, area="A1", event="in_service", start="2023-06", end="2024-01-09 10:00"),
    )  # fmt: skip
    course = course_of(held)
    assert [(one.when, one.what) for one in course] == [
        ("2019", "document, dated"), ("2023-06", "event, start"),
        ("2024-01-05", "2 pull-offs, date"), ("2024-01-09 10:00", "event, end"),
        ("2024-02-01", "document, received"),
    ]  # fmt: skip
    assert (course[0].about, course[0].says) == ("D1", "Specification")
    assert [str(one) for one in course[2].sources] == ["pull_off P1", "pull_off P2"]


def test_the_course_says_what_was_applied_where_and_when_and_what_the_weather_was() -> None:
    held = dossier(
        make(Area, ref="A1", system="S"), make(Coat, order=2, product="Finish", system="S"),
        make(Application, ref="AP-0", area="A1", coat=0, start="2024-05-20 07:00", method="blast"),
        make(Application, ref="AP-2", area="A1", coat=2, start="2024-05-24 18:30",
             method="airless"),
        make(Weather, time="2024-05-24 09:00", area="A1", air="18 °C", humidity="62 %"),
        make(Weather, time="2024-05-24 14:00", surface="16 °C", rain="yes"),
    )  # fmt: skip
    assert [(one.when, one.says) for one in course_of(held)] == [
        ("2024-05-20 07:00", "preparation, on A1, blast"),
        ("2024-05-24 09:00 to 14:00", "air 18 °C, humidity 62 %, at A1; surface 16 °C, rain"),
        ("2024-05-24 18:30", "coat 2, Finish, on A1, airless"),
    ]


def test_pull_offs_on_trial_patches_alone_are_told() -> None:
    washed = make(PullOff, ref="P-1", treatment="washed")
    held = dossier(make(Area), make(Location), washed)
    (told,) = [one for one in open_points(held) if "trial patch" in one.words]
    assert told.grave
    more = held.with_records([make(PullOff, ref="P-2", treatment="as_found", location="L9")])
    assert not [one for one in open_points(more) if "trial patch" in one.words]


def test_a_slip_is_to_be_corrected_and_too_few_tests_are_made_up_by_tests() -> None:
    area = make(Area, size="40 m2", outline="0 0; 4 0; 4 3; 0 3")
    held = dossier(area, make(Location), make(PullOff, reading="2 MPa", breaks="A 100"))
    points = {one.rule: one for one in open_points(held) if one.rule}
    slip, few = points["size and outline differ"], points["too few tests in the area"]
    assert slip.remedy == "correct it, or answer it with a reason"
    assert slip.chapter is Chapter.BACKGROUND
    assert few.chapter is Chapter.FIELD_TESTS


def words_of_open(*records: Record) -> list[str]:
    return [one.words for one in open_points(dossier(*records))]


def test_nothing_sound_to_compare_with_is_an_open_point_of_survey_and_of_samples() -> None:
    failing = make(Area, ref="A1", condition="failing")
    holds = make(Area, ref="A2", condition="non-failing")
    area = "no non-failing or control area is recorded to compare the failing with"
    sample = "no sample was taken of coating that holds, nor as a control"
    one, other = make(Sample, ref="S-1", at="A1"), make(Sample, ref="S-2", at="A2")
    control = make(Sample, ref="S-3", at="A1", purpose="control")
    assert {area, sample} <= set(words_of_open(failing, one))
    assert area not in words_of_open(failing, holds)
    assert sample not in words_of_open(failing, holds, one, other)
    assert sample not in words_of_open(failing, one, control)
    assert not {area, sample} & set(words_of_open(holds, other))


@pytest.mark.parametrize(
    ("said", "is_open"),
    [
        ({}, True),
        ({"seal": "441"}, False),
        ({"note": "too large to seal; locked store"}, False),
        ({"parent": "S-0"}, False),
        ({"purpose": "blank"}, False),
    ],
)
def test_a_sample_from_site_that_never_had_a_seal_is_an_open_point(
    said: dict[str, str], is_open: bool
) -> None:
    sample = make(Sample, ref="S-1", at="A1", **said)
    assert ("no seal is recorded on sample S-1" in words_of_open(sample)) is is_open
    sealed = make(
        CustodyEntry, sample="S-1", seal="441", when="2024-01-02T10:00Z", event="collected"
    )
    assert "no seal is recorded on sample S-1" not in words_of_open(sample, sealed)


@pytest.mark.parametrize(
    ("more", "words", "remedy"),
    [
        ({}, "nobody is recorded as asked", "ask, and enter whom and when"),
        ({"asked": "Ann", "asked_when": "2026-03-03"}, "Ann was asked on 2026-03-03, no answer",
         "remind, or enter"),
        ({"asked": "Ann", "answer": "it is S1"}, "answered, and not decided", "what was decided"),
    ],
)  # fmt: skip
def test_a_discrepancy_is_open_until_it_is_decided_and_says_how_far_it_came(
    more: dict[str, str], words: str, remedy: str
) -> None:
    said = {"ref": "D1", "samples": "S1", "kind": "label_differs", "found": "2026-03-03 09:10"}
    one = make(Discrepancy, **said, words="label says S2", **more)
    (point,) = [p for p in open_points(dossier(one)) if p.sources == (one.source,)]
    assert f"label says S2: {words}" in point.words
    assert remedy in point.remedy
    decided = make(Discrepancy, **said, words="x", answer="it is S1", decision="go_on")
    assert not [p for p in open_points(dossier(decided)) if p.sources == (decided.source,)]
