"""Reasoning: what the investigator decides about causes, exclusions, weights and words."""

from typing import TYPE_CHECKING

from workbench.casefile.steps.columns import make_record_table

if TYPE_CHECKING:
    from alembic.operations import Operations

TABLES = {
    "cause_decision": "cause! place! grade! role reason! by! signed",
    "exclusion_decision": "cause! observation! confirmed! reason! by! signed",
    "weight_change": "cause! observation! values! direction! weight! reason! by!",
    "added_cause": "cause! name! mechanism! replaces reason! by!",
    "added_observation": "observation! question! stage! side! values! reason! by!",
    "list_statement": "list_of! statement! basis! by!",
    "edited_text": "paragraph! text! basis! digest! by!",
    "opinion": (
        "ref! question! opinion! grade basis! against! limits! range_of_opinion! by! signed"
    ),
}


def upgrade(op: "Operations") -> None:
    """Make the tables."""
    for noun, words in TABLES.items():
        make_record_table(op, noun, words)
