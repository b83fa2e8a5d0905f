"""How the work was done against what was asked for: intervals, climate, amounts, timeline.

A blank entry counts for nobody: what cannot be computed is listed as a gap, never as a fault.
"""

from workbench.analysis.application.amounts import amount_checks
from workbench.analysis.application.climate import climate_checks
from workbench.analysis.application.intervals import interval_checks
from workbench.analysis.application.laid import Log
from workbench.analysis.application.results import (
    ApplicationCheck,
    Aspect,
    Bar,
    Check,
    Happened,
    MarginAt,
    Opening,
    Timeline,
    Verdict,
)
from workbench.analysis.application.timeline import timeline
from workbench.records import Dossier
from workbench.trade.settings import Settings, settings_of
from workbench.trade.showing import Showing

__all__ = [
    "ApplicationCheck",
    "Aspect",
    "Bar",
    "Check",
    "Happened",
    "MarginAt",
    "Opening",
    "Timeline",
    "Verdict",
    "check_application",
    "timeline_of",
]


def check_application(
    dossier: Dossier, settings: Settings | None = None, *, showing: Showing | None = None
) -> ApplicationCheck:
    """Return every check of the application, area by area and coat by coat.

    Args:
        dossier: The case.
        settings: Choices; those of the case where none are given.
        showing: Units of the words; SI where none is given.
    """
    log = _log(dossier, settings, showing)
    found = (*interval_checks(log), *climate_checks(log), *amount_checks(log))
    place = {area.ref: at for at, area in enumerate(log.areas)}
    rank = {aspect: at for at, aspect in enumerate(Aspect)}
    return ApplicationCheck(
        tuple(sorted(found, key=lambda one: (place[one.area], one.order, rank[one.aspect])))
    )


def timeline_of(dossier: Dossier, settings: Settings | None = None) -> Timeline:
    """Return what was applied where and when, with recoat windows and dew-point margins."""
    return timeline(_log(dossier, settings, None))


def _log(dossier: Dossier, settings: Settings | None, showing: Showing | None) -> Log:
    return Log(dossier, settings or settings_of(dossier), showing or Showing())
