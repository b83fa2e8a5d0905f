"""The first sample case as records, without a case file, and what is computed from it."""

from dataclasses import replace
from functools import cache
from pathlib import Path

from workbench.desk.reporting import computed as compute
from workbench.exchange.field_book.reading import read_book
from workbench.records import Area, Dossier, Location
from workbench.report.given import Results
from workbench.resources import sample_case
from workbench.trade.showing import Showing, System

NAME = "bottling-hall-floor"
UPPER = {"B4", "B5", "B6", "C2"}
"""Bays upstairs, where the hall is told on two levels."""


@cache
def bottling_hall() -> Dossier:
    """Return the bottling hall floor."""
    reading = read_book(sample_case(NAME))
    assert not [problem for problem in reading.problems if problem.hinders]
    return Dossier(reading.records)


def on_two_levels() -> Dossier:
    """Return the bottling hall with three bays upstairs."""
    whole = bottling_hall()
    areas = (replace(one, level=_level(one.ref)) for one in whole.all(Area))
    places = (replace(one, level=_level(one.area)) for one in whole.all(Location))
    return whole.with_records([*areas, *places])


def _level(area: str) -> str:
    return "upper" if area in UPPER else "lower"


def picture(name: str) -> Path | None:
    """Return the file that the sample case calls `name`."""
    path = sample_case(NAME) / name
    return path if path.is_file() else None


@cache
def computed(system: System = System.SI) -> Results:
    """Return what is computed from the bottling hall floor, told in one system of units."""
    return compute(bottling_hall(), Showing(system), picture)
