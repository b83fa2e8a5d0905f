"""Format 2: how samples are kept: care, discrepancies, shipments, leave to cut."""

from typing import TYPE_CHECKING

from workbench.casefile.steps.columns import make_record_table

if TYPE_CHECKING:
    from alembic.operations import Operations

TABLES = {
    "sample_care": "sample! hazards! layers! storage! handling! hold hold_reason! keep_until",
    "discrepancy": (
        "ref! samples! kind! found! words! photo! asked! asked_when question! answer! "
        "answered_when decision"
    ),
    "shipment": (
        "ref! samples! sender! addressee! carrier! number! seal! sent expected received "
        "containers_sent# containers_received# note!"
    ),
    "destructive_step": (
        "sample! step! photos notice_to! notice_when approved_by! approved_when override!"
    ),
    "hand_over": "ref! direction! party! when! samples! our_ledger! their_ledger! note!",
}


def upgrade(op: "Operations") -> None:
    """Make the tables of how samples are kept."""
    for noun, words in TABLES.items():
        make_record_table(op, noun, words)
