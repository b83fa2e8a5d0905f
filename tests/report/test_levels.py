"""A site of several levels: its plans are drawn level by level, none over another."""

from bottling_hall import bottling_hall, computed, on_two_levels
from report_made import setup

from workbench.records import Source
from workbench.report.draft import Draft
from workbench.report.figures import moisture_figures, plan_figures


def test_the_report_draws_each_level_with_its_own_pulls_and_readings() -> None:
    two = on_two_levels()
    draft = Draft(two, computed(), setup())
    plans = {figure.key: set(figure.sources) for figure in plan_figures(draft)}
    assert set(plans) == {"plan lower", "plan upper"}
    assert not plans["plan lower"] & plans["plan upper"]
    (one,) = plan_figures(Draft(bottling_hall(), computed(), setup()))
    assert plans["plan lower"] | plans["plan upper"] == set(one.sources)
    assert Source("pull_off", "P-01") in plans["plan lower"]
    assert [figure.key for figure in moisture_figures(draft)] == [
        "moisture lower",
        "moisture upper",
    ]
