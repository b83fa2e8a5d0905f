"""What the commands ask for in the same words."""

from pathlib import Path
from typing import Annotated

import typer

from workbench.records import KnownError


def fresh(path: Path, ending: str) -> Path:
    """Return a file that may be written: of that ending, and not there yet.

    Raises:
        KnownError: It has another ending, or is there already.
    """
    if path.suffix.lower() != ending:
        raise KnownError(f"{path}: end its name in {ending}")
    if path.exists():
        raise KnownError(f"{path} is there already; choose another name")
    return path


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
