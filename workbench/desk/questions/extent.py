"""How much fails, what to allow for its repair, and how many more pulls would tell what."""

from typing import TYPE_CHECKING

from workbench.records import Dossier

if TYPE_CHECKING:
    from workbench.analysis.extent import Extent, RepairQuantity
    from workbench.analysis.planning import PullsForDifference, PullsForPrecision
    from workbench.analysis.strength.results import Group


def extent(dossier: Dossier) -> "Extent":
    """Return how much of each area fails."""
    from workbench.analysis.extent import extent_of

    return extent_of(dossier)


def repair(found: "Extent", *, edges_percent: float, margin_percent: float) -> "RepairQuantity":
    """Return what to allow for a repair, with shares for sound edges and for what is hidden."""
    from workbench.analysis.extent import repair_quantity

    return repair_quantity(found, edges=edges_percent / 100, margin=margin_percent / 100)


def precision(group: "Group", wanted_ratio: float) -> "PullsForPrecision":
    """Return how many further pulls would bring an interval down to a ratio of its ends.

    Raises:
        ValueError: The ratio is not above 1.
    """
    from workbench.analysis.planning import pulls_for_precision

    return pulls_for_precision(group, wanted_ratio)


def difference(group: "Group", ratio: float) -> "PullsForDifference | None":
    """Return how many pulls on each side would show a ratio of medians in the plane of a group.

    Breaks are taken to fall in the plane as often, and to spread as much, as so far; None where
    none fell there, or their spread is not known.

    Raises:
        ValueError: The ratio is not above 0, or is 1.
    """
    from workbench.analysis.planning import pulls_for_difference

    breaks = group.weight + group.at_most
    if not breaks or group.spread is None:
        return None
    return pulls_for_difference(ratio, group.spread, min(breaks / group.n, 1.0))
