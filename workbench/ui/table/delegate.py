"""How a cell is painted: a hairline below, and the marker of a condition before its word."""

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QPointF, QSize, Qt
from PySide6.QtGui import QPainter, QPalette
from PySide6.QtWidgets import QStyledItemDelegate, QStyleOptionViewItem

from workbench.records.codes import Condition
from workbench.ui.marks import paint_condition
from workbench.ui.table.model import CONDITION
from workbench.ui.theme import is_dark, step

Index = QModelIndex | QPersistentModelIndex
_CONDITIONS = {str(condition): condition for condition in Condition}


class CellDelegate(QStyledItemDelegate):
    """Paints the cells of record tables."""

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paint one cell."""
        widget = option.widget
        named = _CONDITIONS.get(str(index.data(CONDITION)))
        if named:
            room = QStyleOptionViewItem(option)
            self.initStyleOption(room, index)
            room.text = ""
            widget.style().drawControl(
                widget.style().ControlElement.CE_ItemViewItem, room, painter, widget
            )
            self._paint_condition(painter, option, named)
        else:
            super().paint(painter, option, index)
        painter.save()
        painter.setPen(widget.palette().color(QPalette.ColorRole.Midlight))
        rect = option.rect
        painter.drawLine(rect.bottomLeft(), rect.bottomRight())
        painter.restore()

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        """Return the width the text needs."""
        hint = super().sizeHint(option, index)
        widget = option.widget
        marker = 2 * step(widget) if index.data(CONDITION) else 0
        return QSize(hint.width() + marker, hint.height())

    def _paint_condition(
        self, painter: QPainter, option: QStyleOptionViewItem, condition: Condition
    ) -> None:
        widget, rect = option.widget, option.rect
        unit = step(widget)
        centre = QPointF(rect.left() + unit, rect.center().y() + 0.5)
        paint_condition(painter, centre, unit, condition, dark=is_dark(widget))
        painter.save()
        painter.setPen(widget.palette().color(QPalette.ColorRole.Text))
        words = rect.adjusted(2 * unit, 0, 0, 0)
        painter.drawText(words, int(Qt.AlignmentFlag.AlignVCenter), str(condition))
        painter.restore()
