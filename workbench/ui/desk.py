"""The desk: chapters at the left, the page in the middle, where and which layer at the right."""

from collections.abc import Callable

from PySide6.QtCore import QEvent, QObject, QSettings, Qt, QTimer, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QWidget

from workbench.desk.questions.open_points import OpenPoint
from workbench.records import BY_NOUN, CaseEntry, PullOff, Source
from workbench.records.codes import Chapter
from workbench.ui.bench import Bench
from workbench.ui.chapters import ChapterList, Entry
from workbench.ui.columns import Columns
from workbench.ui.commands import Command
from workbench.ui.errands import Errands
from workbench.ui.figures.panel import FigurePanel
from workbench.ui.finding import Finder
from workbench.ui.focus_bar import FocusBar
from workbench.ui.header import Header
from workbench.ui.layers.panel import LayerPanel
from workbench.ui.lower_half import LowerHalf
from workbench.ui.pages.page import READ, Page
from workbench.ui.pages.registry import OPEN_POINTS, page_called, pages_of
from workbench.ui.pages.stack import PageStack
from workbench.ui.parts import bare_column, follow_with_tab, rule
from workbench.ui.sources.panel import SourcesPanel
from workbench.ui.theme import step
from workbench.ui.where.panel import WherePanel


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
        self._pages = PageStack(bench, self)
        self._below = LowerHalf(bench, self)
        self.columns = Columns(self)
        self.errands = Errands(bench, self.open_page, self)
        self._wanted = False
        self._refit = QTimer(self)
        self._refit.setSingleShot(True)
        self._refit.setInterval(0)
        self._refit.timeout.connect(self._fit_anew)
        self._lay_out()
        self.finder = Finder(bench, self.header.find_line, commands, self)
        self._connect()
        self.open_page(PullOff.noun if bench.dossier.all(PullOff) else CaseEntry.noun)
        self._count_points()

    # -- pages

    @property
    def page(self) -> Page | None:
        """The page that is shown."""
        return self._pages.page

    @property
    def key(self) -> str:
        """Key of the page that is shown."""
        return self._pages.key

    @property
    def figures(self) -> FigurePanel:
        """The figures of the chapter."""
        return self._below.figures

    @property
    def sources(self) -> SourcesPanel:
        """How something is known."""
        return self._below.sources

    def open_page(self, key: str) -> Page | None:
        """Show the page with a key, and return it; None where there is none."""
        spec = page_called(key)
        if spec is None:
            return None
        page = self._pages.open(spec)
        if spec.chapter:
            self.chapters.chapter = spec.chapter
            self.figures.open_chapter(spec.chapter)
        self._list_chapters()
        self.chapters.mark(self.chapters.chapter, key)
        self._pages.turn_to(key)
        self._fit_instruments(wanted=False)
        self._fit_below()
        return page

    def _turn_to(self, key: str) -> None:
        if page := self.open_page(key):
            page.enter()

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

    # -- where, which layer, how known

    def find_anything(self) -> None:
        """Go to the line in which anything is searched for."""
        self.header.find_line.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.header.find_line.selectAll()

    def go_to_plan(self) -> None:
        """Go to the plan."""
        self._fit_instruments(wanted=True)
        self.where.view.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def go_to_stack(self) -> None:
        """Go to the stack."""
        self._fit_instruments(wanted=True)
        self.layers.view.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def go_to_page(self) -> None:
        """Go to the page."""
        if self.page:
            self._fit_instruments(wanted=False)
            self.page.enter()

    def show_everything(self) -> None:
        """Close what was opened over the figures; else narrow nothing and light nothing."""
        if self._below.asked:
            self.close_sources()
        else:
            self.bench.selection.clear()

    def toggle_large_figure(self) -> None:
        """Give the lower half all the room of the centre, or give it back."""
        large = self._pages.isVisible() and self._below.isVisible()
        self._pages.setVisible(not large)
        self.figures.large.setChecked(large)
        self._refit.start()

    def how_known(self) -> None:
        """Show how that is known which has the focus, is lit, or stands in the form."""
        self._pages.show()
        self._below.ask_of(self.page, self.layers)

    def ask(self, source: Source) -> None:
        """Show how a record is known."""
        self._pages.show()
        self._below.ask(source)

    def close_sources(self) -> None:
        """Show the figures again."""
        self._below.show_figures()
        self._fit_below()
        self.go_to_page()

    def close_down(self) -> None:
        """Stop what runs beside the pages."""
        self._pages.close_down()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Divide the room anew."""
        super().resizeEvent(event)
        self._fit_instruments(wanted=self._wanted)
        self._refit.start()

    def save_state(self, settings: QSettings) -> None:
        """Keep how the room is divided."""
        self.columns.save_state(settings)

    def restore_state(self, settings: QSettings) -> None:
        """Divide the room as it was."""
        self.columns.restore_state(settings)

    # -- how

    def _connect(self) -> None:
        bench = self.bench
        self._pages.made.connect(self._listen)
        self.chapters.opened.connect(self._on_opened)
        self.header.points_asked.connect(self.open_points)
        self.figures.enlarged.connect(self.toggle_large_figure)
        self._below.closed.connect(self.close_sources)
        self._below.opened.connect(self.open_source)
        self.finder.opened.connect(self.open_source)
        self.finder.turned.connect(self._turn_to)
        self.where.placed.connect(self.errands.place)
        self.where.outlined.connect(self.errands.outline)
        self.where.lined.connect(self.errands.line)
        self.where.plan_asked.connect(self.errands.plan)
        self.finder.done.connect(self.doing)
        bench.changed.connect(self._list_chapters)
        bench.changed.connect(self._count_points)
        bench.answers.ready.connect(self._on_ready)

    def _order_focus(self) -> None:
        """Let Tab go from the top to the left, through the page, and on to the right."""
        follow_with_tab(
            self.header, self.chapters, *self._pages.tab_stops, self._below, self.where, self.layers
        )

    def _listen(self, page: Page) -> None:
        """Do what a page asks for; pages have the signals they need."""
        page.installEventFilter(self)
        self._order_focus()
        for name, slot in (
            ("asked", self.ask),
            ("opened", self._on_point),
            ("visited", self.open_source),
            ("taken", self._leave_page),
            ("left", self._leave_page),
            ("measured", self.errands.measure),
            ("planned", self.where.view.show_planned),
            ("adding", self.errands.add),
            ("turned", self.errands.turn_to),
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

    def _leave_page(self) -> None:
        self.open_page(self._pages.before or CaseEntry.noun)

    def _on_ready(self, _question: object) -> None:
        self._count_points()

    def _count_points(self) -> None:
        found = self.bench.answers.ask(self.bench.open_points, patient=True)
        if found is not None:
            self.header.show_points(len(found))

    def _fit_below(self) -> None:
        """Give the lower half room where the page that is shown leaves something to it."""
        spec, page = page_called(self.key), self.page
        self._pages.show()
        self._below.fit(wanted=bool(spec and spec.chapter and spec.figures and page))
        self._refit.start()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """See how much room a page needs once it is filled."""
        if event.type() == QEvent.Type.LayoutRequest and watched is self.page:
            self._refit.start()
        return False

    def _fit_anew(self) -> None:
        """Divide the room by what the page that is shown needs."""
        self._fit_instruments(wanted=self._wanted)
        if self.page and not self._below.asked:
            self.columns.fit_halves(self.page.height_needed)

    def _fit_instruments(self, *, wanted: bool) -> None:
        """Show where and which layer where there is room for them beside the page, or wanted."""
        self._wanted = wanted
        if self.page:
            large = step(self, READ) if self.figures.large.isChecked() else 0
            needed = max(self.page.width_needed, large)
            self.columns.fit(needed, wanted=wanted, alone=self.page.alone)

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
        self.columns.hold(
            self.chapters,
            bar=FocusBar(self.bench, self),
            centre=(self._pages, self._below),
            instruments=(self.where, self.layers),
        )
        whole = bare_column(self)
        whole.addWidget(self.header)
        whole.addWidget(rule(self))
        whole.addWidget(self.columns, 1)
