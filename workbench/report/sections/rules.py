"""The rules and thresholds that decided something in the report, each with its source."""

from workbench.reasoning import choices_of, decided
from workbench.reasoning.settings import GRADING
from workbench.records import CaseEntry, Limit
from workbench.report.blocks import Block, Heading, Row, Table, headed
from workbench.report.draft import Draft, plain
from workbench.report.text import See
from workbench.trade.settings import Choice

_OF_LIMITS = "decision_rule"
_NOTE = (
    "“Rule of this program”: no published rule is known; it is stated so that it can be "
    "questioned. Who chose otherwise, when and why is in the journal extract."
)


def rule_blocks(draft: Draft) -> list[Block]:
    """Return the table of the rules that decided a finding, or were chosen for the case."""
    used = _used(draft)
    held = [one for one in choices_of(draft.dossier) if one.name in used or one.departs]
    if not held:
        return []
    columns = headed("What is asked", "Holds", "Usual", "Where the usual comes from")
    rows = tuple(_row(draft, one) for one in held)
    return [
        Heading(2, "Rules and thresholds"),
        plain(
            "Where sources disagree, or name no number, something has to be chosen. ",
            See("table rules"),
            " has the choices that decided a finding or a grade of this report.",
        ),
        Table(
            "rules", "Rules and thresholds that decided a finding or a grade", columns, rows, _NOTE
        ),
    ]


def _used(draft: Draft) -> frozenset[str]:
    reasoning = draft.results.reasoning
    used = decided(reasoning).keys() | GRADING if reasoning else frozenset()
    return frozenset(used) | ({_OF_LIMITS} if draft.dossier.all(Limit) else set())


def _row(draft: Draft, one: Choice) -> Row:
    entry = draft.dossier.find(CaseEntry, one.key)
    chosen = entry is not None and not entry.withdrawn
    usual = one.words(one.default, draft.show) if one.departs else "the same"
    others = f"; others say {one.others_in_words}" if one.others else ""
    asks = one.asks[:1].upper() + one.asks[1:]
    return Row(
        (asks, one.words(one.value, draft.show), usual, f"{one.basis}{others}"),
        (entry.source,) if chosen and entry else (),
    )
