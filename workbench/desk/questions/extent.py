"""How much fails, what to allow for its repair, and how many more pulls would tell what."""

from typing import TYPE_CHECKING

from workbench.records import Dossier, Limit, NotUnderstoodError, Quantity
from workbench.trade.showing import Showing

if TYPE_CHECKING:
    from workbench.analysis.extent import Extent, RepairQuantity
    from workbench.analysis.planning import Against, PullsForDifference, PullsForPrecision
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


def required(dossier: Dossier) -> Quantity | None:
    """Return the pull-off strength that the case asks for, as it is written.

    None where none is recorded, or where they differ: then a person says which is meant.
    """
    held = {one.minimum for one in dossier.all(Limit) if one.quantity == "pull_off"}
    return next(iter(held)) if len(held) == 1 else None


def read_stress(text: str) -> float | None:
    """Return the stress in MPa that a person wrote; None for a blank.

    Raises:
        ValueError: It is no stress; the text says what would be right.
    """
    from workbench.trade.units import UnitError, in_unit

    if not text.strip():
        return None
    try:
        mpa = in_unit(Quantity.read(text.strip()), "MPa", "MPa")
    except (NotUnderstoodError, UnitError) as wrong:
        said = f"“{text.strip()}” is no stress; write it as 1.5 MPa or 220 psi"
        raise ValueError(said) from wrong
    if not mpa > 0:
        raise ValueError(f"“{text.strip()}” is no strength; give one above 0")
    return mpa


def held_against(group: "Group", required_mpa: float) -> "Against":
    """Return what the present pulls exclude about the median of a plane and a strength."""
    from workbench.analysis.planning import against

    return against(group, required_mpa)


def plane_words(group: "Group", showing: Showing, required_mpa: float | None) -> str:
    """Return what the present pulls say of a plane, and what more of them would.

    Args:
        group: The plane in one condition.
        showing: How numbers are shown.
        required_mpa: A strength to hold it against; None for none.
    """
    from workbench.analysis.planning import Against
    from workbench.analysis.strength.bounds import pulls_needed_to_show
    from workbench.analysis.strength.words import bound_words

    said = [*group.remarks, bound_words(group, showing)]
    if required_mpa is not None:
        verdict = held_against(group, required_mpa)
        said.append(f"Against {showing.stress(required_mpa)}: {verdict}.")
        if verdict is Against.NOTHING:
            more = pulls_needed_to_show(_MOST_SPOTS, group.confidence)
            said.append(
                "On the same spots pulls cannot show more than the glue or the weakest plane lets "
                f"them; {more} at or above it without a break here would show that nine spots in "
                "ten meet it."
            )
    return " ".join(filter(None, said))


_MOST_SPOTS = 0.9
