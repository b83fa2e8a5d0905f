"""A field book for further pulls: where to make them, drawn at random within areas."""

from collections.abc import Sequence
from pathlib import Path

from workbench.records import (
    Area,
    CaseEntry,
    Coat,
    Dossier,
    Instrument,
    KnownError,
    Location,
    Party,
    SitePlan,
)

_TAKEN_ALONG = (CaseEntry, Party, Coat, Area, SitePlan, Instrument)


class PlanRefusedError(KnownError):
    """A plan that cannot be drawn as asked."""


def write_plan_book(
    path: Path, dossier: Dossier, wanted: Sequence[tuple[str, int]], *, seed: int = 4624
) -> tuple[Location, ...]:
    """Write a field book that holds the places of further pulls, and return them.

    The book takes along what is needed on site: the case, parties, coats, areas, plan and
    instruments, and of locations only the new ones.

    Args:
        path: The workbook to write; a file that is there is replaced.
        dossier: The case.
        wanted: Refs of areas with how many locations each.
        seed: Of the draw, which is written down with each location.

    Raises:
        PlanRefusedError: An area is not in the case, or has no outline to draw in.
    """
    from workbench.analysis.planning import plan_points
    from workbench.exchange.field_book.writing import write_field_book

    try:
        places = plan_points(dossier, wanted, seed=seed)
    except ValueError as wrong:
        raise PlanRefusedError(str(wrong)) from wrong
    along = [record for kind in _TAKEN_ALONG for record in dossier.all(kind)]
    write_field_book(path, Dossier([*along, *places]))
    return places
