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


def bound_words(group: Group, showing: Showing) -> str:
    """Return what holds of a plane in which nothing broke, whatever the law of strength.

    It needs no spread and no law: the lowest reading is a fact, the median is bounded by the
    sign test, and the share of spots by a success run. Empty where something broke.
    """
    bound = group.lower_bound
    if bound is None:
        return ""
    lowest, sure = showing.stress(bound.lowest_mpa), showing.percent(100 * group.confidence)
    held = "The pull" if group.n == 1 else f"Each of {group.n} pulls"
    said = f"{held} held at least {lowest}. Whatever the law of strength, "
    if bound.sign_mpa is None:
        less = showing.percent(100 * bound.sign_confidence)
        median = f"the median is at least {lowest} with a confidence of {less} only"
    else:
        median = f"with {sure} confidence the median is at least {showing.stress(bound.sign_mpa)}"
    share = showing.percent(100 * bound.share_above_lowest)
    return f"{said}{median}, and {share} of spots or more are stronger than {lowest} ({sure})."
