"""What the instruments and the pages hand on to other pages."""

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QApplication

from workbench.records import BY_NOUN, Area, Location, Measurement, Record
from workbench.ui.bench import Bench
from workbench.ui.pages.page import Page
from workbench.ui.pages.records import RecordsPage
from workbench.ui.pages.registry import NEW_PLAN, PATTERN, TAKING_IN

if TYPE_CHECKING:
    from workbench.ui.pages.taking_in import Reader

_NO_SHEET = "Rows can be pasted where records of the field book are shown."
_NO_ROWS = "There is nothing to paste; copy rows of a spreadsheet first."


class Errands(QObject):
    """Turns to the page that a thing belongs to, and gives it the thing."""

    def __init__(
        self, bench: Bench, open_page: Callable[[str], Page | None], parent: QObject
    ) -> None:
        """Run the errands of the case on `bench`."""
        super().__init__(parent)
        self._bench = bench
        self._open = open_page

    def turn_to(self, key: str) -> None:
        """Go to the page with a key."""
        page = self._open(key)
        if page:
            page.enter()

    def add(self, noun: str) -> None:
        """Begin a new record of a type."""
        page = self._open(noun)
        if isinstance(page, RecordsPage):
            page.add()

    def place(self, texts: dict[str, str]) -> None:
        """Write a point of the plan as a location."""
        self._write(Location.noun, texts)

    def outline(self, texts: dict[str, str]) -> None:
        """Write an outline drawn on the plan as that of an area."""
        self._write(Area.noun, texts)

    def plan(self, file: str) -> None:
        """Begin a new plan, or calibrate the one in `file` again."""
        from workbench.ui.pages.new_plan import NewPlanPage

        page = self._open(NEW_PLAN)
        if isinstance(page, NewPlanPage):
            page.begin(file)
            page.enter()

    def line(self, points: tuple[tuple[float, float], ...]) -> None:
        """Give a line drawn on the plan to the page of patterns."""
        from workbench.ui.pages.pattern import PatternPage

        page = self._open(PATTERN)
        if isinstance(page, PatternPage):
            page.take_line(points)

    def measure(self, texts: dict[str, str]) -> None:
        """Write what a calculator found as a measurement."""
        self._write(Measurement.noun, texts)

    def take_in(self, path: Path) -> None:
        """Read the field book at `path` and show what it would change."""
        from workbench.desk.intake import read_for

        case = self._bench.case
        self._begin_taking_in(path.name, lambda step: read_for(case, path, step))

    def paste_rows(self, noun: str) -> None:
        """Read the clipboard as rows of a type."""
        kind = BY_NOUN.get(noun)
        text = QApplication.clipboard().text()
        if kind is None or not kind.sheet:
            self._bench.refused.emit(_NO_SHEET)
        elif not text.strip():
            self._bench.refused.emit(_NO_ROWS)
        else:
            self._paste(kind, text)

    def _paste(self, kind: type[Record], text: str) -> None:
        from workbench.desk.intake import pasted_for

        case = self._bench.case
        self._begin_taking_in("pasted rows", lambda _step: pasted_for(case, kind, text))

    def _begin_taking_in(self, name: str, read: "Reader") -> None:
        from workbench.ui.pages.taking_in import TakingInPage

        page = self._open(TAKING_IN)
        if isinstance(page, TakingInPage):
            page.begin(name, read)

    def _write(self, noun: str, texts: dict[str, str]) -> None:
        """Write into the form of the chosen record of a type, or of a new one."""
        page = self._open(noun)
        if isinstance(page, RecordsPage):
            page.write(texts)
