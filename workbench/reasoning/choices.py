"""Every choice of a case: settings of the field tests first, then thresholds of the reasoning."""

from collections import defaultdict
from collections.abc import Mapping

from workbench.reasoning.results import Finding, Reasoning
from workbench.reasoning.settings import SHARED, Settings, threshold_problems, thresholds
from workbench.records import Dossier, Problem
from workbench.trade.methods import bounds_problems
from workbench.trade.settings import Choice, choices, settings_of, settings_problems


def choices_of(dossier: Dossier) -> tuple[Choice, ...]:
    """Return every choice as it stands in the case, with the source of its default."""
    return tuple(one for group in grouped_choices(dossier).values() for one in group)


def grouped_choices(dossier: Dossier) -> dict[str, tuple[Choice, ...]]:
    """Return every choice as it stands in the case, by what it decides."""
    return {
        "Field tests": choices(settings_of(dossier)),
        "Reasoning": tuple(thresholds(Settings.of(dossier))),
    }


def choice_problems(dossier: Dossier) -> tuple[Problem, ...]:
    """Return the case entries that mean to choose something and have no effect."""
    return (
        *settings_problems(dossier),
        *bounds_problems(settings_of(dossier)),
        *threshold_problems(dossier),
    )


def decided(reasoning: Reasoning) -> Mapping[str, tuple[Finding, ...]]:
    """Return the findings that each choice decided, by the name of the choice."""
    found: dict[str, list[Finding]] = defaultdict(list)
    for one in reasoning.findings:
        for name, _value in one.settings_used if one.known else ():
            found[SHARED[name][0] if name in SHARED else name].append(one)
    return {name: tuple(findings) for name, findings in found.items()}
