"""Set results beside the limits of a case."""

from typing import TYPE_CHECKING

from workbench.cli.options import AsJson, CasePath
from workbench.cli.printing import say, say_json

if TYPE_CHECKING:
    from workbench.analysis.conformity import Statement


def run(case: CasePath, *, json: AsJson = False) -> int:
    """Set results beside the limits of a case; pass or fail only by its decision rule.

    Exit code 1 says that something fails by that rule. `workbench rules` chooses it.
    """
    from workbench.analysis.conformity import Conformity
    from workbench.desk.case import Case
    from workbench.desk.questions.limits import limits_in, not_beside, rule_in_words
    from workbench.trade.names import quantity_name
    from workbench.trade.showing import Showing, System

    with Case.open(case, read_only=True) as opened:
        dossier = opened.dossier
    system = System.of(dossier.entry("units"))
    found = limits_in(system)(dossier)
    fails = any(one.verdict is Conformity.FAIL for one in found)
    if json:
        say_json({"limits": [_member(one) for one in found]})
        return 1 if fails else 0
    for one in found:
        say(f"{quantity_name(one.quantity)}, {one.asked} ({one.clause or 'source not stated'})")
        say(f"    {one.spread(Showing(system))}; {one.said}")
    if left := not_beside(dossier, found):
        say(left)
    say(rule_in_words(found))
    return 1 if fails else 0


def _member(one: "Statement") -> dict[str, object]:
    return {
        "limit": str(one.limit),
        "quantity": one.quantity,
        "unit": one.unit,
        "asked": one.asked,
        "clause": one.clause,
        "rule": one.rule,
        "verdict": one.verdict,
        "why": one.why,
        "results": [
            {
                "source": str(result.source),
                "area": result.area,
                "value": result.value,
                "at_least": result.at_least,
                "at_most": result.at_most,
                "singles": result.singles,
                "in_doubt": result.in_doubt,
                "uncertainty": result.uncertainty,
                "why_not": result.why_not,
                "verdict": result.verdict,
            }
            for result in one.results
        ],
    }
