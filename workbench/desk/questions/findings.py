"""What the analysis finds in the records, asked by windows and commands alike.

The analysis is imported when the first question is asked: a window opens without it.
"""

from typing import TYPE_CHECKING

from workbench.records import Dossier, Source

if TYPE_CHECKING:
    from collections.abc import Mapping

    from workbench.analysis.application.results import Timeline
    from workbench.analysis.doubts import Doubt
    from workbench.analysis.pattern.results import Pattern
    from workbench.analysis.strength.results import StrengthResult
    from workbench.trade.pull_off import Stress


def strength(dossier: Dossier) -> "StrengthResult":
    """Return what the pull-offs say of the strength of each plane."""
    from workbench.analysis.strength import strength_by_plane

    return strength_by_plane(dossier)


def doubts(dossier: Dossier) -> "Mapping[Source, tuple[Doubt, ...]]":
    """Return the doubts about each record that is in doubt, answered or not."""
    from workbench.analysis.doubts import doubts_of

    found: dict[Source, list[Doubt]] = {}
    for one in doubts_of(dossier):
        found.setdefault(one.source, []).append(one)
    return {source: tuple(about) for source, about in found.items()}


def timeline(dossier: Dossier) -> "Timeline":
    """Return what was laid when and in which air, with the windows that held."""
    from workbench.analysis.application import timeline_of

    return timeline_of(dossier)


def patterns(dossier: Dossier) -> "tuple[Pattern, ...]":
    """Return what the failure follows, and what it does not."""
    from workbench.analysis.pattern.follows import patterns_of

    return patterns_of(dossier, strength(dossier))


def stresses(dossier: Dossier) -> "Mapping[str, Stress]":
    """Return the stress of each pull-off, by its identifier."""
    from workbench.records import PullOff
    from workbench.trade.pull_off import stress_of

    return {pull.id: stress_of(pull) for pull in dossier.all(PullOff)}
