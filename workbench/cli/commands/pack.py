"""Pack what is to be served or archived."""

from pathlib import Path
from typing import Annotated

import typer

from workbench.cli.options import AsJson, CasePath
from workbench.cli.printing import count, progress, say, say_json
from workbench.records import KnownError


def run(
    case: CasePath,
    folder: Annotated[Path, typer.Argument(metavar="FOLDER", help="The package; a new folder.")],
    purpose: Annotated[str, typer.Option("--for", help="serve or archive.")] = "serve",
    *,
    json: AsJson = False,
) -> int:
    """Pack the issued report and what belongs to it as a bag (RFC 8493).

    For service, pictures lose their metadata; an archive holds originals as received. Drafts,
    comments and privileged notes are never in it. Exit code 1 says that something was left out.
    """
    from workbench.desk.case import Case
    from workbench.desk.packing import Purpose, pack

    words = {one.value: one for one in Purpose}
    if purpose not in words:
        raise KnownError(f"“{purpose}” is no purpose; write one of: {', '.join(words)}")
    with Case.open(case, read_only=True) as opened, progress("Packing") as step:
        packed = pack(opened, folder, words[purpose], step)
    found = 1 if packed.left_out else 0
    if json:
        say_json(packed)
        return found
    say(f"{packed.folder} is packed: {count(packed.files, 'file')}.")
    for one in packed.left_out:
        say(f"not in it: {one}")
    return found
