"""Every choice of a case: settings of the field tests first, then thresholds of the reasoning."""

from workbench.reasoning.settings import Settings, threshold_problems, thresholds
from workbench.records import Dossier, Problem
from workbench.trade.methods import bounds_problems
from workbench.trade.settings import Choice, choices, settings_of, settings_problems


def choices_of(dossier: Dossier) -> tuple[Choice, ...]:
    """Return every choice as it stands in the case, with the source of its default."""
    return (*choices(settings_of(dossier)), *thresholds(Settings.of(dossier)))


def choice_problems(dossier: Dossier) -> tuple[Problem, ...]:
    """Return the case entries that mean to choose something and have no effect."""
    return (
        *settings_problems(dossier),
        *bounds_problems(settings_of(dossier)),
        *threshold_problems(dossier),
    )
