"""The six development cases say what the accounts of them say, and each has its truth."""

import math
import tomllib
from datetime import timedelta
from itertools import chain
from pathlib import Path
from typing import Any

import pytest
from tools.books import SAMPLE_CASES, read

from workbench.records import (
    Application,
    Area,
    AreaEvent,
    Dossier,
    LabResult,
    Measurement,
    PullOff,
    Quantity,
    SurveyEntry,
    Weather,
)
from workbench.records.codes import Condition

HERE = Path(__file__).parent
RESOURCES = HERE.parents[1] / "resources"
BOOKS = {
    "girders": HERE, "cladding": HERE, "basement-wall": HERE, "fermentation-hall": HERE,
    "balcony-balustrades": SAMPLE_CASES, "quayside-steel": SAMPLE_CASES,
}  # fmt: skip
LEADERS = {
    "balcony-balustrades": ["galvanised-saponification"],
    "girders": ["zinc-silicate-undercured"],
    "cladding": ["wood-weathered-before-priming", "water-ingress-behind-coating"],
    "basement-wall": ["hydrostatic-pressure"],
    "fermentation-hall": ["off-ratio-mix"],
    "quayside-steel": ["recoat-window-exceeded", "condensation-dew-point", "amine-blush-bloom"],
    "bottling-hall-floor": ["recoat-window-exceeded"],
}
TRUTHS = sorted(HERE.glob("*/truth.toml")) + sorted((HERE / "truths").glob("*.toml"))


def book(name: str) -> Dossier:
    dossier, wrong = read(BOOKS[name] / name)
    assert wrong == []
    return dossier


def truth_name(path: Path) -> str:
    return path.parent.name if path.stem == "truth" else path.stem


def margin_c(air: Quantity, humidity: Quantity, surface: Quantity) -> float:
    """Surface less dew point by the Magnus formula, 17.62 and 243.12 (from memory; WMO)."""
    g = math.log(humidity.value / 100) + 17.62 * air.value / (243.12 + air.value)
    return surface.value - 243.12 * g / (17.62 - g)


@pytest.mark.parametrize("name", BOOKS)
def test_a_book_can_be_read_without_a_problem(name: str) -> None:
    assert len(book(name).everything()) > 100


@pytest.mark.parametrize("name", BOOKS)
def test_a_case_says_that_it_is_invented(name: str) -> None:
    assert "invented" in book(name).entry("title")
    assert "made up" in book(name).entry("note")


@pytest.mark.parametrize(
    ("name", "start", "margin"),
    [
        ("balcony-balustrades", "2021-04-12", 6.3), ("balcony-balustrades", "2021-04-15", 7.0),
        ("balcony-balustrades", "2021-04-19", 4.7), ("balcony-balustrades", "2021-04-22", 6.3),
        ("balcony-balustrades", "2021-05-04", 8.5), ("balcony-balustrades", "2021-05-07", 8.5),
        ("cladding", "2023-05-02", 8.5), ("cladding", "2023-05-10", 7.1),
        ("basement-wall", "2023-02-12", 5.1),
        ("basement-wall", "2023-02-14", 3.8), ("basement-wall", "2023-02-16", 6.0),
    ],
)  # fmt: skip
def test_margins_to_the_dew_point_come_out_as_the_account_gives_them(
    name: str, start: str, margin: float
) -> None:
    rows = [a for a in book(name).all(Application) if str(a.start) == start and a.air]
    assert rows
    for row in rows:
        assert row.air
        assert row.humidity
        assert row.surface
        assert margin_c(row.air, row.humidity, row.surface) == pytest.approx(margin, abs=0.1)


def test_quayside_margins_come_out_as_the_account_gives_them() -> None:
    given = {"T1": 7.0, "T4": 1.5, "T5": 3.4, "T7": 1.5, "T9": 3.4, "T11": 1.5, "T12": 3.4}
    found = {}
    for reading in book("quayside-steel").all(Weather):
        assert reading.area
        assert reading.air
        assert reading.humidity
        assert reading.surface
        found[reading.area.refs[0]] = margin_c(reading.air, reading.humidity, reading.surface)
        assert str(reading.on_site) == "no"
    assert found == pytest.approx(given, abs=0.1)


