"""The window: marks on photographs, kept apart from the pictures."""

from typing import TYPE_CHECKING

from workbench.casefile.steps.columns import make_record_table

if TYPE_CHECKING:
    from alembic.operations import Operations


def upgrade(op: "Operations") -> None:
    """Make the table."""
    make_record_table(op, "photo_mark", "ref! photo! shape! points! words! length")
