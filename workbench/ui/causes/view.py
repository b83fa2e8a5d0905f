"""The matrix on a laptop's screen: candidates across with upright titles, observations down."""

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QPointF, QRect, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)

from workbench.reasoning.results import Bearing, Cell
from workbench.records.codes import Condition
from workbench.ui.causes.headers import CandidateHeads, ObservationHeads
from workbench.ui.causes.model import MatrixModel
from workbench.ui.marks import condition_tone
from workbench.ui.theme import is_dark, scheme_of, step

Index = QModelIndex | QPersistentModelIndex
_BARRING = frozenset({Bearing.EXCLUDES, Bearing.WOULD_EXCLUDE})
_AGAINST = _BARRING | {Bearing.CONTRADICTS}
LEGEND = (
    "+ supports    − contradicts    ✕ excludes (dashed: to be confirmed)    ○ not read    "
    "· silent    large: could settle it alone    pale: counted in another row"
)


class CellDelegate(QStyledItemDelegate):
    """Paints the sign of a cell: large where it could settle the matter, pale where not counted."""

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paint one cell."""
        cell, widget = index.data(Qt.ItemDataRole.UserRole), option.widget
        if not isinstance(widget, QTableView):
            return
        scheme, room = scheme_of(widget), QRect(option.rect)
        painter.save()
        current = widget.currentIndex()
        across = index.row() == current.row() or index.column() == current.column()
        if not isinstance(cell, Cell):
            painter.fillRect(room, QColor(scheme.band))
            painter.restore()
            return
        if across:
            painter.fillRect(room, QColor(scheme.wash))
        painter.setPen(QColor(scheme.band))
        painter.drawLine(room.bottomLeft(), room.bottomRight())
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._paint_sign(painter, room, cell, widget)
        if index == current:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing, on=False)
            painter.setPen(QPen(QColor(scheme.accent), 2 if widget.hasFocus() else 1))
            painter.drawRect(room.adjusted(1, 1, -1, -1))
        painter.restore()

    def _paint_sign(self, painter: QPainter, room: QRect, cell: Cell, widget: QWidget) -> None:
        tone = _tone(cell, widget)
        if not cell.counted and cell.bearing in (Bearing.SUPPORTS, Bearing.CONTRADICTS):
            tone.setAlphaF(0.45)
        reach = step(widget, 0.75 if cell.decisive else 0.5)
        middle = QPointF(room.center())
        pen = QPen(tone, 3 if cell.decisive else 2)
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        painter.setPen(pen)
        left, right = QPointF(-reach, 0), QPointF(reach, 0)
        if cell.bearing is Bearing.SILENT:
            painter.setPen(QPen(tone, 1))
            painter.drawPoint(middle)
        elif cell.bearing is Bearing.NOT_READ:
            painter.setPen(QPen(tone, 2 if cell.decisive else 1))
            painter.drawEllipse(middle, reach, reach)
        elif cell.bearing in _BARRING:
            self._paint_bar(
                painter, middle, reach, pen, unsure=cell.bearing is not Bearing.EXCLUDES
            )
        else:
            painter.drawLine(middle + left, middle + right)
            if cell.bearing is Bearing.SUPPORTS:
                painter.drawLine(middle + left.transposed(), middle + right.transposed())

    def _paint_bar(
        self, painter: QPainter, middle: QPointF, reach: float, pen: QPen, *, unsure: bool
    ) -> None:
        for way in (1, -1):
            end = QPointF(reach, way * reach)
            painter.drawLine(middle - end, middle + end)
        frame = QPen(pen.color(), 1, Qt.PenStyle.DashLine if unsure else Qt.PenStyle.SolidLine)
        painter.setPen(frame)
        side = round(2 * (reach + 2))
        corner = QPointF(reach + 2, reach + 2)
        painter.drawRect(QRect((middle - corner).toPoint().x(), (middle - corner).toPoint().y(),
                               side, side))  # fmt: skip


def _tone(cell: Cell, widget: QWidget) -> QColor:
    scheme = scheme_of(widget)
    if cell.bearing in _AGAINST:
        return condition_tone(Condition.FAILING, dark=is_dark(widget))
    if cell.bearing is Bearing.SUPPORTS:
        return QColor(scheme.accent)
    return QColor(scheme.quiet)


class MatrixView(QTableView):
    """Shows the matrix; the arrow keys walk over its cells."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Make the empty view."""
        super().__init__(parent)
        self.cells = MatrixModel(self)
        self.setModel(self.cells)
        self.setItemDelegate(CellDelegate(self))
        self.setHorizontalHeader(CandidateHeads(self.cells, self))
        self.setVerticalHeader(ObservationHeads(self.cells, self))
        self.setAccessibleName("Candidate causes across, observations down")
        self.setShowGrid(False)
        self.setMinimumHeight(step(self, 30))
        self.setFrameShape(QTableView.Shape.NoFrame)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setTabKeyNavigation(False)
        self.setCornerButtonEnabled(False)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.horizontalHeader().sectionPressed.connect(self._go_to_column)
        self.verticalHeader().sectionPressed.connect(self._go_to_row)
        self.selectionModel().currentChanged.connect(lambda _now, _before: self._renew())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Leave the cells half of the width where it is short."""
        wide = min(step(self, 36), self.width() // 2)
        if self.verticalHeader().width() != wide:
            self.verticalHeader().setFixedWidth(wide)
        super().resizeEvent(event)

    def go_to(self, cause: str, key: str) -> None:
        """Go to a cell; to the leader's first telling one where there is no such cell."""
        wanted = self.cells.index_of(cause, key)
        if not wanted.isValid() and self.cells.columnCount():
            wanted = self.cells.first_telling()
        if wanted.isValid():
            self.setCurrentIndex(wanted)

    def _go_to_column(self, column: int) -> None:
        row = self.currentIndex().row()
        if self.cells.row_at(row) is None:
            row = self.cells.first_telling(column).row()
        self.setCurrentIndex(self.cells.index(row, column))

    def _go_to_row(self, row: int) -> None:
        if self.cells.row_at(row):
            self.setCurrentIndex(self.cells.index(row, max(self.currentIndex().column(), 0)))

    def _renew(self) -> None:
        for part in (self, self.horizontalHeader(), self.verticalHeader()):
            part.viewport().update()
