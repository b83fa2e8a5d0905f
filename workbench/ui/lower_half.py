"""The lower half of the centre: the figures of the chapter, or how something is known."""

from PySide6.QtCore import QSize, Signal
from PySide6.QtWidgets import QStackedWidget, QWidget

from workbench.records import Source
from workbench.ui.bench import Bench
from workbench.ui.figures.panel import FigurePanel
from workbench.ui.layers.panel import LayerPanel
from workbench.ui.pages.page import Page
from workbench.ui.sources.panel import SourcesPanel


class LowerHalf(QStackedWidget):
    """Holds the figures, and the sources over them once they are asked for.

    Attributes:
        closed: The person has seen enough of the sources.
        opened: The person wants the record of this source.
    """

    closed = Signal()
    opened = Signal(object)

    def __init__(self, bench: Bench, parent: QWidget) -> None:
        """Show the figures."""
        super().__init__(parent)
        self._bench = bench
        self.figures = FigurePanel(bench, self)
        self._sources: SourcesPanel | None = None
        self.addWidget(self.figures)

    def minimumSizeHint(self) -> QSize:
        """Need what is shown needs; of the figures, the strip with their names."""
        return (self._sources if self.asked and self._sources else self.figures).minimumSizeHint()

    @property
    def sources(self) -> SourcesPanel:
        """How something is known; made when it is first asked for."""
        if self._sources is None:
            self._sources = SourcesPanel(self._bench, self)
            self._sources.closed.connect(self.closed)
            self._sources.opened.connect(self.opened)
            self.addWidget(self._sources)
        return self._sources

    @property
    def asked(self) -> bool:
        """Whether the sources are shown."""
        return self.currentWidget() is self._sources

    def show_figures(self) -> None:
        """Put the sources away."""
        self.setCurrentWidget(self.figures)

    def fit(self, *, wanted: bool) -> None:
        """Take room if there is something to show; figures only where they are `wanted`."""
        self.figures.large.setChecked(False)
        self.setVisible(self.asked or (wanted and self.figures.choice is not None))

    def ask(self, source: Source) -> None:
        """Show how a record is known."""
        self._show_sources()
        self.sources.ask(source)

    def ask_of(self, page: Page | None, layers: LayerPanel) -> None:
        """Show how that is known which has the focus, is lit, or stands in the form."""
        lit = self._bench.selection.sources
        line = layers.current_line() if layers.view.hasFocus() else None
        if line:
            self._ask_several(f"{line.plane}, {line.name}", line.words, line.sources)
        elif page and page.finding:
            self._ask_several(*page.finding)
        elif len(lit) > 1:
            self._ask_several(f"{len(lit)} records", "", lit)
        elif source := next(iter(lit), page.current if page else None):
            self.ask(source)
        else:
            self._bench.refused.emit("Choose a row, a point, a place or a plane first.")

    def _ask_several(self, title: str, words: str, sources: tuple[Source, ...]) -> None:
        self._show_sources()
        self.sources.ask_several(title, words, sources)

    def _show_sources(self) -> None:
        self.setCurrentWidget(self.sources)
        self.fit(wanted=True)
