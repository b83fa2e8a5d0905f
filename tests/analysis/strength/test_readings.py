"""Which pull-offs speak for a plane, and why the others do not."""

from typing import Any

import pytest
from builders import dossier, make

from workbench.analysis.strength import Pull, strength_by_plane
from workbench.analysis.strength.evidence import says_of
from workbench.analysis.strength.readings import read_pulls
from workbench.records import Area, Coat, Dossier, Location, Plane, PullOff
from workbench.records.codes import Treatment

STACK = (
    make(Coat, order=0, material="concrete", product="Slab"),
    make(Coat, order=1, product="Primer"),
    make(Coat, order=2, product="Finish"),
)


def case(*pulls: PullOff) -> Dossier:
    return dossier(make(Area, system="S"), make(Location), *STACK, *pulls)


def pull(**said: Any) -> PullOff:
    whole = {"ref": "P1", "fixture": "20 mm", "reading": "2.4 MPa", "breaks": "A/B 100"}
    whole |= said
    return make(PullOff, **{name: value for name, value in whole.items() if value is not None})


def only(record: PullOff) -> Pull:
    (read,) = read_pulls(case(record)).pulls
    return read


@pytest.mark.parametrize(
    ("said", "wrong"),
    [
        ({"breaks": "A/B 60; B 37"}, "the shares sum to 97"),
        ({"breaks": "A/B 60; B 50"}, "the shares sum to 110"),
        ({"reading": "-2.4 MPa"}, "reading -2.4 MPa"),
        ({"reading": "0 MPa"}, "the stress is 0 MPa"),
        ({"fixture": None}, "the fixture's size is not recorded"),
        ({"fixture": "0 mm"}, "fixture 0 mm"),
        ({"reading": None}, "no reading is recorded"),
        ({"reading": "2.4 mm"}, "“mm” is a length, not a stress; give it in MPa"),
        ({"breaks": None}, "where it broke is not recorded"),
        ({"breaks": "? 100"}, "no share of the break is given"),
        ({"breaks": "C/D 100"}, "it names C/D, above the coats that are there"),
        ({"on": 1, "breaks": "B/C 100"}, "it names B/C, above the coats that are there"),
        ({"location": "L9"}, "no area is known for location “L9”"),
        ({"withdrawn": "wrong gauge"}, "withdrawn: wrong gauge"),
        ({"came_away": "yes", "reading": None, "breaks": "Y 100"}, "the glue let go before load"),
    ],
)
def test_what_cannot_count_is_left_out_with_its_reason(said: dict[str, Any], wrong: str) -> None:
    found = read_pulls(case(pull(**said)))
    assert found.pulls == ()
    (left,) = found.left_out
    assert left.source.label == "P1"
    assert left.wrong == wrong
    assert left.right


def test_one_bad_reading_changes_nothing_of_the_rest() -> None:
    good = [pull(ref=f"P{at}", reading=f"{2 + at / 10} MPa") for at in range(4)]
    bad = pull(ref="X", breaks="A/B 97")
    with_bad, without = (
        strength_by_plane(dossier(make(Area, system="S"), make(Location), *STACK, *records))
        for records in ([*good, bad], good)
    )
    assert with_bad.groups == without.groups
    assert [left.source.label for left in with_bad.left_out] == ["X"]


def test_a_break_tells_the_strength_of_its_plane_and_a_bound_for_the_others() -> None:
    read = only(pull(breaks="A/B 60; B 30; Y 10"))
    assert says_of(read, Plane("A/B")) == (0.6, 0)
    assert says_of(read, Plane("B")) == (0.3, 0)
    assert says_of(read, Plane("A")) == (0, 0)
    assert read.glue == pytest.approx(0.1)


def test_a_share_under_the_accuracy_of_reading_counts_as_none() -> None:
    assert says_of(only(pull(breaks="A/B 97; B 3")), Plane("B")) == (0, 0)


def test_what_came_away_is_at_most_the_smallest_readable_stress() -> None:
    read = only(pull(came_away="yes", reading=None, fixture=None, breaks="B/C 100"))
    assert (read.mpa, read.came_away) == (0.2, True)
    assert says_of(read, Plane("B/C")) == (0, 1)


def test_other_planes_got_no_load_where_one_came_away() -> None:
    read = only(pull(came_away="yes", reading=None, breaks="B/C 100"))
    assert says_of(read, Plane("A/B")) is None


def test_a_share_that_the_source_does_not_give_counts_for_no_plane() -> None:
    read = only(pull(breaks="A/B 60; ? 40"))
    assert says_of(read, Plane("A/B")) == (0.6, 0)
    assert says_of(read, Plane("B")) is None
    named = only(pull(breaks="A/B 60; B ?"))
    assert says_of(named, Plane("B")) is None
    assert says_of(named, Plane("B/C")) == (0, 0)


def test_a_pull_on_a_stripped_coat_says_nothing_of_the_planes_above() -> None:
    read = only(pull(on=1, breaks="A 100"))
    assert str(read.film) == "stripped down to coat 1"
    assert says_of(read, Plane("A/B")) == (0, 0)
    assert says_of(read, Plane("B/C")) is None


def test_a_fixture_on_the_last_coat_stands_on_untouched_film() -> None:
    assert only(pull(on=2)).film.untouched
    assert not only(pull(treatment="abraded")).film.untouched


def test_as_found_is_untouched_film_where_no_prepared_patch_lies_beside_it() -> None:
    loose = pull(treatment="as_found")
    assert only(loose).film.untouched
    beside = (loose, pull(ref="P2", treatment="abraded"))
    assert [str(one.film.treatment) for one in read_pulls(case(*beside)).pulls] == [
        "as_found", "abraded",
    ]  # fmt: skip


def test_as_found_at_another_place_than_the_trial_is_a_trial_only_in_an_area_of_trials() -> None:
    there = make(Location, ref="L2")
    trials = (pull(treatment="as_found"), pull(ref="P2", location="L2", treatment="washed"))
    first, _ = read_pulls(case(*trials).with_records([there])).pulls
    assert first.film.treatment is Treatment.AS_FOUND
    mixed = case(*trials, pull(ref="P3")).with_records([there])
    assert read_pulls(mixed).pulls[0].film.untouched


def test_force_and_inches_become_the_same_stress_as_newtons_and_millimetres() -> None:
    force = only(pull(reading="753.98 N"))
    psi = only(pull(reading="348.0906 psi", fixture="0.787402 in"))
    assert force.mpa == pytest.approx(2.4, rel=1e-5)
    assert psi.mpa == pytest.approx(2.4, rel=1e-5)
