"""What lies on the plan: the picture, the outlined areas, and the spots where was tested.

The scene is in metres with y running down, so a height above the plan's x axis is negative.
"""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import (
    QColor,
    QFont,
    QPainter,
    QPainterPath,
    QPen,
    QPixmap,
    QPolygonF,
    QTransform,
)
from PySide6.QtWidgets import (
    QGraphicsItem,
    QGraphicsPixmapItem,
    QStyleOptionGraphicsItem,
    QWidget,
)

from workbench.desk.questions.site import PlacedArea, Sheet, Spot
from workbench.figures.palette import plane_marker
from workbench.ui.marks import (
    condition_hatch,
    condition_tone,
    magnitude_tone,
    marker_path,
    paint_condition,
)
from workbench.ui.theme import is_dark, quiet, scheme_of, step

if TYPE_CHECKING:
    from workbench.records import Plane

_FADED = 0.25
_TONES = 48
"""Steps of the scale of tones; finer ones cannot be told apart."""


def scene_point(x: float, y: float) -> QPointF:
    """Return where a point of the plan lies in the scene."""
    return QPointF(x, -y)


def sheet_transform(sheet: Sheet) -> QTransform:
    """Return how the pixels of a picture lie in the scene."""
    transform = QTransform()
    transform.scale(sheet.scale.metres_per_px, sheet.scale.metres_per_px)
    transform.translate(-sheet.scale.x0_px, -sheet.scale.y0_px)
    return transform


class SheetItem(QGraphicsPixmapItem):
    """The picture beneath the plan."""

    def __init__(self, picture: QPixmap, sheet: Sheet) -> None:
        """Lay `picture` under the plan as `sheet` says."""
        super().__init__(picture)
        self.setTransform(sheet_transform(sheet))
        self.setTransformationMode(Qt.TransformationMode.SmoothTransformation)
        self.setZValue(-1)


class AreaItem(QGraphicsItem):
    """The outline of one area in the tone, hatch and marker of its condition.

    Attributes:
        area: What is drawn.
        lit: Whether lit records lie in it.
        faded: Whether it is not looked at while others are.
    """

    def __init__(self, area: PlacedArea) -> None:
        """Outline `area`."""
        super().__init__()
        self.area = area
        self.lit = False
        self.faded = False
        self._path = _outline_path(area)
        self._name = QPointF()
        self._name_for: tuple[float, float] | None = None
        self._others: tuple[QRectF, ...] = ()
        self._spots: tuple[QPointF, ...] = ()
        self.setToolTip(f"{area.name}: {area.condition}")

    def keep_name_clear(self, others: Sequence["AreaItem"], spots: Sequence[Spot] = ()) -> None:
        """Put the name where it does not lie over the smaller areas `others`, nor under `spots`."""
        self._others = tuple(one.boundingRect() for one in others)
        self._spots = tuple(scene_point(one.x, one.y) for one in spots)
        self._name_for = None

    def name_at(self, half_width: float, half_height: float) -> QPointF:
        """Return the middle of the name, in the scene, where no spot covers it.

        Args:
            half_width: Half the room of the name and of the marker of a spot, in metres.
            half_height: The same, upwards.
        """
        if self._name_for != (half_width, half_height):
            self._name_for = (half_width, half_height)
            near = [
                QRectF(at.x() - half_width, at.y() - half_height, 2 * half_width, 2 * half_height)
                for at in self._spots
            ]
            self._name = _inner_point(self._path, self._others, near, half_height)
        return self._name

    def boundingRect(self) -> QRectF:
        """Return the room of the outline."""
        return self._path.boundingRect().adjusted(-0.5, -0.5, 0.5, 0.5)

    def shape(self) -> QPainterPath:
        """Return the outline, for clicks."""
        return self._path

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionGraphicsItem,  # noqa: ARG002 - Qt's own signature
        widget: QWidget | None = None,
    ) -> None:
        """Paint the outline, its hatch, and its name with the marker of its condition."""
        if widget is None:
            return
        dark = is_dark(widget)
        tone = condition_tone(self.area.condition, dark=dark)
        fill, hatch = QColor(tone), condition_hatch(self.area.condition, dark=dark)
        fill.setAlphaF(0.10)
        unscaled = painter.worldTransform().inverted()[0]
        hatch.setTransform(unscaled)
        painter.setOpacity(_FADED if self.faded else 1.0)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(fill)
        painter.drawPath(self._path)
        painter.setOpacity((_FADED if self.faded else 1.0) * 0.35)
        painter.setBrush(hatch)
        painter.drawPath(self._path)
        painter.setOpacity(_FADED * 2 if self.faded else 1.0)
        pen = QPen(QColor(scheme_of(widget).accent) if self.lit else tone, 3 if self.lit else 1.25)
        pen.setCosmetic(True)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(pen)
        painter.drawPath(self._path)
        self._paint_name(painter, widget)

    def _paint_name(self, painter: QPainter, widget: QWidget) -> None:
        font = QFont(quiet(widget.font()))
        font.setWeight(QFont.Weight.DemiBold)
        world = painter.worldTransform()
        painter.save()
        painter.resetTransform()
        painter.setFont(font)
        unit = step(widget)
        width = painter.fontMetrics().horizontalAdvance(self.area.ref)
        across, up = abs(world.m11()) or 1.0, abs(world.m22()) or 1.0
        at = world.map(self.name_at((width / 2 + 2.25 * unit) / across, 2 * unit / up))
        room = QRectF(at.x() - width / 2 - unit, at.y() - unit, width + 2.25 * unit, 2 * unit)
        ground = QColor(scheme_of(widget).paper)
        ground.setAlphaF(0.85)
        painter.fillRect(room, ground)
        marker = QPointF(room.left() + 0.75 * unit, at.y())
        paint_condition(painter, marker, unit, self.area.condition, dark=is_dark(widget))
        painter.setPen(QColor(scheme_of(widget).ink))
        words = room.adjusted(1.5 * unit, 0, 0, 0)
        painter.drawText(words, int(Qt.AlignmentFlag.AlignVCenter), self.area.ref)
        painter.restore()


