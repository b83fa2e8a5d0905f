"""The markers and hatches of conditions and planes, painted by Qt as the figures draw them."""

import math

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPainterPath, QPolygonF

from workbench.figures.palette import DARK, LIGHT, SHAPES, Scheme
from workbench.records.codes import Condition

_PATTERNS = {
    "////": Qt.BrushStyle.BDiagPattern, "": Qt.BrushStyle.NoBrush,
    "....": Qt.BrushStyle.Dense6Pattern, "xxxx": Qt.BrushStyle.DiagCrossPattern,
    "---": Qt.BrushStyle.HorPattern,
}  # fmt: skip
_CORNERS = {
    "s": (4, 45), "D": (4, 0), "d": (4, 0), "^": (3, 90), "v": (3, 270), "<": (3, 180),
    ">": (3, 0), "p": (5, 90), "h": (6, 90), "H": (6, 0), "8": (8, 22.5),
}  # fmt: skip
_VIRIDIS = (
    "#440154", "#48186a", "#472d7b", "#424086", "#3b528b", "#33638d", "#2c728e", "#26828e",
    "#21918c", "#1fa088", "#28ae80", "#3fbc73", "#5ec962", "#84d44b", "#addc30", "#d8e219",
    "#fde725",
)  # fmt: skip


def condition_tone(condition: Condition, *, dark: bool) -> QColor:
    """Return the colour of a condition on light or dark paper."""
    return QColor(_scheme(dark).conditions[condition])


def condition_hatch(condition: Condition, *, dark: bool) -> QBrush:
    """Return the hatch of a condition in its colour; no brush where it has none."""
    return QBrush(condition_tone(condition, dark=dark), _PATTERNS[SHAPES[condition][1]])


def condition_marker(condition: Condition) -> str:
    """Return the marker of a condition, as figures name it."""
    return SHAPES[condition][0]


def marker_path(marker: str, size: float) -> QPainterPath:
    """Return the outline of a marker round the origin, `size` across.

    Args:
        marker: As figures name it.
        size: Width of the whole in pixels.
    """
    path = QPainterPath()
    half = size / 2
    if marker in _CORNERS:
        corners, turn = _CORNERS[marker]
        path.addPolygon(_polygon(corners, turn, half * (1.2 if corners == 3 else 1.1)))
        path.closeSubpath()
    elif marker == "*":
        path.addPolygon(_star(half * 1.2))
        path.closeSubpath()
    elif marker in {"X", "P"}:
        path.addPolygon(_cross(half, 45 if marker == "X" else 0))
        path.closeSubpath()
    else:
        path.addEllipse(QRectF(-half, -half, size, size))
    return path


def paint_condition(
    painter: QPainter, centre: QPointF, size: float, condition: Condition, *, dark: bool
) -> None:
    """Paint the marker of a condition."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(condition_tone(condition, dark=dark))
    painter.translate(centre)
    painter.drawPath(marker_path(condition_marker(condition), size))
    painter.restore()


def magnitude_tone(share: float) -> QColor:
    """Return the colour of a magnitude, 0 the smallest and 1 the largest, as figures have it."""
    at = min(max(share, 0.0), 1.0) * (len(_VIRIDIS) - 1)
    first = min(int(at), len(_VIRIDIS) - 2)
    low, high, rest = QColor(_VIRIDIS[first]), QColor(_VIRIDIS[first + 1]), at - first
    mixed = (
        a * (1 - rest) + b * rest
        for a, b in (
            (low.redF(), high.redF()), (low.greenF(), high.greenF()), (low.blueF(), high.blueF())
        )
    )  # fmt: skip
    return QColor.fromRgbF(*mixed)


def _scheme(dark: bool) -> Scheme:
    return DARK if dark else LIGHT


def _polygon(corners: int, turn: float, radius: float) -> QPolygonF:
    angles = (math.radians(turn + 360 * at / corners) for at in range(corners))
    return QPolygonF([QPointF(radius * math.cos(a), -radius * math.sin(a)) for a in angles])


def _star(radius: float) -> QPolygonF:
    points = []
    for at in range(10):
        angle, reach = math.radians(90 + 36 * at), radius * (1 if at % 2 == 0 else 0.45)
        points.append(QPointF(reach * math.cos(angle), -reach * math.sin(angle)))
    return QPolygonF(points)


def _cross(half: float, turn: float) -> QPolygonF:
    arm = half * 0.36
    outline = (
        (-arm, -half), (arm, -half), (arm, -arm), (half, -arm), (half, arm), (arm, arm),
        (arm, half), (-arm, half), (-arm, arm), (-half, arm), (-half, -arm), (-arm, -arm),
    )  # fmt: skip
    cos, sin = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    return QPolygonF([QPointF(x * cos - y * sin, x * sin + y * cos) for x, y in outline])
