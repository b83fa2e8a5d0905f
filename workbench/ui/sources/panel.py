"""How do you know? The sources of a record, a plane or a finding, beside the picture of a step."""

from collections.abc import Iterable

from PySide6.QtCore import QModelIndex, QSize, Qt, Signal
from PySide6.QtGui import QImageReader, QPixmap, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QTreeView,
    QWidget,
)

from workbench.desk.questions.sources import Grounds, Trace, file_of, trace_of, trace_of_several
from workbench.records import Sample, Source
from workbench.ui.bench import Bench
from workbench.ui.parts import bare_column, elided, label, overline, parted, tool
from workbench.ui.sources.model import TraceModel
from workbench.ui.theme import step

_PICTURE_PX = 900
_LEAST_HIGH = 22
"""Steps of height in which a handful of rows stand under the head."""


class SourcesPanel(QWidget):
    """The tree; choosing a step lights its record, Return opens it on its page.

    Attributes:
        opened: The person wants the record of this source.
        closed: The person has seen enough.
    """

    opened = Signal(object)
    closed = Signal()

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Show nothing yet."""
        super().__init__(parent)
        self._bench = bench
        self._about = label("", "heading", self)
        self._said = elided("quiet", self)
        self._model = TraceModel(self)
        self.tree = QTreeView(self)
        self._picture = _Picture(self)
        self._lay_out()
        self.tree.selectionModel().currentChanged.connect(self._on_current)
        self.tree.activated.connect(self._on_activated)

    def minimumSizeHint(self) -> QSize:
        """Need enough of the height that a few steps are seen at once."""
        least = super().minimumSizeHint()
        return QSize(least.width(), max(least.height(), step(self, _LEAST_HIGH)))

    def ask(self, source: Source) -> None:
        """Show how a record is known."""
        grounds = self._grounds()
        self._show(trace_of(source, grounds), grounds)

    def ask_several(self, title: str, detail: str, sources: Iterable[Source]) -> None:
        """Show how a finding is known, which rests on several records."""
        grounds = self._grounds()
        self._show(trace_of_several(title, detail, sources, grounds), grounds)

    def _grounds(self) -> Grounds:
        case = self._bench.case
        return Grounds(case.dossier, case.history, self._bench.showing, case.originals)

    def _show(self, trace: Trace, grounds: Grounds) -> None:
        self._about.setText(trace.title)
        self._said.setText(trace.detail)
        self._model.show_trace(trace, grounds)
        self._picture.show_picture(file_of(trace, self._bench.case.original))
        if self._model.rowCount():
            self.tree.setCurrentIndex(self._model.index(0, 0))
        self._open_on()
        self.tree.setFocus(Qt.FocusReason.OtherFocusReason)

    def _open_on(self) -> None:
        """Open the way on: a step that stands alone, and samples with their custody."""
        rows = [self._model.index(row, 0) for row in range(self._model.rowCount())]
        for index in rows:
            trace = self._model.trace_at(index)
            is_sample = trace and trace.source and trace.source.noun == Sample.noun
            if len(rows) == 1 or is_sample:
                self.tree.expand(index)

    def _on_current(self, index: QModelIndex) -> None:
        trace = self._model.trace_at(index)
        if trace is None:
            return
        self._picture.show_picture(file_of(trace, self._bench.case.original))
        if trace.source:
            self._bench.selection.light([trace.source])

    def _on_activated(self, index: QModelIndex) -> None:
        trace = self._model.trace_at(index)
        if trace and trace.source:
            self.opened.emit(trace.source)

    def _lay_out(self) -> None:
        self.tree.setModel(self._model)
        self.tree.setAccessibleName("Sources")
        self.tree.setUniformRowHeights(True)
        self.tree.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.tree.setFrameShape(QTreeView.Shape.NoFrame)
        self.tree.header().setSectionResizeMode(0, QHeaderView.ResizeMode.Interactive)
        self.tree.header().resizeSection(0, step(self, 34))
        self.tree.header().setStretchLastSection(True)
        head = QHBoxLayout()
        head.setContentsMargins(step(self, 2), step(self, 0.5), step(self), step(self, 0.5))
        head.setSpacing(step(self))
        head.addWidget(overline("How do you know?", self))
        head.addWidget(self._about)
        head.addWidget(self._said, 1)
        head.addWidget(tool("Close", "Back to the figures (Esc)", self.closed.emit, self))
        halves = parted(
            self, Qt.Orientation.Horizontal, (self.tree, self._picture), grows=0, steps=(70, 26)
        )
        whole = bare_column(self)
        whole.addLayout(head)
        whole.addWidget(halves, 1)


class _Picture(QLabel):
    """The photograph of a step, as large as there is room."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._whole = QPixmap()
        self.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.setMinimumWidth(step(parent, 10))
        self.setAccessibleName("Photograph of the step")

    def show_picture(self, path: object) -> None:
        """Show the picture in a file, or nothing."""
        self._whole = QPixmap()
        reader = QImageReader(str(path)) if path else None
        if reader and reader.canRead():
            reader.setAutoTransform(True)
            size = reader.size()
            if size.width() > _PICTURE_PX:
                reader.setScaledSize(size.scaled(_PICTURE_PX, _PICTURE_PX, _KEEP))
            self._whole = QPixmap.fromImage(reader.read())
        self.setVisible(not self._whole.isNull())
        self._fit()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fit the picture into the room."""
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        if self._whole.isNull():
            self.clear()
            return
        smooth = Qt.TransformationMode.SmoothTransformation
        self.setPixmap(self._whole.scaled(self.size(), _KEEP, smooth))


_KEEP = Qt.AspectRatioMode.KeepAspectRatio
