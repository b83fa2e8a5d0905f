"""What the failure follows, listed with counts, exact and corrected for all that was looked at."""

from typing import Any

import pytest
from builders import dossier, make

from workbench.analysis.pattern.follows import failing_plane, patterns_of
from workbench.analysis.pattern.results import Pattern
from workbench.analysis.strength import strength_by_plane
from workbench.records import Application, Area, Coat, Dossier, Location, PullOff, Record

COATS = tuple(
    make(Coat, order=order, material="concrete" if order == 0 else "epoxy", product=f"P{order}")
    for order in range(3)
)


def area(ref: str, condition: str, **said: Any) -> list[Record]:
    return [make(Area, ref=ref, condition=condition, system="S", **said),
            make(Location, ref=ref, area=ref)]  # fmt: skip


def case(*records: list[Record]) -> Dossier:
    return dossier(*COATS, *(record for group in records for record in group))


def laid(area_refs: str, coat: int, day: str, **said: Any) -> list[Record]:
    return [make(Application, area=area_refs, coat=coat, start=f"2024-03-{day} 08:00",
                 end=f"2024-03-{day} 12:00", **said)]  # fmt: skip


SIX = [
    *area("F1", "failing", features="drain"), *area("F2", "failing", features="drain"),
    *area("F3", "failing", features="drain=no"), *area("N1", "non-failing", features="drain=no"),
    *area("N2", "non-failing", features="drain"), *area("K1", "control", features="drain=no"),
]  # fmt: skip


def found(*records: list[Record]) -> dict[str, Pattern]:
    whole = case(SIX, *records)
    return {one.name: one for one in patterns_of(whole, strength_by_plane(whole))}


def test_a_batch_that_only_failing_areas_have_is_listed_first_with_its_exact_p() -> None:
    patterns = found(
        laid("F1; F2; F3", 1, "05", batch_a="X1"), laid("N1; N2; K1", 1, "05", batch_a="X2")
    )
    name = next(iter(patterns))
    assert name == "batch a, coat 1, P1"
    batch = patterns[name]
    assert batch.p == pytest.approx(2 / 20)
    assert batch.clean
    assert [(t.value, t.failing, t.holding) for t in batch.tallies] == [
        ("X1", ("F1", "F2", "F3"), ()), ("X2", (), ("N1", "N2", "K1")),
    ]  # fmt: skip


def test_days_are_tested_by_their_order() -> None:
    late = [laid(ref, 1, day) for ref, day in (("F1", "11"), ("F2", "12"), ("F3", "13"))]
    early = [laid(ref, 1, day) for ref, day in (("N1", "05"), ("N2", "06"), ("K1", "07"))]
    days = found(*late, *early)["day of coat 1, P1"]
    assert days.p == pytest.approx(2 / 20)
    assert [one.value for one in days.tallies][:2] == ["2024-03-05", "2024-03-06"]


def test_the_wait_between_two_coats_is_a_grouping() -> None:
    first = laid("F1; F2; F3; N1; N2; K1", 1, "05")
    second = [laid("F1; F2; F3", 2, "11"), laid("N1; N2; K1", 2, "06")]
    waits = found(first, *second)["wait after coat 1, P1"]
    assert [one.value for one in waits.tallies] == ["20 h", "140 h"]


def test_what_splits_the_areas_alike_is_named_as_not_told_apart() -> None:
    patterns = found(
        laid("F1; F2; F3", 1, "05", batch_a="X1", applicator="crew 1"),
        laid("N1; N2; K1", 1, "05", batch_a="X2", applicator="crew 2"),
    )
    assert patterns["crew, coat 1, P1"].same_as == ("batch a, coat 1, P1",)


def test_every_look_is_counted_and_corrected_for() -> None:
    patterns = found(
        laid("F1; F2; F3", 1, "05", batch_a="X1"), laid("N1; N2; K1", 1, "06", batch_a="X2")
    )
    tested = [one for one in patterns.values() if one.p is not None]
    assert {one.looks for one in tested} == {len(tested)}
    assert all((one.p_corrected or 0) >= (one.p or 0) for one in tested)


def test_nothing_is_called_significant_with_fewer_than_six_areas() -> None:
    few = [*area("F1", "failing"), *area("F2", "failing"), *area("N1", "non-failing")]
    whole = case(few, laid("F1; F2", 1, "05", batch_a="X1"), laid("N1", 1, "05", batch_a="X2"))
    (batch,) = patterns_of(whole, strength_by_plane(whole))
    assert batch.verdict == "described only: 3 areas, 6 needed"


def test_repaired_and_unknown_areas_say_neither() -> None:
    patterns = found(
        [*area("R1", "repaired"), *area("U1", "unknown")],
        laid("F1; R1", 1, "05", batch_a="X1"), laid("N1; U1", 1, "05", batch_a="X2"),
    )  # fmt: skip
    assert patterns["batch a, coat 1, P1"].areas == 2


def test_the_plane_that_fails_is_that_of_most_broken_face() -> None:
    pulls: list[Record] = [
        make(PullOff, ref=f"P{at}", location="F1", fixture="20 mm", reading="0.5 MPa",
             breaks=breaks)
        for at, breaks in enumerate(("B/C 80; Y 20", "A 100", "B/C 90; B 10"))
    ]  # fmt: skip
    assert str(failing_plane(strength_by_plane(case(SIX, pulls)))) == "B/C"


def test_readings_are_permuted_within_days_and_listed_with_their_counts() -> None:
    pulls: list[Record] = [
        make(PullOff, ref=f"{place}{at}", location=place, fixture="20 mm", reading="0.5 MPa",
             date="2024-05-01" if at % 2 else "2024-05-02",
             breaks="B/C 100" if place.startswith("F") else "A 100")
        for place in ("F1", "F2", "F3", "N1", "N2", "K1") for at in range(4)
    ]  # fmt: skip
    batch = found(
        pulls, laid("F1; F2; F3", 1, "05", batch_a="X1"),
        laid("N1; N2; K1", 1, "05", batch_a="X2"),
    )["batch a, coat 1, P1"]  # fmt: skip
    assert batch.strata == ("day",)
    assert batch.p_readings == pytest.approx(1e-4, rel=1)
    assert [(one.pulls, one.broken) for one in batch.tallies] == [(12, 1.0), (12, 0.0)]
