"""The scale bar of the plan: a round length, in metres or feet."""

import math

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QColor, QPainter, QPen
from PySide6.QtWidgets import QGraphicsView

from workbench.trade.showing import System
from workbench.trade.units import convert
from workbench.ui.theme import quiet, scheme_of, step

_SHARE = 0.28
"""Part of the view's width that the bar may take."""


def round_length(most: float) -> float:
    """Return the longest of 1, 2, 5, 10, 20, … that is not above `most`."""
    power = 10.0 ** math.floor(math.log10(most))
    return next(n * power for n in (5, 2, 1) if n * power <= most * (1 + 1e-9))


def paint_scale(
    painter: QPainter, view: QGraphicsView, pixels_per_metre: float, system: System
) -> None:
    """Paint the bar at the lower left of `view`.

    Args:
        painter: Of the viewport, in pixels.
        view: The plan.
        pixels_per_metre: How large a metre is shown.
        system: Whose unit to use; metres unless it is the US system.
    """
    feet = system is System.US
    unit = "ft" if feet else "m"
    pixels_per_unit = pixels_per_metre * (convert(1, "ft", "m") if feet else 1)
    if pixels_per_unit <= 0:
        return
    length = round_length(view.viewport().width() * _SHARE / pixels_per_unit)
    width, grid = length * pixels_per_unit, step(view)
    scheme = scheme_of(view)
    painter.setFont(quiet(view.font()))
    text = f"{length:g} {unit}"
    height = painter.fontMetrics().height()
    left, bottom = grid, view.viewport().height() - grid
    ground = QColor(scheme.paper)
    ground.setAlphaF(0.85)
    painter.fillRect(
        QRectF(left - grid / 2, bottom - height - grid, width + grid, height + 1.5 * grid), ground
    )
    painter.setPen(QPen(QColor(scheme.ink), 1.5))
    painter.drawLine(QPointF(left, bottom), QPointF(left + width, bottom))
    for x in (left, left + width):
        painter.drawLine(QPointF(x, bottom - grid / 2), QPointF(x, bottom))
    painter.drawText(QPointF(left + grid / 2, bottom - grid / 2), text)
