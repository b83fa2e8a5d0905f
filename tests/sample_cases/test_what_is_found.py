"""What strength, doubts and custody say of the sample cases."""

import pytest
from tools.books import SAMPLE_CASES, read

from workbench.analysis.doubts import Rule, doubts_of
from workbench.analysis.strength import strength_by_plane
from workbench.analysis.strength.results import Group
from workbench.custody.rules import breaches
from workbench.records import Dossier, Plane, PullOff
from workbench.records.codes import Condition

NAMES = ("balcony-balustrades", "bottling-hall-floor", "quayside-steel")


@pytest.fixture(scope="module")
def floor() -> Dossier:
    return read(SAMPLE_CASES / "bottling-hall-floor")[0]


def group(case: Dossier, condition: Condition, plane: str) -> Group:
    found = strength_by_plane(case).group(condition, Plane(plane))
    assert found
    return found


def test_the_failing_plane_is_weak_where_it_fails_and_a_lower_bound_elsewhere(
    floor: Dossier,
) -> None:
    weak = group(floor, Condition.FAILING, "C/D")
    assert (weak.n, weak.broke_here, weak.at_most) == (18, 15, 3)
    assert weak.median_mpa
    assert 0.4 < weak.median_mpa < 0.8
    sound = group(floor, Condition.NON_FAILING, "C/D")
    assert sound.broke_here == 0
    assert sound.median_mpa is None
    assert sound.low_mpa
    assert sound.low_mpa > 2


def test_the_concrete_holds_as_well_where_the_floor_fails(floor: Dossier) -> None:
    slab = [
        g
        for g in strength_by_plane(floor).trials
        if str(g.plane) == "A" and g.film.on == 0 and g.condition is Condition.FAILING
    ]
    assert slab
    assert all(g.median_mpa and g.median_mpa > 2 for g in slab)


def test_only_the_abraded_patches_leave_the_seam_unbroken(floor: Dossier) -> None:
    broke = {
        g.film.treatment: g.broke_here
        for g in strength_by_plane(floor).trials
        if g.film.treatment and str(g.plane) == "C/D"
    }
    assert broke == {"as_found": 3, "washed": 3, "abraded": 0}


def test_the_careful_reader_doubts_exactly_the_slips_that_were_put_in(floor: Dossier) -> None:
    doubted: dict[Rule, set[str]] = {}
    for doubt in doubts_of(floor):
        doubted.setdefault(doubt.rule, set()).add(doubt.source.label)
    assert doubted[Rule.NO_STRESS] == {"P-32"}
    assert doubted[Rule.CALIBRATION] == {"P-39", "P-40"}
    assert doubted[Rule.TOO_FAST] == {"P-25"}
    assert doubted[Rule.NOT_CUT_ROUND] == {"P-26"}
    assert doubted[Rule.GLUE_SHARE] == {"P-04", "P-09", "P-20", "P-24", "P-38"}
    in_psi = {p.ref for p in floor.all(PullOff) if p.reading and p.reading.unit == "psi"}
    assert doubted[Rule.RESCALED] == in_psi


@pytest.mark.parametrize("name", NAMES)
def test_no_chain_of_custody_is_broken(name: str) -> None:
    case, _ = read(SAMPLE_CASES / name)
    assert [str(breach) for breach in breaches(case) if breach.grave] == []


def test_zinc_parts_from_alkyd_and_brackets_do_not() -> None:
    case, _ = read(SAMPLE_CASES / "balcony-balustrades")
    weak = group(case, Condition.FAILING, "A/B")
    assert weak.median_mpa
    assert weak.median_mpa < 0.7
    held = [
        g
        for g in strength_by_plane(case).groups
        if g.condition is Condition.CONTROL and str(g.plane) == "A/B"
    ]
    assert held
    assert all(g.broke_here == 0 and g.low_mpa and g.low_mpa > 4 for g in held)
