"""Field tests: what a person answers to a doubt about a record."""

from typing import TYPE_CHECKING

from workbench.casefile.steps.columns import make_record_table

if TYPE_CHECKING:
    from alembic.operations import Operations


def upgrade(op: "Operations") -> None:
    """Make the table."""
    make_record_table(op, "doubt_answer", "about! rule! effect! reason! by! signed")
