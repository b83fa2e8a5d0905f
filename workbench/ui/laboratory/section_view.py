"""A micrograph: scale and line are drawn on it, proposed seams stand over it."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QWidget

from workbench.records import Points
from workbench.ui.photos.marking import MarkView

_EDGE, _SEAM, _LINE = "#101214", "#5FD3FF", "#FFD23F"
Shares = tuple[tuple[float, float], ...]


class SectionView(MarkView):
    """Shows the picture with the scale, the line, and the seams on their profiles.

    Points are set with the mouse, or with the cross that the arrow keys move and space sets.
    """

    def __init__(self, parent: QWidget | None = None) -> None:
        """Show nothing."""
        super().__init__(parent)
        self.setAccessibleName("Micrograph with scale, line and seams")
        self._scale: Shares = ()
        self._line: Shares = ()
        self._seams: Points | None = None
        self._profiles = 1
        self._chosen_seam = -1

    def show_construction(
        self, scale: Shares, line: Shares, seams: Points | None, profiles: int, chosen: int
    ) -> None:
        """Show the scale, the line and the seams, one of them spoken of."""
        self._scale, self._line, self._seams = scale, line, seams
        self._profiles, self._chosen_seam = profiles, chosen
        count = len(seams.points) // profiles if seams else 0
        self.setAccessibleDescription(
            f"scale {'set' if scale else 'not set'}, line {'set' if line else 'not set'}, "
            f"{count} seams"
        )
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the picture, then the construction over it."""
        super().paintEvent(event)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for shares, tone in ((self._scale, _LINE), (self._line, _SEAM)):
            if len(shares) == 2:
                self._stroke(painter, shares, tone, 1.5, Qt.PenStyle.DashLine)
        if self._seams:
            points, each = self._seams.points, self._profiles
            for seam, first in enumerate(range(0, len(points), each)):
                chosen = seam == self._chosen_seam
                tone, width = (_LINE, 3.0) if chosen else (_SEAM, 1.8)
                self._stroke(painter, points[first : first + each], tone, width)
        painter.end()

    def _stroke(
        self,
        painter: QPainter,
        shares: Shares,
        tone: str,
        width: float,
        style: Qt.PenStyle = Qt.PenStyle.SolidLine,
    ) -> None:
        places = [self._place(share) for share in shares]
        for colour, extra, dash in ((_EDGE, 2.0, Qt.PenStyle.SolidLine), (tone, 0.0, style)):
            painter.setPen(QPen(QColor(colour), width + extra, dash))
            painter.drawPolyline(QPolygonF(places))
            for place in places:
                painter.drawEllipse(place, 2.5, 2.5)
