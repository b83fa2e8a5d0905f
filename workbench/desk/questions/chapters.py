"""The chapters of a case, and the record types that stand in each, in reading order."""

from workbench.records import (
    KINDS,
    Application,
    Area,
    AreaEvent,
    CaseEntry,
    Coat,
    Document,
    Instrument,
    LabResult,
    Limit,
    Location,
    Measurement,
    Party,
    Photo,
    PullOff,
    Rating,
    RecoatWindow,
    Record,
    Sample,
    SitePlan,
    SurveyEntry,
    Thickness,
    Weather,
)
from workbench.records.codes import Chapter
from workbench.records.samples import CustodyEntry

_READING_ORDER: tuple[type[Record], ...] = (
    CaseEntry, Party, Document, Area, Coat, RecoatWindow, Limit, Application, Weather, AreaEvent,
    SitePlan, SurveyEntry, Photo, Location, PullOff, Rating, Thickness, Measurement, Instrument,
    Sample, CustodyEntry, LabResult,
)  # fmt: skip


def kinds_of(chapter: Chapter) -> tuple[type[Record], ...]:
    """Return the record types of a chapter in the order a reader wants them."""
    there = [kind for kind in KINDS if kind.chapter is chapter]
    last = len(_READING_ORDER)
    place = {kind: at for at, kind in enumerate(_READING_ORDER)}
    return tuple(sorted(there, key=lambda kind: place.get(kind, last)))


def plural(kind: type[Record]) -> str:
    """Return what several records of a type are called: "Pull-offs", "Case entries"."""
    several = kind.counted(2).partition(" ")[2]
    return several[:1].upper() + several[1:]
