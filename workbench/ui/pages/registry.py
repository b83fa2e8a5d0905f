"""Every page there is: those of the record types, and those that are more than a table."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from importlib import import_module

from workbench.desk.questions.chapters import kinds_of, plural
from workbench.records import Dossier, Exhibit, Microscopy, Opinion, Photo, Record
from workbench.records.codes import Chapter
from workbench.ui.bench import Bench
from workbench.ui.pages.page import Page


@dataclass(frozen=True, slots=True)
class PageSpec:
    """One page.

    Attributes:
        key: What it is found under; the noun for a page of records.
        title: What it is called.
        chapter: The chapter it stands in; None for those reached by other ways.
        make: Makes it.
        kind: The record type whose table it is; None for others.
        figures: Whether the figures of the chapter stand below it.
    """

    key: str
    title: str
    chapter: Chapter | None
    make: Callable[[Bench], Page]
    kind: type[Record] | None = None
    figures: bool = True

    def count(self, dossier: Dossier) -> int | None:
        """Return how many records it holds; None where it holds none."""
        return len(dossier.all(self.kind)) if self.kind else None


OPEN_POINTS = "open-points"
TAKING_IN = "taking-in"
NEW_PLAN = "new-plan"
HISTORY = "history"
CALCULATORS = "calculators"
ENTRY = "entry"
CAUSES = "causes"
NEXT_TESTS = "next-tests"
PATTERN = "pattern"
EXTENT = "extent"
COMPARISONS = "comparisons"
FURTHER_PULLS = "further-pulls"
PROSE = "prose"
LISTS = "for-and-against"
REPORT = "report"
RECEIVING = "receiving"
SPECTRA = "spectra"
THERMOGRAMS = "thermograms"
SECTIONS = "sections"
ELEMENTS = "elements"
COLOURS = "colours"
CUSTODY = "chain"
COURSE = "course"
RULES = "rules"
LIMITS = "beside-limits"


def _made(module: str, name: str) -> Callable[[Bench], Page]:
    """Return what makes the page class `name`, imported when it is first wanted."""

    def make(bench: Bench) -> Page:
        page = getattr(import_module(f"workbench.ui.pages.{module}"), name)(bench)
        if not isinstance(page, Page):
            raise TypeError(f"{name} is no page")
        return page

    return make


_APART: tuple[PageSpec, ...] = (
    PageSpec(OPEN_POINTS, "Open points", None, _made("open_points", "OpenPointsPage")),
    PageSpec(HISTORY, "What was done", None, _made("history", "HistoryPage")),
    PageSpec(NEW_PLAN, "New plan", None, _made("new_plan", "NewPlanPage")),
    PageSpec(TAKING_IN, "Take in", None, _made("taking_in", "TakingInPage")),
)
_AFTER: dict[Chapter, tuple[PageSpec, ...]] = {
    Chapter.BACKGROUND: (
        PageSpec(COURSE, "Course of the case", Chapter.BACKGROUND, _made("course", "CoursePage")),
        PageSpec(
            RULES, "Rules and thresholds", Chapter.BACKGROUND, _made("rules", "RulesPage"),
            figures=False,
        ),
    ),
    Chapter.SURVEY: (
        PageSpec(PATTERN, "What it follows", Chapter.SURVEY, _made("pattern", "PatternPage")),
        PageSpec(
            EXTENT, "Extent and repair", Chapter.SURVEY, _made("extent", "ExtentPage"),
            figures=False,
        ),
    ),
    Chapter.FIELD_TESTS: (
        PageSpec(
            COMPARISONS, "Comparisons", Chapter.FIELD_TESTS,
            _made("comparisons", "ComparisonsPage"), figures=False,
        ),
        PageSpec(
            LIMITS, "Beside the limits", Chapter.FIELD_TESTS, _made("limits", "LimitsPage"),
            figures=False,
        ),
        PageSpec(
            ENTRY, "Enter tests", Chapter.FIELD_TESTS, _made("entry", "EntryPage"), figures=False
        ),
        PageSpec(
            FURTHER_PULLS, "Further pulls", Chapter.FIELD_TESTS,
            _made("further_pulls", "FurtherPullsPage"), figures=False,
        ),
        PageSpec(
            CALCULATORS, "Calculators", Chapter.FIELD_TESTS,
            _made("calculators", "CalculatorsPage"), figures=False,
        ),
    ),
}  # fmt: skip
_BEFORE: dict[Chapter, tuple[PageSpec, ...]] = {
    Chapter.CAUSES: (
        PageSpec(
            CAUSES, "Candidates", Chapter.CAUSES, _made("causes", "CausesPage"), figures=False
        ),
        PageSpec(
            NEXT_TESTS, "What would settle it", Chapter.CAUSES,
            _made("next_tests", "NextTestsPage"), figures=False,
        ),
        PageSpec(
            LISTS, "For and against", Chapter.CAUSES, _made("lists", "ListsPage"), figures=False
        ),
        PageSpec(PROSE, "In words", Chapter.CAUSES, _made("prose", "ProsePage"), figures=False),
    ),
    Chapter.SAMPLES: (
        PageSpec(
            RECEIVING, "Receiving desk", Chapter.SAMPLES, _made("receiving", "ReceivingPage"),
            figures=False,
        ),
        PageSpec(CUSTODY, "Chain of custody", Chapter.SAMPLES, _made("custody", "CustodyPage")),
    ),
    Chapter.LABORATORY: (
        PageSpec(
            SPECTRA, "Spectra", Chapter.LABORATORY, _made("spectra", "SpectraPage"), figures=False
        ),
        PageSpec(
            THERMOGRAMS, "Thermograms", Chapter.LABORATORY,
            _made("thermograms", "ThermogramsPage"), figures=False,
        ),
        PageSpec(
            SECTIONS, "Sections", Chapter.LABORATORY, _made("sections", "SectionsPage"),
            figures=False,
        ),
        PageSpec(
            ELEMENTS, "Elements", Chapter.LABORATORY, _made("elements", "ElementsPage"),
            figures=False,
        ),
        PageSpec(
            COLOURS, "Colour and gloss", Chapter.LABORATORY, _made("colours", "ColoursPage"),
            figures=False,
        ),
    ),
    Chapter.REPORT: (
        PageSpec(REPORT, "Write the report", Chapter.REPORT, _made("report", "ReportPage")),
        PageSpec(
            "report-text", "Text of the report", Chapter.REPORT,
            _made("report_text", "ReportTextPage"),
        ),
    ),
}  # fmt: skip


@cache
def pages_of(chapter: Chapter) -> tuple[PageSpec, ...]:
    """Return the pages of a chapter in their order."""
    tables = (_of_kind(kind) for kind in kinds_of(chapter))
    return (*_BEFORE.get(chapter, ()), *tables, *_AFTER.get(chapter, ()))


@cache
def page_called(key: str) -> PageSpec | None:
    """Return the page with a key, or None where there is none."""
    everywhere = (*(page for chapter in Chapter for page in pages_of(chapter)), *_APART)
    return next((page for page in everywhere if page.key == key), None)


_OWN: dict[type[Record], Callable[[Bench], Page]] = {
    Exhibit: _made("exhibits", "ExhibitsPage"),
    Photo: _made("photographs", "PhotographsPage"),
    Opinion: _made("opinions", "OpinionsPage"),
    Microscopy: _made("microscopy", "MicroscopyPage"),
}
"""Pages of record types that are more than a table."""


def _of_kind(kind: type[Record]) -> PageSpec:
    def make(bench: Bench) -> Page:
        from workbench.ui.pages.records import RecordsPage

        return RecordsPage(bench, kind)

    own = _OWN.get(kind)
    return PageSpec(kind.noun, plural(kind), kind.chapter, own or make, kind, figures=own is None)
