"""The check of the application: intervals, climate, amounts; blanks count for nobody."""

from datetime import UTC, datetime
from typing import Any

import pytest
from builders import dossier, make
from hypothesis import given
from hypothesis import strategies as st

from workbench.analysis.application import (
    Aspect,
    Check,
    Verdict,
    check_application,
    timeline_of,
)
from workbench.records import (
    Application,
    Area,
    AreaEvent,
    CaseEntry,
    Coat,
    Limit,
    Location,
    RecoatWindow,
    Record,
    Thickness,
    Weather,
)
from workbench.records.codes import Quality
from workbench.trade.curing import Rests
from workbench.trade.settings import Settings
from workbench.trade.showing import Showing, System

AREA = make(Area, ref="A1", system="S", size="100 m2")
COATS = (
    make(Coat, system="S", order=0, material="concrete"),
    make(Coat, system="S", order=1, material="epoxy", product="Body"),
    make(Coat, system="S", order=2, material="polyurethane_aliphatic", product="Seal"),
)
WINDOW = (
    make(RecoatWindow, product="Body", at_temperature="10 degC", min_interval="24 h",
         max_interval="72 h", source_text="sheet"),
    make(RecoatWindow, product="Body", at_temperature="20 degC", min_interval="12 h",
         max_interval="36 h", source_text="sheet"),
)  # fmt: skip


def _coat(order: int, start: str | None, end: str | None = None, **said: Any) -> Application:
    times = {name: value for name, value in (("start", start), ("end", end)) if value}
    return make(Application, ref=f"AP{order}", area="A1", coat=order, **times, **said)


def _checks(
    aspect: Aspect, *records: Record, coats: tuple[Record, ...] = COATS, **choices: Any
) -> list[Check]:
    held = dossier(AREA, *coats, *records)
    found = check_application(held, Settings(**choices)).checks
    return [check for check in found if check.aspect is aspect]


def _interval(end: str, start: str, *more: Record) -> Check:
    (check,) = _checks(
        Aspect.RECOAT, *WINDOW, _coat(1, "2024-03-04 07:00", end), _coat(2, start), *more
    )
    return check


def _surface(celsius: float, at: str = "2024-03-05 12:00") -> Weather:
    return make(Weather, time=at, area="A1", surface=f"{celsius} degC", on_site="yes")


def test_an_interval_runs_from_the_end_of_a_coat_to_the_start_of_the_next() -> None:
    check = _interval("2024-03-04 12:00", "2024-03-06 12:00", _surface(10))
    assert (check.low, check.high) == (48, 48)
    assert (check.least, check.most) == (24, 72)
    assert check.verdict is Verdict.INSIDE
    assert check.margin == 24


def test_a_window_is_that_of_the_temperature_that_was_there() -> None:
    warm = _interval("2024-03-04 12:00", "2024-03-06 12:00", _surface(20))
    assert warm.most == 36
    assert warm.verdict is Verdict.OUTSIDE
    assert warm.margin == -12
    between = _interval("2024-03-04 12:00", "2024-03-06 12:00", _surface(15))
    assert between.most == pytest.approx((72 * 36) ** 0.5)
    assert str(Rests.BETWEEN) in between.limit_source


def test_without_a_temperature_the_whole_data_sheet_may_hold() -> None:
    open_one = _interval("2024-03-04 12:00", "2024-03-06 12:00")
    assert open_one.verdict is Verdict.OPEN
    assert "not recorded" in open_one.limit_source
    assert _interval("2024-03-04 12:00", "2024-03-05 16:00").verdict is Verdict.INSIDE
    assert _interval("2024-03-04 12:00", "2024-03-08 12:00").verdict is Verdict.OUTSIDE


def test_a_coat_too_early_is_a_deviation_too() -> None:
    check = _interval("2024-03-04 12:00", "2024-03-05 06:00", _surface(10, at="2024-03-04 18:00"))
    assert check.verdict is Verdict.OUTSIDE
    assert check.margin == -6