def test_quayside_gaps_and_margins_move_together() -> None:
    case = book("quayside-steel")
    gap_d: dict[str, float] = {}
    for row in case.all(Application):
        for ref in row.area:
            assert row.start
            sign = 1 if row.coat == 3 else -1
            gap_d[ref] = gap_d.get(ref, 0) + sign * row.start.start().timestamp() / 86400
    long = {ref for ref, days in gap_d.items() if days > 14}
    damp = set(
        chain.from_iterable(
            w.area for w in case.all(Weather) if w.area and w.humidity and w.humidity.value > 85
        )
    )
    failing = {a.ref for a in case.all(Area) if a.condition is Condition.FAILING}
    assert long == damp == failing == {"T4", "T7", "T8", "T11"}
    assert gap_d["T4"] == 16


def test_cladding_stood_bare_as_long_as_the_events_say() -> None:
    for event in book("cladding").all(AreaEvent):
        if event.end and event.value and event.value.value is not None:
            stood = event.end.start() - event.start.start()
            assert stood == timedelta(days=event.value.value)


def test_part_mixes_come_out_short_of_hardener() -> None:
    """12 and 11 full kits of 15 and 5 kg taken out of the totals of the days."""
    case = book("fermentation-hall")
    left = {}
    for row, kits in zip(
        [a for a in case.all(Application) if a.coat == 2 and "P" in str(a.area)],
        (12, 11),
        strict=True,
    ):
        assert row.quantity_a
        assert row.quantity_b
        left[str(row.start)] = (row.quantity_a.value - 15 * kits, row.quantity_b.value - 5 * kits)
    assert left == {"2023-09-07": (146, 34), "2023-09-09": (163, 37)}


def test_breaks_stand_as_written_and_sum_to_100() -> None:
    number = {
        "girders": 14,
        "cladding": 14,
        "basement-wall": 11,
        "fermentation-hall": 10,
        "balcony-balustrades": 14,
        "quayside-steel": 8,
    }
    for name, count in number.items():
        tests = book(name).all(PullOff)
        assert len(tests) == count
        assert all(p.breaks is None or p.breaks.balanced for p in tests)


def test_survey_counts_stand_as_written() -> None:
    counts = {
        (s.at, s.form): (s.count, s.looked_at)
        for s in (*book("cladding").all(SurveyEntry), *book("balcony-balustrades").all(SurveyEntry))
    }
    assert counts["S-field", "back_face=wood_fibres"] == (11, 12)
    assert counts["W-joint", "blister_contents=clear_water"] == (8, 9)
    assert counts["BR", "peeling_sheets"] == (0, 48)
    assert counts["E12", "peeling_sheets"] == (0, 6)


def test_laboratory_values_stand_as_written() -> None:
    lab = {(r.sample, r.quantity): str(r.value) for r in book("basement-wall").all(LabResult)}
    assert lab["FL", "fluid_ph"] == "11.9 pH"
    assert lab["FL", "fluid_ion:SO4"] == "95 mg/L"
    assert lab["GW", "fluid_ion:Cl"] == "220 mg/L"
    hard = [m for m in book("fermentation-hall").all(Measurement) if m.quantity == "hardness"]
    assert len(hard) == 30


def test_every_case_has_its_truth() -> None:
    assert {truth_name(path) for path in TRUTHS} == {*BOOKS, "bottling-hall-floor"}


@pytest.mark.parametrize("path", TRUTHS, ids=truth_name)
def test_a_truth_names_leaders_that_are_known_causes(path: Path) -> None:
    truth: dict[str, Any] = tomllib.loads(path.read_text(encoding="utf-8"))
    assert truth["leaders"] == LEADERS[truth_name(path)]
    assert truth["inconclusive"] is (truth_name(path) == "quayside-steel")
    named = [
        c for key in ("leaders", "joint", "contributory", "closed", "weakened") for c in truth[key]
    ]
    assert {c for c in named if not (RESOURCES / "causes" / f"{c}.toml").exists()} == set()
    assert not {*truth["leaders"], *truth["joint"]} & {*truth["closed"], *truth["weakened"]}
