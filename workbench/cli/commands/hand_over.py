"""Give samples and their records to another place."""

from datetime import UTC, datetime
from pathlib import Path
from typing import Annotated

import typer

from workbench.cli.options import AsJson, By, CasePath
from workbench.cli.printing import count, progress, say, say_json


def run(
    case: CasePath,
    bag: Annotated[Path, typer.Argument(metavar="BAG", help="The folder to be made.")],
    to: Annotated[str, typer.Option("--to", metavar="NAME", help="Who gets it.")],
    sample: Annotated[
        list[str] | None, typer.Option("--sample", metavar="REF", help="Only these samples.")
    ] = None,
    by: By = "",
    *,
    json: AsJson = False,
) -> int:
    """Write samples with their records and the custody ledger into a bag for another place.

    The bag follows RFC 8493: anybody can check it with sha512sum. Questions put, opinions and
    reports do not travel.
    """
    from workbench.desk.case import Case
    from workbench.desk.handing_over import give

    at = datetime.now(UTC)
    with Case.open(case, author=by) as opened, progress("Writing the bag") as step:
        went = give(opened, bag, party=to, refs=sample or (), at=at, step=step)
    if json:
        say_json({"bag": bag, "hand_over": went.ref, "ledger": went.our_ledger})
    else:
        say(f"{bag} is written: {count(len(went.samples.refs), 'sample')} for {to}.")
        say(f"Custody ledger: {went.our_ledger}")
    return 0
