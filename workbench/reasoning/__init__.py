"""What follows: findings from records, candidate causes, exclusions, grades, the next test."""

from workbench.reasoning.amended import amended
from workbench.reasoning.choices import choice_problems, choices_of, decided, grouped_choices
from workbench.reasoning.knowledge import Cause, Knowledge, Observation, Prediction, Side, Stage
from workbench.reasoning.loading import load_knowledge
from workbench.reasoning.matrix import Filter, matrix_of
from workbench.reasoning.opinions import draft_opinions, opinion_problems
from workbench.reasoning.reason import reason
from workbench.reasoning.results import (
    UNKNOWN,
    Alias,
    Bearing,
    Candidate,
    Cell,
    Finding,
    Fragility,
    KnowledgeChange,
    Listed,
    Matrix,
    NextTest,
    OutcomeMeaning,
    Override,
    Paragraph,
    Place,
    Question,
    Reasoning,
    Rival,
    Row,
    Sentence,
    Ungraded,
)
from workbench.reasoning.settings import Settings
from workbench.reasoning.wording import Flag, certainty_flags, party_flags

__all__ = [
    "UNKNOWN",
    "Alias",
    "Bearing",
    "Candidate",
    "Cause",
    "Cell",
    "Filter",
    "Finding",
    "Flag",
    "Fragility",
    "Knowledge",
    "KnowledgeChange",
    "Listed",
    "Matrix",
    "NextTest",
    "Observation",
    "OutcomeMeaning",
    "Override",
    "Paragraph",
    "Place",
    "Prediction",
    "Question",
    "Reasoning",
    "Rival",
    "Row",
    "Sentence",
    "Settings",
    "Side",
    "Stage",
    "Ungraded",
    "amended",
    "certainty_flags",
    "choice_problems",
    "choices_of",
    "decided",
    "draft_opinions",
    "grouped_choices",
    "load_knowledge",
    "matrix_of",
    "opinion_problems",
    "party_flags",
    "reason",
]  # fmt: skip
