"""A photograph as large as there is room, with its marks over it; new ones are drawn here."""

import math

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QPixmap,
    QPolygonF,
)
from PySide6.QtWidgets import QWidget

from workbench.desk.marking import words_of
from workbench.records import POINTS_OF, MarkShape, PhotoMark
from workbench.ui.parts import EscapeFirst
from workbench.ui.theme import scheme_of, step

_FINE, _STEP, _LEAP = 0.001, 0.01, 0.05
"""How far an arrow key moves the cross, as a share of the picture."""
_SIGN = "#FFD23F"
_EDGE = "#101214"
_ARROWS = {
    Qt.Key.Key_Left: (-1, 0), Qt.Key.Key_Right: (1, 0), Qt.Key.Key_Up: (0, -1),
    Qt.Key.Key_Down: (0, 1),
}  # fmt: skip


class MarkView(QWidget):
    """Shows the picture and its marks.

    Points are set with the mouse, or with a cross that the arrow keys move and the space bar sets.

    Attributes:
        drawn: All points of a new mark are set: its shape, and the points as shares.
        tool: The shape of the next mark; None while nothing is drawn.
    """

    drawn = Signal(object, object)

    def __init__(self, parent: QWidget | None = None) -> None:
        """Show nothing."""
        super().__init__(parent)
        self.tool: MarkShape | None = None
        self._picture = QPixmap()
        self._size = (0, 0)
        self._marks: tuple[PhotoMark, ...] = ()
        self._chosen = ""
        self._points: list[tuple[float, float]] = []
        self._cross = (0.5, 0.5)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setMinimumSize(step(self, 20), step(self, 16))
        self.setAccessibleName("Photograph with its marks")
        EscapeFirst(self, lambda: self.tool is not None)

    def show_picture(
        self, picture: QPixmap, size: tuple[int, int], marks: tuple[PhotoMark, ...]
    ) -> None:
        """Show a picture whose original has `size` pixels, and its marks."""
        self._picture, self._size, self._marks = picture, size, marks
        self.setAccessibleDescription(f"{len(marks)} marks")
        self._points.clear()
        self.update()

    def show_marks(self, marks: tuple[PhotoMark, ...]) -> None:
        """Show other marks on the same picture."""
        self._marks = marks
        self.update()

    def choose_tool(self, shape: MarkShape | None) -> None:
        """Begin a mark of `shape`; None ends drawing."""
        self.tool = shape
        self._points.clear()
        self.setCursor(Qt.CursorShape.CrossCursor if shape else Qt.CursorShape.ArrowCursor)
        self.update()

    def choose_mark(self, ref: str) -> None:
        """Show which mark is spoken of."""
        self._chosen = ref
        self.update()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Move the cross, set a point with space or Return, leave a mark half drawn with Esc."""
        key = Qt.Key(event.key())
        if self.tool and key in _ARROWS:
            by = _by(event.modifiers())
            along, down = _ARROWS[key]
            self._cross = _within(self._cross[0] + along * by, self._cross[1] + down * by)
            self.update()
        elif self.tool and key in (Qt.Key.Key_Space, Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._set_point(self._cross)
        elif self.tool and key == Qt.Key.Key_Escape:
            self.choose_tool(None)
        else:
            super().keyPressEvent(event)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Set a point where the button went down."""
        self.setFocus(Qt.FocusReason.MouseFocusReason)
        if self.tool and (share := self._share(event.position())):
            self._set_point(share)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Move the cross with the pointer."""
        if self.tool and (share := self._share(event.position())):
            self._cross = share
            self.update()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Set the second point where the button comes up, if it was moved."""
        share = self._share(event.position())
        if self.tool and len(self._points) == 1 and share:
            moved = math.dist(self._points[0], share)
            if moved > _STEP:
                self._set_point(share)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the picture, the marks, and what is being drawn."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(scheme_of(self).band))
        if not self._picture.isNull():
            painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.drawPixmap(self._frame(), self._picture, QRectF(self._picture.rect()))
            for mark in self._marks:
                points = [self._place(share) for share in mark.points.points]
                said = words_of(mark, self._marks, self._size)
                paint_mark(painter, mark.shape, points, said, strong=mark.ref == self._chosen)
            self._paint_drawing(painter)
        painter.end()

    def _paint_drawing(self, painter: QPainter) -> None:
        if not self.tool:
            return
        shares = [*self._points, self._cross]
        if len(shares) == POINTS_OF[self.tool]:
            paint_mark(painter, self.tool, [self._place(one) for one in shares], "", strong=True)
        cross, reach = self._place(self._cross), float(step(self))
        for tone, width in ((_EDGE, 3), (_SIGN, 1)):
            painter.setPen(QPen(QColor(tone), width))
            painter.drawLine(cross - QPointF(reach, 0), cross + QPointF(reach, 0))
            painter.drawLine(cross - QPointF(0, reach), cross + QPointF(0, reach))

    def _set_point(self, share: tuple[float, float]) -> None:
        if self.tool is None:
            return
        self._points.append((round(share[0], 4), round(share[1], 4)))
        if len(self._points) == POINTS_OF[self.tool]:
            points, shape = tuple(self._points), self.tool
            self._points.clear()
            self.drawn.emit(shape, points)
        self.update()

    def _frame(self) -> QRectF:
        size = self._picture.size().scaled(self.size(), Qt.AspectRatioMode.KeepAspectRatio)
        frame = QRectF(0, 0, size.width(), size.height())
        frame.moveCenter(QRectF(self.rect()).center())
        return frame

    def _place(self, share: tuple[float, float]) -> QPointF:
        frame = self._frame()
        return QPointF(
            frame.left() + share[0] * frame.width(), frame.top() + share[1] * frame.height()
        )

    def _share(self, point: QPointF) -> tuple[float, float] | None:
        frame = self._frame()
        if frame.isEmpty() or not frame.contains(point):
            return None
        return _within(
            (point.x() - frame.left()) / frame.width(), (point.y() - frame.top()) / frame.height()
        )


