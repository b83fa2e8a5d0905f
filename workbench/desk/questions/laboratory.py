"""What the laboratory's originals and results say, asked by windows and reports alike."""

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from workbench.records import Dossier

if TYPE_CHECKING:
    from workbench.analysis.laboratory.found import Laboratory


def laboratory(dossier: Dossier, original: Callable[[str], Path | None]) -> "Laboratory":
    """Return what the laboratory found; `original` gives the file of an original."""
    from workbench.desk.laboratory.reading import laboratory_of

    return laboratory_of(dossier, original)


def laboratory_members(dossier: Dossier, found: "Laboratory") -> dict[str, list[dict[str, object]]]:
    """Return what the laboratory found as plain values, as a command prints them."""
    from workbench.desk.laboratory.members import members_of

    return members_of(dossier, found)
