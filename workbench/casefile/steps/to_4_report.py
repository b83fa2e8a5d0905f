"""Report: editions, exhibits, instructions, assumptions, statements, credentials."""

from typing import TYPE_CHECKING

from workbench.casefile.steps.columns import make_record_table

if TYPE_CHECKING:
    from alembic.operations import Operations

TABLES = {
    "edition": (
        "ref! form! units! profile! author! checked_by! checked_on authorised_by! authorised_on "
        "content! issued_on file! sha256! pdf! pdf_sha256! journal_head! ledger_head! replaces! "
        "signed!"
    ),
    "exhibit": (
        "ref! order#! kind! of! name! legend! dated status pages# first_page! last_page! note!"
    ),
    "instruction": "ref! date! sender! addressee! form! kind! substance! opinion!",
    "assumption": "ref! words! given_by! effect!",
    "statement": "key! words! by! dated",
    "credential": "ref! person! kind! date words!",
}


def upgrade(op: "Operations") -> None:
    """Make the tables of the report."""
    for noun, words in TABLES.items():
        make_record_table(op, noun, words)
