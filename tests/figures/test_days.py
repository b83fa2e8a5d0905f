"""Days on an axis: the first of a month keeps its name, whatever days stand about it."""

from datetime import UTC, date, datetime

from hypothesis import given
from hypothesis import strategies as st
from matplotlib.dates import AutoDateLocator, date2num, num2date

from workbench.figures.days import DayFormatter


@given(
    start=st.dates(date(1990, 1, 1), date(2060, 1, 1)),
    days=st.integers(min_value=35, max_value=150),
)
def test_the_first_of_a_month_that_is_on_the_axis_says_its_name(start: date, days: int) -> None:
    low = float(date2num(start))  # type: ignore[no-untyped-call]
    locator = AutoDateLocator(tz=UTC, minticks=4, maxticks=12)  # type: ignore[no-untyped-call]
    ticks = locator.tick_values(*_span(low, low + days))  # type: ignore[no-untyped-call]
    labels = DayFormatter(locator, UTC).format_ticks(ticks)
    firsts = [at for at, tick in enumerate(ticks) if _day(tick) == 1]
    assert firsts
    assert all(labels[at] for at in firsts)


def _span(low: float, high: float) -> tuple[datetime, datetime]:
    return num2date(low, UTC), num2date(high, UTC)  # type: ignore[no-untyped-call]


def _day(tick: float) -> int:
    return _span(tick, tick)[0].day
