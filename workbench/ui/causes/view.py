"""The matrix on a laptop's screen: candidates across with upright titles, observations down."""

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRect, QSize, Qt
from PySide6.QtGui import QColor, QFont, QPainter
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)

from workbench.reasoning.results import Bearing, Cell
from workbench.records import Grade
from workbench.records.codes import Condition
from workbench.ui.causes.model import MatrixModel
from workbench.ui.marks import condition_tone
from workbench.ui.theme import is_dark, quiet, scheme_of, step

Index = QModelIndex | QPersistentModelIndex
_AGAINST = frozenset({Bearing.CONTRADICTS, Bearing.EXCLUDES, Bearing.WOULD_EXCLUDE})


class _Candidates(QHeaderView):
    """Titles of candidates, upright, with their grades; those excluded are struck out."""

    def __init__(self, model: MatrixModel, parent: QWidget) -> None:
        super().__init__(Qt.Orientation.Horizontal, parent)
        self._matrix = model
        self.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.setMinimumSectionSize(1)
        self.setDefaultSectionSize(step(parent, 3))
        self.setSectionsClickable(True)

    def sizeHint(self) -> QSize:
        """Return room for upright titles."""
        return QSize(super().sizeHint().width(), step(self, 24))

    def paintSection(self, painter: QPainter, rect: QRect, logicalIndex: int) -> None:  # noqa: N803
        """Paint one title from below upwards."""
        candidate = self._matrix.candidate_at(logicalIndex)
        if candidate is None:
            return
        view, scheme = self.parentWidget(), scheme_of(self)
        here = isinstance(view, QTableView) and view.currentIndex().column() == logicalIndex
        painter.save()
        painter.fillRect(rect, QColor(scheme.wash if here else scheme.band))
        font = QFont(quiet(self.font()))
        firm = candidate.grade in (Grade.ESTABLISHED, Grade.PROBABLE)
        font.setBold(firm)
        font.setStrikeOut(candidate.grade is Grade.EXCLUDED)
        painter.setFont(font)
        painter.setPen(QColor(scheme.ink if firm or here else scheme.quiet))
        painter.translate(rect.left(), rect.bottom())
        painter.rotate(-90)
        room = QRect(step(self), 0, rect.height() - 2 * step(self), rect.width())
        title = f"{candidate.rank}  {candidate.title}"
        shown = painter.fontMetrics().elidedText(title, Qt.TextElideMode.ElideRight, room.width())
        painter.drawText(room, int(Qt.AlignmentFlag.AlignVCenter), shown)
        painter.restore()


class _CellDelegate(QStyledItemDelegate):
    """Paints the sign of a cell; what counts is strong, what bears against has its own colour."""

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paint one cell."""
        cell, widget = index.data(Qt.ItemDataRole.UserRole), option.widget
        if not isinstance(cell, Cell):
            return
        scheme, room = scheme_of(widget), QRect(option.rect)
        painter.save()
        if isinstance(widget, QTableView):
            current = widget.currentIndex()
            if index.row() == current.row() or index.column() == current.column():
                painter.fillRect(room, QColor(scheme.wash))
            if index == current:
                painter.setPen(QColor(scheme.accent))
                painter.drawRect(room.adjusted(0, 0, -1, -1))
        font = QFont(widget.font())
        font.setBold(cell.counted or cell.decisive)
        painter.setFont(font)
        painter.setPen(self._tone(cell, widget))
        painter.drawText(room, int(Qt.AlignmentFlag.AlignCenter), cell.bearing.sign)
        painter.setPen(QColor(scheme.band))
        painter.drawLine(room.bottomLeft(), room.bottomRight())
        painter.restore()

    def _tone(self, cell: Cell, widget: QWidget) -> QColor:
        scheme = scheme_of(widget)
        if cell.bearing in _AGAINST:
            return condition_tone(Condition.FAILING, dark=is_dark(widget))
        if cell.bearing is Bearing.SUPPORTS:
            return QColor(scheme.accent if cell.counted else scheme.ink)
        return QColor(scheme.quiet)


class MatrixView(QTableView):
    """Shows the matrix; the arrow keys walk over its cells."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Make the empty view."""
        super().__init__(parent)
        self.cells = MatrixModel(self)
        self.setModel(self.cells)
        self.setItemDelegate(_CellDelegate(self))
        self.setHorizontalHeader(_Candidates(self.cells, self))
        self.setAccessibleName("Candidate causes across, observations down")
        self.setShowGrid(False)
        self.setFrameShape(QTableView.Shape.NoFrame)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setTabKeyNavigation(False)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        rows = self.verticalHeader()
        rows.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        rows.setMinimumSectionSize(1)
        rows.setDefaultSectionSize(step(self, 2.5))
        rows.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        rows.setHighlightSections(False)
        rows.setTextElideMode(Qt.TextElideMode.ElideRight)
        rows.setFixedWidth(step(self, 36))
        self.selectionModel().currentChanged.connect(lambda _now, _before: self._renew())

    def _renew(self) -> None:
        self.viewport().update()
        self.horizontalHeader().viewport().update()
