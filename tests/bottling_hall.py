"""The first sample case as records, without a case file, and what is computed from it."""

from functools import cache
from pathlib import Path

from workbench.desk.reporting import computed as compute
from workbench.exchange.field_book.reading import read_book
from workbench.records import Dossier
from workbench.report.given import Results
from workbench.resources import sample_case
from workbench.trade.showing import Showing, System

NAME = "bottling-hall-floor"


@cache
def bottling_hall() -> Dossier:
    """Return the bottling hall floor."""
    reading = read_book(sample_case(NAME))
    assert not [problem for problem in reading.problems if problem.hinders]
    return Dossier(reading.records)


def picture(name: str) -> Path | None:
    """Return the file that the sample case calls `name`."""
    path = sample_case(NAME) / name
    return path if path.is_file() else None


@cache
def computed(system: System = System.SI) -> Results:
    """Return what is computed from the bottling hall floor, told in one system of units."""
    return compute(bottling_hall(), Showing(system), picture)