def test_days_without_times_leave_an_interval_between_two_numbers() -> None:
    check = _interval("2024-03-04", "2024-03-07", _surface(10))
    assert (check.low, check.high) == (48, 96)
    assert check.verdict is Verdict.OPEN
    sure = _interval("2024-03-04", "2024-03-09", _surface(10))
    assert (sure.low, sure.high) == (96, 144)
    assert sure.verdict is Verdict.OUTSIDE


def test_the_rule_of_thumb_alone_never_settles_a_case() -> None:
    """At 0 °C the rule doubles 72 h to 144 h; the data sheet's own 72 h says otherwise."""
    check = _interval("2024-03-04 12:00", "2024-03-08 12:00", _surface(0))
    assert check.most == pytest.approx(144)
    assert check.verdict is Verdict.OPEN
    assert "rule of thumb" in check.limit_source
    both = _interval("2024-03-04 12:00", "2024-03-14 12:00", _surface(0))
    assert both.verdict is Verdict.OUTSIDE


def test_a_blank_time_counts_for_nobody() -> None:
    (check,) = _checks(
        Aspect.RECOAT, *WINDOW, _coat(1, "2024-03-04 07:00"), _coat(2, None), _surface(10)
    )
    assert check.verdict is Verdict.UNKNOWN
    assert check.words == "the start of Seal is not recorded"
    assert check.margin is None


def test_a_maximum_said_to_be_none_is_no_limit_and_a_blank_one_not_known() -> None:
    rows = (_coat(1, "2024-03-04 07:00", "2024-03-04 12:00"), _coat(2, "2024-06-04 12:00"))
    said: dict[str, Any] = {"product": "Body", "at_temperature": "10 degC", "min_interval": "24 h"}
    for window in (make(RecoatWindow, max_interval="none", **said), make(RecoatWindow, **said)):
        (check,) = _checks(Aspect.RECOAT, window, *rows, _surface(10))
        assert check.most is None
        assert check.verdict is Verdict.INSIDE


def test_a_window_that_names_the_upper_product_goes_first() -> None:
    named = make(
        RecoatWindow, product="Body", on_top="Seal", at_temperature="10 degC", max_interval="40 h"
    )
    assert _interval("2024-03-04 12:00", "2024-03-06 12:00", _surface(10), named).most == 40


def test_of_several_rows_the_first_start_and_the_last_end_count() -> None:
    second = make(Application, ref="AP1b", area="A1", coat=1, start="2024-03-05 08:00",
                  end="2024-03-05 18:00")  # fmt: skip
    check = _interval("2024-03-04 12:00", "2024-03-06 12:00", _surface(10), second)
    assert check.low == 18


def test_a_coat_logged_for_the_hall_counts_in_its_bay() -> None:
    hall = make(Area, ref="H", system="S")
    bay = make(Area, ref="B", within="H")
    rows = (
        make(Application, area="H", coat=1, start="2024-03-04 07:00", end="2024-03-04 12:00"),
        make(Application, area="B", coat=2, start="2024-03-06 12:00"),
    )
    held = dossier(hall, bay, *COATS, *WINDOW, *rows, _surface(10))
    found = [c for c in check_application(held).checks if c.aspect is Aspect.RECOAT]
    assert [(check.area, check.low) for check in found] == [("B", 48)]


def test_the_quality_is_that_of_the_worst_record() -> None:
    rows = (
        _coat(1, "2024-03-04 07:00", "2024-03-04 12:00", quality="good"),
        _coat(2, "2024-03-06 12:00", quality="poor"),
    )
    (check,) = _checks(Aspect.RECOAT, *WINDOW, *rows, _surface(10))
    assert check.quality is Quality.POOR


