"""The desk: chapters at the left, the page in the middle, where and which layer at the right."""

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QSettings, Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QApplication,
    QFrame,
    QHBoxLayout,
    QScrollArea,
    QSplitter,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from workbench.desk.questions.open_points import OpenPoint
from workbench.records import (
    BY_NOUN,
    Area,
    CaseEntry,
    Location,
    Measurement,
    PullOff,
    Record,
    Source,
)
from workbench.records.codes import Chapter
from workbench.ui.bench import Bench
from workbench.ui.chapters import ChapterList, Entry
from workbench.ui.commands import Command
from workbench.ui.figures.panel import FigurePanel
from workbench.ui.finding import Finder
from workbench.ui.focus_bar import FocusBar
from workbench.ui.header import Header
from workbench.ui.layers.panel import LayerPanel
from workbench.ui.pages.page import Page
from workbench.ui.pages.records import RecordsPage
from workbench.ui.pages.registry import (
    NEW_PLAN,
    OPEN_POINTS,
    PATTERN,
    TAKING_IN,
    page_called,
    pages_of,
)
from workbench.ui.parts import rule
from workbench.ui.sources.panel import SourcesPanel
from workbench.ui.theme import step
from workbench.ui.where.panel import WherePanel

if TYPE_CHECKING:
    from workbench.ui.pages.taking_in import Reader