class SpotsItem(QGraphicsItem):
    """All spots in one item: the tone says how strong, the marker in which plane it broke.

    Attributes:
        shown: Refs of the spots that are looked at; None for all.
        lit: Refs of the spots that lit records lie at.
        pointed: Ref of the spot under the keyboard's cursor.
    """

    def __init__(self, spots: Sequence[Spot], strongest_mpa: float) -> None:
        """Draw `spots` on a scale that ends at `strongest_mpa`."""
        super().__init__()
        self.spots = tuple(spots)
        self.shown: frozenset[str] | None = None
        self.lit: frozenset[str] = frozenset()
        self.pointed = ""
        self._top = strongest_mpa or 1.0
        self._room = _room_of(self.spots)
        self._drawn_for = (False, 0)
        self._stamps: dict[tuple[Plane | None, int], QPixmap] = {}
        self.setZValue(1)

    def boundingRect(self) -> QRectF:
        """Return the room of all spots."""
        return self._room

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionGraphicsItem,  # noqa: ARG002 - Qt's own signature
        widget: QWidget | None = None,
    ) -> None:
        """Paint the spots, those looked at above the others."""
        if widget is None:
            return
        world = painter.worldTransform()
        painter.save()
        painter.resetTransform()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        unit = step(widget)
        if self._drawn_for != (look := (is_dark(widget), unit)):
            self._stamps.clear()
            self._drawn_for = look
        for spot in sorted(self.spots, key=self._is_shown):
            at = world.map(scene_point(spot.x, spot.y))
            painter.setOpacity(1.0 if self._is_shown(spot) else _FADED)
            if spot.ref in self.lit or spot.ref == self.pointed:
                painter.setPen(QPen(QColor(scheme_of(widget).accent), 2))
                painter.setBrush(QColor(scheme_of(widget).paper))
                painter.drawEllipse(at, unit * 1.1, unit * 1.1)
            painter.drawPixmap(at - QPointF(unit, unit), self._stamp_of(spot, widget))
        painter.restore()

    def _is_shown(self, spot: Spot) -> bool:
        return self.shown is None or spot.ref in self.shown

    def _stamp_of(self, spot: Spot, widget: QWidget) -> QPixmap:
        """Return the picture of a spot, two steps wide; thousands of spots share few of them."""
        tone = -1 if spot.mpa is None else round(spot.mpa / self._top * _TONES)
        key = (spot.plane, tone)
        if key not in self._stamps:
            self._stamps[key] = _stamp(plane_marker(spot.plane) if spot.plane else "", tone, widget)
        return self._stamps[key]


def _stamp(marker: str, tone: int, widget: QWidget) -> QPixmap:
    """Return a marker filled with one of the tones; a small open ring without a marker."""
    unit, ratio, scheme = step(widget), widget.devicePixelRatioF(), scheme_of(widget)
    side = 2 * unit
    picture = QPixmap(round(side * ratio), round(side * ratio))
    picture.setDevicePixelRatio(ratio)
    picture.fill(Qt.GlobalColor.transparent)
    painter = QPainter(picture)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.translate(side / 2, side / 2)
    painter.setPen(QPen(QColor(scheme.ink), 1))
    painter.setBrush(magnitude_tone(tone / _TONES) if tone >= 0 else QColor(scheme.paper))
    size = unit * 1.1 if marker else unit * 0.5
    painter.drawPath(marker_path(marker or "o", size))
    painter.end()
    return picture


def _room_of(spots: Sequence[Spot]) -> QRectF:
    if not spots:
        return QRectF()
    points = QPolygonF([scene_point(spot.x, spot.y) for spot in spots])
    return points.boundingRect().adjusted(-2, -2, 2, 2)


def _outline_path(area: PlacedArea) -> QPainterPath:
    path = QPainterPath()
    path.setFillRule(Qt.FillRule.OddEvenFill)
    for ring in area.outline.rings:
        path.addPolygon(QPolygonF([scene_point(x, y) for x, y in ring]))
        path.closeSubpath()
    return path


def _inner_point(
    path: QPainterPath, taken: Sequence[QRectF], covered: Sequence[QRectF], below: float
) -> QPointF:
    """Return a point inside the outline near its upper left, where a name stands well.

    Where spots cover all of a small area its name stands under it.

    Args:
        path: The outline.
        taken: Rooms that the name keeps away from, where it can.
        covered: Rooms in which a spot would cover it.
        below: How far under the outline a name stands clear of it.
    """
    room = path.boundingRect()
    gap = 0.1 * room.width()
    shut = [one.adjusted(-gap, -gap, gap, gap) for one in taken]
    inside = [
        point for down in _DOWN for along in _ALONG
        if path.contains(
            point := QPointF(
                room.left() + along * room.width(), room.top() + down * room.height()
            )
        )
    ]  # fmt: skip
    clear = [one for one in inside if not any(other.contains(one) for other in shut)]
    under = [QPointF(room.left() + along * room.width(), room.bottom() + below) for along in _ALONG]
    for one in (*clear, *inside, *under):
        if not any(other.contains(one) for other in covered):
            return one
    return next(iter((*clear, *inside)), room.center())


_DOWN = (0.12, 0.3, 0.5, 0.7, 0.88)
_ALONG = (0.12, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.88)
