"""Levels: which level or side of the site a plan and an area show."""

from typing import TYPE_CHECKING

from workbench.casefile.steps.columns import add_columns

if TYPE_CHECKING:
    from alembic.operations import Operations


def upgrade(op: "Operations") -> None:
    """Add the columns."""
    add_columns(op, "area", "level!")
    add_columns(op, "site_plan", "level!")
