"""Ratings, thickness and every measured quantity, compared between conditions."""

from typing import Any

import pytest
from builders import dossier, make

from workbench.analysis.comparison.between_conditions import CompareSettings, compare_measured
from workbench.analysis.comparison.measured import measured_in
from workbench.analysis.comparison.results import Comparison, Effect
from workbench.records import (
    Area,
    LabResult,
    Location,
    Measurement,
    Rating,
    Record,
    Sample,
    Thickness,
)

KINDS = ("failing", "failing", "failing", "non-failing", "non-failing", "non-failing")
PLACES = [
    record
    for at, condition in enumerate(KINDS)
    for record in (
        make(Area, ref=f"A{at}", condition=condition),
        make(Location, ref=f"L{at}", area=f"A{at}"),
    )
]


def compared(*records: Record, **settings: Any) -> dict[str, Comparison]:
    found = compare_measured(measured_in(dossier(*PLACES, *records)), CompareSettings(**settings))
    return {one.quantity: one for one in found}


def ratings(*values: str, **said: Any) -> list[Record]:
    return [
        make(Rating, ref=f"R{at}", location=f"L{at}", rating=value, **said)
        for at, value in enumerate(values)
    ]


def test_ratings_are_compared_within_their_method_with_the_direction_of_its_scale() -> None:
    one = compared(*ratings("0", "2", "2", "8", "8", "10"))["rating by ASTM D6677"]
    assert one.effect is Effect.DOMINANCE
    assert one.value == -1
    assert one.p == pytest.approx(0.1)
    assert one.p_areas == pytest.approx(0.1)
    assert one.remarks == ("Scale: 0 to 10, 10 is the best.",)
    assert (one.one.name, one.one.n, one.one.areas, one.one.middle) == ("failing", 3, 3, 2)


def test_two_methods_of_rating_are_never_mixed() -> None:
    mixed = [*ratings("0", "2", "2", "8", "8", "10"),
             *ratings("5", "5", "4", "0", "1", "0", method="ISO 2409")]  # fmt: skip
    assert set(compared(*mixed)) == {"rating by ASTM D6677", "rating by ISO 2409"}


def test_a_rating_on_a_stripped_coat_is_left_out() -> None:
    assert compared(*ratings("0", "2", "2", "8", "8", "10", on=1)) == {}


def test_thickness_in_mils_and_in_micrometres_is_one_quantity() -> None:
    read = (
        ("10", "mil"),
        ("11", "mil"),
        ("12", "mil"),
        ("254", "um"),
        ("250", "um"),
        ("260", "um"),
    )
    records = [
        make(Thickness, ref=f"T{at}", location=f"L{at}", readings=value, unit=unit)
        for at, (value, unit) in enumerate(read)
    ]
    one = compared(*records)["total thickness, magnetic"]
    assert one.unit == "um"
    assert one.one.middle == pytest.approx(279.4)
    assert one.value == pytest.approx(25.4)


def test_words_count_as_yes_or_no_and_numbers_beside_them_apart() -> None:
    records: list[Record] = [
        make(Measurement, ref=f"M{at}", location=f"L{at}", quantity="amine_swab",
             method="f-amine", value=value)
        for at, value in enumerate(("positive", "positive", "positive", "negative", "negative",
                                    "positive"))
    ]  # fmt: skip
    one = compared(*records)["amine swab, f-amine, yes or no"]
    assert one.effect is Effect.ODDS_RATIO
    assert (one.one.middle, one.other.middle) == (1, 0)
    assert one.p == pytest.approx(0.4)


def test_limits_among_the_readings_are_said() -> None:
    records: list[Record] = [
        make(Measurement, ref=f"M{at}", location=f"L{at}", quantity="chloride", method="f-salt",
             value=f"{5 + at} ug/cm2", **({"qualifier": "<"} if at == 5 else {}))
        for at in range(6)
    ]  # fmt: skip
    (one,) = compared(*records).values()
    assert one.remarks == ("1 of 6 are limits or rough values and count as written.",)


def test_a_sample_stands_for_what_it_was_taken_for() -> None:
    purposes = ("failing", "failing", "control", "control", "blank", "reference")
    records: list[Record] = []
    for at, purpose in enumerate(purposes):
        records += [
            make(Sample, ref=f"S{at}", at="L0", purpose=purpose),
            make(LabResult, ref=f"LR{at}", sample=f"S{at}", method="l-dsc", quantity="tg_first",
                 value=f"{60 + at} degC"),
        ]  # fmt: skip
    (one,) = compared(*records).values()
    assert (one.one.name, one.other.name) == ("failing", "control")
    assert (one.one.n, one.other.n) == (2, 2)


def test_every_quantity_compared_between_two_conditions_is_corrected_for() -> None:
    records = [*ratings("0", "2", "2", "8", "8", "10"),
               *ratings("5", "5", "4", "0", "1", "0", method="ISO 2409")]  # fmt: skip
    found = compared(*records)
    assert {one.looks for one in found.values()} == {2}
    assert all(one.p_corrected == pytest.approx(2 * (one.p or 0)) for one in found.values())


def test_nothing_is_called_significant_that_whole_areas_do_not_bear_out() -> None:
    many = [
        make(Rating, ref=f"R{at}", location=f"L{at % 6}", rating="0" if at % 6 < 3 else "10")
        for at in range(60)
    ]
    one = compared(*many)["rating by ASTM D6677"]
    assert (one.p_corrected or 1) < 0.001
    assert one.verdict == "significant among readings, but not with whole areas as the units"


def test_with_few_areas_it_is_only_described() -> None:
    found = compared(*ratings("0", "2", "2", "8", "8", "10"), fewest_areas=7)
    assert found["rating by ASTM D6677"].verdict.startswith("described only: 6 areas, 7 needed")
