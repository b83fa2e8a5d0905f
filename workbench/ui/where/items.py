"""What lies on the plan: the picture, the outlined areas, and the spots where was tested.

The scene is in metres with y running down, so a height above the plan's x axis is negative.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
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


Place = tuple[float, float]
"""Where something is in the scene."""


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
        named_in: Room of its name in the scene, as it was last painted.
    """

    def __init__(self, area: PlacedArea) -> None:
        """Outline `area`."""
        super().__init__()
        self.area = area
        self.lit = False
        self.faded = False
        self._path = _outline_path(area)
        self.named_in = QRectF()
        self._name_for: tuple[float, float, float] | None = None
        self._within: tuple[QRectF, ...] = ()
        self._spots: Sequence[Place] = ()
        self._named_before: tuple[AreaItem, ...] = ()
        self.setToolTip(f"{area.name}: {area.condition}")

    def keep_name_clear(
        self,
        smaller: Sequence["AreaItem"],
        spots: Sequence[Place] = (),
        named_before: Sequence["AreaItem"] = (),
    ) -> None:
        """Keep the name off `smaller` areas, off `spots` of the scene, and off others' names."""
        self._within = tuple(one.boundingRect() for one in smaller)
        self._spots = spots
        self._named_before = tuple(named_before)
        self._name_for = None

    def name_room(
        self, half_width: float, half_height: float, marker: float, seen: QRectF
    ) -> QRectF:
        """Return the room of the name in the scene, where least covers it.

        Args:
            half_width: Half the width of the name, in metres at the present scale.
            half_height: Half its height.
            marker: Half the width of the marker of a spot.
            seen: The part of the scene that is seen.
        """
        if self._name_for != (half_width, half_height, marker):
            self._name_for = (half_width, half_height, marker)
            names = [one.named_in for one in self._named_before]
            reach = self._path.boundingRect().adjusted(
                -2 * half_width, -4 * half_height, 2 * half_width, 4 * half_height
            )
            left, right, top, bottom = reach.left(), reach.right(), reach.top(), reach.bottom()
            near = [
                at for at in self._spots if left < at[0] < right and top < at[1] < bottom
            ]  # fmt: skip
            crowd = Crowd(near, half_width + marker, half_height + marker)
            at = _place_of_name(
                self._path, self._within, lambda at: _around(at, half_width, half_height),
                crowd, names, seen,
            )  # fmt: skip
            self.named_in = _around(at, half_width, half_height)
        return self.named_in

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
        seen = world.inverted()[0].mapRect(QRectF(widget.rect()))
        half = (width / 2 + 1.25 * unit) / across
        room = self.name_room(half, unit / up, unit / across, seen)
        at = world.map(room.center())
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


def _around(at: QPointF, half_width: float, half_height: float) -> QRectF:
    return QRectF(at.x() - half_width, at.y() - half_height, 2 * half_width, 2 * half_height)


@dataclass(frozen=True, slots=True)
class Crowd:
    """The spots that a name should not cover.

    Attributes:
        spots: Where they are in the scene.
        half_width: How far to the side of one the middle of a name covers it.
        half_height: How far above or below.
    """

    spots: Sequence[Place]
    half_width: float
    half_height: float

    @property
    def is_dense(self) -> bool:
        """Whether there are so many that no place for a name is clearer than another."""
        return len(self.spots) > _MOST_SPOTS

    def under(self, at: QPointF) -> int:
        """Return how many a name covers whose middle is `at`."""
        x, y, wide, high = at.x(), at.y(), self.half_width, self.half_height
        return sum(abs(one[0] - x) < wide and abs(one[1] - y) < high for one in self.spots)


def _place_of_name(
    path: QPainterPath,
    within: Sequence[QRectF],
    room_at: Callable[[QPointF], QRectF],
    crowd: Crowd,
    names: Sequence[QRectF],
    seen: QRectF,
) -> QPointF:
    """Return where the name of an area stands: the first of the places where least covers it.

    First near the upper left inside the outline, then anywhere in it; the name of an area that is
    hardly higher than its name may stand over or under it.

    Args:
        path: The outline.
        within: Smaller areas inside it, whose names stand there.
        room_at: Gives the room of the name at a point.
        crowd: The spots that it would cover.
        names: Rooms of names that stand already.
        seen: The part of the scene that is seen.
    """
    whole = path.boundingRect()
    gap = 0.1 * whole.width()
    grown = (one.adjusted(-gap, -gap, gap, gap) for one in within)
    shut = [one for one in grown if one.intersects(whole)]
    across = [whole.left() + part * whole.width() for part in _ALONG]
    down = [whole.top() + part * whole.height() for part in _ALONG]
    points = [at for y in down for x in across if path.contains(at := QPointF(x, y))]
    clear = [at for at in points if not any(one.contains(at) for one in shut)]
    if clear and crowd.is_dense:
        return clear[0]
    high = room_at(whole.center()).height()
    ends = (whole.top() - high, whole.bottom() + high) if whole.height() < _LOW * high else ()
    beyond = [
        at for y in ends for x in across if seen.contains(room_at(at := QPointF(x, y)))
    ]  # fmt: skip
    best, least = whole.center(), math.inf
    for places, rank in ((clear, 0.0), (points, _INSIDE_ANOTHER), (beyond, _BEYOND)):
        for at in places if rank < least else ():
            room = room_at(at)
            covered = _SPOT_COVERS * crowd.under(at)
            covered += _NAME_COVERS * sum(room.intersects(one) for one in names)
            if covered + rank < least:
                best, least = at, covered + rank
    return best


_ALONG = tuple(0.12 + 0.76 * part / 12 for part in range(13))
_LOW = 2.0
"""Heights of its name under which an area is low."""
_INSIDE_ANOTHER, _BEYOND = 0.4, 0.6
_MOST_SPOTS = 100
"""Spots near a name up to which a place clear of them is sought."""
_SPOT_COVERS, _NAME_COVERS = 1.0, 3.0
"""How much it weighs that a name stands in another area, beyond its own, or is covered."""
