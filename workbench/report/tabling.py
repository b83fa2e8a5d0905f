"""Long tables of readings: what is the same in every row is said once, under the table."""

from dataclasses import replace

from workbench.report.blocks import Row, Table
from workbench.report.text import plain
from workbench.report.wording import listed

_FEWEST_ROWS = 3
_BLANK = frozenset(("", "–"))


def said_once(table: Table) -> Table:
    """Return a table without the columns that say the same in all rows; its note says it.

    Of few rows only those columns go that say nothing.
    """
    columns = range(1, len(table.columns))
    few = len(table.rows) < _FEWEST_ROWS
    each = {at: {plain(row.cells[at]) for row in table.rows} for at in columns}
    same = [at for at, said in each.items() if said <= _BLANK or (len(said) == 1 and not few)]
    if not same:
        return table
    kept = [at for at in range(len(table.columns)) if at not in same]
    first = table.rows[0].cells
    told = [(table.columns[at].heading, plain(first[at])) for at in same]
    said = [f"“{head}” is “{value}”" for head, value in told if value not in _BLANK]
    once = f"In every row {listed(said)}." if said else ""
    note = " ".join(filter(None, (plain(table.note), once)))
    rows = tuple(Row(tuple(row.cells[at] for at in kept), row.sources) for row in table.rows)
    return replace(table, columns=tuple(table.columns[at] for at in kept), rows=rows, note=note)
