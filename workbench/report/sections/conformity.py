"""Results beside the requirements: a pass or a fail only by the decision rule of the case."""

from workbench.analysis.conformity import (
    RULES_IN_WORDS,
    Statement,
    statements_of,
    without_results,
)
from workbench.records import Limit
from workbench.report.blocks import Block, Heading, Row, Table, headed
from workbench.report.draft import Draft, fact
from workbench.report.refs import in_short
from workbench.report.text import See
from workbench.report.wording import listed
from workbench.trade.names import quantity_name
from workbench.trade.settings import DecisionRule


def conformity_blocks(draft: Draft) -> list[Block]:
    """Return the table of results beside each requirement, and the rule it was judged by."""
    found = statements_of(draft.dossier, showing=draft.show)
    if not found:
        return []
    judged = found[0].rule is not DecisionRule.NOT_CHOSEN
    heads = ("Requirement", "Asked", "According to", "Results")
    columns = headed(*heads, *(("Statement",) if judged else ()))
    rows = tuple(_row(draft, one, judged=judged) for one in found)
    asked = {one.limit for one in found}
    return [
        Heading(2, "Results beside the requirements", "conformity"),
        fact(
            "field tests: conformity",
            See("table conformity"),
            " sets results of the field and of the laboratory beside what was asked for. ",
            f"{RULES_IN_WORDS[found[0].rule]}{_left(draft, found)}",
            of=[one for one in draft.dossier.all(Limit) if one.source in asked],
        ),
        Table("conformity", "Results beside the requirements", columns, rows),
    ]


def _left(draft: Draft, found: tuple[Statement, ...]) -> str:
    """Return which requirements are not in the table, and why."""
    left = [quantity_name(one.quantity) for one in without_results(draft.dossier, found)]
    if not left:
        return ""
    return (
        f" Not in the table are {listed(left)}: they have no result beside them, or are limits on "
        "the work itself."
    )


def _row(draft: Draft, one: Statement, *, judged: bool) -> Row:
    refs = in_short(result.source for result in one.results)
    results = f"{one.spread(draft.show)} [{refs}]"
    cells = [quantity_name(one.quantity), one.asked, one.clause or "not stated", results]
    if judged:
        cells.append(one.said)
    return Row(tuple(cells), (one.limit, *(result.source for result in one.results)))
