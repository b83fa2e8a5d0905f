"""The stack of one system: its drawing at the left, its planes as rows beside it."""

from PySide6.QtCore import QEvent, QModelIndex, QPoint, QRect, QSize, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QListView, QWidget

from workbench.desk.questions.layers import Stack
from workbench.records import Plane
from workbench.ui.layers.drawing import (
    Band,
    bands_to_read,
    bands_to_scale,
    paint_bands,
    paint_parting,
)
from workbench.ui.layers.model import PlaneModel
from workbench.ui.layers.row import PlaneDelegate, stack_width
from workbench.ui.theme import quiet, scheme_of, step


class StackView(QListView):
    """Shows the stack; a plane is chosen with the mouse, or with the space bar.

    Attributes:
        chosen: The person chose this plane.
        hovered: The pointer or the cursor is over this plane; None for none.
    """

    chosen = Signal(object)
    hovered = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        """Make the view, with no stack."""
        super().__init__(parent)
        self._model = PlaneModel(self)
        self._delegate = PlaneDelegate(self)
        self._to_scale = False
        self.setModel(self._model)
        self.setItemDelegate(self._delegate)
        self.setAccessibleName("Which layer: planes from the glue down to the substrate")
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setFrameShape(QListView.Shape.NoFrame)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setResizeMode(QListView.ResizeMode.Adjust)
        self.setMouseTracking(True)
        self.entered.connect(self._on_pointed)
        self.viewportEntered.connect(lambda: self.hovered.emit(None))
        self.selectionModel().currentChanged.connect(self._on_pointed)

    @property
    def planes(self) -> PlaneModel:
        """The planes shown."""
        return self._model

    @property
    def lit(self) -> frozenset[str]:
        """Codes of the planes that the lit records speak of."""
        return self._delegate.lit

    def show_stack(self, stack: Stack) -> None:
        """Show a stack and what is known of its planes."""
        self._model.show_stack(stack)
        self.scheduleDelayedItemsLayout()
        self.viewport().update()

    def show_to_scale(self, *, to_scale: bool) -> None:
        """Draw the layers in proportion, or easy to read."""
        self._to_scale = to_scale
        self.viewport().update()

    def mark(self, chosen: Plane | None, lit: frozenset[str]) -> None:
        """Mark the plane looked at and the planes that the lit records speak of."""
        if (chosen, lit) != (self._delegate.chosen, self._delegate.lit):
            self._delegate.chosen, self._delegate.lit = chosen, lit
            self.viewport().update()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay the rows out anew: in a narrow view they are higher."""
        super().resizeEvent(event)
        self.scheduleDelayedItemsLayout()

    def sizeHint(self) -> QSize:
        """Ask for as much room as all planes take."""
        row = self._delegate.height_of(self)
        high = self._model.rowCount() * row + step(self, 2.5)
        return QSize(step(self, 43), max(high, self.minimumSizeHint().height()))

    def minimumSizeHint(self) -> QSize:
        """Leave room for a few planes."""
        return QSize(step(self, 23), step(self, 9))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the rows, then the stack at their left."""
        super().paintEvent(event)
        if self._model.rowCount():
            painter = QPainter(self.viewport())
            self._paint_stack(painter)
            painter.end()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Choose with space or Return, move with the arrows."""
        if event.key() in (Qt.Key.Key_Space, Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._choose(self.currentIndex().row())
        else:
            super().keyPressEvent(event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Choose the plane that was clicked, in its row or in the drawing."""
        super().mouseReleaseEvent(event)
        if event.button() == Qt.MouseButton.LeftButton:
            self._choose(self._row_under(event.position().toPoint()))

    def leaveEvent(self, event: QEvent) -> None:
        """Point at nothing."""
        self.hovered.emit(None)
        super().leaveEvent(event)

    def _on_pointed(self, index: QModelIndex) -> None:
        line = self._model.line_at(index.row())
        self.hovered.emit(line.plane if line else None)

    def _choose(self, row: int) -> None:
        if line := self._model.line_at(row):
            self.chosen.emit(line.plane)

    def _row_under(self, point: QPoint) -> int:
        if self._to_scale and point.x() < self._drawn_room().right():
            heights = enumerate(self._heights(self._bands()))
            return min(heights, key=lambda pair: abs(pair[1] - point.y()))[0]
        return self.indexAt(point).row()

    def _rows(self) -> list[QRect]:
        model = self._model
        return [self.visualRect(model.index(row)) for row in range(model.rowCount())]

    def _drawn_room(self) -> QRect:
        left, width = step(self, 0.5), stack_width(self) - step(self, 2)
        return QRect(left, 0, width, self.viewport().height())

    def _bands(self) -> tuple[Band, ...]:
        rows = self._rows()
        if self._to_scale:
            return bands_to_scale(self._model.stack, rows[0].center().y(), rows[-1].bottom())
        return bands_to_read(self._model.stack, rows)

    def _heights(self, bands: tuple[Band, ...]) -> list[int]:
        """Return the height at which each plane lies in the drawing."""
        by_order = {band.coat.order: band for band in bands}
        top = bands[-1].top if bands else 0
        heights = []
        for line in self._model.stack.lines:
            lower, upper = line.plane.lower, line.plane.upper
            if lower is None or upper is None:
                heights.append(top)
            elif lower == upper:
                band = by_order.get(lower)
                heights.append((band.top + band.bottom) // 2 if band else top)
            else:
                heights.append(by_order[upper].bottom if upper in by_order else top)
        return heights

    def _paint_stack(self, painter: QPainter) -> None:
        room, bands = self._drawn_room(), self._bands()
        paint_bands(painter, bands, room, self)
        scheme = scheme_of(self)
        for line, row, height in zip(
            self._model.stack.lines, self._rows(), self._heights(bands), strict=True
        ):
            if line.worst:
                paint_parting(painter, room, height, self)
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(
                QColor(scheme.accent if line.plane == self._delegate.chosen else scheme.rule)
            )
            painter.drawLine(room.right() + 2, height, stack_width(self) - 2, row.center().y())
            painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        if not self._to_scale:
            self._paint_letters(painter, bands, room)

    def _paint_letters(self, painter: QPainter, bands: tuple[Band, ...], room: QRect) -> None:
        painter.setFont(quiet(self.font()))
        painter.setPen(QColor(scheme_of(self).ink))
        for band in bands:
            rect = QRect(room.left(), band.top, room.width(), band.bottom - band.top)
            painter.drawText(rect, int(Qt.AlignmentFlag.AlignCenter), _letter(band))


def _letter(band: Band) -> str:
    return Plane.within(band.coat.order).code