class Desk(QWidget):
    """Everything of one open case.

    Attributes:
        doing: The person wants this command done.
    """

    doing = Signal(object)

    def __init__(
        self, bench: Bench, commands: Callable[[], tuple[Command, ...]], parent: QWidget
    ) -> None:
        """Lay the case of `bench` out."""
        super().__init__(parent)
        self.bench = bench
        self.header = Header(bench, self)
        self.chapters = ChapterList(self)
        self.where = WherePanel(bench, self)
        self.layers = LayerPanel(bench, self)
        self.figures = FigurePanel(bench, self)
        self.sources = SourcesPanel(bench, self)
        self._pages: dict[str, Page] = {}
        self._before = ""
        self._stack = QStackedWidget(self)
        self._below = QStackedWidget(self)
        self._columns = QSplitter(Qt.Orientation.Horizontal, self)
        self._instruments = QSplitter(Qt.Orientation.Vertical, self)
        self._halves = QSplitter(Qt.Orientation.Vertical, self)
        self._lay_out()
        self.finder = Finder(bench, self.header.find_line, commands, self)
        self._connect()
        self.open_page(PullOff.noun if bench.dossier.all(PullOff) else CaseEntry.noun)
        self._count_points()

    # -- pages

    @property
    def page(self) -> Page | None:
        """The page that is shown."""
        room = self._stack.currentWidget()
        shown = room.widget() if isinstance(room, QScrollArea) else None
        return shown if isinstance(shown, Page) else None

    @property
    def key(self) -> str:
        """Key of the page that is shown."""
        return next((key for key, page in self._pages.items() if page is self.page), "")

    def open_page(self, key: str) -> Page | None:
        """Show the page with a key, and return it; None where there is none."""
        spec = page_called(key)
        if spec is None:
            return None
        if key not in self._pages:
            page = self._pages[key] = spec.make(self.bench)
            self._stack.addWidget(_room_for(page))
            self._listen(page)
        page = self._pages[key]
        if page is not self.page:
            self._before = self.key
        if spec.chapter:
            self.chapters.chapter = spec.chapter
            self.figures.open_chapter(spec.chapter)
        self._list_chapters()
        self.chapters.mark(self.chapters.chapter, key)
        self._stack.setCurrentIndex(list(self._pages).index(key))
        self._instruments.setVisible(not page.alone)
        self._show_below(wanted=self._wants_figures)
        return page

    def open_chapter(self, chapter: Chapter) -> None:
        """Show the first page of a chapter."""
        pages = pages_of(chapter)
        page = self.open_page(pages[0].key) if pages else None
        if page:
            page.enter()

    def open_source(self, source: Source) -> None:
        """Show the record that `source` names, on its page."""
        page = self.open_page(source.noun) if source.noun in BY_NOUN else None
        if page:
            page.show_source(source)
            self.bench.selection.light([source])
            page.enter()

    def open_points(self) -> None:
        """Show what is open."""
        page = self.open_page(OPEN_POINTS)
        if page:
            page.enter()

    def take_in(self, path: Path) -> None:
        """Read the field book at `path` and show what it would change."""
        from workbench.desk.intake import read_for

        case = self.bench.case
        self._begin_taking_in(path.name, lambda step: read_for(case, path, step))

    def paste_rows(self) -> None:
        """Read the clipboard as rows of the type that is shown."""
        kind = BY_NOUN.get(self.key)
        text = QApplication.clipboard().text()
        if kind is None or not kind.sheet:
            self.bench.refused.emit("Rows can be pasted where records of the field book are shown.")
        elif not text.strip():
            self.bench.refused.emit("There is nothing to paste; copy rows of a spreadsheet first.")
        else:
            self._paste(kind, text)

    # -- where, which layer, how known

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

    def go_to_page(self) -> None:
        """Go to the page."""
        if self.page:
            self.page.enter()

    def show_everything(self) -> None:
        """Close what was opened over the figures; else narrow nothing and light nothing."""
        if self._below.currentWidget() is self.sources:
            self.close_sources()
        else:
            self.bench.selection.clear()

    def toggle_large_figure(self) -> None:
        """Give the lower half all the room of the centre, or give it back."""
        large = self._stack.isVisible() and self._below.isVisible()
        self._stack.setVisible(not large)
        self.figures.large.setChecked(large)

    def how_known(self) -> None:
        """Show how that is known which has the focus, is lit, or stands in the form."""
        if self.layers.view.hasFocus() and (line := self.layers.current_line()):
            self._ask_several(f"{line.plane}, {line.name}", line.words, line.sources)
            return
        if self.page and self.page.finding:
            self._ask_several(*self.page.finding)
            return
        lit = self.bench.selection.sources
        if len(lit) > 1:
            self._ask_several(f"{len(lit)} records", "", lit)
        elif lit or (self.page and self.page.current):
            source = lit[0] if lit else self.page.current if self.page else None
            if source:
                self.ask(source)
        else:
            self.bench.refused.emit("Choose a row, a point, a place or a plane first.")

    def ask(self, source: Source) -> None:
        """Show how a record is known."""
        self._show_sources()
        self.sources.ask(source)

    def close_sources(self) -> None:
        """Show the figures again."""
        self._below.setCurrentWidget(self.figures)
        self._show_below(wanted=self._wants_figures)
        self.go_to_page()

    def close_down(self) -> None:
        """Stop what runs beside the pages."""
        for page in self._pages.values():
            page.close_down()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Show where and which layer as soon as there is room for them beside the page."""
        super().resizeEvent(event)
        if self.page:
            self._instruments.setVisible(not self.page.alone)

    # -- its shape

    def save_state(self, settings: QSettings) -> None:
        """Keep how the room is divided."""
        for name, splitter in self._splitters.items():
            settings.setValue(f"desk/{name}", splitter.saveState())

    def restore_state(self, settings: QSettings) -> None:
        """Divide the room as it was."""
        for name, splitter in self._splitters.items():
            if (state := settings.value(f"desk/{name}")) is not None:
                splitter.restoreState(state)

    @property
    def _splitters(self) -> dict[str, QSplitter]:
        return {
            "columns": self._columns,
            "instruments": self._instruments,
            "halves": self._halves,
        }

    # -- how

    def _connect(self) -> None:
        bench = self.bench
        self.chapters.opened.connect(self._on_opened)
        self.header.points_asked.connect(self.open_points)
        self.figures.enlarged.connect(self.toggle_large_figure)
        self.sources.closed.connect(self.close_sources)
        self.sources.opened.connect(self.open_source)
        self.finder.opened.connect(self.open_source)
        self.where.placed.connect(self._on_placed)
        self.where.outlined.connect(lambda text: self._write(Area.noun, {"outline": text}))
        self.where.lined.connect(self._on_lined)
        self.where.plan_asked.connect(lambda: self.open_page(NEW_PLAN))
        self.finder.done.connect(self.doing)
        bench.changed.connect(self._list_chapters)
        bench.changed.connect(self._count_points)
        bench.answers.ready.connect(lambda _question: self._count_points())

    def _listen(self, page: Page) -> None:
        """Do what a page asks for; pages have the signals they need."""
        for name, slot in (
            ("asked", self.ask),
            ("opened", self._on_point),
            ("taken", self._leave_page),
            ("left", self._leave_page),
            ("measured", self._on_measured),
            ("planned", self.where.view.show_planned),
            ("adding", self._on_adding),
            ("turned", self._turn_to),
        ):
            signal = getattr(page, name, None)
            if signal is not None:
                signal.connect(slot)

    def _on_opened(self, entry: Entry) -> None:
        page = self.open_page(entry.page) if entry.page else None
        if page:
            page.enter()
        elif not entry.page:
            self.open_chapter(entry.chapter)

    def _on_point(self, point: OpenPoint) -> None:
        if point.sources:
            self.open_source(point.sources[0])
        else:
            self.open_chapter(point.chapter)

    def _ask_several(self, title: str, words: str, sources: tuple[Source, ...]) -> None:
        self._show_sources()
        self.sources.ask_several(title, words, sources)

    def _on_measured(self, texts: dict[str, str]) -> None:
        self._write(Measurement.noun, texts)

    def _on_placed(self, x: float, y: float, area: str) -> None:
        texts = {"x": f"{x:g} m", "y": f"{y:g} m"} | ({"area": area} if area else {})
        self._write(Location.noun, texts)

    def _turn_to(self, key: str) -> None:
        page = self.open_page(key)
        if page:
            page.enter()

    def _on_adding(self, noun: str) -> None:
        page = self.open_page(noun)
        if isinstance(page, RecordsPage):
            page.add()

    def _on_lined(self, points: tuple[tuple[float, float], ...]) -> None:
        from workbench.ui.pages.pattern import PatternPage

        page = self.open_page(PATTERN)
        if isinstance(page, PatternPage):
            page.take_line(points)

    def _write(self, noun: str, texts: dict[str, str]) -> None:
        """Write into the form of the chosen record of a type, or of a new one."""
        page = self.open_page(noun)
        if isinstance(page, RecordsPage):
            page.write(texts)

    def _leave_page(self) -> None:
        self.open_page(self._before or CaseEntry.noun)

    def _begin_taking_in(self, name: str, read: "Reader") -> None:
        from workbench.ui.pages.taking_in import TakingInPage

        page = self.open_page(TAKING_IN)
        if isinstance(page, TakingInPage):
            page.begin(name, read)

    def _paste(self, kind: type[Record], text: str) -> None:
        from workbench.desk.intake import pasted_for

        case = self.bench.case
        self._begin_taking_in("pasted rows", lambda _step: pasted_for(case, kind, text))

    def _count_points(self) -> None:
        found = self.bench.answers.ask(self.bench.open_points)
        if found is not None:
            self.header.show_points(len(found))

    def _show_sources(self) -> None:
        self._below.setCurrentWidget(self.sources)
        self._show_below(wanted=True)

    @property
    def _wants_figures(self) -> bool:
        """Whether the figures of the chapter stand below the page that is shown."""
        spec, page = page_called(self.key), self.page
        if spec is None or page is None:
            return False
        return spec.chapter is not None and spec.figures and not page.alone

    def _show_below(self, *, wanted: bool) -> None:
        """Show the lower half where there is something in it."""
        if self._below.currentWidget() is self.figures:
            wanted = wanted and self.figures.choice is not None
        self._stack.show()
        self.figures.large.setChecked(False)
        self._below.setVisible(wanted)

    def _list_chapters(self) -> None:
        entries: list[Entry] = []
        for chapter in Chapter:
            entries.append(Entry(chapter, title=str(chapter)))
            if chapter is self.chapters.chapter:
                entries += [
                    Entry(chapter, page.key, page.title, page.count(self.bench.dossier))
                    for page in pages_of(chapter)
                ]
        self.chapters.entries.show_entries(entries)

    def _lay_out(self) -> None:
        centre = QWidget(self)
        middle = QVBoxLayout(centre)
        middle.setContentsMargins(0, 0, 0, 0)
        middle.setSpacing(0)
        middle.addWidget(FocusBar(self.bench, self))
        middle.addWidget(rule(self))
        middle.addWidget(self._halves, 1)
        self._below.addWidget(self.figures)
        self._below.addWidget(self.sources)
        self._halves.addWidget(self._stack)
        self._halves.addWidget(self._below)
        self._halves.setSizes([step(self, 48), step(self, 38)])
        self._instruments.addWidget(self.where)
        self._instruments.addWidget(self.layers)
        for splitter in self._splitters.values():
            splitter.setHandleWidth(1)
            splitter.setChildrenCollapsible(False)
        widths = ((self.chapters, 21, 0), (centre, 96, 7), (self._instruments, 43, 3))
        for at, (widget, width, share) in enumerate(widths):
            self._columns.addWidget(widget)
            widget.setMinimumWidth(step(self, min(width, 30) * 0.8))
            self._columns.setStretchFactor(at, share)
        self._columns.setSizes([step(self, width) for _, width, _ in widths])
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        whole.addWidget(self.header)
        whole.addWidget(rule(self))
        below = QHBoxLayout()
        below.addWidget(self._columns)
        whole.addLayout(below, 1)


def _room_for(page: Page) -> QScrollArea:
    """Return room for a page: where the window is too small for it, it is scrolled, not cut off."""
    room = QScrollArea()
    room.setWidgetResizable(True)
    room.setFrameShape(QFrame.Shape.NoFrame)
    room.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    room.setWidget(page)
    return room
