"""What the tones and markers of the plan mean."""

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QLinearGradient, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from workbench.desk.questions.site import Site
from workbench.figures.palette import plane_marker
from workbench.trade.showing import STRESS, Showing
from workbench.ui.marks import magnitude_tone, marker_path
from workbench.ui.theme import quiet, scheme_of, step


class PlanLegend(QWidget):
    """A strip of tones with its ends, and the marker of each plane that broke."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Say nothing yet."""
        super().__init__(parent)
        self._site = Site()
        self._showing = Showing()

    def show_site(self, site: Site, showing: Showing) -> None:
        """Explain the marks of `site`."""
        self._site, self._showing = site, showing
        said = ", ".join(plane.code for plane in site.planes)
        self.setAccessibleName(f"Legend: tone is pull-off strength, marker is the plane: {said}")
        self.setVisible(bool(site.planes))
        self.update()

    def sizeHint(self) -> QSize:
        """Return room for two lines."""
        return QSize(step(self, 24), step(self, 4.5))

    def minimumSizeHint(self) -> QSize:
        """Return the same."""
        return self.sizeHint()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the strip, then the markers."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setFont(quiet(self.font()))
        painter.setPen(QColor(scheme_of(self).ink))
        self._paint_strip(painter)
        self._paint_markers(painter)
        painter.end()

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

    def _paint_markers(self, painter: QPainter) -> None:
        unit, metrics, scheme = step(self), painter.fontMetrics(), scheme_of(self)
        base = unit * 2.5 + metrics.ascent()
        left = float(unit)
        glue = next((plane for plane in self._site.planes if plane.in_glue), None)
        coating = [plane for plane in self._site.planes if not plane.in_glue]
        for plane in [*coating, *([glue] if glue else [])]:
            painter.save()
            painter.translate(left + unit / 2, base - metrics.ascent() / 2 + 1)
            painter.setPen(QPen(QColor(scheme.ink), 1))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawPath(marker_path(plane_marker(plane), unit * 1.1))
            painter.restore()
            text = "in the glue" if plane.in_glue else plane.code
            painter.drawText(QPointF(left + 1.5 * unit, base), text)
            left += 3 * unit + metrics.horizontalAdvance(text)
