"""Open the receiving desk of a case."""

import typer

from workbench.cli.options import CasePath
from workbench.records import KnownError


def run(context: typer.Context, case: CasePath) -> int:
    """Open the receiving desk: scan, look, store, next; one receipt in one act."""
    window = context.obj
    if window is None:
        raise KnownError("the receiving desk needs a screen; start it as: workbench receive CASE")
    opened = window(case, "receiving")
    return opened if isinstance(opened, int) else 0
