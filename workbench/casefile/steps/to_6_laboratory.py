"""The laboratory: questions put, curves, assignments, constructions, observations."""

from typing import TYPE_CHECKING

from workbench.casefile.steps.columns import add_columns, make_record_table

if TYPE_CHECKING:
    from alembic.operations import Operations


def upgrade(op: "Operations") -> None:
    """Make the tables, and the columns of results that are said at the desk."""
    add_columns(op, "lab_result", "request! blank!")
    make_record_table(
        op,
        "lab_request",
        "ref! sample! question! method! edition! conditions! control! blank! laboratory! own"
        " analyst! supervision! asked by! deviation! note!",
    )
    make_record_table(
        op,
        "curve",
        "ref! file! part! kind! role sample! face ordinate technique! date analyst! note!",
    )
    make_record_table(
        op, "assignment", "ref! file! part! candidate! bands! reason! against! by! date"
    )
    make_record_table(
        op,
        "transition_reading",
        "ref! file! part! sample! face heat! before_from! before_to! after_from! after_to!"
        " definition! rate by! date note!",
    )
    make_record_table(
        op,
        "section_reading",
        "ref! file! sample! scale! length! length_uncertainty line! profiles#! apart! seams!"
        " layers! mount proposed confirmed_by! confirmed note!",
    )
    make_record_table(
        op,
        "microscopy",
        "ref! sample! face preparation illumination magnification feature! found! where!"
        " fields_seen# control! file! method! by! date note!",
    )
