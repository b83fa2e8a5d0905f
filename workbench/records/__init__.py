"""What is said: the records of a case, and the vocabulary they are written in."""

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
from workbench.records.dossier import Dossier
from workbench.records.field_tests import Measurement, PullOff, Rating, Thickness
from workbench.records.kinds import BY_NOUN, FIELD_BOOK, KINDS
from workbench.records.laboratory import LabResult
from workbench.records.moments import When
from workbench.records.places import Features, Outline, Refs
from workbench.records.planes import (
    Breaks,
    Face,
    Plane,
    PlaneKind,
    Share,
    layer_letter,
    layer_order,
)
from workbench.records.problems import Cancelled, KnownError, Problem
from workbench.records.quantities import Outcome, Quantity, Readings, plain_unit
from workbench.records.record import (
    Column,
    Fault,
    FieldInfo,
    Record,
    Source,
    fields_of,
    new_id,
    told,
)
from workbench.records.samples import CustodyEntry, Sample
from workbench.records.survey import Photo, SurveyEntry
from workbench.records.written import NotUnderstoodError, Written

__all__ = [
    "BY_NOUN",
    "FIELD_BOOK",
    "KINDS",
    "Answer",
    "Application",
    "Area",
    "AreaEvent",
    "Breaks",
    "Cancelled",
    "CaseEntry",
    "Coat",
    "Column",
    "CustodyEntry",
    "Document",
    "Dossier",
    "Face",
    "Fault",
    "Features",
    "FieldInfo",
    "Instrument",
    "KnownError",
    "LabResult",
    "Limit",
    "Location",
    "Measurement",
    "NotUnderstoodError",
    "Outcome",
    "Outline",
    "Party",
    "Photo",
    "Plane",
    "PlaneKind",
    "Problem",
    "PullOff",
    "Quantity",
    "Rating",
    "Readings",
    "RecoatWindow",
    "Record",
    "Refs",
    "Sample",
    "Share",
    "SitePlan",
    "Source",
    "SurveyEntry",
    "Thickness",
    "Weather",
    "When",
    "Written",
    "fields_of",
    "layer_letter",
    "layer_order",
    "new_id",
    "plain_unit",
    "told",
]
