"""The plan itself: zoomed and moved with mouse and keys, chosen from with both."""

import math

from PySide6.QtCore import QEvent, QPoint, QRect, QRectF, QSize, QSizeF, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPen,
    QPixmap,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QGraphicsScene, QGraphicsView, QWidget

from workbench.desk.questions.site import Site, Spot
from workbench.trade.showing import System
from workbench.ui.parts import EscapeFirst
from workbench.ui.theme import scheme_of, step
from workbench.ui.where.drawing import ARROWS, Drawing
from workbench.ui.where.items import AreaItem, SheetItem, SpotsItem, scene_point
from workbench.ui.where.scale import paint_scale

_ZOOM = 1.25
_REACH = 1.25
"""How far beside a spot a click still means it, in steps of the grid."""
_EMPTY_M = QRectF(0, -15, 20, 15)
"""The ground that is shown where nothing is placed yet, in metres of the scene."""


class PlanView(QGraphicsView):
    """Shows one level of the site.

    Attributes:
        chosen: The person chose these places; the second value says "besides those chosen".
        drawn: What was asked for is drawn: a tuple of points in metres.
        hovered: The pointer or the cursor is over this place; "" for none.
        crossed: The cross of what is being drawn moved, or a point was set; in words.
        left: Drawing was left.
    """

    chosen = Signal(object, bool)
    hovered = Signal(str)
    drawn = Signal(tuple)
    crossed = Signal(str)
    left = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        """Make the view of an empty site."""
        super().__init__(parent)
        self.setScene(QGraphicsScene(self))
        self.setAccessibleName("Where: plan of the site")
        self.setFrameShape(QGraphicsView.Shape.NoFrame)
        self.setMinimumSize(step(self, 16), step(self, 11))
        self.setRenderHint(QPainter.RenderHint.Antialiasing)
        self.setViewportUpdateMode(QGraphicsView.ViewportUpdateMode.FullViewportUpdate)
        self.setTransformationAnchor(QGraphicsView.ViewportAnchor.AnchorUnderMouse)
        for set_policy in (self.setHorizontalScrollBarPolicy, self.setVerticalScrollBarPolicy):
            set_policy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.system = System.SI
        self._site = Site()
        self._areas: list[AreaItem] = []
        self._spots = SpotsItem((), 0)
        self._fitted = True
        self._pressed: QPoint | None = None
        self._moving = False
        self._drawing = Drawing()
        self._planned: tuple[tuple[float, float], ...] = ()
        self._cursor = ""
        self.setMouseTracking(True)
        EscapeFirst(self, lambda: bool(self._drawing.what))

    @property
    def site(self) -> Site:
        """The level shown."""
        return self._site

    @property
    def lit(self) -> frozenset[str]:
        """Refs of the places that lit records lie at."""
        return self._spots.lit

    def minimumSizeHint(self) -> QSize:
        """Leave room for a plan that can be read."""
        return QSize(step(self, 26), step(self, 12))

    def show_site(self, site: Site, picture: QPixmap | None) -> None:
        """Show a level of the site over its picture."""
        same_ground = site.sheet == self._site.sheet and bool(self._areas)
        self._site = site
        scene = self.scene()
        scene.clear()
        if picture is not None and site.sheet:
            scene.addItem(SheetItem(picture, site.sheet))
        self._areas = [AreaItem(area) for area in site.areas]
        points = (scene_point(one.x, one.y) for one in site.spots)
        spots = [(point.x(), point.y()) for point in points]
        for at, area in enumerate(self._areas):
            area.keep_name_clear(self._areas[at + 1 :], spots, self._areas[:at])
        self._spots = SpotsItem(site.spots, site.strongest_mpa)
        for item in (*self._areas, self._spots):
            scene.addItem(item)
        scene.setSceneRect(scene.itemsBoundingRect().united(self._content()))
        if not same_ground or self._fitted:
            self.fit()

    def mark(self, shown: frozenset[str], lit: frozenset[str]) -> None:
        """Mark the places looked at and those of lit records; no `shown` places means all."""
        for item in self._areas:
            item.faded = bool(shown) and item.area.ref not in shown
            item.lit = item.area.ref in lit
        self._spots.shown = shown or None
        self._spots.lit = lit
        self.viewport().update()

    def show_planned(self, points: tuple[tuple[float, float], ...]) -> None:
        """Mark places that are only planned, in metres, with crosses."""
        self._planned = points
        self.viewport().update()

    def draw(self, what: str) -> None:
        """Ask for "point", "line" or "outline"; "" asks for nothing any more."""
        middle = self.mapToScene(self.viewport().rect().center())
        self._drawing = Drawing(what, (middle.x(), -middle.y()))
        self.setCursor(Qt.CursorShape.CrossCursor if what else Qt.CursorShape.ArrowCursor)
        self.viewport().update()

    def set_point(self, x: float, y: float) -> None:
        """Set the next point of what is being drawn, in metres."""
        if self._drawing.what:
            self._drawing.set_point(x, y)
            self._show_drawing()
            if self._drawing.done:
                self.finish()

    def finish(self) -> None:
        """Give what is drawn; as long as it has too few points, say so."""
        if not self._drawing.enough:
            self.crossed.emit(f"{self._drawing.words}: an outline needs three corners")
            return
        points = tuple(self._drawing.points)
        self.draw("")
        self.drawn.emit(points)

    def fit(self) -> None:
        """Show the whole level."""
        self._fitted = True
        room = self._content()
        if not room.isEmpty():
            self.fitInView(room, Qt.AspectRatioMode.KeepAspectRatio)

    def zoom(self, factor: float) -> None:
        """Come closer by `factor`, or go away where it is below 1."""
        self._fitted = False
        self.scale(factor, factor)

    def spot_at(self, point: QPoint) -> Spot | None:
        """Return the spot that a click at `point` means, or None."""
        reach = _REACH * step(self)
        near = [(self._distance(spot, point), spot) for spot in self._site.spots]
        distance, spot = min(near, key=lambda pair: pair[0], default=(math.inf, None))
        return spot if distance <= reach else None

    def place_at(self, point: QPoint) -> str:
        """Return the ref of the spot, or of the smallest area, under `point`; "" for neither."""
        if spot := self.spot_at(point):
            return spot.ref
        return self.area_at(point)

    def area_at(self, point: QPoint) -> str:
        """Return the ref of the smallest area under `point`; "" for none."""
        at = self.mapToScene(point)
        under = [item.area for item in self._areas if item.shape().contains(at)]
        return under[-1].ref if under else ""

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Zoom at the pointer."""
        self.zoom(_ZOOM ** (event.angleDelta().y() / 120))
        event.accept()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the whole level in sight unless the person moved."""
        super().resizeEvent(event)
        if self._fitted:
            self.fit()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Remember where a click or a move of the plan begins."""
        self._pressed = event.position().toPoint()
        self.setFocus(Qt.FocusReason.MouseFocusReason)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Move the plan with the button down; else say what lies under the pointer."""
        at = event.position().toPoint()
        if self._drawing.what and not self._moving:
            scene = self.mapToScene(at)
            self._drawing.cross = (scene.x(), -scene.y())
            self._show_drawing()
        if not event.buttons() & Qt.MouseButton.LeftButton or self._pressed is None:
            self.hovered.emit(self.place_at(at))
            return
        moved = at - self._pressed
        if self._moving or moved.manhattanLength() > step(self):
            self._moving = True
            self.setCursor(Qt.CursorShape.ClosedHandCursor)
            self._move_by(moved)
            self._pressed = at

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Choose what was clicked."""
        moved, self._moving = self._moving, False
        self.setCursor(
            Qt.CursorShape.CrossCursor if self._drawing.what else Qt.CursorShape.ArrowCursor
        )
        if event.button() != Qt.MouseButton.LeftButton or moved or self._pressed is None:
            return
        at = event.position().toPoint()
        if self._drawing.what:
            scene = self.mapToScene(at)
            self.set_point(scene.x(), -scene.y())
            return
        place = self.place_at(at)
        add = bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier)
        self.chosen.emit(frozenset({place} if place else ()), add)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Zoom with + − 0, walk over spots and areas with the arrows, choose with space."""
        key = Qt.Key(event.key())
        if self._drawing.what and self._drew(event):
            return
        if key in (Qt.Key.Key_Plus, Qt.Key.Key_Equal):
            self.zoom(_ZOOM)
        elif key == Qt.Key.Key_Minus:
            self.zoom(1 / _ZOOM)
        elif key == Qt.Key.Key_0:
            self.fit()
        elif key in ARROWS:
            self._walk(*ARROWS[key])
        elif key in (Qt.Key.Key_Space, Qt.Key.Key_Return, Qt.Key.Key_Enter) and self._cursor:
            add = bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier)
            self.chosen.emit(frozenset({self._cursor}), add)
        else:
            super().keyPressEvent(event)

    def drawForeground(self, painter: QPainter, rect: QRectF | QRect) -> None:  # noqa: ARG002
        """Draw the scale bar over the plan."""
        painter.save()
        painter.resetTransform()
        paint_scale(painter, self, self.transform().m11(), self.system)
        self._drawing.paint(painter, self)
        self._paint_planned(painter)
        painter.restore()

    def _drew(self, event: QKeyEvent) -> bool:
        """Do what a key means while something is drawn, and return whether it means anything."""
        key, drawing = Qt.Key(event.key()), self._drawing
        if key == Qt.Key.Key_Escape:
            self.draw("")
            self.left.emit()
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and drawing.what == "outline":
            self.finish()
        elif key in (Qt.Key.Key_Space, Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.set_point(*drawing.cross)
        elif key == Qt.Key.Key_Backspace:
            drawing.take_back()
            self._show_drawing()
        elif drawing.move(event, self):
            self.ensureVisible(QRectF(scene_point(*drawing.cross), QSizeF(0.1, 0.1)))
            self._show_drawing()
        else:
            return False
        return True

    def _show_drawing(self) -> None:
        self.crossed.emit(self._drawing.words)
        self.viewport().update()

    def _paint_planned(self, painter: QPainter) -> None:
        reach = step(self, 0.5)
        painter.setPen(QPen(QColor(scheme_of(self).ink), 2))
        for x, y in self._planned:
            at = self.mapFromScene(scene_point(x, y))
            painter.drawLine(at.x() - reach, at.y(), at.x() + reach, at.y())
            painter.drawLine(at.x(), at.y() - reach, at.x(), at.y() + reach)

    def leaveEvent(self, event: QEvent) -> None:
        """Point at nothing."""
        self.hovered.emit("")
        super().leaveEvent(event)

    def _content(self) -> QRectF:
        room = QRectF()
        for item in (*self._areas, self._spots):
            room = room.united(item.sceneBoundingRect())
        for item in self.scene().items() if room.isEmpty() else ():
            room = room.united(item.sceneBoundingRect())
        if room.isEmpty():
            return _EMPTY_M
        margin = 0.02 * max(room.width(), room.height())
        return room.adjusted(-margin, -margin, margin, margin)

    def _distance(self, spot: Spot, point: QPoint) -> float:
        at = self.mapFromScene(scene_point(spot.x, spot.y))
        return math.hypot(at.x() - point.x(), at.y() - point.y())

    def _move_by(self, moved: QPoint) -> None:
        self._fitted = False
        for bar, by in (
            (self.horizontalScrollBar(), moved.x()),
            (self.verticalScrollBar(), moved.y()),
        ):
            bar.setValue(bar.value() - by)

    def _walk(self, along: int, down: int) -> None:
        """Move the cursor to the nearest spot in a direction."""
        here = next((spot for spot in self._site.spots if spot.ref == self._cursor), None)
        if here is None:
            found = self._site.spots[0] if self._site.spots else None
        else:
            found = _next_spot(self._site.spots, here, along, -down)
        if found:
            self._cursor = self._spots.pointed = found.ref
            self.setAccessibleDescription(found.ref)
            self.ensureVisible(QRectF(scene_point(found.x, found.y), QSizeF(0.1, 0.1)))
            self.hovered.emit(found.ref)
            self.viewport().update()


def _next_spot(spots: tuple[Spot, ...], here: Spot, along: int, up: int) -> Spot | None:
    """Return the spot that an arrow key means: near, and more ahead than aside."""
    best, least = None, math.inf
    for spot in spots:
        x, y = spot.x - here.x, spot.y - here.y
        ahead, aside = x * along + y * up, abs(x * up) + abs(y * along)
        if ahead > aside / 2 and ahead > 0 and ahead + 2 * aside < least:
            best, least = spot, ahead + 2 * aside
    return best
