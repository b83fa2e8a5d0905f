"""Intervals between coats, as the reasoning weighs them."""

import re

from bottling_hall import bottling_hall

from workbench.analysis.application import check_application
from workbench.analysis.application.results import Aspect
from workbench.reasoning.derivation.intervals import interval_verdicts
from workbench.reasoning.scene import Scene
from workbench.reasoning.settings import Settings


def test_the_limit_weighed_is_the_one_that_the_check_of_the_application_tells() -> None:
    checks = {
        (one.area, one.coat): one
        for one in check_application(bottling_hall()).checks
        if one.aspect is Aspect.RECOAT
    }
    verdicts = interval_verdicts(Scene(bottling_hall(), Settings()), longest=True)
    assert verdicts
    for one in verdicts:
        told = re.search(r"maximum ([\d.]+) h", one.words)
        most = checks[one.area.ref, "Body SF"].most
        assert told
        assert most
        assert abs(float(told[1]) - most) <= 0.05
