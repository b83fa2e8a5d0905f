"""Format 1: the tables of the field book, the journal, the custody ledger, the originals."""

from typing import TYPE_CHECKING

from sqlalchemy import Column, Integer, PrimaryKeyConstraint, Text

from workbench.casefile.steps.columns import make_chain_table, make_record_table

if TYPE_CHECKING:
    from alembic.operations import Operations

TABLES = {
    "case_entry": "key! value!",
    "party": "name! role! contact!",
    "document": "ref! name! kind sender! dated received status! file! note!",
    "coat": (
        "system! order#! material! product! colour! existing dft_nominal dft_min dft_max "
        "volume_solids mix_ratio! mix_basis pot_life apply_min apply_max humidity_max "
        "humidity_min dew_margin note!"
    ),
    "recoat_window": "product! on_top! at_temperature min_interval max_interval source_text!",
    "limit": "quantity! applies_to! at_temperature method! minimum maximum source_text! note!",
    "area": "ref! name! condition! system! within! size outline features note!",
    "area_event": "area! event! start! end value source_text! quality note!",
    "site_plan": "file! x0! y0! x1! y1! length!",
    "application": (
        "ref! area! coat#! start end batch_a! batch_b! quantity_a quantity_b thinner! "
        "thinner_percent wet_film method! applicator! abraded cleaned air humidity surface "
        "wet_bulb quality source_text! note!"
    ),
    "weather": "time! area air humidity surface rain on_site",
    "location": "ref! area! x y level! chosen! features description!",
    "survey_entry": (
        "ref! at! form! plane size! density! scale! extent count# looked_at# note! photo!"
    ),
    "pull_off": (
        "ref! location! date method! on# treatment fixture shape cut_round glue! cure reading "
        "calibrated_for seconds came_away breaks operator! instrument! note!"
    ),
    "rating": "ref! location! date method! rating! plane on# operator! note!",
    "thickness": "ref! location! method! layer! readings! unit! date operator! note!",
    "measurement": (
        "ref! location! method! quantity! value! qualifier plane depth date operator! note!"
    ),
    "sample": (
        "ref! parent! kind! at! purpose taken taken_by! container! seal! face amount condition! "
        "note!"
    ),
    "lab_result": (
        "ref! sample! face method! quantity! value! qualifier uncertainty coverage_factor "
        "control! condition laboratory! analyst! date deviation! file! note!"
    ),
    "photo": "file! ref! taken at! direction! caption!",
    "instrument": "ref! kind! serial! calibrated due certificate!",
    "answer": "observation! value! area! by! reason! quality",
}


def upgrade(op: "Operations") -> None:
    """Make the tables."""
    for noun, words in TABLES.items():
        make_record_table(op, noun, words)
    make_chain_table(op, "journal")
    make_chain_table(op, "custody_ledger")
    op.create_table(
        "original",
        Column("position", Integer, nullable=False, autoincrement=False),
        Column("name", Text, nullable=False),
        Column("digest", Text, nullable=False),
        Column("size", Integer, nullable=False),
        Column("kept_at", Text, nullable=False),
        PrimaryKeyConstraint("position", name="pk_original"),
    )
