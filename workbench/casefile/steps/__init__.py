"""The formats of a case file, each reached from the one before by a numbered step.

A step is a module `to_N_what_it_brings.py` with `upgrade(op)`, which may use all operations of
Alembic, or the short ways of `columns`. It is appended to `STEPS`; the number of steps is the
number of the format. A step adds and never takes away: the journal replays into its tables.
"""

from types import ModuleType

from sqlalchemy import Connection

from workbench.casefile.sqlite import guard, stamp
from workbench.casefile.steps import (
    to_1_field_book,
    to_2_custody,
    to_3_reasoning,
    to_4_report,
    to_5_window,
    to_6_laboratory,
    to_7_field_tests,
    to_8_levels,
    to_9_peaks_and_colour,
)
from workbench.casefile.tables import JOURNAL, LEDGER, ORIGINAL, RECORDS

STEPS: tuple[ModuleType, ...] = (
    to_1_field_book,
    to_2_custody,
    to_3_reasoning,
    to_4_report,
    to_5_window,
    to_6_laboratory,
    to_7_field_tests,
    to_8_levels,
    to_9_peaks_and_colour,
)


def bring_up(connection: Connection, have: int) -> None:
    """Take a case file from format `have` to the newest, in the transaction of `connection`."""
    from alembic.operations import Operations  # noqa: PLC0415 - slow, and seldom needed
    from alembic.runtime.migration import MigrationContext  # noqa: PLC0415

    operations = Operations(MigrationContext.configure(connection))
    for step in STEPS[have:]:
        step.upgrade(operations)
    records = [table.name for table in RECORDS.values()]
    guard(connection, kept=records, fixed=[JOURNAL.name, LEDGER.name, ORIGINAL.name])
    stamp(connection, len(STEPS))
