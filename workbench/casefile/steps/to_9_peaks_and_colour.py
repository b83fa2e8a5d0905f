"""The laboratory: peaks of thermograms, estimates by rules, colour and gloss, attachments."""

from typing import TYPE_CHECKING

from workbench.casefile.steps.columns import add_columns, make_record_table

if TYPE_CHECKING:
    from alembic.operations import Operations


def upgrade(op: "Operations") -> None:
    """Make the tables, and the columns for attachments and for check materials."""
    add_columns(op, "lab_request", "attachments!")
    add_columns(op, "transition_reading", "check")
    make_record_table(
        op,
        "peak_reading",
        "ref! file! part! sample! face peak! first! last! rate mass exotherm_up against! check by!"
        " date note!",
    )
    make_record_table(
        op,
        "tg_estimate",
        "ref! sample! face rule! shares! transitions! conversion read uncured cured interaction"
        " basis! by! date note!",
    )
    make_record_table(
        op,
        "colour_reading",
        "ref! at! means! lightness red_green yellow_blue gloss angle geometry! against!"
        " instrument! file! by! date note!",
    )