def test_cure_before_service_is_checked_against_its_limit() -> None:
    limit = make(Limit, quantity="cure_to_service", applies_to="Seal", minimum="7 d",
                 at_temperature="20 degC", source_text="sheet")  # fmt: skip
    last = _coat(2, "2024-03-06 08:00", "2024-03-06 12:00", surface="20 degC")
    used = make(AreaEvent, area="A1", event="in_service", start="2024-03-10 12:00")
    (check,) = _checks(Aspect.SERVICE, limit, last, used)
    assert (check.low, check.least) == (96, 168)
    assert check.verdict is Verdict.OUTSIDE


# -- climate


def test_the_smallest_margin_of_log_and_weather_counts() -> None:
    row = _coat(1, "2024-03-04 07:00", "2024-03-04 12:00", air="20 degC", humidity="60 %",
                surface="18 degC")  # fmt: skip
    later = make(Weather, time="2024-03-04 11:00", area="A1", air="20 degC", humidity="75 %",
                 surface="17 degC", on_site="yes")  # fmt: skip
    (check,) = _checks(Aspect.DEW_MARGIN, row, later)
    assert check.low == pytest.approx(17 - 15.4, abs=0.1)
    assert check.verdict is Verdict.OUTSIDE
    assert check.quality is Quality.GOOD
    assert check.sources[0] == later.source


def test_weather_of_another_area_or_time_does_not_count() -> None:
    row = _coat(1, "2024-03-04 07:00", "2024-03-04 12:00", air="20 degC", humidity="60 %",
                surface="18 degC")  # fmt: skip
    wet: dict[str, Any] = {"air": "20 degC", "humidity": "95 %", "surface": "17 degC"}
    elsewhere = make(Weather, time="2024-03-04 11:00", area="A9", **wet)
    later = make(Weather, time="2024-03-05 11:00", area="A1", **wet)
    (check,) = _checks(Aspect.DEW_MARGIN, row, elsewhere, later)
    assert check.verdict is Verdict.INSIDE


def test_a_wet_bulb_gives_a_margin_by_the_way_chosen() -> None:
    row = _coat(1, "2024-03-04 07:00", air="21 degC", wet_bulb="17 degC", surface="18 degC")
    (check,) = _checks(Aspect.DEW_MARGIN, row)
    assert check.low
    assert check.low == pytest.approx(18 - 14.63, abs=0.02)
    (high,) = _checks(Aspect.DEW_MARGIN, row, altitude_m=1520.0)
    assert check.low - (high.low or 0) == pytest.approx(0.5, abs=0.2)


def test_without_a_surface_temperature_there_is_no_margin() -> None:
    row = _coat(1, "2024-03-04 07:00", air="20 degC", humidity="60 %")
    (check,) = _checks(Aspect.DEW_MARGIN, row)
    assert check.verdict is Verdict.UNKNOWN


def test_the_margin_asked_for_is_the_data_sheets_else_the_settings() -> None:
    row = _coat(1, "2024-03-04 07:00", air="20 degC", humidity="60 %", surface="14.9 degC")
    (check,) = _checks(Aspect.DEW_MARGIN, row, dew_margin_k=2.78)
    assert (check.least, check.verdict) == (2.78, Verdict.INSIDE)
    sheet = make(Coat, system="S", order=1, material="epoxy", dew_margin="5 degF")
    (told,) = _checks(Aspect.DEW_MARGIN, row, coats=(COATS[0], sheet))
    assert told.least == pytest.approx(2.778, abs=1e-3)


@pytest.mark.parametrize(
    ("surface", "verdict"),
    [("9.9 degC", Verdict.OUTSIDE), ("10 degC", Verdict.INSIDE), ("31 degC", Verdict.OUTSIDE)],
)
def test_temperature_between_its_limits(surface: str, verdict: Verdict) -> None:
    coat = make(
        Coat, system="S", order=1, material="epoxy", apply_min="10 degC", apply_max="30 degC"
    )
    row = _coat(1, "2024-03-04 07:00", surface=surface)
    (check,) = _checks(Aspect.TEMPERATURE, row, coats=(COATS[0], coat))
    assert check.verdict is verdict


