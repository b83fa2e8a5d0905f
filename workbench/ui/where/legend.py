"""What the tones and markers of the plan mean."""

from collections.abc import Iterator, Mapping

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import (
    QColor,
    QFontMetrics,
    QLinearGradient,
    QPainter,
    QPaintEvent,
    QPen,
    QResizeEvent,
)
from PySide6.QtWidgets import QWidget

from workbench.desk.questions.site import Site
from workbench.figures.palette import plane_marker
from workbench.records import Plane
from workbench.trade.showing import STRESS, Showing
from workbench.ui.marks import magnitude_tone, marker_path
from workbench.ui.theme import quiet, scheme_of, step

_MOST = 5
"""Lines of names; where they are not enough, the last says how many more there are."""


class PlanLegend(QWidget):
    """A strip of tones with its ends, and the marker and name of each plane that broke."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Say nothing yet."""
        super().__init__(parent)
        self._site = Site()
        self._showing = Showing()
        self._planes: tuple[tuple[Plane, str], ...] = ()

    def show_site(self, site: Site, showing: Showing, names: Mapping[Plane, str]) -> None:
        """Explain the marks of `site`; `names` are those of its planes."""
        self._site, self._showing = site, showing
        glue = next((plane for plane in site.planes if plane.in_glue), None)
        coating = tuple((plane, names[plane]) for plane in site.planes if not plane.in_glue)
        self._planes = (*coating, *([(glue, "in the glue")] if glue else []))
        said = "; ".join(name for _, name in self._planes)
        self.setAccessibleName(f"Legend: tone is pull-off strength, marker is the plane: {said}")
        self.setToolTip(said.replace("; ", "\n"))
        self.setVisible(bool(site.planes))
        self._fit()
        self.update()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Take as many lines as the names need."""
        super().resizeEvent(event)
        self._fit()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the strip, then the markers."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setFont(quiet(self.font()))
        painter.setPen(QColor(scheme_of(self).ink))
        self._paint_strip(painter)
        shown = self._shown()
        for at, plane, name in shown:
            self._paint_plane(painter, at, plane, name)
        if more := len(self._planes) - len(shown):
            base = (1 + self._rows(shown)) * self._line + painter.fontMetrics().ascent()
            painter.drawText(QPointF(1.5 * step(self), base), f"and {more} more planes")
        painter.end()

    @property
    def _line(self) -> float:
        return QFontMetrics(quiet(self.font())).height() + step(self, 0.25)

    def _fit(self) -> None:
        shown = self._shown()
        rows = 1 + self._rows(shown) + (len(shown) < len(self._planes))
        self.setFixedHeight(round(rows * self._line + step(self, 0.5)))

    def _shown(self) -> list[tuple[QPointF, Plane, str]]:
        """Return what is named: everything, or the lines before the one that counts the rest."""
        placed = list(self._placed())
        tops = sorted({at.y() for at, _, _ in placed})
        if len(tops) <= _MOST:
            return placed
        return [one for one in placed if one[0].y() < tops[_MOST - 1]]

    def _rows(self, placed: list[tuple[QPointF, Plane, str]]) -> int:
        return len({at.y() for at, _, _ in placed})

    def _placed(self) -> Iterator[tuple[QPointF, Plane, str]]:
        """Yield where each plane's marker and name stand: beside each other while they fit."""
        unit, metrics = step(self), QFontMetrics(quiet(self.font()))
        left, top = float(unit), self._line + unit * 0.25
        for plane, name in self._planes:
            width = 2.5 * unit + metrics.horizontalAdvance(name)
            if left > unit and left + width > self.width():
                left, top = float(unit), top + self._line
            yield QPointF(left, top), plane, name
            left += width + unit / 2

    def _paint_plane(self, painter: QPainter, at: QPointF, plane: Plane, name: str) -> None:
        unit, metrics = step(self), painter.fontMetrics()
        painter.save()
        painter.translate(at.x() + unit / 2, at.y() + self._line / 2)
        painter.setPen(QPen(QColor(scheme_of(self).ink), 1))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawPath(marker_path(plane_marker(plane), unit * 1.1))
        painter.restore()
        left = at.x() + 1.5 * unit
        shown = metrics.elidedText(name, Qt.TextElideMode.ElideRight, round(self.width() - left))
        painter.drawText(QPointF(left, at.y() + metrics.ascent()), shown)

    def _paint_strip(self, painter: QPainter) -> None:
        unit, metrics = step(self), painter.fontMetrics()
        base = unit * 0.25 + metrics.ascent()
        title = f"Weakest pull-off, {self._showing.unit(STRESS)}"
        painter.drawText(QPointF(unit, base), title)
        left = unit * 2.0 + metrics.horizontalAdvance(title)
        painter.drawText(QPointF(left, base), "0")
        left += metrics.horizontalAdvance("0") + unit / 2
        top = self._showing.value(STRESS, self._site.strongest_mpa, unit=False)
        width = self.width() - left - metrics.horizontalAdvance(top) - 1.5 * unit
        room = QRectF(left, unit * 0.5, max(width, unit), unit)
        tones = QLinearGradient(room.topLeft(), room.topRight())
        for at in range(17):
            tones.setColorAt(at / 16, magnitude_tone(at / 16))
        painter.fillRect(room, tones)
        painter.drawText(QPointF(room.right() + unit / 2, base), top)
