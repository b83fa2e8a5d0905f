"""The desk: chapters at the left, the page in the middle, where and which layer at the right."""

from PySide6.QtCore import QSettings, Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QSplitter, QStackedWidget, QVBoxLayout, QWidget

from workbench.desk.questions.chapters import kinds_of, plural
from workbench.records import BY_NOUN, PullOff, Source
from workbench.records.codes import Chapter
from workbench.ui.bench import Bench
from workbench.ui.chapters import ChapterList, Entry
from workbench.ui.figures.panel import FigurePanel
from workbench.ui.focus_bar import FocusBar
from workbench.ui.header import Header
from workbench.ui.layers.panel import LayerPanel
from workbench.ui.pages.page import Page
from workbench.ui.pages.records import RecordsPage
from workbench.ui.parts import rule
from workbench.ui.theme import step
from workbench.ui.where.panel import WherePanel


class Desk(QWidget):
    """Everything of one open case.

    Attributes:
        asked: The person asks how something is known.
    """

    asked = Signal(object)

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Lay the case of `bench` out."""
        super().__init__(parent)
        self.bench = bench
        self.header = Header(bench, self)
        self.chapters = ChapterList(self)
        self.where = WherePanel(bench, self)
        self.layers = LayerPanel(bench, self)
        self._pages: dict[str, Page] = {}
        self._stack = QStackedWidget(self)
        self.figures = FigurePanel(bench, self)
        self._columns = QSplitter(Qt.Orientation.Horizontal, self)
        self._instruments = QSplitter(Qt.Orientation.Vertical, self)
        self._lay_out()
        self.chapters.opened.connect(self._on_opened)
        bench.changed.connect(self._list_chapters)
        self.open_page(PullOff.noun if bench.dossier.all(PullOff) else "case_entry")

    @property
    def page(self) -> Page | None:
        """The page that is shown."""
        shown = self._stack.currentWidget()
        return shown if isinstance(shown, Page) else None

    def open_page(self, key: str) -> Page:
        """Show the page of a record type, by its noun."""
        if key not in self._pages:
            self._pages[key] = self._make(key)
            self._stack.addWidget(self._pages[key])
        page = self._pages[key]
        self.chapters.chapter = BY_NOUN[key].chapter
        self._list_chapters()
        self.chapters.mark(BY_NOUN[key].chapter, key)
        self._stack.setCurrentWidget(page)
        self.figures.open_chapter(BY_NOUN[key].chapter)
        return page

    def open_chapter(self, chapter: Chapter) -> None:
        """Show the first page of a chapter."""
        kinds = kinds_of(chapter)
        if kinds:
            self.open_page(kinds[0].noun)

    def open_source(self, source: Source) -> None:
        """Show the record that `source` names, on its page."""
        if source.noun in BY_NOUN:
            self.open_page(source.noun).show_source(source)
            self.bench.selection.light([source])

    @property
    def key(self) -> str:
        """Key of the page that is shown."""
        return self.chapters.page

    def find_anything(self) -> None:
        """Go to the line in which anything is searched for."""
        self.header.find_line.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.header.find_line.selectAll()

    def go_to_plan(self) -> None:
        """Go to the plan."""
        self.where.view.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def go_to_stack(self) -> None:
        """Go to the stack."""
        self.layers.view.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def show_everything(self) -> None:
        """Narrow nothing, light nothing."""
        self.bench.selection.clear()

    def save_state(self, settings: QSettings) -> None:
        """Keep how the columns are divided."""
        settings.setValue("desk/columns", self._columns.saveState())
        settings.setValue("desk/instruments", self._instruments.saveState())
        settings.setValue("desk/halves", self._halves.saveState())

    def restore_state(self, settings: QSettings) -> None:
        """Divide the columns as they were."""
        for key, splitter in (
            ("desk/columns", self._columns),
            ("desk/instruments", self._instruments),
            ("desk/halves", self._halves),
        ):
            if (state := settings.value(key)) is not None:
                splitter.restoreState(state)

    def _make(self, key: str) -> Page:
        page = RecordsPage(self.bench, BY_NOUN[key], self)
        page.asked.connect(self.asked)
        return page

    def _on_opened(self, entry: Entry) -> None:
        if entry.page:
            self.open_page(entry.page).enter()
        else:
            self.open_chapter(entry.chapter)

    def _list_chapters(self) -> None:
        entries: list[Entry] = []
        for chapter in Chapter:
            entries.append(Entry(chapter, title=str(chapter)))
            if chapter is self.chapters.chapter:
                entries += [
                    Entry(chapter, kind.noun, plural(kind), len(self.bench.dossier.all(kind)))
                    for kind in kinds_of(chapter)
                ]
        self.chapters.entries.show_entries(entries)

    def _lay_out(self) -> None:
        centre = QWidget(self)
        middle = QVBoxLayout(centre)
        middle.setContentsMargins(0, 0, 0, 0)
        middle.setSpacing(0)
        middle.addWidget(FocusBar(self.bench, self))
        middle.addWidget(rule(self))
        self._halves = QSplitter(Qt.Orientation.Vertical, self)
        self._halves.addWidget(self._stack)
        self._halves.addWidget(self.figures)
        self._halves.setSizes([step(self, 48), step(self, 38)])
        middle.addWidget(self._halves, 1)
        self._instruments.addWidget(self.where)
        self._instruments.addWidget(self.layers)
        for splitter in (self._columns, self._instruments, self._halves):
            splitter.setHandleWidth(1)
            splitter.setChildrenCollapsible(False)
        for widget, width in (
            (self.chapters, 21),
            (centre, 96),
            (self._instruments, 43),
        ):
            self._columns.addWidget(widget)
            widget.setMinimumWidth(step(self, min(width, 30) * 0.8))
        for at, share in enumerate((0, 7, 3)):
            self._columns.setStretchFactor(at, share)
        self._columns.setSizes([step(self, 21), step(self, 96), step(self, 43)])
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        whole.addWidget(self.header)
        whole.addWidget(rule(self))
        below = QHBoxLayout()
        below.addWidget(self._columns)
        whole.addLayout(below, 1)
