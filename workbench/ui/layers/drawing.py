"""The drawn stack: layers as bands, planes as lines, true to scale or easy to read."""

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPen, QPolygon
from PySide6.QtWidgets import QWidget

from workbench.desk.questions.layers import Stack
from workbench.records import Coat, PlaneKind
from workbench.records.codes import Condition, YesNo
from workbench.trade.showing import in_si
from workbench.ui.marks import condition_tone
from workbench.ui.theme import Scheme, is_dark, scheme_of, step

_SUBSTRATE_SHARE = 0.22
"""Part of the drawn height that the substrate takes when the coats are to scale."""


@dataclass(frozen=True, slots=True)
class Band:
    """One layer as drawn.

    Attributes:
        coat: The layer.
        top: Its upper edge in pixels.
        bottom: Its lower edge in pixels.
    """

    coat: Coat
    top: int
    bottom: int


def bands_to_read(stack: Stack, rows: Sequence[QRect]) -> tuple[Band, ...]:
    """Return the layers so that each plane lies at the middle of its row."""
    edges = {}
    for line, row in zip(stack.lines, rows, strict=True):
        if line.plane.kind is PlaneKind.INTERFACE:
            edges[line.plane.upper] = row.center().y()
    top, bottom = rows[0].center().y(), rows[-1].bottom()
    return tuple(
        Band(coat, edges.get(coat.order + 1, top), edges.get(coat.order, bottom))
        for coat in stack.coats
    )


def bands_to_scale(stack: Stack, top: int, bottom: int) -> tuple[Band, ...]:
    """Return the layers with their nominal thickness in proportion; the substrate is cut off.

    A coat without a nominal thickness is drawn one pixel thick.
    """
    coats = [coat for coat in stack.coats if coat.order > 0]
    whole = sum(_thickness(coat) for coat in coats) or 1.0
    room = (bottom - top) * (1 - _SUBSTRATE_SHARE)
    floor = bottom - round((bottom - top) * _SUBSTRATE_SHARE)
    bands = [Band(coat, floor, bottom) for coat in stack.coats if coat.order == 0]
    for coat in coats:
        height = max(1, round(room * _thickness(coat) / whole))
        bands.append(Band(coat, floor - height, floor))
        floor -= height
    return tuple(bands)


def _thickness(coat: Coat) -> float:
    return in_si(coat.dft_nominal, "um") if coat.dft_nominal else 0.0


def paint_bands(painter: QPainter, bands: Sequence[Band], room: QRect, widget: QWidget) -> None:
    """Paint the layers between the left and right edge of `room`."""
    scheme = scheme_of(widget)
    for band in bands:
        rect = QRect(room.left(), band.top, room.width(), max(1, band.bottom - band.top))
        painter.fillRect(rect, _tone(band.coat, scheme))
        if band.coat.order == 0:
            painter.fillRect(rect, QBrush(QColor(scheme.quiet), Qt.BrushStyle.Dense7Pattern))
        elif band.coat.existing is YesNo.YES:
            painter.fillRect(rect, QBrush(QColor(scheme.quiet), Qt.BrushStyle.FDiagPattern))
        painter.setPen(QColor(scheme.ink))
        painter.drawLine(rect.topLeft(), rect.topRight())
    for side in (room.left(), room.right()):
        if bands:
            painter.setPen(QColor(scheme.rule))
            painter.drawLine(side, bands[-1].top, side, bands[0].bottom)


def _tone(coat: Coat, scheme: Scheme) -> QColor:
    if coat.order == 0:
        return QColor(scheme.band)
    paper, ink = QColor(scheme.sheet), QColor(scheme.ink)
    share = 0.06 if coat.order % 2 else 0.16
    return QColor.fromRgbF(
        *(a * (1 - share) + b * share for a, b in zip(_parts(paper), _parts(ink), strict=True))
    )


def _parts(colour: QColor) -> tuple[float, float, float]:
    return colour.redF(), colour.greenF(), colour.blueF()


def paint_parting(painter: QPainter, room: QRect, height: int, widget: QWidget) -> None:
    """Paint an opened plane: a wedge between the layers, in the colour of what fails."""
    painter.save()
    tone = condition_tone(Condition.FAILING, dark=is_dark(widget))
    painter.setPen(QPen(tone, max(2, step(widget, 0.25))))
    painter.drawLine(room.left(), height, room.right(), height)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(tone)
    reach, gap = step(widget, 2.5), step(widget, 0.75)
    right = room.right() + 1
    painter.drawPolygon(
        QPolygon(
            [
                QPoint(right, height - gap),
                QPoint(right - reach, height),
                QPoint(right, height + gap),
            ]
        )
    )
    painter.restore()
