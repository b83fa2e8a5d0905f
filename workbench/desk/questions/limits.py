"""Results beside the limits of a case, for window and command alike."""

from functools import cache
from typing import TYPE_CHECKING

from workbench.records import Dossier

if TYPE_CHECKING:
    from collections.abc import Callable

    from workbench.analysis.conformity import Statement
    from workbench.trade.showing import System


@cache
def limits_in(system: "System") -> "Callable[[Dossier], tuple[Statement, ...]]":
    """Return the question of limits in some units; one for each system."""

    def limits_told(dossier: Dossier) -> "tuple[Statement, ...]":
        from workbench.analysis.conformity import statements_of
        from workbench.trade.showing import Showing

        return statements_of(dossier, showing=Showing(system))

    return limits_told


def not_beside(dossier: Dossier, found: "tuple[Statement, ...]") -> str:
    """Return which limits have no result beside them, as a sentence; empty where all have."""
    from workbench.analysis.conformity import without_results
    from workbench.trade.names import quantity_name

    left = [quantity_name(one.quantity) for one in without_results(dossier, found)]
    if not left:
        return ""
    return f"Without a result beside it, or a limit on the work itself: {', '.join(left)}."


def rule_in_words(found: "tuple[Statement, ...]") -> str:
    """Return the decision rule that statements were made by; says so where there are none."""
    from workbench.analysis.conformity import RULES_IN_WORDS

    if not found:
        return "No limit of the case has a result beside it yet."
    return RULES_IN_WORDS[found[0].rule]
