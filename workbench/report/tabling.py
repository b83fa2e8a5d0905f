"""Long tables of readings: what is the same in every row is said once, under the table."""

from dataclasses import replace

from workbench.report.blocks import Row, Table
from workbench.report.text import plain
from workbench.report.wording import listed

_FEWEST_ROWS = 3


def said_once(table: Table) -> Table:
    """Return a table without the columns that say the same in all rows; its note says it."""
    if len(table.rows) < _FEWEST_ROWS:
        return table
    columns = range(1, len(table.columns))
    same = [at for at in columns if len({plain(row.cells[at]) for row in table.rows}) == 1]
    if not same:
        return table
    kept = [at for at in range(len(table.columns)) if at not in same]
    first = table.rows[0].cells
    told = [(table.columns[at].heading, plain(first[at])) for at in same]
    said = [f"“{head}” is “{value}”" for head, value in told if value not in ("", "–")]
    once = f"In every row {listed(said)}." if said else ""
    note = " ".join(filter(None, (plain(table.note), once)))
    rows = tuple(Row(tuple(row.cells[at] for at in kept), row.sources) for row in table.rows)
    return replace(table, columns=tuple(table.columns[at] for at in kept), rows=rows, note=note)
