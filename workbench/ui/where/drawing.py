"""What is being drawn on the plan: its points in metres, and the cross that the keys move."""

from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QColor, QKeyEvent, QPainter, QPen, QPolygonF
from PySide6.QtWidgets import QGraphicsView

from workbench.ui.theme import scheme_of, step
from workbench.ui.where.items import scene_point

_ALONE = {"point": 1, "line": 2}
"""Points after which a drawing is done by itself."""
_LEAST = 3
"""Corners of the smallest outline."""
_MODIFIER = Qt.KeyboardModifier
ARROWS = {
    Qt.Key.Key_Left: (-1, 0), Qt.Key.Key_Right: (1, 0), Qt.Key.Key_Up: (0, -1),
    Qt.Key.Key_Down: (0, 1),
}  # fmt: skip


class Drawing:
    """A "point", a "line" or an "outline" while it is drawn.

    Attributes:
        what: Which of them; empty while nothing is drawn.
        points: The points set so far.
        cross: Where the next one is to be set.
    """

    def __init__(self, what: str = "", cross: tuple[float, float] = (0.0, 0.0)) -> None:
        """Begin with the cross at `cross`."""
        self.what = what
        self.points: list[tuple[float, float]] = []
        self.cross = cross

    @property
    def enough(self) -> bool:
        """Whether the points set make what is drawn."""
        return len(self.points) >= _ALONE.get(self.what, _LEAST)

    @property
    def done(self) -> bool:
        """Whether no further point can follow."""
        return self.what in _ALONE and self.enough

    @property
    def words(self) -> str:
        """Where the cross is and how far the drawing has come."""
        x, y = self.cross
        said = f"x {x:.2f} m, y {y:.2f} m"
        return f"{said} · {len(self.points)} set" if self.points else said

    def set_point(self, x: float, y: float) -> None:
        """Set a point, to the centimetre."""
        self.cross = (round(x, 2), round(y, 2))
        self.points.append(self.cross)

    def take_back(self) -> None:
        """Take the last point back."""
        if self.points:
            self.cross = self.points.pop()

    def move(self, event: QKeyEvent, view: QGraphicsView) -> bool:
        """Move the cross with an arrow key and return whether it was one.

        Shift moves it farther, Ctrl by a pixel.
        """
        along, down = ARROWS.get(Qt.Key(event.key()), (0, 0))
        if not (along or down):
            return False
        by = step(view)
        if event.modifiers() & _MODIFIER.ShiftModifier:
            by *= 5
        elif event.modifiers() & _MODIFIER.ControlModifier:
            by = 1
        scale = view.transform().m11() or 1.0
        x, y = self.cross
        self.cross = (x + along * by / scale, y - down * by / scale)
        return True

    def paint(self, painter: QPainter, view: QGraphicsView) -> None:
        """Paint the points and the cross in pixels of the viewport."""
        if not self.what:
            return
        scheme = scheme_of(view)
        places = [view.mapFromScene(scene_point(x, y)) for x, y in self.points]
        cross = view.mapFromScene(scene_point(*self.cross))
        painter.setPen(QPen(QColor(scheme.accent), 2))
        painter.drawPolyline(QPolygonF([*places, cross]))
        for place in places:
            painter.drawEllipse(place, step(view, 0.5), step(view, 0.5))
        reach = step(view)
        for tone, width in ((scheme.paper, 4), (scheme.ink, 1.5)):
            painter.setPen(QPen(QColor(tone), width))
            painter.drawLine(cross - QPoint(reach, 0), cross + QPoint(reach, 0))
            painter.drawLine(cross - QPoint(0, reach), cross + QPoint(0, reach))
