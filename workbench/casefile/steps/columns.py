"""A short way to say which columns a step adds.

One word per column: `note` is text that may be blank (NULL), `note!` is text that is always
there (an empty one at least), `count#` is a whole number, `order#!` one that is always there.
"""

from typing import TYPE_CHECKING, Any

import sqlalchemy as sa

if TYPE_CHECKING:
    from alembic.operations import Operations


def make_record_table(op: "Operations", noun: str, words: str) -> None:
    """Make the table of a record type: what every record has, then the columns of `words`."""
    op.create_table(
        noun,
        sa.Column("position", sa.Integer, nullable=False, autoincrement=False),
        *_columns("id! origin! withdrawn!"),
        *_columns(words),
        sa.PrimaryKeyConstraint("position", name=f"pk_{noun}"),
        sa.UniqueConstraint("id", name=f"uq_{noun}_id"),
    )


def make_chain_table(op: "Operations", name: str) -> None:
    """Make a table of chained entries."""
    op.create_table(
        name,
        sa.Column("seq", sa.Integer, nullable=False, autoincrement=False),
        *_columns("recorded_at! body! prev! hash!"),
        sa.PrimaryKeyConstraint("seq", name=f"pk_{name}"),
    )


def add_columns(op: "Operations", noun: str, words: str) -> None:
    """Add the columns of `words` to a table; what is there has them blank."""
    for column in _columns(words):
        if not column.nullable:
            column.server_default = sa.DefaultClause("")
        op.add_column(noun, column)


def _columns(words: str) -> list[sa.Column[Any]]:
    return [
        sa.Column(
            word.rstrip("#!"), sa.Integer if "#" in word else sa.Text, nullable="!" not in word
        )
        for word in words.split()
    ]
