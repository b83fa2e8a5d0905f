"""The scale of a rating: a small drawing and a few words for each step; a click gives it."""

import math
import random

from PySide6.QtCore import QPointF, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from workbench.trade.methods import Method
from workbench.ui.theme import scheme_of, step

_ROW = 5.5
_OFF = {  # middle of the share that the lattice scales give for each step from the best
    0: 0.0, 1: 0.03, 2: 0.1, 3: 0.25, 4: 0.5, 5: 0.8,
}  # fmt: skip


class ScaleSketch(QWidget):
    """Draws the steps of a method, the best first.

    Attributes:
        chosen: The person chose this step.
    """

    chosen = Signal(float)

    def __init__(self, parent: QWidget | None = None) -> None:
        """Show no scale."""
        super().__init__(parent)
        self._method: Method | None = None
        self._steps: tuple[tuple[float, str], ...] = ()
        self._value: float | None = None
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName("Scale of the rating")

    def show_method(self, method: Method | None) -> None:
        """Show the scale of a method, or nothing."""
        self._method = method
        scale = method.scale if method else None
        steps = scale.steps if scale else ()
        rising = bool(scale and scale.best > scale.worst)
        self._steps = tuple(sorted(steps, key=lambda one: -one[0] if rising else one[0]))
        self.setAccessibleDescription("; ".join(f"{value:g}: {words}" for value, words in steps))
        self.updateGeometry()
        self.update()

    def show_value(self, value: float | None) -> None:
        """Mark the step that was given."""
        self._value = value
        self.update()

    def sizeHint(self) -> QSize:
        """Return room for every step."""
        return QSize(step(self, 34), step(self, _ROW * max(1, len(self._steps))))

    def minimumSizeHint(self) -> QSize:
        """Return the same height."""
        return QSize(step(self, 24), self.sizeHint().height())

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Give the step that was clicked."""
        row = int(event.position().y() // step(self, _ROW))
        if 0 <= row < len(self._steps):
            self.chosen.emit(self._steps[row][0])

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Give another step with up and down."""
        values = [value for value, _ in self._steps]
        if event.key() in (Qt.Key.Key_Up, Qt.Key.Key_Down) and values:
            by = 1 if event.key() == Qt.Key.Key_Down else -1
            at = values.index(self._value) + by if self._value in values else 0
            self.chosen.emit(values[min(max(at, 0), len(values) - 1)])
        else:
            super().keyPressEvent(event)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the steps."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for row, (value, words) in enumerate(self._steps):
            self._paint_step(painter, row, value, words)
        painter.end()

    def _paint_step(self, painter: QPainter, row: int, value: float, words: str) -> None:
        scheme, unit = scheme_of(self), step(self)
        room = QRect(0, row * step(self, _ROW), self.width(), step(self, _ROW))
        if value == self._value:
            painter.fillRect(room, QColor(scheme.wash))
            painter.fillRect(room.left(), room.top(), unit // 2, room.height(), scheme.accent)
        tile = QRectF(room.left() + unit, room.top() + unit / 4, 5 * unit, 5 * unit)
        self._paint_tile(painter, tile, row)
        flags = int(Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft)
        font = self.font()
        font.setBold(True)
        painter.setFont(font)
        painter.setPen(QColor(scheme.ink))
        painter.drawText(room.adjusted(7 * unit, 0, 0, 0), flags, f"{value:g}")
        painter.setFont(self.font())
        wrap = flags | int(Qt.TextFlag.TextWordWrap)
        painter.drawText(room.adjusted(10 * unit, 0, -unit, 0), wrap, words)

    def _paint_tile(self, painter: QPainter, tile: QRectF, row: int) -> None:
        """Paint a film as it looks at a step: the further from the best, the more is gone."""
        if self._method is None:
            return
        scheme = scheme_of(self)
        share = row / max(1, len(self._steps) - 1)
        painter.fillRect(tile, QColor(scheme.accent))
        gone, cut = QColor(scheme.band), QPen(QColor(scheme.ink), 1)
        number, family = self._method.number, self._method.family
        if family == "tape" and number != "ASTM D3359 A":
            _lattice(painter, tile, _OFF.get(row, share), gone, cut)
        elif family in {"tape", "knife"}:
            _cross(painter, tile, share, gone, cut)
        else:
            _specks(painter, tile, share, gone)
        painter.setPen(QColor(scheme.rule))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(tile)


def _lattice(painter: QPainter, tile: QRectF, share: float, gone: QColor, cut: QPen) -> None:
    """Paint a lattice of cuts with that share of its squares gone."""
    cells, side = 6, tile.width() / 6
    order = list(range(cells * cells))
    random.Random(2409).shuffle(order)  # noqa: S311 - the same picture each time
    whole = round(share * cells * cells)
    for at in order[:whole] or ([] if share == 0 else order[:1]):
        x, y = at % cells, at // cells
        painter.fillRect(QRectF(tile.left() + x * side, tile.top() + y * side, side, side), gone)
    painter.setPen(cut)
    for at in range(1, cells):
        across, down = tile.left() + at * side, tile.top() + at * side
        painter.drawLine(QPointF(across, tile.top()), QPointF(across, tile.bottom()))
        painter.drawLine(QPointF(tile.left(), down), QPointF(tile.right(), down))


def _cross(painter: QPainter, tile: QRectF, share: float, gone: QColor, cut: QPen) -> None:
    """Paint two crossing cuts with the film lifted beside them."""
    painter.save()
    painter.setClipRect(tile)
    centre, reach = tile.center(), tile.width()
    for turn in (math.pi / 3, -math.pi / 3):
        along = QPointF(math.cos(turn) * reach, math.sin(turn) * reach)
        if share > 0:
            painter.setPen(QPen(gone, share * tile.width() * 0.55, c=Qt.PenCapStyle.FlatCap))
            painter.drawLine(centre - along, centre + along)
    if share >= 1:
        painter.fillRect(tile, gone)
    painter.setPen(cut)
    for turn in (math.pi / 3, -math.pi / 3):
        along = QPointF(math.cos(turn) * reach, math.sin(turn) * reach)
        painter.drawLine(centre - along, centre + along)
    painter.restore()


def _specks(painter: QPainter, tile: QRectF, share: float, gone: QColor) -> None:
    """Paint specks, the more of them the worse it is."""
    chance = random.Random(610)  # noqa: S311 - the same picture each time
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(gone)
    for _ in range(round(share * share * 90)):
        size = 1.5 + chance.random() * tile.width() * 0.07
        x = tile.left() + chance.random() * (tile.width() - size)
        y = tile.top() + chance.random() * (tile.height() - size)
        painter.drawEllipse(QRectF(x, y, size, size))