def _by(modifiers: Qt.KeyboardModifier) -> float:
    """Return how far the cross moves: farther with Shift, a little with Ctrl."""
    if modifiers & Qt.KeyboardModifier.ControlModifier:
        return _FINE
    return _LEAP if modifiers & Qt.KeyboardModifier.ShiftModifier else _STEP


def _within(x: float, y: float) -> tuple[float, float]:
    return min(max(x, 0.0), 1.0), min(max(y, 0.0), 1.0)


def paint_mark(
    painter: QPainter, shape: MarkShape, points: list[QPointF], words: str, *, strong: bool = False
) -> None:
    """Paint one mark: light on a dark edge, so that it stands out on any picture."""
    width = 3.0 if strong else 2.0
    for tone, extra in ((_EDGE, 2.5), (_SIGN, 0.0)):
        painter.setPen(QPen(QColor(tone), width + extra, c=Qt.PenCapStyle.RoundCap))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        _paint_shape(painter, shape, points)
    if words:
        _paint_words(painter, points[-1], words)


def _paint_shape(painter: QPainter, shape: MarkShape, points: list[QPointF]) -> None:
    if shape is MarkShape.WORDS:
        painter.drawPoint(points[0])
        return
    first, second = points[0], points[1]
    reach = math.hypot(second.x() - first.x(), second.y() - first.y())
    if shape is MarkShape.RING:
        painter.drawEllipse(first, reach, reach)
        return
    painter.drawLine(first, second)
    turn = math.atan2(second.y() - first.y(), second.x() - first.x())
    if shape is MarkShape.ARROW:
        barbs = [_beside(second, turn + math.pi + side, 12) for side in (-0.45, 0.45)]
        painter.drawPolyline(QPolygonF([barbs[0], second, barbs[1]]))
        return
    for end in (first, second):
        painter.drawLine(_beside(end, turn + math.pi / 2, 7), _beside(end, turn - math.pi / 2, 7))


def _beside(point: QPointF, turn: float, reach: float) -> QPointF:
    return QPointF(point.x() + reach * math.cos(turn), point.y() + reach * math.sin(turn))


def _paint_words(painter: QPainter, at: QPointF, words: str) -> None:
    metrics = painter.fontMetrics()
    room = QRectF(
        at.x() + 10, at.y() + 6, metrics.horizontalAdvance(words) + 8, metrics.height() + 2
    )
    painter.fillRect(room, QColor(_EDGE))
    painter.setPen(QColor(_SIGN))
    painter.drawText(room, int(Qt.AlignmentFlag.AlignCenter), words)