def test_humidity_below_its_least_is_a_deviation_for_zinc_silicate() -> None:
    coat = make(Coat, system="S", order=1, material="zinc_silicate", humidity_min="50 %")
    row = _coat(1, "2024-03-04 07:00", humidity="38 %")
    (check,) = _checks(Aspect.HUMIDITY, row, coats=(COATS[0], coat))
    assert (check.least, check.verdict) == (50, Verdict.OUTSIDE)


# -- amounts

MIXED = make(
    Coat, system="S", order=1, material="epoxy", product="Body", mix_ratio="3:1",
    mix_basis="weight", volume_solids="60 %", dft_min="100 um", dft_max="200 um",
)  # fmt: skip


@pytest.mark.parametrize(
    ("base", "hardener", "percent", "verdict"),
    [("30 kg", "10 kg", 100, Verdict.INSIDE), ("32.6 kg", "9.4 kg", 86.5, Verdict.OUTSIDE)],
)
def test_the_hardener_mixed_in_against_what_the_ratio_asks_for(
    base: str, hardener: str, percent: float, verdict: Verdict
) -> None:
    row = _coat(1, "2024-03-04", quantity_a=base, quantity_b=hardener)
    (check,) = _checks(Aspect.MIX, row, coats=(COATS[0], MIXED))
    assert check.low == pytest.approx(percent, abs=0.05)
    assert check.verdict is verdict


@pytest.mark.parametrize(
    "said", [{"quantity_a": "30 L", "quantity_b": "10 L"}, {"quantity_a": "30 kg"}]
)
def test_amounts_that_do_not_fit_the_basis_are_a_gap(said: dict[str, str]) -> None:
    row = _coat(1, "2024-03-04", **said)
    (check,) = _checks(Aspect.MIX, row, coats=(COATS[0], MIXED))
    assert check.verdict is Verdict.UNKNOWN


def test_thinner_over_its_limit() -> None:
    limit = make(Limit, quantity="thinner_percent", applies_to="Body", maximum="5 %",
                 source_text="sheet")  # fmt: skip
    row = _coat(1, "2024-03-04", thinner="T-1", thinner_percent="12 %")
    (check,) = _checks(Aspect.THINNER, limit, row, coats=(COATS[0], MIXED))
    assert (check.most, check.margin, check.verdict) == (5, -7, Verdict.OUTSIDE)


def test_a_wet_film_leaves_its_solids() -> None:
    row = _coat(1, "2024-03-04", wet_film="150 um", thinner_percent="10 %")
    (check,) = _checks(Aspect.WET_FILM, row, coats=(COATS[0], MIXED))
    assert check.low == pytest.approx(150 * 0.6 / 1.1)
    assert check.verdict is Verdict.OUTSIDE


def test_the_amount_used_can_give_no_more_film_than_its_solids() -> None:
    """14 L at 60 % on 100 m² leave 84 µm with nothing lost."""
    row = _coat(1, "2024-03-04", quantity_a="10.5 L", quantity_b="3.5 L")
    (check,) = _checks(Aspect.CONSUMPTION, row, coats=(COATS[0], MIXED))
    assert check.low == pytest.approx(84)
    assert check.verdict is Verdict.OUTSIDE


def test_thickness_names_the_spots_that_fail_though_the_mean_passes() -> None:
    place = make(Location, ref="L1", area="A1")
    spots = [
        make(Thickness, ref=ref, layer="1", readings=str(um), method="wedge_cut")
        for ref, um in (("T1", 190), ("T2", 70), ("T3", 160))
    ]
    row = _coat(1, "2024-03-04")
    (check,) = _checks(Aspect.THICKNESS, place, row, *spots, coats=(COATS[0], MIXED))
    assert check.low == 140
    assert check.verdict is Verdict.OUTSIDE
    assert "SSPC-PA 9: T2" in check.words


def test_the_preparation_is_no_coat_with_a_margin() -> None:
    assert _checks(Aspect.DEW_MARGIN, _coat(0, "2024-03-01")) == []


