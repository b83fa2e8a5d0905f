"""What the commands ask for in the same words."""

from pathlib import Path
from typing import Annotated

import typer

CasePath = Annotated[Path, typer.Argument(metavar="CASE", help="The folder of the case.")]
AsJson = Annotated[bool, typer.Option("--json", help="Print what was computed as JSON.")]
By = Annotated[
    str,
    typer.Option(
        "--by",
        metavar="NAME",
        envvar="WORKBENCH_NAME",
        help="Who does it, as the journal shall say; else the user of this computer.",
    ),
]
