"""Entering: what forms and rows read, what a new row takes over, how shares are set."""

import pytest
from builders import dossier, make
from hypothesis import given
from hypothesis import strategies as st

from workbench.desk.entering import (
    is_untouched,
    left_over,
    next_row,
    planes_of_system,
    with_share,
)
from workbench.desk.entry import choices, name_of, read_record, texts_of
from workbench.records import (
    Area,
    Breaks,
    Coat,
    Location,
    Photo,
    Plane,
    PullOff,
    Rating,
    SurveyEntry,
    fields_of,
)

HELD = dossier(make(Area), make(Location), make(PullOff, ref="P-09", fixture="50 mm", glue="epoxy"))
GIVEN = {"ref": "P-10", "location": "L1", "method": "ASTM D4541"}


def test_a_form_that_can_be_read_says_a_record() -> None:
    typed = read_record(PullOff, GIVEN | {"reading": "350 psi", "breaks": "A 60; B 40"}, HELD)
    assert typed.record
    assert texts_of(typed.record)["reading"] == "350 psi"
    assert typed.record.origin == "entered by hand"


def test_a_decimal_comma_is_read_as_in_a_field_book() -> None:
    typed = read_record(PullOff, GIVEN | {"reading": "2,4 MPa"}, HELD)
    assert typed.record
    assert texts_of(typed.record)["reading"] == "2.4 MPa"


@pytest.mark.parametrize(
    ("name", "text"),
    [("location", ""), ("location", "L2"), ("method", "a stick"), ("reading", "-1 MPa"),
     ("breaks", "A 60"), ("date", "12.11.2024"), ("instrument", "PG-9")],
)  # fmt: skip
def test_a_field_that_cannot_be_read_is_named_with_what_would_be_right(
    name: str, text: str
) -> None:
    typed = read_record(PullOff, GIVEN | {name: text}, HELD)
    assert typed.record is None
    assert set(typed.wrong) == {name}
    assert typed.wrong[name].right


def test_a_change_keeps_who_the_record_is_and_clears_what_was_cleared() -> None:
    before = HELD.all(PullOff)[0]
    typed = read_record(PullOff, texts_of(before) | {"glue": "", "note": "x"}, HELD, before)
    after = typed.record
    assert isinstance(after, PullOff)
    assert (after.id, after.glue, after.note) == (before.id, "", "x")


def test_a_photograph_is_named_by_its_ref_and_without_one_by_its_file() -> None:
    first = make(Photo, ref="PH-1", file="photos/a.jpg")
    second = make(Photo, file="photos/b.jpg")
    held = HELD.with_records([first, second])
    info = next(one for one in fields_of(SurveyEntry) if one.name == "photo")
    assert choices(SurveyEntry, info, held) == ("PH-1", "photos/b.jpg")
    assert name_of(first) == "PH-1"
    texts = {"ref": "V1", "at": "A1", "form": "delamination"}
    assert read_record(SurveyEntry, texts | {"photo": "PH-1"}, held).record
    assert not read_record(SurveyEntry, texts | {"photo": "PH-2"}, held).record


def test_a_new_row_takes_what_stays_the_same_and_the_next_ref() -> None:
    row = next_row(PullOff, HELD, [])
    assert row == {"ref": "P-10", "method": "ASTM D4541", "fixture": "50 mm", "glue": "epoxy"}
    assert is_untouched(row)
    row |= {"location": "L1", "reading": "1 MPa", "glue": "other"}
    assert not is_untouched(row)
    after = next_row(PullOff, HELD, [row])
    assert (after["ref"], after["glue"], after.get("reading")) == ("P-11", "other", None)


def test_the_first_row_of_an_empty_case_begins_a_count() -> None:
    assert next_row(Rating, dossier(), [])["ref"] == "R-01"


def test_a_pull_may_break_in_every_plane_of_its_system_and_in_the_glue() -> None:
    system = (make(Coat, order=0, material="concrete"), make(Coat, order=1))
    planes = [plane.code for plane in planes_of_system(system)]
    assert planes == ["Y/Z", "Y", "-/Y", "B", "A/B", "A"]


def test_a_share_never_takes_more_than_the_others_leave() -> None:
    breaks = with_share(None, Plane("A/B"), 70)
    breaks = with_share(breaks, Plane("B"), 50)
    assert str(breaks) == "A/B 70; B 30"
    assert left_over(breaks) == 0
    breaks = with_share(breaks, Plane("A/B"), 20)
    assert str(breaks) == "A/B 20; B 30"
    assert str(with_share(breaks, Plane("A/B"), 0)) == "B 30"
    assert with_share(Breaks.read("B 30"), Plane("B"), 0) is None


PLANES = [Plane(code) for code in ("A", "A/B", "B", "-/Y", "Y")]


@given(st.lists(st.tuples(st.sampled_from(PLANES), st.floats(-20, 140)), max_size=12))
def test_whatever_is_clicked_the_shares_stay_a_face(steps: list[tuple[Plane, float]]) -> None:
    breaks: Breaks | None = None
    for plane, percent in steps:
        breaks = with_share(breaks, plane, percent)
    assert -1e-9 <= left_over(breaks) <= 100
    if breaks:
        assert all((share.percent or 0) > 0 for share in breaks.shares)
