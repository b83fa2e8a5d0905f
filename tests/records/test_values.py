"""The value types: what they read, what they refuse, and that they say what they read."""

import pytest
from builders import WRITTEN_TYPES

from workbench.records import (
    Breaks,
    Face,
    Features,
    Outcome,
    Outline,
    Plane,
    Points,
    Quantity,
    Readings,
    When,
    read_sources,
)
from workbench.records.planes import PlaneKind
from workbench.records.written import NotUnderstoodError, Written

SAMPLES = {
    "Quantity": ["50.0", "350 psi", "-3 degC", "2.4e3 N", "8 mil"],
    "Outcome": ["12.1 pH", "none", "3"],
    "Readings": ["690; 700; 655", "mean 690; min 560; max 900; n 40"],
    "When": ["2019", "2019-02", "2019-02-08", "2019-02-08 14:30", "2019-02-08 14:30+01:00"],
    "Plane": ["A", "A/B", "B", "B/C", "-/Y", "Y", "Y/Z"],
    "Breaks": ["A/B 60; B 30; Y 10", "B/C 95; ? 5", "B/C 95; C ?"],
    "Face": ["C/D", "C/D@D", "outer", "section C"],
    "Outline": ["0 0; 4 0; 4 3; 0 3", "0 0; 9 0; 9 9; 0 9 | 1 1; 2 1; 2 2"],
    "Features": ["drain; curing=wax; joint=no"],
    "Refs": ["bay-1; bay-2"],
    "Points": ["0.31 0.42; 0.55 0.6", "0.5 1"],
}


@pytest.mark.parametrize("kind", WRITTEN_TYPES, ids=lambda kind: kind.__name__)
def test_a_value_says_the_words_it_was_read_from(kind: type[Written]) -> None:
    for text in SAMPLES[kind.__name__]:
        value = kind.read(text)
        assert str(value) == text
        assert kind.read(str(value)) == value


@pytest.mark.parametrize("text", ["", "abc", "1,5", "nan", "inf", "MPa 3"])
def test_a_quantity_without_a_plain_number_is_refused(text: str) -> None:
    with pytest.raises(NotUnderstoodError):
        Quantity.read(text)


def test_written_digits_are_kept() -> None:
    assert str(Quantity.read("50.0 MPa")) == "50.0 MPa"
    assert Quantity.read("50.0 MPa").digits == 1


@pytest.mark.parametrize(
    ("written", "plain"), [("8 µm", "um"), ("21 °C", "degC"), ("3 m²", "m2"), ("5 mils", "mil")]
)
def test_units_with_special_signs_are_read_as_plain_letters(written: str, plain: str) -> None:
    assert Quantity.read(written).unit == plain


def test_the_last_coat_to_glue_is_one_plane_whatever_the_letter() -> None:
    assert Plane.read("C/Y") == Plane.read("-/Y")


@pytest.mark.parametrize("code", ["A/C", "B/A", "AB", "Z", "Y/A", "A/", "1"])
def test_a_code_that_names_no_plane_is_refused(code: str) -> None:
    with pytest.raises(NotUnderstoodError):
        Plane.read(code)


def test_records_are_read_from_a_list_even_where_a_label_holds_its_separator() -> None:
    text = "pull_off P-1; application AP-15 · B6; C2 · 2; rating K-3"
    assert [str(one) for one in read_sources(text)] == [
        "pull_off P-1", "application AP-15 · B6; C2 · 2", "rating K-3",
    ]  # fmt: skip
    assert read_sources("") == ()


def test_planes_sort_from_the_substrate_up() -> None:
    codes = ["Y", "B/C", "A", "C", "-/Y", "A/B", "B", "Y/Z"]
    ordered = sorted((Plane(code) for code in codes), key=lambda plane: plane.height)
    assert [plane.code for plane in ordered] == ["A", "A/B", "B", "B/C", "C", "-/Y", "Y", "Y/Z"]


def test_the_kind_of_a_plane_follows_from_its_code() -> None:
    kinds = [Plane(code).kind for code in ("A", "A/B", "B", "Y")]
    assert kinds == [
        PlaneKind.SUBSTRATE, PlaneKind.INTERFACE, PlaneKind.COAT, PlaneKind.GLUE,
    ]  # fmt: skip