def test_the_words_are_in_the_units_of_the_case() -> None:
    row = _coat(1, "2024-03-04", air="20 degC", humidity="60 %", surface="14 degC")
    held = dossier(AREA, *COATS, row)
    found = check_application(held, showing=Showing(System.US)).checks
    found = tuple(one for one in found if one.verdict is Verdict.OUTSIDE)
    assert found[0].words == "Body, 2024-03-04: 3.6 °F; at least 5.4 °F asked for"


# -- timeline


def test_the_timeline_has_coats_windows_margins_and_events() -> None:
    records = (
        *WINDOW,
        _coat(1, "2024-03-04 07:00", "2024-03-04 12:00", surface="10 degC", air="12 degC",
              humidity="60 %"),
        _coat(2, "2024-03-08 07:00", "2024-03-08 12:00"),
        make(Weather, time="2024-03-06 06:00", area="A1", air="8 degC", humidity="95 %",
             surface="7 degC"),
        make(AreaEvent, area="A1", event="washed", start="2024-03-09"),
    )  # fmt: skip
    found = timeline_of(
        dossier(AREA, *COATS, *records, make(CaseEntry, key="time zone", value="UTC"))
    )
    assert [(bar.order, bar.start.hour) for bar in found.bars] == [(1, 7), (2, 7)]
    (opening,) = found.openings
    assert opening.missed
    assert opening.opens > datetime(2024, 3, 4, 12, tzinfo=UTC)
    assert [margin.working for margin in found.margins] == [True, False]
    assert found.margins[1].margin_k < 0.5
    assert [str(one.event) for one in found.events] == ["washed"]


def test_a_case_without_a_log_has_an_empty_timeline() -> None:
    found = timeline_of(dossier(AREA, *COATS))
    assert (found.bars, found.openings, found.margins, found.areas) == ((), (), (), ())
    assert check_application(dossier(AREA, *COATS)).checks == ()


OPTIONAL = st.sampled_from
DATES = OPTIONAL([None, "2024", "2024-03", "2024-03-04", "2024-03-04 09:30"])


@given(
    starts=st.tuples(DATES, DATES),
    ends=st.tuples(DATES, DATES),
    air=OPTIONAL([None, "20 degC", "20 m"]),
    humidity=OPTIONAL([None, "60 %", "0 %", "140 %", "3 mm"]),
    wet=OPTIONAL([None, "18 degC", "25 degC"]),
    amount=OPTIONAL([None, "3 kg", "3 L", "0 kg", "3"]),
)
def test_whatever_is_recorded_the_check_can_be_made(
    starts: tuple[str | None, str | None],
    ends: tuple[str | None, str | None],
    air: str | None,
    humidity: str | None,
    wet: str | None,
    amount: str | None,
) -> None:
    said = {"air": air, "humidity": humidity, "wet_bulb": wet, "quantity_a": amount,
            "quantity_b": amount, "surface": "12 degC"}  # fmt: skip
    known = {name: value for name, value in said.items() if value is not None}
    rows = [_coat(at + 1, starts[at], ends[at], **known) for at in range(2)]
    held = dossier(AREA, COATS[0], MIXED, COATS[2], *WINDOW, *rows)
    for check in check_application(held).checks:
        assert check.words
        assert (check.margin is None) == (check.verdict is Verdict.UNKNOWN)
    timeline_of(held)


def test_dates_of_a_poor_record_may_be_off_by_some_days() -> None:
    """Two days either way where the case chooses nothing; so a verdict may fall open."""
    laid = (_coat(1, "2024-03-04"), _coat(2, "2024-03-09", quality="poor"), _surface(10))
    (check,) = _checks(Aspect.RECOAT, *WINDOW, *laid)
    assert (check.low, check.high) == (48, 192)
    assert check.verdict is Verdict.OPEN
    (sure,) = _checks(Aspect.RECOAT, *WINDOW, *laid, poor_date_d=0.0)
    assert (sure.low, sure.high) == (96, 144)
    assert sure.verdict is Verdict.OUTSIDE
