"""What the analysis finds in the records, asked by windows and commands alike.

The analysis is imported when the first question is asked: a window opens without it.
"""

from typing import TYPE_CHECKING

from workbench.records import Dossier

if TYPE_CHECKING:
    from workbench.analysis.strength.results import StrengthResult


def strength(dossier: Dossier) -> "StrengthResult":
    """Return what the pull-offs say of the strength of each plane."""
    from workbench.analysis.strength import strength_by_plane

    return strength_by_plane(dossier)
