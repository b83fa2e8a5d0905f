"""Every record type there is, in the order of the field book and of the case."""

from workbench.records.answers import Answer
from workbench.records.background import (
    Application,
    Area,
    AreaEvent,
    CaseEntry,
    Coat,
    Document,
    Instrument,
    Limit,
    Location,
    Party,
    RecoatWindow,
    SitePlan,
    Weather,
)
from workbench.records.colours import ColourReading
from workbench.records.doubts import DoubtAnswer
from workbench.records.examinations import (
    Assignment,
    Curve,
    LabRequest,
    Microscopy,
    SectionReading,
)
from workbench.records.field_tests import Measurement, PullOff, Rating, Thickness
from workbench.records.judgements import (
    AddedCause,
    AddedObservation,
    CauseDecision,
    EditedText,
    ExclusionDecision,
    ListStatement,
    Opinion,
    WeightChange,
)
from workbench.records.keeping import (
    DestructiveStep,
    Discrepancy,
    HandOver,
    SampleCare,
    Shipment,
)
from workbench.records.laboratory import LabResult
from workbench.records.photo_marks import PhotoMark
from workbench.records.record import Record, Source
from workbench.records.reporting import (
    Assumption,
    Credential,
    Edition,
    Exhibit,
    Instruction,
    Statement,
)
from workbench.records.samples import CustodyEntry, Sample
from workbench.records.survey import Photo, SurveyEntry
from workbench.records.thermograms import PeakReading, TgEstimate, TransitionReading

FIELD_BOOK: tuple[type[Record], ...] = (
    CaseEntry, Party, Document, Coat, RecoatWindow, Limit, Area, AreaEvent, SitePlan, Application,
    Weather, Location, SurveyEntry, PullOff, Rating, Thickness, Measurement, Sample, CustodyEntry,
    LabResult, Photo, Instrument, Answer,
)  # fmt: skip
"""The types that go to site, in the order of their sheets."""

LABORATORY_BOOK: tuple[type[Record], ...] = (
    LabRequest, Curve, Assignment, TransitionReading, PeakReading, TgEstimate, SectionReading,
    Microscopy, ColourReading,
)  # fmt: skip
"""The types of the laboratory's own sheets; a book has those that hold something."""

BOOK: tuple[type[Record], ...] = (*FIELD_BOOK, *LABORATORY_BOOK)
"""Every type that a book may have a sheet for, in the order of the sheets."""

KINDS: tuple[type[Record], ...] = (
    *FIELD_BOOK,
    PhotoMark,
    SampleCare,
    Discrepancy,
    Shipment,
    DestructiveStep,
    HandOver,
    CauseDecision,
    ExclusionDecision,
    WeightChange,
    AddedCause,
    AddedObservation,
    ListStatement,
    EditedText,
    Opinion,
    DoubtAnswer,
    Instruction,
    Assumption,
    Exhibit,
    Statement,
    Credential,
    Edition,
    LabRequest,
    Curve,
    Assignment,
    TransitionReading,
    SectionReading,
    Microscopy,
    PeakReading,
    TgEstimate,
    ColourReading,
)
"""All types; those made at the desk follow those of the field book."""

BY_NOUN: dict[str, type[Record]] = {kind.noun: kind for kind in KINDS}


def read_sources(text: str) -> tuple[Source, ...]:
    """Return the records that "pull_off P-12; rating K-3" names.

    A label may hold a ";" itself, as that of a coat laid on several areas does: what does not
    begin with the noun of a record type belongs to the label before it.
    """
    parts: list[str] = []
    for part in (said.strip() for said in text.split(";")):
        if part and parts and part.partition(" ")[0] not in BY_NOUN:
            parts[-1] = f"{parts[-1]}; {part}"
        elif part:
            parts.append(part)
    return tuple(Source.read(part) for part in parts)
