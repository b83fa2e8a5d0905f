"""Failing against non-failing and control in all that was measured."""

from typing import TYPE_CHECKING

from workbench.records import Dossier

if TYPE_CHECKING:
    from workbench.analysis.comparison.results import Comparison
    from workbench.analysis.strength.results import StrengthResult


def comparisons(dossier: Dossier) -> "tuple[Comparison, ...]":
    """Return every comparison of conditions: strength plane by plane, then all else measured."""
    from workbench.analysis.strength import strength_by_plane

    return beside(dossier, strength_by_plane(dossier))


def beside(dossier: Dossier, strength: "StrengthResult | None") -> "tuple[Comparison, ...]":
    """Return the comparisons of strengths already estimated, and those of all else measured."""
    from workbench.analysis.comparison.between_conditions import CompareSettings, compare_measured
    from workbench.analysis.comparison.measured import measured_in
    from workbench.analysis.strength import StrengthSettings

    chosen = StrengthSettings.of(dossier)
    settings = CompareSettings(
        confidence=chosen.confidence, fewest_areas=chosen.fewest_areas, seed=chosen.seed
    )
    measured = compare_measured(measured_in(dossier), settings)
    return (*(strength.comparisons if strength else ()), *measured)
