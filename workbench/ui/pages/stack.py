"""The pages of the centre: each is made when it is first wanted, and kept."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QScrollArea, QStackedWidget, QWidget

from workbench.ui.bench import Bench
from workbench.ui.pages.page import Page
from workbench.ui.pages.registry import PageSpec
from workbench.ui.parts import scrolled


class PageStack(QStackedWidget):
    """Shows one page at a time.

    Attributes:
        made: This page was made just now.
        before: Key of the page that was shown before this one.
    """

    made = Signal(object)

    def __init__(self, bench: Bench, parent: QWidget) -> None:
        """Hold no page yet."""
        super().__init__(parent)
        self._bench = bench
        self._pages: dict[str, Page] = {}
        self.before = ""

    @property
    def page(self) -> Page | None:
        """The page that is shown."""
        room = self.currentWidget()
        shown = room.widget() if isinstance(room, QScrollArea) else None
        return shown if isinstance(shown, Page) else None

    @property
    def key(self) -> str:
        """Key of the page that is shown."""
        return next((key for key, page in self._pages.items() if page is self.page), "")

    @property
    def tab_stops(self) -> tuple[QWidget, ...]:
        """The parts of all pages in the order of Tab; only those that are seen are stopped at."""
        return tuple(part for page in self._pages.values() for part in page.tab_stops)

    def open(self, spec: PageSpec) -> Page:
        """Make the page if it is not there yet, and return it; it is not shown yet."""
        if spec.key not in self._pages:
            page = self._pages[spec.key] = spec.make(self._bench)
            self.addWidget(scrolled(page))
            self.made.emit(page)
        return self._pages[spec.key]

    def turn_to(self, key: str) -> None:
        """Show the page with a key, which was opened before."""
        if key != self.key:
            self.before = self.key
        self.setCurrentIndex(list(self._pages).index(key))

    def close_down(self) -> None:
        """Stop what runs beside the pages."""
        for page in self._pages.values():
            page.close_down()
