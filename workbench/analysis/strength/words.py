"""The strength of a plane in words, the same wherever it is said."""

from workbench.analysis.strength.results import Group, Method
from workbench.trade.showing import Bound, Showing


def strength_words(group: Group, showing: Showing, *, whole: bool = True) -> str:
    """Return the median with its interval, or the bound that can be given; empty where neither.

    Where only the lower limit is worth telling it is said alone.

    Args:
        group: The pulls of one condition at one plane.
        showing: How numbers are shown.
        whole: Whether unit and interval are said too.
    """
    if group.extrapolated and group.at_least_mpa is not None:
        return showing.stress(group.at_least_mpa, bound=Bound.AT_LEAST, unit=whole)
    if group.method is Method.UPPER_BOUND and group.high_mpa is not None:
        return showing.stress(group.high_mpa, bound=Bound.AT_MOST, unit=whole)
    if group.median_mpa is None:
        return ""
    if not whole:
        return showing.stress(group.median_mpa, unit=False)
    return showing.stress(group.median_mpa, low=group.low_mpa, high=group.high_mpa)