def test_breaks_that_sum_to_97_are_not_balanced() -> None:
    assert not Breaks.read("A/B 60; B 37").balanced
    assert Breaks.read("A/B 60; B 40").balanced
    assert Breaks.read("A/B 60; B ?").balanced


def test_breaks_read_with_the_number_first_as_well() -> None:
    assert Breaks.read("100 B/C") == Breaks.read("B/C 100")


def test_glue_shares_are_added_over_the_three_glue_planes() -> None:
    assert Breaks.read("B 40; -/Y 20; Y 30; Y/Z 10").glue == 60


def test_an_outline_with_a_hole_deducts_it() -> None:
    assert Outline.read("0 0; 4 0; 4 3; 0 3 | 1 1; 2 1; 2 2; 1 2").area_m2 == pytest.approx(11)


def test_a_partial_date_spans_its_whole_period() -> None:
    month = When.read("2019-02")
    assert (month.end() - month.start()).days == 28
    assert month.precision == "month"


@pytest.mark.parametrize("text", ["08/02/2019", "2019-13", "2019-02-30", "yesterday", ""])
def test_a_date_in_another_order_is_refused_not_guessed(text: str) -> None:
    with pytest.raises(NotUnderstoodError):
        When.read(text)


def test_a_summary_keeps_its_mean_and_count() -> None:
    summary = Readings.read("mean 690; min 560; max 900; n 40")
    assert (summary.average, summary.smallest, summary.number) == (690, 560, 40)


def test_a_face_names_the_side_that_was_looked_at() -> None:
    face = Face.read("C/D@D")
    assert face.plane == Plane("C/D")
    assert face.side == "D"
    with pytest.raises(NotUnderstoodError):
        Face.read("C/D@B")


def test_an_outcome_is_a_number_or_a_word_of_the_list() -> None:
    assert Outcome.read("Present").word == "present"
    assert Outcome.read("12.1 pH").value == pytest.approx(12.1)
    with pytest.raises(NotUnderstoodError):
        Outcome.read("plenty")


@pytest.mark.parametrize("text", ["", "0.5", "0.5 1.2", "-0.1 0", "left top"])
def test_a_point_outside_the_picture_is_refused(text: str) -> None:
    with pytest.raises(NotUnderstoodError):
        Points.read(text)


def test_a_feature_that_nobody_could_tell_is_unknown() -> None:
    features = Features.read("joint=unknown; crack=?; drain; weld=no")
    said = [features.has(tag) for tag in ("joint", "crack", "drain", "weld", "edge")]
    assert said == [None, None, True, False, None]


def test_coordinates_and_shares_keep_all_their_digits() -> None:
    outline = Outline.read("543210.12 5678901.34; 543220 5678901; 543220 5678911")
    assert Outline.read(str(outline)) == outline
    breaks = Breaks.read("A/B 33.3333333; B 66.6666667")
    assert Breaks.read(str(breaks)) == breaks


@pytest.mark.parametrize("text", ["nan 0; 1 0; 1 1", "0 inf; 1 0; 1 1", "1_0 0; 1 0; 1 1"])
def test_a_coordinate_is_a_plain_number(text: str) -> None:
    with pytest.raises(NotUnderstoodError):
        Outline.read(text)


@pytest.mark.parametrize("text", ["mean 690; n 40.5", "mean 690; n 40 um"])
def test_a_number_of_readings_is_whole(text: str) -> None:
    with pytest.raises(NotUnderstoodError):
        Readings.read(text)


@pytest.mark.parametrize(
    ("x", "y", "metres"),
    [(3.5, 0.5, 0), (0, 0, 0), (4, 1.5, 0), (6, 1, 2), (7, 7, 5), (1.4, 1.1, 0.1)],
)
def test_a_point_is_as_far_from_an_outline_as_from_its_nearest_side(
    x: float, y: float, metres: float
) -> None:
    ring = "0 0; 4 0; 4 3; 0 3 | 1 1; 2 1; 2 2; 1 2"
    assert Outline.read(ring).distance_m(x, y) == pytest.approx(metres)
